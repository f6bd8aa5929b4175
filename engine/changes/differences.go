package changes

import (
	"context"
	"slices"
	"strings"

	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/finding"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/vocabulary"
)

// pairing is one member as drawn and as built.
type pairing struct {
	*comparing
	di, bi   int // in the documents
	d, b     *model.Member
	df, bf   keyed
	keys     []string // that differ and that nothing has accounted for yet
	evidence string
	level    bool // all of it stands higher or lower than drawn, at the same place in plan
}

// differences finds everything that differs in the documents and in where things stand.
func (c *comparing) differences(ctx context.Context) error {
	units := c.drawn.Source.Document.Units
	df, err := fieldsOf(c.drawn.Source.Document, units)
	if err != nil {
		return err
	}
	bf, err := fieldsOf(c.built.Source.Document, units)
	if err != nil {
		return err
	}
	drawn, built := c.drawn.Source.Document, c.built.Source.Document
	var pairs []*pairing
	for i := range drawn.Members {
		d := &drawn.Members[i]
		k := built.Index(d.Mark)
		switch {
		case !stands(d):
		case k < 0 || !stands(&built.Members[k]):
			c.missing(i, k)
		default:
			b := &built.Members[k]
			df, bf := df.Members[d.Mark], bf.Members[d.Mark]
			pairs = append(pairs, &pairing{comparing: c, di: i, bi: k, d: d, b: b, df: df, bf: bf, keys: differing(df, bf), evidence: evidence(d, b)})
		}
	}
	grades := c.gradesHeld(ctx, pairs)
	for _, p := range pairs {
		p.places()
		p.supports()
		p.cuts()
		p.fixings()
		p.properties(grades[p.d.Mark])
	}
	for i := range built.Members {
		k := drawn.Index(built.Members[i].Mark)
		if stands(&built.Members[i]) && (k < 0 || !stands(&drawn.Members[k])) {
			c.extra(i)
		}
	}
	c.surroundings(df, bf)
	return nil
}

// has says whether one of the keys differs.
func (p *pairing) has(keys ...string) bool {
	return slices.ContainsFunc(keys, func(k string) bool { return slices.Contains(p.keys, k) })
}

// account takes keys off the list of those that nothing has accounted for.
func (p *pairing) account(keys ...string) {
	p.keys = slices.DeleteFunc(p.keys, func(k string) bool { return slices.Contains(keys, k) })
}

// add keeps a change of the member, placed at the first of some paths below it that the patch says.
func (p *pairing) add(ch asbuilt.Change, paths ...string) {
	ch.Mark, ch.Evidence = p.d.Mark, p.evidence
	pointers := make([]string, len(paths))
	for i, path := range paths {
		pointers[i] = read.Pointer("members", p.d.Mark) + path
	}
	ch.Place = p.place(pointers...)
	p.comparing.add(ch, p.di, p.bi)
}

// place is where a change is made: the first of some pointers that lies in the patch, else the first at all.
func (c *comparing) place(pointers ...string) finding.Place {
	var first finding.Place
	for i, pointer := range pointers {
		at := c.built.Source.Place(pointer)
		if i == 0 {
			first = at
		}
		if at.File == c.built.Source.File {
			return at
		}
	}
	return first
}

// missing is a member that was drawn and does not stand; k is its index as built, -1 where it is not there at all.
func (c *comparing) missing(i, k int) {
	m := &c.drawn.Source.Document.Members[i]
	ch := asbuilt.Change{What: asbuilt.Missing, Mark: m.Mark, Was: description(m)}
	pointer := read.Pointer("members", m.Mark)
	switch {
	case k >= 0:
		ch.Place = c.place(pointer+"/phase", pointer)
		ch.Evidence = evidence(m, &c.built.Source.Document.Members[k])
	case c.built.Source.IsPatch():
		ch.Place = c.built.Source.PatchPlace(pointer)
	default:
		ch.Place = c.built.Source.Place("/members")
	}
	c.add(ch, i, -1)
}

// extra is a member that was built and not drawn.
func (c *comparing) extra(i int) {
	m := &c.built.Source.Document.Members[i]
	ch := asbuilt.Change{What: asbuilt.Extra, Mark: m.Mark, Now: description(m), Evidence: evidence(&model.Member{}, m),
		Place: c.place(read.Pointer("members", m.Mark))}
	load := c.built.Filled.Book.Fact(vocabulary.Member, "total_load")
	from, to := c.built.Down.Frame.PiecesOf(int32(i))
	total := 0.0
	for row := from; row < to; row++ {
		v, why := c.built.Filled.Number(load, row)
		if why != 0 {
			ch.LoadMore = asbuilt.Unknown(c.built.Filled.Explain(why))
			break
		}
		total += v
		ch.LoadMore = asbuilt.Known(total)
	}
	c.add(ch, -1, i)
}

// description is a member in a few words: "beam 2/47x220 C24".
func description(m *model.Member) string {
	words := string(m.Role)
	if m.Section != nil {
		words += " " + m.Section.Text
	}
	return strings.TrimSpace(words + " " + m.Grade)
}

// evidence is who saw what was built, where the drawn document does not say the same already.
func evidence(d, b *model.Member) string {
	seen, before := b.More().Seen, d.More().Seen
	if seen == nil || before != nil && *before == *seen {
		return ""
	}
	if seen.By != "" {
		return "seen by " + seen.String()
	}
	return seen.String()
}

// surroundings compares what members stand in: areas, declared grades, the site. None of it can be ranked.
func (c *comparing) surroundings(d, b *fields) {
	unranked := func(name, kind, pointer string, d, b keyed) {
		g := &grading{}
		var pointers []string
		for _, k := range differing(d, b) {
			pointers = append(pointers, pointer+read.Pointer(k))
			was, now := valuesOf(d, b, k, unitOf(kind, k, c.drawn.Source.Document.Units))
			g.differs(k, was, now)
			g.either(strings.ReplaceAll(k, "_", " "))
		}
		if len(g.keys) == 0 {
			return
		}
		ch := g.change()
		ch.Mark, ch.Place = name, c.place(append(pointers, pointer)...)
		c.add(ch, -1, -1)
	}
	each := func(word, kind string, d, b map[string]keyed) {
		for _, name := range union(d, b) {
			unranked(word+" "+name, kind, "/"+kind+read.Pointer(name), d[name], b[name])
		}
	}
	each("area", "areas", d.Areas, b.Areas)
	each("grade", "grades", d.Grades, b.Grades)
	unranked("site", "site", "/site", d.Site, b.Site)
	unranked("frame", "", "", keyed{"self_weight": weighs(d)}, keyed{"self_weight": weighs(b)})
}

func weighs(f *fields) bool { return f.SelfWeight == nil || *f.SelfWeight }

// union is the names of both, in natural order.
func union(a, b map[string]keyed) []string {
	var out []string
	for name := range a {
		out = append(out, name)
	}
	for name := range b {
		if a[name] == nil {
			out = append(out, name)
		}
	}
	slices.SortFunc(out, func(a, b string) int {
		if finding.Natural(a, b) {
			return -1
		}
		return 1
	})
	return out
}
