package pack

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/vocabulary"
)

// hostilePack is a pack whose one rule has the keys given.
func hostilePack(keys string) string {
	return "pack: house\nformat: 1\nedition: \"1\"\ntitle: t\nrules:\n  - id: trap\n    title: t\n    judges: member\n    severity: stop\n    say: s\n    source: s\n    why: w\n" + keys
}

// TestHostilePacksEndInAnError holds that what would run for long, or overflow the stack, ends in an error that names
// the rule (or the file, where there is no rule yet).
func TestHostilePacksEndInAnError(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	doubling := "define:\n  d0: depth + depth\n"
	for i := 1; i < 30; i++ {
		doubling += fmt.Sprintf("  d%d: d%d + d%d\n", i, i-1, i-1)
	}
	deepFlow := strings.Repeat("[", 200_000)
	for _, row := range []struct{ what, text, says string }{
		{"a million open brackets", hostilePack("    require: " + strings.Repeat("(", 250_000) + "\n"), "rule trap: "},
		{"brackets just below the length", hostilePack("    require: " + strings.Repeat("(", 2000) + "true" + strings.Repeat(")", 2000) + "\n"), "brackets deep"},
		{"a chain of nots", hostilePack("    require: '" + strings.Repeat("!", 4000) + "is_tied and'\n"), "rule trap: "},
		{"a chain of choices", hostilePack("    require: '" + strings.Repeat("is_tied?is_tied:", 250) + "is_tied and'\n"), "rule trap: "},
		{"a long expression", hostilePack("    require: " + strings.Repeat("is_tied and ", 1000) + "is_tied\n"), "longer than 4096 bytes"},
		{"definitions that double", hostilePack("    require: d29 > mm(1)\n") + doubling, "more than 5000 parts"},
		{"texts that double", hostilePack("    require: 'grade + grade + grade + grade == \"\"'\n"), "texts are not joined"},
		{"a repeated text", hostilePack("    require: repeat(grade, 1000000000) == \"\"\n"), "repeat is no function"},
		{"a wide range", hostilePack("    require: any(1..1000000000, true)\n"), "a range is not read"},
		{"conditions ten deep", hostilePack("    require: " + strings.Repeat("all(supports, any(.member.landings, ", 5) + "true" + strings.Repeat("))", 5) + "\n"), "inside each other"},
		{"a huge pattern", hostilePack("    require: 'grade matches \"((((a{100}){100}){100}){100})\"'\n"), "the pattern cannot be read"},
		{"lists in lists", "pack: " + deepFlow, "too deep"},
		{"list marks in list marks", strings.Repeat("- ", 100_000), "too deep"},
		{"a huge file", "pack: house\n" + strings.Repeat("# nothing\n", 40_000), "larger than"},
		{"rules that double together", "pack: house\nformat: 1\nedition: a\ntitle: t\n" + doubling + "rules:\n" + strings.Repeat(strings.TrimPrefix(hostilePack("    require: d11 > mm(1)\n"), hostilePack("")[:strings.Index(hostilePack(""), "  - id")]), 200), "more than 50000 parts"},
		{"many keys", "a: b\n" + strings.Repeat("k: 1\n", 2000), "side by side"},
		{"many documents", strings.Repeat("---\na\n", 1000), "more than one document"},
		{"a wide flow", hostilePack("    require: true\n") + "needs: [{" + strings.Repeat("b: c,", 40_000) + "}]", "more problems are not shown"},
		{"a file of quotes", strings.Repeat("\"", 100_001), ""},
		{"zero bytes", "pack: \x00\x00", ""},
	} {
		t.Run(row.what, func(t *testing.T) {
			started := time.Now()
			p, _ := Parse([]byte(row.text), "house.yaml", House)
			err := Vet(book, p)
			require.Error(t, err)
			require.Contains(t, err.Error(), row.says)
			t.Log(time.Since(started))
		})
	}
}

// TestARunawayRuleFailsTheRun holds that a rule over nested collections ends in a failure that names it, on the first
// row, and that the other rules are judged as ever.
func TestARunawayRuleFailsTheRun(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	text := hostilePack("    require: all(supports, all(.member.supports, all(.member.supports, all(.member.supports, .bearing >= 0))))\n") +
		"  - {id: calm, title: t, judges: member, severity: stop, say: s, source: s, why: w, require: len(supports) > 3}\n"
	p, err := Parse([]byte(text), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	f := starOfSupports(book, 300)
	started := time.Now()
	j := s.Judge(f, Options{Matrix: true})
	t.Log(time.Since(started))
	require.Len(t, j.Failures, 1)
	require.Contains(t, j.Failures[0].Error(), "house/trap")
	require.Contains(t, j.Failures[0].Error(), "too many steps")
	require.Equal(t, []Outcome{Failed, Failed}, j.Matrix[0])
	require.Equal(t, []Outcome{Met, Met}, j.Matrix[1])
	require.Empty(t, j.Verdicts)
}

// starOfSupports is two members that share many supports, all of the first.
func starOfSupports(book *vocabulary.Book, n int) *vocabulary.Facts {
	f := vocabulary.NewFacts(book)
	f.Tables[vocabulary.Member].Rows = 2
	f.Tables[vocabulary.Support].Rows = n
	supports, owner := &vocabulary.Link{Start: []int32{0, int32(n), int32(2 * n)}}, &vocabulary.Link{Start: []int32{0}}
	bearing := &vocabulary.Column{}
	for i := range int32(n) {
		supports.Rows = append(supports.Rows, i)
		owner.Rows, owner.Start = append(owner.Rows, 0), append(owner.Start, i+1)
		bearing.Numbers = append(bearing.Numbers, 100)
	}
	supports.Rows = append(supports.Rows, supports.Rows...)
	f.Links[book.Relation(vocabulary.Member, "supports").ID()] = supports
	f.Links[book.Relation(vocabulary.Support, "member").ID()] = owner
	f.Columns[book.Fact(vocabulary.Support, "bearing").ID()] = bearing
	return f
}

func FuzzRead(f *testing.F) {
	book, err := vocabulary.NewBook()
	require.NoError(f, err)
	f.Add([]byte(starter))
	f.Add([]byte("pack: a\nrules: [{id: b, require: 'x > {'}]"))
	f.Add([]byte("- &a [*a, !!x y]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Parse(data, "fuzz.yaml", House)
		require.NotNil(t, p)
		s, compileErr := Compile(book, p)
		require.Equal(t, compileErr == nil, s != nil)
		if err != nil {
			require.Error(t, compileErr)
			_ = compileErr.Error()
		}
	})
}
