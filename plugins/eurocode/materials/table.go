package materials

import (
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
)

//go:embed data/*.csv
var data embed.FS

// row is one line of an embedded table, by the names of its columns.
type row struct {
	file   string
	column map[string]int
	cells  []string
}

// rows reads an embedded table. The tables are part of the program: a fault in one is a fault of the build, not of an input,
// and stops it at the first use, which the tests make.
func rows(file string) []row {
	open, err := data.Open(file)
	if err != nil {
		panic(err)
	}
	lines, err := csv.NewReader(open).ReadAll()
	if err != nil {
		panic(err)
	}
	column := map[string]int{}
	for i, name := range lines[0] {
		column[name] = i
	}
	var found []row
	for _, cells := range lines[1:] {
		found = append(found, row{file, column, cells})
	}
	return found
}

func (r row) text(column string) string {
	i, ok := r.column[column]
	if !ok {
		panic(fmt.Sprintf("materials: %s has no column %s", r.file, column))
	}
	return r.cells[i]
}

func (r row) number(column string) float64 {
	value, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		panic(fmt.Sprintf("materials: %s, %s: %v", r.file, column, err))
	}
	return value
}
