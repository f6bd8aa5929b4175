package kit

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/rules/vocabulary"
)

// checks is the kit, in the order in which it runs.
var checks = []check{
	{name: "it starts and describes itself by the contract", first: true, run: describes},
	{name: "two processes of it describe themselves alike", early: true, run: describesAlike},
	{name: "it prepares a site by the contract, and alike each time", early: true, run: prepares},
	{name: "it knows the grades that it calls stock", run: knowsStock},
	{name: "it says why it does not know a grade", run: unknownInPreparation},
	{name: "a frame with nothing but permanent load has its combination", run: permanentOnly},
	{name: "it answers for every piece and every fact of a batch", run: answersAll},
	{name: "it answers the same question alike", run: deterministic},
	{name: "the order of pieces and their cutting into batches change no answer", run: orderIndependent},
	{name: "how many pieces a row stands for changes no answer", run: multiplicityNeutral},
	{name: "more load never lowers a ratio", run: moreLoad},
	{name: "more load beside a bearing on a wall never lowers a ratio", run: moreBeside},
	{name: "no fact but those that it names depends on the load beside, and those not on stations", run: namesBeside},
	{name: "an unknown section or grade gives no value where it feeds one", run: unknownInDerive},
	{name: "it lists its working when asked", run: showsWorking},
	{name: "it answers an empty batch", run: emptyBatch},
	{name: "it answers a batch near the largest message", run: largeBatch},
	{name: "it answers several runs at once", run: concurrent},
	{name: "it lets go of a run that is given up", run: cancels},
	{name: "it refuses malformed batches and lives on", run: survivesGarbage},
	{name: "more load and wider centres never lengthen a span", run: spanMonotone},
	{name: "it says why there is no span", run: spanReason},
}

func describes(ctx context.Context, s *subject) (err error) {
	s.description, err = s.client.Describe(ctx)
	return err
}

func describesAlike(ctx context.Context, s *subject) error {
	other := s.open()
	defer other.Close()
	d, err := other.Describe(ctx)
	if err != nil {
		return err
	}
	if !reflect.DeepEqual(d, s.description) {
		return errors.New("the second description differs from the first")
	}
	return nil
}

func prepares(ctx context.Context, s *subject) error {
	if err := s.stock(); err != nil {
		return err
	}
	first, err := s.client.Prepare(ctx, s.site)
	if err != nil {
		return err
	}
	second, err := s.client.Prepare(ctx, s.site)
	if err != nil {
		return err
	}
	if !reflect.DeepEqual(first, second) {
		return errors.New("the second preparation differs from the first")
	}
	s.preparation = first
	return nil
}

func knowsStock(_ context.Context, s *subject) error {
	for i, g := range s.preparation.Grades {
		if int32(i) != s.unknown && (g.Material == "" || g.E == 0 || g.Density == 0) {
			return fmt.Errorf("%s is stock, but %s", s.site.Grades[i].Name, g.Reason)
		}
	}
	return nil
}

func unknownInPreparation(_ context.Context, s *subject) error {
	g := s.preparation.Grades[s.unknown]
	if g.Material != "" || g.E != 0 || g.G != 0 || g.Density != 0 {
		return fmt.Errorf("it gives %q the material %q with E = %v", unknownGrade, g.Material, g.E)
	}
	return nil // that there is a reason, the host has checked
}

// permanentOnly looks for combinations of permanent cases alone: one to judge strength with, one to judge use with.
func permanentOnly(_ context.Context, s *subject) error {
	strength, use := false, false
	for _, k := range s.preparation.Combinations {
		permanent := false
		variable := k.Moving != 0
		for i, factor := range k.Factors {
			permanent = permanent || factor != 0 && s.preparation.Cases[i].Permanent
			variable = variable || factor != 0 && !s.preparation.Cases[i].Permanent
		}
		if permanent && !variable {
			strength = strength || k.State == region.Strength || k.State == region.Allowable
			use = use || k.State == region.Characteristic || k.State == region.QuasiPermanent || k.State == region.Allowable
		}
	}
	switch {
	case !strength:
		return errors.New("no combination of permanent load alone judges strength")
	case !use:
		return errors.New("no combination of permanent load alone judges use")
	}
	return nil
}

func answersAll(ctx context.Context, s *subject) error {
	d, err := s.judge(ctx, s.beams(60, 0.2), nil)
	if err != nil {
		return err
	}
	if !slices.Contains(d.Reason, 0) {
		return errors.New("not one value for beams of its own stock: " + d.Reasons[d.Reason[0]])
	}
	return nil
}

func deterministic(ctx context.Context, s *subject) error {
	beams := s.beams(40, 0.3)
	first, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	second, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	return s.alike(first, second, nil)
}

func orderIndependent(ctx context.Context, s *subject) error {
	beams := s.beams(40, 0.3)
	first, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	ids := make([]int32, len(beams))
	for i := range ids {
		ids[i] = int32(len(beams) - 1 - i)
	}
	slices.Reverse(beams)
	reversed, err := s.judge(ctx, beams, ids)
	if err != nil {
		return err
	}
	if err := s.alike(first, reversed, ids); err != nil {
		return err
	}
	halves, err := s.derive(ctx, Batch(s.site, s.preparation, beams[:13], ids[:13]), Batch(s.site, s.preparation, beams[13:], ids[13:]))
	if err != nil {
		return err
	}
	return errors.Join(s.alike(first, halves[0], ids[:13]), s.alike(first, halves[1], ids[13:]))
}

func multiplicityNeutral(ctx context.Context, s *subject) error {
	beams := s.beams(20, 0.3)
	first, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	for i := range beams {
		beams[i].Multiplicity = int32(2 + i)
	}
	second, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	return s.alike(first, second, nil)
}

func moreLoad(ctx context.Context, s *subject) error {
	return s.rising(ctx, "the load", func(load float64) []Beam { return s.beams(60, load) })
}

func moreBeside(ctx context.Context, s *subject) error {
	return s.rising(ctx, "the load beside it on the wall", func(load float64) []Beam {
		beams := s.beams(60, 2)
		for i := range beams {
			beams[i].Beside = load
		}
		return beams
	})
}

// namesBeside asks about beams on walls with more load beside them, and then without their stations.
func namesBeside(ctx context.Context, s *subject) error {
	if len(s.description.Beside) == 0 {
		return nothing("it names none, so that any may")
	}
	beams := s.beams(60, 2)
	for i := range beams {
		beams[i].Beside = 0.5
	}
	first, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	for i := range beams {
		beams[i].Beside = 20
	}
	more, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	if err := s.same(first, more, nil, func(name string) bool { return !slices.Contains(s.description.Beside, name) }); err != nil {
		return fmt.Errorf("with more load beside it on the wall %w", err)
	}
	bare := Batch(s.site, s.preparation, beams, nil)
	bare.Stations = region.Stations{}
	clear(bare.Pieces.StationStart)
	answers, err := s.derive(ctx, bare)
	if err != nil {
		return err
	}
	if err := s.same(more, answers[0], nil, func(name string) bool { return slices.Contains(s.description.Beside, name) }); err != nil {
		return fmt.Errorf("without stations %w", err)
	}
	return nil
}

// rising takes every plain number for a ratio of demand over capacity, as the contract does.
func (s *subject) rising(ctx context.Context, what string, beams func(load float64) []Beam) error {
	var last *region.Derived
	for _, load := range []float64{0.1, 0.2, 0.5, 2, 20} {
		d, err := s.judge(ctx, beams(load), nil)
		if err != nil {
			return err
		}
		for k := range d.Value {
			if last == nil || !s.ratio(k) || d.Reason[k] != 0 || last.Reason[k] != 0 {
				continue
			}
			if d.Value[k] < last.Value[k]*(1-1e-9) {
				return fmt.Errorf("%s falls from %v to %v as %s rises to %v N/mm", s.fact(k).Name, last.Value[k], d.Value[k], what, load)
			}
		}
		last = d
	}
	return nil
}

func unknownInDerive(ctx context.Context, s *subject) error {
	p := s.known[0]
	cases := []struct {
		what    string
		key     string
		section int32
		grade   int32
	}{{"the section is not stated", "section", -1, p.grade}, {"the grade is not stated", "grade", p.section, -1}, {"the grade is unknown", "grade", p.section, s.unknown}}
	var beams []Beam
	for _, c := range cases {
		beams = append(beams, Beam{Section: c.section, Grade: c.grade, Span: 3000, Load: 0.2, Multiplicity: 1})
	}
	d, err := s.judge(ctx, beams, nil)
	if err != nil {
		return err
	}
	for i, c := range cases {
		fed := false
		for j, f := range s.description.Facts {
			if !slices.Contains(f.Keys, c.key) {
				continue
			}
			fed = true
			if k := i*len(s.description.Facts) + j; d.Reason[k] == 0 {
				return fmt.Errorf("%s is %v though %s", f.Name, d.Value[k], c.what)
			}
		}
		if !fed {
			return fmt.Errorf("no fact names %q among the keys that feed it", c.key)
		}
	}
	return nil
}

func showsWorking(ctx context.Context, s *subject) error {
	b := Batch(s.site, s.preparation, s.beams(3, 0.3), nil)
	b.Working = true
	answers, err := s.derive(ctx, b)
	if err != nil {
		return err
	}
	if len(answers[0].Working) == 0 {
		return errors.New("it lists no step")
	}
	return nil
}

func emptyBatch(ctx context.Context, s *subject) error {
	_, err := s.judge(ctx, nil, nil)
	return err
}

func largeBatch(ctx context.Context, s *subject) error {
	one := Batch(s.site, s.preparation, s.beams(100, 0.3), nil).Bytes() / 100
	n := min(region.MaxMessage*15/16/one, 50_000)
	if answer := n * len(s.description.Facts) * 24; answer > region.MaxMessage {
		n = n * region.MaxMessage / answer // the answer must cross too
	}
	_, err := s.judge(ctx, s.beams(n, 0.3), nil)
	return err
}

func concurrent(ctx context.Context, s *subject) error {
	want, err := s.judge(ctx, s.beams(50, 0.3), nil)
	if err != nil {
		return err
	}
	const runs = 4
	problems := make(chan error, runs)
	for range runs {
		go func() {
			got, err := s.judge(ctx, s.beams(50, 0.3), nil)
			if err == nil {
				err = s.alike(want, got, nil)
			}
			problems <- err
		}()
	}
	var all []error
	for range runs {
		all = append(all, <-problems)
	}
	return errors.Join(all...)
}

// cancels gives up a run while batches are owed, and then asks for something small, which must not wait for them.
func cancels(ctx context.Context, s *subject) error {
	given, giveUp := context.WithCancel(ctx)
	defer giveUp()
	err := s.client.Derive(given, s.site, s.preparation, func(yield func(*region.Batch) bool) {
		for range 3 {
			if !yield(Batch(s.site, s.preparation, s.beams(500, 0.3), nil)) {
				return
			}
		}
		giveUp()
	}, func(*region.Batch, *region.Derived) error { return nil })
	var f *host.Failure
	if err != nil && (!errors.As(err, &f) || f.Cause != host.Cancelled) {
		return err
	}
	_, err = s.judge(ctx, s.beams(3, 0.3), nil)
	return err
}

func survivesGarbage(ctx context.Context, s *subject) error {
	for _, g := range garbage {
		b := Batch(s.site, s.preparation, s.beams(4, 0.3), nil)
		clear(b.Pieces.Alike) // packing looks into rows only to leave out what is alike
		g.spoil(b)
		err := s.client.Provoke(ctx, s.site, s.preparation, b)
		var f *host.Failure
		switch {
		case err == nil:
			return fmt.Errorf("it answers a batch in which %s", g.what)
		case errors.As(err, &f) && (f.Cause == host.Died || f.Cause == host.Slow):
			return fmt.Errorf("a batch in which %s ends it: %w", g.what, err)
		}
	}
	_, err := s.judge(ctx, s.beams(4, 0.3), nil)
	return err
}

// garbage is ways to break a batch that neither packing nor gRPC would notice.
var garbage = []struct {
	what  string
	spoil func(*region.Batch)
}{
	{"a column is too short", func(b *region.Batch) { b.Pieces.Length = b.Pieces.Length[:1] }},
	{"a column of forces is too long", func(b *region.Batch) { b.Stations.M = append(b.Stations.M, 1) }},
	{"a start lies beyond the rows", func(b *region.Batch) { b.Pieces.StationStart[2] = 1 << 30 }},
	{"starts fall", func(b *region.Batch) { b.Pieces.ContactStart[1] = -5 }},
	{"a word is not in the dictionary", func(b *region.Batch) { b.Pieces.Role[0] = 99 }},
	{"a section is not in the site", func(b *region.Batch) { b.Pieces.Section[0] = 1 << 20 }},
	{"a grade is not in the site", func(b *region.Batch) { b.Pieces.Grade[0] = -7 }},
	{"a moment is not a number", func(b *region.Batch) { b.Stations.M[3] = math.NaN() }},
	{"a reaction is infinite", func(b *region.Batch) { b.Contacts.Down[0] = math.Inf(1) }},
	{"a combination is alike to itself", func(b *region.Batch) { b.Pieces.Alike[0] = 1 }},
	{"an id is given twice", func(b *region.Batch) { b.Pieces.ID[1] = b.Pieces.ID[0] }},
}

// alike compares answers by piece: ids[i] is the row in first that row i of second belongs to; nil: the same row.
func (s *subject) alike(first, second *region.Derived, ids []int32) error {
	return s.same(first, second, ids, func(string) bool { return true })
}

// same is alike of the facts that are asked for.
func (s *subject) same(first, second *region.Derived, ids []int32, asked func(fact string) bool) error {
	facts := len(s.description.Facts)
	for i := range second.ID {
		row := i
		if ids != nil {
			row = int(ids[i])
		}
		for j := range facts {
			a, b := row*facts+j, i*facts+j
			if !asked(s.fact(b).Name) {
				continue
			}
			reasonA, reasonB := first.Reasons[first.Reason[a]], second.Reasons[second.Reason[b]]
			if reasonA != reasonB || reasonA == "" && first.Value[a] != second.Value[b] {
				return fmt.Errorf("%s of the same piece is %v %q and then %v %q", s.fact(b).Name, first.Value[a], reasonA, second.Value[b], reasonB)
			}
			if first.Combination[a] != second.Combination[b] || first.Contact[a] != second.Contact[b] || first.At[a] != second.At[b] {
				return fmt.Errorf("what governs %s of the same piece differs", s.fact(b).Name)
			}
		}
	}
	return nil
}

// fact is the fact of an entry of an answer.
func (s *subject) fact(entry int) *vocabulary.Fact {
	return &s.description.Facts[entry%len(s.description.Facts)]
}

// ratio says whether an entry is a plain number.
func (s *subject) ratio(entry int) bool {
	f := s.fact(entry)
	return f.Type == vocabulary.Number && f.Dimension == (vocabulary.Fact{}).Dimension
}
