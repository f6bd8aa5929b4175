package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/model/cutting"
)

// lists are the cutting list, what to order, and the plan of the stock.
func lists(s *cutting.Schedule) []Table {
	return []Table{cuttingTable(s), orderingTable(s), planTable(s)}
}

// units print the figures of one system.
type units struct {
	model.Units
	length, mass string
}

func unitsOf(u model.Units) units {
	return units{u, model.MeasureLength.Unit(u), model.MeasureMass.Unit(u)}
}

// long is a length as a figure: to 1 mm, or 1/100 in.
func (u units) long(v float64) Cell {
	v /= model.MeasureLength.Size(u.Units)
	if u.Units == model.US {
		return rounded(v, 2)
	}
	return rounded(v, 0)
}

// longText is a length within a text: a bare number of mm, or feet and inches.
func (u units) longText(v float64) string {
	if u.Units == model.US {
		return model.Format(v, model.Length, u.Units)
	}
	return u.long(v).Text
}

// heavy is a mass as a figure, to a tenth; empty where it is not known.
func (u units) heavy(q model.Quantity) Cell {
	if !q.Known {
		return Cell{}
	}
	return rounded(q.Value/model.MeasureMass.Size(u.Units), 1)
}

func rounded(v float64, digits int) Cell {
	scale := math.Pow(10, float64(digits))
	return Cell{Text: strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64), Figure: true}
}

func count(n int) Cell { return Cell{Text: strconv.Itoa(n), Figure: true} }

func cuttingTable(s *cutting.Schedule) Table {
	u := unitsOf(s.Units)
	t := Table{Name: Cutting, Columns: []Column{
		{"Marks", "", 24}, {"Role", "", 14}, {"Section", "", 16}, {"Grade", "", 10}, {"Count", "", 8}, {"Length", u.length, 12},
		{"Blank", u.length, 12}, {"First end", "", 30}, {"Second end", "", 52}, {"Birdsmouths", "", 52}, {"Backing", "degrees", 16},
		{"Weight each", u.mass, 16}, {"Weight in all", u.mass, 17}, {"Lift", "", 30}, {"Note", "", 40},
	}}
	var parts []cutting.Part // what the rows add up to
	rows := map[string]int{} // by all that a saw cares about
	for i := range s.Parts {
		p := &s.Parts[i]
		backing := Cell{}
		if p.Backing.Known {
			backing = rounded(p.Backing.Value*180/math.Pi, 1)
		}
		row := []Cell{
			{}, text(string(p.Role)), text(p.Section), text(p.Grade), {}, u.long(p.Length), u.long(p.Blank),
			text(p.Ends[0].String()), text(p.Ends[1].String()), text(u.seatsText(p.Seats)), backing, u.heavy(p.Mass), {}, text(p.Lift), text(p.Note),
		}
		key := fmt.Sprint(row)
		k, alike := rows[key]
		if !alike {
			k = len(t.Rows)
			rows[key] = k
			parts = append(parts, cutting.Part{})
			t.Rows = append(t.Rows, row)
		}
		parts[k].Count += p.Count
		parts[k].Total = model.Quantity{Value: parts[k].Total.Value + p.Total.Value, Known: p.Total.Known}
		row = t.Rows[k]
		row[0], row[4], row[12] = text(joined(row[0].Text, p.Name())), count(parts[k].Count), u.heavy(parts[k].Total)
	}
	for _, l := range s.Left {
		row := make([]Cell, len(t.Columns))
		row[0], row[len(row)-1] = text(l.Mark), text("not cut: "+l.Reason)
		t.Rows = append(t.Rows, row)
	}
	return t
}

func joined(marks, mark string) string {
	if marks == "" {
		return mark
	}
	return marks + ", " + mark
}

func (u units) seatsText(seats []cutting.Seat) string {
	parts := make([]string, len(seats))
	for i, s := range seats {
		parts[i] = fmt.Sprintf("at %s, %s deep, heel %.1f°, seat %.1f°", model.Format(s.At, model.Length, u.Units),
			model.Format(s.Depth, model.Length, u.Units), s.Plumb*180/math.Pi, s.Level*180/math.Pi)
	}
	return strings.Join(parts, "; ")
}

// orderingTable is what to order: stock lengths by section and grade, and what is made to length.
func orderingTable(s *cutting.Schedule) Table {
	u := unitsOf(s.Units)
	t := Table{Name: Ordering, Columns: []Column{
		{"Section", "", 16}, {"Grade", "", 10}, {"Count", "", 8}, {"Length each", u.length, 17}, {"Length in all", u.length, 18}, {"For", "", 24}, {"Note", "", 60},
	}}
	for _, o := range s.Orders {
		for i := 0; i < len(o.Bars); {
			n := 1
			for i+n < len(o.Bars) && o.Bars[i+n].Length == o.Bars[i].Length {
				n++
			}
			t.Rows = append(t.Rows, []Cell{text(o.Section), text(o.Grade), count(n), u.long(o.Bars[i].Length), u.long(float64(n) * o.Bars[i].Length), text("stock"), {}})
			i += n
		}
		for _, l := range o.Long {
			t.Rows = append(t.Rows, []Cell{text(o.Section), text(o.Grade), count(l.Count), u.long(l.Length), u.long(float64(l.Count) * l.Length), text(l.Mark), text(l.Do)})
		}
	}
	return t
}

// planTable is what each bar of stock is cut into. Bars that are cut alike share a row.
func planTable(s *cutting.Schedule) Table {
	u := unitsOf(s.Units)
	t := Table{Name: Plan, Columns: []Column{
		{"Section", "", 16}, {"Grade", "", 10}, {"Bars", "", 8}, {"Stock", u.length, 12}, {"Cut into", "", 60}, {"Off-cut each", u.length, 18},
		{"Ordered", u.length, 14}, {"Least possible", u.length, 20},
	}}
	for _, o := range s.Orders {
		for i, b := range alike(&o, u) {
			row := []Cell{text(o.Section), text(o.Grade), count(b.count), u.long(b.Length), text(b.into()), u.long(b.Offcut), {}, {}}
			if i == 0 {
				row[6], row[7] = u.long(o.Ordered), u.long(o.Bound)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// same is bars of one length that are cut into the same lengths.
type same struct {
	cutting.Bar
	count   int
	lengths []string
	marks   []string // by length: whose they are
}

func alike(o *cutting.Order, u units) []same {
	var out []same
	found := map[string]int{}
	for _, b := range o.Bars {
		lengths := make([]string, len(b.Pieces))
		for i, p := range b.Pieces {
			lengths[i] = u.longText(p.Length)
		}
		key := fmt.Sprint(b.Length, lengths)
		k, seen := found[key]
		if !seen {
			k = len(out)
			found[key] = k
			out = append(out, same{b, 0, lengths, make([]string, len(lengths))})
		}
		s := &out[k]
		s.count++
		s.Offcut = min(s.Offcut, b.Offcut)
		for i, p := range b.Pieces {
			if !slices.Contains(strings.Split(s.marks[i], ", "), p.Mark) {
				s.marks[i] = joined(s.marks[i], p.Mark)
			}
		}
	}
	return out
}

// into is what a bar is cut into: "2 x 3058 (RN), 861 (J1S1, J1W1)".
func (s *same) into() string {
	var parts []string
	for i := 0; i < len(s.lengths); {
		n := 1
		for i+n < len(s.lengths) && s.lengths[i+n] == s.lengths[i] && s.marks[i+n] == s.marks[i] {
			n++
		}
		part := s.lengths[i] + " (" + s.marks[i] + ")"
		if n > 1 {
			part = strconv.Itoa(n) + " x " + part
		}
		parts = append(parts, part)
		i += n
	}
	return strings.Join(parts, ", ")
}
