package model

// Measure is a dimension with the units that its bare numbers have in a document. An area load and a strength are of
// one dimension and are yet written in different units.
type Measure struct {
	Dimension Dimension
	metric    writtenUnit
	us        writtenUnit
	example   string
}

type writtenUnit struct {
	name string
	size float64 // in internal units
}

// The measures of a document.
var (
	MeasureNumber   = measure(Plain, "", "", "1.5")
	MeasureLength   = measure(Length, "mm", "in", `"90 mm", "5.5 in" or "13 ft 6 in"`)
	MeasureAltitude = measure(Length, "m", "ft", `"60 m" or "200 ft"`)
	MeasureSurface  = measure(Surface, "mm2", "in2", `"9165 mm2" or "10.9 in2"`)
	MeasureModulus  = measure(Modulus, "mm3", "in3", `"298 cm3" or "13.1 in3"`)
	MeasureInertia  = measure(Inertia, "mm4", "in4", `"2904 cm4" or "47.6 in4"`)
	MeasureForce    = measure(Force, "kN", "lb", `"2.0 kN" or "450 lb"`)
	MeasureMoment   = measure(Moment, "kNm", "lb ft", `"3.5 kNm" or "2500 lb ft"`)
	MeasureLineLoad = measure(LineLoad, "kN/m", "lb/ft", `"1.2 kN/m" or "40 lb/ft"`)
	MeasureAreaLoad = measure(Stress, "kN/m2", "psf", `"0.75 kN/m2" or "30 psf"`)
	MeasureStress   = measure(Stress, "N/mm2", "psi", `"12 N/mm2" or "1500 psi"`)
	MeasureMass     = measure(Mass, "kg", "lb", `"25 kg" or "55 lb"`)
	MeasureLineMass = measure(LineMass, "kg/m", "lb/ft", `"23 kg/m" or "15 lb/ft"`)
	MeasureDensity  = measure(Density, "kg/m3", "pcf", `"350 kg/m3" or "22 pcf"`)
	MeasureAngle    = measure(Angle, "degrees", "degrees", `"35 degrees" or "6:12"`)
)

// examples are texts of each dimension that a message can show.
var examples = map[Dimension]string{
	Warping:   `"4.7e9 mm6"`,
	Stiffness: `"1.2e12 N mm2"`,
}

func init() {
	for _, m := range []Measure{MeasureNumber, MeasureLength, MeasureSurface, MeasureModulus, MeasureInertia, MeasureForce, MeasureMoment,
		MeasureLineLoad, MeasureMass, MeasureLineMass, MeasureDensity, MeasureAngle} {
		examples[m.Dimension] = m.example
	}
	examples[Stress] = `"0.75 kN/m2", "12 N/mm2" or "30 psf"`
}

func measure(d Dimension, metric, us, example string) Measure {
	return Measure{d, writtenUnit{metric, sizeOf(metric, d)}, writtenUnit{us, sizeOf(us, d)}, example}
}

func sizeOf(name string, d Dimension) float64 {
	for _, u := range parseUnit(name) {
		if u.dimension == d {
			return u.size
		}
	}
	panic("model: no unit " + name + " of " + d.String())
}

// Unit is the unit of a bare number of this measure; empty for a plain number.
func (m Measure) Unit(u Units) string { return m.in(u).name }

// Size is that unit's size in internal units: a bare number times Size is the value.
func (m Measure) Size(u Units) float64 { return m.in(u).size }

// Example is a text of this measure that a message can show.
func (m Measure) Example() string { return m.example }

func (m Measure) in(u Units) writtenUnit {
	if u == US {
		return m.us
	}
	return m.metric
}
