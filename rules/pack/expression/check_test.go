package expression_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

func regionalBook(t testing.TB) *vocabulary.Book {
	book, err := vocabulary.NewBook(
		vocabulary.Fact{Subject: vocabulary.Member, Name: "ec5.bending", Type: vocabulary.Number, Text: "utilisation in bending"},
		vocabulary.Fact{Subject: vocabulary.Support, Name: "ec5.bearing", Type: vocabulary.Number, Text: "utilisation in bearing"},
	)
	require.NoError(t, err)
	return book
}

func TestDimensions(t *testing.T) {
	book, names := regionalBook(t), testNames(t)
	for _, row := range []struct{ text, is string }{
		{"depth", "length"}, {"depth * breadth", "area"}, {"depth ** 3", "section modulus"}, {"depth / breadth", "plain number"},
		{"moment / (breadth * depth ** 2 / 6)", "force per area"}, {"sqrt(depth * breadth)", "length"}, {"sqrt(plies)", "plain number"},
		{"sin(slope)", "plain number"}, {"atan(depth / breadth)", "angle"}, {"atan(1) + slope", "angle"}, {"abs(-depth)", "length"},
		{"min(depth, breadth, 0)", "length"}, {"max(0, depth)", "length"}, {"sum(supports, .reaction)", "force"},
		{"max(map(supports, .reaction / .bearing))", "force per length"}, {"min(map(filter(supports, .is_end), .bearing))", "length"},
		{"len(supports)", "plain number"}, {"count(supports, .is_end)", "plain number"}, {"is_tied ? depth : 0", "length"},
		{"if is_tied { 0 } else { depth }", "length"}, {"kN(5) / m(2)", "force per length"}, {"kN_m2(1) * m2(2)", "force"},
		{"line_load * span ** 2 / 8", "moment"}, {"depth % mm(10)", "length"}, {"reaches.span(role, width, depth)", "length"},
		{"reaches.load(role, width, 0)", "force"}, {"least * 2", "length"}, {"ec5.bending", "plain number"}, {"member.ec5.bending", "plain number"},
		{"max(map(supports, .ec5.bearing))", "plain number"}, {"piece_mass / length", "mass per length"}, {"+depth", "length"}, {"depth ^ -1", "mm^-1"},
		{"kg(3)", "mass"}, {"psf(30) / N_mm2(1)", "plain number"}, {"grade", "text"}, {"known(grade)", "truth"}, {"member.depth", "length"},
		{"round(depth / mm(1))", "plain number"}, {"span / 360", "length"}, {"1 / 3", "plain number"}, {"plies ** 0.5", "plain number"},
	} {
		x, _, problems := expression.Check(&expression.Source{Text: row.text}, book, vocabulary.Member, names)
		require.Empty(t, problems, row.text)
		require.Equal(t, row.is, x.Type.String(), row.text)
	}
	for _, row := range []struct{ text, is string }{
		{"bearing", "length"}, {"support.bearing", "length"}, {"member.depth", "length"}, {"on.depth", "length"}, {"ec5.bearing", "plain number"},
		{"member.ec5.bending", "plain number"}, {"max(map(on.landings, .bearing))", "length"}, {"min(map(member.supports, .member.depth))", "length"},
	} {
		x, _, problems := expression.Check(&expression.Source{Text: row.text}, book, vocabulary.Support, names)
		require.Empty(t, problems, row.text)
		require.Equal(t, row.is, x.Type.String(), row.text)
	}
}

func TestWhatIsRefused(t *testing.T) {
	book, names := regionalBook(t), testNames(t)
	for _, row := range []struct{ text, says string }{
		{"depth > moment", "> compares a length and a moment"},
		{"depth > 5", "give the number its unit: mm(5)"},
		{"slope > 30", "give the number its unit: deg(30)"},
		{"depth == 90", "mm(90)"},
		{"depth in [90, 100]", "in looks for a length in a list of plain numbers"},
		{"depth in [mm(90), kN(1)]", "the list mixes a length and a force"},
		{"role in [depth]", "a list holds constant"},
		{"role in role", "in looks in a list"},
		{"role == depth", "== compares a text and a length"},
		{"sin(30)", "sin(deg(30))"},
		{"sin(depth)", "sin takes an angle"},
		{"sqrt(depth)", "a length has no square root"},
		{"depth ** plies", "whole constant"},
		{"depth ** 2.5", "whole constant"},
		{"2 ** depth", "an exponent is a plain number"},
		{"mm(depth)", "makes a quantity of a plain number"},
		{"mm(1, 2)", "mm takes 1 arguments"},
		{"floor(depth)", "divide by its unit first"},
		{"min(depth, 5)", "min compares a length and a plain number"},
		{"min(depth)", "two numbers or more"},
		{"min(supports)", "min(map(supports, .bearing))"},
		{"sum(supports)", "sum(supports, .reaction)"},
		{"count(supports)", "len(c)"},
		{"is_tied ? depth : 5", "the two sides of a choice"},
		{"is_tied ? supports : landings", "a choice between collections"},
		{"depth and is_tied", "and takes a truth"},
		{"not depth", "not takes a truth"},
		{"-role", "- takes a number"},
		{"role < grade", "compare texts and truths with =="},
		{"supports == landings", "use any(...)"},
		{"any(depth, true)", "any takes a collection"},
		{"any(supports, depth)", "any takes a truth"},
		{"any(supports, bearing > 0)", "write .bearing for the support's"},
		{"bearing > 0", "ask it of the supports: any(supports, .bearing ...)"},
		{"any(supports, .on.moment > 0)", "worked out too late"},
		{"any(supports, .on.ec5.bending > 0)", "worked out too late"},
		{"grade matches role", "a constant pattern"},
		{`grade matches "("`, "the pattern cannot be read"},
		{`grade matches "` + strings.Repeat("a", 300) + `"`, "longer than 200 bytes"},
		{"known(depth > 0)", "known asks about a fact"},
		{"known(supports)", "known asks about a fact"},
		{"known(member)", "known asks about a fact"},
		{"reaches", "reaches is a table"},
		{"reaches.span(role, depth)", "has 3 keys, and here are 2"},
		{"depth + role", "+ takes numbers"},
		{"depth ** 6 * depth ** 6 * depth ** 6", "no quantity has such a dimension"},
		{"99999999999999999", "too large"},
		{"any(supports, #index > 0)", "#index is not read"},
		{"depht > 0", `did you mean "depth"?`},
		{"roof > 0", "`scantling facts` lists"},
		{"ec5.bendng > 0", `did you mean "ec5.bending"?`},
		{"trim(grade) == \"\"", "trim is no function"},
		{"now() > 0", "now is no function"},
		{"map(supports, .bearing) > 0", "compares numbers"},
		{"grade?.x", "is not read"},
		{"role[0:1] == \"r\"", "cannot be taken by number"},
		{"{a: 1} == 1", "a mapping is no value"},
		{"depth; span", "one expression"},
	} {
		x, _, problems := expression.Check(&expression.Source{Text: row.text}, book, vocabulary.Member, names)
		require.Nil(t, x, row.text)
		require.NotEmpty(t, problems, row.text)
		require.Contains(t, problems.Error(), row.says, row.text)
	}
}
