package main

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"

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
