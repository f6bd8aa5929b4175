package expression_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/rules/pack/expression"
	"example.com/scantling/rules/pack/packtest"
	"example.com/scantling/rules/pack/table"
	"example.com/scantling/rules/vocabulary"
)

// synthetic fills some facts of members and supports with figures of the sizes that frames have. Part of them is absent.
func synthetic(book *vocabulary.Book, rng *rand.Rand, members int, absence float64) *vocabulary.Facts {
	f := vocabulary.NewFacts(book)
	pieces := members * 2
	f.Tables[vocabulary.Member] = vocabulary.Table{Rows: pieces}
	for m := range members {
		f.Tables[vocabulary.Member].Document = append(f.Tables[vocabulary.Member].Document, int32(m), int32(m))
	}
	supports := &vocabulary.Link{Start: []int32{0}}
	landings := &vocabulary.Link{Start: []int32{0}}
	owner := &vocabulary.Link{Start: []int32{0}}
	on := &vocabulary.Link{Start: []int32{0}}
	open := f.Reason("the wall is not in the model")
	for p := range pieces {
		for range rng.IntN(4) {
			supports.Rows = append(supports.Rows, int32(len(owner.Rows)))
			owner.Rows = append(owner.Rows, int32(p))
			owner.Start = append(owner.Start, int32(len(owner.Rows)))
			why := open
			if rng.Float64() >= absence {
				on.Rows, why = append(on.Rows, rng.Int32N(int32(pieces))), 0
			}
			on.Start, on.Absent = append(on.Start, int32(len(on.Rows))), append(on.Absent, why)
		}
		supports.Start = append(supports.Start, int32(len(supports.Rows)))
	}
	total := len(owner.Rows)
	for range pieces {
		for range rng.IntN(3) {
			if total > 0 {
				landings.Rows = append(landings.Rows, rng.Int32N(int32(total)))
			}
		}
		landings.Start = append(landings.Start, int32(len(landings.Rows)))
	}
	f.Tables[vocabulary.Support].Rows = total
	for name, l := range map[string]*vocabulary.Link{"supports": supports, "landings": landings} {
		f.Links[book.Relation(vocabulary.Member, name).ID()] = l
	}
	f.Links[book.Relation(vocabulary.Support, "member").ID()] = owner
	f.Links[book.Relation(vocabulary.Support, "on").ID()] = on
	texts := map[string][]string{
		"role": {"rafter", "floor joist", "purlin", "beam", "wall"}, "material": {"timber", "steel", "masonry"},
		"by": {"seat", "hanger"}, "grade": {"C16", "C24"}, "id": {"R1", "B2"},
	}
	fill := func(s vocabulary.Subject, rows int, shared bool) {
		for _, fact := range book.Facts(s) {
			if fact.Origin == vocabulary.FromStatics && rng.IntN(4) == 0 {
				continue
			}
			c := &vocabulary.Column{Shared: shared && fact.Origin == vocabulary.FromDocument}
			n := rows
			if c.Shared {
				n = members
			}
			if fact.Type == vocabulary.Text && texts[fact.Name] == nil {
				continue
			}
			never := rng.IntN(2) == 0
			if !never {
				c.Absent = make([]vocabulary.Reason, n)
			}
			for i := range n {
				if !never && rng.Float64() < absence {
					c.Absent[i] = f.Reason(fmt.Sprintf("the document does not say %s", fact.Name))
				}
				switch fact.Type {
				case vocabulary.Number:
					c.Numbers = append(c.Numbers, figure(rng, fact.Dimension))
				case vocabulary.Text:
					c.Texts = append(c.Texts, texts[fact.Name][rng.IntN(len(texts[fact.Name]))])
				default:
					c.Truths = append(c.Truths, rng.IntN(2) == 0)
				}
			}
			f.Columns[fact.ID()] = c
		}
	}
	fill(vocabulary.Member, pieces, true)
	fill(vocabulary.Support, total, false)
	return f
}

func figure(rng *rand.Rand, d model.Dimension) float64 {
	switch d {
	case model.Length:
		return float64(rng.IntN(50) * 10)
	case model.Angle:
		return float64(rng.IntN(9)) * math.Pi / 18
	case model.Plain:
		return float64(rng.IntN(5)) / 2
	}
	return float64(rng.IntN(1000))
}

// names is params, a definition and tables for the tests.
func testNames(t testing.TB) expression.Names {
	tb, problems := table.ReadCSV("reaches", "spans.csv", []byte("section text exact, centres [mm] next up, load [N] between, span [mm], note text\n"))
	require.Nil(t, tb)
	require.NotEmpty(t, problems) // a text beside a between key
	tb, problems = table.ReadCSV("reaches", "spans.csv", []byte("role text exact, width [mm] next up, depth [mm] between, span [mm], load [kN]\n"+
		"rafter, 100, 0, 1000, 1\nrafter, 100, 400, 3000, 2\nrafter, 300, 0, 500, 3\nrafter, 300, 400, 900, -\nbeam, 300, 0, 700, 5\nbeam, 300, 400, 800, 6\n"))
	require.Empty(t, problems)
	return expression.Names{
		Params: map[string]*expression.Param{
			"least":  {Name: "least", Value: expression.Constant{Type: expression.Type{Kind: expression.Number, Dimension: model.Length}, Number: 90}},
			"roles":  {Name: "roles", Value: expression.Constant{Type: expression.Type{Kind: expression.List, Of: expression.Text}, List: []expression.Constant{{Type: expression.Type{Kind: expression.Text}, Text: "rafter"}, {Type: expression.Type{Kind: expression.Text}, Text: "beam"}}}},
			"strict": {Name: "strict", Value: expression.Constant{Type: expression.Type{Kind: expression.Truth}, Truth: true}},
		},
		Defines: map[string]*expression.Source{"steep": {Text: "slope > deg(20) or spans > 1"}},
		Tables:  map[string]*table.Table{"reaches": tb},
	}
}

// same holds an expression to expr's own machine on every row of a subject.
func same(t testing.TB, text string, book *vocabulary.Book, subject vocabulary.Subject, names expression.Names, f *vocabulary.Facts) {
	x, _, problems := expression.Check(&expression.Source{Text: text}, book, subject, names)
	require.Empty(t, problems, text)
	_, err := packtest.SameExpression(x, subject, names, f)
	require.NoError(t, err)
}

// generator writes expressions that pass the check.
type generator struct {
	rng     *rand.Rand
	book    *vocabulary.Book
	subject vocabulary.Subject
	element *vocabulary.Subject
	depth   int
}

func (g *generator) pick(options ...func() string) string { return options[g.rng.IntN(len(options))]() }

func (g *generator) fact(t vocabulary.Type, d model.Dimension) string {
	s, before := g.subject, ""
	if g.element != nil && g.rng.IntN(2) == 0 {
		s, before = *g.element, "."
	}
	if s == vocabulary.Support && g.rng.IntN(3) == 0 {
		s, before = vocabulary.Member, before+[]string{"member.", "on."}[g.rng.IntN(2)]
	}
	var names []string
	for _, f := range g.book.Facts(s) {
		late := strings.HasSuffix(before, "on.") && f.Origin > vocabulary.FromFrame
		if f.Type == t && (t != vocabulary.Number || f.Dimension == d) && !late {
			names = append(names, f.Name)
		}
	}
	if t == vocabulary.Text {
		names = []string{"role", "material", "grade", "id"}
		if s == vocabulary.Support {
			names = []string{"by"}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return before + names[g.rng.IntN(len(names))]
}

// text writes a test of a text with words that it can be: of a role, of how a support is held, of any other.
func (g *generator) text(ofRole, ofFixing, ofOther string) string {
	fact := g.fact(vocabulary.Text, model.Plain)
	switch fact[strings.LastIndexByte(fact, '.')+1:] {
	case "role":
		return fact + ofRole
	case "by":
		return fact + ofFixing
	}
	return fact + ofOther
}

func (g *generator) inside(s vocabulary.Subject, write func() string) string {
	outer := g.element
	g.element = &s
	defer func() { g.element = outer }()
	return write()
}

func (g *generator) collection() (string, vocabulary.Subject) {
	name := []string{"supports", "landings"}[g.rng.IntN(2)]
	before := ""
	switch {
	case g.element != nil && *g.element == vocabulary.Support && g.rng.IntN(2) == 0:
		before = ".member."
	case g.subject == vocabulary.Support:
		before = []string{"member.", "on."}[g.rng.IntN(2)]
	}
	c := before + name
	if g.rng.IntN(4) == 0 {
		return fmt.Sprintf("filter(%s, %s)", c, g.inside(vocabulary.Support, g.truth)), vocabulary.Support
	}
	return c, vocabulary.Support
}

func (g *generator) truth() string {
	g.depth++
	defer func() { g.depth-- }()
	if g.depth > 5 {
		return g.pick(func() string { return "true" }, func() string { return g.number(model.Length) + " >= mm(90)" }, func() string { return g.fact(vocabulary.Truth, model.Plain) })
	}
	dims := []model.Dimension{model.Length, model.Plain, model.Force, model.Angle}
	d := dims[g.rng.IntN(len(dims))]
	return g.pick(
		func() string {
			ops := []string{"<", "<=", ">", ">=", "==", "!="}
			return fmt.Sprintf("%s %s %s", g.number(d), ops[g.rng.IntN(len(ops))], g.number(d))
		},
		func() string { return fmt.Sprintf("((%s) and (%s))", g.truth(), g.truth()) },
		func() string { return fmt.Sprintf("(%s or (%s))", g.truth(), g.truth()) },
		func() string { return fmt.Sprintf("(not (%s))", g.truth()) },
		func() string { return g.fact(vocabulary.Truth, model.Plain) },
		func() string { return fmt.Sprintf("known(%s)", g.fact(vocabulary.Number, model.Length)) },
		func() string { return g.text(` == "rafter"`, ` == "seat"`, ` == "C16"`) },
		func() string {
			return g.text(` in ["rafter", "beam"]`, ` in ["hanger", "seat"]`, ` in ["timber", "R1", "C24"]`)
		},
		func() string { return g.text(` not in roles`, ` not in ["seat"]`, ` not in ["steel"]`) },
		func() string { return g.fact(vocabulary.Text, model.Plain) + ` contains "a"` },
		func() string { return g.fact(vocabulary.Text, model.Plain) + ` startsWith "t"` },
		func() string { return g.fact(vocabulary.Text, model.Plain) + ` matches "^(raf|b).*r?$"` },
		func() string { return fmt.Sprintf("(%s ? %s : %s)", g.truth(), g.truth(), g.truth()) },
		func() string { return fmt.Sprintf("%s in [mm(90), least, 0]", g.number(model.Length)) },
		func() string {
			c, s := g.collection()
			name := []string{"all", "any", "none", "one"}[g.rng.IntN(4)]
			return fmt.Sprintf("%s(%s, %s)", name, c, g.inside(s, g.truth))
		},
	)
}

func (g *generator) number(d model.Dimension) string {
	g.depth++
	defer func() { g.depth-- }()
	constant := func() string {
		switch d {
		case model.Length:
			return g.pick(func() string { return fmt.Sprintf("mm(%d)", g.rng.IntN(400)) }, func() string { return "least" }, func() string { return "inch(3.5)" })
		case model.Force:
			return fmt.Sprintf("kN(%.1f)", g.rng.Float64())
		case model.Angle:
			return fmt.Sprintf("deg(%d)", g.rng.IntN(90))
		}
		return fmt.Sprintf("%d", g.rng.IntN(5))
	}
	fact := func() string {
		if name := g.fact(vocabulary.Number, d); name != "" {
			return name
		}
		return constant()
	}
	if g.depth > 5 {
		return g.pick(constant, fact)
	}
	return g.pick(constant, fact, fact,
		func() string { return fmt.Sprintf("(%s + %s)", g.number(d), g.number(d)) },
		func() string { return fmt.Sprintf("(%s - %s)", g.number(d), g.number(d)) },
		func() string { return fmt.Sprintf("(%s * %s)", g.number(d), g.number(model.Plain)) },
		func() string { return fmt.Sprintf("(%s / (%s))", g.number(d), g.number(model.Plain)) },
		func() string { return fmt.Sprintf("((%s) %% (%s))", g.number(d), g.number(d)) },
		func() string { return fmt.Sprintf("(-(%s))", g.number(d)) },
		func() string { return fmt.Sprintf("abs(%s)", g.number(d)) },
		func() string { return fmt.Sprintf("min(%s, %s, 0)", g.number(d), g.number(d)) },
		func() string { return fmt.Sprintf("max(%s, %s)", g.number(d), g.number(d)) },
		func() string { return fmt.Sprintf("(%s ? %s : %s)", g.truth(), g.number(d), g.number(d)) },
		func() string {
			if d == model.Plain {
				return g.pick(
					func() string { return fmt.Sprintf("sqrt(%s)", g.number(d)) },
					func() string { return fmt.Sprintf("sin(%s)", g.number(model.Angle)) },
					func() string { return fmt.Sprintf("(%s ** 2)", g.number(d)) },
					func() string { return fmt.Sprintf("round(%s / mm(7))", g.number(model.Length)) },
					func() string { c, _ := g.collection(); return fmt.Sprintf("len(%s)", c) },
					func() string {
						c, s := g.collection()
						return fmt.Sprintf("count(%s, %s)", c, g.inside(s, g.truth))
					})
			}
			c, s := g.collection()
			f := []string{"min", "max", "sum"}[g.rng.IntN(3)]
			return fmt.Sprintf("%s(map(%s, %s))", f, c, g.inside(s, func() string { return g.number(d) }))
		},
		func() string {
			switch {
			case d == model.Length && g.subject == vocabulary.Member:
				return fmt.Sprintf("reaches.span(role, %s, %s)", g.number(d), g.number(d))
			case d == model.Force && g.subject == vocabulary.Member:
				return fmt.Sprintf("reaches.load(role, %s, mm(%d))", g.number(model.Length), g.rng.IntN(420))
			case d == model.Angle:
				return fmt.Sprintf("atan(%s)", g.number(model.Plain))
			}
			return fmt.Sprintf("sum(%s, %s)", "member.supports", g.inside(vocabulary.Support, func() string { return g.number(d) }))
		},
	)
}

// generated holds one generated expression over generated facts to the reference.
func generated(t testing.TB, book *vocabulary.Book, names expression.Names, seed uint64) {
	rng := newRand(seed)
	f := synthetic(book, rng, 1+rng.IntN(6), []float64{0, 0.2, 0.6}[rng.IntN(3)])
	g := &generator{rng: rng, book: book, subject: []vocabulary.Subject{vocabulary.Member, vocabulary.Support}[rng.IntN(2)]}
	text := g.truth()
	if rng.IntN(3) == 0 {
		text = g.number(model.Length)
	}
	if g.subject == vocabulary.Member {
		text = strings.ReplaceAll(text, "sum(member.supports", "sum(supports")
	}
	if len(text) <= 4096 {
		same(t, text, book, g.subject, names, f)
	}
}

func TestClosuresGiveTheSameAnswersAsTheMachine(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	names := testNames(t)
	for seed := range uint64(1200) {
		generated(t, book, names, seed)
	}
}

func FuzzSame(f *testing.F) {
	book, err := vocabulary.NewBook()
	require.NoError(f, err)
	names := testNames(f)
	f.Add(uint64(1))
	f.Fuzz(func(t *testing.T, seed uint64) { generated(t, book, names, seed) })
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

func newBook(t testing.TB) *vocabulary.Book {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	return book
}

// TestComparisonsAllowTheTolerance holds the interval of a constant to the comparison of two facts at its very ends.
func TestComparisonsAllowTheTolerance(t *testing.T) {
	book := newBook(t)
	f := vocabulary.NewFacts(book)
	depth := &vocabulary.Column{Numbers: []float64{100, 100 * (1 - 0.9e-9), 100 * (1 - 1.1e-9), 100 * (1 + 0.9e-9), 100 * (1 + 1.1e-9), -100, 0}}
	breadth := &vocabulary.Column{Numbers: make([]float64, len(depth.Numbers))}
	f.Tables[vocabulary.Member].Rows = len(depth.Numbers)
	f.Columns[book.Fact(vocabulary.Member, "depth").ID()] = depth
	f.Columns[book.Fact(vocabulary.Member, "breadth").ID()] = breadth
	for _, limit := range []string{"100", "-100", "0"} {
		for i := range breadth.Numbers {
			breadth.Numbers[i] = map[string]float64{"100": 100, "-100": -100, "0": 0}[limit]
		}
		for _, operator := range []string{"<", "<=", ">", ">=", "==", "!="} {
			same(t, "depth "+operator+" mm("+limit+")", book, vocabulary.Member, expression.Names{}, f)
			same(t, "depth "+operator+" breadth", book, vocabulary.Member, expression.Names{}, f)
		}
	}
	x, _, problems := expression.Check(&expression.Source{Text: "depth >= mm(100)"}, book, vocabulary.Member, expression.Names{})
	require.Empty(t, problems)
	evaluate, run := expression.NewBinder(f, nil).Truth(x), &expression.Run{}
	for i, want := range []bool{true, true, false, true, true, false, false} {
		run.Begin(int32(i), int32(i))
		require.Equal(t, want, evaluate(run), depth.Numbers[i])
	}
}

// TestWrittenExpressionsGiveTheSameAnswers holds expressions that people write to the reference: each case of the language once.
func TestWrittenExpressionsGiveTheSameAnswers(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	names := testNames(t)
	for seed := range uint64(5) {
		f := synthetic(book, newRand(seed), 6, 0.3)
		for _, text := range []string{
			`role == "rafter" and depth >= mm(100)`, `role in roles or not is_tied`, `steep and strict`, `any(supports, steep and .is_end)`,
			`all(supports, .bearing >= least)`, `none(supports, known(.on.material) and .on.material == "masonry")`,
			`one(supports, .is_end)`, `count(supports, .bearing < mm(100)) <= 1`, `len(filter(supports, .bearing < mm(100))) == 0`,
			`any(filter(supports, .is_end), .bearing < inch(3))`, `min(map(supports, .bearing)) > 0`, `sum(supports, .bearing) > m(0.3)`,
			`known(depth) ? depth > breadth : plies > 1`, `if known(depth) { depth > breadth } else if known(plies) { plies > 1 } else { false }`,
			`mm(50) <= depth <= mm(200)`, `depth != breadth`, `grade matches "^C[0-9]+$"`, `grade not in ["C16"] and material not contains "steel"`,
			`reaches.span(role, width, depth) > mm(800)`, `known(span) and span / depth > 20`, `supports | any(.is_end)`,
			`any(supports, any(.member.supports, .bearing > least) and .bearing > least)`, `max(map(landings, .member.depth)) > depth`,
			`is_tied == (plies > 1)`, `(depth % mm(7)) / mm(1) > 3`, `-depth < 0 and +depth > 0`, `depth ** 2 > mm2(900)`, `"a" == "b" or true`,
		} {
			same(t, text, book, vocabulary.Member, names, f)
		}
	}
}
