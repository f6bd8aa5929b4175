package facts

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/vocabulary"
)

// filler is one entry of a list of fills, whatever it is worked out from.
type filler struct {
	name string
	of   [3]bool // by type
}

func fillers[C any](list []fill[C]) []filler {
	out := make([]filler, len(list))
	for i, f := range list {
		out[i] = filler{f.name, [3]bool{vocabulary.Number: f.number != nil, vocabulary.Text: f.text != nil, vocabulary.Truth: f.truth != nil}}
	}
	return out
}

// Every fact of the core but those of differences is filled, once and with its type; nothing is filled that the book lacks.
func TestEveryFactOfTheBookIsFilledOnce(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	lists := map[vocabulary.Subject][]filler{
		vocabulary.Member:  slices.Concat(fillers(memberFacts), fillers(pieceFacts), fillers(bedFacts)),
		vocabulary.Support: append(fillers(supportFacts), fillers(restFacts)...),
		vocabulary.Area:    fillers(areaFacts), vocabulary.Frame: fillers(frameFacts), vocabulary.Drawing: fillers(drawingFacts),
		vocabulary.Notch: fillers(notchFacts), vocabulary.Hole: fillers(holeFacts), vocabulary.Ground: fillers(groundFacts),
	}
	for _, subject := range vocabulary.Subjects() {
		if subject == vocabulary.Change {
			continue // filled where two documents are compared
		}
		filled := map[string]int{}
		for _, f := range lists[subject] {
			filled[f.name]++
			if fact := book.Fact(subject, f.name); assert.NotNil(t, fact, "%s.%s is filled, and the book lacks it", subject, f.name) {
				var one [3]bool
				one[fact.Type] = true
				assert.Equal(t, one, f.of, "type of %s.%s", subject, f.name)
			}
		}
		for _, fact := range book.Facts(subject) {
			assert.Equal(t, 1, filled[fact.Name], "fillers of %s.%s", subject, fact.Name)
		}
	}
}
