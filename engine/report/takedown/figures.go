package takedown

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/scantling/model"
)

// Figures prints the figures of a take-down without their unit, each with the decimals that its unit deserves.
type Figures struct{ Units model.Units }

// Force prints N in kN or lb.
func (f Figures) Force(v float64) string { return f.fixed(v, model.MeasureForce, 3, 1) }

// Moment prints N mm in kNm or lb ft.
func (f Figures) Moment(v float64) string { return f.fixed(v, model.MeasureMoment, 3, 1) }

// Place prints mm in mm, or in feet and inches to a tenth of an inch.
func (f Figures) Place(v float64) string {
	tenths := math.Round(v / model.MeasureLength.Size(f.Units) * 10)
	if f.Units != model.US || math.Abs(tenths) < 120 {
		text := f.fixed(v, model.MeasureLength, 0, 1)
		if f.Units == model.US {
			text += `"`
		}
		return text
	}
	sign := ""
	if tenths < 0 {
		sign, tenths = "-", -tenths
	}
	feet := math.Floor(tenths / 120)
	return fmt.Sprintf(`%s%.0f' %.1f"`, sign, feet, tenths/10-12*feet)
}

// Deflection prints mm in mm or inches, finer than lengths.
func (f Figures) Deflection(v float64) string { return f.fixed(v, model.MeasureLength, 2, 3) }

func (f Figures) fixed(v float64, m model.Measure, metric, us int) string {
	decimals := metric
	if f.Units == model.US {
		decimals = us
	}
	text := strconv.FormatFloat(v/m.Size(f.Units), 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}
