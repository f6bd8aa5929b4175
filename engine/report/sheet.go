package report

import (
	"bufio"
	"io"

	"example.com/scantling/engine/finding"
)

// Sheet is a page of text for the printers of other verbs: it fits 80 columns, and texts of documents are cleaned on the
// way.
type Sheet struct{ page }

// NewSheet writes to w.
func NewSheet(w io.Writer, o Options) *Sheet {
	return &Sheet{page{w: bufio.NewWriter(w), colour: o.Colour}}
}

// Title is a line of its own, in bold where there is colour.
func (s *Sheet) Title(text string) { s.bold(text) }

// Heading is a title with a gap on both sides, in the colour of a severity; an empty one has none.
func (s *Sheet) Heading(text string, severity finding.Severity) {
	s.heading(text, map[finding.Severity]string{finding.Stop: red, finding.Ask: yellow}[severity])
}

// Numbered is the first line of an entry.
func (s *Sheet) Numbered(number int, text string) { s.numbered(number, text) }

// Field is a label with text beside it; a field without text is left out. Fields of an entry stand below its number.
func (s *Sheet) Field(label, text string) { s.field(label, 0, text) }

// EntryField is a field of a numbered entry.
func (s *Sheet) EntryField(label, text string) { s.field(label, indent, text) }

// Para is a text without a label.
func (s *Sheet) Para(text string) { s.para(0, text) }

// EntryPara is a text of a numbered entry.
func (s *Sheet) EntryPara(text string) { s.para(indent, text) }

// Item is one of a list.
func (s *Sheet) Item(text string) { s.item(text) }

// Line is a line as it is, for tables.
func (s *Sheet) Line(text string) { s.line(Clean(text)) }

// Loosened lists what house packs made less strict; nothing where there is nothing.
func (s *Sheet) Loosened(list []finding.Loosened) { s.loosened(list) }

// Gap is an empty line between two that are not.
func (s *Sheet) Gap() { s.gap() }

// Close prints the caution, and hands on whatever went wrong while writing.
func (s *Sheet) Close() error {
	s.gap()
	s.para(0, finding.Caution)
	return s.w.Flush()
}
