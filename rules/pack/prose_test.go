package pack

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// TestProse holds the words of an explanation and of a pack's documentation: read the golden files before accepting them.
func TestProse(t *testing.T) {
	house, own := compiled(t, true), compiled(t, false)
	for file, text := range map[string]string{
		"testdata/explain.golden": house.Explain(house.Rule("practice/bearing-on-masonry"), model.Metric) + "\n" +
			house.Explain(house.Rule("practice/joist-centres"), model.Metric) + "\n" +
			house.Explain(house.Rule("practice/landings"), model.Metric) + "\n" +
			house.Explain(house.Rule("house/bearing-by-load"), model.Metric),
		"testdata/practice.golden.md": own.Doc(own.Packs[0], model.Metric),
	} {
		// The vocabulary's own words are not what is held here.
		for _, f := range append(own.Book.Facts(vocabulary.Member), own.Book.Facts(vocabulary.Support)...) {
			text = strings.ReplaceAll(text, ": "+f.Text+" (", ": ... (")
		}
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, string(want), text)
	}
}

func TestKeysComeFromTheFactsWhereARuleSaysNone(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	p, err := Parse([]byte(hostilePack("    where: known(grade)\n    require: any(supports, .bearing > 0)\n")), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	want := append(append([]string(nil), book.Fact(vocabulary.Member, "grade").Keys...), book.Fact(vocabulary.Support, "bearing").Keys...)
	require.ElementsMatch(t, want, s.Rules[0].Keys)
}
