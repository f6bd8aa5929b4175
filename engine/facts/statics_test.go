package facts_test

// Sums of the statics: elementary beams, worked beside each table. A 100x200 of C24 has E I = 11000 * 100 * 200^3 / 12 =
// 7.3333e11 N mm2.

// four is a beam of 100x200 over 4 m with these loads and supports.
func four(length, supports, loads string) string {
	return frameOf(leaves + `, "B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[1000, 0, 100], [1000, ` + length + `, 100]],
	"supports": [` + supports + `], "loads": [` + loads + `]}`)
}

// leaning is a strut that leans under a purlin, with its straps.
func leaning(straps string) string {
	return frameOf(`"W1": {"role": "wall", "ground": true, "path": [[-500, 0, 0], [2000, 0, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[-500, 4000, 0], [2000, 4000, 0]]},
	"F": {"role": "wall", "ground": true, "path": [[-500, 2000, -3000], [2000, 2000, -3000]]},
	"P": {"role": "purlin", "section": "75x200", "grade": "C24", "path": [[0, 0, 0], [0, 4000, 0]], "supports": [{"on": "W1"}, {"on": "S"}, {"on": "W2"}], "loads": [{"action": "dead", "line": 2}]},
	"S": {"role": "strut", "section": "75x75", "path": [[1500, 2000, -3000], [0, 2000, 0]], "supports": [{"on": "F", "holds": "horizontal"}], "straps": [` + straps + `]}`)
}

var limitStates = []string{"strength 1.35 dead", "strength 1.35 dead + 1.5 imposed", "stability 0.9 dead + 1.5 imposed", "characteristic 1 dead + 1 imposed"}

// full is 1 kN/m dead and 2 kN/m imposed over the whole length.
const full = `{"action": "dead", "line": 1}, {"action": "imposed", "line": 2}`

var staticsTables = []table{{
	what: "a simple beam",
	// Strength: 1.35 + 3 = 4.35 N/mm: M = 4.35 * 4000^2 / 8, V = R = 8700. In use 3 N/mm: 12000 N, 5 q l^4 / (384 E I).
	document:     four("4000", `{"on": "W1", "bearing": 100}, {"on": "W2", "bearing": 50}`, full),
	combinations: limitStates,
	want: []want{
		{"B.moment", 8.7e6}, {"B.shear", 8700}, {"B.tension", 0}, {"B.compression", 0}, {"B.total_load", 12000}, {"B.line_load", 3},
		{"B.deflection", 5.0 * 3 * 4000 * 4000 * 4000 * 4000 / (384 * 11000 * 100 * 200 * 200 * 200 / 12)}, {"B.deflection_ratio", 5.0 * 3 * 4000 * 4000 * 4000 / (384 * 11000 * 100 * 200 * 200 * 200 / 12)},
		{"B/0.reaction", 8700}, {"B/0.reaction_service", 6000}, {"B/0.uplift", 0}, {"B/0.push", 0}, {"B/0.bearing_stress", 0.87}, {"B/1.bearing_stress", 1.74},
		{"B.roller_movement", 0}, {"B.kink_moment", absent("no bend")}, {"B.kink_axial", absent("no bend")}, {"B.kink_shear", absent("no bend")}, {"B.thrust", 0},
		{"frame.imbalance", 0}, {"frame.unresolved", 0},
	},
}, {
	what:     "loads that stand past its end, or run past it",
	document: four("4000", `{"on": "W1"}, {"on": "W2"}`, `{"action": "dead", "point": 3, "at": 4500}, {"action": "dead", "line": 1, "from": 3000, "to": 5000}`),
	want: []want{
		{"B.left_out", "a load of dead is left out: it stands 500 mm beyond the end; part of a load of dead is left out: it runs 1000 mm beyond the end"}, {"W1.left_out", ""},
		{"B.total_load", 1000},
	},
}, {
	what:     "the same beam without a region",
	document: four("4000", `{"on": "W1", "bearing": 100}, {"on": "W2", "bearing": 50}`, full),
	want: []want{
		{"B.moment", absent("without a region")}, {"B.shear", absent("without a region")}, {"B.tension", absent("without a region")}, {"B.compression", absent("without a region")},
		{"B/0.reaction", absent("without a region")}, {"B/0.bearing_stress", absent("without a region")},
		{"B/0.reaction_service", 6000}, {"B/0.uplift", 0}, {"B.total_load", 12000}, {"B.deflection_ratio", 5.0 * 3 * 4000 * 4000 * 4000 / (384 * 11000 * 100 * 200 * 200 * 200 / 12)},
	},
}, {
	what:     "an allowable combination serves for strength and in use",
	document: four("4000", `{"on": "W1", "bearing": 100}, {"on": "W2"}`, full), combinations: []string{"allowable 1 dead + 1 imposed"},
	want: []want{{"B/0.reaction", 6000}, {"B/0.reaction_service", 6000}, {"B.moment", 6e6}, {"B.total_load", 12000}},
}, {
	what: "an overhang: each stretch carries its imposed load or not",
	// 5 m, the second wall at 4 m. Dead 0.1: R0 = 0.1 (4000 * 2000 - 1000 * 500) / 4000 = 187.5, R1 = 312.5. Imposed 2 on the
	// span: 4000 each; on the overhang: R1 = 2000 * 4500 / 4000 = 2250, R0 = -250.
	// Up at W1: 1.5 * 250 - 0.9 * 187.5 = 206.25 at the limit, 250 - 187.5 = 62.5 in use.
	document: four("5000", `{"on": "W1", "bearing": 100, "capacity": {"down": 10, "up": 0.5, "basis": "design"}}, {"on": "W2", "capacity": {"down": 10, "up": 0.5, "along": 2, "basis": "safe working"}}`,
		`{"action": "dead", "line": 0.1}, {"action": "imposed", "line": 2}`),
	combinations: limitStates,
	want: []want{
		{"B/0.reaction", 1.35*187.5 + 6000}, {"B/1.reaction", 1.35*312.5 + 1.5*6250}, {"B/0.reaction_service", 4187.5}, {"B/1.reaction_service", 6562.5},
		{"B/0.uplift", 206.25}, {"B/1.uplift", 0}, {"B/0.uplift_taken", 500}, {"B/0.uplift_ratio", 0.4125}, {"B/1.uplift_ratio", 0},
		{"B/0.capacity_ratio", (1.35*187.5 + 6000) / 10000}, {"B/1.capacity_ratio", 0.65625}, {"B/0.capacity_down", 10000}, {"B/1.capacity_along", 2000},
		{"B/0.capacity_along", absent("does not say")}, {"B/0.capacity_basis", "design"}, {"B/1.capacity_basis", "safe working"},
		{"B.total_load", 10500}, {"B.line_load", 2.1},
		// Over W2: dead 0.1 * 1000^2 / 2 = 5e4, imposed 1e6. In the span: dead M(x) = 187.5 x - 0.05 x^2, imposed 4000 x - x^2:
		// together 6253.125 x - 1.5675 x^2, largest at x = 1994.6: 6253.125^2 / (4 * 1.5675).
		{"B.moment", 6253.125 * 6253.125 / (4 * 1.5675)},
	},
}, {
	what: "the same in use: the pull by the safe working load",
	document: four("5000", `{"on": "W1", "capacity": {"up": 0.5, "basis": "safe working"}}, {"on": "W2", "capacity": {"down": 1, "up": 1, "basis": "characteristic"}}`,
		`{"action": "dead", "line": 0.1}, {"action": "imposed", "line": 2}`),
	combinations: limitStates,
	want:         []want{{"B/0.uplift_ratio", 0.125}, {"B/0.capacity_ratio", absent("no capacity")}, {"B/1.uplift_ratio", absent("characteristic capacity")}, {"B/1.capacity_ratio", absent("characteristic capacity")}},
}, {
	what: "a design capacity is not held against loads without factors",
	document: four("5000", `{"on": "W1", "capacity": {"down": 5, "up": 0.5, "basis": "design"}}, {"on": "W2", "capacity": {"down": 5, "up": 0.5}}`,
		`{"action": "dead", "line": 0.1}, {"action": "imposed", "line": 2}`),
	want: []want{
		{"B/0.uplift", 62.5}, {"B/0.uplift_ratio", absent("without a region")}, {"B/0.capacity_ratio", absent("without a region")},
		{"B/1.uplift_ratio", absent("no basis")}, {"B/1.capacity_ratio", absent("no basis")}, {"B/1.capacity_basis", absent("does not say")},
	},
}, {
	what:     "load on an overhang alone: what is lifted at one end is not lost from the sum",
	document: four("5000", `{"on": "W1"}, {"on": "W2"}`, `{"action": "imposed", "line": 2, "from": 4000}`), combinations: []string{"strength 1.5 imposed", "characteristic 1 imposed"},
	want: []want{{"B.total_load", 2000}, {"B/0.uplift", 375}, {"B/1.reaction_service", 2250}, {"B/0.reaction_service", 0}, {"B.moment", 1.5e6}, {"B.shear", 3000}},
}, {
	what:     "what cannot be solved has no figures",
	document: four("4000", `{"on": "W1", "capacity": {"down": 1, "up": 1, "basis": "design"}}`, full), combinations: limitStates,
	want: []want{
		{"B.moment", absent("could not be worked out")}, {"B.shear", absent("could not be worked out")}, {"B.tension", absent("could not be worked out")},
		{"B.compression", absent("could not be worked out")}, {"B.deflection", absent("could not be worked out")}, {"B.deflection_ratio", absent("could not be worked out")},
		{"B.total_load", absent("could not be worked out")}, {"B.line_load", absent("could not be worked out")}, {"B.thrust", absent("could not be worked out")},
		{"B.roller_movement", absent("could not be worked out")}, {"B/0.reaction", absent("could not be worked out")}, {"B/0.reaction_service", absent("could not be worked out")},
		{"B/0.uplift", absent("could not be worked out")}, {"B/0.push", absent("could not be worked out")}, {"B/0.bearing_stress", absent("")},
		{"B/0.capacity_ratio", absent("could not be worked out")}, {"B/0.uplift_ratio", absent("could not be worked out")}, {"B/0.new_load", absent("nothing stood before")},
		{"frame.unresolved", 12000},
	},
}, {
	what:     "a deflection needs a stiffness",
	document: frameOf(leaves + `, "B": {"role": "beam", "section": "100x200", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [` + full + `]}`), combinations: limitStates,
	want: []want{{"B.deflection", absent("stiffness is not known")}, {"B.deflection_ratio", absent("stiffness is not known")}, {"B.moment", 8.7e6}},
}, {
	what: "a rafter under suction: its foot alone holds the level part",
	// 0.5 kN/m2 on a strip of 600 over 5 m square to the slope: 1500 N, of which 1500 * 0.6 = 900 level, held at the foot.
	// Upwards 1200: by moments about the foot 937.5 at the head and 262.5 at the foot.
	// Along the slope the foot's level 900 * 0.8 pulls down the slope and its upright pull 262.5 * 0.6 as well: the rafter is
	// in ... N just above the foot = 900 * 0.8 - 262.5 * 0.6 = 562.5 along, the head's 937.5 * 0.6 = 562.5 against it.
	document: `{"framing": 1, "self_weight": false, "areas": {"roof": {"kind": "roof", "wind": -0.5}}, "members": {
	"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 3000], [4000, 500, 3000]]},
	"R": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "carries": [{"area": "roof", "width": 600}], "supports": [{"on": "W1"}, {"on": "W2"}]}}}`,
	combinations: []string{"strength 1.5 wind", "characteristic 1 wind"},
	want: []want{
		{"R/0.push", 1350}, {"R/1.push", 0}, {"R/0.uplift", 1.5 * 262.5}, {"R/1.uplift", 1.5 * 937.5}, {"R/0.push_taken", false}, {"R.thrust", 1350}, {"R.thrust_taken", false},
		{"R.compression", 1.5 * 562.5}, {"R.tension", 0}, {"R.moment", 1.5 * 937500}, {"R.total_load", 0},
	},
}, {
	what: "a strut that leans under a purlin: its head pushes as much as its foot",
	// 2 N/mm on two spans of 2 m: 10/8 * 2 * 2000 = 5000 N on the strut, which leans 1500 over 3000: 2500 level at either end.
	document:     leaning(`{"kind": "lateral", "to": "P"}`),
	combinations: limitStates,
	want: []want{{"S.head_push", 1.35 * 2500}, {"S.head_push_taken", true}, {"P.head_push_taken", false}, {"P.head_push", 0}, {"S/0.push", 1.35 * 2500}, {"P/0.push", 0},
		{"S.head_push_capacity", absent("is not stated")}, {"S.head_push_ratio", absent("is not stated")}, {"P.head_push_capacity", absent("no strap")}},
}, {
	what:         "a strap of stated capacity in use, and a second without",
	document:     leaning(`{"kind": "lateral", "to": "P", "at": 3300, "capacity": {"along": 4, "basis": "safe working"}}, {"kind": "lateral", "to": "P"}`),
	combinations: limitStates,
	want:         []want{{"S.head_push_capacity", 4000}, {"S.head_push_ratio", 2500.0 / 4000}},
}, {
	what:         "two that hold together at the limit",
	document:     leaning(`{"kind": "lateral", "to": "P", "capacity": {"along": 1, "basis": "design"}}, {"kind": "lateral", "to": "P", "capacity": {"along": 2, "basis": "design"}}`),
	combinations: limitStates,
	want:         []want{{"S.head_push_capacity", 3000}, {"S.head_push_ratio", 1.35 * 2500 / 3000}},
}, {
	what:         "of two bases",
	document:     leaning(`{"kind": "lateral", "to": "P", "capacity": {"along": 1, "basis": "design"}}, {"kind": "lateral", "to": "P", "capacity": {"along": 2, "basis": "safe working"}}`),
	combinations: limitStates,
	want:         []want{{"S.head_push_ratio", absent("more than one basis")}},
}, {
	what:         "of no basis",
	document:     leaning(`{"kind": "lateral", "to": "P", "capacity": {"along": 4}}`),
	combinations: limitStates,
	want:         []want{{"S.head_push_ratio", absent("no basis")}},
}, {
	what:         "a strap at its foot holds no head, and one for design no load without factors",
	document:     leaning(`{"kind": "lateral", "to": "F", "at": 100, "capacity": {"along": 4, "basis": "design"}}`),
	combinations: limitStates,
	want:         []want{{"S.head_push_taken", false}, {"S.head_push_capacity", absent("no strap")}},
}, {
	what:     "a design capacity without a region",
	document: leaning(`{"kind": "lateral", "to": "P", "capacity": {"along": 4, "basis": "design"}}`),
	want:     []want{{"S.head_push_ratio", absent("without a region")}},
}, {
	what: "two winds that push against each other: neither may be counted on",
	document: `{"framing": 1, "self_weight": false, "areas": {"roof": {"kind": "roof", "wind": {"west": -0.5, "east": 0.5}}}, "members": {
	"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 3000], [4000, 500, 3000]]},
	"R": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "carries": [{"area": "roof", "width": 600}], "supports": [{"on": "W1", "holds": "horizontal", "capacity": {"along": 1, "basis": "safe working"}}, {"on": "W2"}]},
	"Q": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 100, 0], [4000, 100, 3000]], "carries": [{"area": "roof", "width": 600}], "supports": [{"on": "W1", "capacity": {"along": 1, "basis": "design"}}, {"on": "W2"}]}}}`,
	combinations: []string{"strength 1.5 wind:west + 1.5 wind:east", "characteristic 1 wind:west + 1 wind:east"},
	want:         []want{{"R/0.push_ratio", 0.9}, {"Q/0.push_ratio", 1.35}, {"R/1.push_ratio", absent("no capacity along is stated")}, {"R/0.push", 1350}, {"R.thrust", 1350}, {"R/0.push_taken", true}, {"R.thrust_taken", true}, {"R/0.holds_horizontal", true}, {"R/1.holds_horizontal", false}},
}, {
	what: "a cranked beam whose far end slides",
	// Legs of 2.5 m up and down a 3-4-5 slope, 2 kN at the apex: 1000 N at each foot, M = 1000 * 2000 at the apex; along each
	// leg 1000 * 0.6 of compression, across it 1000 * 0.8. By virtual work with a unit pull outwards at the foot
	// (m = 0.6 s, n = 0.8): 2000 * 0.48 * 2500^3 / (3 E I) - 2000 * 0.48 * 2500 / (E A), with E A = 2.2e8.
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 0], [4000, 500, 0]]},
	"K": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 0], [2000, 0, 1500], [4000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 2, "at": 2500}]},
	"H": {"role": "beam", "section": "100x200", "grade": "C24", "thrust": true, "path": [[0, 100, 0], [2000, 100, 1500], [4000, 100, 0]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 2, "at": 2500}]}`),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"K.kink_moment", 2.7e6}, {"K.kink_axial", -810}, {"K.kink_shear", 1080}, {"K.roller_movement", 960*15.625e9/(3*7.333333333333e11) - 960*2500/2.2e8},
		{"K.compression", 810}, {"H.roller_movement", 0}, {"H/0.push_taken", false}, {"K/0.push", 0},
	},
}, {
	what: "a crank whose legs slope differently is joined for the larger force of either",
	// A leg up the 3-4-5 slope and a level one, 2 kN at the bend: 1000 N at each foot, M = 2000 * 1000. Up the leg 600 N of
	// compression and 800 N across it; along the level one nothing and 1000 N across. At 1.35.
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 1500], [4000, 500, 1500]]},
	"K": {"role": "beam", "section": "100x200", "path": [[0, 0, 0], [2000, 0, 1500], [4000, 0, 1500]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 2, "at": 2500}]}`),
	combinations: []string{"strength 1.35 dead"},
	want:         []want{{"K.kink_moment", 2.7e6}, {"K.kink_axial", -810}, {"K.kink_shear", 1350}},
}, {
	what: "a crank without combinations for strength has no moment that could be passed",
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[4000, -500, 0], [4000, 500, 0]]},
	"K": {"role": "beam", "section": "100x200", "path": [[0, 0, 0], [2000, 0, 1500], [4000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}], "loads": [{"action": "dead", "point": 2, "at": 2500}]}`),
	want: []want{{"K.kink_moment", absent("without a region")}, {"K.kink_axial", absent("without a region")}, {"K.kink_shear", absent("without a region")}, {"K.roller_movement", absent("stiffness is not known")}},
}}

// couple is two rafters that rise 3 over 4 and lean on each other over 8 m, 1 N/mm dead along each: 5000 N on either foot. By
// moments about the head the tie at the feet takes (5000 * 4000 - 5000 * 2000) / 3000 = 3333.33 N.
func couple(first, second, more string) string {
	return frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]},
	"CJ": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, 0, 0], [8000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"HC": {"role": "collar", "section": "47x147", "grade": "C24", "path": [[2000, 0, 1500], [6000, 0, 1500]]},
	"R1": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1"}, {"against": "R2"}], "loads": [{"action": "dead", "line": 1}]` + first + `},
	"R2": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W2"}, {"against": "R1"}], "loads": [{"action": "dead", "line": 1}]` + second + `}` + more)
}

var coupleTables = []table{{
	what: "couples that lean on each other across boards: one that they hold up, one that lies on gable walls",
	// 150 over the cosine 4/5 is 187.5; the second couple is 180 deep on one side: 225. Nothing is cut against the board of the far gable.
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -900, 0], [0, 9900, 0]]}, "W2": {"role": "wall", "ground": true, "path": [[8000, -900, 0], [8000, 9900, 0]]},
	"G1": {"role": "wall", "ground": true, "path": [[3900, 4000, 2900], [4100, 4000, 2900]]}, "G2": {"role": "wall", "ground": true, "path": [[3900, 6000, 2900], [4100, 6000, 2900]]},
	"L1": {"role": "rafter", "section": "50x150", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1"}, {"against": "M1"}]},
	"M1": {"role": "rafter", "section": "50x150", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W2"}, {"against": "L1"}]},
	"L2": {"role": "rafter", "section": "50x150", "path": [[0, 5000, 0], [4000, 5000, 3000]], "supports": [{"on": "W1"}, {"against": "M2"}]},
	"M2": {"role": "rafter", "section": "50x180", "path": [[8000, 5000, 0], [4000, 5000, 3000]], "supports": [{"on": "W2"}, {"against": "L2"}]},
	"B1": {"role": "ridge board", "section": "38x150", "path": [[4000, -200, 3000], [4000, 800, 3000]]},
	"B2": {"role": "ridge board", "section": "38x150", "path": [[4000, 4000, 3000], [4000, 6000, 3000]], "supports": [{"on": "G1"}, {"on": "G2"}]},
	"B3": {"role": "ridge board", "section": "38x150", "path": [[4000, 8000, 3000], [4000, 9000, 3000]]}`),
	want: []want{
		{"B1.deepest_plumb_cut", 187.5}, {"B2.deepest_plumb_cut", 225}, {"B3.deepest_plumb_cut", absent("no rafter")}, {"L1.deepest_plumb_cut", absent("no rafter")},
	},
}, {
	what:         "a couple that one rafter names the tie of",
	document:     couple(`, "tied_by": [{"on": "CJ", "capacity": {"along": 6, "basis": "safe working"}}]`, "", ""),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"R1.leans", true}, {"R1.is_tied", true}, {"R2.is_tied", false}, {"R1.is_propped", false}, {"R1.tie_force", 4500}, {"R2.tie_force", 4500},
		{"R1.tie_capacity", 6000}, {"R1.tie_ratio", 3333.3333333333 / 6000}, {"R1.tie_rise_ratio", 0}, {"R1.thrust", 0}, {"CJ.tension", 4500}, {"CJ.serves_nothing", false},
		{"R1.supports_found", 2}, {"R1/1.is_seated", false}, {"R1/0.is_seated", true}, {"R1.total_load", 5000}, {"CJ.leans", false}, {"CJ.tie_force", absent("no rafter of a couple")},
		{"CJ.tie_ratio", absent("nothing ties it")}, {"CJ.tie_rise_ratio", absent("no rafter of a couple")}, {"HC.supports_found", 0},
	},
}, {
	what: "two laps: the tie force is that of the worse tie, the capacity the lesser",
	// Tied at the feet and half-way up; the two share the thrust. The capacities are 6 and 4 kN.
	document: couple(`, "tied_by": [{"on": "CJ", "capacity": {"along": 6, "basis": "design"}}, {"on": "HC", "capacity": {"along": 4, "basis": "design"}}]`, `, "tied_by": ["CJ", "HC"]`, ""),
	want:     []want{{"R1.tie_capacity", 4000}, {"R2.tie_capacity", absent("no stated capacity")}, {"R1.tie_ratio", absent("without a region")}, {"R2.tie_ratio", absent("no stated capacity")}, {"R1.tie_rise_ratio", 0}},
}, {
	what: "a collar alone, half-way up",
	// By moments about the head: 3333.33 at twice the rise below it becomes 6666.67 at half.
	document:     couple(`, "tied_by": [{"on": "HC", "capacity": {"along": 5, "basis": "design"}}]`, `, "tied_by": [{"on": "HC", "capacity": {"along": 9}}]`, ""),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{{"R1.tie_force", 9000}, {"R1.tie_rise_ratio", 0.5}, {"R1.tie_ratio", 1.8}, {"R2.tie_ratio", absent("no basis")}, {"HC/0.bearing", absent("implied")}, {"HC/0.by", absent("implied")},
		{"HC/0.names", absent("implied")}, {"HC/0.index", absent("implied")}, {"HC/0.is_seated", false}},
}, {
	what:     "a tie that does not stand holds nothing",
	document: couple(`, "tied_by": [{"on": "GONE", "capacity": {"along": 6, "basis": "safe working"}}]`, "", ""), combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{{"R1.tie_ratio", absent("")}, {"R1.tie_force", absent("")}, {"R1.names_nothing", "GONE"}, {"R1.is_tied", true}},
}, {
	what: "heads on a beam and on a board",
	document: frameOf(`"W1": {"role": "wall", "ground": true, "path": [[0, -900, 0], [0, 900, 0]]}, "WB": {"role": "wall", "ground": true, "path": [[4000, -900, 3000], [4000, -500, 3000]]},
	"BD": {"role": "ridge board", "section": "38x225", "path": [[4000, -450, 3000], [4000, 900, 3000]]},
	"RB": {"role": "rafter", "section": "50x150", "path": [[0, -700, 0], [4000, -700, 3000]], "supports": [{"on": "W1"}, {"on": "WB"}]},
	"RD": {"role": "rafter", "section": "50x150", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1"}, {"on": "BD"}]},
	"HB": {"role": "hip rafter", "section": "50x150", "path": [[0, -600, 0], [4000, -600, 3000]], "supports": [{"on": "W1"}, {"on": "WB"}], "loads": [{"action": "dead", "line": 1}]},
	"HD": {"role": "hip rafter", "section": "50x150", "path": [[0, 100, 0], [4000, 100, 3000]], "supports": [{"on": "W1"}, {"on": "BD"}], "loads": [{"action": "dead", "line": 1}],
		"tied_by": [{"on": "AT", "capacity": {"along": 8}}], "straps": [{"kind": "lateral", "capacity": {"along": 5}}]},
	"HE": {"role": "hip rafter", "section": "50x150", "path": [[0, 150, 0], [4000, 150, 3000]], "supports": [{"on": "W1"}, {"on": "BD"}], "loads": [{"action": "dead", "line": 1}],
		"tied_by": [{"on": "AT", "capacity": {"along": 4, "basis": "safe working"}}], "straps": [{"kind": "lateral", "capacity": {"along": 5, "basis": "design"}}]},
	"WM": {"role": "wall", "ground": true, "path": [[2400, 250, 1800], [2400, 350, 1800]]},
	"HM": {"role": "hip rafter", "section": "50x150", "path": [[0, 300, 0], [4000, 300, 3000]], "supports": [{"on": "W1"}, {"on": "WM"}]},
	"HF": {"role": "hip rafter", "section": "50x150", "path": [[0, 200, 0], [4000, 200, 3000]], "supports": [{"on": "W1"}], "tied_by": [{"on": "AT", "capacity": {"along": 8}}]},
	"AT": {"role": "tie", "length": 500, "ground": true}`),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"RB.leans", false}, {"RB.is_propped", true}, {"RD.leans", true}, {"RD.is_propped", false}, {"HB.hip_head_held", true}, {"HD.hip_head_held", false},
		// HM is propped three fifths of its way up, 2 m short of its head.
		{"HM.hip_head_held", absent("no support at its head")}, {"HM.foot_thrust", absent("no support at its head")}, {"HM.is_propped", true},
		{"HF.hip_head_held", absent("no support at its head")}, {"HF.is_propped", false},
		// The head's 2500 N times run over rise, 4 / 3, at 1.35: 0.9 of HE's 5 kN. At 1 it is 3333 N, less of the 4 kN.
		{"HD.foot_thrust", 4500}, {"HB.foot_thrust", absent("its head is held up")}, {"RB.foot_thrust", absent("no hip")}, {"HF.foot_thrust", absent("")},
		{"HD.corner_tie_capacity", 5000}, {"HD.corner_tie_ratio", absent("no basis")}, {"HE.corner_tie_ratio", 4500.0 / 5000}, {"HE.corner_tie_capacity", 4000}, {"HB.corner_tie_ratio", absent("no angle tie")}, {"HF.corner_tie_capacity", absent("no corner joint")},
		{"BD.deepest_plumb_cut", 187.5}, {"RD.deepest_plumb_cut", absent("no rafter")}, {"W1.deepest_plumb_cut", 187.5},
	},
}}
