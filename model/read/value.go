package read

import (
	"fmt"

	"example.com/scantling/model"
)

// value is a kind of value: how it is read, written and described.
type value[V any] struct {
	read  func(r *reader, v *V)
	write func(w *writer, v *V)
	empty func(v *V) bool // true where there is nothing to write
	form  *Form
}

// field is one key of an object T.
type field[T any] struct {
	key      string
	doc      string
	required bool
	read     func(r *reader, t *T)
	write    func(w *writer, t *T)
	empty    func(t *T) bool
	form     *Form
}

// in is the key whose value stands at a place within T.
func in[T, V any](key, doc string, at func(*T) *V, v value[V]) field[T] {
	return field[T]{
		key: key, doc: doc, form: v.form,
		read:  func(r *reader, t *T) { v.read(r, at(t)) },
		write: func(w *writer, t *T) { v.write(w, at(t)) },
		empty: func(t *T) bool { return v.empty(at(t)) },
	}
}

// must makes a key required.
func must[T any](f field[T]) field[T] {
	f.required = true
	return f
}

// keys are the keys of an object that were there, one bit each in the order of its table.
type keys uint64

// table is an object's keys, found fast by name.
type table[T any] struct {
	name     string
	fields   []field[T]
	index    index
	required keys
	check    func(r *reader, t *T, seen said[T])
	form     *Form
}

// said tells which keys of an object were there, and where it begins.
type said[T any] struct {
	table  *table[T]
	keys   keys
	offset int64
}

// has tells whether a key was there.
func (s said[T]) has(key string) bool { return s.keys&s.table.bit(key) != 0 }

// only tells whether no other keys than these were there.
func (s said[T]) only(allowed ...string) bool {
	rest := s.keys
	for _, key := range allowed {
		rest &^= s.table.bit(key)
	}
	return rest == 0
}

// tableOf makes the table of an object. check, when there is one, judges what keys there are together.
func tableOf[T any](name, doc string, check func(r *reader, t *T, seen said[T]), fields ...field[T]) *table[T] {
	o := &table[T]{name: name, fields: fields, check: check,
		form: &Form{Kind: Object, Name: name, Doc: doc}}
	if len(fields) > 64 {
		panic("read: an object has at most 64 keys")
	}
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.key
		if f.required {
			o.required |= 1 << i
		}
		o.form.Keys = append(o.form.Keys, Key{Name: f.key, Doc: f.doc, Required: f.required, Form: f.form})
	}
	o.index = indexOf(names)
	return o
}

// bit is that of a key of the table.
func (o *table[T]) bit(key string) keys {
	i, known := o.index.find([]byte(key))
	if !known {
		panic("read: " + o.name + " has no key " + key)
	}
	return 1 << i
}

// read fills T from an object.
func (o *table[T]) read(r *reader, t *T) {
	if r.peek() != '{' {
		r.wrongKind("an object ("+o.name+")", "{...}")
		return
	}
	offset := r.enter() - 1
	var seen keys
	for r.peek() == '"' {
		raw, ok := r.scalar()
		if !ok {
			return
		}
		i, known := o.index.find(unquote(raw))
		if !known {
			o.unknown(r, string(unquote(raw)), r.dec.InputOffset()-int64(len(raw)))
			continue
		}
		if seen&(1<<i) != 0 {
			r.duplicate(o.fields[i].key, r.dec.InputOffset()-int64(len(raw)))
			continue
		}
		seen |= 1 << i
		o.fields[i].read(r, t)
	}
	r.enter()
	if missing := o.required &^ seen; missing != 0 {
		for i, f := range o.fields {
			if missing&(1<<i) != 0 {
				r.problem(offset, fmt.Sprintf("%q is missing", f.key), "add it: "+f.doc)
			}
		}
	}
	if o.check != nil && !r.broken {
		o.check(r, t, said[T]{o, seen, offset})
	}
}

func (o *table[T]) unknown(r *reader, key string, offset int64) {
	fix := "take it out, or keep it as a \"note\" of the member"
	if near := model.Nearest(key, o.index.names); near != "" {
		fix = fmt.Sprintf("write %q if that is meant", near)
	}
	r.problem(offset, fmt.Sprintf("%q is no key of %s", clip(key), o.name), fix)
	r.skip()
}

// duplicate notes a key that was there before, and passes over its value.
func (r *reader) duplicate(key string, offset int64) {
	r.skip()
	r.twice(key, offset)
}

func (r *reader) twice(key string, offset int64) {
	r.problem(offset, fmt.Sprintf("%q stands here twice", clip(key)), "keep one of the two")
}

// write is the object with what is not empty.
func (o *table[T]) write(w *writer, t *T) {
	w.begin('{', false)
	o.writeKeys(w, t)
	w.end('}')
}

// writeTall is the object with each key on a line of its own.
func (o *table[T]) writeTall(w *writer, t *T) {
	w.begin('{', true)
	o.writeKeys(w, t)
	w.end('}')
}

func (o *table[T]) writeKeys(w *writer, t *T) {
	for i := range o.fields {
		if f := &o.fields[i]; !f.empty(t) {
			w.key(f.key)
			f.write(w, t)
		}
	}
}

// object is the table as a kind of value. empty tells a T that says nothing.
func (o *table[T]) object(empty func(*T) bool) value[T] {
	return value[T]{read: o.read, write: o.write, empty: empty, form: o.form}
}

// optional is a value that only some have, behind a pointer. room gives one out.
func optional[V any](room func(r *reader) *V, v value[V]) value[*V] {
	return value[*V]{
		read: func(r *reader, p **V) {
			*p = room(r)
			v.read(r, *p)
		},
		write: func(w *writer, p **V) { v.write(w, *p) },
		empty: func(p **V) bool { return *p == nil },
		form:  v.form,
	}
}

// fresh is room that is not shared, for what is rare.
func fresh[V any](*reader) *V { return new(V) }

// list is a list of values. A single value may stand in for a list of one where single is true.
func list[V any](from func(r *reader) *arena[V], v value[V], single bool) value[[]V] {
	form := &Form{Kind: List, Items: v.form}
	if single {
		form = &Form{Kind: Either, Choices: []*Form{v.form, form}}
	}
	wide := v.form.Kind == Object
	return value[[]V]{
		read: func(r *reader, vs *[]V) {
			a := from(r)
			start := len(a.chunk)
			if r.peek() != '[' {
				if !single {
					r.wrongKind("a list", "[...]")
					return
				}
				start = a.extend(start)
				v.read(r, &a.chunk[len(a.chunk)-1])
				*vs = a.list(start)
				return
			}
			r.enter()
			for k := r.peek(); k != ']' && k != 0; k = r.peek() {
				start = a.extend(start)
				v.read(r, &a.chunk[len(a.chunk)-1])
			}
			r.enter()
			if len(a.chunk) > start {
				*vs = a.list(start)
			}
		},
		write: func(w *writer, vs *[]V) {
			if single && len(*vs) == 1 {
				v.write(w, &(*vs)[0])
				return
			}
			w.begin('[', wide && len(*vs) > 1)
			for i := range *vs {
				w.item()
				v.write(w, &(*vs)[i])
			}
			w.end(']')
		},
		empty: func(vs *[]V) bool { return len(*vs) == 0 },
		form:  form,
	}
}

// own is the array of a list that is rare: each list has one of its own.
func own[V any](*reader) *arena[V] { return new(arena[V]) }

// named is an object whose keys are names of the document's own (ids, marks), read into a list.
func named[V any](what string, v value[V], name func(*V) *string) value[[]V] {
	return value[[]V]{
		read: func(r *reader, vs *[]V) {
			if r.peek() != '{' {
				r.wrongKind("an object keyed by "+what, `{"A": {...}}`)
				return
			}
			r.enter()
			known := map[string]bool{}
			for r.peek() == '"' {
				id, offset, ok := r.id(what)
				if !ok {
					continue
				}
				if known[id] {
					r.duplicate(id, offset)
					continue
				}
				known[id] = true
				*vs = append(*vs, *new(V))
				last := &(*vs)[len(*vs)-1]
				*name(last) = id
				v.read(r, last)
			}
			r.enter()
		},
		write: func(w *writer, vs *[]V) {
			w.begin('{', true)
			for i := range *vs {
				w.key(*name(&(*vs)[i]))
				v.write(w, &(*vs)[i])
			}
			w.end('}')
		},
		empty: func(vs *[]V) bool { return len(*vs) == 0 },
		form:  &Form{Kind: Map, Name: what, Items: v.form},
	}
}

// longestName bounds marks and ids, in bytes.
const longestName = 120

// id reads a key that is a name of the document's own; when it is no use, its value is passed over.
func (r *reader) id(what string) (id string, offset int64, ok bool) {
	raw, ok := r.scalar()
	if !ok {
		return "", 0, false
	}
	offset = r.dec.InputOffset() - int64(len(raw))
	text := unquote(raw)
	for _, c := range text {
		ok = ok && c >= ' '
	}
	if !ok || len(text) == 0 || len(text) > longestName {
		r.problem(offset, fmt.Sprintf("%q is of no use as %s", clip(string(text)), what), fmt.Sprintf("name it with 1 to %d characters", longestName))
		r.skip()
		return "", 0, false
	}
	return string(text), offset, true
}

// clip keeps a text short enough for a message.
func clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	cut := most
	for cut > 0 && s[cut]&0xc0 == 0x80 {
		cut--
	}
	return s[:cut] + "..."
}
