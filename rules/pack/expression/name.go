package expression

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/expr-lang/expr/ast"

	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// name resolves an identifier, a dotted name or a fact of a predicate's element.
func (c *checker) name(at ast.Node) *node {
	parts, level, ok := c.parts(at)
	if !ok {
		return nil
	}
	if level == 0 {
		if n, found := c.own(at, parts); found {
			return n
		}
		return c.path(at, c.subject, 0, parts)
	}
	return c.path(at, c.elements[level-1], level, parts)
}

// parts splits a dotted name; level is the predicate whose element it begins with, or 0.
func (c *checker) parts(at ast.Node) (parts []string, level int, ok bool) {
	switch n := at.(type) {
	case *ast.IdentifierNode:
		return []string{n.Value}, 0, true
	case *ast.PointerNode:
		if n.Name != "" {
			c.problem(at, "", "#%s is not read", n.Name)
			return nil, 0, false
		}
		return nil, len(c.elements), true
	case *ast.MemberNode:
		property, named := n.Property.(*ast.StringNode)
		_, index := n.Property.(*ast.IntegerNode)
		if !named || index || n.Optional {
			c.problem(at, "say which are meant with filter(...) or any(...)", "[...] does not take a part of anything here")
			return nil, 0, false
		}
		parts, level, ok = c.parts(n.Node)
		return append(parts, property.Value), level, ok
	}
	c.problem(at, "", "only names and the elements of a collection have facts")
	return nil, 0, false
}

// own resolves a param, a definition or a table, unless the vocabulary has the name.
func (c *checker) own(at ast.Node, parts []string) (*node, bool) {
	name := strings.Join(parts, ".")
	if c.book.Fact(c.subject, parts[0]) != nil || c.book.Relation(c.subject, parts[0]) != nil || c.book.Fact(c.subject, name) != nil {
		return nil, false
	}
	if p, ok := c.names.Params[name]; ok {
		n := c.make(at, opParam, p.Value.Type, name)
		n.param = p
		return n, true
	}
	if src, ok := c.names.Defines[name]; ok {
		return c.define(at, name, src), true
	}
	if t, ok := c.names.Tables[name]; ok {
		if t == nil {
			return nil, true // its own problem has been said
		}
		return c.problem(at, "write its keys in brackets: "+c.usage(name), "%s is a table", name), true
	}
	return nil, false
}

// define reads a definition in the scope of the subject.
func (c *checker) define(at ast.Node, name string, src *Source) *node {
	if slices.Contains(c.defining, name) {
		return c.problem(at, "", "the definition of %s needs itself: %s", name, strings.Join(append(c.defining, name), " -> "))
	}
	outer := *c
	c.src, c.elements, c.defining = src, nil, append(slices.Clone(outer.defining), name)
	n := c.source()
	c.src, c.elements, c.defining = outer.src, outer.elements, outer.defining
	return n
}

// path resolves a dotted name from a row of a subject.
func (c *checker) path(at ast.Node, s vocabulary.Subject, level int, parts []string) *node {
	p := &path{level: level, start: s, text: strings.Join(parts, ".")}
	if level > 0 {
		p.text = "." + p.text
	}
	most := vocabulary.FromRegion
	// A subject goes by its own name too, where none of its facts or relations has that name.
	if level == 0 && len(parts) > 0 && parts[0] == s.String() && c.book.Fact(s, parts[0]) == nil && c.book.Relation(s, parts[0]) == nil {
		parts = parts[1:]
	}
	for i := 0; i < len(parts); i++ {
		name := strings.Join(parts[i:], ".")
		if f := c.book.Fact(s, name); f != nil {
			if f.Origin > most {
				return c.problem(at, "reach for what the document and the geometry say", "%s cannot be named here: it is worked out too late to be reached this way", p.text)
			}
			p.fact = f
			n := c.make(at, opFact, Type{Kind: factKind(f), Dimension: f.Dimension}, name)
			n.path = p
			return n
		}
		r := c.book.Relation(s, parts[i])
		switch {
		case r == nil:
			return c.unknown(at, s, name, level)
		case r.Many && i < len(parts)-1:
			return c.problem(at, fmt.Sprintf("write any(%s, .%s ...), all(...) or min(map(...))", r.Name, strings.Join(parts[i+1:], ".")),
				"%s is a collection", r.Name)
		case r.Many:
			p.many = r
			n := c.make(at, opRows, Type{Kind: Rows, Subject: r.To}, p.text)
			n.path = p
			return n
		}
		p.steps = append(p.steps, r)
		most = min(most, r.Most)
		s = r.To
	}
	n := c.make(at, opElement, Type{Kind: Row, Subject: s}, p.text)
	n.path = p
	return n
}

func factKind(f *vocabulary.Fact) Kind {
	return [...]Kind{vocabulary.Number: Number, vocabulary.Text: Text, vocabulary.Truth: Truth}[f.Type]
}

// unknown says that a name is not known, and which one is near.
func (c *checker) unknown(at ast.Node, s vocabulary.Subject, name string, level int) *node {
	if level == 0 && len(c.elements) > 0 {
		element := c.elements[len(c.elements)-1]
		if c.book.Fact(element, name) != nil || c.book.Relation(element, name) != nil {
			return c.problem(at, fmt.Sprintf("write .%s for the %s's", name, element), "%s is not known of the %s", name, s)
		}
	}
	known := c.known(s, level == 0 && s == c.subject)
	otherwise := fmt.Sprintf("`scantling facts` lists what is known of a %s", s)
	for _, other := range vocabulary.Subjects() {
		if other != s && c.book.Fact(other, name) != nil {
			otherwise = fmt.Sprintf("it is a fact of a %s", other)
			for _, r := range c.book.Relations(s) {
				if r.To == other && !r.Many {
					otherwise = fmt.Sprintf("write %s.%s", r.Name, name)
				} else if r.To == other {
					otherwise = fmt.Sprintf("ask it of the %s: any(%s, .%s ...)", r.Name, r.Name, name)
				}
			}
			break
		}
	}
	return c.problem(at, problem.DidYouMean(name, known, otherwise), "%s is not known of the %s", name, s)
}

// known lists the names that are known of a subject, and of the pack.
func (c *checker) known(s vocabulary.Subject, own bool) []string {
	var names []string
	for _, f := range c.book.Facts(s) {
		names = append(names, f.Name)
	}
	for _, r := range c.book.Relations(s) {
		names = append(names, r.Name)
	}
	if own {
		for n := range c.names.Params {
			names = append(names, n)
		}
		for n := range c.names.Defines {
			names = append(names, n)
		}
		for n := range c.names.Tables {
			names = append(names, n)
		}
	}
	sort.Strings(names)
	return names
}

// usage is how a table is called.
func (c *checker) usage(name string) string {
	t := c.names.Tables[name]
	keys := make([]string, len(t.Keys))
	for i, k := range t.Keys {
		keys[i] = k.Name
	}
	if len(t.Values) > 1 {
		name += "." + t.Values[0].Name
	}
	return name + "(" + strings.Join(keys, ", ") + ")"
}
