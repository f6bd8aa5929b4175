package changes_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/engine/asbuilt"
	"example.com/scantling/engine/changes"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/internal/fixture"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/eurocode"
)

// shed is a floor of seven joists on two walls, a beam with a post on it, and an old wall under one end.
const shed = `{
  "framing": 1, "title": "shed", "site": {"region": "GB-ENG", "service_class": 1},
  "areas": {"floor": {"kind": "floor", "category": "A", "dead": 0.5, "imposed": 1.5}},
  "members": {
    "W1": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "path": [[-100, 0, 0], [5000, 0, 0]]},
    "W2": {"role": "wall", "material": "masonry", "width": 100, "ground": true, "phase": "existing", "path": [[-100, 3000, 0], [5000, 3000, 0]]},
    "J1": {"role": "floor joist", "section": "50x150", "grade": "C16", "centres": 600, "path": [[0, 0, 75], [0, 3000, 75]],
      "repeat": {"count": 7, "step": [600, 0, 0]}, "carries": ["floor"],
      "supports": [{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 100, "by": "hanger"}],
      "straps": [{"kind": "lateral", "to": "W1", "centres": 2000, "size": "30x5"}, {"kind": "holding down", "to": "W2", "centres": 1800}],
      "restraint": {"top": "full"}},
    "B1": {"role": "beam", "section": "2/47x195", "grade": "C24", "path": [[4200, 0, 97.5], [4200, 3000, 97.5]],
      "supports": [{"on": "W1", "bearing": 100, "by": "seat", "holds": "horizontal", "seat": {"kind": "padstone", "size": "215x100x100"}},
        {"on": "W2", "bearing": 100, "by": "seat"}],
      "loads": [{"action": "dead", "point": 4, "at": 1500}], "restraint": {"top": 1000}, "plies_joined": "bolts", "treated": "use class 2"},
    "S1": {"role": "beam", "section": "80x80x5 SHS", "finish": "hot", "grade": "S355", "path": [[4600, 0, 40], [4600, 3000, 40]],
      "supports": [{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 100, "by": "seat"}]}
  }
}`

// compared lays a patch over the shed and compares.
func compared(t testing.TB, s *engine.Session, patch string) *asbuilt.Comparison {
	t.Helper()
	drawn := fixture.Source(t, "shed.json", shed)
	built, problems := engine.Patched(drawn, read.Source{Name: "built.json", Text: []byte(patch)})
	require.Empty(t, problems)
	c, err := changes.Compare(context.Background(), s, drawn, built, engine.Options{Today: "2026-05-01"})
	require.NoError(t, err)
	return c
}

// found is a finding of a rule on a member, or nil.
func found(c *asbuilt.Comparison, rule, mark string) *finding.Finding {
	for i := range c.Result.Findings {
		if f := &c.Result.Findings[i]; f.Rule == rule && f.Member == mark {
			return f
		}
	}
	return nil
}

// The expected rule and severity of each row are those of the rulebook's pack on changes.
func TestEveryKindOfChangeIsJudged(t *testing.T) {
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	for _, row := range []struct {
		name, patch, mark, rule string
		severity                finding.Severity
		says                    string
		line                    int // of the patch
	}{
		{"a better grade is no worse by calculation", `{"members": {"J1": {"grade": "C24"}}}`, "J1", "changes/no-worse", finding.Note, "the engineer to confirm", 1},
		{"closer centres are no worse", `{"members": {"J1": {"centres": 400, "repeat": {"count": 10, "step": [400, 0, 0]}}}}`, "J1", "changes/no-worse", finding.Note, "centres were 600 mm and are 400 mm. No worse", 1},
		{"a deeper joist is no worse", `{"members": {"J1": {"section": "50x175"}}}`, "J1", "changes/no-worse", finding.Note, "depth", 1},
		{"a thinner joist is weaker", "{\"members\": {\n\"J1\": {\"section\": \"50x125\"}}}", "J1", "changes/weaker", finding.Stop, "Worse: depth", 2},
		{"a lower grade is weaker", `{"members": {"B1": {"grade": "C16"}}}`, "B1", "changes/weaker", finding.Stop, "Worse: grade", 1},
		{"a ply that is left out is weaker", `{"members": {"B1": {"section": "47x195"}}}`, "B1", "changes/weaker", finding.Stop, "Worse: plies", 1},
		{"wider centres are weaker", `{"members": {"J1": {"centres": 1200, "repeat": {"count": 4, "step": [1200, 0, 0]}}}}`, "J1", "changes/weaker", finding.Stop, "Worse: centres", 1},
		{"a piece of a run that is left out is weaker", `{"members": {"J1": {"repeat": {"count": 6}}}}`, "J1", "changes/weaker", finding.Stop, "Worse: pieces", 1},
		{"treatment that is left out is weaker", `{"members": {"B1": {"treated": null}}}`, "B1", "changes/weaker", finding.Stop, "Worse: treatment", 1},
		{"and so is one that is said to be none", `{"members": {"B1": {"treated": "none"}}}`, "B1", "changes/weaker", finding.Stop, "Worse: treatment", 1},
		{"a wetter place is weaker", `{"members": {"B1": {"service_class": 2}}}`, "B1", "changes/weaker", finding.Stop, "service class was 1 and is 2. Worse: service class", 1},
		{"deeper but thinner is for the engineer", `{"members": {"J1": {"section": "38x175"}}}`, "J1", "changes/some-better-some-worse", finding.Ask, "Worse: width. Better: depth. It is 1.03 times as strong and 1.21 times as stiff as drawn", 1},
		{"a better grade at wider centres is for the engineer", `{"members": {"J1": {"grade": "C24", "centres": 700, "repeat": {"count": 6, "step": [720, 0, 0]}}}}`, "J1", "changes/some-better-some-worse", finding.Ask, "grade was C16 and is C24; centres were 600 mm and are 700 mm. Worse: centres. Better: grade. It is 1.29 times as strong", 1},
		{"what cannot be ranked is for the engineer", `{"members": {"B1": {"loads": [{"action": "dead", "point": 5, "at": 1500}]}}}`, "B1", "changes/some-better-some-worse", finding.Ask, "loads", 1},
		{"laminated for solid is another material", `{"members": {"B1": {"section": "90x195", "grade": "GL24h"}}}`, "B1", "changes/swapped", finding.Ask, "another material", 1},
		{"steel for timber is another material", `{"members": {"B1": {"section": "152x89x16 UB", "grade": "S275"}}}`, "B1", "changes/swapped", finding.Ask, "grade was C24 and is S275. That is another material", 1},
		{"hardwood for softwood is another species", `{"members": {"B1": {"grade": "D30"}}}`, "B1", "changes/swapped", finding.Ask, "D30", 1},
		{"old timber in place of new", `{"members": {"B1": {"phase": "existing", "condition": "unverified"}}}`, "B1", "changes/unverified-for-new", finding.Stop, "nobody has vouched for", 1},
		{"a member that is null is missing", "{\"members\": {\n\n\"B1\": null}}", "B1", "changes/missing", finding.Stop, "not built", 3},
		{"a member that is removed is missing", `{"members": {"B1": {"phase": "removed"}}}`, "B1", "changes/missing", finding.Stop, "not built", 1},
		{"a member that was not drawn is extra", "{\"members\": {\n\"B2\": {\"role\": \"beam\", \"section\": \"47x195\", \"grade\": \"C24\", \"path\": [[4800, 0, 97.5], [4800, 3000, 97.5]], \"supports\": [{\"on\": \"W1\"}, {\"on\": \"W2\"}], \"loads\": [{\"action\": \"dead\", \"point\": 2, \"at\": 1000}]}}}", "B2", "changes/extra", finding.Ask, "It adds to what carries it: 2.", 2},
		{"a support that moves a little is for the engineer", `{"members": {"B1": {"path": [[4260, 0, 97.5], [4260, 3000, 97.5]]}}}`, "B1", "changes/support-moved", finding.Ask, "60 mm", 1},
		{"a support that moves far stops the work", `{"members": {"B1": {"path": [[4350, 0, 97.5], [4350, 3000, 97.5]]}}}`, "B1", "changes/support-moved", finding.Stop, "150 mm", 1},
		{"a level that differs is for the engineer", `{"members": {"B1": {"path": [[4200, 0, 120], [4200, 3000, 120]]}}}`, "B1", "changes/some-better-some-worse", finding.Ask, "level is higher or lower than drawn", 1},
		{"a bearing that is a little shorter is for the engineer", `{"members": {"B1": {"supports": [{"on": "W1", "bearing": 95, "by": "seat", "holds": "horizontal", "seat": {"kind": "padstone", "size": "215x100x100"}}, {"on": "W2", "bearing": 100, "by": "seat"}]}}}`, "B1", "changes/bearing-shorter", finding.Ask, "5 mm less", 1},
		{"a bearing that is far shorter stops the work", `{"members": {"B1": {"supports": [{"on": "W1", "bearing": 100, "by": "seat", "holds": "horizontal", "seat": {"kind": "padstone", "size": "215x100x100"}}, {"on": "W2", "bearing": 60, "by": "seat"}]}}}`, "B1", "changes/bearing-shorter", finding.Stop, "40 mm less", 1},
		{"a seat that is left out stops the work", `{"members": {"B1": {"supports": [{"on": "W1", "bearing": 100, "by": "seat", "holds": "horizontal"}, {"on": "W2", "bearing": 100, "by": "seat"}]}}}`, "B1", "changes/left-out", finding.Stop, "the seat that was drawn (padstone", 1},
		{"a plate for a padstone is for the engineer", `{"members": {"B1": {"supports": [{"on": "W1", "bearing": 100, "by": "seat", "holds": "horizontal", "seat": {"kind": "plate", "size": "215x100x10"}}, {"on": "W2", "bearing": 100, "by": "seat"}]}}}`, "B1", "changes/held-otherwise", finding.Ask, "the seat is plate", 1},
		{"a support that is left out stops the work", `{"members": {"B1": {"supports": [{"on": "W1", "bearing": 100, "by": "seat", "holds": "horizontal", "seat": {"kind": "padstone", "size": "215x100x100"}}]}}}`, "B1", "changes/left-out", finding.Stop, "seat on W2", 1},
		{"nails for a hanger are for the engineer", `{"members": {"J1": {"supports": [{"on": "W1", "bearing": 100, "by": "seat"}, {"on": "W2", "bearing": 100, "by": "nailed"}]}}}`, "J1", "changes/held-otherwise", finding.Ask, "nailed on W2; hanger on W2 was drawn", 1},
		{"a strap that is left out stops the work", `{"members": {"J1": {"straps": [{"kind": "holding down", "to": "W2", "centres": 1800}]}}}`, "J1", "changes/left-out", finding.Stop, "lateral strap to W1", 1},
		{"straps further apart are for the engineer", `{"members": {"J1": {"straps": [{"kind": "lateral", "to": "W1", "centres": 2000, "size": "30x5"}, {"kind": "holding down", "to": "W2", "centres": 2400}]}}}`, "J1", "changes/held-otherwise", finding.Ask, "2400 mm", 1},
		{"an edge that is no longer held stops the work", `{"members": {"J1": {"restraint": null}}}`, "J1", "changes/left-out", finding.Stop, "top edge held along its length", 1},
		{"a new notch stops the work", `{"members": {"J1": {"notches": [{"at": 600, "depth": 25, "face": "top"}]}}}`, "J1", "changes/notch-deeper", finding.Stop, "25 mm deeper", 1},
		{"a hole that was not drawn is a cut", `{"members": {"J1": {"holes": [{"at": 900, "diameter": 8}]}}}`, "J1", "changes/notch-deeper", finding.Ask, "is drilled 8 mm wider", 1},
		{"more load on an old wall is for the engineer", `{"members": {"B1": {"loads": [{"action": "dead", "point": 12, "at": 1500}]}}}`, "W2", "changes/more-load", finding.Ask, "times as much", 0},
		{"a heavier area is for the engineer", `{"areas": {"floor": {"dead": 0.9}}}`, "area floor", "changes/some-better-some-worse", finding.Ask, "area floor: dead was 0.5 kN/m2 and is 0.9 kN/m2. Nobody can say whether better or worse: dead", 1},
		{"another role is for the engineer", `{"members": {"B1": {"role": "trimmer"}}}`, "B1", "changes/some-better-some-worse", finding.Ask, "role was beam and is trimmer", 1},
		{"nobody knows the strength of old timber", `{"members": {"B1": {"phase": "existing", "condition": "unverified"}}}`, "B1", "changes/some-better-some-worse", finding.Ask, "condition was not stated and is unverified; phase was new and is existing. Worse: condition. Nobody can say whether better or worse: phase. It is not known how strong and stiff that makes it: nobody has vouched for the old timber", 1},
		{"nor is that of damp timber what it was", `{"members": {"B1": {"service_class": 3}}}`, "B1", "changes/weaker", finding.Stop, "service class was 1 and is 3. Worse: service class. It is not known how strong and stiff that makes it: what damp takes off it", 1},
		{"a hollow section formed cold is weaker than one formed hot", `{"members": {"S1": {"finish": "cold"}}}`, "S1", "changes/weaker", finding.Stop, "finish was hot and is cold. Worse: finish", 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := compared(t, s, row.patch)
			f := found(c, row.rule, row.mark)
			require.NotNil(t, f, "findings: %v", told(c))
			assert.Equal(t, finding.NotMet, f.Outcome)
			assert.Equal(t, row.severity, f.Severity)
			assert.Contains(t, f.Message, row.says)
			if row.line > 0 {
				assert.Equal(t, "built.json", f.Place.File)
				assert.Equal(t, row.line, f.Place.Line)
			}
		})
	}
}

func told(c *asbuilt.Comparison) []string {
	var out []string
	for i := range c.Result.Findings {
		f := &c.Result.Findings[i]
		out = append(out, strings.Join([]string{f.Member, f.Rule, string(f.Outcome), f.Message}, " | "))
	}
	return out
}

// 150x50 at 600 against 125x50 at 400, both C16: strength of a metre 125^2/150^2 x 600/400 = 1.042, stiffness
// 125^3/150^3 x 600/400 = 0.868. The trade knows it as 'as strong, an eighth softer' (common practice, no source).
func TestCloserAndShallowerIsAsStrongAndSofter(t *testing.T) {
	c := compared(t, fixture.Served(t, "GB-ENG", eurocode.New()), `{"members": {"J1": {"section": "50x125", "centres": 400, "repeat": {"count": 10, "step": [400, 0, 0]}}}}`)
	ch := changeOf(t, c, asbuilt.Properties, "J1")
	assert.InDelta(t, 1.04, ch.Strength.Value, 0.02)
	assert.InDelta(t, 0.87, ch.Stiffness.Value, 0.02)
	assert.Equal(t, asbuilt.Ask, ch.Verdict)
}

// C24 against C16: f_m,k 24 and 16, E_0,mean 11000 and 8000 N/mm2 (EN 338:2016 table 1).
func TestStrengthOfAnotherGradeComesFromTheRegion(t *testing.T) {
	c := compared(t, fixture.Served(t, "GB-ENG", eurocode.New()), `{"members": {"J1": {"grade": "C24"}}}`)
	ch := changeOf(t, c, asbuilt.Properties, "J1")
	assert.InDelta(t, 24.0/16, ch.Strength.Value, 1e-6)
	assert.InDelta(t, 11000.0/8000, ch.Stiffness.Value, 1e-6)
}

func changeOf(t *testing.T, c *asbuilt.Comparison, what asbuilt.What, mark string) *asbuilt.Change {
	t.Helper()
	for i := range c.Changes {
		if c.Changes[i].What == what && c.Changes[i].Mark == mark {
			return &c.Changes[i]
		}
	}
	require.Fail(t, "no such change", "%s of %s", what, mark)
	return nil
}

// Nobody knows that it is another species: unknown is neither worse nor better.
func TestAGradeThatIsNotStatedAnyMoreIsUnchecked(t *testing.T) {
	c := compared(t, fixture.Served(t, "GB-ENG", eurocode.New()), `{"members": {"J1": {"grade": null}}}`)
	assert.Nil(t, found(c, "changes/swapped", "J1"))
	f := found(c, "changes/weaker", "J1")
	require.NotNil(t, f)
	assert.Equal(t, finding.Unchecked, f.Outcome)
	assert.Equal(t, "the grade is not stated as built", f.Reason)
	assert.Equal(t, asbuilt.Unchecked, changeOf(t, c, asbuilt.Properties, "J1").Verdict)
}

func TestWithoutARegionAnotherGradeIsUnchecked(t *testing.T) {
	s := engine.NewSession(nil, nil)
	defer s.Close()
	c := compared(t, s, `{"members": {"J1": {"grade": "C24"}}}`)
	f := found(c, "changes/no-worse", "J1")
	require.NotNil(t, f)
	assert.Equal(t, finding.Unchecked, f.Outcome)
	assert.Contains(t, f.Reason, "without a region")
	assert.Equal(t, asbuilt.Unchecked, changeOf(t, c, asbuilt.Properties, "J1").Verdict)
	assert.False(t, c.Result.Summary.Complete, "unknown is no pass")
	assert.Equal(t, 3, c.Result.Status(finding.Stop))
}

// A point load of 4 kN at mid-span becomes one of 10: 3 kN more at either end, all the way to the ground.
func TestKnockOnIsTheLeverByHand(t *testing.T) {
	c := compared(t, fixture.Served(t, "GB-ENG", eurocode.New()), `{"members": {"B1": {"loads": [{"action": "dead", "point": 10, "at": 1500}]}}}`)
	require.Len(t, c.KnockOn.Reactions, 2)
	for i, on := range []string{"W1", "W2"} {
		r := c.KnockOn.Reactions[i]
		assert.Equal(t, "B1", r.Mark)
		assert.Equal(t, on, r.On)
		assert.InDelta(t, 3000, r.Built.Value-r.Drawn.Value, 1e-6)
	}
	require.Len(t, c.KnockOn.Ground, 2)
	for _, g := range c.KnockOn.Ground {
		assert.InDelta(t, 3000, g.Built.Value-g.Drawn.Value, 1e-6)
	}
	// W2 stood before the work with nothing on it: 2 kN of the drawn point load and its share of floor and beam came on.
	require.Len(t, c.KnockOn.Phase, 1)
	p := c.KnockOn.Phase[0]
	assert.Equal(t, "W2", p.Mark)
	assert.InDelta(t, 0, p.Before.Value, 1e-6)
	assert.InDelta(t, 3000, p.Built.Value-p.Drawn.Value, 1e-6)
	assert.NotEmpty(t, c.KnockOn.Rules, "the beam is bent too far")
}

func TestWhatIsTheSameDiffersInNothing(t *testing.T) {
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	drawn := fixture.Demo(t)
	for _, row := range []struct {
		name  string
		units model.Units
	}{{"written anew", model.Metric}, {"written in US units", model.US}} {
		t.Run(row.name, func(t *testing.T) {
			doc := *drawn.Document
			doc.Units = row.units
			c, err := changes.Compare(context.Background(), s, drawn, fixture.Source(t, "again.json", string(read.Write(&doc))), engine.Options{})
			require.NoError(t, err)
			assert.Empty(t, c.Changes)
			assert.Empty(t, c.Result.Findings)
			assert.Empty(t, c.KnockOn.Reactions)
			assert.Empty(t, c.KnockOn.Ground)
			assert.Empty(t, c.KnockOn.Rules)
			assert.Equal(t, 0, c.Result.Status(finding.Note))
		})
	}
}

func TestEvidenceAndSignOffsOfChanges(t *testing.T) {
	s := fixture.Served(t, "GB-ENG", eurocode.New())
	patch := `{"members": {"J1": {"section": "50x125", "seen": {"by": "site agent", "date": "2026-04-02", "photo": "P-7"}}}}`
	c := compared(t, s, patch)
	ch := changeOf(t, c, asbuilt.Properties, "J1")
	assert.Equal(t, "seen by site agent, 2026-04-02, photograph P-7", ch.Evidence)
	unnamed := compared(t, s, strings.Replace(patch, `"by": "site agent", `, "", 1))
	assert.Equal(t, "2026-04-02, photograph P-7", changeOf(t, unnamed, asbuilt.Properties, "J1").Evidence)
	f := found(c, "changes/weaker", "J1")
	require.NotNil(t, f)

	drawn := fixture.Source(t, "shed.json", shed)
	built, problems := engine.Patched(drawn, read.Source{Name: "built.json", Text: []byte(patch)})
	require.Empty(t, problems)
	signed := finding.Signoff{Rule: f.Rule, Mark: "J1", Who: "engineer", Reason: "checked by hand", Digest: finding.Digest(f)}
	again, err := changes.Compare(context.Background(), s, drawn, built, engine.Options{Signed: []finding.Signoff{signed}, Today: "2026-05-01"})
	require.NoError(t, err)
	accepted := found(again, "changes/weaker", "J1")
	require.NotNil(t, accepted.Signoff)
	assert.Empty(t, accepted.Signoff.Lapsed)
}

// Each change of the demo's patch is judged as the rulebook says.
func TestDemoAsBuilt(t *testing.T) {
	drawn := fixture.Demo(t)
	built, problems := engine.Patched(drawn, read.Source{Name: "quillmere-built.json", Text: []byte(fixture.Text(t, "quillmere-built.json"))})
	require.Empty(t, problems)
	c, err := changes.Compare(context.Background(), fixture.Served(t, "GB-ENG", eurocode.New()), drawn, built, engine.Options{})
	require.NoError(t, err)
	for _, row := range []struct {
		mark    string
		what    asbuilt.What
		verdict asbuilt.Verdict
	}{
		{"RN", asbuilt.Properties, asbuilt.Note},  // a higher grade
		{"RW", asbuilt.Properties, asbuilt.Note},  // closer centres
		{"RB1", asbuilt.Properties, asbuilt.Stop}, // a shallower ridge beam
		{"H2", asbuilt.Properties, asbuilt.Ask},   // deeper and thinner
		{"GJ3", asbuilt.Restraint, asbuilt.Stop},  // a strap left out
		{"P3", asbuilt.Support, asbuilt.Stop},     // a post moved by 150 mm
		{"RB2", asbuilt.Support, asbuilt.Stop},    // and what stands on it with it
		{"GT1", asbuilt.Bearing, asbuilt.Stop},
		{"GT1", asbuilt.Notch, asbuilt.Stop},
		{"J2E5", asbuilt.Missing, asbuilt.Stop},
		{"TB1", asbuilt.Extra, asbuilt.Ask},
	} {
		ch := changeOf(t, c, row.what, row.mark)
		assert.Equal(t, row.verdict, ch.Verdict, "%s of %s", row.what, row.mark)
		assert.NotEmpty(t, ch.Evidence, row.mark)
		assert.Equal(t, "quillmere-built.json", ch.Place.File, row.mark)
	}
	assert.InDelta(t, 150, changeOf(t, c, asbuilt.Support, "P3").Moved.Value, 1e-6)
	assert.Equal(t, 1, c.Result.Status(finding.Stop))
	ids := map[string]bool{}
	for i := range c.Result.Findings {
		id := c.Result.Findings[i].ID
		assert.False(t, ids[id], "two findings are called %s", id)
		ids[id] = true
	}
}

// A whole model of what was built says the same as a patch does.
func TestAWholeModelIsComparedLikeAPatch(t *testing.T) {
	drawn := fixture.Demo(t)
	patched, problems := engine.Patched(drawn, read.Source{Name: "built.json", Text: []byte(fixture.Text(t, "quillmere-built.json"))})
	require.Empty(t, problems)
	whole := read.Write(patched.Document)
	doc, problems := read.Document(whole, "built.json")
	require.Empty(t, problems)
	session := fixture.Served(t, "GB-ENG", eurocode.New())
	var lists [2][]asbuilt.Change
	for i, built := range []*engine.Source{patched, {Document: doc, Text: whole, File: "built.json"}} {
		c, err := changes.Compare(context.Background(), session, drawn, built, engine.Options{})
		require.NoError(t, err)
		for _, ch := range c.Changes {
			ch.Place = finding.Place{}
			lists[i] = append(lists[i], ch)
		}
	}
	assert.Equal(t, lists[0], lists[1])
}
