package packs_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/packs"
	"example.com/scantling/rules/vocabulary"
)

func TestEveryShippedPackStandsByItself(t *testing.T) {
	for _, file := range allFiles() {
		t.Run(file, func(t *testing.T) {
			p, err := pack.Read(packs.Files(), file, pack.Shipped)
			require.NoError(t, err)
			require.NoError(t, pack.Vet(book(t), p))
			set, err := pack.Compile(book(t), p)
			require.NoError(t, err)
			try(t, set)
		})
	}
}

func TestShippedPacksStandTogether(t *testing.T) {
	set := compile(t)
	assert.Empty(t, set.Loosened)
	for _, r := range set.Rules {
		assert.NotEmpty(t, r.Do, "%s: what to do about it", r.ID)
		assert.True(t, strings.HasSuffix(r.Why, "."), "%s: why is a sentence", r.ID)
		assert.False(t, strings.HasSuffix(r.Say, "."), "%s: say ends without a full stop, since place and source may follow", r.ID)
	}
}

// A rule that is fed by a key which no document can have would be unchecked for ever.
func TestDocumentsCanFeedEveryRule(t *testing.T) {
	keys := map[string]bool{}
	for _, path := range read.Keys() {
		keys[strings.TrimPrefix(strings.ReplaceAll(path, ".*", ""), "members.")] = true
	}
	for _, r := range compile(t).Rules {
		assert.NotEmpty(t, r.Keys, "%s names no key", r.ID)
		for _, key := range r.Keys {
			assert.True(t, keys[key], "%s is fed by %s, which no document has", r.ID, key)
		}
	}
	for _, s := range vocabulary.Subjects() {
		for _, f := range book(t).Facts(s) {
			for _, key := range f.Keys {
				assert.True(t, keys[key], "%s.%s is fed by %s, which no document has", s, f.Name, key)
			}
		}
	}
}

func TestSeverityFollowsTheAmount(t *testing.T) {
	post := func(eccentricity, ratio, off float64) row {
		return row{"member.role": "post", "exists": true, "eccentricity": eccentricity, "eccentricity_ratio": ratio, "off_bearing": off}
	}
	set := compile(t)
	uplift := row{"member.is_solved": true, "uplift": 2000.0, "uplift_taken": 5000.0}
	for _, c := range []struct {
		what, rule string
		row        row
		is         pack.Severity
	}{
		{"a post within b/6 of the axis is a note", "load-path/post-on-axis", post(12, 0.13, 0), pack.Note},
		{"between b/6 and b/3 it is a question", "load-path/post-on-axis", post(25, 0.27, 0), pack.Ask},
		{"beyond b/3 work stops", "load-path/post-on-axis", post(35, 0.37, 0), pack.Stop},
		{"with part of its foot past the face work stops", "load-path/post-on-axis", post(10, 0.1, 20), pack.Stop},
		{"where the foot is not known the gravest holds", "load-path/post-on-axis", row{"member.role": "post", "exists": true, "eccentricity": 12.0}, pack.Stop},
		{"a post past the end of its beam stops work", "load-path/lands-within", row{"exists": true, "lands_beyond": 60.0, "member.role": "post"}, pack.Stop},
		{"a joist past the end of a wall is a question", "load-path/lands-within", row{"exists": true, "lands_beyond": 60.0, "member.role": "floor joist"}, pack.Ask},
		{"the member where the way ends stops work", "load-path/reaches-ground", row{"id": "B1", "piece": "B1", "is_ground": false, "in_circle": false, "reaches_ground": false, "last_reached": "B1"}, pack.Stop},
		{"a member above it is a note", "load-path/reaches-ground", row{"id": "R1", "piece": "R1#2", "is_ground": false, "in_circle": false, "reaches_ground": false, "last_reached": "B1"}, pack.Note},
		{"where nobody knows where the way ends, work stops", "load-path/reaches-ground", row{"id": "R1", "piece": "R1#2", "is_ground": false, "in_circle": false, "reaches_ground": false}, pack.Stop},
		{"a post on a joist is a question", "load-path/post-on-light-member", row{"member.role": "post", "exists": true, "on.role": "floor joist", "on.plies": 1.0, "on.breadth": 47.0}, pack.Ask},
		{"a strut on a ridge board stops work", "load-path/post-on-light-member", row{"member.role": "strut", "exists": true, "on.role": "ridge board"}, pack.Stop},
		{"new load through old timber is a question", "load-path/through-unverified", row{"phase": "new", "is_unverified": false, "path_through_unverified": "R9", "old_not_relied_on": false}, pack.Ask},
		{"it stops work where the drawings rule the old frame out", "load-path/through-unverified", row{"phase": "new", "is_unverified": false, "path_through_unverified": "R9", "old_not_relied_on": true}, pack.Stop},
		{"a strap fixed to nobody knows what is a question", "load-path/uplift-balanced", uplift, pack.Ask},
		{"a strap fixed to something too light stops work", "load-path/uplift-balanced", uplift.with("weight_below", 900.0), pack.Stop},
		{"an open detail is a question", "paperwork/engineers-details-open", row{"is_open": true}, pack.Ask},
		{"while building it stops work", "paperwork/engineers-details-open", row{"is_open": true, "stage": "building"}, pack.Stop},
		{"a member without a drawing is a question", "paperwork/drawing-named", row{"undrawn": "B1"}, pack.Ask},
		{"while building it stops work", "paperwork/drawing-named", row{"undrawn": "B1", "stage": "building"}, pack.Stop},
		{"a support a little off is a question", "changes/support-moved", row{"what": "support", "moved": 60.0}, pack.Ask},
		{"a support far off stops work", "changes/support-moved", row{"what": "support", "moved": 300.0}, pack.Stop},
		{"a bearing a little short is a question", "changes/bearing-shorter", row{"what": "bearing", "bearing_less": 5.0}, pack.Ask},
		{"a bearing much shorter stops work", "changes/bearing-shorter", row{"what": "bearing", "bearing_less": 40.0}, pack.Stop},
		{"a notch a little deeper is a question", "changes/notch-deeper", row{"what": "notch", "notch_more": 5.0}, pack.Ask},
		{"a notch much deeper stops work", "changes/notch-deeper", row{"what": "notch", "notch_more": 40.0}, pack.Stop},
	} {
		t.Run(c.what, func(t *testing.T) {
			v := judge(t, set, c.rule, c.row)
			require.Len(t, v, 1)
			assert.Equal(t, pack.NotMet, v[0].Outcome)
			assert.Equal(t, c.is, v[0].Severity)
		})
	}
}

// Common practice, no source: rafters of 150x50 stand against hips and ridges of 225x50.
func TestHipsOf225StandOver150Rafters(t *testing.T) {
	set := compile(t)
	for _, c := range []struct {
		what  string
		depth float64 // mm
		cut   float64 // mm: 150 over the cosine of the pitch
		is    int     // findings
	}{
		{"at 35 degrees 225 is deeper than the plumb cut", 225, 183.1, 0},
		{"at 45 degrees too", 225, 212.1, 0},
		{"a ridge as deep as the rafters is not", 150, 183.1, 1},
	} {
		t.Run(c.what, func(t *testing.T) {
			assert.Len(t, judge(t, set, "practice/deeper-than-cut", row{"role": "ridge board", "depth": c.depth, "deepest_plumb_cut": c.cut}), c.is)
		})
	}
}

func TestHousePackChangesWhatShips(t *testing.T) {
	house, err := pack.Open("../../testdata/house/house.yaml", pack.House)
	require.NoError(t, err)
	together := append(shipped(t), house)
	require.NoError(t, pack.Vet(book(t), together...))
	set, err := pack.Compile(book(t), together...)
	require.NoError(t, err)
	try(t, set)

	require.Len(t, set.Loosened, 2, "a param that got tighter is no loosening")
	assert.Equal(t, "load-path.longest_cantilever", set.Loosened[0].Param)
	assert.Equal(t, "practice/nominal-size", set.Loosened[1].Rule)

	bearing := row{"bearing": 95.0, "is_seated": true, "member.role": "beam", "member.is_unverified": false, "member.material": "timber", "on.role": "wall", "on.material": "masonry"}
	assert.Empty(t, judge(t, compile(t), "practice/bearing-on-masonry", bearing), "95 mm is enough for what ships")
	assert.Len(t, judge(t, set, "practice/bearing-on-masonry", bearing), 1, "and not for the house")
	cantilever := row{"role": "floor joist", "is_structural": true, "spans": 1.0, "overhang": 700.0, "overhang_ratio": 0.36}
	assert.Len(t, judge(t, compile(t), "load-path/cantilever", cantilever), 1)
	assert.Empty(t, judge(t, set, "load-path/cantilever", cantilever))
	joist := row{"role": "floor joist", "phase": "new", "depth": 195.0, "centres": 400.0, "span": 3500.0}
	assert.Len(t, judge(t, set, "house/our-floor-spans", joist), 1)
}

func allFiles() []string { return append(packs.Shipped(), packs.Changes) }

func book(t *testing.T) *vocabulary.Book {
	b, err := vocabulary.NewBook()
	require.NoError(t, err)
	return b
}

func shipped(t *testing.T) []*pack.Pack {
	var out []*pack.Pack
	for _, file := range allFiles() {
		p, err := pack.Read(packs.Files(), file, pack.Shipped)
		require.NoError(t, err)
		out = append(out, p)
	}
	return out
}

func compile(t *testing.T) *pack.Set {
	set, err := pack.Compile(book(t), shipped(t)...)
	require.NoError(t, err)
	return set
}

// try runs the examples of a set: all end as they say, and together they reach every part of every rule.
func try(t *testing.T, set *pack.Set) {
	trial, err := set.Try(model.Metric)
	require.NoError(t, err)
	for _, m := range trial.Failed {
		t.Error(m.Error())
	}
	for _, u := range trial.Unreached {
		t.Errorf("%s: %s: %s: %s (character %d)", u.Part.Place, u.Rule.ID, u.Part.Message, u.Part.Expression, u.Part.Caret)
	}
	t.Logf("%d rules, %d examples end as they say, %d parts are reached by none", len(set.Rules)+len(set.Off), trial.Passed, len(trial.Unreached))
}

// row is the facts of one row that is judged, in internal units; "on.role" is a fact of what a relation reaches.
type row map[string]any

func (r row) with(name string, v any) row {
	out := row{name: v}
	for k, w := range r {
		out[k] = w
	}
	return out
}

// judge judges one row by one rule of a set; what is met or does not apply gives no verdict.
func judge(t *testing.T, set *pack.Set, rule string, values row) []pack.Verdict {
	r := set.Rule(rule)
	require.NotNil(t, r, rule)
	f := vocabulary.NewFacts(set.Book)
	f.Tables[r.Judges].Rows = 1
	reached := map[string]int32{}
	for name, v := range values {
		subject, at := r.Judges, int32(0)
		if relation, fact, dotted := strings.Cut(name, "."); dotted {
			link := set.Book.Relation(subject, relation)
			require.NotNil(t, link, name)
			subject, name = link.To, fact
			if _, known := reached[relation]; !known {
				reached[relation] = int32(f.Tables[subject].Rows)
				f.Tables[subject].Rows++
				f.Links[link.ID()] = &vocabulary.Link{Start: []int32{0, 1}, Rows: []int32{reached[relation]}}
			}
			at = reached[relation]
		}
		fact := set.Book.Fact(subject, name)
		require.NotNil(t, fact, name)
		put(f, fact, at, v)
	}
	var out []pack.Verdict
	for _, v := range set.Judge(f, pack.Options{}).Verdicts {
		if v.Rule == r && v.Row == 0 {
			out = append(out, v)
		}
	}
	return out
}

// put sets one value; the column's other rows are absent.
func put(f *vocabulary.Facts, fact *vocabulary.Fact, at int32, v any) {
	const most = 4 // rows
	c := f.Columns[fact.ID()]
	if c == nil {
		c = &vocabulary.Column{Numbers: make([]float64, most), Texts: make([]string, most), Truths: make([]bool, most), Absent: make([]vocabulary.Reason, most)}
		for i := range c.Absent {
			c.Absent[i] = f.Reason("the row does not say")
		}
		f.Columns[fact.ID()] = c
	}
	c.Absent[at] = 0
	switch v := v.(type) {
	case float64:
		c.Numbers[at] = v
	case string:
		c.Texts[at] = v
	case bool:
		c.Truths[at] = v
	}
}
