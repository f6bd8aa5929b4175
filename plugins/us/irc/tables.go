package irc

import "example.com/scantling/plugins/us/nds"

//go:generate go test -run TestTablesAreCurrent -update .

// Case is one span table of the code: what is the same in all its cells, and what its rows and columns run through.
type Case struct {
	ID         string
	Table      string // since 2018; before, R802.4.1(n) was R802.5.1(n) and R802.5.1(n) was R802.4(n) (memory)
	Use        Use
	Live, Snow float64   // N/mm2
	Dead       []float64 // N/mm2
	Limit      float64   // deflection: span / Limit
	Sections   []string
	Known      Known // of the number, the loads and the limit
}

// Cases lists the span tables of joists and rafters.
func Cases() []Case {
	const light, medium, heavy = 5 * PSF, 10 * PSF, 20 * PSF
	either := []float64{medium, heavy}
	floor := []string{"2x6", "2x8", "2x10", "2x12"}
	ceiling := []string{"2x4", "2x6", "2x8", "2x10"}
	rafter := []string{"2x4", "2x6", "2x8", "2x10", "2x12"}
	return []Case{
		{"floor-sleeping", "R502.3.1(1)", FloorSleeping, 30 * PSF, 0, either, 360, floor, Document},
		{"floor-other", "R502.3.1(2)", FloorOther, 40 * PSF, 0, either, 360, floor, Document},
		{"ceiling-no-storage", "R802.5.1(1)", CeilingEmpty, 10 * PSF, 0, []float64{light}, 240, ceiling, Memory},
		{"ceiling-limited-storage", "R802.5.1(2)", CeilingStorage, 20 * PSF, 0, []float64{medium}, 240, ceiling, Document},
		{"rafter-live", "R802.4.1(1)", RafterOpen, 20 * PSF, 0, either, 180, rafter, Memory},
		{"rafter-live-attached", "R802.4.1(2)", RafterAttached, 20 * PSF, 0, either, 240, rafter, Reproduced},
		{"rafter-snow-30", "R802.4.1(3)", RafterOpen, 0, 30 * PSF, either, 180, rafter, Memory},
		{"rafter-snow-50", "R802.4.1(4)", RafterOpen, 0, 50 * PSF, either, 180, rafter, Memory},
		{"rafter-snow-30-attached", "R802.4.1(5)", RafterAttached, 0, 30 * PSF, either, 240, rafter, Memory},
		{"rafter-snow-50-attached", "R802.4.1(6)", RafterAttached, 0, 50 * PSF, either, 240, rafter, Memory},
		{"rafter-snow-70", "R802.4.1(7)", RafterOpen, 0, 70 * PSF, either, 180, rafter, Document},
		{"rafter-snow-70-attached", "R802.4.1(8)", RafterAttached, 0, 70 * PSF, either, 240, rafter, Memory},
	}
}

// TableSpacings are the spacings of every span table, mm.
func TableSpacings() []float64 {
	return []float64{12 * nds.Inch, 16 * nds.Inch, 19.2 * nds.Inch, 24 * nds.Inch}
}

// TableGrades are the grades of every span table, in its order.
func TableGrades() []string {
	var names []string
	for _, species := range []string{"DFL", "HF", "SP", "SPF"} {
		for _, grade := range []string{"SS", "#1", "#2", "#3"} {
			names = append(names, species+" "+grade)
		}
	}
	return names
}
