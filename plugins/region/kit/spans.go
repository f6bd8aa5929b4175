package kit

import (
	"context"
	"fmt"

	"example.com/scantling/model"
	"example.com/scantling/plugins/region"
)

// spanMonotone asks for spans of every use and piece of stock under rising load, and at widening centres.
func spanMonotone(ctx context.Context, s *subject) error {
	if len(s.description.Uses) == 0 {
		return nothing("it names no use")
	}
	given := 0
	for _, use := range s.description.Uses {
		for _, p := range s.known[:min(len(s.known), 6)] {
			for _, widening := range []bool{false, true} {
				n, err := s.series(ctx, use, p, widening)
				if err != nil {
					return err
				}
				given += n
			}
		}
	}
	if given == 0 {
		return fmt.Errorf("it gives no span at all for its own uses and stock")
	}
	return nil
}

// series asks for the spans of one piece of stock in a row that must not rise, and counts those that there are.
func (s *subject) series(ctx context.Context, use string, p pair, widening bool) (int, error) {
	given, last := 0, -1.0
	for _, factor := range []float64{1, 1.25, 1.5, 2} {
		r := s.spanRequest(use, p)
		if widening {
			r.Centres *= factor
		} else {
			r.Loads[1].Value *= factor
		}
		a, err := s.client.Span(ctx, r)
		if err != nil {
			return 0, err
		}
		if a.Span > 0 {
			given++
		}
		if last >= 0 && a.Span > last*(1+1e-9) {
			return 0, fmt.Errorf("the span of %s, %s as a %s rises from %v to %v mm", r.Section.Text, r.Grade.Name, use, last, a.Span)
		}
		last = a.Span
	}
	return given, nil
}

func spanReason(ctx context.Context, s *subject) error {
	p := s.known[0]
	unknown := s.spanRequest("a use that nobody knows", p)
	if a, err := s.client.Span(ctx, unknown); err != nil {
		return err
	} else if a.Span != 0 {
		return fmt.Errorf("it gives a span of %v mm for a use that nobody knows", a.Span)
	}
	if len(s.description.Uses) == 0 {
		return nil
	}
	ungraded := s.spanRequest(s.description.Uses[0], pair{p.section, s.unknown})
	if a, err := s.client.Span(ctx, ungraded); err != nil {
		return err
	} else if a.Span != 0 {
		return fmt.Errorf("it gives a span of %v mm for %q", a.Span, unknownGrade)
	}
	return nil
}

func (s *subject) spanRequest(use string, p pair) *region.SpanRequest {
	return &region.SpanRequest{
		Code: s.site.Code, Use: use, Section: s.site.Sections[p.section], Grade: s.site.Grades[p.grade], Centres: 400, Service: 1,
		Loads: []region.SpanLoad{{Action: model.Dead, Value: 0.5e-3}, {Action: model.Imposed, Value: 1.5e-3}},
	}
}
