package packtest

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

// Same holds all expressions of all rules of a set, on all rows of all their examples, to expr's own machine: the same
// answer, absence and its reason included. It returns every difference, and how many answers were compared.
func Same(s *pack.Set) (compared int, err error) {
	var differences []error
	problems := s.WalkExamples(func(w pack.Walked) {
		for _, x := range w.Expressions {
			n, err := SameExpression(x, w.Rule.Judges, w.Names, w.Facts)
			compared += n
			if err != nil {
				differences = append(differences, fmt.Errorf("%s: %w", w.Rule.ID, err))
			}
		}
	})
	return compared, errors.Join(append(differences, problems)...)
}

// SameExpression holds one expression to expr's own machine on every row of the subject that it is about.
func SameExpression(x *expression.Expression, subject vocabulary.Subject, names expression.Names, f *vocabulary.Facts) (compared int, err error) {
	machine, err := NewMachine(x.Source.Text, subject, names, f)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", x.Source.Text, err)
	}
	plain, traced := evaluation(expression.NewBinder(f, nil), x), evaluation(expression.NewBinder(f, expression.NewTrace()), x)
	run, t := &expression.Run{}, &f.Tables[subject]
	for row := range int32(t.Rows) {
		want, absent, err := machine.Evaluate(row)
		if err != nil {
			return compared, fmt.Errorf("%s: %w", x.Source.Text, err)
		}
		document := row
		if t.Document != nil {
			document = t.Document[row]
		}
		for _, evaluate := range []func(*expression.Run) any{plain, traced} {
			run.Begin(row, document)
			got, why := evaluate(run), f.Explain(run.Absent)
			compared++
			switch {
			case !sameReason(absent, why):
				return compared, fmt.Errorf("%s: row %d: absent %q, on the machine %q", x.Source.Text, row, why, absent)
			case absent == "" && !sameValue(got, want):
				return compared, fmt.Errorf("%s: row %d: %v, on the machine %v", x.Source.Text, row, got, want)
			}
		}
	}
	return compared, nil
}

func evaluation(b *expression.Binder, x *expression.Expression) func(*expression.Run) any {
	switch x.Type.Kind {
	case expression.Number:
		f := b.Number(x)
		return func(r *expression.Run) any { return f(r) }
	case expression.Text:
		f := b.Text(x)
		return func(r *expression.Run) any { return f(r) }
	}
	f := b.Truth(x)
	return func(r *expression.Run) any { return f(r) }
}

// sameReason compares reasons of absence; those of tables are worded by the closures alone.
func sameReason(machine, closures string) bool {
	if strings.HasPrefix(machine, outOfTable) {
		return strings.Contains(closures, "the table "+strings.TrimPrefix(machine, outOfTable))
	}
	return machine == closures
}

func sameValue(got, want any) bool {
	a, isNumber := got.(float64)
	b, same := want.(float64)
	if isNumber && same {
		return a == b || math.Abs(a-b) <= 1e-12*math.Abs(b)
	}
	return got == want
}
