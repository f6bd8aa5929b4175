package facts_test

// Facts that the document states. Sizes are worked from the section: 2/47x195 is 94 wide and 195 deep.

// leaves is two walls 4 m apart that members along y span between.
const leaves = `
	"W1": {"role": "wall", "material": "masonry", "width": 100, "height": 2400, "weight": 2.2, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]]},
	"W2": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]}`

var documentTables = []table{{
	what: "a run of joists that says all it can",
	document: `{"framing": 1, "site": {"service_class": 1, "stage": "building", "existing": "not relied on"},
	"areas": {"floor": {"kind": "floor", "imposed": 1.5, "deck": 22, "covering": "boards", "finish": "plasterboard"}},
	"members": {` + leaves + `,
	"J1": {"role": "floor joist", "section": "2/47x195", "grade": "C24", "centres": 400, "path": [[400, 0, 97.5], [400, 4000, 97.5]],
		"repeat": {"count": 3, "step": [400, 30, 0]}, "carries": ["floor"], "service_class": 2, "phase": "existing", "condition": "unverified",
		"restraint": {"top": "full", "bottom": 1200}, "plies_joined": "bolted at 600", "treated": "UC2", "fire_protection": "boarded",
		"corrosion_protection": "galvanised", "end_fixing": "built in", "weld": "none", "covered_by": "ceiling",
		"seen": {"by": "site agent", "date": "2026-01-02", "photo": "P-7"},
		"stated": {"total_load": 40, "line_load": 10, "by": "maker's table"},
		"drawing": ["S-1", {"S-2": {"to": "engineer"}}],
		"notches": [{"at": 1000, "depth": 20, "length": 60, "face": "top"}, {"at": 3000, "depth": 20, "length": 40, "face": "bottom"}],
		"holes": [{"at": 1200, "diameter": 40}, {"at": 1400, "diameter": 50}],
		"blocking": [{"kind": "solid", "at": 1300}, {"kind": "solid", "at": 2600}],
		"straps": [{"kind": "lateral", "centres": 1600}, {"kind": "holding down", "centres": 1800}, {"kind": "holding down", "centres": 1200}],
		"supports": [{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 90, "by": "hanger"}]},
	"T": {"role": "trimmer", "section": "47x195", "grade": "C24", "path": [[0, 2000, 0], [400, 2000, 0]], "straps": [{"kind": "lateral", "centres": 2000, "to": "J1"}]}}}`,
	want: []want{
		{"J1#2.id", "J1"}, {"J1#2.piece", "J1#2"}, {"J1#1.role", "floor joist"}, {"J1#1.material", "timber"}, {"J1#1.grade", "C24"},
		{"J1#1.section", "2/47x195"}, {"J1#1.shape", "rectangle"}, {"J1#1.width", 47}, {"J1#1.breadth", 94}, {"J1#1.depth", 195}, {"J1#1.plies", 2},
		{"J1#1.plies_unequal", false}, {"J1#1.plies_joined", "bolted at 600"}, {"J1#1.depth_to_breadth", 195.0 / 94},
		{"J1#1.centres", 400}, {"J1#1.step", 400}, {"J1#3.pieces", 3}, // square to joists along y, the 30 along them is no spacing
		{"J1#1.service_class", 2}, {"T.service_class", 1}, {"J1#1.phase", "existing"}, {"J1#1.condition", "unverified"}, {"J1#1.is_unverified", true},
		{"J1#1.old_not_relied_on", true}, {"J1#1.stage", "building"}, {"J1#1.treated", "UC2"}, {"J1#1.fire_protection", "boarded"},
		{"J1#1.corrosion_protection", "galvanised"}, {"J1#1.end_fixing", "built in"}, {"J1#1.weld", absent("there is none")}, {"J1#1.covered_by", "ceiling"},
		{"J1#1.seen_by", "site agent"}, {"J1#1.seen_photo", "P-7"}, {"J1#1.restraint_top", "full"}, {"J1#1.restraint_bottom", "spaced"},
		{"J1#1.edge_held_every", 0}, {"J1#1.blocking_rows", 2}, {"J1#1.straps", 3},
		{"J1#1.strap_spacing", 2000}, {"J1#1.holding_down_spacing", 1800}, // the trimmer's strap ties to the joist
		{"J1#1.notch_count", 2}, {"J1#1.hole_count", 2}, {"J1#1.notched_both_faces", true},
		{"J1#1.least_gap", 1200.0 - 1000 - 30 - 20}, {"J1#1.least_hole_spacing", 200.0 / 50},
		{"J1#1.deck", 22}, {"J1#1.carries_kind", "floor"}, {"J1#1.carries_brittle", true}, {"J1#1.covering", "boards"},
		{"J1#1.drawing", "S-1, S-2"}, {"J1#1.drawings_named", 2}, {"J1#1.is_open", true},
		{"J1#1.piece_mass", 0.094 * 0.195 * 4 * 420}, {"J1#1.density_known", true}, {"J1#1.stiffness_known", true},
		{"J1#1.stated_total", 40000}, {"J1#1.stated_line", 10}, {"J1#1.stated_by", "maker's table"},
		{"J1#1.is_ground", false}, {"W1.is_ground", true}, {"J1#1.is_structural", true}, {"W1.is_structural", false},
		{"W1.wall_height", 2400}, {"W1.wall_width", 100}, {"W1.material", "masonry"}, {"J1#1.section_assumed", false},
		{"J1#1/0.bearing", 100}, {"J1#2/1.bearing", 90}, {"J1#1/0.by", "seat"}, {"J1#1/1.index", 1}, {"J1#1/0.index", 0}, {"J1#1/0.names", "W1"},
	},
}, {
	what:     "a beam that says nothing",
	document: `{"framing": 1, "members": {"B": {"role": "beam"}}}`,
	want: []want{
		{"B.piece", "B"}, {"B.pieces", 1}, {"B.phase", "new"}, {"B.material", absent("neither a material nor a section")}, {"B.grade", absent("does not say")},
		{"B.section", absent("no section")}, {"B.shape", absent("no section")}, {"B.width", absent("no section")}, {"B.breadth", absent("no section")},
		{"B.depth", absent("no section")}, {"B.plies", absent("no section")}, {"B.plies_joined", absent("does not say")}, {"B.depth_to_breadth", absent("no section")},
		{"B.length", absent("neither a path nor a length")}, {"B.slope", absent("neither a path nor a length")}, {"B.kinks", absent("neither a path nor a length")},
		{"B.kinks_in_plan", absent("neither a path nor a length")}, {"B.kinks_without_joint", absent("neither a path nor a length")},
		{"B.weld", absent("does not say")}, {"B.centres", absent("does not say")}, {"B.step", absent("a single piece")},
		{"B.condition", absent("does not say")}, {"B.is_unverified", false}, {"B.old_not_relied_on", false}, {"B.stage", absent("does not say")},
		{"B.service_class", absent("does not say")}, {"B.treated", absent("does not say")}, {"B.fire_protection", absent("does not say")},
		{"B.corrosion_protection", absent("does not say")}, {"B.end_fixing", absent("does not say")}, {"B.covered_by", absent("does not say")},
		{"B.seen_by", absent("does not say")}, {"B.seen_photo", absent("does not say")}, {"B.restraint_top", "ends"}, {"B.restraint_bottom", "ends"},
		{"B.edge_held_every", absent("at the supports only")}, {"B.blocking_rows", 0}, {"B.straps", 0},
		{"B.strap_spacing", absent("no lateral straps")}, {"B.holding_down_spacing", absent("no holding down straps")},
		{"B.notch_count", 0}, {"B.hole_count", 0}, {"B.notched_both_faces", false}, {"B.least_gap", absent("no notch beside a hole")},
		{"B.least_hole_spacing", absent("no two holes")}, {"B.deck", absent("states no deck")}, {"B.carries_kind", ""}, {"B.carries_brittle", false},
		{"B.covering", absent("does not say")}, {"B.drawing", absent("does not say")}, {"B.drawings_named", 0}, {"B.is_open", false},
		{"B.piece_mass", absent("no section")}, {"B.density_known", false}, {"B.stiffness_known", false}, {"B.stated_total", absent("no maker's")},
		{"B.stated_line", absent("no maker's")}, {"B.stated_by", absent("does not say")}, {"B.wall_height", absent("does not say")}, {"B.wall_width", absent("does not say")},
		{"B.plumb_cut", absent("no section")}, {"B.corner_tie_capacity", absent("no angle tie")}, {"B.tie_capacity", absent("nothing ties it")},
		{"B.is_tied", false}, {"B.is_structural", true},
	},
}, {
	what: "sections of every form",
	// 203x133x25 UB: 203.2 deep, 133.2 wide, 25.1 kg/m (EN 10365). A sandwich of unequal timbers about a plate.
	document: `{"framing": 1, "members": {
	"UB": {"role": "beam", "section": "203x133x25 UB", "grade": "S275", "length": 2000},
	"SHS": {"role": "beam", "section": "100x100x8 SHS", "finish": "hot", "length": 2000},
	"CH": {"role": "beam", "section": "150x75x18 PFC", "length": 2000},
	"FLAT": {"role": "wall plate", "section": "47x97", "flat": true, "length": 2000},
	"GIVEN": {"role": "beam", "section": {"area": 5000, "iy": 1e7}, "grade": "C24", "length": 2000},
	"FL": {"role": "beam", "section": {"layers": [{"width": 47, "depth": 195, "grade": "C24"}, {"width": 10, "depth": 180, "grade": "S275"},
		{"width": 47, "depth": 195, "grade": "C16"}], "bolts": "M12 at 600"}, "grade": "C24", "length": 2000},
	"EQ": {"role": "beam", "section": {"layers": [{"width": 47, "depth": 195, "grade": "C24"}, {"width": 10, "depth": 180, "grade": "S275"},
		{"width": 47, "depth": 195, "grade": "C24"}]}, "length": 2000},
	"NOM": {"role": "beam", "section": {"width": 38, "depth": 184, "nominal": "2x8"}, "length": 2000},
	"X": {"role": "wall", "material": "concrete"}}}`,
	want: []want{
		{"UB.shape", "i"}, {"UB.depth", 203.2}, {"UB.breadth", 133.2}, {"UB.plies", 1}, {"UB.piece_mass", 50.2}, {"UB.material", "steel"}, {"UB.stiffness_known", true},
		{"SHS.shape", "hollow"}, {"SHS.finish", "hot"}, {"CH.finish", absent("does not say")}, {"SHS.material", "steel"}, {"SHS.stiffness_known", false}, {"SHS.density_known", true}, // steel weighs what its table says
		{"CH.shape", "channel"}, {"FLAT.width", 97}, {"FLAT.depth", 47}, {"FLAT.material", "timber"}, {"FLAT.density_known", false}, {"FLAT.piece_mass", absent("no grade is stated")},
		{"GIVEN.shape", "properties"}, {"GIVEN.depth", absent("does not give it")}, {"GIVEN.width", absent("does not give it")}, {"GIVEN.depth_to_breadth", absent("does not give it")},
		{"FL.shape", "layered"}, {"FL.breadth", 104}, {"FL.depth", 195}, {"FL.plies_unequal", true}, {"FL.plies_joined", "M12 at 600"}, {"FL.stiffness_known", true},
		{"EQ.plies_unequal", false}, {"EQ.plies_joined", absent("does not say")},
		{"NOM.section_assumed", true}, {"NOM.material", "timber"}, {"X.material", "concrete"},
	},
}, {
	what: "cuts whose place or size nobody states",
	document: frameOf(leaves + `,
	"J": {"role": "floor joist", "section": "47x195", "path": [[400, 0, 97.5], [400, 4000, 97.5]], "restraint": 600,
		"notches": [{"at": 1000, "depth": 20}, {}], "holes": [{"at": 1200, "diameter": 40}, {"diameter": 40}], "supports": [{"on": "W1", "by": "nailed"}, {"on": "W2", "by": "seat"}]}`),
	want: []want{
		{"J.least_gap", absent("place or size of a notch or hole")}, // the notch's length
		{"J.least_hole_spacing", absent("place or size of a hole")}, {"J.notched_both_faces", false},
		{"J.edge_held_every", 600}, {"J.restraint_top", "spaced"}, {"J.end_fixing", absent("laid on what carries it")},
		{"J notch 0.length", absent("does not say")}, {"J notch 0.face", absent("does not say")}, {"J notch 1.at", absent("does not say")}, {"J notch 1.depth", absent("does not say")},
		{"J notch 1.span_part", absent("place is not stated")}, {"J notch 1.to_support", absent("place is not stated")},
		{"J hole 1.at", absent("does not say")}, {"J hole 1.span_part", absent("place is not stated")}, {"J hole 1.to_support", absent("place is not stated")},
	},
}, {
	what: "rows of strutting, a cut at a support and the details of joints",
	// Of six lines of blocking two are rows within the span: two stand over supports, one is staggered by 60 mm in the same row,
	// and one only stands under a post. The row without a place makes a third.
	document: frameOf(leaves + `,
	"J": {"role": "floor joist", "section": "47x195", "path": [[400, 0, 97.5], [400, 4000, 97.5]],
		"blocking": [{"at": 0, "kind": "solid"}, {"at": 1300, "kind": "solid"}, {"at": 1360, "kind": "solid"}, {"at": 2600, "kind": "herringbone"},
			{"at": 4000, "kind": "solid"}, {"at": 2000, "kind": "block"}, {"kind": "solid"}],
		"supports": [{"on": "W1", "by": "nailed", "notch": {"face": "bottom"}}, {"on": "W2", "by": "bolted"}]},
	"SP": {"role": "beam", "section": "203x133x25 UB", "length": 6000, "joints": [{"at": 2000, "kind": "rigid", "detail": "bolted plates", "capacity": 9}, {"at": 4000, "kind": "rigid", "capacity": 7}], "stated": {"moment": 12},
		"end_fixing": "None", "fire_protection": "none", "corrosion_protection": "none", "treated": "none", "plies_joined": "none"},
	"SQ": {"role": "beam", "section": "203x133x25 UB", "length": 6000, "joints": [{"at": 2000, "kind": "rigid", "detail": "bolted plates"}]},
	"BR": {"role": "brace", "phase": "removed"}`),
	want: []want{
		{"J.blocking_rows", 3}, {"J.end_fixing", "nailed, bolted"}, {"J/0.is_notched", true}, {"J/0.notch_depth", absent("does not say")}, {"J/1.is_notched", false},
		{"SP.end_fixing", absent("there is none")}, {"SP.fire_protection", absent("there is none")}, {"SP.corrosion_protection", absent("there is none")}, {"SP.treated", absent("there is none")}, {"SP.plies_joined", absent("there is none")}, {"SP.joints", 2}, {"SP.joint_capacity", 7e6}, {"SP.stated_moment", 12e6}, {"SQ.joint_capacity", absent("no joint of it")}, {"SQ.stated_moment", absent("no maker")}, {"SP.weld", absent("one of its joints")}, {"SQ.joints", 1}, {"SQ.weld", "bolted plates"}, {"J.joints", 0}, {"J.weld", absent("does not say")},
		{"frame.removes_stability", true}, {"frame.removed", "BR"},
	},
}, {
	what:     "gypsum board is plasterboard",
	document: `{"framing": 1, "areas": {"a": {"kind": "floor", "imposed": 1.5, "finish": "12.5 mm gypsum board"}}, "members": {"A": {"role": "beam", "carries": ["a"]}}}`,
	want:     []want{{"A.carries_brittle", true}},
}, {
	what: "but not in the US",
	document: `{"framing": 1, "units": "us", "areas": {"a": {"kind": "floor", "imposed": 40, "finish": "1/2 in gypsum board"}, "b": {"kind": "floor", "imposed": 40, "finish": "Stucco"}},
	"members": {"A": {"role": "beam", "carries": ["a"]}, "B": {"role": "beam", "carries": ["b"]}}}`,
	want: []want{{"A.carries_brittle", false}, {"B.carries_brittle", true}},
}, {
	what: "loads that lift, which wind may do and weight does not",
	document: `{"framing": 1, "members": {
	"A": {"role": "beam", "loads": [{"action": "dead", "point": 1, "at": 0}, {"action": "wind", "line": -1}]},
	"B": {"role": "beam", "loads": [{"action": "imposed", "line": [1, -0.5]}]}, "C": {"role": "beam", "loads": [{"action": "snow", "point": -1, "at": 0}]}}}`,
	want: []want{{"A.load_lifts", false}, {"B.load_lifts", true}, {"C.load_lifts", true}},
}, {
	what: "what hangs beneath, and an area's finish that nobody states",
	document: `{"framing": 1, "areas": {"a": {"kind": "floor", "imposed": 1.5, "finish": "none"}, "b": {"kind": "roof", "snow": 0.6}}, "members": {
	"A": {"role": "beam", "carries": ["a"]}, "B": {"role": "beam", "carries": ["a", "b"], "deck": 18},
	"C": {"role": "beam", "carries": ["a", "b"], "covered_by": "two layers of Plasterboard"}}}`,
	want: []want{
		{"A.carries_brittle", false}, {"B.carries_brittle", absent("does not say what hangs beneath")}, {"C.carries_brittle", true}, {"B.carries_kind", "floor, roof"}, {"B.deck", 18},
		{"A.deck", absent("states no deck")},
	},
}, {
	what: "notches, holes and drawings",
	// Supports at 0 and 4000; the notch at 500 is an eighth of the span from one, the hole at 1000 a quarter.
	document: `{"framing": 1, "drawings": {"S-1": {"title": "First floor", "by": "engineer", "revision": "B"}}, "members": {` + leaves + `,
	"J": {"role": "floor joist", "section": "47x195", "grade": "C24", "centres": 400, "path": [[400, 0, 97.5], [400, 4600, 97.5]],
		"supports": [{"on": "W1"}, {"on": "W2"}],
		"notches": [{"at": 500, "depth": 24, "length": 50, "face": "top"}, {"at": 4200, "depth": 24, "face": "bottom"}],
		"holes": [{"at": 1000, "diameter": 40, "edge": 60}, {"at": 3000, "diameter": 40}, {"at": 3300}],
		"drawing": [{"S-1": {"section": "47x220", "grade": "C16", "centres": 600}}, {"S-9": {"section": "47x195", "grade": "C24", "centres": 400}}, "S-8"]},
	"N": {"role": "beam", "section": "100x100x8 SHS", "path": [[0, 9000, 0], [900, 9000, 0]],
		"drawing": [{"S-1": {"section": "100x100x5 SHS"}}, {"S-2": {"section": "100x100x8 SHS"}}]},
	"BARE": {"role": "beam", "holes": [{"at": 100, "diameter": 20, "edge": 50}], "drawing": {"S-1": {"section": "47x195"}}}}}`,
	want: []want{
		{"J notch 0.at", 500}, {"J notch 0.depth", 24}, {"J notch 0.length", 50}, {"J notch 0.face", "top"},
		{"J notch 0.to_support", 500}, {"J notch 0.span_part", 0.125},
		{"J notch 1.to_support", 200}, {"J notch 1.span_part", absent("in an overhang")},
		{"J hole 0.at", 1000}, {"J hole 0.diameter", 40}, {"J hole 0.off_centre", 37.5}, {"J hole 0.edge_clear", 40}, {"J hole 0.span_part", 0.25}, {"J hole 0.to_support", 1000},
		{"J hole 1.off_centre", 0}, {"J hole 1.edge_clear", 77.5}, // an edge that is not stated is the centre line: 97.5 - 20
		{"J hole 2.diameter", absent("does not say")}, {"J hole 2.edge_clear", absent("diameter")},
		{"BARE hole 0.off_centre", absent("no section")}, {"BARE hole 0.edge_clear", absent("the section")}, {"BARE hole 0.span_part", absent("no supports")},
		{"J drawing 0.id", "S-1"}, {"J drawing 0.title", "First floor"}, {"J drawing 0.revision", "B"}, {"J drawing 0.is_listed", true},
		{"J drawing 0.states_section", "47x220"}, {"J drawing 0.states_grade", "C16"}, {"J drawing 0.section_differs", true}, {"J drawing 0.grade_differs", true},
		{"J drawing 0.centres_differ", true},
		{"J drawing 1.is_listed", false}, {"J drawing 1.title", absent("does not list the drawing")}, {"J drawing 1.revision", absent("does not list the drawing")},
		{"J drawing 1.section_differs", false}, {"J drawing 1.grade_differs", false}, {"J drawing 1.centres_differ", false},
		{"J drawing 2.states_section", absent("does not say")}, {"J drawing 2.states_grade", absent("does not say")}, {"J drawing 2.section_differs", false},
		{"N drawing 0.section_differs", true}, {"N drawing 1.section_differs", false}, // the same outside, another wall
		{"BARE drawing 0.section_differs", true},
	},
}}
