package read

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/go-json-experiment/json/jsontext"
)

// Place is where something stands in a text.
type Place struct {
	Line   int   // from 1
	Column int   // from 1, in characters
	Offset int64 // in bytes from the start
}

// Places finds the places of values in one source. Reading keeps one offset a member; what is finer is found by
// scanning that member again, so that only members with findings cost anything. It is not for several goroutines at
// once.
type Places struct {
	src    []byte
	starts []int64 // where each line starts; made when first needed
	last   Place   // found last: a document on one long line is not counted anew for each place
}

// NewPlaces is for the text that a document was read from.
func NewPlaces(src []byte) *Places { return &Places{src: src} }

// Member is the place that a JSON pointer tells within a member: offset is the member's, and path is relative to it,
// such as "/supports/0/bearing". Where the path leads nowhere, the nearest place around it that exists is given.
func (p *Places) Member(offset int64, path string) Place {
	if offset < 0 || offset > int64(len(p.src)) {
		return Place{}
	}
	return p.at(offset + p.find(p.src[offset:], path))
}

// Pointer is the place that a JSON pointer tells from the top of the document.
func (p *Places) Pointer(pointer string) Place { return p.Member(0, pointer) }

// Pointer is the JSON pointer (RFC 6901) that leads through some keys from the top of a document.
func Pointer(keys ...string) string {
	var out strings.Builder
	for _, k := range keys {
		out.WriteByte('/')
		out.WriteString(strings.NewReplacer("~", "~0", "/", "~1").Replace(k))
	}
	return out.String()
}

// find is the offset of the value that the pointer leads to within src.
func (p *Places) find(src []byte, pointer string) int64 {
	d := jsontext.NewDecoder(bytes.NewBuffer(src), jsontext.AllowDuplicateNames(true))
	found := startOfNext(src, 0)
	for _, token := range strings.Split(pointer, "/")[1:] {
		token = strings.NewReplacer("~1", "/", "~0", "~").Replace(token)
		kind := d.PeekKind()
		if _, err := d.ReadToken(); err != nil {
			return found
		}
		switch kind {
		case '{':
			if !enterKey(d, token) {
				return found
			}
		case '[':
			if !enterIndex(d, token) {
				return found
			}
		default:
			return found
		}
		found = startOfNext(src, d.InputOffset())
	}
	return found
}

// enterKey moves the decoder to before the value of a key.
func enterKey(d *jsontext.Decoder, key string) bool {
	for d.PeekKind() == '"' {
		name, err := d.ReadToken()
		if err != nil {
			return false
		}
		if name.String() == key {
			return true
		}
		if d.SkipValue() != nil {
			return false
		}
	}
	return false
}

// enterIndex moves the decoder to before an element.
func enterIndex(d *jsontext.Decoder, token string) bool {
	n, err := strconv.Atoi(token)
	if err != nil || n < 0 {
		return false
	}
	for ; n > 0; n-- {
		if d.SkipValue() != nil {
			return false
		}
	}
	kind := d.PeekKind()
	return kind != ']' && kind != 0
}

// at counts lines and characters up to an offset.
func (p *Places) at(offset int64) Place {
	if p.starts == nil {
		p.starts = lineStarts(p.src)
	}
	offset = min(offset, int64(len(p.src)))
	line, exact := slices.BinarySearch(p.starts, offset)
	if !exact {
		line--
	}
	found := Place{Line: line + 1, Column: 1, Offset: offset}
	switch from := p.starts[line]; {
	case p.last.Line == found.Line && p.last.Offset <= offset:
		found.Column = p.last.Column + utf8.RuneCount(p.src[p.last.Offset:offset])
	case p.last.Line == found.Line && p.last.Offset-offset < offset-from:
		found.Column = p.last.Column - utf8.RuneCount(p.src[offset:p.last.Offset])
	default:
		found.Column += utf8.RuneCount(p.src[from:offset])
	}
	p.last = found
	return found
}

func lineStarts(src []byte) []int64 {
	starts := make([]int64, 1, 1+bytes.Count(src, []byte{'\n'}))
	for at := 0; ; {
		next := bytes.IndexByte(src[at:], '\n')
		if next < 0 {
			return starts
		}
		at += next + 1
		starts = append(starts, int64(at))
	}
}

// startOfNext is where the next value begins after what was read up to an offset.
func startOfNext(src []byte, offset int64) int64 {
	for offset < int64(len(src)) {
		switch src[offset] {
		case ' ', '\t', '\r', '\n', ',', ':':
			offset++
		default:
			return offset
		}
	}
	return offset
}
