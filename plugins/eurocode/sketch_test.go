package eurocode_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/kit"
)

// sketch is a beam on two seats under even loads, with the site that it stands on. Its forces are those of q l / 2, q l2 / 8 and
// 5 q l4 / 384 EI for each combination, downward loads and upward ones apart.
type sketch struct {
	code    string // GB-ENG where empty
	section string
	shape   *model.Section // in place of the notation
	grade   region.GradeName
	span    float64
	lines   map[string]float64 // N/mm by case, down
	service int                // 1 where 0
	areas   []region.Area
	movable float64             // N: a person that may stand anywhere on it
	bent    func(*region.Batch) // changes the batch before it is judged
}

// judged is the answer about a sketch.
type judged struct {
	t           *testing.T
	site        *region.Site
	preparation *region.Preparation
	batch       *region.Batch
	description *region.Description
	derived     *region.Derived
}

func (s sketch) judge(t *testing.T) *judged {
	t.Helper()
	j := s.prepare(t)
	var err error
	j.derived, err = eurocode.New().Derive(context.Background(), j.batch)
	require.NoError(t, err)
	return j
}

func (s sketch) prepare(t *testing.T) *judged {
	t.Helper()
	j := &judged{t: t, site: &region.Site{Code: "GB-ENG", ServiceClass: 1, Areas: s.areas, Movable: s.movable > 0}}
	if s.code != "" {
		j.site.Code = s.code
	}
	section := s.shape
	if section == nil {
		var err error
		section, err = model.ParseSection(s.section, model.Metric)
		require.NoError(t, err)
	}
	s.grade.Steel = s.grade.Steel || section.SteelByDefault
	j.site.Sections, j.site.Grades = []model.Section{*section}, []region.GradeName{s.grade}
	var err error
	j.preparation, err = eurocode.New().Prepare(context.Background(), j.site)
	require.NoError(t, err)
	j.description, err = eurocode.New().Describe(context.Background())
	require.NoError(t, err)
	j.batch = kit.Batch(j.site, j.preparation, []kit.Beam{{Span: s.span, Load: 1, Multiplicity: 1}}, nil)
	j.batch.Working = true
	j.batch.Pieces.Repetitive[0] = false
	if s.service != 0 {
		j.batch.Pieces.Service[0] = int32(s.service)
	}
	s.load(j)
	clear(j.batch.Pieces.Alike) // it is loaded otherwise than the beam that it was made from
	if s.bent != nil {
		s.bent(j.batch)
	}
	require.NoError(t, j.batch.Check())
	return j
}

// load writes the forces of the sketch's own loads into the batch.
func (s sketch) load(j *judged) {
	b, p, l := j.batch, j.preparation, s.span
	soft, point := 0.0, 0.0
	if stiff := p.Grades[0].E * j.site.Sections[0].Iy; stiff > 0 {
		soft, point = 5*l*l*l*l/(384*stiff), l*l*l/(48*stiff)
	}
	places := []float64{0, l / 2, l}
	b.Stations = region.Stations{}
	for _, upward := range []bool{false, true} {
		for i, at := range places {
			b.Stations.At = append(b.Stations.At, at)
			b.Stations.Span = append(b.Stations.Span, 0)
			b.Stations.Kind = append(b.Stations.Kind, []int32{region.StationSupport, region.StationExtreme, region.StationSupport}[i])
			for _, row := range p.Combinations {
				q, w := s.line(p, &row, upward), row.Moving*s.movable
				b.Stations.N, b.Stations.MomentOut = append(b.Stations.N, 0), append(b.Stations.MomentOut, 0)
				b.Stations.V, b.Stations.M = append(b.Stations.V, q*(l/2-at)+math.Copysign(w*max(at, l-at)/l, l/2-at)), append(b.Stations.M, q*at*(l-at)/2+w*at*(l-at)/l)
			}
		}
	}
	b.Pieces.StationStart[1] = int32(len(b.Stations.At))
	for k := range p.Combinations {
		down, up := s.line(p, &p.Combinations[k], false), s.line(p, &p.Combinations[k], true)
		w := p.Combinations[k].Moving * s.movable
		b.Spans.Deflection[k] = max(math.Abs(down), math.Abs(up))*soft + w*point
		for r := range b.Contacts.At {
			b.Contacts.Down[r*len(p.Combinations)+k] = max(0, down*l/2+w)
			b.Contacts.Up[r*len(p.Combinations)+k] = max(0, -up*l/2)
		}
	}
	b.Spans.MoveDeflect[0], b.Spans.MoveMoment[0] = s.movable*point, s.movable*l/4
	for c := range p.Cases {
		q := s.lines[p.Cases[c].ID]
		b.Spans.CaseDeflect[c], b.Spans.CaseMoment[c] = math.Abs(q)*soft, q*l*l/8
	}
}

// line is the load of a combination, N/mm: variable loads where they press, or where they lift.
func (s sketch) line(p *region.Preparation, row *region.Combination, upward bool) float64 {
	total := 0.0
	for c, factor := range row.Factors {
		if q := factor * s.lines[p.Cases[c].ID]; p.Cases[c].Permanent || q < 0 == upward {
			total += q
		}
	}
	return total
}

func (j *judged) entry(fact string) int {
	j.t.Helper()
	for i := range j.description.Facts {
		if j.description.Facts[i].Name == fact {
			return i
		}
	}
	require.Fail(j.t, "no fact "+fact)
	return -1
}

// value is a fact that must be known.
func (j *judged) value(fact string) float64 {
	j.t.Helper()
	i := j.entry(fact)
	require.Empty(j.t, j.derived.Reasons[j.derived.Reason[i]], fact)
	return j.derived.Value[i]
}

// reason is why a fact is absent; empty when it is known.
func (j *judged) reason(fact string) string {
	j.t.Helper()
	return j.derived.Reasons[j.derived.Reason[j.entry(fact)]]
}

// governs is the name of the combination that makes a fact what it is.
func (j *judged) governs(fact string) string {
	j.t.Helper()
	if k := j.derived.Combination[j.entry(fact)]; k >= 0 {
		return j.preparation.Combinations[k].ID
	}
	return ""
}

// step is a line of a fact's working.
func (j *judged) step(fact, symbol string) float64 {
	j.t.Helper()
	i := slices.IndexFunc(j.derived.Working, func(s region.Step) bool { return int(s.Fact) == j.entry(fact) && s.Symbol == symbol })
	require.GreaterOrEqual(j.t, i, 0, "no %s in the working of %s", symbol, fact)
	return j.derived.Working[i].Value
}

// clause is where a line of a fact's working comes from.
func (j *judged) clause(fact, symbol string) string {
	j.t.Helper()
	i := slices.IndexFunc(j.derived.Working, func(s region.Step) bool { return int(s.Fact) == j.entry(fact) && s.Symbol == symbol })
	require.GreaterOrEqual(j.t, i, 0, "no %s in the working of %s", symbol, fact)
	return j.derived.Working[i].Clause
}

func named(grade string) region.GradeName { return region.GradeName{Name: grade} }

func declared(g model.Grade) region.GradeName { return region.GradeName{Name: g.Name, Declared: &g} }

// onWall is a 2/47x195 at 400 mm centres over 4 m, dead 1 and imposed 3 N/mm, whose first end bears on 100 mm of a wall of 140 mm
// blocks, 2.5 m high: 7.3 N/mm2 in M4, group 1, units II.
type onWall struct {
	beside map[string]float64 // other load on the wall by case, N/mm
	off    float64            // mm from the wall's middle at which that presses
	bent   func(c *region.Contacts, words func(string) int32)
}

func (w onWall) judge(t *testing.T) *judged {
	t.Helper()
	return sketch{section: "2/47x195", grade: named("C24"), span: 4000, lines: map[string]float64{"dead": 1, "imposed": 3}, bent: func(b *region.Batch) {
		words := func(word string) int32 {
			b.Pieces.Words = append(b.Pieces.Words, word)
			return int32(len(b.Pieces.Words) - 1)
		}
		c := &b.Contacts
		c.Underside[0], c.WallUnit[0], c.WallGroup[0], c.WallClass[0] = words("masonry"), words("concrete"), 1, words("II")
		c.WallUnitF[0], c.WallMortar[0], c.WallWidth[0], c.WallHeight[0], c.ToWallEnd[0], c.ToWallFar[0] = 7.3, 4, 140, 2500, 1500, 3500
		c.Length[0], c.Eccentric[0] = 100, 20
		for k := range b.Preparation.Cases {
			c.CaseBeside[k] = w.beside[b.Preparation.Cases[k].ID]
			c.CaseTurn[k] = w.off * c.CaseBeside[k]
		}
		if w.bent != nil {
			w.bent(c, words)
		}
	}}.judge(t)
}
