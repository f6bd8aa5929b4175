package facts_test

import (
	"fmt"
	"strconv"
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

// states are the limit states by the word that stands before the factors of a combination.
var states = map[string]region.LimitState{"strength": region.Strength, "stability": region.Stability,
	"characteristic": region.Characteristic, "allowable": region.Allowable}

// combinations reads "strength 1.35 dead + 1.5 imposed", one each; moving is what may stand anywhere in place of the imposed
// load. Without any it gives the sums of a run without a region.
func combinations(t testing.TB, cases []region.Case, texts []string) []region.Combination {
	t.Helper()
	if len(texts) == 0 {
		return statics.DefaultCombinations(cases)
	}
	var out []region.Combination
	for _, text := range texts {
		word, sum, _ := strings.Cut(text, " ")
		state, known := states[word]
		require.True(t, known, text)
		k := region.Combination{ID: text, State: state, Factors: make([]float64, len(cases))}
		for term := range strings.SplitSeq(sum, " + ") {
			factor, id, _ := strings.Cut(term, " ")
			v, err := strconv.ParseFloat(factor, 64)
			require.NoError(t, err, text)
			if id == "moving" {
				k.Moving = v
			}
			for i := range cases {
				if cases[i].ID == id {
					k.Factors[i] = v
				}
			}
		}
		out = append(out, k)
	}
	return out
}

// material is what these tests know of grades: C24 and C16 alike (EN 338: mean modulus and mean density of C24), steel by
// EN 1993-1-1 3.2.6.
func material(grade string) statics.Material {
	switch grade {
	case "C24", "C16":
		return statics.Material{Kind: "timber", E: 11000, G: 690, Density: 420e-9}
	case "S275", "S355":
		return statics.Material{Kind: "steel", E: 210000, G: 81000, Density: 7850e-9}
	}
	return statics.Material{}
}

// run fills the facts of a document, by the combinations given.
func run(t testing.TB, text string, combined ...string) *facts.Filled {
	t.Helper()
	doc, problems := read.Document([]byte(text), "test")
	require.Empty(t, problems)
	return fill(t, doc, combined...)
}

// frameOf is a document of these members without self-weight.
func frameOf(members string) string {
	return `{"framing": 1, "self_weight": false, "members": {` + members + `}}`
}

func fill(t testing.TB, doc *model.Document, combined ...string) *facts.Filled {
	t.Helper()
	return weighing(t, doc, 1, combined...)
}

// weighing fills the facts of a document whose timbers weigh so many times what they do.
func weighing(t testing.TB, doc *model.Document, heavy float64, combined ...string) *facts.Filled {
	t.Helper()
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	cases := statics.DefaultCases(doc)
	down := func(stage frame.Stage) *statics.TakeDown {
		in := &statics.Input{Frame: frame.Assemble(doc, stage), Cases: cases, Grades: map[string]statics.Material{}}
		for i := range doc.Members {
			m := &doc.Members[i]
			of := func(grade string) statics.Material {
				known := material(grade)
				known.Density *= heavy
				return known
			}
			in.Materials = append(in.Materials, of(m.Grade))
			if m.Section != nil {
				for _, l := range m.Section.Layers {
					in.Grades[l.Grade] = of(l.Grade)
				}
			}
		}
		return statics.Run(in)
	}
	src := &facts.Source{Book: book, Down: down(frame.After), Combinations: combinations(t, cases, combined)}
	for i := range doc.Members {
		if doc.Members[i].Phase != model.New {
			src.Before = down(frame.Before)
			break
		}
	}
	return facts.Fill(src)
}

// absent is a part of the reason that a fact is to be absent for.
type absent string

// want is a fact with its value worked out by hand, or the reason of its absence. Facts are addressed by what they are of:
//
//	J1.span            a member, J1#2.span a piece of a run
//	J1/0.reaction      the first support of J1
//	J1 notch 0.depth   what a member lists: notch, hole, drawing
//	area tiles.pitch   ground W1.load   frame.title
type want struct {
	fact  string
	value any
}

// hold compares facts with what they should be, numbers to one part in a million.
func hold(t *testing.T, f *facts.Filled, list []want) {
	t.Helper()
	for _, w := range list {
		got, why := look(t, f, w.fact)
		switch v := w.value.(type) {
		case absent:
			assert.NotEmpty(t, why, "%s is %v, not absent", w.fact, got)
			assert.Contains(t, why, string(v), w.fact)
		case int:
			near(t, float64(v), got, why, w.fact)
		case float64:
			near(t, v, got, why, w.fact)
		default:
			assert.Empty(t, why, w.fact)
			assert.Equal(t, w.value, got, w.fact)
		}
	}
}

func near(t *testing.T, v float64, got any, why, fact string) {
	t.Helper()
	if assert.Empty(t, why, fact) {
		assert.InDelta(t, v, got, 1e-6*max(1, v, -v), fact)
	}
}

// look is one fact, or the reason of its absence.
func look(t testing.TB, f *facts.Filled, address string) (value any, why string) {
	t.Helper()
	place, name, _ := strings.Cut(address, ".")
	subject, row := rowOf(t, f, place)
	fact := f.Book.Fact(subject, name)
	require.NotNil(t, fact, "%s has no fact %s", subject, name)
	return get(f, fact, row)
}

func get(f *facts.Filled, fact *vocabulary.Fact, row int32) (value any, why string) {
	var reason vocabulary.Reason
	switch fact.Type {
	case vocabulary.Text:
		value, reason = f.Text(fact, row)
	case vocabulary.Number:
		value, reason = f.Number(fact, row)
	default:
		value, reason = f.Truth(fact, row)
	}
	return value, f.Explain(reason)
}

func rowOf(t testing.TB, f *facts.Filled, place string) (vocabulary.Subject, int32) {
	t.Helper()
	fr := f.Source.Down.Frame
	words := strings.Fields(place)
	switch {
	case place == "frame":
		return vocabulary.Frame, 0
	case words[0] == "area":
		for i := range fr.Document.Areas {
			if fr.Document.Areas[i].ID == words[1] {
				return vocabulary.Area, int32(i)
			}
		}
	case words[0] == "ground":
		for i, piece := range f.Rows.Grounds {
			if fr.Name(piece) == words[1] {
				return vocabulary.Ground, int32(i)
			}
		}
	case len(words) == 3:
		return listed(t, f, words[0], words[1], words[2])
	default:
		name, support, of := strings.Cut(place, "/")
		piece := pieceNamed(t, f, name)
		if !of {
			return vocabulary.Member, piece
		}
		index, err := strconv.Atoi(support)
		require.NoError(t, err)
		list, first := fr.SupportsOf(piece)
		require.Less(t, index, len(list), place)
		return vocabulary.Support, first + int32(index)
	}
	require.Fail(t, "no row "+place)
	return 0, 0
}

// listed is the row of what a member lists.
func listed(t testing.TB, f *facts.Filled, mark, list, number string) (vocabulary.Subject, int32) {
	t.Helper()
	index, err := strconv.Atoi(number)
	require.NoError(t, err)
	subject, places := vocabulary.Notch, f.Rows.Notches
	switch list {
	case "hole":
		subject, places = vocabulary.Hole, f.Rows.Holes
	case "drawing":
		subject, places = vocabulary.Drawing, f.Rows.Drawings
	}
	for i, p := range places {
		if f.Source.Down.Frame.Document.Members[p.Member].Mark == mark && int(p.Index) == index {
			return subject, int32(i)
		}
	}
	require.Fail(t, fmt.Sprintf("%s has no %s %d", mark, list, index))
	return 0, 0
}

func pieceNamed(t testing.TB, f *facts.Filled, name string) int32 {
	t.Helper()
	fr := f.Source.Down.Frame
	for i := range fr.Pieces {
		if fr.Name(int32(i)) == name {
			return int32(i)
		}
	}
	require.Fail(t, "no piece "+name)
	return -1
}
