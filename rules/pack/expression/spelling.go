package expression

import (
	"fmt"
	"strings"

	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// spelled holds the words that a fact is compared with against those that it can be. A misspelt one would never be true,
// and a rule that never applies passes for one that is met. Part says that the words are looked for within the fact.
func (c *checker) spelled(fact, with *node, part bool) bool {
	if fact.op != opFact {
		return true
	}
	words := []*node{with}
	if with.op != opParam && with.typ.Kind == List {
		words = with.args
	}
	sound := true
	for _, n := range words {
		for _, word := range n.words() {
			if wrong, fix := Misspelt(fact.path.fact, word, part); wrong != "" {
				p := problem.Problem{Place: n.src.Character(n.at), Message: wrong, Fix: fix, Expression: n.src.Text, Caret: n.at}
				if n.op == opParam { // wherever it is used, it is wrong where it is set
					p = problem.Problem{Place: n.param.Place, Message: fmt.Sprintf("the param %s: %s", n.name, wrong), Fix: fix}
				}
				c.problems = append(c.problems, p)
				sound = false
			}
		}
	}
	return sound
}

// words is the texts that a node is or lists, where it does not depend on facts.
func (n *node) words() []string {
	v, constant := n.constant()
	switch {
	case !constant:
		return nil
	case v.Type.Kind == Text:
		return []string{v.Text}
	}
	var out []string
	for _, item := range v.List {
		if item.Type.Kind == Text {
			out = append(out, item.Text)
		}
	}
	return out
}

// Misspelt says what is wrong with a word that a fact is said to be, or to contain, and what to write instead; nothing
// where the fact can be that word.
func Misspelt(f *vocabulary.Fact, word string, part bool) (wrong, fix string) {
	if len(f.Words.List) == 0 {
		return "", ""
	}
	words := []string{word}
	if f.Words.Joined {
		words = strings.Split(word, ", ")
	}
	for _, one := range words {
		if wrong, fix = misspelt(f, one, part); wrong != "" {
			return wrong, fix
		}
	}
	return "", ""
}

func misspelt(f *vocabulary.Fact, word string, part bool) (wrong, fix string) {
	list := f.Words.List
	meant := problem.Nearest(word, list)
	for _, known := range list {
		if known == word || part && strings.Contains(known, word) {
			return "", ""
		}
		if strings.EqualFold(known, word) {
			meant = known
		}
	}
	switch {
	case meant != "":
		return fmt.Sprintf("%s is never %q", f.Name, word), fmt.Sprintf("did you mean %q?", meant)
	case f.Words.Open:
		return "", ""
	}
	return fmt.Sprintf("%s is never %q", f.Name, word), "it is one of " + strings.Join(list, ", ")
}
