package host

import (
	"context"
	"errors"
	"io"

	"example.com/scantling/plugins/region"
)

// Provoke sends one batch as it is, however malformed, and returns the failure that it leads to, or nil when the region
// answers as if nothing were wrong. It is for the conformance kit: what a region does with nonsense must be an error of
// its own, not its end.
func (c *Client) Provoke(ctx context.Context, site *region.Site, preparation *region.Preparation, b *region.Batch) error {
	ask := func(l link, ctx context.Context) (*region.Derived, error) {
		s, err := l.derive(ctx, site, preparation)
		if err != nil {
			return nil, err
		}
		if err := s.send(b); err != nil && !errors.Is(err, io.EOF) {
			return nil, err
		}
		if err := s.finish(); err != nil && !errors.Is(err, io.EOF) {
			return nil, err
		}
		return s.receive()
	}
	_, err := call(ctx, c, "derive", c.deadlines.Derive, ask, func(*region.Derived) error { return nil })
	return err
}
