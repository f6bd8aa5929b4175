package nds

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Edition names a set of design values. Which code tables rest on which is the business of their readers.
type Edition string

// The editions held. The older ones hold little more than bending and stiffness; what they do not hold is absent.
const (
	Supplement2018 Edition = "2018"     // NDS Supplement 2018; southern pine as from June 2013
	Tables2018     Edition = "ibc-2018" // behind IBC 2018 T2308.7.2: an earlier basis, southern pine as from June 2013
	Tables2012     Edition = "2012"     // behind the IRC tables of 2009 and 2012: the earlier basis, southern pine before June 2013
)

// Property is one tabulated design value.
type Property int

// The design values of Tables 4A and 4B. All are in N/mm2 but the specific gravity.
const (
	Fb              Property = iota // bending
	Ft                              // tension parallel to grain
	Fv                              // shear parallel to grain
	FcPerp                          // compression perpendicular to grain
	Fc                              // compression parallel to grain
	E                               // modulus of elasticity
	Emin                            // modulus of elasticity for stability
	SpecificGravity                 // a bare number
	propertyCount
)

var propertySymbols = [propertyCount]string{"Fb", "Ft", "Fv", "Fc_perp", "Fc", "E", "Emin", "G"}

// String is the symbol of the NDS in plain letters.
func (p Property) String() string {
	if p < 0 || p >= propertyCount {
		return fmt.Sprintf("Property(%d)", int(p))
	}
	return propertySymbols[p]
}

// Grade is one grade of one species group in one edition. The zero Grade holds nothing.
type Grade struct {
	Edition Edition
	Species string // DFL, HF, SPF or SP
	Name    string // SS, #1, #2, #3, Stud ... as the edition writes it
	rows    []row
}

// row holds the values that apply between two nominal widths.
type row struct {
	least, most int // nominal inches; both zero for every width
	values      [propertyCount]float64
	known       [propertyCount]bool
	origin      string
}

// Lookup finds a grade by name, such as "DFL #2", "SP SS" or "spf no. 2", in an edition. An unknown name or edition
// is an *Absence that says what is known.
func Lookup(edition Edition, name string) (Grade, error) {
	grades, ok := library()[edition]
	if !ok {
		return Grade{}, absent("grade "+strconv.Quote(name), "no design values of edition %q are held; known are %v",
			edition, slices.Sorted(maps.Keys(library())))
	}
	species, grade, ok := parseName(name)
	if !ok {
		return Grade{}, absent("grade "+strconv.Quote(name), "write species group and grade, such as DFL #2, HF #1, SPF Stud, SP SS")
	}
	g, ok := grades[species+" "+grade]
	if !ok {
		return Grade{}, absent("grade "+strconv.Quote(name), "edition %s does not hold it; known are %s", edition, strings.Join(Names(edition), ", "))
	}
	return g, nil
}

// Names lists the grades of an edition in the order of its table.
func Names(edition Edition) []string {
	var names []string
	for _, g := range inOrder() {
		if g.Edition == edition {
			names = append(names, g.String())
		}
	}
	return names
}

// String is the name as Lookup reads it.
func (g Grade) String() string { return g.Species + " " + g.Name }

// Value is the reference design value of a property for a size, N/mm2 (specific gravity: a bare number), before any
// adjustment. What the edition does not give is an *Absence.
func (g Grade) Value(p Property, s Section) (float64, error) {
	r, err := g.row(s)
	if err != nil {
		return 0, err
	}
	if p < 0 || p >= propertyCount || !r.known[p] {
		return 0, absent(p.String()+" of "+g.String(), "edition %s does not hold it", g.Edition)
	}
	return r.values[p], nil
}

// Uniform is the value of a property where it is the same for every size of the grade, as E, Emin and the specific
// gravity are; one that depends on the size is an *Absence.
func (g Grade) Uniform(p Property) (float64, error) {
	if len(g.rows) == 0 || p < 0 || p >= propertyCount {
		return 0, absent(p.String()+" of "+g.String(), "not held")
	}
	first := g.rows[0]
	for _, r := range g.rows {
		if !r.known[p] || r.values[p] != first.values[p] {
			return 0, absent(p.String()+" of "+g.String(), "it is not the same for every size, or not held in edition %s", g.Edition)
		}
	}
	return first.values[p], nil
}

// ShearModulus is G, N/mm2: a sixteenth of E, the common ratio for sawn lumber, which the NDS does not tabulate (memory).
func (g Grade) ShearModulus() (float64, error) {
	e, err := g.Uniform(E)
	return e / 16, err
}

// Density is the mean density, kg/mm3, at a moisture content in per cent, from the specific gravity of the grade
// (NDS Supplement 3.1.3; memory): 62.4 [G / (1 + 0.009 G m)] (1 + m/100) pounds per cubic foot.
func (g Grade) Density(moisture float64) (float64, error) {
	const poundPerCubicFoot = 0.45359237 / (304.8 * 304.8 * 304.8) // kg/mm3, exact
	sg, err := g.Uniform(SpecificGravity)
	if err != nil {
		return 0, err
	}
	return 62.4 * sg / (1 + 0.009*sg*moisture) * (1 + moisture/100) * poundPerCubicFoot, nil
}

// Origin says where the values for a size come from: document or memory.
func (g Grade) Origin(s Section) (string, error) {
	r, err := g.row(s)
	return r.origin, err
}

func (g Grade) row(s Section) (row, error) {
	for _, r := range g.rows {
		if r.least == 0 || (r.least <= s.NominalWidth && s.NominalWidth <= r.most) {
			return r, nil
		}
	}
	return row{}, absent(fmt.Sprintf("%s in %s", g, s), "edition %s gives no values for this width", g.Edition)
}

// sizeSpecific tells whether the values already include the effect of width: southern pine, Table 4B.
func (g Grade) sizeSpecific() bool { return g.Species == "SP" }

// parseName splits a grade's name and writes it as the table does. "No. 2" is read as "#2"; southern pine #3 and
// Stud share a row.
func parseName(name string) (species, grade string, ok bool) {
	species, grade, ok = strings.Cut(strings.TrimSpace(name), " ")
	if !ok {
		return "", "", false
	}
	species = strings.ToUpper(species)
	grade = strings.ToLower(strings.Join(strings.Fields(grade), ""))
	if number, found := strings.CutPrefix(grade, "no."); found {
		grade = "#" + number
	}
	if species == "SP" && (grade == "#3" || grade == "stud") {
		grade = "#3/stud"
	}
	for _, g := range inOrder() {
		if g.Species == species && strings.ToLower(g.Name) == grade {
			return species, g.Name, true
		}
	}
	return "", "", false
}

//go:embed values.csv
var valuesCSV string

// library holds every grade by edition and name.
var library = sync.OnceValue(func() map[Edition]map[string]Grade {
	byEdition := map[Edition]map[string]Grade{}
	for _, g := range inOrder() {
		if byEdition[g.Edition] == nil {
			byEdition[g.Edition] = map[string]Grade{}
		}
		byEdition[g.Edition][g.String()] = g
	}
	return byEdition
})

// inOrder reads the embedded table once. The table is part of the program, so that a fault in it is a fault of ours
// and stops the first test that runs.
var inOrder = sync.OnceValue(func() []Grade {
	grades, err := readValues(valuesCSV)
	if err != nil {
		panic("nds: values.csv: " + err.Error())
	}
	return grades
})

// readValues reads rows of edition, species, grade, least and most nominal width, the properties in psi in the order
// of their constants (the specific gravity bare), origin. An empty figure is an absent value.
func readValues(text string) ([]Grade, error) {
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	var grades []Grade
	for i, rec := range records[1:] {
		const firstValue = 5
		r := row{origin: rec[firstValue+int(propertyCount)]}
		for _, field := range []struct {
			text string
			into *int
		}{{rec[3], &r.least}, {rec[4], &r.most}} {
			if field.text == "" {
				continue
			}
			if *field.into, err = strconv.Atoi(field.text); err != nil {
				return nil, fmt.Errorf("row %d: %w", i+2, err)
			}
		}
		for p := range propertyCount {
			field := rec[firstValue+int(p)]
			if field == "" {
				continue
			}
			v, err := strconv.ParseFloat(field, 64)
			if err != nil {
				return nil, fmt.Errorf("row %d: %s: %w", i+2, p, err)
			}
			if p != SpecificGravity {
				v *= PSI
			}
			r.values[p], r.known[p] = v, true
		}
		at := slices.IndexFunc(grades, func(g Grade) bool {
			return string(g.Edition) == rec[0] && g.Species == rec[1] && g.Name == rec[2]
		})
		if at < 0 {
			grades = append(grades, Grade{Edition: Edition(rec[0]), Species: rec[1], Name: rec[2]})
			at = len(grades) - 1
		}
		grades[at].rows = append(grades[at].rows, r)
	}
	return grades, nil
}
