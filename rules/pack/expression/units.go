package expression

import (
	"maps"
	"math"
	"slices"

	"example.com/scantling/model"
)

// unit is a function that makes a quantity of a plain number: mm(90).
type unit struct {
	dimension model.Dimension
	text      string // as the model reads it
}

// units are the functions that give a number its unit. Their sizes are the model's.
var units = map[string]unit{
	"mm": {model.Length, "mm"}, "cm": {model.Length, "cm"}, "m": {model.Length, "m"},
	"inch": {model.Length, "in"}, "ft": {model.Length, "ft"},
	"mm2": {model.Surface, "mm2"}, "m2": {model.Surface, "m2"}, "mm3": {model.Modulus, "mm3"}, "mm4": {model.Inertia, "mm4"},
	"N": {model.Force, "N"}, "kN": {model.Force, "kN"}, "lb": {model.Force, "lbf"}, "kip": {model.Force, "kip"},
	"N_mm": {model.LineLoad, "N/mm"}, "kN_m": {model.LineLoad, "kN/m"}, "lb_ft": {model.LineLoad, "plf"}, "plf": {model.LineLoad, "plf"},
	"Nmm": {model.Moment, "Nmm"}, "kNm": {model.Moment, "kNm"},
	"N_mm2": {model.Stress, "N/mm2"}, "kN_m2": {model.Stress, "kN/m2"},
	"psf": {model.Stress, "psf"}, "psi": {model.Stress, "psi"}, "ksi": {model.Stress, "ksi"},
	"kg": {model.Mass, "kg"}, "kg_m": {model.LineMass, "kg/m"}, "kg_m3": {model.Density, "kg/m3"},
	"deg": {model.Angle, "deg"}, "rad": {model.Angle, "rad"},
}

// size is the unit in internal units. Every unit of the list is one that the model reads; a test holds it.
func (u unit) size() float64 {
	v, err := model.ParseQuantity("1 "+u.text, u.dimension)
	if err != nil {
		return math.NaN()
	}
	return v
}

// suggested is the unit function that a message proposes for a bare number of a dimension.
var suggested = map[model.Dimension]string{
	model.Length: "mm(%s), m(%s) or inch(%s)", model.Force: "kN(%s) or lb(%s)", model.Stress: "N_mm2(%s), kN_m2(%s) or psf(%s)",
	model.LineLoad: "kN_m(%s) or plf(%s)", model.Moment: "kNm(%s)", model.Mass: "kg(%s)", model.LineMass: "kg_m(%s)",
	model.Density: "kg_m3(%s)", model.Angle: "deg(%s)", model.Surface: "mm2(%s) or m2(%s)", model.Modulus: "mm3(%s)", model.Inertia: "mm4(%s)",
}

// function is a function of one number.
type function struct {
	takes, gives model.Dimension
	keeps        bool // takes any dimension and gives the same
	halves       bool // takes any dimension and gives its square root
	call         func(float64) float64
}

var functions = map[string]function{
	"abs":   {keeps: true, call: math.Abs},
	"sqrt":  {halves: true, call: math.Sqrt},
	"floor": {call: math.Floor},
	"ceil":  {call: math.Ceil},
	"round": {call: math.Round},
	"sin":   {takes: model.Angle, call: math.Sin},
	"cos":   {takes: model.Angle, call: math.Cos},
	"tan":   {takes: model.Angle, call: math.Tan},
	"asin":  {gives: model.Angle, call: math.Asin},
	"acos":  {gives: model.Angle, call: math.Acos},
	"atan":  {gives: model.Angle, call: math.Atan},
}

// Reserved is whether a name is a function's or a unit's.
func Reserved(name string) bool {
	_, isUnit := units[name]
	_, isFunction := functions[name]
	return isUnit || isFunction || builtins[name] || name == "known"
}

// sorted is the names of functions in order.
func sorted(functions map[string]function, builtins map[string]bool) []string {
	names := slices.Collect(maps.Keys(builtins))
	for name := range functions {
		if !builtins[name] {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}
