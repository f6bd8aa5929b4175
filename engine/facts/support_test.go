package facts_test

// Facts of supports: where members meet, on what, and what is between them.

var supportTables = []table{{
	what: "joists that miss their walls",
	// W1's leaf is 100 wide, its top at 0. SHORT ends 140 from the axis of W1: 90 past the face. HIGH lies 50 too high.
	document: frameOf(leaves + `,
	"SHORT": {"role": "floor joist", "section": "47x195", "path": [[400, 140, 97.5], [400, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"HIGH": {"role": "floor joist", "section": "47x195", "path": [[800, 0, 147.5], [800, 4000, 147.5]], "supports": [{"on": "W1"}, {"on": "W2", "by": "hanger"}]},
	"PACKED": {"role": "floor joist", "section": "47x195", "packer": 20, "path": [[900, 0, 147.5], [900, 4000, 147.5]], "supports": [{"on": "W1", "seat": {"kind": "plate", "size": "100x100x30"}}, {"on": "W2"}]},
	"PAST": {"role": "floor joist", "section": "47x195", "path": [[6200, 0, 97.5], [6200, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W2", "at": 4150}]}`),
	want: []want{
		{"SHORT/0.support_offset", 90}, {"SHORT/0.eccentricity", 140}, {"SHORT/0.eccentricity_ratio", 1.4}, {"SHORT/1.support_offset", 0}, {"SHORT/1.eccentricity", 0}, {"SHORT/1.eccentricity_ratio", 0},
		{"HIGH/0.level_offset", 50}, {"HIGH/1.level_offset", 0}, {"PACKED/0.level_offset", 0}, {"PACKED/1.level_offset", 30},
		{"PAST/0.lands_beyond", 200}, {"SHORT/0.lands_beyond", 0}, {"PAST/1.beyond_end", 150}, {"PAST/0.beyond_end", 0},
		{"SHORT/0.is_seated", true}, {"HIGH/1.is_seated", false}, {"HIGH/1.by", "hanger"}, {"SHORT/0.by", absent("does not say")}, {"SHORT/0.bearing", absent("does not say")},
	},
}, {
	what: "posts beside the axis of a beam of 100",
	// ON stands on the axis. OFF stands 20 beside it: 20 of its 100 past the face, 80 in contact. WIDE has its depth of 150
	// across the beam: 25 past either face. LONG has it along; of TURN nobody says, and of SLIM it
	// does not matter, since either way it stands within the face. AWAY misses the beam altogether.
	document: frameOf(leaves + `,
	"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 2000, 100], [6000, 2000, 100]], "supports": [{"on": "W1", "at": 0}, {"on": "W1", "at": 6000}]},
	"ON": {"role": "post", "section": "100x100", "path": [[1000, 2000, 200], [1000, 2000, 900]], "supports": [{"on": "B"}], "loads": [{"action": "dead", "point": 1, "at": 0}]},
	"OFF": {"role": "post", "section": "100x100", "path": [[1500, 2020, 200], [1500, 2020, 900]], "supports": [{"on": "B"}], "loads": [{"action": "dead", "point": 1, "at": 0}]},
	"WIDE": {"role": "post", "section": "50x150", "depth_along": [0, 1], "path": [[2000, 2000, 200], [2000, 2000, 900]], "supports": [{"on": "B"}]},
	"LONG": {"role": "post", "section": "50x150", "depth_along": [1, 0], "path": [[2500, 2000, 200], [2500, 2000, 900]], "supports": [{"on": "B"}]},
	"TURN": {"role": "post", "section": "50x150", "path": [[2700, 2000, 200], [2700, 2000, 900]], "supports": [{"on": "B"}]},
	"SLIM": {"role": "post", "section": "50x100", "path": [[2800, 2000, 200], [2800, 2000, 900]], "supports": [{"on": "B"}]},
	"HUNG": {"role": "post", "section": "100x100", "path": [[3200, 2000, -900], [3200, 2000, 0]], "supports": [{"on": "B"}]},
	"AWAY": {"role": "post", "section": "100x100", "path": [[3000, 2120, 200], [3000, 2120, 900]], "supports": [{"on": "B"}], "loads": [{"action": "dead", "point": 1, "at": 0}]},
	"BARE": {"role": "post", "path": [[3500, 2000, 200], [3500, 2000, 900]], "supports": [{"on": "B"}]}`),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"HUNG/0.hangs", true}, {"HUNG/0.is_seated", false}, {"ON/0.hangs", false}, {"ON/0.is_seated", true}, {"B/0.hangs", false},
		{"ON/0.eccentricity", 0}, {"ON/0.off_bearing", 0}, {"ON/0.contact_length", 100}, {"ON/0.contact_width", 100}, {"ON/0.bearing_stress", 0.135},
		{"OFF/0.eccentricity", 20}, {"OFF/0.eccentricity_ratio", 0.2}, {"OFF/0.off_bearing", 20}, {"OFF/0.contact_length", 100}, {"OFF/0.contact_width", 80}, {"OFF/0.bearing_stress", 1350.0 / 8000},
		{"WIDE/0.off_bearing", 25}, {"WIDE/0.contact_length", 50}, {"WIDE/0.contact_width", 100}, {"LONG/0.off_bearing", 0}, {"TURN/0.off_bearing", absent("depth_along")}, {"SLIM/0.off_bearing", 0}, {"LONG/0.contact_length", 150}, {"LONG/0.contact_width", 50},
		{"AWAY/0.off_bearing", 100}, {"AWAY/0.contact_width", 0}, {"AWAY/0.bearing_stress", absent("nothing of the two is in contact")},
		{"BARE/0.off_bearing", absent("breadth of the foot")}, {"BARE/0.contact_length", absent("no stated section")}, {"BARE/0.contact_width", absent("no stated section")},
		{"B/0.off_bearing", absent("does not stand on its foot")}, {"B/0.bearing_stress", absent("no length of bearing")}, {"B/0.contact_length", absent("no length of bearing")},
	},
}, {
	what: "faces that meet",
	// A joist of 47 bears 100 on a beam of 75: 75 of it. A beam of 150 on a post of 100x100: 100 by 100.
	document: frameOf(leaves + `,
	"B": {"role": "beam", "section": "75x200", "grade": "C24", "path": [[0, 2000, 100], [6000, 2000, 100]], "supports": [{"on": "W1", "at": 0}, {"on": "W1", "at": 6000}]},
	"J": {"role": "floor joist", "section": "47x195", "path": [[1000, 0, 97.5], [1000, 2000, 297.5]], "supports": [{"on": "W1", "bearing": 60}, {"on": "B", "bearing": 100}]},
	"P": {"role": "post", "section": "100x100", "path": [[5000, 3000, -200], [5000, 3000, 900]], "supports": [{"on": "W1"}]},
	"OVER": {"role": "beam", "section": "150x200", "path": [[5000, 3000, 1000], [5000, 6000, 1000]], "supports": [{"on": "P", "bearing": 120}, {"on": "W2", "bearing": 100}]},
	"ALONG": {"role": "beam", "section": "45x200", "path": [[3000, 4000, 100], [5500, 4000, 100]], "supports": [{"on": "W2", "at": 0, "bearing": 150}, {"on": "W2", "at": 2500, "bearing": 150}]},
	"Q": {"role": "post", "section": "97x147", "path": [[2000, 0, 0], [2000, 0, 900]], "supports": [{"on": "W1"}]}`),
	want: []want{
		{"J/1.contact_length", 75}, {"J/1.contact_width", 47}, {"J/0.contact_length", 60}, {"OVER/0.contact_length", 100}, {"OVER/0.contact_width", 100},
		{"OVER/1.foot_along", 150}, {"ALONG/0.contact_length", 150}, {"ALONG/0.foot_along", 150}, {"J/0.foot_along", 47},
		{"Q/0.foot_along", 147}, {"Q/0.contact_length", 147}, {"Q/0.contact_width", 97}, // its depth runs along the wall, nothing else being said
		{"B/0.foot_along", absent("no length of bearing")},
	},
}, {
	what: "birdsmouths",
	// 30 square to a slope of sine 0.6 leaves a seat of 50.
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 3000], [4000, 500, 3000]]},
	"R": {"role": "rafter", "section": "50x150", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1", "notch": {"depth": 30, "face": "bottom"}}, {"on": "W2"}]},
	"L": {"role": "beam", "section": "50x150", "path": [[0, 100, 0], [4000, 100, 0]], "supports": [{"on": "W1", "notch": {"depth": 30}}, {"on": "W2", "notch": {"face": "top"}}]},
	"X": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1", "notch": {"depth": 30, "face": "bottom"}}]}`),
	want: []want{
		{"R/0.notch_depth", 30}, {"R/0.notch_face", "bottom"}, {"R/0.notch_seat", 50}, {"R/0.notch_ratio", 0.2}, {"R/0.depth_left", 120},
		{"R/1.notch_depth", absent("not notched")}, {"R/1.notch_face", absent("not notched")}, {"R/1.notch_seat", absent("not notched")}, {"R/1.notch_ratio", absent("not notched")}, {"R/1.depth_left", absent("not notched")},
		{"L/0.notch_seat", absent("lies level")}, {"L/0.notch_face", absent("does not say")}, {"L/1.notch_depth", absent("does not say")}, {"L/1.notch_ratio", absent("does not say")},
		{"X/0.notch_ratio", absent("no section")}, {"X/0.depth_left", absent("no section")},
	},
}, {
	what: "padstones, openings and the ends of walls",
	// Openings from 1000 to 2000 and 4000 to 4500 of 6 m.
	document: frameOf(`"W1": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]], "openings": [{"from": 1000, "to": 2000, "lintel": "L1"}, {"from": 4000, "to": 4500}]},
	"W2": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]}, "L1": {"role": "lintel", "ground": true}, "PI": {"role": "pier", "ground": true, "path": [[500, 4000, 0], [600, 4000, 0]]},
	"OVER": {"role": "beam", "section": "100x200", "path": [[1500, 0, 100], [1500, 4000, 100]], "supports": [{"on": "W1", "seat": {"kind": "padstone", "size": "440x100x215"}}, {"on": "W2"}]},
	"OPEN": {"role": "beam", "section": "100x200", "path": [[4200, 0, 100], [4200, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"BY": {"role": "beam", "section": "100x200", "path": [[2300, 0, 100], [2300, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"END": {"role": "beam", "section": "100x200", "path": [[300, 0, 100], [300, 4000, 100]], "supports": [{"on": "W1"}, {"on": "PI"}]},
	"BLIND": {"role": "beam", "section": "100x200", "length": 4000, "supports": [{"on": "W1"}, {"on": "W2"}]}`),
	want: []want{
		{"W1.openings", 2}, {"W1.openings_bare", 1}, {"W1.bare_opening_from", 4000}, {"W1.bare_opening_to", 4500},
		{"W2.openings", 0}, {"W2.openings_bare", 0}, {"W2.bare_opening_from", absent("no opening")}, {"W2.bare_opening_to", absent("no opening")},
		{"OVER/0.over_opening", true}, {"OVER/0.opening_lintel", "L1"}, {"OVER/0.to_opening", 0}, {"OVER/0.to_wall_end", 1500},
		{"OVER/0.seat", "padstone"}, {"OVER/0.seat_along", 440}, {"OVER/0.seat_across", 100}, {"OVER/0.seat_high", 215},
		{"OVER/1.seat", absent("no seat")}, {"OVER/1.seat_along", absent("no seat")}, {"OVER/1.seat_across", absent("no seat")}, {"OVER/1.seat_high", absent("no seat")},
		{"OPEN/0.over_opening", true}, {"OPEN/0.opening_lintel", ""}, {"BY/0.over_opening", false}, {"BY/0.to_opening", 300}, {"BY/0.opening_lintel", ""},
		{"END/0.to_opening", 700}, {"END/0.to_wall_end", 300}, {"END/1.over_opening", false}, {"END/1.to_wall_end", absent("not known")}, {"BY/1.to_opening", absent("no opening is stated")},
		{"BLIND/0.over_opening", absent("place along")}, {"BLIND/0.opening_lintel", absent("place along")}, {"BLIND/0.to_opening", absent("place along")}, {"BLIND/1.over_opening", false}, {"BLIND/1.to_opening", absent("no opening is stated")},
	},
}, {
	what: "lintels that go, that the wall names itself for, and that are not there, which is told by the mark",
	document: frameOf(`"W": {"role": "wall", "ground": true, "path": [[0, 0, 0], [9000, 0, 0]], "openings": [{"from": 6000, "to": 6900, "lintel": "W"}, {"from": 3000, "to": 3800, "lintel": "OLD"}, {"from": 500, "to": 900, "lintel": "L9"}]},
	"OLD": {"role": "lintel", "phase": "removed", "length": 1000}`),
	want: []want{{"W.openings", 3}, {"W.openings_bare", 2}, {"W.bare_opening_from", 3000}, {"W.bare_opening_to", 3800}, {"W.names_nothing", "L9"}},
}, {
	what: "joists of unequal depth side by side",
	// 220 beside 195 differ by 25; a packer of 25 makes that up. LOW lies 300 lower, FAR is 3 m away: other floors, other places.
	document: frameOf(leaves + `,
	"A": {"role": "floor joist", "section": "47x195", "path": [[400, 0, 97.5], [400, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"B": {"role": "floor joist", "section": "47x220", "path": [[800, 0, 110], [800, 4000, 110]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"C": {"role": "floor joist", "section": "47x195", "packer": 25, "path": [[1200, 0, 122.5], [1200, 4000, 122.5]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"LOW": {"role": "floor joist", "section": "47x95", "path": [[1400, 0, -200], [1400, 4000, -200]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"FAR": {"role": "floor joist", "section": "47x95", "path": [[4400, 0, 97.5], [4400, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"BARE": {"role": "floor joist", "path": [[5400, 0, 97.5], [5400, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W9"}]},
	"GONE": {"role": "floor joist", "section": "47x95", "path": [[5400, 0, 97.5], [5400, 4000, 97.5]], "supports": [{"on": "W9"}]}`),
	want: []want{
		{"A/0.depth_step", 25}, {"B/1.depth_step", 25}, {"C/0.depth_step", 0}, {"FAR/0.depth_step", 0}, {"LOW/0.depth_step", 0},
		{"BARE/0.depth_step", absent("no section")}, {"GONE/0.depth_step", absent("W9")},
	},
}, {
	what:     "joists without paths have no neighbours",
	document: frameOf(leaves + `, "A": {"role": "floor joist", "section": "47x195", "supports": [{"on": "W1"}, {"on": "W2"}]}, "B": {"role": "floor joist", "section": "47x220", "length": 4000, "supports": [{"on": "W1"}, {"on": "W2"}]}`),
	want:     []want{{"A/0.depth_step", absent("place")}, {"B/0.depth_step", absent("place")}},
}}

// fixingTables are holding-downs with what they are fixed to, and pushes with what takes them.
var fixingTables = []table{{
	what: "straps to a wall, to a plate on a wall, to a beam, and to nothing",
	// The wall weighs 2.2 kN/m2 over 2.4 m: 5.28 N/mm. At straps every 1800: 9504 N; at members every 600: 3168 N.
	// BM carries 2 N/mm over 4 m and two rafters of 500 N permanent each at that end: 8000 + 1000 over two landings.
	document: frameOf(`"W1": {"role": "wall", "height": 2400, "weight": 2.2, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"WP": {"role": "wall plate", "section": "97x47", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "W1", "continuous": true}]},
	"BM": {"role": "beam", "section": "100x200", "path": [[0, 4000, 0], [4000, 4000, 0]], "supports": [{"on": "W2", "at": 0}, {"on": "W2", "at": 4000}], "loads": [{"action": "dead", "line": 2}]},
	"TO": {"role": "rafter", "section": "47x147", "centres": 600, "path": [[500, 0, 0], [500, 4000, 0]], "straps": [{"kind": "holding down", "to": "W1", "centres": 1800, "capacity": {"up": 4, "basis": "safe working"}}], "supports": [{"on": "W1", "capacity": {"up": 1}}, {"on": "BM"}], "loads": [{"action": "dead", "line": 0.25}]},
	"PL": {"role": "rafter", "section": "47x147", "centres": 600, "path": [[900, 0, 0], [900, 4000, 0]], "straps": [{"kind": "lateral"}, {"kind": "holding down", "to": "WP"}, {"kind": "holding down", "to": "BM"}], "supports": [{"on": "WP"}, {"on": "BM"}], "loads": [{"action": "dead", "line": 0.25}]},
	"NO": {"role": "rafter", "section": "47x147", "path": [[1300, 0, 0], [1300, 4000, 0]], "straps": [{"kind": "holding down", "to": "W9"}], "supports": [{"on": "W9"}, {"on": "W2"}]},
	"LO": {"role": "rafter", "section": "47x147", "path": [[1700, 0, 0], [1700, 4000, 0]], "straps": [{"kind": "holding down"}], "supports": [{"on": "W1"}, {"on": "W2"}]}`),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"TO/0.weight_below", 9504}, {"TO/0.uplift_taken", 4000}, {"TO/0.uplift_ratio", 0}, {"TO/1.weight_below", absent("no holding-down")}, {"TO/1.uplift_taken", absent("no holding-down")}, {"TO/1.uplift_ratio", absent("no holding-down")},
		{"PL/0.weight_below", 3168}, {"PL/1.weight_below", 4500},
		{"NO/0.weight_below", absent("not in the model")}, {"LO/0.weight_below", absent("neither the centres")}, {"LO/1.weight_below", absent("the weight or the height of W2")},
		{"BM/0.weight_below", absent("no holding-down")}, {"BM/0.capacity_down", absent("no capacity")}, {"BM/0.capacity_along", absent("no capacity")}, {"BM/0.capacity_basis", absent("no capacity")},
	},
}, {
	what: "a plate passes a pull on to its straps, and to the fixing of its bed where that holds more",
	// Suction of 3 N/mm on 4 m: 6000 N up at each end. Straps of 9 kN every 1800 hold 3000 N on a strip of 600, bolts of 60 kN
	// over the 3 m of the other bed 12000 N. A region's strength factor of 1.5 counts for the design capacity of the bolts.
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, 0, 0], [3000, 0, 0]]}, "W3": {"role": "wall", "ground": true, "path": [[3000, 0, 0], [6000, 0, 0]]},
	"WP": {"role": "wall plate", "section": "97x47", "path": [[0, 0, 0], [6000, 0, 0]],
		"supports": [{"on": "W1", "continuous": true, "from": 0, "to": 3000}, {"on": "W3", "continuous": true, "from": 3000, "to": 6000, "capacity": {"up": 60, "basis": "design"}}],
		"straps": [{"kind": "holding down", "to": "W1", "centres": 1800, "capacity": {"up": 9, "basis": "safe working"}}, {"kind": "holding down", "to": "W3"}]},
	"W2": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]}, "W4": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"BP": {"role": "wall plate", "section": "97x47", "path": [[0, 4000, 0], [6000, 4000, 0]], "supports": [{"on": "W4", "continuous": true}], "straps": [{"kind": "holding down", "centres": 1800}]},
	"A": {"role": "rafter", "section": "47x147", "centres": 600, "path": [[500, 0, 0], [500, 4000, 0]], "supports": [{"on": "WP"}, {"on": "W2"}], "loads": [{"action": "wind", "line": -3}]},
	"B": {"role": "rafter", "section": "47x147", "centres": 600, "path": [[3500, 0, 0], [3500, 4000, 0]], "supports": [{"on": "WP"}, {"on": "BP"}], "loads": [{"action": "wind", "line": -3}]},
	"C": {"role": "rafter", "section": "47x147", "path": [[900, 0, 0], [900, 4000, 0]], "supports": [{"on": "WP"}, {"on": "W2"}], "loads": [{"action": "wind", "line": -3}]}`),
	combinations: []string{"strength 1.5 wind", "stability 1.5 wind", "characteristic 1 wind"},
	want: []want{
		{"A/0.uplift_below_ratio", 2}, {"A/1.uplift_below_ratio", absent("no plate")}, {"B/0.uplift_below_ratio", 0.75}, {"B/1.uplift_below_ratio", absent("holds BP down is not stated")},
		{"C/0.uplift_below_ratio", absent("centres are not stated")},
	},
}, {
	what: "what holds down counts with the least factor that permanent load has against uplift, and a fixing is fixed to what it rests on",
	// The wall's 5.28 N/mm at members every 600, and the steel's 2 N/mm over 4 m with a rafter's 500 N, each times 0.9.
	document: frameOf(`"W1": {"role": "wall", "height": 2400, "weight": 2.2, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"BM": {"role": "beam", "section": "100x200", "path": [[0, 4000, 0], [4000, 4000, 0]], "supports": [{"on": "W2", "at": 0}, {"on": "W2", "at": 4000}], "loads": [{"action": "dead", "line": 2}]},
	"CL": {"role": "rafter", "section": "47x147", "centres": 600, "path": [[500, 0, 0], [500, 4000, 0]], "supports": [{"on": "W1", "capacity": {"up": 1}}, {"on": "BM", "capacity": {"up": 1}}], "loads": [{"action": "dead", "line": 0.25}]}`),
	combinations: []string{"strength 1.35 dead", "stability 0.9 dead", "characteristic 1 dead"},
	want:         []want{{"CL/0.weight_below", 0.9 * 3168}, {"CL/1.weight_below", 0.9 * 8500}},
}, {
	what: "plates on each other in a circle weigh nothing down",
	document: frameOf(`"P1": {"role": "wall plate", "length": 1000, "supports": [{"on": "P2", "continuous": true}]}, "P2": {"role": "wall plate", "length": 1000, "supports": [{"on": "P1", "continuous": true}]},
	"R": {"role": "rafter", "length": 1000, "centres": 600, "straps": [{"kind": "holding down"}], "supports": [{"on": "P1"}, {"on": "P2"}]}`),
	want: []want{{"R/0.weight_below", absent("on itself")}},
}, {
	what: "pushes taken here, further down, by a strap, or by nobody",
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, 0, 0], [9000, 0, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [9000, 4000, 0]]},
	"WS": {"role": "wall", "ground": true, "path": [[0, 8000, 0], [9000, 8000, 0]], "straps": [{"kind": "lateral", "centres": 2000}]},
	"WP": {"role": "wall plate", "section": "97x47", "path": [[0, 0, 0], [9000, 0, 0]], "supports": [{"on": "W1", "continuous": true, "holds": "horizontal"}]},
	"R1": {"role": "rafter", "section": "47x147", "path": [[500, 0, 0], [500, 4000, 3000]], "supports": [{"on": "WP"}, {"on": "W2"}]},
	"R2": {"role": "rafter", "section": "47x147", "path": [[900, 4000, 0], [900, 8000, 3000]], "supports": [{"on": "W2", "capacity": {"along": 3}}, {"on": "WS"}]},
	"R3": {"role": "rafter", "section": "47x147", "path": [[1300, 4000, 0], [1300, 8000, 3000]], "supports": [{"on": "W2", "fixed": true}, {"on": "W9"}]}`),
	want: []want{{"R1/0.push_taken", true}, {"R1/1.push_taken", false}, {"R2/0.push_taken", true}, {"R2/1.push_taken", true}, {"R3/0.push_taken", true}, {"R3/0.is_fixed", true}, {"R3/1.push_taken", false}, {"R3/0.holds_horizontal", true}},
}}
