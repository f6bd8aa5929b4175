package ec3

import (
	"math"

	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
)

// Deflection is what a span bends, mm of either sign, under the variable actions alone and under all, unfactored. Its zero
// limits are the national ones.
type Deflection struct {
	Span            float64 // mm; of a cantilever, its length
	Cantilever      bool
	Brittle         bool // plaster or another brittle finish hangs on it
	Variable, Total float64
	VariableLimit   float64 // n of span / n; 0 is the national one
	TotalLimit      float64
}

// Deflect is the worse of both deflections over their limits, EN 1993-1-1 7.2.1.
func Deflect(in *Deflection, choices *national.Steel, sheet *working.Sheet) working.Outcome {
	if choices == nil {
		return working.Missing("the national choices are not known: state the region of the site")
	}
	if !(in.Span > 0) {
		return working.Missing("the span is not known")
	}
	from := &choices.VariableOther
	switch {
	case in.Cantilever:
		from = &choices.VariableCantilever
	case in.Brittle:
		from = &choices.VariableBrittle
	}
	variable, clause, absent := limit(in.VariableLimit, from)
	if absent != "" {
		return working.Missing(absent)
	}
	total, totalClause, absent := limit(in.TotalLimit, &choices.Total)
	if absent != "" {
		return working.Missing(absent)
	}
	sheet.Step("L", in.Span, "mm", "statics")
	sheet.Step("w_Q", math.Abs(in.Variable), "mm", "EN 1990 A1.4.3")
	sheet.Step("w_Q,limit", in.Span/variable, "mm", clause)
	sheet.Step("w", math.Abs(in.Total), "mm", "EN 1990 A1.4.3")
	sheet.Step("w_limit", in.Span/total, "mm", totalClause)
	ratio := max(math.Abs(in.Variable)*variable, math.Abs(in.Total)*total) / in.Span
	sheet.Step("ratio", ratio, "", "EN 1993-1-1 7.2.1")
	return working.Found(ratio)
}

// limit is the n of span / n: the one stated, else the country's.
func limit(stated float64, choice *national.Value) (n float64, clause string, absent working.Absence) {
	if stated > 0 {
		return stated, "param", ""
	}
	n, absent = choice.Get()
	return n, choice.Source, absent
}
