package eurocode

import (
	"fmt"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/materials"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// perMM3 turns a density in kg/m3 into kg/mm3.
const perMM3 = 1e-9

// grade is what a name among the site's grades stands for: a timber, a steel whose strength goes by its form, or something that
// the document declares and that is neither.
type grade struct {
	name   string
	timber *materials.Timber
	steel  bool
	other  string // the declared material, where it is neither timber nor steel
	absent working.Absence
}

// known looks a grade up: what the document declares, else the classes. A declaration does not stand in for a class.
func known(name *region.GradeName) grade {
	g := grade{name: name.Name}
	if d := name.Declared; d != nil {
		if !isTimberWord(d.Material) {
			g.other = d.Material
			if d.Material == "steel" {
				g.absent = "declared steels are not read: name S235, S275 or S355"
			}
			return g
		}
		if _, absent := materials.FindTimber(d.Name); absent == "" {
			g.absent = working.Absence(fmt.Sprintf("the document declares %s, which is a strength class of EN 338 or EN 14080: take the declaration out, or give that timber a name of its own", d.Name))
			return g
		}
		declared := materials.Declared{Name: d.Name, Material: d.Material, E: d.E.Value, G: d.G.Value, Density: d.Density.Value / perMM3, By: d.By,
			Region: map[string]float64{}}
		for _, value := range d.Region {
			declared.Region[value.Name] = value.Value
		}
		timber, err := materials.Declare(declared)
		if err != nil {
			g.absent = working.Absence(strings.ReplaceAll(err.Error(), "\n", "; "))
			return g
		}
		g.timber = timber
		return g
	}
	if !name.Steel {
		timber, absent := materials.FindTimber(name.Name)
		if absent == "" {
			g.timber = timber
			return g
		}
		g.absent = absent
	}
	if _, absent := materials.FindSteel(name.Name, materials.Rolled); absent == "" {
		g.steel, g.absent = true, ""
	} else if name.Steel {
		g.absent = absent
	}
	return g
}

func isTimberWord(material string) bool {
	switch material {
	case "timber", "softwood", "hardwood", "glulam", "LVL":
		return true
	}
	return false
}

// material is the word for what a grade is made of.
func (g *grade) material() string {
	switch {
	case g.steel:
		return "steel"
	case g.timber == nil:
		return g.other
	case g.timber.Kind == materials.Glulam:
		return "glulam"
	case g.timber.Kind == materials.LVL:
		return "LVL"
	}
	return "timber"
}

// answer is what the program is told of a grade.
func (g *grade) answer(declared *model.Grade) region.Grade {
	out := region.Grade{Material: g.material(), Reason: string(g.absent)}
	switch {
	case g.steel:
		out.E, out.G, out.Density = materials.SteelE, materials.SteelG, materials.SteelDensity*perMM3
	case g.timber != nil:
		out.E, out.G, out.Density = g.timber.E0Mean, g.timber.GMean, g.timber.RhoMean*perMM3
	case declared != nil && g.absent == "":
		out.E, out.G, out.Density = declared.E.Value, declared.G.Value, declared.Density.Value
	default:
		return region.Grade{Reason: out.Reason}
	}
	if out.Reason == "" {
		out.Reason = unstated(g.name, &out)
	}
	return out
}

// unstated names what a grade leaves out, or is empty.
func unstated(name string, g *region.Grade) string {
	var missing []string
	for _, part := range []struct {
		name  string
		value float64
	}{{"material", float64(len(g.Material))}, {"E", g.E}, {"G", g.G}, {"density", g.Density}} {
		if part.value == 0 {
			missing = append(missing, part.name)
		}
	}
	if len(missing) == 0 {
		return ""
	}
	return fmt.Sprintf("grade %.40q states no %s: add it under grades", name, strings.Join(missing, ", "))
}
