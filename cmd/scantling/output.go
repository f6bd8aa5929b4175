package main

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/scantling/engine/report"
)

// format is the format that is asked for, or the verb's own.
func (a *app) format(otherwise string) string {
	if a.settings.Format != "" {
		return a.settings.Format
	}
	return otherwise
}

// options are what the output may show.
func (a *app) options(working bool) report.Options {
	return report.Options{Colour: report.Coloured(a.out, os.Getenv), Working: working, Text: readText}
}

// readText is a file's bytes, for printers that count columns in it; nil where it cannot be read.
func readText(file string) []byte {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil
	}
	return data
}

// print writes what was made as a whole, so that nobody reads half of it.
func (a *app) print(make func(*bytes.Buffer) error) error {
	var b bytes.Buffer
	if err := make(&b); err != nil {
		return err
	}
	_, err := a.out.Write(b.Bytes())
	return err
}

// sortedError is everything that is wrong with a call, one line each.
func sortedError(wrong []string) error {
	slices.Sort(wrong)
	return unusable{errors.New(strings.Join(wrong, "\n"))}
}

func joined(list []string) string { return strings.Join(list, ", ") }

// hanging breaks a line of prose at 80 columns. What follows of a line that is set in, or of an item, is set in further.
func hanging(line string) string {
	if utf8.RuneCountInString(line) <= 80 {
		return line
	}
	text := strings.TrimLeft(line, " ")
	lead := line[:len(line)-len(text)]
	under := lead
	if lead != "" || strings.HasPrefix(text, "- ") {
		under += "  "
	}
	return lead + strings.Join(report.Wrap(text, 80-len(under)), "\n"+under)
}

// paragraphs breaks a text at 80 columns: lines that are not set in run on until the next empty one.
func paragraphs(text string) string {
	var out []string
	for _, block := range strings.Split(strings.Trim(text, "\n"), "\n\n") {
		var run []string
		flush := func() {
			if len(run) > 0 {
				out = append(out, hanging(strings.Join(run, " ")))
			}
			run = nil
		}
		for _, line := range strings.Split(block, "\n") {
			if strings.HasPrefix(line, " ") {
				flush()
				out = append(out, hanging(line))
			} else {
				run = append(run, line)
			}
		}
		flush()
		out = append(out, "")
	}
	return strings.Trim(strings.Join(out, "\n"), "\n")
}
