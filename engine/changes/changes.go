// Package changes finds what differs between a frame as drawn and as built, works out what each difference weakens and
// what it does further down, and has the rules on changes judge it. It does not know how a comparison is printed.
package changes

import (
	"cmp"
	"context"
	"slices"

	"example.com/scantling/engine"
	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/model"
)

// Compare checks a frame as drawn and as built, and judges what differs. Both are held to the rules of one region: that of
// the options, else the drawn document's own, else the built one's. The error is of the packs: nothing could be judged.
func Compare(ctx context.Context, s *engine.Session, drawn, built *engine.Source, o engine.Options) (*asbuilt.Comparison, error) {
	each := engine.Options{Region: o.Region, Default: o.Default, Matrix: true}
	for _, src := range []*engine.Source{drawn, built} {
		each.Region = cmp.Or(each.Region, src.Document.Site.Region)
	}
	d, err := s.Check(ctx, drawn, each)
	if err != nil {
		return nil, err
	}
	b, err := s.Check(ctx, built, each)
	if err != nil {
		return nil, err
	}
	c := &comparing{drawn: side{d}, built: side{b}}
	if err := c.differences(ctx); err != nil {
		return nil, err
	}
	c.rules()
	c.loads()
	out := &asbuilt.Comparison{Drawn: d.Result, Built: b.Result, KnockOn: c.knockOn()}
	out.Result = c.judge(o)
	slices.SortStableFunc(c.changes, func(a, b asbuilt.Change) int { return natural(a.Mark, b.Mark) })
	out.Changes = c.changes
	return out, nil
}

// side is one of the two frames, checked.
type side struct{ *engine.Run }

// comparing is the state of one comparison.
type comparing struct {
	drawn, built side
	changes      []asbuilt.Change
	rows         []pairOf              // by change
	outcomes     [2]map[judged]outcome // drawn, built
}

// pairOf is a member's index as drawn and as built; -1 where it is not there.
type pairOf struct{ drawn, built int32 }

// add keeps a change.
func (c *comparing) add(ch asbuilt.Change, drawn, built int) {
	c.changes = append(c.changes, ch)
	c.rows = append(c.rows, pairOf{int32(drawn), int32(built)})
}

// stands says whether a member is there when the work is done.
func stands(m *model.Member) bool { return m.Phase != model.Removed }
