package materials

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Declared is a grade as a document declares it. E and G are mean values in N/mm2, the density is the mean in kg/m3, and
// Region holds what this region asks for beyond them, by the names of Declarable.
type Declared struct {
	Name     string
	Material string // hardwood, softwood, glulam, LVL, or timber where the species is not stated
	E, G     float64
	Density  float64
	By       string
	Region   map[string]float64
}

// Declarable lists the names that Declared.Region may use, each with the value of a timber that it sets: N/mm2, kg/m3 for
// rho_k, no unit for size_exp.
var Declarable = map[string]func(*Timber) *float64{
	"fm_k":      func(t *Timber) *float64 { return &t.FmK },
	"fm_flat_k": func(t *Timber) *float64 { return &t.FmFlatK },
	"ft0_k":     func(t *Timber) *float64 { return &t.Ft0K },
	"ft90_k":    func(t *Timber) *float64 { return &t.Ft90K },
	"fc0_k":     func(t *Timber) *float64 { return &t.Fc0K },
	"fc90_k":    func(t *Timber) *float64 { return &t.Fc90K },
	"fv_k":      func(t *Timber) *float64 { return &t.FvK },
	"E005":      func(t *Timber) *float64 { return &t.E005 },
	"E90":       func(t *Timber) *float64 { return &t.E90Mean },
	"G005":      func(t *Timber) *float64 { return &t.G005 },
	"rho_k":     func(t *Timber) *float64 { return &t.RhoK },
	"size_exp":  func(t *Timber) *float64 { return &t.SizeExponent },
}

// mostStated bounds what a declaration can mean: no timber comes near it in any of the units used.
const mostStated = 1e6

// Declare makes a timber of what a document declares. What is left out stays unstated; what is stated wrongly is an error,
// all of them joined in the order of their names.
func Declare(d Declared) (*Timber, error) {
	var wrong []error
	kind, ok := kinds[d.Material]
	if !ok {
		wrong = append(wrong, fmt.Errorf("grade %s: material %s is no timber of this region; say one of %s",
			quoted(d.Name), quoted(d.Material), strings.Join(slices.Sorted(maps.Keys(kinds)), ", ")))
	}
	timber := &Timber{Name: d.Name, Kind: kind, Source: d.By}
	state := func(name string, value float64, into *float64) {
		if math.IsNaN(value) || value <= 0 || value > mostStated {
			wrong = append(wrong, fmt.Errorf("grade %s: %s is %g; state a number above 0, or leave it out where it is not known",
				quoted(d.Name), name, value))
			return
		}
		*into = value
	}
	for _, mean := range []struct {
		name  string
		value float64
		into  *float64
	}{{"E", d.E, &timber.E0Mean}, {"G", d.G, &timber.GMean}, {"density", d.Density, &timber.RhoMean}} {
		if mean.value != 0 {
			state(mean.name, mean.value, mean.into)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(d.Region)) {
		into, ok := Declarable[name]
		if !ok {
			wrong = append(wrong, fmt.Errorf("grade %s: %s is no value that this region uses; it reads %s",
				quoted(d.Name), quoted(name), strings.Join(slices.Sorted(maps.Keys(Declarable)), ", ")))
			continue
		}
		state(name, d.Region[name], into(timber))
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return timber, nil
}

// quoted prints a name out of a document on one line, however long or strange it is.
func quoted(name string) string {
	const most = 40
	if len(name) > most {
		name = name[:most] + "..."
	}
	if name == "" || strings.ContainsFunc(name, func(r rune) bool { return !strconv.IsPrint(r) || r == '\uFFFD' }) {
		return strconv.Quote(name)
	}
	return name
}
