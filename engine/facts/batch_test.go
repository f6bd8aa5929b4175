package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/facts"
	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// strength is the one fact of the region of these tests.
var strength = []vocabulary.Fact{{Subject: vocabulary.Member, Name: "test.strength", Text: "any ratio"}}

// filled takes down a document of these members and fills its facts, with so many equal combinations.
func filled(t *testing.T, members string, combinations int) (*facts.Filled, *facts.Lists, *region.Preparation) {
	t.Helper()
	doc, bad := read.Document([]byte(`{"framing": 1, "members": {`+members+`}}`), "")
	require.Empty(t, bad)
	p := &region.Preparation{Cases: statics.DefaultCases(doc)}
	for i := range combinations {
		p.Combinations = append(p.Combinations, region.Combination{ID: fmt.Sprint(i), State: region.Strength, Factors: make([]float64, len(p.Cases))})
		for c := range p.Cases {
			p.Combinations[i].Factors[c] = 1.4
		}
	}
	down := statics.Run(&statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: p.Cases, Materials: make([]statics.Material, len(doc.Members))})
	book, err := vocabulary.NewBook(strength...)
	require.NoError(t, err)
	f := facts.Fill(&facts.Source{Book: book, Down: down, Combinations: p.Combinations, Served: true})
	f.FillRegion(strength)
	return f, facts.NewLists(doc), p
}

const walls = `"A": {"role": "wall", "ground": true, "path": [[0, 0, 0], [90000, 0, 0]]}, "B": {"role": "wall", "ground": true, "path": [[0, 4000, 0], [90000, 4000, 0]]}`

func TestBatchesAreCutToWhatMayCross(t *testing.T) {
	var members strings.Builder
	members.WriteString(walls)
	for i := range 300 {
		x := 100 + 250*i
		fmt.Fprintf(&members, `, "J%d": {"role": "floor joist", "section": "47x195", "path": [[%d, 0, 97.5], [%[2]d, 4000, 97.5]],
			"supports": [{"on": "A"}, {"on": "B"}], "loads": [{"action": "dead", "line": 1}, {"action": "imposed", "point": 2, "at": 1000}]}`, i, x)
	}
	f, lists, p := filled(t, members.String(), 80)
	site := &region.Site{Sections: []model.Section{*lists.Sections[0]}}
	judged := map[int32]int{}
	batches := 0
	for b := range f.Batches(lists, nil, false) {
		b.Site, b.Preparation = site, p
		require.NoError(t, b.Check())
		assert.LessOrEqual(t, b.Bytes(), 2<<20, "of batch %d", batches)
		for _, class := range b.Pieces.ID {
			judged[class]++
		}
		batches++
	}
	assert.Greater(t, batches, 5)
	assert.Len(t, judged, 300)
	for class, times := range judged {
		assert.Equal(t, 1, times, "class %d", class)
	}
}

func TestAPieceThatCannotCrossIsAbsentAndTheRestIsJudged(t *testing.T) {
	f, lists, p := filled(t, walls+`,
		"P": {"role": "beam", "section": "100x300", "path": [[1000, 0, 150], [1000, 4000, 150]], "supports": [{"on": "A"}, {"on": "B"}]},
		"J": {"role": "floor joist", "section": "47x195", "path": [[1000, 1, 450], [1400, 1, 450]], "repeat": {"count": 2000, "step": [0, 1.5, 0]},
			"supports": [{"on": "P"}, {"on": "P", "at": 10}], "loads": [{"action": "dead", "line": 1}]}`, 200)
	judged := 0
	for b := range f.Batches(lists, nil, false) {
		b.Site, b.Preparation = &region.Site{Sections: []model.Section{*lists.Sections[0], *lists.Sections[1]}}, p
		require.NoError(t, b.Check())
		assert.LessOrEqual(t, b.Bytes(), region.MaxMessage)
		judged += len(b.Pieces.ID)
	}
	assert.Equal(t, len(f.Classes.First)-2, judged, "all but the walls, which are alike, and the beam")
	beam := f.Source.Down.Frame.Document.Index("P")
	from, _ := f.Source.Down.Frame.PiecesOf(int32(beam))
	_, why := f.Number(f.Book.Fact(vocabulary.Member, "test.strength"), from)
	assert.Equal(t, "more meets at it than can be told to a region at once: divide it into shorter members", f.Explain(why))
}

// Limits of deflection are stricter over a finish that cracks. Where nobody says what hangs beneath, none is looser for it.
func TestAFinishThatNobodyStatesMayCrack(t *testing.T) {
	joist := `"%s": {"role": "floor joist", "section": "47x195", "path": [[%d, 0, 97.5], [%[2]d, 4000, 97.5]], "carries": [%s], "supports": [{"on": "A"}, {"on": "B"}]}`
	f, lists, p := filled(t, walls+", "+fmt.Sprintf(joist, "J1", 400, `{"area": "bare", "width": 400}`)+", "+
		fmt.Sprintf(joist, "J2", 800, `{"area": "boarded", "width": 400}`)+", "+fmt.Sprintf(joist, "J3", 1200, `{"area": "open", "width": 400}`)+
		`}, "areas": {"bare": {"kind": "floor", "dead": 0.5, "finish": "none"}, "boarded": {"kind": "floor", "dead": 0.5, "finish": "plasterboard"},
			"open": {"kind": "floor", "dead": 0.5}`, 1)
	var brittle []bool
	for b := range f.Batches(lists, nil, false) {
		b.Site, b.Preparation = &region.Site{Sections: []model.Section{*lists.Sections[0]}}, p
		require.NoError(t, b.Check())
		brittle = append(brittle, b.Pieces.Brittle...)
	}
	assert.Equal(t, []bool{false, true, true}, brittle)
}
