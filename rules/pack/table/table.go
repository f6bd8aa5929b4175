// Package table is a rule pack's tables: read from CSV or rows, resolved once into dense sorted arrays, and looked up by
// keys that are matched exactly, to the next listed key, or between two. It must not know what the figures mean.
package table

import (
	"math"

	"example.com/scantling/model"
)

// Match is how a key column is matched.
type Match uint8

// The ways of matching.
const (
	Value    Match = iota // no key: what is looked up
	Exact                 // the key that is listed
	NextUp                // the smallest listed key that is not less
	NextDown              // the largest listed key that is not more
	Between               // linear between the two neighbours
)

// String is the match as a header writes it.
func (m Match) String() string {
	return [...]string{"value", "exact", "next up", "next down", "between"}[m]
}

// Column is one column of a table.
type Column struct {
	Name      string
	IsText    bool
	Dimension model.Dimension // of a column of numbers
	Unit      string          // as the header writes it
	Match     Match

	size float64 // the unit's size in internal units
}

// The bounds of a table.
const (
	maxKeys    = 8
	maxBetween = 4
	maxRows    = 100_000
	maxCells   = 1_000_000
)

// Table is a table that can be looked up.
type Table struct {
	Name   string
	Keys   []Column
	Values []Column
	Rows   int

	numbers [][]float64        // by key: sorted distinct keys
	texts   []map[string]int32 // by key
	listed  [][]string         // by key: distinct texts in order of appearance
	strides []int
	cells   [][]float64 // by value column; NaN where the table has no value
	words   [][]string  // by value column of texts; "" where the table has no value
}

// Column is the index of a value column by its name, or -1.
func (t *Table) Column(name string) int {
	for i := range t.Values {
		if t.Values[i].Name == name {
			return i
		}
	}
	return -1
}

// Miss says why a look-up found nothing. The zero Miss is a hit.
type Miss uint8

// The misses.
const (
	Hit Miss = iota
	NotListed
	TooLow
	TooHigh
	Empty // the keys are in range, but the table has no value for them
)

// Cursor gathers the places of the keys during one look-up. Its zero value is ready.
type Cursor struct {
	base  int
	n     int
	steps [maxBetween]int
	parts [maxBetween]float64
}

// tolerance is the relative difference within which two keys are the same.
const tolerance = 1e-9

func atLeast(a, b float64) bool { return a >= b || b-a <= tolerance*math.Max(math.Abs(a), math.Abs(b)) }

// Number places a number (internal units) among the keys of a column.
func (t *Table) Number(c *Cursor, key int, v float64) Miss {
	keys, stride := t.numbers[key], t.strides[key]
	// The first key that is not less than v.
	lo, hi := 0, len(keys)
	for lo < hi {
		if mid := int(uint(lo+hi) >> 1); atLeast(keys[mid], v) {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	same := lo < len(keys) && atLeast(v, keys[lo])
	switch match := t.Keys[key].Match; {
	case same:
		c.base += lo * stride
	case match == Exact:
		return NotListed
	case match == NextUp && lo < len(keys):
		c.base += lo * stride
	case match == NextDown && lo > 0:
		c.base += (lo - 1) * stride
	case match == Between && lo > 0 && lo < len(keys):
		c.base += (lo - 1) * stride
		c.steps[c.n] = stride
		c.parts[c.n] = (v - keys[lo-1]) / (keys[lo] - keys[lo-1])
		c.n++
	case lo == 0:
		return TooLow
	default:
		return TooHigh
	}
	return Hit
}

// Text places a text among the keys of a column.
func (t *Table) Text(c *Cursor, key int, s string) Miss {
	i, ok := t.texts[key][s]
	if !ok {
		return NotListed
	}
	c.base += int(i) * t.strides[key]
	return Hit
}

// Figure is the number of a value column at the keys placed, in internal units.
func (t *Table) Figure(c *Cursor, column int) (float64, Miss) {
	cells := t.cells[column]
	total := 0.0
	for corner := range 1 << c.n {
		at, weight := c.base, 1.0
		for k := range c.n {
			if corner>>k&1 == 1 {
				at += c.steps[k]
				weight *= c.parts[k]
			} else {
				weight *= 1 - c.parts[k]
			}
		}
		total += weight * cells[at]
	}
	if total != total {
		return 0, Empty
	}
	return total, Hit
}

// Word is the text of a value column at the keys placed.
func (t *Table) Word(c *Cursor, column int) (string, Miss) {
	if word := t.words[column][c.base]; word != "" {
		return word, Hit
	}
	return "", Empty
}

// Range is the smallest and the largest key of a column of numbers, in internal units.
func (t *Table) Range(key int) (least, most float64) {
	keys := t.numbers[key]
	return keys[0], keys[len(keys)-1]
}

// Listed is the texts of a column of texts.
func (t *Table) Listed(key int) []string { return t.listed[key] }
