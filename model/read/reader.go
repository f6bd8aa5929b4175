package read

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"example.com/scantling/model"
)

// reader walks over the document once, value by value. A problem is noted and the value is passed over; only broken
// JSON ends the walk, for nothing after it can be trusted to be in its place.
type reader struct {
	dec   *jsontext.Decoder
	src   []byte
	units model.Units
	problems
	broken bool   // the JSON itself is broken
	mark   string // the member that is being read

	names     map[string]string // one copy of every name
	recent    [512]string       // the names that came last
	notations map[string]*model.Section
	sections  map[sectionKey]*model.Section
	pieces    int
	store
}

func newReader(src []byte) *reader {
	return &reader{
		dec: jsontext.NewDecoder(bytes.NewBuffer(src), jsontext.AllowDuplicateNames(true)), src: src,
		names: map[string]string{}, notations: map[string]*model.Section{}, sections: map[sectionKey]*model.Section{},
	}
}

// peek is the kind of the next value, '}' or ']' at the end of what is open, and 0 when the JSON is broken.
func (r *reader) peek() jsontext.Kind {
	if r.broken {
		return 0
	}
	kind := r.dec.PeekKind()
	if kind == 0 {
		_, err := r.dec.ReadToken()
		r.breakAt(err)
	}
	return kind
}

// enter reads a brace or bracket, and is the offset after it.
func (r *reader) enter() int64 {
	if r.broken {
		return 0
	}
	if _, err := r.dec.ReadToken(); err != nil {
		r.breakAt(err)
	}
	return r.dec.InputOffset()
}

// scalar reads a text, number or truth. The bytes hold until the next read.
func (r *reader) scalar() (raw []byte, ok bool) {
	if r.broken {
		return nil, false
	}
	raw, err := r.dec.ReadValue()
	if err != nil {
		r.breakAt(err)
		return nil, false
	}
	return raw, true
}

// skip passes over a value of any kind.
func (r *reader) skip() {
	if r.broken {
		return
	}
	if err := r.dec.SkipValue(); err != nil {
		r.breakAt(err)
	}
}

// next is the offset at which the next value starts.
func (r *reader) next() int64 { return startOfNext(r.src, r.dec.InputOffset()) }

// unquote is the text of a raw string. The bytes hold until the next read.
func unquote(raw []byte) []byte {
	inside := raw[1 : len(raw)-1]
	if bytes.IndexByte(inside, '\\') < 0 {
		return inside
	}
	text, err := jsontext.AppendUnquote(nil, raw)
	if err != nil {
		return inside
	}
	return text
}

// intern is the one copy of a name. The names that came last are looked at first.
func (r *reader) intern(b []byte) string {
	recent := &r.recent[hash(b, 31)%uint32(len(r.recent))]
	if *recent == string(b) {
		return *recent
	}
	*recent = r.lookUp(b)
	return *recent
}

func (r *reader) lookUp(b []byte) string {
	if s, ok := r.names[string(b)]; ok {
		return s
	}
	s := string(b)
	r.names[s] = s
	return s
}

// problem notes what is wrong with the value that was read or passed over last.
func (r *reader) problem(offset int64, message, fix string) {
	if r.broken {
		return
	}
	r.problemAt(offset, string(r.dec.StackPointer()), message, fix)
}

func (r *reader) problemAt(offset int64, pointer, message, fix string) {
	r.add(Problem{Offset: offset, Pointer: pointer, Mark: r.mark, Message: message, Fix: fix})
}

// noted is the number of problems so far.
func (r *reader) noted() int { return len(r.list) + r.more }

// wrongKind passes over a value that is not what was wanted.
func (r *reader) wrongKind(wanted, example string) {
	kind, offset := r.peek(), r.next()
	r.skip()
	if kind == 'n' {
		r.problem(offset, "null says nothing", "leave the key out, or write "+example)
		return
	}
	r.problem(offset, fmt.Sprintf("%s stands where %s is wanted", kindName(kind), wanted), "write "+example)
}

func kindName(k jsontext.Kind) string {
	switch k {
	case '"':
		return "a text"
	case '0':
		return "a number"
	case 't', 'f':
		return "a truth"
	case '{':
		return "an object"
	case '[':
		return "a list"
	}
	return "null"
}

// breakAt notes that the JSON is broken, in a reader's words.
func (r *reader) breakAt(err error) {
	if r.broken {
		return
	}
	r.broken = true
	offset, pointer := int64(len(r.src)), ""
	var syntactic *jsontext.SyntacticError
	if errors.As(err, &syntactic) {
		offset, pointer = syntactic.ByteOffset, string(syntactic.JSONPointer)
	}
	if len(bytes.TrimSpace(r.src)) == 0 {
		offset = 0
	}
	message, fix := brokenWords(r.src, offset, err)
	r.problemAt(offset, pointer, message, fix)
}

// brokenWords says what is broken at an offset.
func brokenWords(src []byte, offset int64, err error) (message, fix string) {
	trimmed := bytes.TrimSpace(src)
	switch {
	case len(trimmed) == 0:
		return "the file is empty", `a model document begins with {"framing": 1`
	case errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) || offset >= int64(len(bytes.TrimRight(src, " \t\r\n"))):
		return "the file ends in the middle of a value", "the file is cut off, or a closing brace is missing"
	case strings.Contains(err.Error(), "depth"):
		return "values are nested too deeply", "no part of a model document is nested deeper than ten levels"
	case bytes.HasPrefix(src, []byte("\xef\xbb\xbf")):
		return "the file begins with a byte order mark", "save it as UTF-8 without one"
	}
	at := startOfNext(src, offset)
	if at > offset && at < int64(len(src)) && (src[at] == '}' || src[at] == ']') {
		return "a comma stands before a closing bracket", "take the last comma out"
	}
	c := src[min(offset, int64(len(src))-1)]
	switch {
	case c >= 0x80:
		return "these bytes are not JSON in UTF-8", "save the file as UTF-8, and check that it is a model document"
	case c < ' ':
		return fmt.Sprintf("a control character (%#02x) stands inside a text", c), `write it as an escape such as \n, or take it out`
	case c == '/' || c == '#':
		return "a comment is not JSON", `take it out, or keep it as a "note"`
	}
	return "this is not JSON: " + strconv.QuoteRune(rune(c)) + " stands where it cannot", "check the commas, quotes and brackets just before it"
}
