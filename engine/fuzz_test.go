package engine_test

import (
	"context"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// slips are the demo models, each grade declared so that stiffness and weight are known without a region, and what a hand
// can do to their text.
type slips []string

func newSlips(t testing.TB) slips {
	var grades []string
	for _, name := range []string{"C24", "GL24h", "DFL #2", "SP #2", "SPF #2"} {
		grades = append(grades, `"`+name+`": {"material": "timber", "E": "11000 N/mm2", "G": "690 N/mm2", "density": "420 kg/m3"}`)
	}
	grades = append(grades, `"S355": {"material": "steel", "E": "210000 N/mm2", "G": "81000 N/mm2", "density": "7850 kg/m3"}`)
	declared := `"grades": {` + strings.Join(grades, ", ")
	var out slips
	for _, file := range []string{"larkrun-porch.json", "quillmere.json", "quillmere-faulty.json"} {
		text := fixture.Text(t, file)
		if strings.Contains(text, `"grades": {`) {
			text = strings.Replace(text, `"grades": {`, declared+",", 1)
		} else {
			text = strings.Replace(text, `"members": {`, declared+`}, "members": {`, 1)
		}
		_, problems := read.Document([]byte(text), file)
		require.Empty(t, problems)
		out = append(out, text)
	}
	return out
}

var (
	numbers = regexp.MustCompile(`-?\d+(\.\d+)?`)
	words   = regexp.MustCompile(`"[^"\\]*"`)
	odd     = []string{"0", "-1", "1", "0.001", "1e-9", "90", "100000", "1e6", "1e10", "-90", "4000", "0.0000001", "null", "true", `""`, "[]", "{}"}
)

// slip reads edits out of bytes: which model, then four bytes for each slip of the hand.
func (s slips) slip(edits []byte) string {
	if len(edits) == 0 {
		return s[0]
	}
	text := s[int(edits[0])%len(s)]
	for edits = edits[1:]; len(edits) >= 4; edits = edits[4:] {
		where, what := int(edits[1])<<8|int(edits[0]), int(edits[3])
		switch edits[2] % 7 {
		case 0: // another digit, or one too many, or one too few
			n := pick(numbers, text, where)
			at := n[0] + what%(n[1]-n[0])
			digit := string(rune('0' + what/4%10))
			text = text[:at] + [...]string{digit, digit + text[at:at+1], ""}[what%3] + text[at+1:]
		case 1, 2: // another number
			n := pick(numbers, text, where)
			text = text[:n[0]] + odd[what%len(odd)] + text[n[1]:]
		case 3, 4: // another name
			to, from := pick(words, text, where), pick(words, text, where+7*what+1)
			text = text[:to[0]] + text[from[0]:from[1]] + text[to[1]:]
		case 5: // another sign
			n := pick(numbers, text, where)
			text = text[:n[0]] + "-" + text[n[0]:]
		case 6: // anything
			at := where * 2 % len(text)
			text = text[:at] + string(rune(what)) + text[at+1:]
		}
	}
	return text
}

func pick(r *regexp.Regexp, text string, which int) []int {
	all := r.FindAllStringIndex(text, -1)
	return all[which%len(all)]
}

// FuzzCheck holds a model that someone has mistyped, wherever it can still be read, to what every run promises: it comes to
// an end, every figure is a number, and the same model gives the same bytes.
func FuzzCheck(f *testing.F) {
	f.Add([]byte{0})
	f.Add([]byte{1, 10, 1, 1, 0, 200, 3, 3, 5})
	f.Add([]byte{2, 44, 2, 3, 9, 7, 0, 0, 77, 3, 4, 5, 6})
	models := newSlips(f)
	session := engine.NewSession(nil, nil)
	f.Cleanup(session.Close)
	f.Fuzz(func(t *testing.T, edits []byte) {
		if len(edits) < 80 {
			steady(t, session, models.slip(edits), len(edits))
		}
	})
}

// Seeded slips, as many as a test run has time for.
func TestMistypedModelsAreChecked(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: one check after another, with nothing beside it")
	}
	models := newSlips(t)
	session := engine.NewSession(nil, nil)
	defer session.Close()
	r := rand.New(rand.NewPCG(4, 2))
	judged := 0
	for range 24 {
		edits := make([]byte, 1+4*(1+r.IntN(3)))
		for i := range edits {
			edits[i] = byte(r.Uint32())
		}
		if steady(t, session, models.slip(edits), r.IntN(1000)) {
			judged++
		}
	}
	assert.Greater(t, judged, 5, "of these some must still read")
}

// steady checks a text twice and compares all that is printed, with a trace of one of its members; false: it is no model.
func steady(t *testing.T, session *engine.Session, text string, mark int) bool {
	t.Helper()
	once := func() string {
		doc, problems := read.Document([]byte(text), "mistyped.json")
		if len(problems) > 0 || pieces(doc) == 0 || pieces(doc) > 1500 {
			return ""
		}
		run, err := session.Check(context.Background(), &engine.Source{Document: doc, Text: []byte(text), File: "mistyped.json"}, engine.Options{})
		require.NoError(t, err)
		require.Less(t, run.Down.Imbalance(), 1e-6)
		if before := run.Before; before != nil {
			require.Less(t, before.Imbalance(), 1e-6)
		}
		return outputs(t, run, doc.Members[mark%len(doc.Members)].Mark)
	}
	first := once()
	if first == "" {
		return false
	}
	require.Equal(t, first, once())
	return true
}

func pieces(doc *model.Document) (n int) {
	for i := range doc.Members {
		n += doc.Members[i].Pieces()
	}
	return n
}
