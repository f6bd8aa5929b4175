package statics_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
)

// weightless is a document of members that weigh nothing.
func weightless(members string) string {
	return `{"framing": 1, "title": "degenerate", "units": "metric", "self_weight": false,
		"areas": {"roof": {"kind": "roof", "wind": 0.5}, "cladding": {"kind": "roof", "pitch": 90, "dead": 0.5}}, "members": {` + members + `}}`
}

// arrived is what came to the ground at a mark, in the cases together.
func arrived(down *statics.TakeDown, mark string) (sum statics.Force) {
	from, _ := down.Frame.PiecesOf(int32(down.Frame.Document.Index(mark)))
	for c := range down.Cases {
		f := down.ArrivedAt(from, c)
		sum.X, sum.Y, sum.Z = sum.X+f.X, sum.Y+f.Y, sum.Z+f.Z
	}
	return sum
}

func unsolved(down *statics.TakeDown, mark string) string {
	from, _ := down.Frame.PiecesOf(int32(down.Frame.Document.Index(mark)))
	return down.Unsolved(from)
}

const twoLengths = `"W1": {"role": "wall", "ground": true, "path": [[0, 0, 0], [1000, 0, 0]]},
	"W2": {"role": "wall", "ground": true, "path": [[2000, 0, 0], [3000, 0, 0]]},
	"S": {"role": "pier", "ground": true, "path": [[3000, 0, -500], [3000, 0, 0]]},`

func plate(supports string) string {
	return twoLengths + `"P": {"role": "wall plate", "path": [[0, 0, 0], [3000, 0, 0]], "loads": [{"action": "dead", "line": 1}], "supports": [` + supports + `]}`
}

func TestLoadBesideABedGoesToTheNearestEdge(t *testing.T) {
	for _, row := range []struct {
		say      string
		supports string
		want     map[string]float64 // kN
	}{
		// 1 kN/m over 3 m: 1 kN on either wall and 1 kN over the gap, by half to either edge.
		{"a gap between two walls", `{"on": "W1", "continuous": true}, {"on": "W2", "continuous": true}`, map[string]float64{"W1": 1.5, "W2": 1.5}},
		{"whichever is written first", `{"on": "W2", "continuous": true}, {"on": "W1", "continuous": true}`, map[string]float64{"W1": 1.5, "W2": 1.5}},
		// 1 kN on the wall; of the 2 m from there to the pier the nearer half to each.
		{"a wall, and a pier 2 m on", `{"on": "W1", "continuous": true}, {"on": "S"}`, map[string]float64{"W1": 2, "S": 1}},
		{"one wall alone takes all", `{"on": "W2", "continuous": true}`, map[string]float64{"W2": 3}},
	} {
		t.Run(row.say, func(t *testing.T) {
			down := run(t, weightless(plate(row.supports)))
			for _, mark := range []string{"W1", "W2", "S"} {
				assert.InDelta(t, 1e3*row.want[mark], -arrived(down, mark).Z, 1e-9, mark)
			}
		})
	}
}

// A plate without a path lies somewhere along the beam: what the beam's ends take of it, nobody can say.
func TestALoadAtNoPlaceStops(t *testing.T) {
	down := run(t, weightless(`"P": {"role": "wall plate", "length": 3000, "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "B", "continuous": true}]},
		"B": {"role": "beam", "path": [[0, 0, 0], [6000, 0, 0]], "supports": [{"on": "A"}, {"on": "C"}]},
		"A": {"role": "pier", "ground": true, "path": [[0, 0, -500], [0, 0, 0]]}, "C": {"role": "pier", "ground": true, "path": [[6000, 0, -500], [6000, 0, 0]]}`))
	assert.Contains(t, unsolved(down, "B"), "at a place that neither a path nor the document tells")
	assert.InDelta(t, -3000, down.Unresolved[0].Z, 1e-9)
}

// 0.5 kN/m2 square to a slope 5 m long (3-4-5) on a strip of 1 m: 2500 N, of which 0.6 is level: 1500 N along x. The lower
// end holds that, on a plate that runs all round the walls.
func TestARingIsPushedWhereItLies(t *testing.T) {
	ring := `[[0, -2000, 0], [9000, -2000, 0], [9000, 2000, 0], [0, 2000, 0], [0, -2000, 0]]`
	rafter := `"R": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "carries": [{"area": "roof", "width": 1000}], "supports": [{"on": "P", "at": 0}, {"on": "H"}]},
		"H": {"role": "wall", "ground": true, "path": [[4000, -500, 3000], [4000, 500, 3000]]},`
	down := run(t, weightless(rafter+`"P": {"role": "wall plate", "path": `+ring+`, "supports": [{"on": "W", "continuous": true}]},
		"W": {"role": "wall", "ground": true, "path": `+ring+`}`))
	assert.Empty(t, unsolved(down, "P"))
	assert.InDelta(t, 1500, arrived(down, "W").X, 1e-9)

	down = run(t, weightless(rafter+`"P": {"role": "beam", "path": `+ring+`, "supports": [{"on": "W", "at": 0}, {"on": "W", "at": 13000}]},
		"W": {"role": "wall", "ground": true, "path": `+ring+`}`))
	assert.Contains(t, unsolved(down, "P"), "has no plane")
}

// Two rafters of 5 m (3-4-5) with 1 kN/m along the slope, 5 kN each, and no tie. Moments about the head of one:
// 5 * 4 - 5 * 2 - 3 H = 0, H = 10/3 kN outwards on either wall; by length and pitch alone too.
func TestACouplePushesApartWhereverItIs(t *testing.T) {
	for say, where := range map[string][2]string{
		"placed":                     {`"path": [[0, 0, 0], [4000, 0, 3000]]`, `"path": [[8000, 0, 0], [4000, 0, 3000]]`},
		"one drawn from its head":    {`"path": [[4000, 0, 3000], [0, 0, 0]]`, `"path": [[8000, 0, 0], [4000, 0, 3000]]`},
		"by length and pitch":        {`"length": 5000, "pitch": 36.86989764584402`, `"length": 5000, "pitch": 36.86989764584402`},
		"one by length, one by path": {`"length": 5000, "pitch": 36.86989764584402`, `"path": [[8000, 0, 0], [4000, 0, 3000]]`},
	} {
		t.Run(say, func(t *testing.T) {
			down := run(t, weightless(`"L": {"role": "rafter", `+where[0]+`, "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "WL"}, {"against": "R"}]},
				"R": {"role": "rafter", `+where[1]+`, "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "WR"}, {"against": "L"}]},
				"WL": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "WR": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]}`))
			l, r := arrived(down, "WL"), arrived(down, "WR")
			assert.InDelta(t, -5000, l.Z, 1e-6)
			assert.InDelta(t, 10000.0/3, -l.X, 1e-6)
			assert.InDelta(t, 10000.0/3, r.X, 1e-6)
		})
	}
}

// A jack along y lands at mid-height of a rafter of a couple and is blown along y: 0.5 kN/m2 on a strip of 1 m and a slope
// of 5 m, 1500 N level. The couple is stiff in its own plane alone; the rafter's foot holds that push.
func TestAFootHoldsWhatPushesItsRafterAside(t *testing.T) {
	down := run(t, weightless(`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WL"}, {"against": "R"}]},
		"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "WR"}, {"against": "L"}]},
		"J": {"role": "jack rafter", "path": [[2000, 0, 1500], [2000, 4000, 4500]], "carries": [{"area": "roof", "width": 1000}], "supports": [{"on": "L"}, {"on": "H"}]},
		"H": {"role": "wall", "ground": true, "path": [[0, 4000, 4500], [4000, 4000, 4500]]},
		"WL": {"role": "wall", "ground": true, "path": [[0, -500, 0], [0, 500, 0]]}, "WR": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]}`))
	assert.InDelta(t, 1500, arrived(down, "WL").Y, 1e-9)
	assert.InDelta(t, 0, arrived(down, "WR").Y, 1e-9)
}

// A rafter of a couple that lies along a wall leans on nobody: the wall takes it where it lies.
func TestARafterThatLiesAlongAWallIsNoHalfOfACouple(t *testing.T) {
	down := run(t, weightless(`"L": {"role": "rafter", "path": [[0, 0, 0], [4000, 0, 3000]], "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "G", "continuous": true}, {"against": "R"}]},
		"R": {"role": "rafter", "path": [[8000, 0, 0], [4000, 0, 3000]], "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "WR"}, {"against": "L"}]},
		"G": {"role": "wall", "ground": true, "path": [[0, 0, 0], [4000, 0, 3000]]}, "WR": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]}`))
	assert.InDelta(t, -5000, arrived(down, "G").Z, 1e-9)
	assert.Contains(t, unsolved(down, "R"), "lies along what carries it")
	assert.InDelta(t, -5000, down.Unresolved[0].Z, 1e-9)
}

// A hinge makes a chain of a beam on two supports, and of two spans two that do not help each other: neither is a stiff length. A joint
// of which nobody says what it is may be one.
func TestAMemberWithAHingeIsNotTakenForAStiffOne(t *testing.T) {
	const piers = `"A": {"role": "pier", "ground": true, "path": [[0, 0, -500], [0, 0, 0]]}, "C": {"role": "pier", "ground": true, "path": [[4000, 0, -500], [4000, 0, 0]]},
		"L": {"role": "rafter", "path": [[0, 500, 0], [2000, 500, 1500]], "joints": [{"at": 900, "kind": "hinge"}], "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "A", "at": 0}, {"against": "R"}]},
		"R": {"role": "rafter", "path": [[4000, 500, 0], [2000, 500, 1500]], "supports": [{"on": "C", "at": 0}, {"against": "L"}]}, `
	for _, row := range []struct{ say, where, joints, why string }{
		{"between the supports of a beam", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 2000, "kind": "hinge"}`, "a hinge 2000 mm along"},
		{"at the bend of a cranked beam", `[[0, 0, 0], [1500, 0, 0], [4000, 0, 0]]`, `{"at": 1500, "kind": "hinge"}`, "a hinge 1500 mm along"},
		{"somewhere", `[[0, 0, 0], [4000, 0, 0]]`, `{"kind": "hinge"}`, "where is not stated"},
		{"what nobody says is rigid", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 2000, "detail": "two plates"}`, "a joint 2000 mm along, and nobody says whether it is rigid"},
		{"nor where it is", `[[0, 0, 0], [4000, 0, 0]]`, `{"detail": "two plates"}`, "a joint, and where is not stated, and nobody says whether it is rigid"},
		{"of two the one that is not stated", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 1000, "kind": "rigid"}, {"at": 2000}`, "a joint 2000 mm along"},
		{"at an end it does not matter", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 0}`, ""},
		{"at an end, as any end is", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 4000, "kind": "hinge"}`, ""},
		{"none: a stiff splice", `[[0, 0, 0], [4000, 0, 0]]`, `{"at": 2000, "kind": "rigid"}`, ""},
	} {
		t.Run(row.say, func(t *testing.T) {
			down := run(t, weightless(piers+`"B": {"role": "beam", "path": `+row.where+`, "joints": [`+row.joints+`],
				"loads": [{"action": "dead", "line": 1}], "supports": [{"on": "A", "at": 0}, {"on": "C", "at": 4000}]}`))
			if row.why == "" {
				assert.Empty(t, unsolved(down, "B"))
			} else {
				assert.Contains(t, unsolved(down, "B"), row.why)
			}
			assert.Contains(t, unsolved(down, "L"), "of a rafter of the couple: it has a hinge 900 mm along")
		})
	}
}

func TestWhatStandsOnTheGroundEndsACircle(t *testing.T) {
	down := run(t, weightless(`"A": {"role": "beam", "path": [[0, 0, 0], [4000, 0, 0]], "loads": [{"action": "dead", "line": 1}], "supports": [{"on": "B", "at": 0}, {"on": "B", "at": 4000}]},
		"B": {"role": "foundation", "ground": true, "path": [[0, 0, 0], [4000, 0, 0]], "supports": [{"on": "A"}]}`))
	assert.Empty(t, unsolved(down, "A"))
	assert.InDelta(t, -4000, arrived(down, "B").Z, 1e-9)
}

// Dead load is per area along the slope: of an area that stands upright a width in plan covers without end.
func TestAWidthInPlanOfAnUprightAreaIsLeftOut(t *testing.T) {
	down := run(t, weightless(`"B": {"role": "beam", "path": [[0, 0, 0], [4000, 0, 0]], "carries": [{"area": "cladding", "width": 600}], "supports": [{"on": "A"}, {"on": "C"}]},
		"A": {"role": "pier", "ground": true, "path": [[0, 0, -500], [0, 0, 0]]}, "C": {"role": "pier", "ground": true, "path": [[4000, 0, -500], [4000, 0, 0]]}`))
	assert.Zero(t, down.Applied[0].Z)
	require.Len(t, down.Lost(), 1)
	assert.Contains(t, down.Lost()[0], "B: what it carries of cladding is left out")
}

// More members than a small number can count, each unsolved for a reason of its own: none may pass for solved.
func TestEveryReasonIsKept(t *testing.T) {
	const count = 1<<16 + 10
	doc := &model.Document{}
	doc.Grow(count + 1)
	for i := range count {
		doc.Add(model.Member{Mark: fmt.Sprintf("J%d", i), Role: model.RoleFloorJoist, Path: []model.Point{{}, {Y: 1000}},
			Supports: []model.Support{{On: "W", At: model.Given(0)}, {On: "W", At: model.Given(2000 + float64(i))}}})
	}
	doc.Add(model.Member{Mark: "W", Role: model.RoleWall, Ground: true, Path: []model.Point{{}, {Y: 1000}}})
	down := statics.Run(&statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: statics.DefaultCases(doc), Materials: make([]statics.Material, len(doc.Members))})
	for i := range count {
		if why := down.Unsolved(int32(i)); why == "" || i == count-1 {
			require.Contains(t, why, fmt.Sprintf("%d mm", 2000+i), "J%d", i)
		}
	}
}
