package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/facts"
)

// shared is a masonry wall of 6 m, 1732.05 mm high, so that load spreads 500 mm to each side down to mid-height. Each crosser is a
// beam 100 wide that brings so much to the wall at a place: its whole load is twice that, evenly over its 4 m.
func shared(wall string, rest ...string) string {
	return frameOf(`"W": {"role": "wall", "material": "masonry", "width": 140, "height": 1732.0508, "weight": 2.8, "ground": true, "path": [[0, 0, 0], [6000, 0, 0]],
		"masonry": {"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "II", "leaf": "solid"}` + wall + `},
	"X": {"role": "wall", "material": "timber", "width": 140, "ground": true, "path": [[0, 4000, 0], [6000, 4000, 0]]}, ` + strings.Join(rest, ", "))
}

func crosser(mark string, at, force float64, action string) string {
	return fmt.Sprintf(`%q: {"role": "beam", "section": "100x200", "grade": "C24", "path": [[%g, 0, 100], [%g, 4000, 100]],
		"supports": [{"on": "W", "bearing": 100, "by": "seat"}, {"on": "X", "bearing": 100}], "loads": [{"action": %q, "line": %g}]}`, mark, at, at, action, force/2000)
}

// besideOf is what a region is told of the other load on the wall under a beam, dead and imposed, and why it is not known.
func besideOf(t *testing.T, text, mark string) (dead, imposed float64, unknown string) {
	t.Helper()
	f := run(t, text, "strength 1.35 dead + 1.5 imposed")
	b := asked(t, f)
	r := int(b.Pieces.ContactStart[rowOfPiece(t, f, b, mark)])
	require.Equal(t, "masonry", b.Pieces.Words[b.Contacts.Underside[r]])
	require.Equal(t, int32(2), b.Cases)
	return b.Contacts.CaseBeside[2*r], b.Contacts.CaseBeside[2*r+1], b.Pieces.Words[b.Contacts.BesideUnknown[r]]
}

// By hand: a push at x has reached x - 550 to x + 550 at mid-height, 1100 mm, unless the wall ends before.
func TestWhatElseStandsOnAWall(t *testing.T) {
	// B at 1000 has reached 450 to 1550, C at 1600 has reached 1050 to 2150: 2200 / 1100 = 2 N/mm overlap with it.
	b, c := crosser("B", 1000, 11_000, "dead"), crosser("C", 1600, 2200, "dead")
	for name, row := range map[string]struct {
		wall          string
		rest          []string
		dead, imposed float64
	}{
		"nothing else":                       {"", nil, 0, 0},
		"a neighbour that overlaps":          {"", []string{c}, 2, 0},
		"one further than both have reached": {"", []string{crosser("C", 2101, 2200, "dead")}, 0, 0},
		"two on different sides that do not overlap with each other": {"", []string{
			crosser("C", 400, 2090, "dead"), crosser("D", 1550, 2200, "dead")}, 2.2, 0}, // at 400 it has reached 0 to 950: 2090 / 950
		"two that overlap with each other within it":     {"", []string{c, crosser("D", 1500, 1100, "dead")}, 3, 0},
		"each action for itself":                         {"", []string{c, crosser("D", 1500, 1100, "imposed")}, 2, 1},
		"what lifts does not relieve":                    {"", []string{c, crosser("D", 1500, -1100, "dead")}, 2, 0},
		"a load along the whole wall":                    {`, "loads": [{"action": "dead", "line": 3}]`, nil, 3, 0},
		"a load along its far end":                       {`, "loads": [{"action": "dead", "line": 3, "from": 2051, "to": 6000}]`, nil, 0, 0},
		"a load along a part: at 1550 it is over 300 mm": {`, "loads": [{"action": "dead", "line": 3, "from": 1750, "to": 6000}]`, nil, 3 * 300 / 1000.0, 0},
		"a wall above: what stands along it, and at one place": {"", []string{
			`"U": {"role": "wall", "material": "masonry", "width": 140, "height": 2000, "path": [[0, 0, 2000], [6000, 0, 2000]], "supports": [{"on": "W", "continuous": true}],
				"loads": [{"action": "dead", "line": 4}, {"action": "imposed", "point": 2.2, "at": 1600}]}`}, 4, 2200 / 1000.0}, // a point has no foot: 1000 mm
		"an opening between them: one goes no further": {`, "openings": [{"from": 1300, "to": 1350}]`, []string{c}, 0, 0},
		// 1000 N at 2600 over an opening from 2000 to 3000 go 400 to its near edge, spread from 1500 to 2000: 0.8 N/mm.
		"a load over an opening goes to its edges": {`, "openings": [{"from": 2000, "to": 3000}]`, []string{crosser("C", 2600, 1000, "dead")}, 0.8, 0},
	} {
		t.Run(name, func(t *testing.T) {
			dead, imposed, unknown := besideOf(t, shared(row.wall, append(row.rest, b, crosser("Z", 5900, 1, "imposed"))...), "B")
			assert.Empty(t, unknown)
			assert.InDelta(t, row.dead, dead, 1e-6)
			assert.InDelta(t, row.imposed, imposed, 1e-6)
		})
	}
}

// A padstone spreads the neighbour's push before the wall does, at 60 degrees to the level too. Under a beam 100 wide one of
// 440 x 140 x 300 is used whole, 440 + 1000 mm; of one of 215 high 100 + 2 x 215 / tan 60 = 348.26 mm are.
func TestNeighbourOnAPadstone(t *testing.T) {
	for size, want := range map[string]float64{"440x140x300": 2880 / 1440.0, "440x140x215": 2880 / 1348.26} {
		stone := strings.Replace(crosser("C", 1600, 2880, "dead"), `"by": "seat"`, `"by": "seat", "seat": {"kind": "padstone", "size": "`+size+`"}`, 1)
		dead, _, unknown := besideOf(t, shared("", crosser("B", 1000, 11_000, "dead"), stone, crosser("Z", 5900, 1, "imposed")), "B")
		assert.Empty(t, unknown)
		assert.InDelta(t, want, dead, 1e-5, size)
	}
}

func TestWhatElseStandsOnAWallIsNotKnown(t *testing.T) {
	b, z := crosser("B", 1000, 11_000, "dead"), crosser("Z", 5900, 1, "imposed")
	for name, row := range map[string]struct{ wall, rest, says string }{
		"a neighbour that cannot be solved": {"", `"C": {"role": "beam", "section": "100x200", "path": [[3000, 0, 100], [3000, 4000, 100]], "supports": [{"on": "W", "bearing": 100}], "loads": [{"action": "dead", "line": 1}]}`,
			"the load on W is not known: what C brings to it could not be worked out"},
		"a neighbour that stands nobody knows where": {"", `"C": {"role": "beam", "section": "100x200", "length": 4000, "supports": [{"on": "W", "bearing": 100}, {"on": "X"}], "loads": [{"action": "dead", "line": 1}]}`,
			"nobody says where along it C stands; give both a path"},
		"a load that is left out": {`, "loads": [{"action": "dead", "point": 3, "at": 9000}]`, "",
			"the load on W is not known: a load of dead is left out: it stands 3000 mm beyond the end"},
		"a wall above that carries what cannot be solved": {"", `"U": {"role": "wall", "material": "masonry", "width": 140, "height": 2000, "path": [[0, 0, 2000], [6000, 0, 2000]], "supports": [{"on": "W", "continuous": true}]},
			"C": {"role": "beam", "section": "100x200", "path": [[3000, 0, 2100], [3000, 4000, 2100]], "supports": [{"on": "U", "bearing": 100}], "loads": [{"action": "dead", "line": 1}]}`,
			"the load on U is not known: what C brings to it"},
		"it stands over an opening": {`, "openings": [{"from": 800, "to": 1500, "lintel": "L"}]`, "",
			"it stands over the opening from 800 to 1500 mm along W: let it rest on the lintel there, and the lintel on the wall"},
	} {
		t.Run(name, func(t *testing.T) {
			rest := []string{b, z}
			if row.rest != "" {
				rest = append(rest, row.rest)
			}
			_, _, unknown := besideOf(t, shared(row.wall, rest...), "B")
			assert.Contains(t, unknown, row.says)
		})
	}
}

func TestPierHasNoLength(t *testing.T) {
	text := strings.Replace(shared("", crosser("B", 1000, 11_000, "dead"), crosser("Z", 5900, 1, "imposed")), `"role": "wall"`, `"role": "pier"`, 1)
	_, _, unknown := besideOf(t, text, "B")
	assert.Contains(t, unknown, "draw the pier as a wall of that length")
}

// Of a beam that crosses the wall the length of bearing lies across it; of one in line with it, and of a post's foot, along it.
func TestWhichWayABearingLies(t *testing.T) {
	f := run(t, shared(`, "openings": [{"from": 4000, "to": 4800}]`, crosser("B", 1000, 11_000, "dead"),
		`"L": {"role": "lintel", "section": "100x140", "path": [[3850, 0, 0], [4950, 0, 0]], "supports": [{"on": "W", "at": 75, "bearing": 150}, {"on": "W", "at": 1025, "bearing": 150}], "loads": [{"action": "dead", "line": 1}]}`,
		`"P": {"role": "post", "section": "100x100", "path": [[2000, 0, 0], [2000, 0, 2000]], "supports": [{"on": "W", "bearing": 100}], "loads": [{"action": "dead", "point": 1, "at": 2000}]}`), "strength 1.35 dead")
	b := asked(t, f)
	for mark, want := range map[string]struct {
		along     bool
		near, far float64
	}{"B": {false, 1000, 3000}, "L": {true, 75, 3925}, "P": {true, 2000, 2000}} {
		r := b.Pieces.ContactStart[rowOfPiece(t, f, b, mark)]
		assert.Equal(t, want.along, b.Contacts.AlongWall[r], mark)
		assert.InDelta(t, want.near, b.Contacts.ToWallEnd[r], 1e-9, mark)
		assert.InDelta(t, want.far, b.Contacts.ToWallFar[r], 1e-9, mark)
		assert.InDelta(t, 2.8e-3, b.Contacts.WallWeight[r], 1e-12)
		assert.Equal(t, "solid", b.Pieces.Words[b.Contacts.WallLeaf[r]])
	}
}

// Walls on which a great many things stand are no trap.
func TestCrowdedWall(t *testing.T) {
	const many = 3000
	text := shared("", fmt.Sprintf(`"B": {"role": "beam", "section": "100x200", "grade": "C24", "path": [[0, 0, 100], [0, 4000, 100]], "repeat": {"count": %d, "step": [1.9, 0, 0]},
		"supports": [{"on": "W", "bearing": 100}, {"on": "X", "bearing": 100}], "loads": [{"action": "dead", "line": 0.001}]}`, many))
	f := run(t, text, "strength 1.35 dead")
	var told int
	for b := range f.Batches(facts.NewLists(f.Source.Down.Frame.Document), nil, false) {
		for _, per := range b.Contacts.CaseBeside {
			if per > 0 {
				told++
			}
		}
	}
	assert.Greater(t, told, many/4) // the two halves of the wall are alike
}

// 2 N/mm of a neighbour by how far from the middle of 140 mm it presses: from one face of the wall, on the length of its bearing.
func TestHowWhatStandsOnAWallTurnsIt(t *testing.T) {
	c := crosser("C", 1600, 2200, "dead")
	bearing := func(with string) string { return strings.Replace(c, `"bearing": 100, "by": "seat"`, with, 1) }
	for name, row := range map[string]struct {
		rest string
		turn float64
	}{
		"nothing":                            {crosser("C", 4000, 2200, "dead"), 0},
		"100 mm of it: (140 - 100) / 2":      {c, 2 * 20},
		"60 mm of it":                        {bearing(`"bearing": 60`), 2 * 40},
		"all of it":                          {bearing(`"bearing": 140`), 0},
		"more than all of it":                {bearing(`"bearing": 200`), 0},
		"nobody says: half of it, no foot":   {bearing(`"by": "seat"`), 2200 / 1000.0 * 35},
		"a hanger at its face":               {bearing(`"by": "hanger", "bearing": 45`), 2 * 70},
		"a beam that ends short of its axis": {strings.Replace(bearing(`"bearing": 120`), "[1600, 0, 100]", "[1600, 30, 100]", 1), 2 * 3970 / 4000.0 * 30},
		"a wall above, 30 mm aside, of 4 N/mm": {`"U": {"role": "wall", "material": "masonry", "width": 140, "height": 2000, "path": [[0, 30, 2000], [6000, 30, 2000]],
			"supports": [{"on": "W", "continuous": true}], "loads": [{"action": "dead", "line": 4}]}`, 4 * 30},
	} {
		t.Run(name, func(t *testing.T) {
			f := run(t, shared("", crosser("B", 1000, 11_000, "dead"), crosser("Z", 5900, 1, "imposed"), row.rest), "strength 1.35 dead + 1.5 imposed")
			b := asked(t, f)
			r := int(b.Pieces.ContactStart[rowOfPiece(t, f, b, "B")])
			assert.InDelta(t, row.turn, b.Contacts.CaseTurn[2*r], 1e-6)
			assert.InDelta(t, 20, b.Contacts.Eccentric[r], 1e-9)
		})
	}
}
