package eurocode

import (
	"fmt"

	"example.com/scantling/plugins/region"
)

// stock is what merchants and stockholders in the region commonly have: common practice, no source, the sizes of timber after
// EN 336.
func stock() []region.Stock {
	var out []region.Stock
	timber := timberLengths()
	for _, width := range []int{47, 75} {
		for _, depth := range []int{95, 120, 145, 170, 195, 220, 245} {
			if width == 75 && depth < 120 {
				continue
			}
			out = append(out, region.Stock{Section: fmt.Sprintf("%dx%d", width, depth), Grades: []string{"C16", "C24"}, Lengths: timber})
		}
	}
	for _, section := range []string{"90x180", "90x225", "90x270", "90x315", "115x270", "115x315", "115x360", "140x360", "140x405"} {
		out = append(out, region.Stock{Section: section, Grades: []string{"GL24h"}, Lengths: []float64{6000, 9000, 12000}})
	}
	for _, section := range []string{
		"90x90x5 SHS", "100x100x5 SHS", "100x100x8 SHS", "120x120x6 SHS", "150x150x6.3 SHS",
		"127x76x13 UB", "152x89x16 UB", "178x102x19 UB", "203x102x23 UB", "203x133x25 UB", "203x133x30 UB", "254x102x22 UB", "254x146x31 UB",
		"152x152x23 UC", "203x203x46 UC",
	} {
		out = append(out, region.Stock{Section: section, Grades: []string{"S275", "S355"}, Lengths: []float64{6000, 7500, 9000, 12000}})
	}
	return out
}

// timberLengths are 1.8 m to 5.4 m by 0.3 m, then 6.0 m and 7.2 m.
func timberLengths() []float64 {
	var out []float64
	for length := 1800.0; length <= 5400; length += 300 {
		out = append(out, length)
	}
	return append(out, 6000, 7200)
}
