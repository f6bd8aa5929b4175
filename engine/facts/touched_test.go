package facts

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// over fills the facts of a document that differs from a base in one member, every piece being looked at.
func over(t *testing.T, base *Filled, doc *model.Document, differs int32) *Filled {
	t.Helper()
	src := sourced(t, doc)
	src.Book, src.Differs, src.Same = base.Source.Book, differs, make([]int32, len(src.Down.Frame.Pieces))
	all := make([]int32, len(base.Source.Down.Frame.Pieces))
	for i := range all {
		all[i] = int32(i)
	}
	for i := range src.Same {
		src.Same[i] = -1
	}
	src.Inside = src.Same
	lists := NewLists(&model.Document{Members: slices.Concat(base.Source.Down.Frame.Document.Members, doc.Members)})
	src.Base = NewBase(base, lists, all, nil)
	return Fill(src)
}

// other is a document in which one member has another section, and its pieces stand closer where they are many.
func other(t *testing.T, doc *model.Document, i int, text string) *model.Document {
	t.Helper()
	out := *doc
	out.Members = slices.Clone(doc.Members)
	m := &out.Members[i]
	section, err := model.ParseSection(text, doc.Units)
	require.NoError(t, err)
	m.Path = slices.Clone(m.Path)
	for k := range m.Path {
		m.Path[k].Z += (section.Depth - m.Section.Depth) / 2
	}
	m.Section = section
	if m.Repeat.Count > 2 {
		part := float64(m.Repeat.Count-1) / float64(m.Repeat.Count)
		m.Repeat.Count++
		m.Repeat.Step = model.Point{X: m.Repeat.Step.X * part, Y: m.Repeat.Step.Y * part, Z: m.Repeat.Step.Z * part}
	}
	return &out
}

// One member in eight of the models, in turn, has another size: every fact of pieces and supports over the base is the one from scratch,
// touched or not, and so is all that a region would be told.
func TestOverABaseFactsAreThoseFromScratch(t *testing.T) {
	for seed, name := range []string{"quillmere.json", "quillmere-faulty.json"} {
		doc := readModel(t, name)
		base := facted(t, doc)
		members := rand.New(rand.NewPCG(uint64(seed), 3)).Perm(len(doc.Members))
		for _, fact := range slices.Concat(base.Book.Facts(vocabulary.Member), base.Book.Facts(vocabulary.Support)) {
			base.Column(fact)
		}
		untouched := 0
		for _, i := range members[:len(members)/8] {
			m := &doc.Members[i]
			if m.Section == nil || m.Section.Shape == model.Layered || m.Phase != model.New {
				continue
			}
			what := name + " " + m.Mark
			changed := other(t, doc, i, "60x210")
			now, scratch := over(t, base, changed, int32(i)), facted(t, changed)
			lists := NewLists(changed)
			for class, piece := range now.Classes.First {
				if now.recalled(int32(class)) < 0 && now.judged(piece) == "" {
					same(t, what+": "+now.Source.Down.Frame.Name(piece), reflect.ValueOf(told(scratch, lists, piece)), reflect.ValueOf(told(now, lists, piece)))
				}
			}
			touched := now.Touched()
			for row := range now.Source.Down.Frame.Pieces {
				if touched(vocabulary.Member, int32(row)) == 0 {
					untouched++
				}
			}
			for _, fact := range slices.Concat(base.Book.Facts(vocabulary.Member), base.Book.Facts(vocabulary.Support)) {
				sameColumn(t, what, now, scratch, fact)
			}
		}
		assert.Greater(t, untouched, 500, "much is left as it was")
	}
}

// Two ties share the thrust of a couple, and what may stand on one rafter: of another size of that rafter all that it does across is
// worked out anew, in the rafter that it leans on, in the ties and under the feet.
func TestOverABaseALoadThatMovesIsFollowedAcrossACouple(t *testing.T) {
	doc, problems := read.Document([]byte(`{"framing": 1, "members": {
		"W1": {"role": "wall", "ground": true, "path": [[0, -500, -50], [0, 500, -50]]}, "W2": {"role": "wall", "ground": true, "path": [[8000, -500, 0], [8000, 500, 0]]},
		"P": {"role": "wall plate", "section": "97x47", "flat": true, "grade": "C24", "path": [[0, -500, -25], [0, 500, -25]], "supports": [{"on": "W1", "continuous": true}]},
		"CJ": {"role": "ceiling joist", "section": "47x147", "grade": "C24", "path": [[0, 0, 0], [8000, 0, 0]], "supports": [{"on": "P"}, {"on": "W2"}]},
		"HC": {"role": "collar", "section": "47x147", "grade": "C24", "path": [[2000, 0, 1500], [6000, 0, 1500]]},
		"R1": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[0, 0, 0], [4000, 0, 3000]], "supports": [{"on": "P", "bearing": 50}, {"against": "R2"}], "tied_by": ["CJ", "HC"]},
		"R2": {"role": "rafter", "section": "50x150", "grade": "C24", "path": [[8000, 0, 0], [4000, 0, 3000]], "supports": [{"on": "W2"}, {"against": "R1"}], "tied_by": ["CJ", "HC"],
			"loads": [{"action": "imposed", "point": 2, "movable": true}]}}}`), "couple")
	require.Empty(t, problems)
	base := facted(t, doc)
	numbers := slices.Concat(base.Book.Facts(vocabulary.Member), base.Book.Facts(vocabulary.Support))
	for _, fact := range numbers {
		base.Column(fact)
	}
	changed := other(t, doc, doc.Index("R2"), "75x250")
	now, scratch := over(t, base, changed, int32(doc.Index("R2"))), facted(t, changed)
	lists := NewLists(changed)
	for piece := range int32(len(now.Source.Down.Frame.Pieces)) {
		if now.judged(piece) == "" {
			same(t, now.Source.Down.Frame.Name(piece), reflect.ValueOf(told(scratch, lists, piece)), reflect.ValueOf(told(now, lists, piece)))
		}
	}
	touched := now.Touched()
	for _, mark := range []string{"R1", "HC", "P"} {
		assert.NotZero(t, touched(vocabulary.Member, int32(doc.Index(mark))), mark)
	}
	for _, fact := range numbers {
		sameColumn(t, "R2", now, scratch, fact)
	}
	worst, _ := scratch.Number(base.Book.Fact(vocabulary.Member, "moment"), int32(doc.Index("R1")))
	before, _ := base.Number(base.Book.Fact(vocabulary.Member, "moment"), int32(doc.Index("R1")))
	assert.NotEqual(t, before, worst)
}

// told is a piece as a region would be told of it, under a number of its own.
func told(f *Filled, lists *Lists, piece int32) *region.Batch {
	w := newBatchWriter(f, lists, false)
	w.piece(f.Classes.Of[piece], piece)
	b := w.take()
	b.Pieces.ID, b.Pieces.Multiplicity = nil, nil
	return b
}

// sameColumn holds a fact of every row against that from scratch.
func sameColumn(t *testing.T, what string, now, scratch *Filled, fact *vocabulary.Fact) {
	t.Helper()
	for row := range int32(now.Tables[fact.Subject].Rows) {
		where := fmt.Sprintf("%s: %s of row %d", what, fact.Name, row)
		switch fact.Type {
		case vocabulary.Number:
			a, why := now.Number(fact, row)
			b, whyThen := scratch.Number(fact, row)
			if a != b {
				assert.InEpsilon(t, b, a, 1e-6, where)
			}
			require.Equal(t, scratch.Explain(whyThen), now.Explain(why), where)
		case vocabulary.Text:
			a, why := now.Text(fact, row)
			b, whyThen := scratch.Text(fact, row)
			require.Equal(t, b, a, where)
			require.Equal(t, scratch.Explain(whyThen), now.Explain(why), where)
		case vocabulary.Truth:
			a, why := now.Truth(fact, row)
			b, whyThen := scratch.Truth(fact, row)
			require.Equal(t, b, a, where)
			require.Equal(t, scratch.Explain(whyThen), now.Explain(why), where)
		}
	}
}
