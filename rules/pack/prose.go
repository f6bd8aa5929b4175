package pack

import (
	"fmt"
	"slices"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
)

// Explain says in prose what a rule means, where it comes from, what it uses and what the layers have made of it.
func (s *Set) Explain(r *Rule, u model.Units) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("%s: %s", r.ID, r.Title)
	line("%s", s.standing(r))
	line("")
	for _, l := range meaning(r, u) {
		line("%s", l)
	}
	line("")
	line("Why: %s", r.Why)
	line("Source: %s", r.Source)
	if r.Do != "" {
		line("What to do: %s", r.Do)
	}
	line("It says: %s", r.Say)
	section := func(title string, lines []string) {
		if len(lines) > 0 {
			line("\n%s", title)
			for _, l := range lines {
				line("  %s", l)
			}
		}
	}
	section("Facts that it uses", factLines(r))
	section("Params", s.paramLines(r))
	section("Tables", tableLines(r))
	section("Document keys that feed it", r.Keys)
	section("Changed by later packs", changeLines(r.Changes))
	section("Old ids", r.Was)
	var examples []string
	for _, e := range r.Examples {
		examples = append(examples, exampleLine(e))
	}
	section("Examples", examples)
	return b.String()
}

// standing is how much a rule weighs, of what, and where it comes from.
func (s *Set) standing(r *Rule) string {
	weight := r.Weight()
	if s.IsOff(r) {
		weight = "off"
	}
	return fmt.Sprintf("%s, of each %s; pack %s, edition %s (%s)", weight, r.Judges, r.Pack.ID, r.Pack.Edition, r.Pack.Layer)
}

// meaning is a rule's expressions in words and as written.
func meaning(r *Rule, u model.Units) []string {
	var out []string
	say := func(before string, x *expression.Expression) {
		if x == nil {
			return
		}
		if clauses := x.Words(u); len(clauses) == 1 {
			out = append(out, before+" "+clauses[0]+".")
		} else {
			out = append(out, before)
			for i, c := range clauses {
				end := ","
				if i == len(clauses)-2 {
					end = ", and"
				} else if i == len(clauses)-1 {
					end = "."
				}
				out = append(out, "- "+c+end)
			}
		}
		out = append(out, "    "+strings.Join(strings.Fields(x.Source.Text), " "))
	}
	say("It applies where", r.where)
	if r.where == nil {
		out = append(out, fmt.Sprintf("It applies to every %s.", r.Judges))
	}
	say("It requires that", r.require)
	if len(r.severities) > 1 {
		for _, g := range r.severities {
			if g.when == nil {
				out = append(out, fmt.Sprintf("Otherwise it is %s.", g.is))
				continue
			}
			say(fmt.Sprintf("It is %s where", g.is), g.when)
		}
	}
	return out
}

// factLines is the facts that a rule names, each with what it is and of what dimension.
func factLines(r *Rule) []string {
	var out []string
	for _, x := range r.expressions() {
		for _, f := range x.Facts() {
			l := fmt.Sprintf("%s.%s: %s (%s)", f.Subject, f.Name, f.Text, factType(f))
			if !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

// paramLines is the params that a rule names, as the layers have set them.
func (s *Set) paramLines(r *Rule) []string {
	var out []string
	seen := map[*expression.Param]bool{}
	for _, x := range r.expressions() {
		for _, bound := range x.Params() {
			if seen[bound] {
				continue
			}
			seen[bound] = true
			for _, p := range s.Params {
				if p.bound == bound {
					out = append(out, paramLine(p))
					out = append(out, indent(changeLines(p.Changes))...)
				}
			}
		}
	}
	return out
}

func paramLine(p *Param) string {
	safe := map[Safe]string{Higher: "; higher is safe", Lower: "; lower is safe", AnyChangeLoosens: ""}[p.Safe]
	return fmt.Sprintf("%s.%s = %s: %s%s", p.Pack.ID, p.Name, p.Written, p.Text, safe)
}

func tableLines(r *Rule) []string {
	var out []string
	for _, x := range r.expressions() {
		for _, t := range x.Tables() {
			keys := make([]string, len(t.Keys))
			for i, k := range t.Keys {
				keys[i] = k.Name + " (" + k.Match.String() + ")"
			}
			l := fmt.Sprintf("%s: %d rows by %s", t.Name, t.Rows, strings.Join(keys, ", "))
			if !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out
}

func changeLines(steps []Step) []string {
	var out []string
	for _, c := range steps {
		out = append(out, fmt.Sprintf("%s: from %s to %s: %s (%s)", c.Pack.ID, c.From, c.To, c.Reason, c.Place))
	}
	return out
}

func indent(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = "  " + l
	}
	return out
}

func exampleLine(e *Example) string {
	s := e.Outcome.String() + ": " + e.facts.flow()
	if e.Text != "" {
		s += " (" + e.Text + ")"
	}
	return s
}

// flow is a value on one line, as YAML.
func (i *item) flow() string {
	switch i.form {
	case null:
		return "~"
	case mapping:
		parts := make([]string, len(i.keys))
		for k, e := range i.keys {
			parts[k] = e.key.text + ": " + e.value.flow()
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case list:
		parts := make([]string, len(i.items))
		for k, e := range i.items {
			parts[k] = e.flow()
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return i.text
}

// Doc is a pack's documentation in Markdown, made of the pack itself.
func (s *Set) Doc(p *Pack, u model.Units) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# %s\n", p.Title)
	line("Pack `%s`, edition %s. An aid to checking; no design and no approval.\n", p.ID, p.Edition)
	for _, n := range p.needs {
		line("It needs the pack `%s` %s.\n", n.pack, n.edition)
	}
	var params []*Param
	for _, q := range s.Params {
		if q.Pack == p {
			params = append(params, q)
		}
	}
	if len(params) > 0 {
		line("## Params\n\n| param | value | safe side | what it is |\n| --- | --- | --- | --- |")
		for _, q := range params {
			safe := map[Safe]string{Higher: "higher", Lower: "lower", AnyChangeLoosens: "none"}[q.Safe]
			line("| `%s` | %s | %s | %s |", q.Name, cell(q.Written), safe, cell(q.Text))
		}
		line("")
	}
	line("## Rules")
	for _, r := range allRules(s) {
		if r.Pack == p {
			line("")
			s.docRule(r, u, line)
		}
	}
	return b.String()
}

func (s *Set) docRule(r *Rule, u model.Units, line func(string, ...any)) {
	line("### %s\n", r.Title)
	standing, _, _ := strings.Cut(s.standing(r), ";")
	line("`%s`: %s.\n", r.ID, standing)
	for _, l := range markdown(meaning(r, u)) {
		line("%s", l)
	}
	line("%s\n", r.Why)
	if r.Do != "" {
		line("What to do: %s\n", r.Do)
	}
	line("Source: %s", r.Source)
	for _, l := range s.paramLines(r) {
		line("\n- param %s", strings.TrimSpace(l))
	}
}

// markdown puts an empty line between what is no list.
func markdown(lines []string) []string {
	var out []string
	for i, l := range lines {
		out = append(out, l)
		if i == len(lines)-1 || !strings.HasPrefix(l, "- ") || !strings.HasPrefix(lines[i+1], "- ") {
			out = append(out, "")
		}
	}
	return out
}

// cell is a text in a cell of a Markdown table.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

// Starter is the text of a new pack that vets and tries clean.
func Starter(id string) (string, error) {
	if !idForm.MatchString(id) {
		return "", fmt.Errorf("%q is no id of a pack: %s", id, idFix)
	}
	return fmt.Sprintf(starter, id), nil
}

const starter = `# A house pack. Check it with "scantling pack vet" and "scantling pack try".
pack: %s
format: 1
edition: "1"
title: House rules

# What the house may set later, or another pack in its place. safe says which way is stricter.
params:
  least_bearing: {value: 100 mm, safe: higher, text: least bearing of a timber beam on masonry}

rules:
  - id: beam-bearing
    title: Bearing of timber beams
    judges: support                 # member, support, area, frame or change
    where: member.role == "beam" and member.material == "timber" and on.material == "masonry"
    require: bearing >= least_bearing
    severity: ask                   # stop, ask or note
    say: "{member.id} bears {bearing} on {on.id}; the house asks for {least_bearing}"
    do: Lengthen the bearing, or ask the engineer.
    source: house rule
    why: Say here what goes wrong when the rule is not kept.
    examples:
      - met: {bearing: 100 mm, member: {id: B1, role: beam, material: timber}, on: {id: W1, material: masonry}}
      - not_met: {bearing: 80 mm, member: {id: B1, role: beam, material: timber}, on: {id: W1, material: masonry}}
      - unchecked: {member: {id: B1, role: beam, material: timber}, on: {id: W1, material: masonry}}
        text: the document does not say the bearing
      - not_applicable: {bearing: 80 mm, member: {id: J1, role: floor joist, material: timber}, on: {id: W1, material: masonry}}
`
