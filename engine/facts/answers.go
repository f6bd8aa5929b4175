package facts

import (
	"slices"

	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// leaveClass makes a region's facts absent for the pieces of a class.
func (f *Filled) leaveClass(class int32, reason string) {
	f.answering.Lock()
	defer f.answering.Unlock()
	why := f.Reason(reason)
	for _, fact := range f.Book.Facts(vocabulary.Member) {
		c := f.Columns[fact.ID()]
		if fact.Origin != vocabulary.FromRegion || c == nil {
			continue
		}
		for _, row := range f.Classes.Rows(class) {
			c.Absent[row] = why
		}
	}
}

// FillRegion makes the columns of a region's facts, absent until Take fills them.
func (f *Filled) FillRegion(facts []vocabulary.Fact) {
	rows := f.Tables[vocabulary.Member].Rows
	reasons := make([]vocabulary.Reason, rows)
	for i := range reasons {
		if why := f.judged(int32(i)); why != "" {
			reasons[i] = f.Reason(why)
		} else {
			reasons[i] = f.Reason("the region has not answered")
		}
	}
	f.governs = make([]int32, len(f.Classes.First)*len(facts))
	for i := range f.governs {
		f.governs[i] = -1
	}
	for i := range facts {
		fact := f.Book.Fact(facts[i].Subject, facts[i].Name)
		if fact == nil || fact.Subject != vocabulary.Member {
			continue
		}
		c := &vocabulary.Column{Absent: slices.Clone(reasons)}
		switch fact.Type {
		case vocabulary.Truth:
			c.Truths = make([]bool, rows)
		default:
			c.Numbers = make([]float64, rows)
		}
		f.Columns[fact.ID()] = c
	}
}

// LeaveRegion makes all of a region's facts absent, for a reason: also those that it has answered, since how many it got
// through before it failed is chance.
func (f *Filled) LeaveRegion(facts []vocabulary.Fact, reason string) {
	f.governs = nil
	for i := range facts {
		if fact := f.Book.Fact(facts[i].Subject, facts[i].Name); fact != nil {
			f.Leave(fact, reason)
		}
	}
}

// Take fills a region's facts from its answer to a batch: every piece of a class gets the class's value. What has been
// recalled stays.
func (f *Filled) Take(facts []vocabulary.Fact, out *region.Derived) {
	f.answering.Lock()
	defer f.answering.Unlock()
	reasons := make([]vocabulary.Reason, len(out.Reasons))
	for i, r := range out.Reasons {
		reasons[i] = f.Reason(r)
	}
	for k := range facts {
		fact := f.Book.Fact(facts[k].Subject, facts[k].Name)
		if fact == nil || f.Columns[fact.ID()] == nil {
			continue
		}
		c, recalled := f.Columns[fact.ID()], f.Source.Base != nil && !f.dependsOnBeside(fact)
		for i, class := range out.ID {
			if recalled && f.besideOnly(class) {
				continue
			}
			j := i*len(facts) + k
			f.governs[int(class)*len(facts)+k] = out.Combination[j]
			for _, row := range f.Classes.Rows(class) {
				switch {
				case out.Reason[j] != 0:
					c.Absent[row] = reasons[out.Reason[j]]
				case fact.Type == vocabulary.Truth:
					c.Absent[row], c.Truths[row] = 0, out.Value[j] != 0
				default:
					c.Absent[row], c.Numbers[row] = 0, out.Value[j]
				}
			}
		}
	}
}

// Governing is the combination that makes a region's fact of a piece what it is, or -1. Facts count as Describe gave them.
func (f *Filled) Governing(fact, facts int, piece int32) int32 {
	if f.governs == nil {
		return -1
	}
	return f.governs[int(f.Classes.Of[piece])*facts+fact]
}
