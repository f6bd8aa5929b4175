package report

import (
	"bufio"
	"cmp"
	"fmt"
	"strings"
)

// Columns of the text output.
const (
	pageWidth  = 80
	indent     = 4  // of what stands under a number
	labelWidth = 10 // of "found", "needed" and their like
)

// Colours of headings, as ANSI codes.
const (
	red     = "1;31"
	yellow  = "1;33"
	magenta = "1;35"
	plain   = "1"
)

// page writes lines that fit the width. Text from documents is cleaned on the way.
type page struct {
	w      *bufio.Writer
	colour bool
	begun  bool
	gapped bool // the last line is empty
}

func (p *page) line(text string) {
	fmt.Fprintln(p.w, text)
	p.begun, p.gapped = true, false
}

// gap is an empty line between two that are not.
func (p *page) gap() {
	if p.begun && !p.gapped {
		p.line("")
		p.gapped = true
	}
}

// heading is a line of its own, with a gap on both sides.
func (p *page) heading(text, colour string) {
	p.gap()
	for _, l := range Wrap(text, pageWidth) {
		p.line(p.painted(l, cmp.Or(colour, plain)))
	}
	p.gap()
}

func (p *page) bold(text string) {
	for _, l := range Wrap(text, pageWidth) {
		p.line(p.painted(l, plain))
	}
}

// numbered is the first line of a finding.
func (p *page) numbered(number int, text string) {
	lead := fmt.Sprintf("%2d  ", number)
	for _, l := range Wrap(text, pageWidth-len(lead)) {
		p.line(lead + p.painted(l, plain))
		lead = strings.Repeat(" ", len(lead))
	}
}

// field is a label with text beside it, wrapped under itself; a field without text is left out.
func (p *page) field(label string, indent int, text string) {
	p.block(fmt.Sprintf("%*s%-*s", indent, "", labelWidth, label), text)
}

// para is text without a label.
func (p *page) para(indent int, text string) { p.block(strings.Repeat(" ", indent), text) }

// item is one of a list.
func (p *page) item(text string) { p.block("  - ", text) }

// point is one of several under a numbered line.
func (p *page) point(text string) { p.block("    - ", text) }

// block prints text behind a lead, further lines as far in as the first.
func (p *page) block(lead, text string) {
	for _, l := range Wrap(text, pageWidth-len(lead)) {
		p.line(lead + l)
		lead = strings.Repeat(" ", len(lead))
	}
}

func (p *page) painted(text, colour string) string {
	if !p.colour {
		return text
	}
	return "\x1b[" + colour + "m" + text + "\x1b[0m"
}
