package pack

import (
	"sort"
	"strings"

	"example.com/scantling/rules/pack/problem"
	"example.com/scantling/rules/vocabulary"
)

// judged are the subjects that rules judge.
var judged = map[string]vocabulary.Subject{
	"member": vocabulary.Member, "support": vocabulary.Support, "area": vocabulary.Area, "frame": vocabulary.Frame, "change": vocabulary.Change,
}

func (r *reader) readRule(n *item) {
	r.rule = ""
	if n.form == mapping {
		for _, e := range n.keys {
			if e.key.text == "id" {
				r.rule = e.value.text
			}
		}
	}
	in := r.fields(n, "a rule", ruleKeys...)
	if in == nil {
		return
	}
	rule := &ruleText{place: n.place}
	text := func(key string, must bool) string { return r.text(in, n, "the rule", key, must) }
	rule.id, rule.title = text("id", true), text("title", true)
	if rule.id != "" && !idForm.MatchString(rule.id) {
		r.problem(in["id"].place, idFix, "%q is no id of a rule", rule.id)
	}
	rule.source, rule.why, rule.do = text("source", true), text("why", true), text("do", false)
	words := make([]string, 0, len(judged))
	for word := range judged {
		words = append(words, word)
	}
	sort.Strings(words)
	if word := text("judges", true); word != "" {
		subject, ok := judged[word]
		if !ok {
			r.problem(in["judges"].place, problem.DidYouMean(word, words, "write one of "+strings.Join(words, ", ")), "rules judge no %q", word)
			return
		}
		rule.judges = subject
	}
	rule.where, rule.found, rule.need = r.source(in["where"], "where"), r.source(in["found"], "found"), r.source(in["need"], "need")
	if rule.require = r.source(in["require"], "require"); in["require"] == nil {
		r.problem(n.place, "write what must hold: require: bearing >= mm(90)", "the rule has no require")
	}
	if text("say", true) != "" {
		rule.say = r.source(in["say"], "say")
	}
	rule.severity = r.severity(n, in["severity"])
	rule.was, rule.keys = r.texts(in["was"], "was"), r.texts(in["keys"], "keys")
	for _, e := range r.list(in["examples"], "examples") {
		r.example(rule, e)
	}
	r.pack.rules = append(r.pack.rules, rule)
}

func (r *reader) severity(owner, n *item) []gradeText {
	word := func(n *item) (Severity, bool) {
		s, ok := severities[n.text]
		if n.form != scalar || !ok {
			r.problem(n.place, "write stop, ask or note", "%q is no severity", n.text)
		}
		return s, ok
	}
	switch {
	case n == nil:
		r.problem(owner.place, "write severity: stop, ask or note", "the rule has no severity")
		return nil
	case n.form != list:
		s, _ := word(n)
		return []gradeText{{is: s}}
	}
	var out []gradeText
	for i, e := range n.items {
		in := r.fields(e, "an entry of severity", "when", "is")
		if in == nil {
			continue
		}
		if in["is"] == nil {
			r.problem(e.place, "write is: stop, ask or note", "the entry says no severity")
			continue
		}
		s, _ := word(in["is"])
		switch last := i == len(n.items)-1; {
		case last && in["when"] != nil:
			r.problem(e.place, "add a last entry without when: {is: ask}", "the last severity holds when no other does, so it has no when")
		case !last && in["when"] == nil:
			r.problem(e.place, "say when, or put it last", "an entry without when ends the list")
		}
		out = append(out, gradeText{when: r.source(in["when"], "when"), is: s})
	}
	return out
}

func (r *reader) example(rule *ruleText, n *item) {
	const fix = "write for example - met: {bearing: 100 mm}"
	in := r.fields(n, "an example", exampleKeys...)
	if in == nil {
		return
	}
	e := &Example{Text: r.text(in, n, "", "text", false), Place: n.place}
	given := 0
	for word, outcome := range outcomes {
		facts := in[word]
		if facts == nil {
			continue
		}
		given++
		e.Outcome, e.facts = outcome, facts
		if facts.form != mapping && facts.form != null {
			r.problem(facts.place, fix, "an example is a mapping of facts")
			return
		}
	}
	if given != 1 {
		r.problem(n.place, fix, "an example has one of met, not_met, unchecked, not_applicable")
		return
	}
	rule.examples = append(rule.examples, e)
}
