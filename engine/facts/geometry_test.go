package facts_test

// Geometry of members and their way down to the ground.

// slope is the angle of a rafter that rises 3 m over 4 m: 5 m long, cosine 0.8, sine 0.6.
const slope = 0.6435011087932844

var geometryTables = []table{{
	what: "a rafter that rises 3 over 4, with eaves",
	// The plate is 1000 along from the foot, 800 in plan; the ridge is at the head.
	document: frameOf(`"WP": {"role": "wall", "ground": true, "width": 100, "path": [[800, -2000, 600], [800, 2000, 600]]},
	"RB": {"role": "wall", "ground": true, "width": 100, "path": [[4000, -2000, 3000], [4000, 2000, 3000]]},
	"R": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WP"}, {"on": "RB"}]}`),
	want: []want{
		{"R.length", 5000}, {"R.slope", slope}, {"R.span", 4000}, {"R.shortest_span", 4000}, {"R.span_in_plan", 3200}, {"R.spans", 1},
		{"R.overhang", 1000}, {"R.overhang_ratio", 0.25}, {"R.supports_needed", 2}, {"R.supports_found", 2}, {"R.kinks", 0}, {"R.plumb_cut", 187.5},
		{"R/0.at", 1000}, {"R/1.at", 5000}, {"R/0.is_foot", true}, {"R/0.is_head", false}, {"R/1.is_foot", false}, {"R/1.is_head", true},
		{"R/0.is_end", true}, {"R/1.is_end", true},
	},
}, {
	what: "a beam across three walls with an overhang",
	// At 0, 3000 and 5000 of 6000. Bearings of 100: the first lies within the end, so that 2850 and 1900 are clear.
	document: frameOf(`"A": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "B": {"role": "wall", "ground": true, "path": [[3000, -500, 0], [3000, 500, 0]]},
	"C": {"role": "wall", "ground": true, "path": [[5000, -500, 0], [5000, 500, 0]]},
	"BM": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 100], [6000, 0, 100]],
		"supports": [{"on": "A", "bearing": 100}, {"on": "B", "bearing": 100}, {"on": "C", "bearing": 100}]},
	"BY": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 100], [6000, 0, 100]], "supports": [{"on": "A", "bearing": 100}, {"on": "B", "bearing": 60}]},
	"BX": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 100], [6000, 0, 100]], "supports": [{"on": "A", "bearing": 100}, {"on": "C"}]}`),
	want: []want{
		{"BM.span", 3000}, {"BM.shortest_span", 2000}, {"BM.spans", 2}, {"BM.span_in_plan", 3000}, {"BM.overhang", 1000}, {"BM.overhang_ratio", 0.5},
		{"BM.end_gap", 1900}, {"BY.end_gap", 2870}, {"BX.end_gap", absent("length of bearing")}, {"BM.supports_found", 3}, {"BM.slope", 0},
		{"BM/0.is_end", true}, {"BM/1.is_end", false}, {"BM/2.is_end", true}, {"BM/1.is_foot", false}, {"BM/1.is_head", false},
	},
}, {
	what: "a rafter on plate, purlin and ridge: one foot and one head",
	document: frameOf(`"WP": {"role": "wall", "ground": true, "path": [[0, -2000, 0], [0, 2000, 0]]},
	"PU": {"role": "wall", "ground": true, "path": [[1600, -2000, 1200], [1600, 2000, 1200]]}, "RB": {"role": "wall", "ground": true, "path": [[4000, -2000, 3000], [4000, 2000, 3000]]},
	"R": {"role": "rafter", "section": "50x150", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WP"}, {"on": "PU"}, {"on": "RB"}]},
	"HALF": {"role": "rafter", "section": "50x150", "path": [[0, 500, 0], [4000, 500, 3000]], "supports": [{"on": "WP"}, {"on": "PU"}]}`),
	want: []want{
		{"R/0.is_foot", true}, {"R/1.is_foot", false}, {"R/1.is_head", false}, {"R/2.is_head", true},
		{"HALF/0.is_foot", true}, {"HALF/1.is_foot", false}, {"HALF/1.is_head", true}, {"R.span", 3000},
	},
}, {
	what: "cranked members",
	// Up a 3-4-5 slope after 2 m level, and round a corner in plan.
	document: frameOf(`
	"UP": {"role": "beam", "section": "100x100x8 SHS", "path": [[0, 0, 0], [2000, 0, 0], [4000, 0, 1500]]},
	"WELDED": {"role": "beam", "section": "100x100x8 SHS", "path": [[0, 0, 0], [2000, 0, 0], [4000, 0, 1500]], "joints": [{"at": 2000, "kind": "rigid", "detail": "full butt weld"}]},
	"ROUND": {"role": "beam", "section": "100x100x8 SHS", "path": [[0, 0, 0], [2000, 0, 0], [2000, 1500, 0]]}`),
	want: []want{
		{"UP.length", 4500}, {"UP.slope", slope}, {"UP.kinks", 1}, {"UP.kinks_in_plan", 0}, {"UP.kinks_without_joint", 1},
		{"WELDED.kinks_without_joint", 0}, {"WELDED.weld", "full butt weld"}, {"ROUND.kinks", 1}, {"ROUND.kinks_in_plan", 1},
		{"UP.span", absent("does not span")}, {"UP.spans", 0}, {"UP.supports_found", 0}, {"UP.end_gap", absent("fewer than two")},
	},
}, {
	what: "a post, and a post that two beams hold",
	document: frameOf(`"F": {"role": "foundation", "ground": true, "path": [[0, 0, 0], [500, 0, 0]]}, "B": {"role": "beam", "ground": true, "path": [[0, 0, 1500], [900, 0, 1500]]},
	"P": {"role": "post", "section": "100x100", "path": [[100, 0, 0], [100, 0, 3000]], "supports": [{"on": "F"}]},
	"Q": {"role": "post", "section": "100x100", "path": [[200, 0, 0], [200, 0, 3000]], "supports": [{"on": "F"}, {"on": "B", "at": 1500}]}`),
	want: []want{
		{"P.spans", 0}, {"Q.spans", 0}, {"Q.span", absent("does not span")}, {"Q.shortest_span", absent("does not span")}, {"P.span_in_plan", absent("does not span")},
		{"P.overhang", 0}, {"P.overhang_ratio", 0}, {"P.supports_needed", 1}, {"P.supports_found", 1}, {"P.plumb_cut", absent("stands upright")}, {"P.slope", 1.5707963267948966},
	},
}, {
	what: "length and pitch in place of a path",
	document: frameOf(`"W": {"role": "wall", "ground": true},
	"R": {"role": "rafter", "section": "50x150", "length": 5000, "pitch": 30, "supports": [{"on": "W"}, {"on": "W"}]},
	"S": {"role": "beam", "section": "50x150", "length": 5000, "supports": [{"on": "W"}, {"on": "W"}, {"on": "W"}]},
	"T": {"role": "beam", "section": "50x150", "length": 5000, "supports": [{"on": "W", "at": 0}, {"on": "W", "at": 5120}]},
	"U": {"role": "beam", "section": "50x150", "supports": [{"on": "W", "at": 0}, {"on": "W", "at": 5120}]}`),
	want: []want{
		{"R.length", 5000}, {"R.slope", 0.5235987755982988}, {"R.span", 5000}, {"R/0.at", 0}, {"R/1.at", 5000},
		{"S/2.at", absent("neither the document nor the geometry")}, {"S/2.is_end", absent("neither the document nor the geometry")}, {"S/2.exists", true},
		{"T/1.beyond_end", 120}, {"U/1.beyond_end", absent("neither a path nor a length")},
		{"R/0.support_offset", absent("no paths")}, {"R/0.level_offset", absent("no paths")}, {"R/0.lands_beyond", absent("no paths")}, {"R/0.eccentricity", absent("no paths")},
		{"R/0.eccentricity_ratio", absent("not known")}, {"R/0.to_wall_end", absent("not known")},
	},
}, {
	what: "supports that roles need",
	document: frameOf(`"W": {"role": "wall", "ground": true, "path": [[0, 0, 0], [9000, 0, 0]]}, "S": {"role": "stud", "length": 2000}, "RB": {"role": "ridge board", "length": 3000},
	"C": {"role": "beam", "length": 2000, "supports": [{"on": "W", "at": 0, "fixed": true}]}, "L": {"role": "beam", "length": 2000, "supports": [{"on": "W", "continuous": true}]}`),
	want: []want{
		{"W.supports_needed", 0}, {"S.supports_needed", 1}, {"RB.supports_needed", 0}, {"C.supports_needed", 1}, {"L.supports_needed", 1},
		{"C/0.is_fixed", true}, {"L/0.is_continuous", true}, {"L/0.is_fixed", false}, {"C/0.is_continuous", false}, {"RB.is_structural", false},
	},
}}

var pathTables = []table{{
	what: "a frame that stands",
	document: frameOf(leaves + `,
	"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"BX": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[5000, 0, 100], [5000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"J": {"role": "floor joist", "section": "47x195", "path": [[1000, 1000, 300], [5000, 1000, 300]], "repeat": {"count": 2, "step": [0, 400, 0]}, "supports": [{"on": "B"}, {"on": "BX"}]},
	"T": {"role": "trimmer", "section": "47x195", "path": [[1000, 3000, 300], [5000, 3000, 300]], "supports": [{"on": "B"}, {"on": "BX"}]},
	"SP": {"role": "sole plate", "section": "47x97", "path": [[3000, 1000, 420], [3000, 1400, 420]], "supports": [{"on": "J", "at": 0}, {"on": "J", "at": 400}]},
	"P": {"role": "post", "section": "97x97", "path": [[1000, 2000, 200], [1000, 2000, 3000]], "supports": [{"on": "B"}], "loads": [{"action": "dead", "point": 1, "at": 2800}]},
	"IDLE": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[2000, 0, 100], [2000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"PROP": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[3000, 0, 100], [3000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"S": {"role": "stud", "path": [[4000, 0, 0], [4000, 0, 900]], "supports": [{"on": "W1"}], "loads": [{"action": "dead", "point": 1, "at": 0}], "straps": [{"kind": "lateral", "to": "PROP"}]}`),
	want: []want{
		{"P.reaches_ground", true}, {"P.last_reached", ""}, {"P.missing_under", ""}, {"P.in_circle", false}, {"P.circle", ""}, {"P.names_nothing", ""},
		{"P.path_through_unverified", ""}, {"P.is_solved", true}, {"P.unsolved", ""},
		{"B.carried_by_it", 4}, {"B.posts_on_it", 1}, {"BX.carried_by_it", 3}, {"BX.posts_on_it", 0}, {"P.carried_by_it", 0},
		{"B.serves_nothing", false}, {"IDLE.serves_nothing", true}, {"PROP.serves_nothing", false}, // it holds the stud sideways
		{"T.trims_opening", true}, {"B.trims_opening", true}, {"J#1.trims_opening", false}, {"W1.trims_opening", false},
		{"SP.stands_on_joists", true}, {"P.stands_on_joists", false}, {"frame.unsolved_members", 0},
	},
}, {
	what: "marks that name nothing, a circle, and all that rests on them",
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, 0, 0], [9000, 0, 0]], "openings": [{"from": 100, "to": 900, "lintel": "L9"}]},
	"B": {"role": "beam", "section": "100x200", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W9"}], "loads": [{"action": "dead", "point": 1, "at": 2000}]},
	"J": {"role": "floor joist", "section": "47x195", "path": [[1000, 1000, 300], [5000, 1000, 300]], "supports": [{"on": "B"}], "tied_by": ["CJ9"], "straps": [{"kind": "lateral", "to": "X9"}]},
	"C1": {"role": "beam", "length": 1000, "supports": [{"on": "C2"}, {"on": "C2"}]}, "C2": {"role": "beam", "length": 1000, "supports": [{"on": "C1"}, {"on": "C1"}]},
	"ON": {"role": "beam", "length": 1000, "supports": [{"on": "C1"}, {"on": "C1"}]},
	"ME": {"role": "beam", "length": 1000, "supports": [{"on": "ME"}, {"on": "W1"}]}, "BARE": {"role": "beam", "length": 1000}`),
	want: []want{
		{"B.reaches_ground", false}, {"B.last_reached", "B"}, {"B.missing_under", "the model has no member W9"}, {"B.names_nothing", "W9"},
		{"B.is_solved", false}, {"B.unsolved", "the member swings about its only support: add a support or fix this one"},
		{"J.reaches_ground", false}, {"J.last_reached", "B"}, {"J.names_nothing", "CJ9, X9"}, {"W1.names_nothing", "L9"},
		{"C1.in_circle", true}, {"C1.circle", "C1 on C2 on C1"}, {"ON.in_circle", false}, {"ON.reaches_ground", false}, {"ON.last_reached", "C2"},
		{"ON.missing_under", "it rests, hop by hop, on itself"}, {"ME.missing_under", "it names itself"}, {"BARE.missing_under", "no support is stated"},
		{"B/0.exists", true}, {"B/1.exists", false}, {"B/1.support_offset", absent("the model has no member W9")}, {"B/1.names", "W9"}, {"ME/0.exists", false},
		{"B/1.is_seated", false}, {"frame.unsolved_members", 4}, {"frame.unresolved", 1000},
	},
}, {
	what: "a new beam on an old one that nobody has vouched for",
	document: frameOf(leaves + `,
	"OR": {"role": "beam", "section": "100x200", "phase": "existing", "condition": "unverified", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"N": {"role": "beam", "section": "100x200", "path": [[1000, 1000, 300], [5000, 1000, 300]], "supports": [{"on": "OR"}, {"on": "OR"}]},
	"M": {"role": "post", "section": "100x100", "path": [[2000, 1000, 400], [2000, 1000, 900]], "supports": [{"on": "N"}]}`),
	want: []want{{"OR.path_through_unverified", ""}, {"N.path_through_unverified", "OR"}, {"M.path_through_unverified", "OR"}},
}}
