package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.com/scantling/engine/wholefile"
	"example.com/scantling/model"
	"example.com/scantling/model/draft"
	"example.com/scantling/model/read"
)

// draftFlags are the dimensions of a starter model as texts, each with a unit or bare in the units of the call.
type draftFlags struct {
	units, ridge, out    string
	serviceClass         int
	quantities           map[string]*string
	sections, grades     []string
	opening, dormer, bay []string
	capacities           map[string]*[]string
	title, wallMaterial  string
	grade, covering      string
}

// draftQuantities are the flags that take a quantity, with what they set.
var draftQuantities = []struct {
	flag, text string
	measure    model.Measure
	set        func(*draft.Options, float64)
}{
	{"length", "over the centre lines of the walls, along the ridge or across the joists", model.MeasureLength, func(o *draft.Options, v float64) { o.Length = v }},
	{"width", "over the centre lines of the walls", model.MeasureLength, func(o *draft.Options, v float64) { o.Width = v }},
	{"height", "of the top of the walls", model.MeasureLength, func(o *draft.Options, v float64) { o.Height = v }},
	{"pitch", "of the roof, degrees", model.MeasureAngle, func(o *draft.Options, v float64) { o.Pitch = v }},
	{"centres", "of rafters or joists", model.MeasureLength, func(o *draft.Options, v float64) { o.Centres = v }},
	{"overhang", "of the rafters in plan, from the centre line of the plate", model.MeasureLength, func(o *draft.Options, v float64) { o.Overhang = v }},
	{"wall", "thickness of the walls", model.MeasureLength, func(o *draft.Options, v float64) { o.Wall = v }},
	{"dead", "load of the covering or floor", model.MeasureAreaLoad, func(o *draft.Options, v float64) { o.Loads.Dead = model.Given(v) }},
	{"imposed", "load of a floor", model.MeasureAreaLoad, func(o *draft.Options, v float64) { o.Loads.Imposed = model.Given(v) }},
	{"roof-imposed", "load of a roof", model.MeasureAreaLoad, func(o *draft.Options, v float64) { o.Loads.RoofImposed = model.Given(v) }},
	{"snow", "on the roof", model.MeasureAreaLoad, func(o *draft.Options, v float64) { o.Loads.Snow = model.Given(v) }},
	{"wind", "square to the slope, negative is suction", model.MeasureAreaLoad, func(o *draft.Options, v float64) { o.Loads.Wind = model.Given(v) }},
}

// draftParts are the parts of a starter model that take several dimensions, as name=value.
var draftParts = map[string]map[string]func(*draft.Options, float64){
	"opening": {
		"at":    func(o *draft.Options, v float64) { o.Opening.At = v },
		"clear": func(o *draft.Options, v float64) { o.Opening.Clear = v },
		"width": func(o *draft.Options, v float64) { o.Opening.Width = v },
		"run":   func(o *draft.Options, v float64) { o.Opening.Run = v },
	},
	"dormer": {
		"at":    func(o *draft.Options, v float64) { o.Dormer.At = v },
		"width": func(o *draft.Options, v float64) { o.Dormer.Width = v },
		"depth": func(o *draft.Options, v float64) { o.Dormer.Depth = v },
		"pitch": func(o *draft.Options, v float64) { o.Dormer.Pitch = v },
	},
	"bay": {
		"at":    func(o *draft.Options, v float64) { o.Bay.At = v },
		"width": func(o *draft.Options, v float64) { o.Bay.Width = v },
		"out":   func(o *draft.Options, v float64) { o.Bay.Out = v },
		"steel": func(o *draft.Options, v float64) { o.Bay.Steel, o.Bay.In = true, v },
	},
}

// draftCapacities are the connections of which a maker states what they hold. Nothing of it is invented: without a flag,
// the check asks.
var draftCapacities = []struct {
	flag, text string
	of         func(*draft.Options) **model.Capacity
}{
	{"hanger", "what every hanger is stated to hold", func(o *draft.Options) **model.Capacity { return &o.Hanger }},
	{"clip", "what every rafter's fixing to its plate holds", func(o *draft.Options) **model.Capacity { return &o.Clip }},
	{"lap", "what every lap of rafter and ceiling joist holds", func(o *draft.Options) **model.Capacity { return &o.Lap }},
	{"bolts", "what every bolt of a ledger holds", func(o *draft.Options) **model.Capacity { return &o.Bolts }},
}

func (a *app) draftCommand() *cobra.Command {
	d := draftFlags{quantities: map[string]*string{}, capacities: map[string]*[]string{}}
	var kinds strings.Builder
	for _, k := range draft.Kinds {
		fmt.Fprintf(&kinds, "  %-8s %s\n", k.Kind, k.Text)
	}
	cmd := &cobra.Command{
		Use:   "draft KIND",
		Short: "Print a starter model from a few dimensions",
		Long: "Draft sets out a roof or floor piece by piece, with true lengths, seats and supports that agree with each other.\n" +
			"What it writes is to be checked like any other model. What is not given takes a usual value.\n\nKinds:\n" + kinds.String(),
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return a.draft(args[0], &d) },
	}
	f := cmd.Flags()
	for _, q := range draftQuantities {
		d.quantities[q.flag] = f.String(q.flag, "", q.text)
	}
	for _, c := range draftCapacities {
		d.capacities[c.flag] = f.StringSlice(c.flag, nil, c.text+": down=, up=, along= with a unit, basis=, by=")
	}
	f.StringVar(&d.units, "units", "metric", "metric or us: of bare numbers, and of the model")
	f.StringVar(&d.title, "title", "", "of the model")
	f.StringVar(&d.ridge, "ridge", "", "beam (the default) or board, with the ceiling joists as ties")
	f.IntVar(&d.serviceClass, "service-class", 0, "1 inside the insulation, 2 in a cold roof or another covered place, 3 in the weather;\nabsent: 1 for a floor, 2 for a roof")
	f.StringVar(&d.wallMaterial, "wall-material", "", "masonry or timber")
	f.StringVar(&d.grade, "grade", "", "of timber")
	f.StringVar(&d.covering, "covering", "", "of the roof")
	f.StringArrayVar(&d.sections, "section", nil, "ROLE=SECTION, such as 'rafter=47x170'; may be given more than once")
	f.StringArrayVar(&d.grades, "grade-of", nil, "ROLE=GRADE; may be given more than once")
	f.StringSliceVar(&d.opening, "opening", nil, "of a floor: at= from the west wall to its near edge, clear= from the south wall, width= across the joists, run= along them")
	f.StringSliceVar(&d.dormer, "dormer", nil, "at= from the west wall to its nearer cheek, width= between its trimming rafters, depth= in plan to where its roof meets the slope, pitch=")
	f.StringSliceVar(&d.bay, "bay", nil, "at= from the west wall to its nearer side wall, width= between its side walls, out= before the south wall, and steel= how far inside a cranked steel's high end is carried")
	f.StringVarP(&d.out, "output", "o", "", "file that the model is written to, whole or not at all, instead of printing it")
	return cmd
}

func (a *app) draft(kind string, d *draftFlags) error {
	options, err := d.options(kind, a.settings.Region)
	if err != nil {
		return err
	}
	doc, err := draft.Make(*options)
	if err != nil {
		return unusable{err}
	}
	text := read.Write(doc)
	if d.out == "" {
		_, err := a.out.Write(text)
		return err
	}
	if err := wholefile.Write(d.out, text); err != nil {
		return unusable{err}
	}
	pieces := 0
	for i := range doc.Members {
		pieces += doc.Members[i].Pieces()
	}
	_, err = fmt.Fprintf(a.out, "%s: %d members, %d pieces; check it before you lean on it\n", d.out, len(doc.Members), pieces)
	return err
}

// options is what the flags say; all that is wrong with them is one error.
func (d *draftFlags) options(kind, region string) (*draft.Options, error) {
	var wrong []string
	bad := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	o := &draft.Options{Kind: draft.Kind(kind), Title: d.title, Region: region, ServiceClass: d.serviceClass, WallMaterial: d.wallMaterial, Grade: d.grade, Covering: d.covering,
		Sections: map[model.Role]string{}, Grades: map[model.Role]string{}}
	switch d.units {
	case "metric":
	case "us":
		o.Units = model.US
	default:
		bad("--units is %q; write metric or us", d.units)
	}
	switch d.ridge {
	case "", "beam":
	case "board":
		o.Ridge = draft.Board
	default:
		bad("--ridge is %q; write beam or board", d.ridge)
	}
	for _, q := range draftQuantities {
		text := *d.quantities[q.flag]
		if text == "" {
			continue
		}
		v, err := quantity(text, q.measure, o.Units)
		if err != nil {
			bad("--%s: %v", q.flag, err)
			continue
		}
		q.set(o, v)
	}
	for flag, list := range map[string][]string{"opening": d.opening, "dormer": d.dormer, "bay": d.bay} {
		for _, item := range list {
			if err := setPart(o, flag, item); err != nil {
				bad("--%s: %v", flag, err)
			}
		}
	}
	for _, c := range draftCapacities {
		for _, item := range *d.capacities[c.flag] {
			if err := setCapacity(c.of(o), item, o.Units); err != nil {
				bad("--%s: %v", c.flag, err)
			}
		}
	}
	for flag, pair := range map[string]struct {
		list []string
		to   map[model.Role]string
	}{"section": {d.sections, o.Sections}, "grade-of": {d.grades, o.Grades}} {
		for _, item := range pair.list {
			role, value, ok := strings.Cut(item, "=")
			if !ok || !slices.Contains(model.Roles, model.Role(role)) {
				bad("--%s: %q names no role; write for example 'rafter=%s'", flag, item, map[string]string{"section": "47x170", "grade-of": "C24"}[flag])
				continue
			}
			pair.to[model.Role(role)] = value
		}
	}
	if len(wrong) > 0 {
		return nil, sortedError(wrong)
	}
	return o, nil
}

// setPart sets one dimension of a part, written as name=value.
func setPart(o *draft.Options, part, item string) error {
	name, text, _ := strings.Cut(item, "=")
	set := draftParts[part][name]
	if set == nil {
		names := make([]string, 0, len(draftParts[part]))
		for n := range draftParts[part] {
			names = append(names, n)
		}
		slices.Sort(names)
		return fmt.Errorf("%q is none of %s", name, strings.Join(names, ", "))
	}
	measure := model.MeasureLength
	if name == "pitch" {
		measure = model.MeasureAngle
	}
	v, err := quantity(text, measure, o.Units)
	if err != nil {
		return err
	}
	set(o, v)
	return nil
}

// setCapacity sets one of the things that are stated of a connection, written as name=value.
func setCapacity(to **model.Capacity, item string, units model.Units) error {
	if *to == nil {
		*to = &model.Capacity{}
	}
	c := *to
	name, text, _ := strings.Cut(item, "=")
	force := map[string]*model.Quantity{"down": &c.Down, "up": &c.Up, "along": &c.Along}[name]
	switch {
	case force != nil:
		v, err := quantity(text, model.MeasureForce, units)
		if err != nil {
			return err
		}
		*force = model.Given(v)
	case name == "basis":
		if !slices.Contains([]string{"safe working", "characteristic", "design"}, text) {
			return fmt.Errorf("%q is no basis; write safe working, characteristic or design", text)
		}
		c.Basis = text
	case name == "by":
		c.By = text
	default:
		return fmt.Errorf("%q is none of along, basis, by, down, up", name)
	}
	return nil
}
