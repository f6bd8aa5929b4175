package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"

	"github.com/goccy/go-yaml"

	"example.com/scantling/engine/sizing"
	"example.com/scantling/model"
)

// stockEntry is one entry of a stock list, as a person writes it.
type stockEntry struct {
	Section string   `yaml:"section"`
	Grade   texts    `yaml:"grade"`  // one
	Grades  texts    `yaml:"grades"` // or several
	Lengths []length `yaml:"lengths"`
	Price   *float64 `yaml:"price"` // per metre
}

// readStock reads a stock list: a YAML list of sections with their grades, lengths (mm, or with a unit) and price per metre.
func readStock(file string) ([]sizing.Stock, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	var entries []stockEntry
	if err := yaml.NewDecoder(bytes.NewReader(data), yaml.Strict()).Decode(&entries); err != nil && !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%s: %w; a stock list is a list of {section, grade, lengths, price}", file, err)
	}
	out := make([]sizing.Stock, 0, len(entries))
	for i, e := range entries {
		if e.Section == "" {
			return nil, fmt.Errorf("%s: entry %d has no section", file, i+1)
		}
		s := sizing.Stock{Section: e.Section, Grades: append(e.Grade, e.Grades...)}
		for _, l := range e.Lengths {
			s.Lengths = append(s.Lengths, float64(l))
		}
		if e.Price != nil {
			if !(*e.Price >= 0) || math.IsInf(*e.Price, 0) {
				return nil, fmt.Errorf("%s: entry %d: a price is a number per metre, 0 or more", file, i+1)
			}
			s.Price = model.Given(*e.Price)
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: the stock list is empty", file)
	}
	return out, nil
}

// texts is a text or a list of texts.
type texts []string

// UnmarshalYAML reads either.
func (t *texts) UnmarshalYAML(read func(any) error) error {
	var one string
	if read(&one) == nil {
		*t = texts{one}
		return nil
	}
	return read((*[]string)(t))
}

// length is a number of millimetres, or a length with its unit.
type length float64

// UnmarshalYAML reads either.
func (l *length) UnmarshalYAML(read func(any) error) error {
	var v float64
	if read(&v) != nil {
		var text string
		if err := read(&text); err != nil {
			return err
		}
		var err error
		if v, err = model.ParseQuantity(text, model.Length); err != nil {
			return err
		}
	}
	if !(v > 0) || math.IsInf(v, 0) {
		return errors.New("a length is more than nothing")
	}
	*l = length(v)
	return nil
}
