package region

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Check reports everything that is wrong with the batch's form: columns of the wrong length, starts that do not rise,
// indices without a word, section or grade behind them, numbers that are not finite, ids that are given twice. What has
// passed can be walked without looking at any of them again; only Stations.Span is left to the reader.
func (b *Batch) Check() error { return errors.Join(b.CheckRows(), b.CheckNumbers()) }

// CheckRows is Check without the numbers per combination: what must hold before those can be told apart by piece.
func (b *Batch) CheckRows() error {
	if b.Site == nil || b.Preparation == nil {
		return errors.New("a batch needs its site and what was prepared for it")
	}
	if cases, combinations := len(b.Preparation.Cases), len(b.Preparation.Combinations); int(b.Cases) != cases || int(b.Combinations) != combinations {
		return fmt.Errorf("%d cases and %d combinations instead of the %d and %d that were prepared", b.Cases, b.Combinations, cases, combinations)
	}
	err := b.checkColumns(func(c column) bool { return !c.perCombination() })
	if id, twice := firstTwice(b.Pieces.ID); twice {
		err = errors.Join(fmt.Errorf("piece %d is given twice", id), err)
	}
	return err
}

// CheckNumbers is what CheckRows leaves out.
func (b *Batch) CheckNumbers() error { return b.checkColumns(column.perCombination) }

func (b *Batch) checkColumns(asked func(column) bool) error {
	var problems []error
	b.eachColumn(func(c column) {
		if asked(c) {
			problems = append(problems, c.check(b))
		}
	})
	return errors.Join(problems...)
}

// Bytes is the most that the batch can take on the wire.
func (b *Batch) Bytes() int {
	n := 64
	for _, w := range b.Pieces.Words {
		n += len(w) + 8
	}
	b.eachColumn(func(c column) {
		n += 16
		switch v := c.values.(type) {
		case []float64:
			n += 8 * len(v)
		case []int32:
			n += 5 * len(v)
		case []bool:
			n += len(v)
		}
	})
	return n
}

// column is one column of a batch, with the number of entries that it must have.
type column struct {
	name   string
	tag    string // what it holds: word, section, grade, start=<group>, combination, case, or plain numbers
	values any    // []float64, []int32 or []bool
	want   int
	target int // entries of the group that starts point into
}

// eachColumn visits the columns of all groups in the order of the types.
func (b *Batch) eachColumn(visit func(column)) {
	sizes := map[string]int{"Pieces": len(b.Pieces.ID), "Contacts": len(b.Contacts.At), "Stations": len(b.Stations.At),
		"Spans": len(b.Spans.From), "Notches": len(b.Notches.At), "Holes": len(b.Holes.At)}
	for _, group := range []any{&b.Pieces, &b.Contacts, &b.Stations, &b.Spans, &b.Notches, &b.Holes} {
		value := reflect.ValueOf(group).Elem()
		rows := sizes[value.Type().Name()]
		for i := range value.NumField() {
			field := value.Type().Field(i)
			if field.Type == reflect.TypeFor[Dictionary]() {
				continue
			}
			c := column{name: value.Type().Name() + "." + field.Name, tag: field.Tag.Get("column"), values: value.Field(i).Interface(), want: rows}
			switch {
			case c.tag == "combination":
				c.want = rows * int(b.Combinations)
			case c.tag == "case":
				c.want = rows * int(b.Cases)
			case strings.HasPrefix(c.tag, "start="):
				c.want, c.target = rows+1, sizes[strings.TrimPrefix(c.tag, "start=")]
			}
			visit(c)
		}
	}
}

// perCombination says whether it holds a number for each combination of a row.
func (c column) perCombination() bool {
	_, numbers := c.values.([]float64)
	return numbers && c.tag == "combination"
}

func (c column) check(b *Batch) error {
	if n := reflect.ValueOf(c.values).Len(); n != c.want {
		return fmt.Errorf("%s has %d entries instead of %d", c.name, n, c.want)
	}
	switch v := c.values.(type) {
	case []float64:
		if !finite(v) {
			i := slices.IndexFunc(v, func(x float64) bool { return x-x != 0 })
			return fmt.Errorf("%s[%d] is %v", c.name, i, v[i])
		}
	case []int32:
		switch c.tag {
		case "":
			return nil
		case "word":
			return c.checkIndices(v, 0, max(1, len(b.Pieces.Words)))
		case "section":
			return c.checkIndices(v, -1, len(b.Site.Sections))
		case "grade":
			return c.checkIndices(v, -1, len(b.Site.Grades))
		case "combination":
			return c.checkAlike(v, int(b.Combinations))
		}
		return c.checkStarts(v)
	}
	return nil
}

// finite says whether all numbers are neither NaN nor an infinity: those less themselves are NaN, and so is any sum with
// one. Four sums run side by side, since every number of every batch comes by here twice.
func finite(numbers []float64) bool {
	var a, b, c, d float64
	for ; len(numbers) >= 4; numbers = numbers[4:] {
		a += numbers[0] - numbers[0]
		b += numbers[1] - numbers[1]
		c += numbers[2] - numbers[2]
		d += numbers[3] - numbers[3]
	}
	for _, x := range numbers {
		a += x - x
	}
	return a+b+c+d == 0
}

func (c column) checkIndices(indices []int32, low, end int) error {
	for i, x := range indices {
		if int(x) < low || int(x) >= end {
			return fmt.Errorf("%s[%d] is %d, and there are %d", c.name, i, x, end)
		}
	}
	return nil
}

func (c column) checkAlike(alike []int32, combinations int) error {
	for i, of := range alike {
		k := i % combinations
		if of < 0 || int(of) > k || of > 0 && alike[i-k+int(of)-1] != 0 {
			return fmt.Errorf("%s[%d] is %d, which is not the first of its like before combination %d", c.name, i, of, k)
		}
	}
	return nil
}

func (c column) checkStarts(starts []int32) error {
	last := int32(0)
	for i, s := range starts {
		if s < last {
			return fmt.Errorf("%s[%d] is %d after %d", c.name, i, s, last)
		}
		last = s
	}
	if starts[0] != 0 || int(last) != c.target {
		return fmt.Errorf("%s runs from %d to %d instead of 0 to %d", c.name, starts[0], last, c.target)
	}
	return nil
}

// firstTwice is the first number that stands in the list for the second time. Rising lists need no map.
func firstTwice(ids []int32) (int32, bool) {
	rising := true
	for i := 1; i < len(ids) && rising; i++ {
		rising = ids[i] > ids[i-1]
	}
	if rising {
		return 0, false
	}
	seen := make(map[int32]bool, len(ids))
	for _, id := range ids {
		if seen[id] {
			return id, true
		}
		seen[id] = true
	}
	return 0, false
}
