package read

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"example.com/scantling/model"
)

// Version is the version of the document format that is read here.
const Version = 1

// Document reads a framing model. Either the document is without problems and is given, or the problems are: all of
// them at once, in the order of their places, with name as their file.
func Document(src []byte, name string) (*model.Document, Problems) {
	d, ps := document(src)
	if problems := ps.in(name, src); problems != nil {
		return nil, problems
	}
	return d, nil
}

// document reads, with places as offsets only.
func document(src []byte) (*model.Document, *problems) {
	mended, literals := withoutLiterals(src)
	r := newReader(mended)
	draft := documentDraft{Document: &model.Document{}}
	documentTable.read(r, &draft)
	r.mark = ""
	if !r.broken {
		r.end()
	}
	if !r.broken {
		r.judge(draft.Document)
	}
	end := int64(len(src))
	if r.broken { // past the place where it stops being JSON, three letters in a row say nothing
		end = r.list[len(r.list)-1].Offset
	}
	for _, l := range literals {
		if l.offset > end {
			break
		}
		// What the zero in its place may have led to is no problem of its own.
		r.list = slices.DeleteFunc(r.list, func(p Problem) bool { return p.Offset == l.offset })
		r.problemAt(l.offset, "", l.text+" is no number", "write a number, or leave the key out")
	}
	return draft.Document, &r.problems
}

// documentDraft is the document as it is read.
type documentDraft struct {
	*model.Document
	said bool // "units" was read, or looked up
}

var documentTable = tableOf("the document", "A framing model: what stands where, what it rests on and what it carries.", nil,
	must(field[documentDraft]{
		key: "framing", doc: "version of the format: 1; a patch that says only what was built otherwise has none, and goes with its model", form: &Form{Kind: Whole, Low: Version, High: Version},
		read: func(r *reader, _ *documentDraft) {
			if v, offset, ok := r.number("the version of the format", "1"); ok && v != Version {
				r.problem(offset, fmt.Sprintf("version %s of the format is not known here", printNumber(v)), fmt.Sprintf("write %d, or read it with a newer version", Version))
			}
		},
		write: func(w *writer, _ *documentDraft) { w.number(Version) },
		empty: func(*documentDraft) bool { return false },
	}),
	in("title", "what the model is called", func(d *documentDraft) *string { return &d.Title }, words),
	field[documentDraft]{
		key: "units", doc: "how bare numbers are read: metric (mm, kN, kN/m, kN/m2, N/mm2, kg, degrees; the default) or us (in, lb, lb/ft, psf, psi, degrees)",
		form:  unitsChoice.form,
		read:  func(r *reader, d *documentDraft) { unitsChoice.read(r, &d.Units); r.units, d.said = d.Units, true },
		write: func(w *writer, d *documentDraft) { unitsChoice.write(w, &d.Units) },
		empty: func(*documentDraft) bool { return false },
	},
	field[documentDraft]{
		key: "self_weight", doc: "false leaves self-weight out (studies and reference cases)", form: truth.form,
		read: func(r *reader, d *documentDraft) {
			weighs := true
			truth.read(r, &weighs)
			d.Weightless = !weighs
		},
		write: func(w *writer, d *documentDraft) { w.truth(!d.Weightless) },
		empty: func(d *documentDraft) bool { return !d.Weightless },
	},
	inUnits(in("site", "where the building stands and what holds for all of it", func(d *documentDraft) *model.Site { return &d.Site },
		siteTable.object(func(s *model.Site) bool { return *s == model.Site{} }))),
	in("drawings", "the drawings that fix members, by their ids", func(d *documentDraft) *[]model.Drawing { return &d.Drawings },
		named("a drawing's id", drawingTable.object(nil), func(d *model.Drawing) *string { return &d.ID })),
	inUnits(in("areas", "loaded surfaces that members carry a strip of, by their ids", func(d *documentDraft) *[]model.Area { return &d.Areas },
		named("an area's id", areaTable.object(nil), func(a *model.Area) *string { return &a.ID }))),
	inUnits(in("grades", "grades that the document itself declares, by their names", func(d *documentDraft) *[]model.Grade { return &d.Grades },
		named("a grade's name", gradeTable.object(nil), func(g *model.Grade) *string { return &g.Name }))),
	must(inUnits(field[documentDraft]{
		key: "members", doc: "the members, by their marks", form: &Form{Kind: Map, Name: "a mark", Items: memberTable.form, Least: 1},
		read: func(r *reader, d *documentDraft) { r.members(d.Document) },
		write: func(w *writer, d *documentDraft) {
			w.begin('{', true)
			for i := range d.Members {
				w.key(d.Members[i].Mark)
				memberTable.writeTall(w, draftOfMember(&d.Members[i]))
			}
			w.end('}')
		},
		empty: func(*documentDraft) bool { return false },
	})),
)

var unitsChoice = choice(option[model.Units]{"metric", model.Metric}, option[model.Units]{"us", model.US})

// inUnits makes sure that the units are known before bare numbers are read: where the key has not come yet, it is
// looked for ahead.
func inUnits(f field[documentDraft]) field[documentDraft] {
	read := f.read
	f.read = func(r *reader, d *documentDraft) {
		if !d.said {
			r.units, d.said = unitsAhead(r.src), true
		}
		read(r, d)
	}
	return f
}

// unitsAhead is what the document's "units" key says, wherever it stands.
func unitsAhead(src []byte) model.Units {
	d := jsontext.NewDecoder(bytes.NewBuffer(src), jsontext.AllowDuplicateNames(true))
	if _, err := d.ReadToken(); err != nil || !enterKey(d, "units") {
		return model.Metric
	}
	if v, err := d.ReadValue(); err == nil && string(v) == `"us"` {
		return model.US
	}
	return model.Metric
}

// end makes sure that nothing follows the document.
func (r *reader) end() {
	if at := startOfNext(r.src, r.dec.InputOffset()); at < int64(len(r.src)) {
		r.problemAt(at, "", "something follows the end of the document", "keep one document in a file")
	}
}

// judge notes what only the whole document can tell.
func (r *reader) judge(d *model.Document) {
	if len(d.Members) == 0 && len(r.list) == 0 {
		r.problemAt(startOfNext(r.src, 0), "/members", "the document has no members", `add at least one under "members"`)
	}
	areas := map[string]bool{}
	var ids []string
	for _, a := range d.Areas {
		areas[a.ID] = true
		ids = append(ids, a.ID)
	}
	for i := range d.Members {
		for j, c := range d.Members[i].Carries {
			switch {
			case c.Area == "" || areas[c.Area]:
			case len(r.list) >= mostProblems:
				r.more++
			default:
				r.unknownArea(&d.Members[i], j, ids)
			}
		}
	}
}

// unknownArea notes that a member carries an area that the document does not have: its load cannot be known.
func (r *reader) unknownArea(m *model.Member, nth int, known []string) {
	area := m.Carries[nth].Area
	fix := fmt.Sprintf("add %q under \"areas\"", area)
	if near := model.Nearest(area, known); near != "" {
		fix = fmt.Sprintf("write %q if that is meant, or %s", near, fix)
	}
	path := fmt.Sprintf("/carries/%d", nth)
	p := Places{src: r.src}
	offset := m.Offset + p.find(r.src[m.Offset:], path)
	r.mark = m.Mark
	r.problemAt(offset, Pointer("members", m.Mark)+path, fmt.Sprintf("no area is called %q", clip(area)), fix)
}

// literal is a word that some writers put in place of a number.
type literal struct {
	text   string
	offset int64
}

// withoutLiterals puts zeros in place of NaN and Infinity, which are not JSON, so that the rest can still be read.
// The source itself is not changed; offsets stay the same.
func withoutLiterals(src []byte) ([]byte, []literal) {
	if !bytes.Contains(src, []byte("NaN")) && !bytes.Contains(src, []byte("Infinity")) {
		return src, nil
	}
	var found []literal
	mended := src
	for at := 0; at < len(src) && len(found) <= mostProblems; at++ {
		if src[at] == '"' {
			at = endOfString(src, at)
			continue
		}
		for _, text := range []string{"NaN", "-Infinity", "Infinity"} {
			if !bytes.HasPrefix(src[at:], []byte(text)) {
				continue
			}
			if len(found) == 0 {
				mended = slices.Clone(src)
			}
			found = append(found, literal{text, int64(at)})
			copy(mended[at:], "0"+string(bytes.Repeat([]byte{' '}, len(text)-1)))
			at += len(text) - 1
			break
		}
	}
	return mended, found
}

// endOfString is the place of the quote that closes the string which opens at a place.
func endOfString(src []byte, at int) int {
	for at++; at < len(src) && src[at] != '"'; at++ {
		if src[at] == '\\' {
			at++
		}
	}
	return at
}
