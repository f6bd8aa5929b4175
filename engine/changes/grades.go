package changes

import (
	"context"
	"iter"
	"maps"
	"slices"
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/facts"
	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// gradeHeld is a member's grade as built held against that as drawn, in the member as drawn and under the same load.
type gradeHeld struct {
	ratios  []float64      // strength as built over strength as drawn, by what the region judges
	bending asbuilt.Worked // that of bending
	why     string         // why nothing can be said
}

func notHeld(why string) gradeHeld { return gradeHeld{why: why, bending: asbuilt.Unknown(why)} }

// gradesHeld asks the region about every member whose grade is another. The core knows no strengths, but the same piece
// under the same load is used so much less as its grade is stronger.
func (c *comparing) gradesHeld(ctx context.Context, pairs []*pairing) map[string]gradeHeld {
	out := map[string]gradeHeld{}
	regrade := map[int32]string{}
	for _, p := range pairs {
		if p.has("grade") && p.d.Grade != "" && p.b.Grade != "" {
			out[p.d.Mark] = notHeld("without a region nothing is known of the strength of a grade")
			regrade[int32(p.di)] = p.b.Grade
		}
	}
	if len(regrade) == 0 || c.drawn.Preparation == nil {
		return out
	}
	answers, err := c.drawn.regraded(ctx, regrade, c.built.Source.Document.Grades)
	for member := range regrade {
		mark := c.drawn.Source.Document.Members[member].Mark
		if err != nil {
			out[mark] = notHeld("the region failed: " + err.Error())
			continue
		}
		out[mark] = c.drawn.weigh(member, answers[regrade[member]])
	}
	return out
}

// regraded asks the region about pieces of some members as if they were of other grades, every force being as it is. The
// answers are by grade and class, in the order of the region's facts; what is not known is negative.
func (r side) regraded(ctx context.Context, grades map[int32]string, declared []model.Grade) (map[string]map[int32][]float64, error) {
	doc := *r.Source.Document
	doc.Members = slices.Clone(doc.Members)
	doc.Grades = append(slices.Clone(doc.Grades), declared...)
	for member, grade := range grades {
		doc.Members[member].Grade = grade
	}
	lists := facts.NewLists(&doc)
	site := *r.Site
	site.Grades, site.Sections = lists.Grades, nil
	for _, s := range lists.Sections {
		site.Sections = append(site.Sections, *s)
	}
	prepared, err := r.Client.Prepare(ctx, &site)
	if err != nil {
		return nil, err
	}
	out := map[string]map[int32][]float64{}
	for member, grade := range grades { // equal members may be built of different grades
		if out[grade] == nil {
			out[grade] = map[int32][]float64{}
		}
		from, to := r.Down.Frame.PiecesOf(member)
		for piece := from; piece < to; piece++ {
			out[grade][r.Filled.Classes.Of[piece]] = nil
		}
	}
	for _, grade := range slices.Sorted(maps.Keys(out)) {
		if err := r.ofGrade(ctx, &site, prepared, lists, grade, out[grade]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// ofGrade fills the answers about some classes as if they were of one grade.
func (r side) ofGrade(ctx context.Context, site *region.Site, prepared *region.Preparation, lists *facts.Lists, grade string, answers map[int32][]float64) error {
	asked := func(class int32) bool { _, asked := answers[class]; return asked }
	batches := iter.Seq[*region.Batch](func(yield func(*region.Batch) bool) {
		for b := range r.Filled.Batches(lists, asked, false) {
			for i := range b.Pieces.Grade {
				b.Pieces.Grade[i] = lists.Grade(grade)
			}
			if !yield(b) {
				return
			}
		}
	})
	answered := map[int32][]float64{}
	n := len(r.Description.Facts)
	err := r.Client.Derive(ctx, site, prepared, batches, func(_ *region.Batch, d *region.Derived) error {
		for i, class := range d.ID {
			values := make([]float64, n)
			for k := range values {
				values[k] = d.Value[i*n+k]
				if d.Reason[i*n+k] != 0 {
					values[k] = -1
				}
			}
			answered[class] = values
		}
		return nil
	})
	maps.Copy(answers, answered)
	return err
}

// weigh is a member's strength in the other grade over its strength in its own, for each of the region's ratios, from the
// piece that is used most.
func (r side) weigh(member int32, answers map[int32][]float64) gradeHeld {
	out := gradeHeld{bending: asbuilt.Unknown("nothing bends it, so that its strength in the two grades cannot be held against each other")}
	most := 0.0 // use in bending
	for k := range r.Description.Facts {
		f := &r.Description.Facts[k]
		if f.Type != vocabulary.Number || f.Dimension != model.Plain || f.Subject != vocabulary.Member {
			continue
		}
		own := r.Filled.Book.Fact(vocabulary.Member, f.Name)
		best, ratio := 0.0, 0.0
		from, to := r.Down.Frame.PiecesOf(member)
		for row := from; row < to; row++ {
			values := answers[r.Filled.Classes.Of[row]]
			used, why := r.Filled.Number(own, row)
			if why == 0 && values != nil && values[k] > 0 && used > best {
				best, ratio = used, used/values[k]
			}
		}
		if best == 0 {
			continue
		}
		out.ratios = append(out.ratios, ratio)
		if strings.HasSuffix(f.Name, ".bending") && best > most {
			most, out.bending = best, asbuilt.Known(ratio)
		}
	}
	if len(out.ratios) == 0 {
		out.why = "the region cannot judge the member in both grades"
	}
	return out
}
