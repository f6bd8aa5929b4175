package problem

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNearest(t *testing.T) {
	names := []string{"bearing", "breadth", "depth", "centres", "on", "is_end"}
	for _, row := range []struct{ what, name, want string }{
		{"a letter too many", "bearringg", "bearing"},
		{"a letter that is wrong", "beering", "bearing"},
		{"two letters swapped", "cnetres", "centres"},
		{"the other spelling", "centers", "centres"},
		{"a letter missing", "deph", "depth"},
		{"a short name", "no", "on"},
		{"nothing alike", "weather", ""},
		{"an absurd length", strings.Repeat("bearing", 40), ""},
		{"nothing", "", ""},
	} {
		require.Equal(t, row.want, Nearest(row.name, names), row.what)
	}
}

func TestAProblemShowsThePlace(t *testing.T) {
	p := Problem{Place: Place{"a.yaml", 3, 7}, Rule: "r", Message: "no", Fix: "yes", Expression: "first\nsécond line", Caret: 8, Related: &Place{File: "b.yaml"}}
	require.Equal(t, "a.yaml:3:7: rule r: no (see b.yaml)\n    sécond line\n      ^\n    yes", p.Error())
	long := Problem{Expression: strings.Repeat("x", 200) + "!" + strings.Repeat("y", 200), Caret: 200}
	lines := strings.Split(long.Error(), "\n")
	require.Len(t, lines, 3)
	require.Equal(t, "!", lines[1][strings.Index(lines[2], "^"):][:1], "the caret stands under its character")
	require.Less(t, len(lines[1]), 130)
	require.NotPanics(t, func() { _ = Problem{Expression: "a", Caret: 99}.Error() })
}

func TestProblemsAreSortedAndToldOnce(t *testing.T) {
	at := func(line int) Problem { return Problem{Place: Place{"a", line, 1}, Message: "m"} }
	require.Equal(t, Problems{at(1), at(2)}, Problems{at(2), at(1), at(2)}.Sorted())
	require.NoError(t, Problems{}.Err())
}
