package pack

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// compiled is the test packs in layers, with the house's where asked for.
func compiled(t *testing.T, house bool) *Set {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	practice, err := Open("testdata/practice.yaml", Shipped)
	require.NoError(t, err)
	packs := []*Pack{practice}
	if house {
		h, err := Open("testdata/house.yaml", House)
		require.NoError(t, err)
		packs = []*Pack{h, practice} // the order of layers is not that of arguments
	}
	require.NoError(t, Vet(book, packs...))
	s, err := Compile(book, packs...)
	require.NoError(t, err)
	return s
}

func TestLayersTightenLoosenAndSwitchOff(t *testing.T) {
	s := compiled(t, true)
	var got [][]string
	for _, l := range s.Loosened {
		got = append(got, []string{l.What, l.Pack, l.Rule, l.Param, l.From, l.To, l.Place.String()})
	}
	require.Equal(t, [][]string{
		{"param", "house", "", "practice.most_centres", "600 mm", "625 mm", "testdata/house.yaml:10:6"},
		{"param", "house", "", "practice.spanning", "floor joist, rafter", "floor joist, rafter, purlin", "testdata/house.yaml:11:6"},
		{"severity", "house", "practice/bearing-on-masonry", "", "stop", "ask", "testdata/house.yaml:13:6"},
		{"off", "house", "practice/landings", "", "ask", "off", "testdata/house.yaml:16:6"},
	}, got)
	var ids []string
	for _, r := range s.Rules {
		ids = append(ids, r.ID+" "+r.Severity.String())
	}
	require.Equal(t, []string{"practice/bearing-on-masonry ask", "practice/joist-centres stop", "house/bearing-by-load note"}, ids)
	require.True(t, s.IsOff(s.Rule("practice/landings")))
	require.Same(t, s.Rule("practice/bearing-on-masonry"), s.Rule("practice/short-bearing"), "an old id")
	require.Same(t, s.Rule("house/bearing-by-load"), s.Rule("bearing-by-load"), "a bare id")
	require.Nil(t, s.Rule("practice/nothing"))
	require.Equal(t, "practice/landings", s.Nearest("practice/landing"))
}

func TestTheSameLayersWithoutAHouseLoosenNothing(t *testing.T) {
	s := compiled(t, false)
	require.Empty(t, s.Loosened)
	require.Equal(t, Stop, s.Rule("practice/joist-centres").Severity)
	require.Equal(t, "90 mm", s.Params[0].Written)
}

func TestOverridesOutOfOrderAreRefused(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	practice, err := Open("testdata/practice.yaml", Shipped)
	require.NoError(t, err)
	early, err := Parse([]byte("pack: eurocode\nformat: 1\nedition: a\ntitle: t\noff:\n  - {rule: practice/landings, reason: r}\n"), "region.yaml", Region)
	require.NoError(t, err)
	_, err = Compile(book, practice, early)
	require.EqualError(t, err, "region.yaml:6:6: the rule practice/landings comes later (see testdata/practice.yaml:51:5)\n    a pack changes packs before it: region, shipped, house")
}

func TestExamplesOfTheTestPacks(t *testing.T) {
	trial, err := compiled(t, false).Try(model.Metric)
	require.NoError(t, err)
	require.Empty(t, trial.Failed)
	require.Equal(t, 12, trial.Passed)
	require.Empty(t, trial.Unreached)

	// The house's params make two examples of practice end otherwise: 100 mm is less than 4 in, and 625 mm is allowed.
	trial, err = compiled(t, true).Try(model.Metric)
	require.NoError(t, err)
	var missed []string
	for _, m := range trial.Failed {
		missed = append(missed, m.Error())
	}
	require.Equal(t, []string{
		"testdata/practice.yaml:28:9: rule practice/bearing-on-masonry: the example says met and is not_met: (not known) bears 100 mm on (not known); 101.6 mm is needed",
	}, missed)
}

func TestCoverageNamesWhatNoExampleReaches(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	text := hostilePack(`    where: role == "beam" or role == "lintel"
    require: 'known(span) ? span < mm(100) : is_tied'
    examples:
      - met: {role: beam, span: 50 mm}
      - not_met: {role: beam, span: 500 mm}
`) + `  - id: never
    title: t
    judges: member
    where: role == "purlin"
    require: is_tied
    severity: note
    say: s
    source: s
    why: w
    examples: [{not_applicable: {role: beam}}]
`
	p, err := Parse([]byte(text), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	trial, err := s.Try(model.Metric)
	require.NoError(t, err)
	var parts []string
	for _, u := range trial.Unreached {
		parts = append(parts, u.Part.Error())
	}
	require.Equal(t, []string{
		"house.yaml:13:35: rule house/trap: no example reaches this part of or\n    role == \"beam\" or role == \"lintel\"\n                           ^\n    add an example that comes here",
		"house.yaml:14:46: rule house/trap: no example reaches this part of ?\n    known(span) ? span < mm(100) : is_tied\n                                   ^\n    add an example that comes here",
		"house.yaml:22:14: rule house/never: no example gets past where\n    is_tied\n    ^\n    add an example that comes here",
	}, parts)
}

func TestTheStarterVetsAndTriesClean(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	text, err := Starter("our-house")
	require.NoError(t, err)
	p, err := Parse([]byte(text), "house.yaml", House)
	require.NoError(t, err)
	require.NoError(t, Vet(book, p))
	s, err := Compile(book, p)
	require.NoError(t, err)
	trial, err := s.Try(model.Metric)
	require.NoError(t, err)
	require.Empty(t, trial.Failed)
	require.Empty(t, trial.Unreached)
	_, err = Starter("Our House")
	require.Error(t, err)
}
