package model

import (
	_ "embed"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed sections.csv
var rolledTable string

//go:embed hollow.csv
var hollowTable string

// rolledRow is a row of the table; properties that are 0 are computed from the sizes.
type rolledRow struct {
	kind, name             string
	h, b, web, flange, r   float64 // mm
	mass                   float64 // kg/m
	area                   float64 // cm2
	iy, iz                 float64 // cm4
	wy, wz, wply, wplz, it float64 // cm3, and cm4 for it
}

var rolledRows = sync.OnceValue(func() map[string]rolledRow {
	return tableRows(rolledTable, func(cells []string, number func(int) float64) rolledRow {
		return rolledRow{kind: cells[0], name: cells[1], h: number(2), b: number(3), web: number(4), flange: number(5), r: number(6), mass: number(7),
			area: number(8), iy: number(9), iz: number(10), wy: number(11), wz: number(12), wply: number(13), wplz: number(14), it: number(15)}
	})
})

// hollowRows is the printed properties of hot finished hollow sections. Other sizes go by their geometry.
var hollowRows = sync.OnceValue(func() map[string]rolledRow {
	return tableRows(hollowTable, func(cells []string, number func(int) float64) rolledRow {
		return rolledRow{kind: cells[0], name: cells[1], mass: number(2), area: number(3), iy: number(4), iz: number(5),
			wy: number(6), wz: number(7), wply: number(8), wplz: number(9)}
	})
})

// tableRows reads an embedded table by the notation of its sections.
func tableRows(table string, read func(cells []string, number func(int) float64) rolledRow) map[string]rolledRow {
	rows := make(map[string]rolledRow)
	lines := strings.Split(strings.TrimSpace(table), "\n")
	for _, line := range lines[1:] {
		cells := strings.Split(line, ",")
		r := read(cells, func(i int) float64 {
			if cells[i] == "" {
				return 0
			}
			v, err := strconv.ParseFloat(cells[i], 64)
			if err != nil {
				panic("model: an embedded table of sections: " + err.Error())
			}
			return v
		})
		rows[notationOf(r)] = r
	}
	return rows
}

var rolledNames = sync.OnceValue(func() []string {
	var names []string
	for name := range rolledRows() {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
})

func notationOf(r rolledRow) string {
	if r.kind == "W" {
		return r.name
	}
	return r.name + " " + r.kind
}

// rolled is a section of the table. Printed properties are taken as they are; what the table leaves out comes from
// the sizes.
func rolled(kind, text, sizes string) (*Section, error) {
	sizes = strings.ToLower(strings.ReplaceAll(sizes, " ", ""))
	key := sizes + " " + kind
	if kind == "W" {
		key = "W" + sizes
	}
	row, known := rolledRows()[key]
	if !known {
		fix := "give its properties as an object: area, iy, iz, wy, wz, mass"
		if near := nearestRolled(kind, key); near != "" {
			fix = fmt.Sprintf("the nearest known is %q; or %s", near, fix)
		}
		return nil, &TextError{fmt.Sprintf("%q is no section that is known here", text), fix}
	}
	build := iSection
	if kind == "PFC" {
		build = channel
	}
	s := build(row.h, row.b, row.web, row.flange, row.r)
	row.print(s)
	return s, nil
}

// print gives a section the properties that the table prints.
func (row rolledRow) print(s *Section) {
	for _, p := range []struct {
		to      *float64
		printed float64
		size    float64
	}{
		{&s.Area, row.area, 1e2}, {&s.Iy, row.iy, 1e4}, {&s.Iz, row.iz, 1e4}, {&s.Wy, row.wy, 1e3}, {&s.Wz, row.wz, 1e3},
		{&s.Wply, row.wply, 1e3}, {&s.Wplz, row.wplz, 1e3}, {&s.It, row.it, 1e4}, {&s.Mass, row.mass, 1e-3},
	} {
		if p.printed != 0 {
			*p.to = p.printed * p.size
		}
	}
}

// nearestRolled is the known section of the same kind that is nearest in name.
func nearestRolled(kind, key string) string {
	var same []string
	for name, row := range rolledRows() {
		if row.kind == kind {
			same = append(same, name)
		}
	}
	return Nearest(key, same)
}
