package expression

import (
	"slices"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// Words says an expression that is true or false in words, with quantities in some units: one clause for each
// condition that must hold. Facts go by their names, params by their value with the name beside it.
func (x *Expression) Words(u model.Units) []string {
	w := words{u}
	var out []string
	for _, n := range parts(x.root, opAnd) {
		out = append(out, w.clause(n, true))
	}
	return out
}

type words struct {
	units model.Units
}

// parts are the operands of nested nodes of one kind, or the node itself.
func parts(n *node, op op) []*node {
	if n.op != op {
		return []*node{n}
	}
	var out []*node
	for _, a := range n.args {
		out = append(out, parts(a, op)...)
	}
	return out
}

var comparisons = map[string][2]string{ // as it is, and when it is not so
	"<": {"is less than", "is at least"}, "<=": {"is at most", "is more than"}, ">": {"is more than", "is at most"},
	">=": {"is at least", "is less than"}, "==": {"is", "is not"}, "!=": {"is not", "is"},
}

var arithmetic = map[string]string{
	"+": "plus", "-": "less", "*": "times", "/": "over", "%": "modulo", "**": "to the power of", "^": "to the power of",
}

// clause says what is true or false: that it is so, or that it is not.
func (w words) clause(n *node, so bool) string {
	pick := func(yes, no string) string {
		if so {
			return yes
		}
		return no
	}
	switch n.op {
	case opNot:
		return w.clause(n.args[0], !so)
	case opAnd, opOr:
		list := parts(n, n.op)
		texts := make([]string, len(list))
		for i, a := range list {
			texts[i] = w.within(a, so)
		}
		if (n.op == opAnd) == so {
			return strings.Join(texts, " and ")
		}
		return "either " + strings.Join(texts, ", or ")
	case opCompare, opSame:
		if n.args[0].typ.Kind == Truth && n.args[1].op == opConstant {
			return w.clause(n.args[0], so == (n.args[1].value.Truth == (n.name == "==")))
		}
		c := comparisons[n.name]
		return w.sides(n, pick(c[0], c[1]))
	case opIn:
		return w.amount(n.args[0]) + " " + agreeing(n.args[0], pick("is", "is none of")) + " " + w.options(n.args[1], so)
	case opContains:
		return w.amount(n.args[0]) + pick(" contains ", " does not contain ") + w.amount(n.args[1])
	case opStartsWith:
		return w.amount(n.args[0]) + pick(" begins with ", " does not begin with ") + w.amount(n.args[1])
	case opEndsWith:
		return w.amount(n.args[0]) + pick(" ends with ", " does not end with ") + w.amount(n.args[1])
	case opMatches:
		return w.amount(n.args[0]) + pick(" matches ", " does not match ") + w.amount(n.args[1])
	case opKnown:
		if n.path.fact != nil && n.path.fact.Type == vocabulary.Truth {
			return pick("it is known whether ", "it is not known whether ") + w.truth(n.path, true)
		}
		return w.path(n.path) + " " + agreeing(n, pick("is known", "is not known"))
	case opFact, opElement:
		return w.truth(n.path, so)
	case opAll:
		return pick("for each of ", "not for each of ") + w.each(n, true)
	case opAny:
		return pick("for at least one of ", "for none of ") + w.each(n, true)
	case opNone:
		return pick("for none of ", "for at least one of ") + w.each(n, true)
	case opOne:
		return pick("for exactly one of ", "not for exactly one of ") + w.each(n, true)
	case opIf:
		return w.within(n.args[1], so) + " if " + w.within(n.args[0], true) + ", and otherwise " + w.within(n.args[2], so)
	}
	return pick("", "not ") + w.amount(n)
}

// within is a clause inside another, in brackets where its words would run into those around it.
func (w words) within(n *node, so bool) string {
	s := w.clause(n, so)
	for n.op == opNot {
		n = n.args[0]
	}
	switch n.op {
	case opAnd, opOr, opIf, opAll, opAny, opNone, opOne:
		return "(" + s + ")"
	}
	return s
}

// sides says a comparison.
func (w words) sides(n *node, relation string) string {
	right := w.amount(n.args[1])
	if v, ok := n.args[1].constant(); ok && v.Type.Kind == Text && v.Text == "" {
		right = "empty"
	}
	return w.amount(n.args[0]) + " " + agreeing(n.args[0], relation) + " " + right
}

// agreeing makes "is" agree with the name of a fact: its plies are, its bearing is.
func agreeing(n *node, relation string) string {
	if n.path == nil || n.path.fact == nil {
		return relation
	}
	name := strings.Fields(nounOf(n.path.fact))
	plural := func(word string) bool {
		return strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") && !strings.HasSuffix(word, "is") && verbs[word] == ""
	}
	last := name[len(name)-1]
	for i, word := range name { // of a thing of several words, what stands before the first of them that tells it nearer
		if i > 0 && (word == "of" || word == "that" || word == "over" || word == "without") {
			last = name[i-1]
			break
		}
	}
	if rest, found := strings.CutPrefix(relation, "is"); found && (plural(name[0]) || plural(last)) {
		return "are" + rest
	}
	return relation
}

// each is a collection with what is said of its elements.
func (w words) each(n *node, so bool) string {
	return w.amount(n.args[0]) + ", " + w.clause(n.args[1], so)
}

// amount says a number, a text or a collection.
func (w words) amount(n *node) string {
	switch n.op {
	case opConstant:
		return w.constant(n)
	case opParam:
		return w.value(n.param.Value) + " (" + spaced(n.param.Name) + ")"
	case opFact, opElement, opRows:
		return w.path(n.path)
	case opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower:
		return w.operand(n.args[0]) + " " + arithmetic[n.name] + " " + w.operand(n.args[1])
	case opNegate:
		return "minus " + w.operand(n.args[0])
	case opScale:
		return w.scaled(n)
	case opIf:
		return w.operand(n.args[1]) + " if " + w.within(n.args[0], true) + ", otherwise " + w.operand(n.args[2])
	case opCount:
		if len(n.args) == 1 {
			return "the number of " + w.amount(n.args[0])
		}
		return "the number of " + w.amount(n.args[0]) + " of which " + w.within(n.args[1], true)
	case opFilter:
		return w.amount(n.args[0]) + " of which " + w.within(n.args[1], true)
	case opMap:
		return w.amount(n.args[1]) + " of each of " + w.amount(n.args[0])
	case opLeastOf, opLeast:
		return "the least of " + w.several(n)
	case opMostOf, opMost:
		return "the most of " + w.several(n)
	case opSum:
		return "the sum of " + w.several(n)
	case opLookup:
		return "what the table " + spaced(n.name) + " gives for " + w.several(n)
	}
	if n.typ.Kind == Truth {
		return w.clause(n, true)
	}
	return n.name + " of " + w.several(n)
}

// operand is an amount within arithmetic, in brackets where it is arithmetic itself.
func (w words) operand(n *node) string {
	s := w.amount(n)
	switch n.op {
	case opAdd, opSubtract, opMultiply, opDivide, opRemainder, opPower, opIf:
		return "(" + s + ")"
	}
	return s
}

func (w words) several(n *node) string {
	texts := make([]string, len(n.args))
	for i, a := range n.args {
		texts[i] = w.amount(a)
	}
	return strings.Join(texts, ", ")
}

// options are the texts of which one, or none, is meant.
func (w words) options(n *node, so bool) string {
	var texts []string
	name := ""
	switch {
	case n.op == opParam:
		name = " (" + spaced(n.param.Name) + ")"
		for _, c := range n.param.Value.List {
			texts = append(texts, w.value(c))
		}
	case n.op == opConstant && n.typ.Kind == List:
		for _, c := range n.value.List {
			texts = append(texts, w.value(c))
		}
		for _, a := range n.args {
			texts = append(texts, w.amount(a))
		}
	default:
		return "one of " + w.amount(n)
	}
	last := len(texts) - 1
	if !so || last < 1 {
		return strings.Join(texts, ", ") + name
	}
	return strings.Join(texts[:last], ", ") + " or " + texts[last] + name
}

func (w words) constant(n *node) string {
	if n.typ.Kind != List {
		return w.value(n.value)
	}
	return w.several(n)
}

// scaled is a number with its unit.
func (w words) scaled(n *node) string {
	if v, ok := n.constant(); ok {
		return model.Format(v.Number, n.typ.Dimension, w.units)
	}
	return w.operand(n.args[0]) + " " + n.name
}

func (w words) value(v Constant) string {
	switch v.Type.Kind {
	case Number:
		return model.Format(v.Number, v.Type.Dimension, w.units)
	case Text:
		return v.Text
	case Truth:
		return strconv.FormatBool(v.Truth)
	}
	texts := make([]string, len(v.List))
	for i, c := range v.List {
		texts[i] = w.value(c)
	}
	return strings.Join(texts, ", ")
}

// path is a fact or a collection in words: "its bearing", "the material of what it rests on".
func (w words) path(p *path) string {
	owner := ownerOf(p)
	switch {
	case p.fact != nil && strings.HasPrefix(p.fact.Noun, "what "):
		return p.fact.Noun
	case p.fact != nil && owner == "" && p.fact.Type == vocabulary.Number && p.fact.Dimension == model.Plain:
		return nounOf(p.fact) // "kinks are 0": what is counted is no thing that it has
	case p.fact != nil:
		return belonging(nounOf(p.fact), owner, p.level)
	case p.many != nil:
		return belonging(spaced(p.many.Name), owner, p.level)
	case owner != "":
		return owner
	}
	return "it"
}

// ownerOf is what the relations of a path reach; empty for what is judged.
func ownerOf(p *path) string {
	var owners []string
	for i := len(p.steps) - 1; i >= 0; i-- {
		owners = append(owners, relationWords(p.steps[i].Text))
	}
	return strings.Join(owners, " of ")
}

// nounOf is what a fact goes by in a sentence.
func nounOf(f *vocabulary.Fact) string {
	if f.Noun != "" {
		return f.Noun
	}
	return spaced(f.Name)
}

func belonging(name, owner string, level int) string {
	switch {
	case owner != "":
		return "the " + name + " of " + owner
	case level > 0:
		return "the " + name
	}
	return "its " + name
}

// States that a fact's name may end in, and verbs that it may end in or begin with, each with its stem.
var (
	endStates = []string{"taken", "known", "held", "served", "assumed", "unequal", "stated"}
	verbs     = map[string]string{
		"carries": "carry", "leans": "lean", "reaches": "reach", "serves": "serve", "stands": "stand", "trims": "trim",
		"exists": "exist", "holds": "hold", "removes": "remove", "differs": "differ", "needs": "need", "takes": "take",
	}
	prepositions = []string{"in", "on", "over", "under"}
	places       = []string{"end", "foot", "head"}
)

// truth says that a fact which is true or false is so, or is not, as far as its name can be read as a sentence; one that
// cannot goes by what the vocabulary says of it.
func (w words) truth(p *path, so bool) string {
	if p.fact == nil {
		return w.path(p)
	}
	who := ownerOf(p)
	subject := who
	if who == "" {
		subject = "it"
	}
	not := func(verb, stem string) string {
		if so {
			return verb
		}
		return "does not " + stem
	}
	is := func(verb string) string {
		if so {
			return verb
		}
		return verb + " not"
	}
	name := strings.Split(p.fact.Name[strings.LastIndexByte(p.fact.Name, '.')+1:], "_")
	first, last := name[0], name[len(name)-1]
	rest, front := strings.Join(name[1:], " "), strings.Join(name[:len(name)-1], " ")
	switch {
	case first == "is" && slices.Contains(places, rest):
		return subject + " " + is("is") + " " + article(rest)
	case first == "is" && rest != "":
		return subject + " " + is("is") + " " + rest
	case first == "has" && rest != "":
		if so {
			return subject + " has " + rest
		}
		return subject + " has no " + rest
	case slices.Contains(prepositions, first) && rest != "":
		return subject + " " + is("is") + " " + first + " " + article(rest)
	case last == "differ" && front != "":
		if so {
			return belonging(front, who, p.level) + " differ"
		}
		return belonging(front, who, p.level) + " do not differ"
	case verbs[last] != "" && front != "":
		return belonging(front, who, p.level) + " " + not(last, verbs[last])
	case slices.Contains(endStates, last) && front != "":
		verb := "is"
		if strings.HasSuffix(name[len(name)-2], "s") && !strings.HasSuffix(name[len(name)-2], "ss") {
			verb = "are"
		}
		return belonging(front, who, p.level) + " " + is(verb) + " " + last
	case verbs[first] != "":
		return strings.TrimSpace(subject + " " + not(first, verbs[first]) + " " + rest)
	case strings.HasSuffix(first, "ed") && rest != "":
		return subject + " " + is("is") + " " + strings.Join(name, " ")
	}
	said, _, _ := strings.Cut(relationWords(p.fact.Text), ";")
	what := spaced(p.fact.Name)
	if who != "" {
		what += " of " + who
	}
	return what + " " + is("is") + " so (" + said + ")"
}

// article puts a or an before a noun.
func article(noun string) string {
	if strings.ContainsAny(noun[:1], "aeiou") {
		return "an " + noun
	}
	return "a " + noun
}

// relationWords is what a relation reaches, without what is said of it beside.
func relationWords(text string) string {
	before, _, _ := strings.Cut(text, ":")
	return before
}

func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
