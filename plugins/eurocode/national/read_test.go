package national

import (
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFor(t *testing.T) {
	assert.Equal(t, []string{"GB-ENG", "GB-NIR", "GB-SCT", "GB-WLS", "IE", "recommended"}, Codes())
	for _, code := range Codes() {
		choices, absent := For(code)
		require.Empty(t, absent)
		assert.Contains(t, choices.Serves, code)
	}
	_, absent := For("DE")
	assert.EqualValues(t, `no national choices are held for "DE"; they are held for GB-ENG, GB-NIR, GB-SCT, GB-WLS, IE, recommended`, absent)
}

// What a file leaves out is known by name, so that a value that went missing is seen here.
func TestWhatIsNotSourced(t *testing.T) {
	for code, want := range map[string][]string{
		"GB-ENG":      {"timber.instant", "timber.instant_cantilever"}, // the UK sets no limit on it
		"recommended": {"loads.ceiling", "snow.ground", "timber.vibration", "steel.variable_brittle", "steel.variable_other", "steel.variable_cantilever", "steel.total"},
	} {
		t.Run(code, func(t *testing.T) {
			choices, absent := For(code)
			require.Empty(t, absent)
			var missing []string
			eachChoice(reflect.ValueOf(choices), "", func(path string, c choice) {
				if reflect.ValueOf(c).Elem().FieldByName("Source").String() == "" {
					missing = append(missing, path)
				}
			})
			assert.Equal(t, want, missing)
		})
	}
}

// A source says where its value was read, or that it is memory, or that it has none; what it says it was read in can be found.
func TestASourceSaysWhereItWasRead(t *testing.T) {
	standard, named := regexp.MustCompile(`^(EN [0-9-]+) .*\(read\)`), regexp.MustCompile(`read in ([^,;)]+)`)
	for _, code := range []string{"GB-ENG", "recommended"} {
		choices, absent := For(code)
		require.Empty(t, absent)
		eachChoice(reflect.ValueOf(choices), "", func(path string, c choice) {
			source := reflect.ValueOf(c).Elem().FieldByName("Source").String()
			texts := append(standard.FindAllStringSubmatch(source, -1), named.FindAllStringSubmatch(source, -1)...)
			for _, text := range texts {
				assert.Contains(t, choices.ReadIn, text[1], "%s %s", code, path)
			}
			if source != "" && len(texts) == 0 {
				assert.Regexp(t, "memory|no source", source, "%s %s", code, path)
			}
		})
	}
}

// Where EN 1995-1-1 names two classes for an action, as Table 2.2 (read) does for snow and wind, no country having spoken, the
// longer and weaker one holds.
func TestTheLongerDurationWhereNoCountryHasSpoken(t *testing.T) {
	choices, absent := For("recommended")
	require.Empty(t, absent)
	for action, want := range map[string]Duration{"dead": Permanent, "storage": LongTerm, "imposed": MediumTerm, "snow": MediumTerm, "wind": ShortTerm} {
		got, absent := choices.Durations.Get(action)
		require.Empty(t, absent)
		assert.Equal(t, want, got, action)
	}
}

func TestNothingIsSourcedForIreland(t *testing.T) {
	choices, absent := For("IE")
	require.Empty(t, absent)
	_, absent = choices.Timber.GammaMSolid.Get()
	assert.EqualValues(t, "not sourced: the national choices for IE give no source for timber.gamma_M_solid; ask the engineer for it", absent)
	_, absent = choices.Combinations.Psi.Get("A")
	assert.EqualValues(t, `not sourced: the national choices give nothing for "A"; ask the engineer for it`, absent)
}

func TestAValueOfTheZeroStructIsAbsent(t *testing.T) {
	var none Choices
	_, absent := none.Timber.GammaMSolid.Get()
	assert.NotEmpty(t, absent)
	_, absent = Table[float64]{"1": nil}.Get("1")
	assert.NotEmpty(t, absent)
	known := Known(1.3, "a test")
	value, absent := known.Get()
	assert.Empty(t, absent)
	assert.Equal(t, 1.3, value)
}

func TestReadRefuses(t *testing.T) {
	for name, row := range map[string]struct{ text, says string }{
		"a key that is not known":        {`{"id": "X", "serves": ["X"], "basis": "read", "wood": {}}`, `unknown field "wood"`},
		"a value without a source":       {`{"id": "X", "serves": ["X"], "basis": "read", "timber": {"gamma_M_solid": {"value": 1.3}}}`, "timber.gamma_M_solid has a value without a source"},
		"a factor below 0":               {`{"id": "X", "serves": ["X"], "basis": "read", "steel": {"gamma_M0": {"value": -1, "source": "s"}}}`, "steel.gamma_M0 is -1"},
		"a factor left at 0":             {`{"id": "X", "serves": ["X"], "basis": "read", "steel": {"gamma_M0": {"source": "s"}}}`, "steel.gamma_M0 is 0"},
		"a value in a table likewise":    {`{"id": "X", "serves": ["X"], "basis": "read", "masonry": {"K": {"clay": {"1": {"value": 0.5}}}}}`, "masonry.K.clay.1 has a value without a source"},
		"a duration that is none":        {`{"id": "X", "serves": ["X"], "basis": "read", "durations": {"snow": {"value": "brief", "source": "s"}}}`, `"brief" is no load-duration class`},
		"a file that says no country":    {`{}`, "id, serves and basis must say which country this is"},
		"a second object in the file":    {`{"id": "X", "serves": ["X"], "basis": "read"} {}`, "more follows after the first object"},
		"what is no JSON":                {`{"id": `, "unexpected EOF"},
		"all faults of one file at once": {`{"timber": {"k_cr_LVL": {"value": 1}, "gamma_M_LVL": {"value": 1}}}`, "gamma_M_LVL has a value without a source\nnational choices for : timber.k_cr_LVL"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Read([]byte(row.text))
			assert.ErrorContains(t, err, row.says)
		})
	}
}

func TestDurationNames(t *testing.T) {
	for _, d := range Durations {
		var back Duration
		require.NoError(t, back.UnmarshalText([]byte(d.String())))
		assert.Equal(t, d, back)
	}
	assert.Equal(t, "no duration class", Duration(0).String())
	assert.Equal(t, "no duration class", Duration(99).String())
	assert.True(t, Permanent < LongTerm && LongTerm < MediumTerm && MediumTerm < ShortTerm && ShortTerm < Instantaneous)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"id": "X", "serves": ["X"], "basis": "read", "timber": {"gamma_M_solid": {"value": 1.3, "source": "s"}}}`))
	f.Add([]byte(`{"id": "X", "serves": ["X"], "basis": "read", "masonry": {"K": {"clay": {"1": null}}}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		choices, err := Read(data)
		if err != nil {
			require.NotEmpty(t, strings.TrimSpace(err.Error()))
			return
		}
		eachChoice(reflect.ValueOf(choices), "", func(path string, c choice) { require.NoError(t, c.fault(), path) })
	})
}
