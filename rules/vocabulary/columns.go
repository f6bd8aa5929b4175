package vocabulary

import (
	"maps"
	"slices"
)

// Reason says why a fact is absent: an index into the reasons of a Facts. The zero Reason means that it is present.
type Reason uint16

// Column holds one fact for every row of its subject. Exactly one of the value slices is filled, by the fact's type.
type Column struct {
	// Shared columns have one value per document row (a member, a support of a member) which all its pieces share;
	// the others have one per row.
	Shared  bool
	Numbers []float64
	Texts   []string
	Truths  []bool
	Absent  []Reason // nil when every value is present
}

// Table is the rows of one subject.
type Table struct {
	Rows     int
	Document []int32 // document row of each row; nil when the two are the same
}

// Index is the place of a row's value in the column.
func (t *Table) Index(c *Column, row int32) int32 {
	if c.Shared && t.Document != nil {
		return t.Document[row]
	}
	return row
}

// Link holds one relation: the rows reached from row r are Rows[Start[r]:Start[r+1]]. A relation to at most one row
// that reaches none is absent for the reason of Absent[r].
type Link struct {
	Start  []int32
	Rows   []int32
	Absent []Reason
}

// Reached is the rows that a row reaches.
func (l *Link) Reached(row int32) []int32 { return l.Rows[l.Start[row]:l.Start[row+1]] }

// Touch is how the facts that a rule reads of a row differ from those of a run that is judged already; several may hold.
type Touch uint8

// What can differ.
const (
	Changed  Touch = 1 << iota // the row's own facts, short of a region's
	Answered                   // a region's facts, of the row or of what it sees
	Seen                       // what it sees through a relation, or through two
	Far                        // what it sees through more: nobody looks so far, so that whoever reads it is always judged
)

// Facts is the vocabulary filled for one run. It serves one goroutine while columns are still being filled.
type Facts struct {
	Book    *Book
	Tables  [subjects]Table
	Columns []*Column // by Fact.ID; nil: not filled, or absent for every row
	Links   []*Link   // by Relation.ID; nil: reaches nothing

	// Source fills a column when it is first asked for, so that a run works out the facts that its rules touch and no
	// others. It gives nil for a fact that is absent for every row; without one, columns are as they were put in.
	Source func(*Fact) *Column

	asked   []bool // by Fact.ID: Source has had its turn
	reasons []string
	interns map[string]Reason
	missing map[int]Reason // by Fact.ID, for facts without a column
}

// NewFacts is an empty set over a book.
func NewFacts(b *Book) *Facts {
	return &Facts{
		Book: b, Columns: make([]*Column, len(b.facts)), Links: make([]*Link, len(b.relations)), asked: make([]bool, len(b.facts)),
		reasons: []string{""}, interns: map[string]Reason{"": 0}, missing: map[int]Reason{},
	}
}

// TakeReasons gives a new set the reasons of another, so that the two can share columns.
func (f *Facts) TakeReasons(from *Facts) {
	f.reasons, f.interns = slices.Clone(from.reasons), maps.Clone(from.interns)
}

// Reason interns a reason of absence. Beyond 65,535 different reasons the last one stands for all.
func (f *Facts) Reason(text string) Reason {
	if r, ok := f.interns[text]; ok {
		return r
	}
	if len(f.reasons) > 65534 {
		return Reason(len(f.reasons) - 1)
	}
	r := Reason(len(f.reasons))
	f.reasons = append(f.reasons, text)
	f.interns[text] = r
	return r
}

// Explain is the text of a reason.
func (f *Facts) Explain(r Reason) string { return f.reasons[r] }

// Column is the column of a fact, nil where the fact is absent for every row.
func (f *Facts) Column(fact *Fact) *Column {
	if f.Columns[fact.id] == nil && f.Source != nil && !f.asked[fact.id] {
		f.asked[fact.id] = true
		f.Columns[fact.id] = f.Source(fact)
	}
	return f.Columns[fact.id]
}

// Leave makes a fact absent for every row, with its reason.
func (f *Facts) Leave(fact *Fact, reason string) {
	f.Columns[fact.id], f.asked[fact.id] = nil, true
	f.missing[fact.id] = f.Reason(reason)
}

// Missing is the reason why a fact without a column is absent.
func (f *Facts) Missing(fact *Fact) Reason {
	if r, ok := f.missing[fact.id]; ok {
		return r
	}
	return f.Reason("nothing in this run works it out")
}

// Number is a fact of a row, or the reason of its absence.
func (f *Facts) Number(fact *Fact, row int32) (float64, Reason) {
	c := f.Column(fact)
	if c == nil {
		return 0, f.Missing(fact)
	}
	i := f.Tables[fact.Subject].Index(c, row)
	if c.Absent != nil && c.Absent[i] != 0 {
		return 0, c.Absent[i]
	}
	return c.Numbers[i], 0
}

// Text is a fact of a row, or the reason of its absence.
func (f *Facts) Text(fact *Fact, row int32) (string, Reason) {
	c := f.Column(fact)
	if c == nil {
		return "", f.Missing(fact)
	}
	i := f.Tables[fact.Subject].Index(c, row)
	if c.Absent != nil && c.Absent[i] != 0 {
		return "", c.Absent[i]
	}
	return c.Texts[i], 0
}

// Truth is a fact of a row, or the reason of its absence.
func (f *Facts) Truth(fact *Fact, row int32) (bool, Reason) {
	c := f.Column(fact)
	if c == nil {
		return false, f.Missing(fact)
	}
	i := f.Tables[fact.Subject].Index(c, row)
	if c.Absent != nil && c.Absent[i] != 0 {
		return false, c.Absent[i]
	}
	return c.Truths[i], 0
}
