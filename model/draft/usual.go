package draft

import (
	"math"

	"example.com/scantling/model"
)

const (
	inch = 25.4 // mm
	psf  = 4.4482216152605 / (304.8 * 304.8)
)

// plan is the usual size of a kind.
type plan struct{ length, width, pitch float64 }

// usual is what the trade of a system of units takes where nothing is said: common practice, no source. Sections of a
// role are tried in turn until one is deep enough.
type usual struct {
	plans                                 map[Kind]plan
	height, centres, overhang, wall, grid float64
	wallMaterial, grade, covering         string
	least                                 float64 // length of bearing, mm
	sections                              map[model.Role][]string
	grades                                map[model.Role]string
	roofDead, floorDead, floorImposed     float64 // N/mm2
	ceilingDead, ceilingImposed           float64
	deck                                  float64
	opening                               Opening
	dormer                                Recess
	bay                                   Projection
	steel, steelGrade                     string
}

const degrees = math.Pi / 180

var metric = usual{
	plans: map[Kind]plan{
		Hipped: {8400, 4800, 35 * degrees}, Gabled: {7200, 4800, 35 * degrees}, LeanTo: {4800, 2400, 20 * degrees}, Floor: {6000, 4200, 0},
		Dormer: {10800, 6000, 42 * degrees}, Bay: {8400, 4800, 35 * degrees},
	},
	height: 2400, centres: 400, overhang: 300, wall: 100, grid: 0.1,
	wallMaterial: "masonry", grade: "C24", least: 35,
	sections: map[model.Role][]string{
		model.RoleRafter:       {"47x145"},
		model.RoleHipRafter:    {"63x170", "63x195", "63x220", "63x245", "90x270", "90x315", "90x360", "90x405"},
		model.RoleRidgeBeam:    {"90x270", "90x315", "90x360", "90x405", "90x450", "90x495", "90x540", "90x585", "90x630"},
		model.RoleRidgeBoard:   {"38x170", "38x195", "38x220", "38x245", "38x270", "38x295", "38x345"},
		model.RoleWallPlate:    {"47x97"},
		model.RolePost:         {"100x100"},
		model.RoleCeilingJoist: {"47x145"},
		model.RoleFloorJoist:   {"47x220"},
		model.RoleBeam:         {"47x170", "47x195", "47x220", "47x245"},
	},
	grades:   map[model.Role]string{model.RoleRidgeBeam: "GL24h"},
	roofDead: 0.75e-3, floorDead: 0.5e-3, floorImposed: 1.5e-3, ceilingDead: 0.25e-3, ceilingImposed: 0.25e-3,
	deck: 22, covering: "tiles on battens",
	opening: Opening{Width: 900, Run: 2600}, dormer: Recess{Width: 1800}, bay: Projection{At: 600, Width: 1800, Out: 1200},
	steel: "100x100x8 SHS", steelGrade: "S355",
}

var imperial = usual{
	plans: map[Kind]plan{
		Hipped: {336 * inch, 192 * inch, math.Atan2(6, 12)}, Gabled: {336 * inch, 192 * inch, math.Atan2(6, 12)},
		LeanTo: {192 * inch, 96 * inch, math.Atan2(4, 12)}, Floor: {240 * inch, 168 * inch, 0},
		Dormer: {432 * inch, 240 * inch, math.Atan2(10, 12)}, Bay: {336 * inch, 192 * inch, math.Atan2(6, 12)},
	},
	height: 97.125 * inch, centres: 16 * inch, overhang: 12 * inch, wall: 5.5 * inch, grid: inch / 1000,
	wallMaterial: "timber", grade: "DFL #2", least: 1.5 * inch,
	sections: map[model.Role][]string{
		model.RoleRafter:       {"2x8"},
		model.RoleHipRafter:    {"2x8", "2x10", "2x12", "4x14", "4x16"},
		model.RoleRidgeBeam:    {"4x10", "4x12", "4x14", "4x16", "5.25x16", "5.25x18", "5.25x20", "5.25x24", "5.25x28"},
		model.RoleRidgeBoard:   {"2x8", "2x10", "2x12", "2x14", "2x16"},
		model.RoleWallPlate:    {"2x6"},
		model.RolePost:         {"4x4"},
		model.RoleCeilingJoist: {"2x8"},
		model.RoleFloorJoist:   {"2x10"},
		model.RoleBeam:         {"2x8", "2x10", "2x12", "2x14"},
	},
	roofDead: 15 * psf, floorDead: 10 * psf, floorImposed: 40 * psf, ceilingDead: 5 * psf, ceilingImposed: 10 * psf,
	deck: 0.75 * inch, covering: "shingles on sheathing",
	opening: Opening{Width: 36 * inch, Run: 108 * inch}, dormer: Recess{Width: 72 * inch},
	bay:   Projection{At: 24 * inch, Width: 72 * inch, Out: 48 * inch},
	steel: "W8x18", steelGrade: "A992",
}

func usualOf(u model.Units) *usual {
	if u == model.US {
		return &imperial
	}
	return &metric
}
