package pack

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/rules/vocabulary"
)

// judgeExample judges an example of a rule as the only row.
func judgeExample(t *testing.T, s *Set, r *Rule, example int) (*Judgement, Verdict) {
	f, problems := exampleFacts(s.Book, r, r.Examples[example])
	require.Empty(t, problems)
	j := s.Judge(f, Options{})
	for _, v := range j.Verdicts {
		if v.Rule == r && v.Row == 0 {
			return j, v
		}
	}
	return j, Verdict{}
}

func TestAnAccountOfWhatIsNotMet(t *testing.T) {
	s := compiled(t, false)
	j, v := judgeExample(t, s, s.Rule("practice/bearing-on-masonry"), 1)
	require.Equal(t, Stop, v.Severity)
	a := j.Account(v, model.Metric)
	require.Equal(t, "J1 bears 60 mm on W1; 90 mm is needed", a.Message)
	require.Equal(t, &Figure{60, model.Length, false}, a.Found)
	require.Equal(t, &Figure{90, model.Length, false}, a.Required)
	require.Equal(t, ">=", a.Operator)
	require.InDelta(t, 1.5, a.Ratio, 1e-12) // 90 / 60: it must be reached, so what is needed is the demand
	require.Equal(t, "Lengthen the bearing, or set a padstone or plate and ask the engineer.", a.Action)

	us := j.Account(v, model.US)
	require.Contains(t, us.Message, "in")
}

func TestAnAccountOfWhatCannotBeChecked(t *testing.T) {
	s := compiled(t, false)
	j, v := judgeExample(t, s, s.Rule("practice/bearing-on-masonry"), 2)
	require.Equal(t, Unchecked, v.Outcome)
	a := j.Account(v, model.Metric)
	require.Equal(t, "Timber bearing on masonry: not checked, because bearing (length of bearing) is not known: the example does not say", a.Message)
	require.Equal(t, "length of bearing is not known: the example does not say", a.Reason)
	require.Nil(t, a.Found)
	require.Equal(t, &Figure{90, model.Length, false}, a.Required)
	require.Zero(t, a.Ratio)
}

func TestTheFiguresAreThoseOfTheConditionThatIsNotMet(t *testing.T) {
	s := compiled(t, false)
	r := s.Rule("practice/joist-centres")
	j, v := judgeExample(t, s, r, 1) // 600 mm is allowed, but not on a deck of 18 mm
	require.Equal(t, Ask, v.Severity)
	a := j.Account(v, model.Metric)
	require.Equal(t, &Figure{450, model.Length, false}, a.Required)
	require.InDelta(t, 600.0/450, a.Ratio, 1e-12)

	_, v = judgeExample(t, s, r, 2)
	require.Equal(t, Stop, v.Severity, "750 mm is more than 1.2 times 600 mm")

	j, v = judgeExample(t, s, r, 3)
	require.Equal(t, Unchecked, v.Outcome, "a deck of 12 mm is not in the table")
	require.Equal(t, "thick is below the table decks, which begins at 18 mm", j.Account(v, model.Metric).Reason)
}

func TestFoundAndNeedSayWhatToPrint(t *testing.T) {
	s := compiled(t, false)
	j, v := judgeExample(t, s, s.Rule("practice/landings"), 2)
	a := j.Account(v, model.Metric)
	require.Equal(t, "R1 takes 2 that land on it, 2 kN at most", a.Message)
	require.Equal(t, &Figure{2000, model.Force, false}, a.Found)
	require.Equal(t, &Figure{1000, model.Force, false}, a.Required)
	require.Zero(t, a.Ratio, "which way they compare is not said")
}

func TestAFailureIsNotRoundedAway(t *testing.T) {
	s := compiled(t, false)
	r := s.Rule("practice/bearing-on-masonry")
	facts, problems := exampleFacts(s.Book, r, r.Examples[1])
	require.Empty(t, problems)
	facts.Columns[s.Book.Fact(vocabulary.Support, "bearing").ID()].Numbers[0] = 89.9997
	j := s.Judge(facts, Options{})
	i := slices.IndexFunc(j.Verdicts, func(v Verdict) bool { return v.Rule == r })
	require.Equal(t, NotMet, j.Verdicts[i].Outcome)
	require.Equal(t, "J1 bears 89.9997 mm on W1; 90 mm is needed", j.Account(j.Verdicts[i], model.Metric).Message)
}

func TestUsedListsTheFactsThatTheRuleUsed(t *testing.T) {
	s := compiled(t, false)
	used := func(id string, example int) (out []string) {
		j, v := judgeExample(t, s, s.Rule(id), example)
		for _, u := range j.Used(v) {
			out = append(out, u.Path+" = "+u.Value)
		}
		return out
	}
	require.Equal(t, []string{`member.material = "timber"`, `on.material = "masonry"`, "bearing = 60"}, used("practice/bearing-on-masonry", 1))
	require.Equal(t, []string{`member.material = "timber"`, `on.material = "masonry"`, "bearing = (the example does not say)"}, used("practice/bearing-on-masonry", 2))
	require.Equal(t, []string{`material = "timber"`, `role = "rafter"`, "plies = 1", `.member.role = "rafter"`, `.member.role = "post"`, ".reaction = 2000"}, used("practice/landings", 2))
}

func TestNothingThatIsNotKnownIsMet(t *testing.T) {
	for _, row := range []struct {
		what, keys string
		examples   string
	}{
		{"an absent fact in where", "    where: is_tied\n    require: 'true'\n", "{}"},
		{"an absent fact in require", "    require: not is_tied\n", "{}"},
		{"an absent fact on the left of or", "    require: is_tied or depth > 0\n", "{depth: 1 mm}"},
		{"division by zero", "    require: not (depth / (depth - depth) > 1)\n", "{depth: 1 mm}"},
		{"a remainder of zero", "    require: not (depth % (depth - depth) > mm(1))\n", "{depth: 1 mm}"},
		{"the root of a negative number", "    require: not (sqrt(plies - 2) > 1)\n", "{plies: 1}"},
		{"what overflows", "    require: not (plies ** 400 * plies ** 400 > 1)\n", "{plies: 10}"},
		{"the least of nothing", "    require: not (min(map(supports, .bearing)) > 0)\n", "{}"},
		{"an infinite divisor", "    require: plies / (plies / (plies - plies)) == 0\n", "{plies: 1}"},
	} {
		t.Run(row.what, func(t *testing.T) {
			book, err := vocabulary.NewBook()
			require.NoError(t, err)
			p, err := Parse([]byte(hostilePack(row.keys+"    examples: [{unchecked: "+row.examples+"}]\n")), "house.yaml", House)
			require.NoError(t, err)
			s, err := Compile(book, p)
			require.NoError(t, err)
			trial, err := s.Try(model.Metric)
			require.NoError(t, err)
			require.Empty(t, trial.Failed)
		})
	}
}

func TestAFactThatIsNotFiniteIsNeverMet(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	inf := math.Inf(1)
	for _, expression := range []string{"depth > 0", "depth >= span", "min(depth, mm(5)) < mm(9)", "depth in [mm(4)] or true", "span / depth < 1", "abs(depth) > 0", "atan(depth / mm(1)) > 0", "max(map(supports, depth)) > 0 or true"} {
		p, err := Parse([]byte(hostilePack("    require: '"+expression+"'\n")), "house.yaml", House)
		require.NoError(t, err)
		s, err := Compile(book, p)
		require.NoError(t, err, expression)
		f := starOfSupports(book, 1)
		f.Columns[book.Fact(vocabulary.Member, "depth").ID()] = &vocabulary.Column{Numbers: []float64{inf, inf - inf}}
		f.Columns[book.Fact(vocabulary.Member, "span").ID()] = &vocabulary.Column{Numbers: []float64{1, 1}}
		j := s.Judge(f, Options{})
		require.Equal(t, Counts{Unchecked: 2}, j.Counts[0], expression)
	}
}

func TestARunInWhichNoRuleAppliesIsTold(t *testing.T) {
	s := compiled(t, false)
	s.Rules = s.Rules[:1]
	require.False(t, s.Judge(vocabulary.NewFacts(s.Book), Options{}).Applied())
	r := s.Rule("practice/bearing-on-masonry")
	f, _ := exampleFacts(s.Book, r, r.Examples[3])
	require.False(t, s.Judge(f, Options{}).Applied(), "a rule that does not apply to its only row")
	f, _ = exampleFacts(s.Book, r, r.Examples[0])
	require.True(t, s.Judge(f, Options{}).Applied())
}

func TestRowsAreGroupedWithoutChangingOutcomes(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	keys := "    where: role == \"beam\"\n    require: depth > mm(100)\n"
	more := "  - {id: both, title: t, judges: member, severity: stop, say: s, source: s, why: w, where: 'role in [\"beam\", \"purlin\"] and is_tied', require: depth > mm(100)}\n" +
		"  - {id: all, title: t, judges: member, severity: stop, say: s, source: s, why: w, require: depth > mm(100)}\n"
	p, err := Parse([]byte(hostilePack(keys)+more), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	f := vocabulary.NewFacts(book)
	unknown := f.Reason("the document does not say")
	f.Tables[vocabulary.Member] = vocabulary.Table{Rows: 6, Document: []int32{0, 0, 1, 2, 3, 1}}
	f.Columns[book.Fact(vocabulary.Member, "role").ID()] = &vocabulary.Column{
		Shared: true, Texts: []string{"beam", "purlin", "post", ""}, Absent: []vocabulary.Reason{0, 0, 0, unknown},
	}
	f.Columns[book.Fact(vocabulary.Member, "depth").ID()] = &vocabulary.Column{Numbers: []float64{50, 150, 50, 50, 150, 150}}
	f.Columns[book.Fact(vocabulary.Member, "is_tied").ID()] = &vocabulary.Column{Truths: []bool{true, true, true, true, true, false}}
	j := s.Judge(f, Options{Matrix: true})
	require.Equal(t, [][]Outcome{
		{NotMet, Met, NotApplicable, NotApplicable, Unchecked, NotApplicable},
		{NotMet, Met, NotMet, NotApplicable, Unchecked, NotApplicable},
		{NotMet, Met, NotMet, NotMet, Met, Met},
	}, j.Matrix)
	for i, row := range j.Matrix {
		var c Counts
		for _, o := range row {
			c[o]++
		}
		require.Equal(t, c, j.Counts[i])
	}
	require.Len(t, j.Verdicts, 8)

	some := s.Judge(f, Options{Matrix: true, Touched: func(_ vocabulary.Subject, row int32) vocabulary.Touch { return vocabulary.Touch(1 - row%2) }})
	for i, row := range some.Matrix {
		for k := range row {
			want := j.Matrix[i][k]
			if k%2 == 1 {
				want = NotApplicable // not judged
			}
			require.Equal(t, want, row[k])
		}
	}
	require.Len(t, some.Verdicts, 7, "three on the first row, two each on the third and the fifth")
	none := s.Judge(f, Options{Only: []vocabulary.Subject{vocabulary.Support}})
	require.Empty(t, none.Verdicts)
}

// A row of which only what it sees, or only a region's facts, are others is judged by the rules that read such a thing.
func TestTouchedRowsAreJudgedByTheRulesThatCanTell(t *testing.T) {
	book, err := vocabulary.NewBook(vocabulary.Fact{Subject: vocabulary.Member, Name: "xx.use", Type: vocabulary.Number, Origin: vocabulary.FromRegion, Text: "use"})
	require.NoError(t, err)
	more := ""
	for id, require := range map[string]string{"sees": "'any(supports, .bearing > mm(50))'", "far": "'any(supports, any(.on.supports, .bearing > mm(50)))'", "answered": "'xx.use <= 1'", "graded": "depth > mm(100)"} {
		severity := "stop"
		if id == "graded" {
			severity = "[{when: 'xx.use > 2', is: stop}, {is: ask}]"
		}
		more += "  - {id: " + id + ", title: t, judges: member, severity: " + severity + ", say: s, source: s, why: w, require: " + require + "}\n"
	}
	p, err := Parse([]byte(hostilePack("    require: depth > mm(100)\n")+more), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	f := vocabulary.NewFacts(book)
	f.Tables[vocabulary.Member] = vocabulary.Table{Rows: 4}
	f.Columns[book.Fact(vocabulary.Member, "depth").ID()] = &vocabulary.Column{Numbers: make([]float64, 4)}
	f.Columns[book.Fact(vocabulary.Member, "xx.use").ID()] = &vocabulary.Column{Numbers: []float64{3, 3, 3, 3}}
	f.Links[book.Relation(vocabulary.Member, "supports").ID()] = &vocabulary.Link{Start: make([]int32, 5)}
	touches := []vocabulary.Touch{0, vocabulary.Changed, vocabulary.Answered, vocabulary.Seen}
	j := s.Judge(f, Options{Matrix: true, Touched: func(_ vocabulary.Subject, row int32) vocabulary.Touch { return touches[row] }})
	judged := map[string][]bool{}
	for i, r := range s.Rules {
		for _, o := range j.Matrix[i] {
			judged[r.ID[len("house/"):]] = append(judged[r.ID[len("house/"):]], o == NotMet)
		}
	}
	first := s.Rules[0].ID[len("house/"):]
	require.Equal(t, map[string][]bool{first: {false, true, false, false}, "sees": {false, true, false, true}, "far": {true, true, true, true},
		"answered": {false, true, true, false}, "graded": {false, true, true, false}}, judged)
}

func TestASeverityThatCannotBeKnownIsTheGravest(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	text := "pack: house\nformat: 1\nedition: \"1\"\ntitle: t\nrules:\n  - id: trap\n    title: t\n    judges: member\n    say: s\n    source: s\n    why: w\n" +
		"    severity: [{when: span > mm(5000), is: ask}, {when: is_tied, is: stop}, {is: note}]\n    require: depth > mm(100)\n" +
		"    examples:\n      - not_met: {depth: 1 mm}\n      - not_met: {depth: 1 mm, span: 1 mm, is_tied: false}\n      - not_met: {depth: 1 mm, span: 6 m}\n"
	p, err := Parse([]byte(text), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	for example, want := range []Severity{Stop, Note, Ask} {
		_, v := judgeExample(t, s, s.Rules[0], example)
		require.Equal(t, want, v.Severity)
	}
}

// TestJudgingAllocatesNothingForEachRow holds that a judgement of many rows allocates no more than one of few, where
// there are no verdicts to keep.
func TestJudgingAllocatesNothingForEachRow(t *testing.T) {
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	p, err := Parse([]byte(hostilePack("    require: none(filter(supports, .bearing < mm(5)), .member.plies > 1) and max(map(supports, .bearing)) > 0\n")), "house.yaml", House)
	require.NoError(t, err)
	s, err := Compile(book, p)
	require.NoError(t, err)
	f := starOfSupports(book, 10)
	few := testing.AllocsPerRun(10, func() { s.Judge(f, Options{}) })
	f = starOfSupports(book, 10)
	f.Tables[vocabulary.Member] = vocabulary.Table{Rows: 1000}
	l := f.Links[book.Relation(vocabulary.Member, "supports").ID()]
	for len(l.Start) < 1001 {
		l.Start = append(l.Start, l.Start[len(l.Start)-1])
	}
	l.Rows, l.Start = make([]int32, 1001), l.Start[:0]
	for i := range int32(1001) {
		l.Start = append(l.Start, i)
	}
	many := testing.AllocsPerRun(10, func() { s.Judge(f, Options{}) })
	require.Equal(t, few, many)
}

func TestMessagesNameTheFirstOfManyMarks(t *testing.T) {
	for list, want := range map[string]string{
		"":                                      "",
		"B1, J4":                                "B1, J4",
		"1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11":     "1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11", // "and 1 more" would say no less
		"1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12": "1, 2, 3, 4, 5, 6, 7, 8, 9, 10 and 2 more",
	} {
		require.Equal(t, want, few(list))
	}
}
