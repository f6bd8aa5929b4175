// Package vocabulary is every fact that a rule can name - its type, its dimension, one line that says what it is and
// the document keys that feed it - and the columns that hold the facts of one run. It does not know where facts come
// from or what rules make of them.
package vocabulary

import (
	"fmt"
	"sort"

	"example.com/scantling/model"
)

// Subject is a kind of thing that facts are about.
type Subject uint8

// The subjects.
const (
	Member  Subject = iota // a piece of a member
	Support                // one support of a piece
	Area
	Frame   // the whole frame: one row
	Change  // one difference between drawn and built
	Drawing // what one drawing states of a member
	Notch
	Hole
	Ground // a member that stands on the ground, with what has arrived there
	subjects
)

// String is the subject as a pack writes it.
func (s Subject) String() string {
	return [...]string{"member", "support", "area", "frame", "change", "drawing", "notch", "hole", "ground"}[s]
}

// Type is the type of a fact's values.
type Type uint8

// The types.
const (
	Number Type = iota // float64, with the fact's dimension
	Text
	Truth
)

// String is the type in a reader's words.
func (t Type) String() string { return [...]string{"number", "text", "truth"}[t] }

// Origin says what must have run before a fact can be known.
type Origin uint8

// The origins, in the order of the flow.
const (
	FromDocument Origin = iota
	FromFrame           // geometry and load path
	FromStatics
	FromRegion
)

// Fact is one word of the vocabulary.
type Fact struct {
	Subject   Subject
	Name      string // regional facts carry their region's prefix: "ec5.bending"
	Type      Type
	Dimension model.Dimension // of a Number
	Counts    bool            // of a plain Number: it counts things, or is a class; no ratio
	Origin    Origin
	Text      string   // one line: what it is
	Noun      string   // what it goes by in a sentence, where its name does not read well: "fixing" of `by`
	Words     Words    // of a Text: what it can be, where that is known
	Keys      []string // document keys that feed it, such as "supports.bearing"

	id int
}

// Words are the words that a text can be. Without any it can be all words: a mark, a drawing, what somebody wrote.
type Words struct {
	List   []string
	Open   bool // documents may use others: a word is wrong only where it looks like a misspelt one of the list
	Joined bool // it can be several, with commas between; messages name the first of many
}

// ID is the fact's index in its Book.
func (f *Fact) ID() int { return f.id }

// Relation is a name by which one subject reaches another: `on` of a support, `supports` of a member.
type Relation struct {
	From Subject
	Name string
	To   Subject
	Many bool   // a collection; otherwise at most one
	Most Origin // facts beyond this origin cannot be named through the relation
	Text string

	id int
}

// ID is the relation's index in its Book.
func (r *Relation) ID() int { return r.id }

// Book is a set of facts and relations that rules are checked against.
type Book struct {
	facts     []*Fact
	relations []*Relation
	byName    [subjects]map[string]*Fact
	relByName [subjects]map[string]*Relation
}

// NewBook is the core vocabulary with the regional facts added. It returns an error that names every fact which is
// given twice, has no text, or lacks a region's prefix.
func NewBook(regional ...Fact) (*Book, error) {
	b := &Book{}
	for i := range b.byName {
		b.byName[i] = map[string]*Fact{}
		b.relByName[i] = map[string]*Relation{}
	}
	var problems []string
	add := func(f Fact) {
		switch {
		case f.Text == "":
			problems = append(problems, fmt.Sprintf("%s.%s has no text", f.Subject, f.Name))
		case b.byName[f.Subject][f.Name] != nil:
			problems = append(problems, fmt.Sprintf("%s.%s is given twice", f.Subject, f.Name))
		default:
			g := f
			g.id = len(b.facts)
			b.facts = append(b.facts, &g)
			b.byName[f.Subject][f.Name] = &g
		}
	}
	for _, f := range core {
		add(f)
	}
	for _, f := range regional {
		f.Origin = FromRegion
		if !hasPrefix(f.Name) {
			problems = append(problems, fmt.Sprintf("%s.%s: a regional fact needs its region's prefix, such as ec5.%s", f.Subject, f.Name, f.Name))
			continue
		}
		add(f)
	}
	for _, r := range relations {
		g := r
		g.id = len(b.relations)
		b.relations = append(b.relations, &g)
		b.relByName[r.From][r.Name] = &g
	}
	if len(problems) > 0 {
		return nil, fmt.Errorf("vocabulary: %v", problems)
	}
	return b, nil
}

func hasPrefix(name string) bool {
	for i := 1; i < len(name)-1; i++ {
		if name[i] == '.' {
			return true
		}
	}
	return false
}

// Fact is the fact of that subject and name, or nil.
func (b *Book) Fact(s Subject, name string) *Fact { return b.byName[s][name] }

// Relation is the relation of that subject and name, or nil.
func (b *Book) Relation(s Subject, name string) *Relation { return b.relByName[s][name] }

// Facts lists all facts of a subject by name.
func (b *Book) Facts(s Subject) []*Fact {
	var out []*Fact
	for _, f := range b.facts {
		if f.Subject == s {
			out = append(out, f)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// Relations lists the relations of a subject by name.
func (b *Book) Relations(s Subject) []*Relation {
	var out []*Relation
	for _, r := range b.relations {
		if r.From == s {
			out = append(out, r)
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// Subjects lists all subjects.
func Subjects() []Subject {
	out := make([]Subject, subjects)
	for i := range out {
		out[i] = Subject(i)
	}
	return out
}
