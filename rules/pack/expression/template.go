package expression

import (
	"strings"

	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// CheckTemplate splits a text at its braces and checks the expressions in them. "{{" is a brace.
func CheckTemplate(src *Source, book *vocabulary.Book, subject vocabulary.Subject, names Names) (*Template, problem.Problems) {
	t := &Template{}
	var problems problem.Problems
	runes := []rune(src.Text)
	var plain strings.Builder
	flush := func() {
		if plain.Len() > 0 {
			t.parts = append(t.parts, part{text: plain.String()})
			plain.Reset()
		}
	}
	fault := func(at int, message, fix string) {
		problems = append(problems, problem.Problem{Place: src.Character(at), Message: message, Fix: fix, Expression: src.Text, Caret: at})
	}
	for i := 0; i < len(runes); i++ {
		switch {
		case runes[i] == '{' && i+1 < len(runes) && runes[i+1] == '{':
			plain.WriteRune('{')
			i++
		case runes[i] == '}' && i+1 < len(runes) && runes[i+1] == '}':
			plain.WriteRune('}')
			i++
		case runes[i] == '}':
			fault(i, "a brace closes that was not opened", `write "}}" for a brace in the text`)
		case runes[i] == '{':
			end := closing(runes, i+1)
			if end < 0 {
				fault(i, "the brace is not closed", `write "{{" for a brace in the text`)
				return nil, problems
			}
			flush()
			inner := &Source{Text: string(runes[i+1 : end]), Place: src.Character(i + 1)}
			from := i + 1
			inner.At = func(n int) problem.Place { return src.Character(from + n) }
			x, _, wrong := Check(inner, book, subject, names)
			if x != nil && x.Type.Kind > Truth {
				fault(i+1, x.Type.phrase()+" cannot be printed", "name one of its facts")
			}
			problems = append(problems, wrong...)
			t.parts = append(t.parts, part{expr: x})
			i = end
		default:
			plain.WriteRune(runes[i])
		}
	}
	flush()
	return t, problems
}

// closing is the index of the brace that closes what was opened before from, or -1.
func closing(runes []rune, from int) int {
	depth := 0
	var quote rune
	for i := from; i < len(runes); i++ {
		switch r := runes[i]; {
		case quote != 0:
			if r == quote {
				quote = 0
			}
		case r == '"' || r == '\'':
			quote = r
		case r == '{':
			depth++
		case r == '}' && depth == 0:
			return i
		case r == '}':
			depth--
		}
	}
	return -1
}
