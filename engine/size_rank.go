package engine

import (
	"context"
	"slices"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// Rank orders the members of a frame by the largest of the region's ratios, demand over capacity, in their worst piece.
func (s *Session) Rank(ctx context.Context, src *Source, o Options) (*sizing.Ranking, error) {
	r, err := s.Check(ctx, src, o)
	if err != nil {
		return nil, err
	}
	out := &sizing.Ranking{Model: r.Model(), Region: r.Result.Region, Loosened: r.Result.Loosened, Incomplete: slices.Clone(r.incomplete)}
	if r.Preparation == nil {
		out.Incomplete = append(out.Incomplete, "without a region no strength can be checked, so that nothing can be ranked")
		return out, nil
	}
	for i := range src.Document.Members {
		m := &src.Document.Members[i]
		if m.Section == nil || m.Ground || m.Phase == model.Removed {
			continue
		}
		if used := r.use(i); used.Use > 0 {
			out.Members = append(out.Members, used)
		} else {
			out.Unranked++
		}
	}
	slices.SortStableFunc(out.Members, func(a, b sizing.Ranked) int {
		switch {
		case a.Use > b.Use:
			return -1
		case a.Use < b.Use:
			return 1
		case finding.Natural(a.Mark, b.Mark):
			return -1
		}
		return 1
	})
	return out, nil
}

// use is how far a member is used, by its worst piece: the largest of the region's ratios that its section feeds, and its
// load over what its maker states. Its Piece is empty where neither is known.
func (r *Run) use(member int) sizing.Ranked {
	m := &r.Source.Document.Members[member]
	out := sizing.Ranked{Mark: m.Mark, Role: string(m.Role), Section: m.Section.Words(), Grade: m.Grade}
	book := r.Filled.Book
	load, stated := book.Fact(vocabulary.Member, "total_load"), book.Fact(vocabulary.Member, "stated_total")
	from, to := r.Down.Frame.PiecesOf(int32(member))
	for row := from; row < to; row++ {
		most := func(v float64, governs, kase string) {
			if out.Piece == "" || v > out.Use {
				out.Piece, out.Use, out.Governs, out.Case = r.Down.Frame.Name(row), v, governs, kase
			}
		}
		for i := range r.Description.Facts {
			f := &r.Description.Facts[i]
			if f.Subject != vocabulary.Member || f.Type != vocabulary.Number || f.Dimension != model.Plain || !slices.Contains(f.Keys, "section") {
				continue
			}
			if v, why := r.Filled.Number(book.Fact(vocabulary.Member, f.Name), row); why == 0 {
				most(v, f.Text, r.governing(f.Name, row))
			}
		}
		l, unknown := r.Filled.Number(load, row)
		if s, unstated := r.Filled.Number(stated, row); unknown == 0 && unstated == 0 && s > 0 {
			most(l/s, "load over what its maker or engineer states", "")
		}
	}
	return out
}
