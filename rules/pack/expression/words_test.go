package expression_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

func TestTheSideOfWhatIsNeeded(t *testing.T) {
	book, names := regionalBook(t), testNames(t)
	for _, row := range []struct{ require, need, want string }{
		{"depth <= mm(90)", "mm(90)", "<="},
		{"mm(90) <= depth", "mm(90)", ">="},
		{"is_tied or known(breadth) and breadth > depth / 3", "depth / 3", ">"},
		{"all(supports, .bearing >= depth)", "depth", ">="},
		{"depth <= mm(90)", "mm(80)", ""},
		{"not (depth <= mm(90))", "mm(90)", ""},
		{"abs(depth / breadth - 1) <= 0.05", "breadth", ""},
	} {
		check := func(text string) *expression.Expression {
			x, _, problems := expression.Check(&expression.Source{Text: text}, book, vocabulary.Member, names)
			require.Empty(t, problems, text)
			return x
		}
		assert.Equal(t, row.want, check(row.require).Against(check(row.need)), row.require)
	}
}

func TestExpressionsInWords(t *testing.T) {
	book, names := regionalBook(t), testNames(t)
	for _, row := range []struct {
		text string
		want []string // one clause for each condition
	}{
		{"depth > mm(90)", []string{"its depth is more than 90 mm"}},
		{"not (depth > mm(90))", []string{"its depth is at most 90 mm"}},
		{"is_tied and in_circle and leans", []string{"it is tied", "it is in a circle", "it leans"}},
		{"not carries_brittle and not thrust_taken", []string{"it does not carry brittle", "its thrust is not taken"}},
		{"not (is_tied or role == \"rafter\")", []string{"it is not tied and its role is not rafter"}},
		{"not (is_tied and leans)", []string{"either it is not tied, or it does not lean"}},
		{"is_tied or depth < mm(9) and leans", []string{"either it is tied, or (its depth is less than 9 mm and it leans)"}},
		{"role in [\"rafter\", \"purlin\", \"tie\"]", []string{"its role is rafter, purlin or tie"}},
		{"role not in [\"rafter\", \"purlin\"]", []string{"its role is none of rafter, purlin"}},
		{"plies >= 2 and centres <= mm(600)", []string{"plies are at least 2", "its centres are at most 600 mm"}},
		{"known(grade) and not known(thrust_taken)", []string{"its grade is known", "it is not known whether its thrust is taken"}},
		{"circle == \"\"", []string{"its circle is empty"}},
		{"any(supports, .bearing < mm(50))", []string{"for at least one of its supports, the bearing is less than 50 mm"}},
		{"any(supports, .by == \"hanger\")", []string{"for at least one of its supports, the fixing is hanger"}},
		{"all(supports, .capacity_basis == \"design\")", []string{"for each of its supports, the basis of the capacity is design"}},
		{"not any(supports, .is_end)", []string{"for none of its supports, it is an end"}},
		{"all(supports, .on.role == \"wall\")", []string{"for each of its supports, the role of what it rests on is wall"}},
		{"span <= (depth + breadth) * 20", []string{"its span is at most (its depth plus its breadth) times 20"}},
		{"depth >= (is_tied ? mm(50) : breadth)", []string{"its depth is at least 50 mm if it is tied, otherwise its breadth"}},
		{"old_not_relied_on", []string{"old not relied on is so (the drawings say that the existing frame is not to be relied on)"}},
		{"is_tied == false", []string{"it is not tied"}},
	} {
		x, _, problems := expression.Check(&expression.Source{Text: row.text}, book, vocabulary.Member, names)
		require.Empty(t, problems, row.text)
		assert.Equal(t, row.want, x.Words(model.Metric), row.text)
	}
}
