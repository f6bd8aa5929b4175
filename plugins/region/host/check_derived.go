package host

import (
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// CheckDerived reports everything that is wrong with the answer to a batch: for each piece, in the batch's order, and
// each fact of the vocabulary there must be one finite value or one reason.
func CheckDerived(d *region.Description, b *region.Batch, out *region.Derived) error {
	var c complaints
	if out.Sequence != b.Sequence {
		c.add("it answers batch %d instead of %d", out.Sequence, b.Sequence)
	}
	if !c.ids(b.Pieces.ID, out.ID) || !c.columns(len(out.ID)*len(d.Facts), out) {
		return c.joined()
	}
	for i, r := range out.Reasons {
		if (i == 0) != (r == "") {
			c.add("reason %d is %q; the first of them, and no other, is empty", i, printable(r, 60))
		}
		c.text("a reason", r, false)
	}
	for i, id := range out.ID {
		contacts := b.Pieces.ContactStart[i+1] - b.Pieces.ContactStart[i]
		for j := range d.Facts {
			c.entry(&d.Facts[j], id, out, i*len(d.Facts)+j, b.Combinations, contacts)
		}
	}
	c.working(d, b, out.Working)
	return c.joined()
}

// ids complains unless each piece is answered once, in the order in which it was asked about.
func (c *complaints) ids(asked, answered []int32) bool {
	if len(asked) != len(answered) {
		c.add("it answers %d pieces and was asked about %d", len(answered), len(asked))
		return false
	}
	for i, id := range asked {
		if answered[i] != id {
			c.add("it answers piece %d in the place of piece %d", answered[i], id)
			return false
		}
	}
	return true
}

func (c *complaints) columns(want int, out *region.Derived) bool {
	if len(out.Reasons) == 0 {
		c.add("it lists no reasons; the first of them is the empty text")
	}
	for _, column := range []struct {
		name string
		n    int
	}{{"values", len(out.Value)}, {"reasons", len(out.Reason)}, {"combinations", len(out.Combination)}, {"contacts", len(out.Contact)}, {"places", len(out.At)}} {
		if column.n != want {
			c.add("it gives %d %s instead of %d", column.n, column.name, want)
		}
	}
	return len(*c) == 0
}

// entry complains about one fact of one piece. It runs for every fact of a run: complaints are formed only when needed.
func (c *complaints) entry(f *vocabulary.Fact, id int32, out *region.Derived, at int, combinations, contacts int32) {
	reason, value := out.Reason[at], out.Value[at]
	if reason < 0 || int(reason) >= len(out.Reasons) {
		c.add("%s of piece %d is absent for reason %d, and there are %d", f.Name, id, reason, len(out.Reasons))
	}
	if reason == 0 {
		if value-value != 0 { // NaN or an infinity
			c.add("%s of piece %d is %v", f.Name, id, value)
		}
		if f.Type == vocabulary.Truth && value != 0 && value != 1 {
			c.add("%s of piece %d is a truth of %v", f.Name, id, value)
		}
	}
	if k := out.Combination[at]; k < -1 || k >= combinations {
		c.add("%s of piece %d is governed by combination %d, and there are %d", f.Name, id, k, combinations)
	}
	if k := out.Contact[at]; k < -1 || k >= contacts {
		c.add("%s of piece %d is governed by contact %d, and it has %d", f.Name, id, k, contacts)
	}
	if x := out.At[at]; x-x != 0 {
		c.add("%s of piece %d is governed at %v", f.Name, id, x)
	}
}

func (c *complaints) working(d *region.Description, b *region.Batch, steps []region.Step) {
	if len(steps) > 0 && !b.Working {
		c.add("it lists %d steps of working that were not asked for", len(steps))
	}
	for _, s := range steps {
		if s.Piece < 0 || int(s.Piece) >= len(b.Pieces.ID) || s.Fact < 0 || int(s.Fact) >= len(d.Facts) {
			c.add("a step of working is about piece %d and fact %d", s.Piece, s.Fact)
		}
		c.step(s)
	}
}
