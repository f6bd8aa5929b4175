package read

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/scantling/model"
)

// Patched is a document with a merge patch (RFC 7396) applied to it.
type Patched struct {
	Document *model.Document
	Text     []byte // the merged text, which the members' offsets refer to
	merged   merged
	sources  [2]Source
	places   [2]*Places
}

// Patch applies a merge patch to a document and reads the result as strictly as any document. A problem stands in
// the patch where it comes from the patch, and in the document otherwise. Members keep their order; new ones follow.
func Patch(base, patch Source) (*Patched, Problems) {
	for _, s := range []Source{patch, base} {
		if problems := soundObject(s); problems != nil {
			return nil, problems
		}
	}
	m, twice := merge(base.Text, patch.Text)
	if len(twice.list) > 0 {
		return nil, twice.in(patch.Name, patch.Text)
	}
	d, found := document(m.text)
	p := &Patched{Document: d, Text: m.text, merged: m, sources: [2]Source{fromBase: base, fromPatch: patch},
		places: [2]*Places{fromBase: NewPlaces(base.Text), fromPatch: NewPlaces(patch.Text)}}
	if len(found.list) > 0 {
		return nil, p.problems(found)
	}
	return p, nil
}

// Origin is where a place of the merged text comes from: the name of the document or of the patch, and the place in it.
func (p *Patched) Origin(offset int64) (name string, place Place) {
	from, at := p.merged.origin(offset)
	return p.sources[from].Name, p.places[from].at(at)
}

// problems puts what was found in the merged text where it comes from, the patch's first.
func (p *Patched) problems(found *problems) Problems {
	var each [2]problems
	for _, problem := range found.list {
		from, at := p.merged.origin(problem.Offset)
		problem.Offset = at
		each[from].add(problem)
	}
	each[fromPatch].more = found.more
	var all Problems
	for _, from := range []origin{fromPatch, fromBase} {
		all = append(all, each[from].in(p.sources[from].Name, p.sources[from].Text)...)
	}
	return all
}

// soundObject tells the problems of a text that is not a JSON object at all.
func soundObject(s Source) Problems {
	r := newReader(s.Text)
	if kind := r.peek(); kind != '{' && kind != 0 {
		r.wrongKind("an object", `{"members": {...}}`)
	} else {
		r.skip()
	}
	if !r.broken {
		r.end()
	}
	return r.problems.in(s.Name, s.Text)
}

// origin tells the two texts of a merge apart.
type origin uint8

const (
	fromBase origin = iota
	fromPatch
)

// merged is a text with where each piece of it comes from.
type merged struct {
	text   []byte
	pieces []piece
}

// piece is a stretch of the merged text that was copied.
type piece struct {
	at     int64 // in the merged text
	length int64
	from   origin
	start  int64 // in the text that it comes from
}

// origin is where a place of the merged text was copied from, or what was copied just before it.
func (m *merged) origin(offset int64) (origin, int64) {
	after, exact := slices.BinarySearchFunc(m.pieces, offset, func(p piece, at int64) int { return cmp.Compare(p.at, at) })
	if !exact {
		after--
	}
	p := m.pieces[max(0, after)]
	return p.from, p.start + min(offset-p.at, p.length)
}

// merger writes the merged text. What the patch does not touch is copied as it is, so that its layout stays.
type merger struct {
	merged
	sources [2][]byte
	twice   problems // keys that the patch has twice
}

// span is a value in one of the two texts.
type span struct {
	from       origin
	start, end int64
}

// entry is a key of an object with its value.
type entry struct {
	name  string
	key   int64 // where the key starts
	value span
}

// merge applies a patch to a text; both are sound JSON. Keys that the patch has twice come back as problems.
func merge(base, patch []byte) (merged, *problems) {
	m := merger{sources: [2][]byte{fromBase: base, fromPatch: patch}}
	whole := m.whole(fromBase)
	m.merge(&whole, m.whole(fromPatch))
	return m.merged, &m.twice
}

// whole is the one value of a text.
func (m *merger) whole(from origin) span {
	r := newReader(m.sources[from])
	start := r.next()
	r.skip()
	return span{from, start, r.dec.InputOffset()}
}

// merge writes the base as the patch changes it (RFC 7396, section 2); a nil base is one that is not there.
func (m *merger) merge(base *span, patch span) {
	if !m.isObject(patch) {
		m.copy(patch.from, patch.start, patch.end)
		return
	}
	changes := m.entries(patch)
	change := make(map[string]span, len(changes))
	for _, c := range changes {
		change[c.name] = c.value
	}
	var kept []entry
	frame := patch
	if base != nil && m.isObject(*base) {
		kept, frame = m.entries(*base), *base
	}
	m.copy(patch.from, patch.start, patch.start+1)
	began := false
	there := make(map[string]bool, len(kept))
	for _, k := range kept {
		there[k.name] = true
		value, changed := change[k.name]
		if changed && m.isNull(value) {
			continue
		}
		m.separate(&began, m.gap(k.value.from, k.key))
		if !changed {
			m.copy(k.value.from, k.key, k.value.end)
			continue
		}
		m.copy(k.value.from, k.key, k.value.start)
		m.merge(&k.value, value)
	}
	for _, c := range changes {
		if there[c.name] || m.isNull(c.value) {
			continue
		}
		gap := m.gap(c.value.from, c.key)
		if len(kept) > 0 {
			gap = m.gap(kept[0].value.from, kept[0].key)
		}
		m.separate(&began, gap)
		m.copy(c.value.from, c.key, c.value.start)
		m.merge(nil, c.value)
	}
	if began {
		m.text = append(m.text, m.gap(frame.from, frame.end-1)...)
	}
	m.copy(frame.from, frame.end-1, frame.end)
}

// entries are the keys of an object, in order.
func (m *merger) entries(object span) []entry {
	r := newReader(m.sources[object.from][object.start:object.end])
	r.enter()
	var entries []entry
	seen := map[string]bool{}
	for r.peek() == '"' {
		key := object.start + r.next()
		raw, _ := r.scalar()
		name := string(unquote(raw))
		start := object.start + r.next()
		r.skip()
		if seen[name] && object.from == fromPatch {
			m.twice.add(Problem{Offset: key, Message: fmt.Sprintf("%q stands here twice", clip(name)), Fix: "keep one of the two"})
		}
		seen[name] = true
		entries = append(entries, entry{name, key, span{object.from, start, object.start + r.dec.InputOffset()}})
	}
	return entries
}

func (m *merger) isObject(s span) bool { return m.sources[s.from][s.start] == '{' }
func (m *merger) isNull(s span) bool   { return m.sources[s.from][s.start] == 'n' }

// gap is the white space before a place.
func (m *merger) gap(from origin, end int64) []byte {
	src := m.sources[from]
	start := end
	for start > 0 && (src[start-1] == ' ' || src[start-1] == '\n' || src[start-1] == '\t' || src[start-1] == '\r') {
		start--
	}
	return src[start:end]
}

func (m *merger) separate(began *bool, gap []byte) {
	if *began {
		m.text = append(m.text, ',')
	}
	*began = true
	m.text = append(m.text, gap...)
}

func (m *merger) copy(from origin, start, end int64) {
	m.pieces = append(m.pieces, piece{int64(len(m.text)), end - start, from, start})
	m.text = append(m.text, m.sources[from][start:end]...)
}
