// Package page makes one page of a check that works without a network: for the building authority, the engineer and the
// builder, to look at and to print. It does not know how anything on it was found.
package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"sync"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/statics"
)

// Page is all that stands on the page.
type Page struct {
	Result      *finding.Result
	Frame       draw.Frame
	Takedown    statics.Listing
	Against     *Against // what was built, where it was compared
	Covered     []Covered
	Signoffs    []finding.Signoff // in force
	Assumptions []Assumption
	Refresh     int // seconds after which the page loads itself anew; 0 never
}

// Against is what was built, held against what was drawn.
type Against struct {
	File    string
	Summary string // of the rules on changes
	Changes []Change
	Shifts  []Shifts
}

// Change is one difference between what was drawn and what was built, with what the rules make of it.
type Change struct {
	Member, Kind, Drawn, Built string
	State                      draw.State
	Message, Effect, Evidence  string
}

// Shifts are loads that are others as built, under one heading.
type Shifts struct {
	Title string
	Loads []Shift
}

// Shift is one of them: where, as drawn, as built, by how much more, and in per cent.
type Shift struct{ Where, Drawn, Built, More, Percent string }

// Covered is something that must be seen, and before what: mostly before something hides it.
type Covered struct {
	Member, What, Before, Drawing string
	Seen                          string // who saw it, when, which photograph; empty while nobody has
}

// Assumption is something that a region took as given.
type Assumption struct{ Text, Source string }

// Formats are the formats of a page.
var Formats = report.Formats[Page]{
	{Name: "html", New: func(report.Options) report.Printer[Page] { return htmlPrinter{} }},
}

//go:embed page.html page.css page.js
var files embed.FS

// parts are what a page is made of, read when the first is printed.
type parts struct {
	style, script string
	policy        string // lets the page load nothing and run only what it came with
	sheet         *template.Template
}

var read = sync.OnceValue(func() parts {
	p := parts{style: file("page.css") + draw.Style(), script: file("page.js")}
	p.policy = fmt.Sprintf("default-src 'none'; style-src '%s'; script-src '%s'; base-uri 'none'; form-action 'none'", hash(p.style), hash(p.script))
	p.sheet = template.Must(draw.Templates().Parse(file("page.html")))
	return p
})

func file(name string) string {
	text, err := files.ReadFile(name)
	if err != nil {
		panic(err) // it is part of the program
	}
	return string(text)
}

func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

type htmlPrinter struct{}

// Print writes the page.
func (htmlPrinter) Print(w io.Writer, p Page) error {
	return read().sheet.ExecuteTemplate(w, "page", viewOf(p))
}
