// Package national holds what the Eurocodes leave to each country, one data file a country, every value with the place where
// it was read. It must not know how a check uses a value; a value without a source is not given out.
package national

// Choices are the national choices that one annex makes. Units stand at the fields: they are those of the data files (kN,
// kN/m2), which the package that uses a load turns into N and mm.
type Choices struct {
	ID     string   `json:"id"`     // the name of the file
	Title  string   `json:"title"`  // what the annex is, for print
	Basis  string   `json:"basis"`  // how the values came into the file, for print: read, or recalled
	Serves []string `json:"serves"` // ISO 3166-2 codes, or 3166-1 where a country has one annex

	// ReadIn are the public texts that sources say a value was read in, by the name that they go by there: which edition, and
	// where it can be had.
	ReadIn map[string]string `json:"read_in"`

	Combinations Combinations    `json:"combinations"`
	Durations    Table[Duration] `json:"durations"` // by action; "storage" for imposed loads of lofts and stores
	Loads        Loads           `json:"loads"`
	Snow         Snow            `json:"snow"`
	Timber       Timber          `json:"timber"`
	Steel        Steel           `json:"steel"`
	Masonry      Masonry         `json:"masonry"`
}

// Combinations are the choices in EN 1990, none with a unit.
type Combinations struct {
	Expression   Sourced[string] `json:"expression"` // "6.10", or "6.10a/b"
	GammaGSup    Value           `json:"gamma_G_sup"`
	GammaGInf    Value           `json:"gamma_G_inf"`
	GammaQ       Value           `json:"gamma_Q"`
	Xi           Value           `json:"xi"`
	GammaGEquInf Value           `json:"gamma_G_equ_inf"` // permanent, favourable, limit state EQU
	Psi          Table[Psi]      `json:"psi"`             // by category of use A to H; "snow", "snow above 1000 m", "wind"
}

// Psi are the factors of a variable action: combination, frequent, quasi-permanent (EN 1990 A1.2.2).
type Psi struct {
	Psi0 float64 `json:"psi0"`
	Psi1 float64 `json:"psi1"`
	Psi2 float64 `json:"psi2"`
}

// Loads are the imposed loads of EN 1991-1-1.
type Loads struct {
	Floors  Table[Imposed]    `json:"floors"` // by category of use, "A1" being the floors of a dwelling
	Ceiling Sourced[Imposed]  `json:"ceiling"`
	Roof    Sourced[RoofLoad] `json:"roof"`
}

// Imposed is an area load and the point load that stands in its place.
type Imposed struct {
	Area  float64 `json:"area_kN_m2"`
	Point float64 `json:"point_kN"`
}

// RoofLoad is the load of a roof that is walked on for maintenance only: whole up to one pitch, none from another on, and
// straight in between.
type RoofLoad struct {
	Imposed
	FullTo   float64 `json:"full_to_degrees"`
	NoneFrom float64 `json:"none_from_degrees"`
}

// Snow are the choices in EN 1991-1-3.
type Snow struct {
	Exposure Value               `json:"exposure"` // C_e
	Thermal  Value               `json:"thermal"`  // C_t
	Ground   Sourced[GroundSnow] `json:"ground"`
}

// GroundSnow is a formula for the snow on the ground in kN/m2: base + per zone x zone + (altitude - from) / rise.
type GroundSnow struct {
	Base    float64 `json:"base"`     // kN/m2
	PerZone float64 `json:"per_zone"` // kN/m2
	From    float64 `json:"altitude_from_m"`
	Rise    float64 `json:"altitude_per_kN_m2_m"` // m of altitude for each kN/m2
	UpTo    float64 `json:"up_to_m"`
}

// Timber are the choices in EN 1995-1-1. Deflection limits are the n of span / n.
type Timber struct {
	GammaMSolid       Value `json:"gamma_M_solid"`
	GammaMGlulam      Value `json:"gamma_M_glulam"`
	GammaMLVL         Value `json:"gamma_M_LVL"`
	GammaMConnections Value `json:"gamma_M_connections"`

	KcrSolid  Value `json:"k_cr_solid"`
	KcrGlulam Value `json:"k_cr_glulam"`
	KcrLVL    Value `json:"k_cr_LVL"`

	Instant                  Value `json:"instant"`
	InstantCantilever        Value `json:"instant_cantilever"`
	FinalPlastered           Value `json:"final_plastered"` // with a ceiling of plaster or plasterboard
	FinalPlasteredCantilever Value `json:"final_plastered_cantilever"`
	FinalBare                Value `json:"final_bare"`
	FinalBareCantilever      Value `json:"final_bare_cantilever"`

	Vibration Sourced[Vibration] `json:"vibration"`
}

// Vibration are the rules for floors of dwellings that go with EN 1995-1-1 7.3.3.
type Vibration struct {
	LeastFrequency  float64 `json:"least_frequency_Hz"`
	Damping         float64 `json:"damping"`                  // zeta
	ShortSpan       float64 `json:"short_span_mm"`            // up to which
	ShortLimit      float64 `json:"short_mm_per_kN"`          // this limit of a holds; beyond it
	LongCoefficient float64 `json:"long_coefficient"`         // a <= coefficient / span ^ exponent, mm/kN, span in mm
	LongExponent    float64 `json:"long_exponent"`            //
	Kamp            float64 `json:"k_amp"`                    // solid timber joists, simply supported
	Kstrut          float64 `json:"k_strut"`                  // with a line of strutting or more
	KdistLeast      float64 `json:"k_dist_least"`             //
	VelocityBreak   float64 `json:"velocity_break_mm_per_kN"` // a at which the line of b in EN 1995-1-1 Figure 7.2 turns
}

// Steel are the choices in EN 1993-1-1 and the eta of EN 1993-1-5. Deflection limits are the n of span / n.
type Steel struct {
	GammaM0   Value                `json:"gamma_M0"`
	GammaM1   Value                `json:"gamma_M1"`
	Eta       Value                `json:"eta"`
	LambdaLT0 Value                `json:"lambda_LT0"`
	BetaLT    Value                `json:"beta_LT"`
	CurvesLT  Sourced[[]CurveStep] `json:"curves_LT"` // of rolled I sections, by rising h/b

	VariableBrittle    Value `json:"variable_brittle"` // under variable actions, below brittle finishes
	VariableOther      Value `json:"variable_other"`
	VariableCantilever Value `json:"variable_cantilever"`
	Total              Value `json:"total"`
}

// CurveStep is the buckling curve up to a ratio of depth to breadth; To is 0 in the last step, which has no end.
type CurveStep struct {
	To    float64 `json:"to"`
	Curve string  `json:"curve"`
}

// Masonry are the choices in EN 1996-1-1.
type Masonry struct {
	GammaMI1  Value `json:"gamma_M_I_1"` // units of category I, execution class 1
	GammaMI2  Value `json:"gamma_M_I_2"`
	GammaMII1 Value `json:"gamma_M_II_1"`
	GammaMII2 Value `json:"gamma_M_II_2"`

	K           map[string]Table[float64] `json:"K"` // by unit, then group
	PowerUnit   Value                     `json:"power_unit"`
	PowerMortar Value                     `json:"power_mortar"`

	KE        Value `json:"K_E"`        // E = K_E f_k
	CreepFrom Value `json:"creep_from"` // slenderness above which creep adds to the eccentricity
}
