package materials

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"example.com/scantling/plugins/eurocode/working"
)

// Moduli and density of structural steel: EN 1993-1-1 3.2.6 and EN 1991-1-1 Table A.4.
const (
	SteelE       = 210000 // N/mm2
	SteelG       = 81000  // N/mm2
	SteelDensity = 7850   // kg/m3
)

// Form is how a steel section is made, which decides the product standard that gives its yield strength.
type Form int

// The forms: EN 10025-2, EN 10210-1 and EN 10219-1. A hollow section of no stated finish counts as cold formed.
const (
	Rolled Form = iota
	ColdHollow
	HotHollow
)

var forms = map[string]Form{"plate": Rolled, "cold hollow": ColdHollow, "hot hollow": HotHollow}

// Steel is a steel grade in one form.
type Steel struct {
	Name   string
	Form   Form
	yields []yield // by rising thickness
}

type yield struct {
	to, fy float64 // mm, N/mm2
	source string
}

// FindSteel gives the grade of this name. The letters for toughness and form behind the number (S355J2H) make no difference
// to the yield strength and are passed over.
func FindSteel(name string, form Form) (*Steel, working.Absence) {
	base := name
	for _, letters := range []string{"JRH", "J0H", "J2H", "K2H", "JR", "J0", "J2", "K2", "H"} {
		if cut, ok := strings.CutSuffix(name, letters); ok {
			base = cut
			break
		}
	}
	if found, ok := steels()[steelKey{base, form}]; ok {
		return found, ""
	}
	return nil, working.Absence(fmt.Sprintf("steel grade %s is not known; name S235, S275 or S355", quoted(name)))
}

// Yield is the yield strength fy in N/mm2 at the thickness of the thickest part, in mm, and the table that it comes from.
func (s *Steel) Yield(thickness float64) (fy float64, source string, absent working.Absence) {
	for _, y := range s.yields {
		if thickness > 0 && thickness <= y.to {
			return y.fy, y.source, ""
		}
	}
	return 0, "", working.Absence(fmt.Sprintf("no yield strength of %s is known for a thickness of %g mm", s.Name, thickness))
}

type steelKey struct {
	name string
	form Form
}

var steels = sync.OnceValue(func() map[steelKey]*Steel {
	byKey := map[steelKey]*Steel{}
	for _, row := range rows("data/steel.csv") {
		form, ok := forms[row.text("form")]
		if !ok {
			panic("materials: steel.csv has a form that is not known: " + row.text("form"))
		}
		key := steelKey{row.text("name"), form}
		if byKey[key] == nil {
			byKey[key] = &Steel{Name: key.name, Form: form}
		}
		byKey[key].yields = append(byKey[key].yields, yield{row.number("thickness_to"), row.number("fy"), row.text("source")})
	}
	for _, steel := range byKey {
		slices.SortFunc(steel.yields, func(a, b yield) int { return cmp.Compare(a.to, b.to) })
	}
	return byKey
})
