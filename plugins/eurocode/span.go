package eurocode

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode/ec0"
	"example.com/scantling/plugins/eurocode/ec1"
	"example.com/scantling/plugins/eurocode/ec5"
	"example.com/scantling/plugins/eurocode/national"
	"example.com/scantling/plugins/eurocode/working"
	"example.com/scantling/plugins/region"
)

// use is a kind of simple member that spans are given for: in a run, its top edge held by boards or battens.
type use struct {
	service  int    // class, where the request states none
	storage  bool   // what it carries is light storage
	vibrates bool   // people live on it
	person   string // the kind of area by which a person may stand on it alone
	note     string
}

var uses = map[string]use{
	"floor joist":     {service: 1, vibrates: true, note: "the top edge is held by the deck along its length"},
	"ceiling joist":   {service: 1, storage: true, person: "ceiling", note: "the edge in compression is held along its length"},
	"rafter":          {service: 2, person: "roof", note: "worked as if level: take the span and the loads on plan; the top edge is held by battens along its length"},
	"flat roof joist": {service: 2, person: "roof", note: "the top edge is held by the deck along its length"},
}

func usesOfSpans() []string { return slices.Sorted(maps.Keys(uses)) }

// Span is the longest span between two supports that every check allows under even loads.
func (eurocode) Span(_ context.Context, r *region.SpanRequest) (*region.Span, error) {
	s, absent := newSpanning(r)
	if absent != "" {
		return &region.Span{Reason: string(absent)}, nil
	}
	return s.longest(), nil
}

// spanning is a request in the calculators' terms.
type spanning struct {
	use          use
	piece        ec5.Piece
	choices      *national.Choices
	centres      float64
	plastered    bool
	limit        float64
	cases        []ec0.Case
	loads        []float64 // N/mm, by case
	combinations []ec0.Combination
	person       float64 // N
	deck         float64 // mm
	notes        []string
}

func newSpanning(r *region.SpanRequest) (s *spanning, absent working.Absence) {
	choices, absent := choicesFor(r.Code)
	if absent != "" {
		return nil, absent
	}
	u, ok := uses[r.Use]
	g := known(&r.Grade)
	switch {
	case !ok:
		return nil, working.Absence(fmt.Sprintf("the region gives no spans for %.40q; it gives them for %v", r.Use, usesOfSpans()))
	case r.Edition != "":
		return nil, "the region has one edition of its design values: leave the edition out"
	case g.absent != "":
		return nil, g.absent
	case g.timber == nil || r.Section.Shape != model.Rectangle:
		return nil, "spans are given for rectangles of timber only"
	case !(r.Centres > 0) || math.IsInf(r.Centres, 1):
		return nil, "the centres are not stated"
	case g.timber.E0Mean == 0 || g.timber.RhoMean == 0:
		return nil, working.Absence("grade " + g.name + " states no E or no density: add it under grades")
	}
	s = &spanning{use: u, choices: choices, centres: r.Centres, plastered: r.Brittle, limit: r.Limit, notes: []string{u.note, "the member's own weight is added to the loads"}}
	if !r.Brittle {
		s.notes = append(s.notes, "no plaster or plasterboard hangs beneath")
	}
	service := r.Service
	if service == 0 {
		service = u.service
		s.notes = append(s.notes, fmt.Sprintf("service class %d", service))
	}
	s.piece = ec5.Piece{Grade: g.timber, Choices: &choices.Timber, Breadth: r.Section.Width, Depth: r.Section.Depth, Plies: r.Section.Plies,
		ServiceClass: service, Sharing: r.Centres <= widestShared}
	if absent := s.load(r); absent != "" {
		return nil, absent
	}
	s.stand()
	return s, ""
}

// widestShared is the widest spacing over which a deck or battens pass load from one member to the next, mm: 610 mm, EN 1995-1-1
// 6.6 with common practice.
const widestShared = 610

// load turns loads per area into cases and combinations.
func (s *spanning) load(r *region.SpanRequest) working.Absence {
	weight := s.piece.Grade.RhoMean * perMM3 * model.Gravity * r.Section.Area
	s.cases = []ec0.Case{{ID: "dead", Action: ec0.Dead, Duration: national.Permanent}}
	s.loads = []float64{weight}
	for _, load := range r.Loads {
		switch {
		case load.Action == model.Wind:
			return "spans under wind are not given: check the member in its place"
		case !(load.Value >= 0) || math.IsInf(load.Value, 1):
			return "a load must be 0 or more"
		case load.Action == model.Dead:
			s.loads[0] += load.Value * r.Centres
			continue
		}
		class := string(load.Action)
		if load.Action == model.Imposed && s.use.storage {
			class = storage
		}
		duration, absent := s.choices.Durations.Get(class)
		if absent != "" {
			return absent
		}
		s.cases = append(s.cases, ec0.Case{ID: string(load.Action), Action: actionOf[load.Action], Category: "A", Duration: duration})
		s.loads = append(s.loads, load.Value*r.Centres)
	}
	is := func(dead bool) func(region.SpanLoad) bool {
		return func(l region.SpanLoad) bool { return (l.Action == model.Dead) == dead }
	}
	switch {
	case !slices.ContainsFunc(r.Loads, is(true)):
		return "the dead load must be stated, without the member's own weight; 0 where there is none"
	case !slices.ContainsFunc(r.Loads, is(false)):
		return "the imposed load or the snow must be stated, 0 where there is none"
	}
	var absent working.Absence
	s.combinations, absent = ec0.Combine(s.cases, s.choices, ec0.Site{})
	return absent
}

// stand adds what a use brings along: the person on a ceiling joist or a roof, the deck of a floor. A deck shares a person's weight among
// the joists of a floor, so that no joist bears it alone (EN 1991-1-1 6.3.1.2).
func (s *spanning) stand() {
	load, absent := ec1.Load{}, working.Absence("nobody stands on it alone")
	switch s.use.person {
	case "ceiling":
		load, absent = ec1.Ceiling(s.choices, nil)
	case "roof":
		load, absent = ec1.Roof(s.choices, 0, nil)
	}
	if absent == "" {
		s.person = load.Point
		s.notes = append(s.notes, fmt.Sprintf("a person of %.1f kN may stand anywhere in place of the imposed load", load.Point/1e3))
	}
	if s.use.vibrates {
		s.deck = 18
		if s.centres > 450 {
			s.deck = 22
		}
		s.notes = append(s.notes, fmt.Sprintf("vibration with a deck of %.0f mm particle board, no strutting, a floor of any width", s.deck))
	}
}

// limitCheck is one of the checks of a span: how much of what is allowed is used.
type limitCheck struct {
	name string
	run  func(s *spanning, length float64, sheet *working.Sheet) working.Outcome
}

var limitChecks = []limitCheck{
	{"bending", (*spanning).bending},
	{"shear", (*spanning).shear},
	{"deflection at once", (*spanning).instant},
	{"deflection in the end", (*spanning).final},
	{"vibration", (*spanning).vibration},
}

// longest looks for the first span, from short ones up, at which a check fails.
func (s *spanning) longest() *region.Span {
	const shortest, most, step = 100.0, 30000.0, 100.0 // mm
	allowed, failed := 0.0, 0.0
	for length := shortest; length <= most; length += step {
		ratio, _, absent := s.worst(length)
		if absent != "" {
			return &region.Span{Reason: string(absent)}
		}
		if ratio > 1 {
			failed = length
			break
		}
		allowed = length
	}
	switch {
	case failed == 0:
		return &region.Span{Reason: "no check limits the span: state the loads"}
	case allowed == 0:
		return &region.Span{Reason: "the loads are too large for this section at any span"}
	}
	for range 60 {
		middle := (allowed + failed) / 2
		if ratio, _, _ := s.worst(middle); ratio > 1 {
			failed = middle
		} else {
			allowed = middle
		}
	}
	_, governs, _ := s.worst(failed)
	out := &region.Span{Span: allowed, Governs: governs.name, Notes: s.notes}
	var sheet working.Sheet
	governs.run(s, allowed, &sheet)
	for _, step := range sheet.Steps {
		out.Working = append(out.Working, region.Step{Symbol: step.Symbol, Value: step.Value, Unit: step.Unit, Clause: step.Clause})
	}
	return out
}

func (s *spanning) worst(length float64) (ratio float64, governs limitCheck, absent working.Absence) {
	for _, check := range limitChecks {
		outcome := check.run(s, length, nil)
		one, known := outcome.Ratio()
		if !known {
			return 0, governs, outcome.Reason()
		}
		if one >= ratio {
			ratio, governs = one, check
		}
	}
	return ratio, governs, ""
}

// each runs a check under every combination of a state and gives the worst; the person's row comes last.
func (s *spanning) each(state ec0.State, sheet *working.Sheet, check func(line, person float64, duration national.Duration, sheet *working.Sheet) working.Outcome) working.Outcome {
	worst, again := working.Found(0), func(*working.Sheet) {}
	try := func(line, person float64, duration national.Duration) {
		outcome := check(line, person, duration, nil)
		if worst = working.Worst(worst, outcome); worst == outcome {
			again = func(sheet *working.Sheet) { check(line, person, duration, sheet) }
		}
	}
	for i := range s.combinations {
		if row := &s.combinations[i]; row.State == state {
			line := 0.0
			for c, factor := range row.Factors {
				line += factor * s.loads[c]
			}
			try(line, 0, row.Duration)
		}
	}
	if s.person > 0 {
		permanent, variable := 1.0, 1.0
		if state == ec0.Strength { // readFactors has found both for the combinations
			permanent, _ = s.choices.Combinations.GammaGSup.Get()
			variable, _ = s.choices.Combinations.GammaQ.Get()
		}
		if state != ec0.QuasiPermanent {
			try(permanent*s.loads[0], variable*s.person, national.ShortTerm)
		}
	}
	if sheet != nil {
		again(sheet)
	}
	return worst
}

func (s *spanning) bending(length float64, sheet *working.Sheet) working.Outcome {
	return s.each(ec0.Strength, sheet, func(line, person float64, duration national.Duration, sheet *working.Sheet) working.Outcome {
		moment := line*length*length/8 + person*length/4
		sheet.Step("M_y,d", moment, "N mm", "EN 1990 6.4.3.2")
		return s.piece.Bending(&ec5.Bending{Duration: duration, My: moment, Lateral: ec5.Lateral{Full: true}}, sheet)
	})
}

func (s *spanning) shear(length float64, sheet *working.Sheet) working.Outcome {
	return s.each(ec0.Strength, sheet, func(line, person float64, duration national.Duration, sheet *working.Sheet) working.Outcome {
		force := line*length/2 + person // beside a support
		sheet.Step("V_d", force, "N", "EN 1990 6.4.3.2")
		return s.piece.Shear(&ec5.Shear{Duration: duration, Vz: force}, sheet)
	})
}

// bow is the deflection of an even load and of a point load in the middle by bending, mm, with the moment there.
func (s *spanning) bow(line, person, length float64) (deflection, moment float64) {
	stiffness := s.piece.Rigidity()
	cube := length * length * length
	return 5*line*cube*length/(384*stiffness) + person*cube/(48*stiffness), line*length*length/8 + person*length/4
}

// variable is the line load of the variable actions alone, N/mm.
func (s *spanning) variable(line float64) float64 { return max(line-s.loads[0], 0) }

func (s *spanning) instant(length float64, sheet *working.Sheet) working.Outcome {
	return s.each(ec0.Characteristic, sheet, func(line, person float64, _ national.Duration, sheet *working.Sheet) working.Outcome {
		in := ec5.Deflection{Span: length, Limit: s.limit}
		if s.limit > 0 { // a stated limit is one of the variable load
			line = s.variable(line)
		} else if s.choices.Timber.Instant.Source == "" {
			in.Limit = instantLimit
		}
		in.Characteristic, in.ShearCharacteristic = s.bow(line, person, length)
		return s.piece.DeflectionInstant(&in, sheet)
	})
}

func (s *spanning) final(length float64, sheet *working.Sheet) working.Outcome {
	lasting := 0.0
	for i := range s.combinations {
		if row := &s.combinations[i]; row.State == ec0.QuasiPermanent {
			line := 0.0
			for c, factor := range row.Factors {
				line += factor * s.loads[c]
			}
			lasting = max(lasting, line)
		}
	}
	return s.each(ec0.Characteristic, sheet, func(line, person float64, _ national.Duration, sheet *working.Sheet) working.Outcome {
		in := ec5.Deflection{Span: length, Plastered: s.plastered}
		in.Characteristic, in.ShearCharacteristic = s.bow(line, person, length)
		in.QuasiPermanent, in.ShearQuasiPermanent = s.bow(lasting, 0, length)
		return s.piece.DeflectionFinal(&in, sheet)
	})
}

func (s *spanning) vibration(length float64, sheet *working.Sheet) working.Outcome {
	if !s.use.vibrates {
		return working.Found(0)
	}
	return s.piece.Vibration(&ec5.Floor{Span: length, Centres: s.centres, Mass: s.loads[0] / s.centres / model.Gravity,
		DeckRigidity: deckModulus(s.deck) * math.Pow(s.deck, 3) / 12}, sheet)
}
