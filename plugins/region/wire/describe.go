package wire

import (
	"fmt"
	"math"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// PackDescription is the message of a description.
func PackDescription(d *region.Description) *Description {
	m := &Description{Id: d.ID, Title: d.Title, Edition: d.Edition, Codes: d.Codes, Contract: int32(d.Contract), Uses: d.Uses, Beside: d.Beside}
	for _, f := range d.Facts {
		m.Facts = append(m.Facts, &Fact{
			Name: f.Name, Subject: f.Subject.String(), Type: f.Type.String(), Text: f.Text, Keys: f.Keys, Counts: f.Counts,
			Dimension: &Dimension{Force: int32(f.Dimension.Force), Length: int32(f.Dimension.Length), Mass: int32(f.Dimension.Mass), Angle: int32(f.Dimension.Angle)},
		})
	}
	for _, p := range d.Packs {
		m.Packs = append(m.Packs, &PackFile{Name: p.Name, Data: p.Data})
	}
	for _, s := range d.Stock {
		m.Stock = append(m.Stock, &Stock{Section: s.Section, Grades: s.Grades, Lengths: s.Lengths})
	}
	return m
}

// UnpackDescription is the description of a message. Only what has no place in the types is an error.
func UnpackDescription(m *Description) (*region.Description, error) {
	d := &region.Description{ID: m.GetId(), Title: m.GetTitle(), Edition: m.GetEdition(), Codes: m.GetCodes(), Contract: int(m.GetContract()), Uses: m.GetUses(), Beside: m.GetBeside()}
	for _, f := range m.GetFacts() {
		fact, err := unpackFact(f)
		if err != nil {
			return nil, err
		}
		d.Facts = append(d.Facts, fact)
	}
	for _, p := range m.GetPacks() {
		d.Packs = append(d.Packs, region.PackFile{Name: p.GetName(), Data: p.GetData()})
	}
	for _, s := range m.GetStock() {
		d.Stock = append(d.Stock, region.Stock{Section: s.GetSection(), Grades: s.GetGrades(), Lengths: s.GetLengths()})
	}
	return d, nil
}

func unpackFact(m *Fact) (vocabulary.Fact, error) {
	f := vocabulary.Fact{Name: m.GetName(), Text: m.GetText(), Keys: m.GetKeys(), Counts: m.GetCounts(), Origin: vocabulary.FromRegion}
	found := false
	for _, s := range vocabulary.Subjects() {
		if s.String() == m.GetSubject() {
			f.Subject, found = s, true
		}
	}
	if !found {
		return f, fmt.Errorf("the fact %q is about %q, which is no subject", m.GetName(), m.GetSubject())
	}
	found = false
	for _, t := range []vocabulary.Type{vocabulary.Number, vocabulary.Text, vocabulary.Truth} {
		if t.String() == m.GetType() {
			f.Type, found = t, true
		}
	}
	if !found {
		return f, fmt.Errorf("the fact %q is a %q, which is no type", m.GetName(), m.GetType())
	}
	d := m.GetDimension()
	for _, e := range []struct {
		from int32
		to   *int8
	}{{d.GetForce(), &f.Dimension.Force}, {d.GetLength(), &f.Dimension.Length}, {d.GetMass(), &f.Dimension.Mass}, {d.GetAngle(), &f.Dimension.Angle}} {
		if e.from < math.MinInt8 || e.from > math.MaxInt8 {
			return f, fmt.Errorf("the fact %q has a dimension with the exponent %d", m.GetName(), e.from)
		}
		*e.to = int8(e.from)
	}
	return f, nil
}

// PackSpanRequest is the message of a request.
func PackSpanRequest(r *region.SpanRequest) *SpanRequest {
	m := &SpanRequest{
		Code: r.Code, Use: r.Use, Section: packSection(&r.Section), Grade: packGradeName(&r.Grade), Centres: r.Centres,
		Limit: r.Limit, Edition: r.Edition, Service: int32(r.Service), Brittle: r.Brittle,
	}
	for _, l := range r.Loads {
		m.Loads = append(m.Loads, &ActionLoad{Action: string(l.Action), Value: l.Value})
	}
	return m
}

// UnpackSpanRequest is the request of a message.
func UnpackSpanRequest(m *SpanRequest) *region.SpanRequest {
	r := &region.SpanRequest{
		Code: m.GetCode(), Use: m.GetUse(), Section: unpackSection(m.GetSection()), Grade: unpackGradeName(m.GetGrade()), Centres: m.GetCentres(),
		Limit: m.GetLimit(), Edition: m.GetEdition(), Service: int(m.GetService()), Brittle: m.GetBrittle(),
	}
	for _, l := range m.GetLoads() {
		r.Loads = append(r.Loads, region.SpanLoad{Action: model.Action(l.GetAction()), Value: l.GetValue()})
	}
	return r
}

// PackSpan is the message of an answer.
func PackSpan(s *region.Span) *SpanAnswer {
	return &SpanAnswer{Span: s.Span, Governs: s.Governs, Reason: s.Reason, Notes: s.Notes, Working: packSteps(s.Working)}
}

// UnpackSpan is the answer of a message.
func UnpackSpan(m *SpanAnswer) *region.Span {
	return &region.Span{Span: m.GetSpan(), Governs: m.GetGoverns(), Reason: m.GetReason(), Notes: m.GetNotes(), Working: unpackSteps(m.GetWorking())}
}

func packSteps(steps []region.Step) []*Step {
	var out []*Step
	for _, s := range steps {
		out = append(out, &Step{Piece: s.Piece, Fact: s.Fact, Symbol: s.Symbol, Value: s.Value, Unit: s.Unit, Clause: s.Clause})
	}
	return out
}

func unpackSteps(steps []*Step) []region.Step {
	var out []region.Step
	for _, s := range steps {
		out = append(out, region.Step{Piece: s.GetPiece(), Fact: s.GetFact(), Symbol: s.GetSymbol(), Value: s.GetValue(), Unit: s.GetUnit(), Clause: s.GetClause()})
	}
	return out
}
