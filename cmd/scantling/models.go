package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/model/read"
)

// models reads what the arguments name: files, folders (every framing model in them) and - for the standard input (one
// document after another). Problems are those of what could not be used; list says that more than one was asked for.
func (a *app) models(args []string) (sources []*engine.Source, problems []report.Problem, list bool) {
	list = len(args) > 1
	for _, arg := range args {
		if arg == "-" {
			s, p := a.stream()
			sources, problems, list = append(sources, s...), append(problems, p...), true
			continue
		}
		info, err := os.Stat(arg)
		if err == nil && info.IsDir() {
			s, p := folder(arg)
			sources, problems, list = append(sources, s...), append(problems, p...), true
			continue
		}
		text, bad := read.File(arg)
		s, p := source(text, bad)
		if s != nil {
			sources = append(sources, s)
		}
		problems = append(problems, p...)
	}
	return sources, problems, list
}

// one reads the single model of a verb that takes one.
func (a *app) one(arg string) (*engine.Source, []report.Problem) {
	sources, problems, _ := a.models([]string{arg})
	return only(arg, sources, problems)
}

// only is the single model of what an argument names.
func only(arg string, sources []*engine.Source, problems []report.Problem) (*engine.Source, []report.Problem) {
	if len(problems) > 0 {
		return nil, problems
	}
	if len(sources) != 1 {
		return nil, []report.Problem{{Place: finding.Place{File: arg, Offset: -1}, Message: fmt.Sprintf("holds %d models", len(sources)), Action: "name one model"}}
	}
	return sources[0], nil
}

// source reads one text strictly.
func source(text read.Source, bad read.Problems) (*engine.Source, []report.Problem) {
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	doc, bad := read.Document(text.Text, text.Name)
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	return &engine.Source{Document: doc, Text: text.Text, File: text.Name}, nil
}

// printable is a reader's problems as the report prints them.
func printable(problems read.Problems) []report.Problem {
	out := make([]report.Problem, len(problems))
	for i, p := range problems {
		message := p.Message
		if p.Mark != "" {
			message = p.Mark + ": " + message
		}
		out[i] = report.Problem{
			Place:   finding.Place{File: p.File, Line: p.Line, Column: p.Column, Pointer: p.Pointer, Offset: p.Offset},
			Message: message, Action: p.Fix,
		}
	}
	return out
}

// stream reads the documents that the standard input holds, one after another.
func (a *app) stream() (sources []*engine.Source, problems []report.Problem) {
	const name = "standard input"
	text, bad := read.From(a.in, name)
	if len(bad) > 0 {
		return nil, printable(bad)
	}
	d := json.NewDecoder(bytes.NewReader(text.Text))
	for n := 1; ; n++ {
		var raw json.RawMessage
		err := d.Decode(&raw)
		if errors.Is(err, io.EOF) {
			if n == 1 {
				_, p := source(text, nil)
				return nil, p
			}
			return sources, problems
		}
		part := read.Source{Name: fmt.Sprintf("%s, document %d", name, n), Text: raw}
		if err != nil { // the strict reader says what is wrong with the rest
			part.Text = text.Text[min(int(d.InputOffset()), len(text.Text)):]
		}
		s, p := source(part, nil)
		if s != nil {
			sources = append(sources, s)
		}
		problems = append(problems, p...)
		if err != nil {
			return sources, problems
		}
	}
}

// folder reads every framing model below a folder: JSON files that say "framing" at their top.
func folder(dir string) (sources []*engine.Source, problems []report.Problem) {
	none := func(message, action string) {
		problems = append(problems, report.Problem{Place: finding.Place{File: dir, Offset: -1}, Message: message, Action: action})
	}
	found := 0
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name := entry.Name(); path != dir && strings.HasPrefix(name, ".") {
				return fs.SkipDir
			}
			return nil
		}
		if filepath.Ext(path) != ".json" || !entry.Type().IsRegular() {
			return nil
		}
		text, bad := read.File(path)
		if len(bad) == 0 && !isFraming(text.Text) {
			return nil
		}
		found++
		s, p := source(text, bad)
		if s != nil {
			sources = append(sources, s)
		}
		problems = append(problems, p...)
		return nil
	})
	switch {
	case err != nil:
		none(err.Error(), "make the folder readable")
	case found == 0:
		none("holds no framing model", `a model is a JSON file with "framing": 1 at its top`)
	}
	return sources, problems
}

// isFraming says whether a JSON text has the key "framing" at its top.
func isFraming(text []byte) bool {
	d := json.NewDecoder(bytes.NewReader(text))
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return false
	}
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return false
		}
		if key == "framing" {
			return true
		}
		var skip json.RawMessage
		if d.Decode(&skip) != nil {
			return false
		}
	}
	return false
}
