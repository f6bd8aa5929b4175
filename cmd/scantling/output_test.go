package main

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
)

// Whatever a command says of itself fits 80 columns.
func TestHelpFitsThePage(t *testing.T) {
	var each func(cmd *cobra.Command, path []string)
	each = func(cmd *cobra.Command, path []string) {
		var out bytes.Buffer
		assert.Equal(t, statusClean, run(append(path, "--help"), strings.NewReader(""), &out, &out))
		for _, line := range strings.Split(out.String(), "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "%v: %s", path, line)
		}
		for _, sub := range cmd.Commands() {
			each(sub, append(path[:len(path):len(path)], sub.Name()))
		}
	}
	each((&app{}).root(), nil)
}

func TestParagraphsRunOn(t *testing.T) {
	long := strings.Repeat("word ", 20)
	for _, c := range []struct{ what, text, want string }{
		{"lines of a paragraph run on", "one\ntwo\n\nthree", "one two\n\nthree"},
		{"a line that is set in stands alone", "Kinds:\n  a   first\n  b   second", "Kinds:\n  a   first\n  b   second"},
		{"a long line is broken", strings.TrimSpace(long), strings.TrimSpace(strings.Repeat("word ", 16)) + "\n" + strings.TrimSpace(strings.Repeat("word ", 4))},
		{"what follows of an item is set in further", "  " + long, "  " + strings.TrimSpace(strings.Repeat("word ", 15)) + "\n    " + strings.TrimSpace(strings.Repeat("word ", 5))},
		{"nothing is nothing", "", ""},
	} {
		assert.Equal(t, c.want, paragraphs(c.text), c.what)
	}
}

func TestTooFewWordsAreToldHowTheCallGoes(t *testing.T) {
	var out bytes.Buffer
	assert.Equal(t, statusUnusable, run([]string{"compare", "a.json"}, strings.NewReader(""), &out, &out))
	assert.Contains(t, out.String(), "scantling: compare was given a.json and nothing else; the call is: scantling compare MODEL BUILT [flags]")
}
