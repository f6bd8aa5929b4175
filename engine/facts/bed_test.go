package facts_test

// bedTables are members that lie along what carries them, and what comes down on them beside that.
var bedTables = []table{{
	what: "a plate over the gap between two walls",
	// The gap is from 2000 to 4000. R2 stands 500 from its near edge, R3 1200 from one and 800 from the other. Each brings half of 0.5 N/mm over
	// 4 m; of the plate's own 2 N/mm from 3500 to 4500 one half lies over the gap: 2 * 1000 + 2 * 500.
	document: frameOf(`"W1": {"role": "wall", "width": 100, "ground": true, "path": [[0, 0, 0], [2000, 0, 0]]}, "W2": {"role": "wall", "width": 100, "ground": true, "path": [[4000, 0, 0], [6000, 0, 0]]},
	"V": {"role": "wall", "width": 100, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "W1", "continuous": true}, {"on": "W2", "continuous": true}], "loads": [{"action": "dead", "line": 2, "from": 3500, "to": 4500}]},
	"Q": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 4000, 0], [6000, 4000, 0]], "supports": [{"on": "V", "continuous": true}]},
	"R1": {"role": "rafter", "section": "47x147", "path": [[1000, 0, 0], [1000, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "P"}, {"on": "Q"}]},
	"R3": {"role": "rafter", "section": "47x147", "path": [[3200, 0, 0], [3200, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "P"}, {"on": "Q"}]},
	"R2": {"role": "rafter", "section": "47x147", "path": [[2500, 0, 0], [2500, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "P"}, {"on": "Q"}]}`),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"P.off_bed", "R2, R3"}, {"P.off_bed_by", 800}, {"P.off_bed_at", 3200}, {"P.off_bed_load", 3000},
		{"Q.off_bed", ""}, {"Q.off_bed_by", 0}, {"Q.off_bed_at", absent("has its bed under it")}, {"Q.off_bed_load", 0},
		{"R1.off_bed", absent("lies along nothing")}, {"R1.off_bed_by", absent("lies along nothing")}, {"R1.off_bed_at", absent("lies along nothing")}, {"R1.off_bed_load", absent("lies along nothing")},
	},
}, {
	what: "a plate that runs on from a wall to a post, and one bed that is said to be short",
	// The post's bearing is from 2950 to 3050: A stands 450 before it, B over it. Q lies on its wall up to 1000 only, and C stands at 1500.
	document: frameOf(`"W": {"role": "wall", "width": 100, "ground": true, "path": [[0, 0, 0], [2000, 0, 0]]}, "V": {"role": "wall", "width": 100, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]},
	"PO": {"role": "post", "section": "97x97", "ground": true, "path": [[3000, 0, -2000], [3000, 0, 0]]},
	"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 0, 0], [3050, 0, 0]], "supports": [{"on": "W", "continuous": true}, {"on": "PO", "bearing": 100}]},
	"Q": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 4000, 0], [6000, 4000, 0]], "supports": [{"on": "V", "continuous": true, "from": 0, "to": 1000}]},
	"A": {"role": "rafter", "section": "47x147", "path": [[2500, 0, 0], [2500, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "P"}, {"on": "V"}]},
	"B": {"role": "rafter", "section": "47x147", "path": [[3040, 0, 0], [3040, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "P"}, {"on": "V"}]},
	"C": {"role": "rafter", "section": "47x147", "path": [[1500, 0, 0], [1500, 4000, 0]], "loads": [{"action": "dead", "line": 0.5}], "supports": [{"on": "W9"}, {"on": "Q"}]}`),
	want: []want{
		{"P.off_bed", "A"}, {"P.off_bed_by", 450}, {"P.off_bed_at", 2500}, {"P.off_bed_load", 1000},
		{"Q.off_bed", "C"}, {"Q.off_bed_by", 500}, {"Q.off_bed_at", 1500}, {"Q.off_bed_load", absent("what lands on it could not be worked out")},
	},
}, {
	what: "a wall that sticks out past its lintel, with a plate on it that does too",
	// 2 kN/m2 on a height of 1 m: 2 N/mm on the metre past the lintel. The plate on U weighs nothing without a grade and is there all the same.
	document: `{"framing": 1, "members": {"W1": {"role": "pier", "width": 300, "ground": true, "path": [[0, 0, -2000], [0, 0, 0]]}, "W2": {"role": "pier", "width": 300, "ground": true, "path": [[2000, 0, -2000], [2000, 0, 0]]},
	"L": {"role": "lintel", "section": "100x140", "path": [[0, 0, 70], [2000, 0, 70]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"U": {"role": "wall", "width": 100, "height": 1000, "weight": 2, "path": [[0, 0, 1140], [3000, 0, 1140]], "supports": [{"on": "L", "continuous": true}]},
	"M": {"role": "lintel", "section": "100x140", "path": [[0, 0, 70], [2000, 0, 70]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"X": {"role": "wall", "width": 100, "height": 1000, "weight": 2, "path": [[0, 0, 1140], [3000, 0, 1140]], "supports": [{"on": "M", "continuous": true}]},
	"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 0, 1163.5], [3000, 0, 1163.5]], "supports": [{"on": "X", "continuous": true}]}}}`,
	want: []want{
		{"U.off_bed", "its own load"}, {"U.off_bed_by", 1000}, {"U.off_bed_at", 3000}, {"U.off_bed_load", 2000},
		{"X.off_bed", "P"}, {"X.off_bed_by", 1000}, {"X.off_bed_at", 3000}, {"X.off_bed_load", 2000}, {"P.off_bed", ""},
	},
}}
