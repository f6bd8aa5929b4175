package facts_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Loads that may stand anywhere: elementary beams of 100x200 C24, E I = 7.3333e11 N mm2, worked beside each table.

var movingStates = []string{"strength 1.35 dead", "strength 1.35 dead + 1.5 imposed", "strength 1.35 dead + 1.5 moving", "stability 0.9 dead + 1.5 moving",
	"characteristic 1 dead + 1 imposed", "characteristic 1 dead + 1 moving"}

// walls hold a beam by hangers whose capacity is stated.
const hung = `{"on": "W1", "bearing": 50, "by": "hanger", "capacity": {"down": 4, "basis": "design"}}, {"on": "W2", "bearing": 50, "capacity": {"down": 4, "basis": "safe working"}}`

// alone is a beam over 4 m with more to say of it.
func alone(length, supports, loads, more string) string {
	return frameOf(leaves + `, "B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[1000, 0, 100], [1000, ` + length + `, 100]],
	"supports": [` + supports + `], "loads": [` + loads + `]` + more + `}`)
}

const rigid = 11000.0 * 100 * 200 * 200 * 200 / 12

var movingTables = []table{{
	what: "a person in place of the imposed load governs what hangers are held against",
	// Dead 0.5 and imposed 0.3 N/mm over 4 m, 2 kN anywhere. With the person: M = 1.35 * 0.5 * 4^2 / 8 + 1.5 * 2 * 4 / 4 = 4.35 kNm,
	// R = V = 1.35 * 1 + 1.5 * 2 = 4.35 kN beside a support, 3 kN in use; with the imposed load 2.25 and 1.6 kN. All on it:
	// 2 + 2 kN. w = 5 * 0.5 * 4000^4 / (384 E I) + 2000 * 4000^3 / (48 E I).
	document:     alone("4000", hung, `{"action": "dead", "line": 0.5}, {"action": "imposed", "line": 0.3}`, `, "movable_load": 2`),
	combinations: movingStates,
	want: []want{
		{"B.moment", 4.35e6}, {"B.shear", 4350}, {"B/0.reaction", 4350}, {"B/1.reaction", 4350}, {"B/0.reaction_service", 3000}, {"B/0.capacity_ratio", 4.35 / 4}, {"B/1.capacity_ratio", 3.0 / 4},
		{"B/0.bearing_stress", 4350.0 / 50 / 100}, {"B.total_load", 4000}, {"B.line_load", 1},
		{"B.deflection", 5*0.5*4000*4000*4000*4000/384/rigid + 2000*4000*4000*4000/48/rigid},
		{"B.not_passed_on", "the person that may stand anywhere on it is judged in the member and at its supports, and passed on to nothing further"}, {"W1.not_passed_on", ""}, {"B.left_out", ""},
	},
}, {
	what: "the point load of an area that it carries",
	document: `{"framing": 1, "self_weight": false, "areas": {"floor": {"kind": "floor", "dead": 1, "imposed": 0.75, "point_load": 2}}, "members": {` + leaves + `,
		"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[1000, 0, 100], [1000, 4000, 100]], "carries": [{"area": "floor", "width": 400}], "supports": [` + hung + `]}}}`,
	combinations: movingStates,
	// Dead 0.4 N/mm: 1.35 * 0.8 + 3 kN; M = 1.35 * 0.8 + 3.
	want: []want{{"B.moment", 4.08e6}, {"B/0.capacity_ratio", 4.08 / 4}, {"B/1.capacity_ratio", 2.8 / 4}, {"B.not_passed_on", ""}},
}, {
	what: "a load of its own that may stand anywhere acts with the imposed load of its case",
	// M = 1.35 * 1 + 1.5 (0.6 + 2) kNm, R = 1.35 * 1 + 1.5 (0.6 + 2).
	document:     alone("4000", hung, `{"action": "dead", "line": 0.5}, {"action": "imposed", "line": 0.3}, {"action": "imposed", "point": 2, "movable": true}`, ""),
	combinations: movingStates,
	want: []want{
		{"B.moment", 5.25e6}, {"B/0.reaction", 5250}, {"B/1.capacity_ratio", 3.6 / 4},
		{"B.not_passed_on", "its load of imposed that may stand anywhere is judged in the member and at its supports, and passed on to nothing further"},
	},
}, {
	what:     "the same without a region",
	document: alone("4000", hung, `{"action": "dead", "line": 0.5}, {"action": "imposed", "line": 0.3}, {"action": "imposed", "point": 2, "movable": true}`, `, "movable_load": 9`),
	want:     []want{{"B/1.capacity_ratio", 10.0 / 4}, {"B/0.reaction_service", 10000}},
}, {
	what: "a person at the tip of an overhang lifts the far end",
	// 4 m and 1 m beyond, dead 0.1: R0 = 187.5, R1 = 312.5. 2 kN at the tip: R0 = -500, R1 = 2500. In the span
	// 1.35 (187.5 x - 0.05 x2) + 3000 x (4000 - x) / 4000 = 3253.125 x - 0.8175 x2 is largest, more than the 3 kNm at the root.
	document:     alone("5000", `{"on": "W1", "capacity": {"up": 0.5, "basis": "design"}}, {"on": "W2"}`, `{"action": "dead", "line": 0.1}`, `, "movable_load": 2`),
	combinations: movingStates,
	want: []want{
		{"B/0.uplift", 750 - 0.9*187.5}, {"B/0.uplift_ratio", (750 - 0.9*187.5) / 500}, {"B/1.reaction", 1.35*312.5 + 3750},
		{"B.moment", 3253.125 * 3253.125 / 4 / 0.8175},
	},
}, {
	what: "one that may stand anywhere on a post, or on what lies along its support, comes down in full and is judged nowhere inside",
	document: frameOf(leaves + `, "P": {"role": "post", "section": "100x100", "grade": "C24", "path": [[1000, 0, 0], [1000, 0, 2400]], "movable_load": 2,
		"supports": [{"on": "W1", "capacity": {"down": 4, "basis": "design"}}]},
		"WP": {"role": "wall plate", "section": "100x50", "grade": "C24", "flat": true, "path": [[0, 4000, 25], [3000, 4000, 25]], "movable_load": 2, "supports": [{"on": "W2", "continuous": true}]}`),
	combinations: movingStates,
	want:         []want{{"P/0.capacity_ratio", 3.0 / 4}, {"P.compression", absent("may stand anywhere")}, {"WP.total_load", 2000}},
}, {
	what: "a person on a rafter of a couple draws its tie at the feet",
	// As couple has it: 3333.33 N of dead load. 1 kN at the ridge brings 500 N to the far foot, whose moment about the ridge the
	// tie holds: 500 * 4000 / 3000. One person: on the one rafter or on the other.
	document:     couple(`, "movable_load": 1, "tied_by": [{"on": "CJ", "capacity": {"along": 6, "basis": "safe working"}}]`, `, "movable_load": 1, "tied_by": [{"on": "CJ", "capacity": {"along": 6, "basis": "design"}}]`, ""),
	combinations: movingStates,
	want: []want{
		{"R1.tie_force", 1.35*10000/3 + 1.5*2000/3}, {"R2.tie_force", 1.35*10000/3 + 1.5*2000/3}, {"R1.tie_ratio", (10000.0/3 + 2000.0/3) / 6000}, {"R2.tie_ratio", (1.35*10000/3 + 1.5*2000/3) / 6000},
		{"CJ.tension", 1.35*10000/3 + 1.5*2000/3}, {"CJ.compression", 0}, {"CJ.moment", 0},
	},
}, {
	what:         "and draws a collar half-way up twice as hard, wherever the other rafter has none",
	document:     couple(`, "tied_by": ["HC"]`, `, "movable_load": 1, "tied_by": [{"on": "HC", "capacity": {"along": 6, "basis": "design"}}]`, ""),
	combinations: movingStates,
	want:         []want{{"R1.tie_force", 1.35*20000/3 + 1.5*4000/3}, {"R2.tie_ratio", (1.35*20000/3 + 1.5*4000/3) / 6000}, {"HC.tension", 1.35*20000/3 + 1.5*4000/3}},
}, {
	what:         "a person on the other rafter of a couple presses the one that has none",
	document:     couple(`, "tied_by": ["CJ"]`, `, "movable_load": 1, "tied_by": ["CJ"]`, ""),
	combinations: movingStates,
	// Dead: 5 kN at the foot and 3333.33 N of thrust, N = 3333.33 * 0.8 + 5000 * 0.6 = 5666.67 at the foot. On the ridge 1 kN brings
	// 500 N and 666.67 N: N = 833.33 from end to end, and no bending. The joint at the ridge passes 500 N on, which presses the one
	// head down as it holds the other up.
	want: []want{
		{"R1.compression", 1.35*17000/3 + 1.5*2500/3}, {"R1.moment", 1.35 * 2.5e6}, {"R1/0.reaction", 1.35*5000 + 1.5*500}, {"R1/0.reaction_service", 5500}, {"R1/0.uplift", 0}, {"R1.total_load", 5000},
		{"R1/1.reaction", 750}, {"R2/1.reaction", 750}, {"R1/1.push", 1.35*10000/3 + 1.5*2000/3}, {"R1/1.leans", true}, {"R1/0.leans", false},
		{"R2/0.reaction", 1.35*5000 + 1500}, {"R2.total_load", 6000}, {"R1.not_passed_on", ""},
	},
}, {
	what:         "and with a collar half-way up it bends that one",
	document:     couple(`, "tied_by": ["HC"]`, `, "movable_load": 1, "tied_by": ["HC"]`, ""),
	combinations: movingStates,
	// Dead: 5 kN at the foot, M = 5000 * 2000 - 2500 * 1000 at the collar, above it a thrust of 6666.67 N with 2500 N upright: N =
	// 6666.67 * 0.8 + 2500 * 0.6. On the ridge 1 kN brings 500 N at the foot: M = 500 * 2000, N = 1333.33 * 0.8 + 500 * 0.6.
	want: []want{{"R1.moment", 1.35*7.5e6 + 1.5*1e6}, {"R1.compression", 1.35*20500/3 + 1.5*4100/3}, {"R1/0.reaction", 1.35*5000 + 1.5*500}},
}, {
	what: "of a light person on a rafter and a heavy one on the other, longer, the worse counts for each thing",
	document: couple("", "", `, "W8": {"role": "wall", "ground": true, "path": [[0, 900, 0], [0, 1900, 0]]}, "W9": {"role": "wall", "ground": true, "path": [[8000, 900, 0], [8000, 1900, 0]]},
	"R8": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 1400, 0], [3000, 1400, 3000]], "supports": [{"on": "W8"}, {"against": "R9"}], "tied_by": ["CK"], "loads": [{"action": "dead", "line": 1, "per": "plan"}], "movable_load": 0.2},
	"R9": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, 1400, 0], [3000, 1400, 3000]], "supports": [{"on": "W9"}, {"against": "R8"}], "tied_by": ["CK"], "movable_load": 2},
	"CK": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, 1400, 0], [8000, 1400, 0]], "supports": [{"on": "W8"}, {"on": "W9"}]}`),
	combinations: movingStates,
	// Dead: 3000 N on R8, of which 3000 * 6500 / 8000 = 2437.5 N come down at its own foot and 562.5 at the far one; the thrust is
	// 562.5 * 5000 / 3000 = 937.5. 2 kN on the ridge: 1250 N at the foot of R8 and as much thrust, 2500 / sqrt 2 along it, but no
	// bending, which 200 N halfway make: 200 * 3000 / 4. The joint at the ridge holds R8 up by the 562.5 N of dead load, and presses it
	// down by the 1250 N.
	want: []want{
		{"R8.compression", (1.35*3375 + 1.5*2500) / math.Sqrt2}, {"R8.moment", 1.35*3000*3000/8 + 1.5*150e3}, {"R8/0.reaction", 1.35*2437.5 + 1.5*1250}, {"R9/0.reaction", 1.35*562.5 + 1.5*2000},
		{"R9.moment", 1.5 * 2000 * 5000 / 4}, {"R8/1.reaction", 1.5*1250 - 1.35*562.5}, {"R9/1.reaction", 1.5*1250 - 1.35*562.5}, {"R8.tie_force", 1.35*937.5 + 1.5*1250},
	},
}, {
	what: "loads of its own case that may stand anywhere are on both rafters at once",
	document: couple(`, "tied_by": ["CJ"]`, `, "tied_by": ["CJ"]`, `, "R9": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 400, 0], [4000, 400, 3000]], "supports": [{"on": "W1"}, {"against": "R8"}], "tied_by": ["CK"],
		"loads": [{"action": "imposed", "point": 1, "movable": true}]},
	"R8": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, 400, 0], [4000, 400, 3000]], "supports": [{"on": "W2"}, {"against": "R9"}], "tied_by": ["CK"], "loads": [{"action": "dead", "line": 1}, {"action": "imposed", "point": 2, "movable": true}]},
	"CK": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, 400, 0], [8000, 400, 0]], "supports": [{"on": "W1"}, {"on": "W2"}]}`),
	combinations: movingStates,
	// Dead on R8 alone: half of 3333.33. Imposed 1 and 2 kN at the ridge: 666.67 and 1333.33.
	// Along R9 dead load brings 1666.67 * 0.8 + 1250 * 0.6, and the two on the ridge 833.33 and 1666.67.
	want: []want{{"R9.tie_force", 1.35*5000/3 + 1.5*6000/3}, {"CK.tension", 1.35*5000/3 + 1.5*6000/3}, {"R1.tie_force", 4500}, {"R9.compression", 1.35*6250/3 + 1.5*2500}, {"R9/0.reaction", 1.35*1250 + 1.5*(1000+1000)}},
}, {
	what: "one that comes new onto a rafter of an old couple may come down in full under either",
	document: frameOf(`"W1": {"role": "wall", "phase": "existing", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "W2": {"role": "wall", "phase": "existing", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]},
	"CJ": {"role": "ceiling joist", "phase": "existing", "section": "47x147", "grade": "C24", "path": [[0, 0, 0], [8000, 0, 0]], "supports": [{"on": "W1"}, {"on": "W2"}]},
	"R1": {"role": "rafter", "phase": "existing", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W1"}, {"against": "R2"}], "tied_by": ["CJ"], "loads": [{"action": "dead", "line": 1, "phase": "existing"}]},
	"R2": {"role": "rafter", "phase": "existing", "section": "50x150", "grade": "C24", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W2"}, {"against": "R1"}], "tied_by": ["CJ"], "loads": [{"action": "dead", "line": 1, "phase": "existing"}, {"action": "imposed", "point": 2, "movable": true}]}`),
	combinations: movingStates,
	want:         []want{{"R1/0.new_load", 2000}, {"R2/0.new_load", 2000}, {"R1/0.reaction", 1.35*5000 + 1.5*1000}},
}, {
	what:         "where no combination has a factor for it, what it would govern is unchecked",
	document:     alone("4000", hung, `{"action": "dead", "line": 0.5}`, `, "movable_load": 2`),
	combinations: limitStates,
	want: []want{
		{"B.moment", absent("may stand anywhere")}, {"B.shear", absent("may stand anywhere")}, {"B.deflection", absent("may stand anywhere")}, {"B/0.reaction", absent("may stand anywhere")},
		{"B/0.capacity_ratio", absent("may stand anywhere")}, {"B/1.capacity_ratio", absent("may stand anywhere")},
	},
}, {
	what:         "a tie among it, and the rafter that leans on the one with the person",
	document:     couple(`, "movable_load": 1, "tied_by": [{"on": "CJ", "capacity": {"along": 6, "basis": "safe working"}}]`, `, "tied_by": ["CJ"]`, ""),
	combinations: []string{"strength 1.35 dead", "characteristic 1 dead"},
	want: []want{
		{"R1.tie_force", absent("may stand anywhere")}, {"R2.tie_force", absent("may stand anywhere")}, {"R1.tie_ratio", absent("may stand anywhere")}, {"CJ.tension", absent("may stand anywhere")},
		{"R1.compression", absent("may stand anywhere")}, {"R2.compression", absent("may stand anywhere")}, {"R2/0.reaction", absent("may stand anywhere")}, {"R2.deflection", absent("may stand anywhere")},
	},
}}

// What a region is told of a beam with 0.5 N/mm of dead load over 4 m, a hole 1000 mm along and 2 kN that may stand anywhere: at
// the hole the person's M = 2000 * 1000 * 3000 / 4000 and, beside it, V = 2000 * 3000 / 4000.
func TestRegionIsToldWhatMayStandAnywhere(t *testing.T) {
	f := run(t, alone("4000", hung, `{"action": "dead", "line": 0.5}`, `, "movable_load": 2, "holes": [{"at": 1000, "diameter": 20}]`), movingStates...)
	b := asked(t, f)
	row := rowOfPiece(t, f, b, "B")
	const person, inUse = 2, 5
	var most, atHole, shear float64
	for _, s := range stationsOf(b, row) {
		most = max(most, s.m[person])
		if s.at == 1000 {
			atHole, shear = max(atHole, s.m[person]), max(shear, s.v[person])
		}
	}
	assert.InDelta(t, 4.35e6, most, 1)
	assert.InDelta(t, 1.35*0.5*1000*3000/2+1.5*1.5e6, atHole, 1)
	assert.InDelta(t, 1.35*0.5*1000+1.5*1500, shear, 1e-3)
	assert.InDelta(t, 4350, b.Contacts.Down[int(b.Pieces.ContactStart[row])*len(movingStates)+person], 1e-6)
	sag := 5*0.5*4000*4000*4000*4000/384/rigid + 2000*4000*4000*4000/48/rigid
	assert.InDelta(t, sag, b.Spans.Deflection[int(b.Pieces.SpanStart[row])*len(movingStates)+inUse], 1e-6)
	assert.InDelta(t, 2000*4000*4000*4000/48/rigid, b.Spans.MoveDeflect[b.Pieces.SpanStart[row]], 1e-6)
	assert.InDelta(t, 2e6, b.Spans.MoveMoment[b.Pieces.SpanStart[row]], 1)
	assert.Zero(t, b.Pieces.Movable[row])
}

// A post's foot presses with all that may stand on it, and the region is told that no force inside holds it.
func TestRegionIsToldWhatIsNotMoved(t *testing.T) {
	f := run(t, frameOf(leaves+`, "P": {"role": "post", "section": "100x100", "grade": "C24", "path": [[1000, 0, 0], [1000, 0, 2400]], "movable_load": 2, "supports": [{"on": "W1"}]}`), movingStates...)
	b := asked(t, f)
	row := rowOfPiece(t, f, b, "P")
	assert.InDelta(t, 2000, b.Pieces.Movable[row], 1e-9)
	assert.InDelta(t, 3000, b.Contacts.Down[int(b.Pieces.ContactStart[row])*len(movingStates)+2], 1e-6)
}

// What lands on a beam presses on it as hard as it may: 2 kN anywhere on a joist comes down where the joist lands.
func TestWhatLandsPressesWithWhatMayStandOnIt(t *testing.T) {
	f := run(t, frameOf(leaves+`, "B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[1000, 0, 100], [1000, 4000, 100]], "supports": [{"on": "W1"}, {"on": "W2"}]},
		"W3": {"role": "wall", "ground": true, "path": [[4000, 0, 0], [4000, 4000, 0]]},
		"J": {"role": "floor joist", "section": "47x195", "grade": "C24", "path": [[1000, 2000, 297.5], [4000, 2000, 297.5]], "movable_load": 2, "loads": [{"action": "dead", "line": 0.4}],
			"supports": [{"on": "B", "bearing": 50}, {"on": "W3"}]}`), movingStates...)
	b := asked(t, f)
	row := rowOfPiece(t, f, b, "B")
	for r := b.Pieces.ContactStart[row]; r < b.Pieces.ContactStart[row+1]; r++ {
		if b.Contacts.Landing[r] {
			assert.InDelta(t, 1.35*600+1.5*2000, b.Contacts.Down[int(r)*len(movingStates)+2], 1e-6)
			return
		}
	}
	assert.Fail(t, "nothing lands")
}

// A region is told of a tie what a person on a rafter draws it by, all along, in the combinations that hold a person: as the
// tables have it 1.35 * 3333.33 + 1.5 * 666.67 N.
func TestRegionIsToldWhatDrawsATie(t *testing.T) {
	f := run(t, couple(`, "movable_load": 1, "tied_by": ["CJ"]`, `, "tied_by": ["CJ"]`, ""), movingStates...)
	b := asked(t, f)
	const dead, person = 0, 2
	most := map[float64]float64{}
	for _, s := range stationsOf(b, rowOfPiece(t, f, b, "CJ")) {
		most[s.at] = max(most[s.at], s.n[person])
		assert.InDelta(t, 4500, s.n[dead], 1e-6)
	}
	assert.NotEmpty(t, most)
	for at, n := range most {
		assert.InDelta(t, 4500+1000, n, 1e-6, "at %g", at)
	}
	assert.Zero(t, b.Pieces.Movable[rowOfPiece(t, f, b, "CJ")])
}

// A region is told of a rafter, and of the plate under it, what a person on the other rafter presses them by, as the tables have it:
// 500 N of 1 kN at the foot and 833.33 N along. Plates that differ in that alone are told apart.
func TestRegionIsToldWhatStandsOnTheOtherRafter(t *testing.T) {
	pair := func(n int, person string) string {
		y := 10000 * n
		return fmt.Sprintf(`, "C%[1]d": {"role": "wall", "ground": true, "path": [[0, %[2]d, -50], [0, %[3]d, -50]]}, "D%[1]d": {"role": "wall", "ground": true, "path": [[8000, %[2]d, -50], [8000, %[3]d, -50]]},
		"P%[1]d": {"role": "wall plate", "section": "97x47", "flat": true, "grade": "C24", "path": [[0, %[2]d, -25], [0, %[3]d, -25]], "supports": [{"on": "C%[1]d", "continuous": true}]},
		"A%[1]d": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, %[4]d, 0], [4000, %[4]d, 3000]], "supports": [{"on": "P%[1]d", "bearing": 50}, {"against": "B%[1]d"}], "tied_by": ["T%[1]d"], "loads": [{"action": "dead", "line": 1}]},
		"B%[1]d": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, %[4]d, 0], [4000, %[4]d, 3000]], "supports": [{"on": "D%[1]d"}, {"against": "A%[1]d"}], "tied_by": ["T%[1]d"], "loads": [{"action": "dead", "line": 1}]%[5]s},
		"T%[1]d": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, %[4]d, 0], [8000, %[4]d, 0]], "supports": [{"on": "P%[1]d"}, {"on": "D%[1]d"}]}`, n, y, y+900, y+500, person)
	}
	f := run(t, couple("", "", pair(1, "")+pair(2, `, "movable_load": 1`)+pair(3, "")), movingStates...)
	b := asked(t, f)
	const dead, person = 0, 2
	for n, extra := range map[int]float64{1: 0, 2: 1, 3: 0} {
		row := rowOfPiece(t, f, b, fmt.Sprintf("A%d", n))
		k := int(b.Pieces.ContactStart[row]) * len(movingStates)
		assert.InDelta(t, 1.35*5000, b.Contacts.Down[k+dead], 1e-6)
		assert.InDelta(t, 1.35*5000+1.5*500*extra, b.Contacts.Down[k+person], 1e-6, "foot %d", n)
		least := 0.0
		for _, s := range stationsOf(b, row) {
			least = min(least, s.n[person])
		}
		assert.InDelta(t, -1.35*17000/3-1.5*2500/3*extra, least, 1e-6, "rafter %d", n)
		plate := rowOfPiece(t, f, b, fmt.Sprintf("P%d", n))
		landed := 0.0
		for r := b.Pieces.ContactStart[plate]; r < b.Pieces.ContactStart[plate+1]; r++ {
			if b.Contacts.Landing[r] {
				landed = max(landed, b.Contacts.Down[int(r)*len(movingStates)+person])
			}
		}
		assert.InDelta(t, 1.35*5000+1.5*500*extra, landed, 1e-6, "plate %d", n)
	}
}

// Ties of couples that differ in what may stand on their rafters alone are told apart, and so are the rafters across from those.
func TestTiesAreToldApartByWhatMayStandOnTheirRafters(t *testing.T) {
	pair := func(n, y, more string) string {
		walls := `, "C` + n + `": {"role": "wall", "ground": true, "path": [[0, ` + y + `000, 0], [0, ` + y + `900, 0]]}, "D` + n + `": {"role": "wall", "ground": true, "path": [[8000, ` + y + `000, 0], [8000, ` + y + `900, 0]]}`
		return walls + `, "A` + n + `": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, ` + y + `500, 0], [4000, ` + y + `500, 3000]], "supports": [{"on": "C` + n + `"}, {"against": "B` + n + `"}], "tied_by": ["T` + n + `"], "loads": [{"action": "dead", "line": 1}]` + more + `},
		"B` + n + `": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, ` + y + `500, 0], [4000, ` + y + `500, 3000]], "supports": [{"on": "D` + n + `"}, {"against": "A` + n + `"}], "tied_by": ["T` + n + `"], "loads": [{"action": "dead", "line": 1}]},
		"T` + n + `": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, ` + y + `500, 0], [8000, ` + y + `500, 0]], "supports": [{"on": "C` + n + `"}, {"on": "D` + n + `"}]}`
	}
	f := run(t, couple("", "", pair("1", "1", "")+pair("2", "2", `, "movable_load": 1`)+pair("3", "3", "")), movingStates...)
	hold(t, f, []want{{"T1.tension", 4500}, {"T2.tension", 5500}, {"T3.tension", 4500}, {"B1.tie_force", 4500}, {"B2.tie_force", 5500}, {"B3.tie_force", 4500}})
	hold(t, f, []want{{"B1.compression", 7650}, {"B2.compression", 8900}, {"B3.compression", 7650}})
}
