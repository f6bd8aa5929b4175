package engine

import (
	"context"
	"slices"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/model"
)

// Compare checks a frame as drawn and as built, and judges what differs. Both are held to the rules of one region: that of
// the options, else the drawn document's own, else the built one's. The error is of the packs: nothing could be judged.
func (s *Session) Compare(ctx context.Context, drawn, built *Source, o Options) (*asbuilt.Comparison, error) {
	each := Options{Region: o.Region, Default: o.Default, Matrix: true}
	for _, src := range []*Source{drawn, built} {
		each.Region = orElse(each.Region, src.Document.Site.Region)
	}
	d, err := s.Check(ctx, drawn, each)
	if err != nil {
		return nil, err
	}
	b, err := s.Check(ctx, built, each)
	if err != nil {
		return nil, err
	}
	c := &comparing{drawn: d, built: b}
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

// comparing is the state of one comparison.
type comparing struct {
	drawn, built *Run
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

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}
