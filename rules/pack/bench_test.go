package pack

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"
	"github.com/stretchr/testify/require"

	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/vocabulary"
)

// benchMember is a member as expr's machine sees it: its environment is a pointer to a struct.
type benchMember struct {
	Role          string  `expr:"role"`
	Material      string  `expr:"material"`
	Grade         string  `expr:"grade"`
	Phase         string  `expr:"phase"`
	Depth         float64 `expr:"depth"`
	Breadth       float64 `expr:"breadth"`
	Span          float64 `expr:"span"`
	Overhang      float64 `expr:"overhang"`
	OverhangRatio float64 `expr:"overhang_ratio"`
	Centres       float64 `expr:"centres"`
	Deck          float64 `expr:"deck"`
	Slope         float64 `expr:"slope"`
	DepthRatio    float64 `expr:"depth_to_breadth"`
	Found         float64 `expr:"supports_found"`
	Needed        float64 `expr:"supports_needed"`
	Moment        float64 `expr:"moment"`
	Deflection    float64 `expr:"deflection"`
	Mass          float64 `expr:"piece_mass"`
	Plies         float64 `expr:"plies"`
	Blocking      float64 `expr:"blocking_rows"`
	Service       float64 `expr:"service_class"`
	Tied          bool    `expr:"is_tied"`
	Leans         bool    `expr:"leans"`
	Reaches       bool    `expr:"reaches_ground"`
	Unverified    bool    `expr:"is_unverified"`
}

// benchRule is one rule three times: as a pack writes it, and by hand. An empty where always applies.
type benchRule struct {
	where, require string
	applies, met   func(m *columns, i int) bool
}

// columns are the facts as hand-written Go reads them.
type columns struct {
	role, material, grade, phase                                                           []string
	depth, breadth, span, overhang, overhangRatio, centres, deck, slope, depthRatio, found []float64
	needed, moment, deflection, mass, plies, blocking, service                             []float64
	tied, leans, reaches, unverified                                                       []bool
}

func always(*columns, int) bool { return true }

var benchRules = []benchRule{
	{"", "reaches_ground", always, func(m *columns, i int) bool { return m.reaches[i] }},
	{"", "supports_found >= supports_needed", always, func(m *columns, i int) bool { return m.found[i] >= m.needed[i] }},
	{`role == "floor joist"`, "centres <= mm(600)", func(m *columns, i int) bool { return m.role[i] == "floor joist" }, func(m *columns, i int) bool { return m.centres[i] <= 600 }},
	{`role == "floor joist" and deck < mm(22)`, "centres <= mm(450)", func(m *columns, i int) bool { return m.role[i] == "floor joist" && m.deck[i] < 22 }, func(m *columns, i int) bool { return m.centres[i] <= 450 }},
	{`role == "floor joist" and span > mm(2500)`, "blocking_rows >= 1", func(m *columns, i int) bool { return m.role[i] == "floor joist" && m.span[i] > 2500 }, func(m *columns, i int) bool { return m.blocking[i] >= 1 }},
	{`role == "floor joist" and span > mm(4500)`, "blocking_rows >= 2", func(m *columns, i int) bool { return m.role[i] == "floor joist" && m.span[i] > 4500 }, func(m *columns, i int) bool { return m.blocking[i] >= 2 }},
	{`role in ["floor joist", "rafter"]`, "span / depth <= 25", func(m *columns, i int) bool { return m.role[i] == "floor joist" || m.role[i] == "rafter" }, func(m *columns, i int) bool { return m.span[i]/m.depth[i] <= 25 }},
	{`role == "rafter"`, "overhang <= span / 3", func(m *columns, i int) bool { return m.role[i] == "rafter" }, func(m *columns, i int) bool { return m.overhang[i] <= m.span[i]/3 }},
	{`role == "rafter" and leans`, "is_tied", func(m *columns, i int) bool { return m.role[i] == "rafter" && m.leans[i] }, func(m *columns, i int) bool { return m.tied[i] }},
	{`role == "rafter" and slope > deg(20)`, "depth >= mm(97)", func(m *columns, i int) bool { return m.role[i] == "rafter" && m.slope[i] > 0.3490658503988659 }, func(m *columns, i int) bool { return m.depth[i] >= 97 }},
	{`role == "purlin"`, "plies >= 1 and depth > breadth", func(m *columns, i int) bool { return m.role[i] == "purlin" }, func(m *columns, i int) bool { return m.plies[i] >= 1 && m.depth[i] > m.breadth[i] }},
	{`material == "timber"`, "depth_to_breadth <= 5", func(m *columns, i int) bool { return m.material[i] == "timber" }, func(m *columns, i int) bool { return m.depthRatio[i] <= 5 }},
	{`material == "timber"`, `grade != ""`, func(m *columns, i int) bool { return m.material[i] == "timber" }, func(m *columns, i int) bool { return m.grade[i] != "" }},
	{`material == "timber" and service_class == 3`, `grade startsWith "D" or grade == "treated"`, func(m *columns, i int) bool { return m.material[i] == "timber" && m.service[i] == 3 }, func(m *columns, i int) bool { return strings.HasPrefix(m.grade[i], "D") || m.grade[i] == "treated" }},
	{`material == "steel"`, "deflection <= span / 360", func(m *columns, i int) bool { return m.material[i] == "steel" }, func(m *columns, i int) bool { return m.deflection[i] <= m.span[i]/360 }},
	{`role == "beam"`, "deflection <= span / 250", func(m *columns, i int) bool { return m.role[i] == "beam" }, func(m *columns, i int) bool { return m.deflection[i] <= m.span[i]/250 }},
	{`role == "beam" and material == "timber"`, "moment / (breadth * depth ** 2 / 6) <= N_mm2(8)", func(m *columns, i int) bool { return m.role[i] == "beam" && m.material[i] == "timber" }, func(m *columns, i int) bool { return m.moment[i]/(m.breadth[i]*m.depth[i]*m.depth[i]/6) <= 8 }},
	{`phase == "existing"`, "not is_unverified", func(m *columns, i int) bool { return m.phase[i] == "existing" }, func(m *columns, i int) bool { return !m.unverified[i] }},
	{"", "overhang_ratio <= 1 / 3", always, func(m *columns, i int) bool { return m.overhangRatio[i] <= 1.0/3 }},
	{"", "piece_mass <= kg(50)", always, func(m *columns, i int) bool { return m.mass[i] <= 50 }},
}

const benchMembers = 10_000

// benchFacts is the same members as columns, as facts and as structs.
func benchFacts(book *vocabulary.Book) (*vocabulary.Facts, *columns, []benchMember) {
	rng := rand.New(rand.NewPCG(1, 2))
	f := vocabulary.NewFacts(book)
	f.Tables[vocabulary.Member].Rows = benchMembers
	m, structs := &columns{}, make([]benchMember, benchMembers)
	texts := func(name string, from []string, set func(*benchMember, string)) []string {
		c := &vocabulary.Column{}
		for i := range benchMembers {
			// Members stand in runs of one kind, as in a model.
			v := from[(i/40)%len(from)]
			c.Texts = append(c.Texts, v)
			set(&structs[i], v)
		}
		f.Columns[book.Fact(vocabulary.Member, name).ID()] = c
		return c.Texts
	}
	numbers := func(name string, least, most float64, set func(*benchMember, float64)) []float64 {
		c := &vocabulary.Column{}
		for i := range benchMembers {
			v := least + (most-least)*rng.Float64()
			if most <= 5 {
				v = float64(int(v))
			}
			c.Numbers = append(c.Numbers, v)
			set(&structs[i], v)
		}
		f.Columns[book.Fact(vocabulary.Member, name).ID()] = c
		return c.Numbers
	}
	truths := func(name string, often float64, set func(*benchMember, bool)) []bool {
		c := &vocabulary.Column{}
		for i := range benchMembers {
			v := rng.Float64() < often
			c.Truths = append(c.Truths, v)
			set(&structs[i], v)
		}
		f.Columns[book.Fact(vocabulary.Member, name).ID()] = c
		return c.Truths
	}
	m.role = texts("role", []string{"rafter", "floor joist", "beam", "purlin", "wall plate", "post", "stud", "tie"}, func(b *benchMember, v string) { b.Role = v })
	m.material = texts("material", []string{"timber", "timber", "timber", "steel", "masonry"}, func(b *benchMember, v string) { b.Material = v })
	m.grade = texts("grade", []string{"C24", "C16", "S355", "D30"}, func(b *benchMember, v string) { b.Grade = v })
	m.phase = texts("phase", []string{"new", "new", "existing"}, func(b *benchMember, v string) { b.Phase = v })
	m.depth = numbers("depth", 70, 250, func(b *benchMember, v float64) { b.Depth = v })
	m.breadth = numbers("breadth", 35, 100, func(b *benchMember, v float64) { b.Breadth = v })
	m.span = numbers("span", 1000, 6000, func(b *benchMember, v float64) { b.Span = v })
	m.overhang = numbers("overhang", 0, 800, func(b *benchMember, v float64) { b.Overhang = v })
	m.overhangRatio = numbers("overhang_ratio", 0, 6, func(b *benchMember, v float64) { b.OverhangRatio = v })
	m.centres = numbers("centres", 300, 610, func(b *benchMember, v float64) { b.Centres = v })
	m.deck = numbers("deck", 15, 25, func(b *benchMember, v float64) { b.Deck = v })
	m.slope = numbers("slope", 0, 6, func(b *benchMember, v float64) { b.Slope = v / 6 })
	m.depthRatio = numbers("depth_to_breadth", 1, 6, func(b *benchMember, v float64) { b.DepthRatio = v })
	m.found = numbers("supports_found", 1, 4, func(b *benchMember, v float64) { b.Found = v })
	m.needed = numbers("supports_needed", 1, 3, func(b *benchMember, v float64) { b.Needed = v })
	m.moment = numbers("moment", 1e5, 5e6, func(b *benchMember, v float64) { b.Moment = v })
	m.deflection = numbers("deflection", 1, 20, func(b *benchMember, v float64) { b.Deflection = v })
	m.mass = numbers("piece_mass", 3, 60, func(b *benchMember, v float64) { b.Mass = v })
	m.plies = numbers("plies", 1, 3, func(b *benchMember, v float64) { b.Plies = v })
	m.blocking = numbers("blocking_rows", 0, 3, func(b *benchMember, v float64) { b.Blocking = v })
	m.service = numbers("service_class", 1, 4, func(b *benchMember, v float64) { b.Service = v })
	for i := range m.slope {
		m.slope[i] /= 6
	}
	m.tied = truths("is_tied", 0.9, func(b *benchMember, v bool) { b.Tied = v })
	m.leans = truths("leans", 0.5, func(b *benchMember, v bool) { b.Leans = v })
	m.reaches = truths("reaches_ground", 0.99, func(b *benchMember, v bool) { b.Reaches = v })
	m.unverified = truths("is_unverified", 0.1, func(b *benchMember, v bool) { b.Unverified = v })
	return f, m, structs
}

// benchPack is the rules as a pack.
func benchPack(tb testing.TB) *Pack {
	var b strings.Builder
	b.WriteString("pack: bench\nformat: 1\nedition: \"1\"\ntitle: Bench\nrules:\n")
	for i, r := range benchRules {
		fmt.Fprintf(&b, "  - {id: r%d, title: t, judges: member, severity: note, say: s, source: s, why: w, require: '%s'", i, r.require)
		if r.where != "" {
			fmt.Fprintf(&b, ", where: '%s'", r.where)
		}
		b.WriteString("}\n")
	}
	p, err := Parse([]byte(b.String()), "bench.yaml", House)
	require.NoError(tb, err)
	return p
}

// machineRule is a rule for expr's own machine, its units written out.
type machineRule struct{ where, require *vm.Program }

func machineRules(tb testing.TB) []machineRule {
	unit := strings.NewReplacer("mm(600)", "600", "mm(450)", "450", "mm(22)", "22", "mm(2500)", "2500", "mm(4500)", "4500", "mm(97)", "97",
		"deg(20)", "0.3490658503988659", "N_mm2(8)", "8", "kg(50)", "50")
	var out []machineRule
	for _, r := range benchRules {
		var m machineRule
		var err error
		m.require, err = expr.Compile(unit.Replace(r.require), expr.Env(&benchMember{}), expr.AsBool())
		require.NoError(tb, err)
		if r.where != "" {
			m.where, err = expr.Compile(unit.Replace(r.where), expr.Env(&benchMember{}), expr.AsBool())
			require.NoError(tb, err)
		}
		out = append(out, m)
	}
	return out
}

// byHand counts outcomes in hand-written Go, and keeps verdicts if asked to.
func byHand(m *columns, counts []Counts, keep bool) (verdicts []Verdict) {
	for i := range benchMembers {
		for k := range benchRules {
			r := &benchRules[k]
			switch {
			case !r.applies(m, i):
				counts[k][NotApplicable]++
			case r.met(m, i):
				counts[k][Met]++
			default:
				counts[k][NotMet]++
				if keep {
					verdicts = append(verdicts, Verdict{Row: int32(i), Outcome: NotMet})
				}
			}
		}
	}
	return verdicts
}

// byMachine counts outcomes on expr's machine.
func byMachine(tb testing.TB, rules []machineRule, members []benchMember, counts []Counts) {
	var machine vm.VM
	for i := range members {
		for k, r := range rules {
			if r.where != nil {
				applies, err := machine.Run(r.where, &members[i])
				require.NoError(tb, err)
				if !applies.(bool) {
					counts[k][NotApplicable]++
					continue
				}
			}
			met, err := machine.Run(r.require, &members[i])
			require.NoError(tb, err)
			if met.(bool) {
				counts[k][Met]++
			} else {
				counts[k][NotMet]++
			}
		}
	}
}

func TestAllWaysOfJudgingCountTheSame(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	f, m, members := benchFacts(book)
	s, err := Compile(book, benchPack(t))
	require.NoError(t, err)
	hand, machine := make([]Counts, len(benchRules)), make([]Counts, len(benchRules))
	byHand(m, hand, false)
	byMachine(t, machineRules(t), members, machine)
	require.Equal(t, hand, s.Judge(f, Options{}).Counts)
	require.Equal(t, hand, machine)
}

func report(b *testing.B) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/benchMembers/float64(len(benchRules)), "ns/rule")
}

func BenchmarkEvaluateByHand(b *testing.B) { benchByHand(b, false) }

// BenchmarkJudgeByHand does what a judgement does: it keeps a verdict for each rule that is not met (a third of all, far
// more than in any model).
func BenchmarkJudgeByHand(b *testing.B) { benchByHand(b, true) }

func benchByHand(b *testing.B, keep bool) {
	book, _ := vocabulary.NewBook()
	_, m, _ := benchFacts(book)
	counts := make([]Counts, len(benchRules))
	b.ReportAllocs()
	for b.Loop() {
		byHand(m, counts, keep)
	}
	report(b)
}

// BenchmarkEvaluateClosures is the closures alone, each rule on each member, nothing kept.
func BenchmarkEvaluateClosures(b *testing.B) {
	book, _ := vocabulary.NewBook()
	f, _, _ := benchFacts(book)
	s, err := Compile(book, benchPack(b))
	require.NoError(b, err)
	var rules []*bound
	for _, r := range s.Rules {
		rules = append(rules, bind(expression.NewBinder(f, nil), r))
	}
	counts := make([]Counts, len(rules))
	run := &expression.Run{}
	b.ReportAllocs()
	for b.Loop() {
		byClosures(rules, run, counts)
	}
	report(b)
}

// byClosures counts the outcomes of bound rules.
func byClosures(rules []*bound, run *expression.Run, counts []Counts) {
	for row := range int32(benchMembers) {
		run.Begin(row, row)
		for k, r := range rules {
			run.Again()
			outcome := NotMet
			switch {
			case r.where != nil && !r.where(run):
				outcome = NotApplicable
			case r.require(run):
				outcome = Met
			}
			if run.Absent != 0 {
				outcome = Unchecked
			}
			counts[k][outcome]++
		}
	}
}

// BenchmarkJudge is a whole judgement, binding included; what it allocates is for the rules and the verdicts.
func BenchmarkJudge(b *testing.B) {
	book, _ := vocabulary.NewBook()
	f, _, _ := benchFacts(book)
	s, err := Compile(book, benchPack(b))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		s.Judge(f, Options{})
	}
	report(b)
}

func BenchmarkMachine(b *testing.B) {
	book, _ := vocabulary.NewBook()
	_, _, members := benchFacts(book)
	rules, counts := machineRules(b), make([]Counts, len(benchRules))
	b.ReportAllocs()
	for b.Loop() {
		byMachine(b, rules, members, counts)
	}
	report(b)
}

func BenchmarkCompile(b *testing.B) {
	book, _ := vocabulary.NewBook()
	p := benchPack(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Compile(book, p); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(benchRules)), "ns/rule")
}
