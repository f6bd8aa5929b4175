package page

import (
	"math"
	"slices"
	"strings"

	"example.com/scantling/engine/report/draw"
	"example.com/scantling/model"
)

// data is what the page's script works with: the frame once more, as short as it can be, since there may be tens of
// thousands of pieces. Forces are in the document's units, places in whole millimetres.
type data struct {
	Cases   []string      `json:"cases"`
	Force   string        `json:"force"` // unit
	Digits  int           `json:"digits"`
	States  []string      `json:"states"` // classes
	Words   []string      `json:"words"`
	Roles   []string      `json:"roles"`
	Sheets  []string      `json:"sheets"` // drawings
	Members []memberData  `json:"members"`
	Pieces  [][]any       `json:"pieces"` // member, the name behind the mark, x, y, z of each point
	Hops    [][]float64   `json:"hops"`   // piece from, piece to, x, y, z, load per case
	Views   [2]viewMatrix `json:"views"`
}

// memberData is [mark, role, size, state, [sheets], [findings], has working, is ground].
type memberData [8]any

// viewMatrix is [right x, y, z, up x, y, z, shift x, y], paper mm.
type viewMatrix [8]float64

func dataOf(f draw.Frame, drawings []draw.Drawing, groups []items, working []worked) data {
	d := data{Cases: f.Cases, Force: model.MeasureForce.Unit(f.Units), Digits: 2}
	if f.Units == model.US {
		d.Digits = 0
	}
	for _, s := range draw.States {
		d.States, d.Words = append(d.States, s.Class()), append(d.Words, s.Words())
	}
	findings := map[int][]int{}
	for _, g := range groups {
		for _, i := range g.Items {
			for _, m := range i.Members {
				findings[m] = append(findings[m], i.ID)
			}
		}
	}
	worked := map[int]bool{}
	for _, w := range working {
		worked[w.Member] = true
	}
	roles, sheets, pieces := index{list: &d.Roles}, index{list: &d.Sheets}, map[string]int{}
	for i, m := range f.Members {
		on := []int{}
		for _, s := range m.Drawings {
			on = append(on, sheets.of(s))
		}
		d.Members = append(d.Members, memberData{m.Mark, roles.of(m.Role), strings.TrimSpace(m.Section + " " + m.Grade),
			stateIndex(m.State), on, append([]int{}, findings[i]...), worked[i], m.Ground})
		for _, p := range m.Pieces {
			pieces[p.Name] = len(d.Pieces)
			row := []any{i, strings.TrimPrefix(p.Name, m.Mark)}
			for _, point := range p.Axis {
				row = append(row, math.Round(point.X), math.Round(point.Y), math.Round(point.Z))
			}
			d.Pieces = append(d.Pieces, row)
		}
	}
	size := model.MeasureForce.Size(f.Units)
	for _, hop := range f.Hops {
		from, known := pieces[hop.From]
		to, also := pieces[hop.To]
		if !known || !also {
			continue
		}
		row := []float64{float64(from), float64(to), math.Round(hop.At.X), math.Round(hop.At.Y), math.Round(hop.At.Z)}
		for _, load := range hop.Load {
			row = append(row, math.Round(load/size*1e4)/1e4)
		}
		d.Hops = append(d.Hops, row)
	}
	for i, drawing := range drawings {
		v := drawing.View
		d.Views[i] = viewMatrix{v.Right[0], v.Right[1], v.Right[2], v.Up[0], v.Up[1], v.Up[2], v.Shift[0], v.Shift[1]}
	}
	return d
}

// index numbers texts in the order of their first use.
type index struct {
	list *[]string
	at   map[string]int
}

func (x *index) of(text string) int {
	if x.at == nil {
		x.at = map[string]int{}
	}
	i, ok := x.at[text]
	if !ok {
		i = len(*x.list)
		x.at[text] = i
		*x.list = append(*x.list, text)
	}
	return i
}

// stateIndex numbers a state; one that nobody knows is not judged.
func stateIndex(s draw.State) int {
	if i := slices.Index(draw.States, s); i >= 0 {
		return i
	}
	return slices.Index(draw.States, draw.Unjudged)
}
