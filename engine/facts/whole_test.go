package facts_test

// Work on what stands already, and facts of areas, of the ground and of the frame as a whole.

var phaseTables = []table{{
	what: "a new load and a new beam on an old frame",
	// Before: 1 N/mm over 4 m: 2000 on either wall. After: 2 kN imposed in the middle more, 3000; and the new beam's 500.
	// The wall that goes weighs 2 N/mm over 1 m.
	document: frameOf(`"W1": {"role": "wall", "phase": "existing", "ground": true, "path": [[0, 0, 0], [6000, 0, 0]]}, "W2": {"role": "wall", "phase": "existing", "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"W3": {"role": "wall", "phase": "existing", "ground": true, "path": [[9000, 0, 0], [9000, 900, 0]]},
	"W7": {"role": "wall", "phase": "removed", "ground": true, "path": [[0, 2000, 0], [1000, 2000, 0]], "loads": [{"action": "dead", "line": 2, "phase": "removed"}]},
	"BR": {"role": "beam", "phase": "removed", "length": 900, "brace_removed": true}, "OV": {"role": "valley rafter", "phase": "removed", "length": 900}, "OK": {"role": "beam", "phase": "removed", "length": 900},
	"OB": {"role": "beam", "section": "100x200", "phase": "existing", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}],
		"loads": [{"action": "dead", "line": 1, "phase": "existing"}, {"action": "imposed", "point": 2, "at": 2000}]},
	"SAME": {"role": "beam", "section": "100x200", "phase": "existing", "path": [[2000, 0, 100], [2000, 4000, 100]], "supports": [{"on": "W3", "at": 0}, {"on": "W3", "at": 4000}]},
	"LESS": {"role": "beam", "section": "100x200", "phase": "existing", "path": [[3000, 0, 100], [3000, 4000, 100]], "supports": [{"on": "W3", "at": 0}, {"on": "W3", "at": 4000}], "loads": [{"action": "dead", "line": 1, "phase": "removed"}]},
	"NB": {"role": "beam", "section": "100x200", "path": [[3000, 0, 100], [3000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 1, "at": 2000}]}`),
	want: []want{
		{"OB.load_increase", 2000}, {"OB.load_increase_ratio", 0.5}, {"NB.load_increase", absent("nothing of it stood before")}, {"NB.load_increase_ratio", absent("nothing of it stood before")},
		{"LESS.load_increase_ratio", 0}, {"SAME.load_increase", 0}, {"W1.load_increase", 1500}, {"W1.load_increase_ratio", 0.75},
		{"OB/0.new_load", 1000}, {"NB/0.new_load", 500}, {"SAME/0.new_load", 0}, {"LESS/0.new_load", 0},
		{"ground W1.load", 3500}, {"ground W1.load_before", 2000}, {"ground W1.load_ratio", 1.75}, {"ground W1.heaviest", 3000}, {"ground W1.heaviest_from", "OB"},
		{"ground W1.heaviest_at", 1000}, {"ground W1.heaviest_on", "nothing stated"}, {"ground W3.load", 0},
		{"frame.removes_stability", true}, {"frame.removed", "W7, BR"}, {"frame.has_valley", false}, {"frame.has_roof", false}, // the valley goes
	},
}, {
	what: "a lean-to whose rafters hang on a ledger along a wall",
	document: frameOf(leaves + `, "LD": {"role": "beam", "path": [[0, 4000, 900], [6000, 4000, 900]], "supports": [{"on": "W2", "continuous": true, "by": "bolted"}]},
	"R": {"role": "rafter", "path": [[500, 0, 0], [500, 4000, 900]], "supports": [{"on": "W1"}, {"on": "LD", "by": "hanger"}]}`),
	want: []want{{"frame.has_abutment", true}},
}, {
	what:     "rafters in hangers on the face of a wall",
	document: frameOf(leaves + `, "R": {"role": "rafter", "path": [[500, 0, 0], [500, 4000, 900]], "supports": [{"on": "W1"}, {"on": "W2", "by": "hanger"}]}`),
	want:     []want{{"frame.has_abutment", true}},
}, {
	what: "rafters on plates that are nailed down on walls, and a floor that hangs on one",
	document: frameOf(leaves + `, "WP": {"role": "wall plate", "path": [[0, 4000, 900], [6000, 4000, 900]], "supports": [{"on": "W2", "continuous": true, "by": "nailed"}]},
	"R": {"role": "rafter", "path": [[500, 0, 0], [500, 4000, 900]], "supports": [{"on": "W1", "by": "nailed"}, {"on": "WP", "by": "nailed"}]},
	"J": {"role": "floor joist", "path": [[500, 0, 0], [500, 4000, 0]], "supports": [{"on": "W1", "by": "hanger"}, {"on": "W2", "by": "hanger"}]}`),
	want: []want{{"frame.has_abutment", false}},
}, {
	what: "load that was there in one case and comes in another counts together",
	// 4000 dead stood; 400 dead and 400 imposed come: 800 more, a fifth. By single cases it would be a tenth, and nothing.
	document: frameOf(leaves + `, "OB": {"role": "beam", "section": "100x200", "phase": "existing", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}],
		"loads": [{"action": "dead", "line": 1, "phase": "existing"}, {"action": "dead", "line": 0.1}, {"action": "imposed", "line": 0.1}]},
	"NEW": {"role": "beam", "section": "100x200", "phase": "existing", "path": [[2000, 0, 100], [2000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "imposed", "line": 0.1}]}`),
	want: []want{{"OB.load_increase", 800}, {"OB.load_increase_ratio", 0.2}, {"NEW.load_increase", 400}, {"NEW.load_increase_ratio", absent("nothing rested on it before")}, {"ground W1.load_before", absent("nothing stood before")}},
}}

var wholeTables = []table{{
	what: "the narrowest strip over the centres, of what no extent holds to account",
	document: `{"framing": 1, "self_weight": false, "areas": {"loose": {"kind": "floor", "imposed": 0}, "bound": {"kind": "floor", "extent": [[0, 0], [4000, 0], [4000, 3000]]}}, "members": {
	"N": {"role": "floor joist", "centres": 400, "path": [[0, 0, 0], [4000, 0, 0]], "carries": [{"area": "loose", "width": 300}, {"area": "loose", "width": 40}, {"area": "bound", "width": 20}]},
	"E": {"role": "floor joist", "centres": 400, "path": [[0, 0, 0], [4000, 0, 0]], "carries": ["loose", {"area": "bound", "width": 20}]},
	"B": {"role": "beam", "path": [[0, 0, 0], [4000, 0, 0]], "carries": [{"area": "loose", "width": 40}]}}}`,
	want: []want{
		{"N.strip_ratio", 0.1}, {"E.strip_ratio", absent("no strip of stated width")}, {"B.strip_ratio", absent("centres are not stated")},
		{"area loose.imposed_counted", 0}, {"area bound.imposed_counted", 0}, {"area loose.imposed", 0}, {"area bound.imposed", absent("does not say")},
	},
}, {
	what: "areas and the strips of them",
	// The roof is 4 m by 3 m in plan; three rafters of 4 m carry strips of 400 and a fourth one of 600: 4.8 and 2.4 of 12 m2.
	document: `{"framing": 1, "title": "Areas", "self_weight": false, "site": {"region": "GB-ENG", "stage": "design", "existing": "not relied on", "stability": "engineer", "temporary_work": "contractor", "snow_drift": "no abutments"},
	"areas": {"roof": {"kind": "roof", "dead": 0.75, "roof_imposed": 0.6, "snow": {"even": 0.4, "drift": 0.9}, "wind": {"a": -0.6, "b": 0.3}, "covering": "tiles", "pitch": 30, "extent": [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]},
		"floor": {"kind": "floor", "imposed": 1.5, "deck": 22}, "idle": {}, "down": {"kind": "roof", "wind": 0.2}},
	"members": {"W": {"role": "wall", "ground": true, "path": [[0, 0, 0], [0, 3000, 0]], "footing": "strip, 600 wide"},
	"R": {"role": "rafter", "section": "47x147", "grade": "C24", "centres": 400, "path": [[0, 0, 0], [4000, 0, 3000]], "repeat": {"count": 3, "step": [0, 400, 0]}, "carries": ["roof"]},
	"V": {"role": "valley rafter", "section": "47x147", "grade": "C24", "path": [[0, 2000, 0], [4000, 2000, 3000]], "carries": [{"area": "roof", "width": 600}], "straps": [{"kind": "holding down"}]},
	"S": {"role": "rafter", "section": "47x147", "grade": "C16", "path": [[0, 2500, 0], [4000, 2500, 3000]], "straps": [{"kind": "lateral"}], "drawing": "S-1"},
	"J": {"role": "floor joist", "section": "47x195", "path": [[0, 0, 0], [4000, 0, 0]], "carries": ["floor"]}}}`,
	want: []want{
		{"area roof.id", "roof"}, {"area roof.kind", "roof"}, {"area roof.covering", "tiles"}, {"area roof.pitch", 0.5235987755982988}, {"area roof.extent_surface", 12e6},
		{"area roof.carried_surface", 7.2e6}, {"area roof.carried_ratio", 0.6}, {"area roof.carriers_count", 4}, {"area roof.dead", 0.75e-3}, {"area roof.roof_imposed", 0.6e-3},
		{"area roof.snow", 0.9e-3}, {"area roof.wind_up", 0.6e-3}, {"area roof.imposed", absent("does not say")}, {"area roof.deck", absent("does not say")},
		{"area floor.imposed", 1.5e-3}, {"area floor.imposed_counted", 1.5e-3}, {"area roof.imposed_counted", 0}, {"area floor.deck", 22}, {"area floor.carried_surface", absent("J")}, {"area floor.carried_ratio", absent("no extent")}, {"area floor.extent_surface", absent("no extent")},
		{"area idle.kind", absent("does not say")}, {"area idle.covering", absent("does not say")}, {"area idle.pitch", absent("does not say")}, {"area idle.dead", absent("does not say")},
		{"area idle.roof_imposed", absent("does not say")}, {"area idle.snow", absent("does not say")}, {"area idle.wind_up", absent("does not say")}, {"area idle.carriers_count", 0}, {"area idle.carried_surface", 0}, {"area down.wind_up", 0},
		{"R#1.covering", "tiles"},
		{"frame.title", "Areas"}, {"frame.region", "GB-ENG"}, {"frame.region_served", false}, {"frame.members", 5}, {"frame.pieces", 7}, {"frame.stage", "design"}, {"frame.existing", "not relied on"},
		{"frame.is_weightless", true}, {"frame.snow_drift", "no abutments"}, {"frame.has_snow", true}, {"frame.has_valley", true}, {"frame.stability", "engineer"}, {"frame.temporary_works", "contractor"},
		{"frame.has_brace", true}, {"frame.has_roof", true}, {"frame.region_assumptions", 0}, {"frame.removes_stability", false}, {"frame.removed", ""},
		{"frame.mixed_grades", "rafter 47x147: 1 C16 and 3 C24"}, {"frame.undrawn", "W, R, V, J"},
		{"ground W.id", "W"}, {"ground W.role", "wall"}, {"ground W.footing", "strip, 600 wide"}, {"ground W.heaviest", 0}, {"ground W.heaviest_from", absent("nothing lands")}, {"ground W.heaviest_at", absent("place is not known")},
		{"ground W.heaviest_on", absent("nothing lands")}, {"frame.heaviest_on_each", ""},
	},
}, {
	what: "a frame that says nothing of itself",
	document: `{"framing": 1, "members": {"R": {"role": "rafter", "section": "47x147", "grade": "C24", "length": 3000, "straps": [{"kind": "holding down"}], "drawing": "S-1"}, "W": {"role": "wall", "ground": true, "drawing": "S-1"},
	"OLD": {"role": "beam", "phase": "existing", "length": 3000}}}`,
	want: []want{
		{"frame.title", absent("does not say")}, {"frame.region", absent("does not say")}, {"frame.stage", absent("does not say")}, {"frame.existing", absent("does not say")},
		{"frame.is_weightless", false}, {"frame.snow_drift", absent("does not say")}, {"frame.has_snow", false}, {"frame.has_valley", false}, {"frame.stability", absent("does not say")},
		{"frame.temporary_works", absent("does not say")}, {"frame.has_brace", false}, {"frame.has_roof", true}, {"frame.mixed_grades", ""}, {"frame.undrawn", ""}, // a strap that holds down braces nothing
		{"ground W.load", 0}, {"ground W.load_before", absent("nothing stood before")}, {"ground W.load_ratio", absent("nothing stood before")}, {"ground W.footing", absent("does not say")},
	},
}, {
	what: "the heaviest reaction on each wall",
	// The beam brings 3000 and 1000 N, by the lever of 4 kN at a quarter of the span; the joist 500 each.
	document: frameOf(leaves + `,
	"J": {"role": "floor joist", "section": "47x195", "path": [[500, 0, 97.5], [500, 4000, 97.5]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 1, "at": 2000}]},
	"B": {"role": "beam", "section": "100x200", "path": [[1500, 0, 100], [1500, 4000, 100]], "supports": [{"on": "W1", "seat": {"kind": "padstone", "size": "300x100x100"}}, {"on": "W2"}], "loads": [{"action": "dead", "point": 4, "at": 1000}]}`),
	want: []want{
		{"ground W1.load", 3500}, {"ground W1.heaviest", 3000}, {"ground W1.heaviest_from", "B"}, {"ground W1.heaviest_at", 1500}, {"ground W1.heaviest_on", "padstone"},
		{"ground W2.heaviest", 1000}, {"frame.heaviest_on_each", "W1 3 kN from B, on a padstone; W2 1 kN from B, nothing stated under it"}, {"frame.undrawn", "W1, W2, J, B"},
	},
}}
