package host

import (
	"errors"
	"fmt"
	"math"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// Bounds of what a region may send.
const (
	maxText     = 1000    // bytes of a text
	maxFacts    = 256     // entries of a vocabulary
	maxPacks    = 64      // files
	maxPackSize = 1 << 20 // bytes of a pack's file
	maxCases    = 256
	maxCombined = 4096 // combinations
	maxList     = 4096 // entries of other lists
)

var (
	idForm   = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)
	codeForm = regexp.MustCompile(`^[A-Z0-9]{2,8}(-[A-Z0-9]{1,8})*$`)
	factForm = regexp.MustCompile(`^[a-z][a-z0-9]*\.[a-z][a-z0-9_]*$`)
)

// complaints collects everything that is wrong with an answer, up to a number that a reader can use.
type complaints []error

func (c *complaints) add(format string, args ...any) {
	if len(*c) < 20 {
		*c = append(*c, fmt.Errorf(format, args...))
	}
}

func (c *complaints) joined() error { return errors.Join(*c...) }

// text complains about a text that is too long, cannot be printed on one line, or is missing though it is needed.
func (c *complaints) text(what, text string, needed bool) {
	switch {
	case needed && text == "":
		c.add("%s is empty", what)
	case len(text) > maxText:
		c.add("%s is %d bytes long; at most %d", what, len(text), maxText)
	case strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }):
		c.add("%s has characters that cannot be printed on one line: %q", what, printable(text, 60))
	}
}

// number complains about a number that is not finite or below least.
func (c *complaints) number(what string, x, least float64) {
	if !finite(x) || x < least {
		c.add("%s is %v", what, x)
	}
}

func (c *complaints) count(what string, n, most int) bool {
	if n > most {
		c.add("%d %s; at most %d", n, what, most)
	}
	return n <= most
}

// CheckDescription reports everything that is wrong with what a region says of itself.
func CheckDescription(d *region.Description) error {
	var c complaints
	if !idForm.MatchString(d.ID) {
		c.add("the id %q is not a short lower-case word", printable(d.ID, 40))
	}
	c.text("the title", d.Title, true)
	c.text("the edition", d.Edition, true)
	if d.Contract != region.ContractVersion {
		c.add("it says that it was written for version %d of the contract and speaks version %d", d.Contract, region.ContractVersion)
	}
	if len(d.Codes) == 0 {
		c.add("it serves no code")
	}
	codes := map[string]bool{}
	for _, code := range d.Codes {
		if !codeForm.MatchString(code) || codes[code] {
			c.add("the code %q is malformed or given twice", printable(code, 40))
		}
		codes[code] = true
	}
	if c.count("facts", len(d.Facts), maxFacts) {
		c.facts(d.Facts)
	}
	if c.count("facts that depend on what stands beside", len(d.Beside), len(d.Facts)) {
		for _, name := range d.Beside {
			if !slices.ContainsFunc(d.Facts, func(f vocabulary.Fact) bool { return f.Name == name }) {
				c.add("%q depends on what stands beside, and is none of its facts", printable(name, 60))
			}
		}
	}
	if c.count("pack files", len(d.Packs), maxPacks) {
		c.packs(d.Packs)
	}
	c.count("uses", len(d.Uses), maxList)
	for _, use := range d.Uses {
		c.text("a use of spans", use, true)
	}
	c.count("stocks", len(d.Stock), maxList)
	for _, s := range d.Stock {
		c.text("a section in stock", s.Section, true)
		for _, grade := range s.Grades {
			c.text("a grade in stock", grade, true)
		}
		for _, length := range s.Lengths {
			c.number("a length in stock", length, 0)
		}
	}
	return c.joined()
}

// facts complains about a vocabulary whose words cannot be told from others, or cannot be answered in a Derived.
func (c *complaints) facts(facts []vocabulary.Fact) {
	if len(facts) == 0 {
		c.add("it names no fact")
	}
	for _, f := range facts {
		name := printable(f.Name, 60)
		switch {
		case !factForm.MatchString(f.Name):
			c.add("the fact %q is not a prefix and a name in lower case, such as ec5.bending", name)
		case f.Subject != vocabulary.Member:
			c.add("the fact %s is not about a member; only pieces of members are judged", name)
		case f.Type != vocabulary.Number && f.Type != vocabulary.Truth:
			c.add("the fact %s is neither a number nor a truth", name)
		case f.Type == vocabulary.Truth && f.Dimension != model.Plain:
			c.add("the fact %s is a truth with a dimension", name)
		}
		for _, exponent := range []int8{f.Dimension.Force, f.Dimension.Length, f.Dimension.Mass, f.Dimension.Angle} {
			if exponent < -6 || exponent > 6 {
				c.add("the fact %s has a dimension with the exponent %d", name, exponent)
			}
		}
		c.text("the text of "+name, f.Text, true)
		for _, key := range f.Keys {
			c.text("a key of "+name, key, true)
		}
	}
	if _, err := vocabulary.NewBook(facts...); err != nil && len(*c) == 0 {
		c.add("%w", err)
	}
}

func (c *complaints) packs(packs []region.PackFile) {
	seen := map[string]bool{}
	for _, p := range packs {
		name := printable(p.Name, 60)
		switch {
		case p.Name == "" || path.Base(p.Name) != p.Name || strings.ContainsAny(p.Name, `/\`) || strings.HasPrefix(p.Name, "."):
			c.add("the pack file %q is not a plain file name", name)
		case seen[p.Name]:
			c.add("the pack file %s is given twice", name)
		case len(p.Data) == 0 || len(p.Data) > maxPackSize:
			c.add("the pack file %s has %d bytes; 1 to %d", name, len(p.Data), maxPackSize)
		}
		c.text("the name of a pack file", p.Name, true)
		seen[p.Name] = true
	}
}

// CheckPreparation reports everything that is wrong with a region's answer about a site.
func CheckPreparation(site *region.Site, p *region.Preparation) error {
	var c complaints
	c.grades(site, p.Grades)
	c.areas(site, p.Areas)
	if c.count("cases", len(p.Cases), maxCases) {
		c.cases(p.Cases)
	}
	if c.count("combinations", len(p.Combinations), maxCombined) {
		c.combinations(p.Combinations, len(p.Cases))
	}
	c.count("assumptions", len(p.Assumptions), maxList)
	for _, a := range p.Assumptions {
		c.text("an assumption", a.Text, true)
		c.text("the pointer of an assumption", a.Pointer, false)
		if a.Pointer != "" && !strings.HasPrefix(a.Pointer, "/") {
			c.add("the assumption %q points to %q, which is no JSON pointer", printable(a.Text, 60), printable(a.Pointer, 60))
		}
	}
	return c.joined()
}

func (c *complaints) grades(site *region.Site, grades []region.Grade) {
	if len(grades) != len(site.Grades) {
		c.add("it answers %d grades and was asked about %d", len(grades), len(site.Grades))
		return
	}
	for i, g := range grades {
		name := printable(site.Grades[i].Name, 60)
		c.text("the material of "+name, g.Material, false)
		c.text("the reason of "+name, g.Reason, false)
		c.number("E of "+name, g.E, 0)
		c.number("G of "+name, g.G, 0)
		c.number("the density of "+name, g.Density, 0)
		if (g.Material == "" || g.E == 0 || g.G == 0 || g.Density == 0) && g.Reason == "" {
			c.add("something about %s is unknown, without a reason", name)
		}
	}
}

func (c *complaints) areas(site *region.Site, loads []region.AreaLoad) {
	known := map[string]bool{}
	for i := range site.Areas {
		known[site.Areas[i].ID] = true
	}
	type key struct {
		area   string
		action model.Action
	}
	seen := map[key]bool{}
	c.count("area loads", len(loads), maxList)
	for _, l := range loads {
		area, k := printable(l.Area, 60), key{l.Area, l.Action}
		switch {
		case !known[l.Area]:
			c.add("it loads the area %q, which the site does not have", area)
		case seen[k]:
			c.add("it loads %s twice with %s", area, l.Action)
		}
		seen[k] = true
		c.action("area "+area, l.Action)
		least := 0.0
		if l.Action == model.Wind {
			least = math.Inf(-1)
		}
		c.number("the load on "+area, l.Value, least)
		c.number("the point load on "+area, l.Point, 0)
		c.text("the note of the load on "+area, l.Note, true)
	}
}

func (c *complaints) action(what string, action model.Action) {
	for _, known := range model.Actions {
		if action == known {
			return
		}
	}
	c.add("%s names the action %q, which does not exist", what, printable(string(action), 40))
}

func (c *complaints) cases(cases []region.Case) {
	if len(cases) == 0 {
		c.add("it gives no load case")
	}
	seen := map[string]bool{}
	for _, k := range cases {
		id := printable(k.ID, 60)
		c.text("the id of a case", k.ID, true)
		c.action("case "+id, k.Action)
		c.text("the category of "+id, k.Category, false)
		c.text("the name of "+id, k.Name, false)
		c.text("the kind of "+id, k.Kind, false)
		if seen[k.ID] {
			c.add("the case %s is given twice", id)
		}
		seen[k.ID] = true
	}
}

func (c *complaints) combinations(combinations []region.Combination, cases int) {
	if len(combinations) == 0 {
		c.add("it gives no combination")
	}
	type key struct {
		id    string
		state region.LimitState
	}
	seen := map[key]bool{}
	for _, k := range combinations {
		id := printable(k.ID, 60)
		c.text("the id of a combination", k.ID, true)
		c.text("the limit state of "+id, string(k.State), true)
		c.text("the duration of "+id, k.Duration, false)
		if len(k.Factors) != cases {
			c.add("the combination %s has %d factors for %d cases", id, len(k.Factors), cases)
		}
		for _, x := range k.Factors {
			c.number("a factor of "+id, x, math.Inf(-1))
		}
		c.number("the factor of what moves in "+id, k.Moving, 0)
		if seen[key{k.ID, k.State}] {
			c.add("the combination %s is given twice for %s", id, printable(string(k.State), 40))
		}
		seen[key{k.ID, k.State}] = true
	}
}

// CheckSpan reports everything that is wrong with a region's answer about a span.
func CheckSpan(s *region.Span) error {
	var c complaints
	c.number("the span", s.Span, 0)
	switch {
	case s.Span > 0 && s.Reason != "":
		c.add("it gives a span of %v mm and a reason why there is none", s.Span)
	case s.Span > 0:
		c.text("what governs the span", s.Governs, true)
	default:
		c.text("the reason why there is no span", s.Reason, true)
	}
	c.text("what governs the span", s.Governs, false)
	c.text("the reason why there is no span", s.Reason, false)
	c.count("notes", len(s.Notes), maxList)
	for _, n := range s.Notes {
		c.text("a note", n, true)
	}
	for _, step := range s.Working {
		c.step(step)
	}
	return c.joined()
}

func (c *complaints) step(s region.Step) {
	c.text("the symbol of a step", s.Symbol, true)
	c.text("the unit of "+printable(s.Symbol, 40), s.Unit, false)
	c.text("the clause of "+printable(s.Symbol, 40), s.Clause, false)
	c.number(printable(s.Symbol, 40), s.Value, math.Inf(-1))
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
