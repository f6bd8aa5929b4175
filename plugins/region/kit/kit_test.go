package kit_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

func TestMain(m *testing.M) {
	host.ServeIfAsked(map[string]func() region.Region{"oakshire": oakshire.New})
	os.Exit(m.Run())
}

func TestRegionInItsOwnProcessConforms(t *testing.T) {
	report := kit.Run(context.Background(), host.Options{Shipped: "oakshire"})
	lines := report.Lines()
	assert.True(t, report.Conforms(), strings.Join(lines, "\n"))
	assert.Equal(t, "oakshire conforms: 22 checks met, 0 not met, 0 with nothing to check", lines[len(lines)-1])
}

func TestRegionThatCannotBeStartedDoesNotConform(t *testing.T) {
	report := kit.Run(context.Background(), host.Options{File: "/no/such/region", SHA256: strings.Repeat("0", 64)})
	assert.False(t, report.Conforms())
	assert.Contains(t, report.Lines()[0], "no    it starts and describes itself by the contract: region /no/such/region, start: ")
}

// spoiled is Oakshire with one fault.
type spoiled struct {
	region.Region
	describe func(*region.Description)
	prepare  func(*region.Preparation)
	derive   func(*region.Batch, *region.Derived) error
	span     func(*region.SpanRequest, *region.Span)
}

func (s spoiled) Describe(ctx context.Context) (*region.Description, error) {
	d, err := s.Region.Describe(ctx)
	if s.describe != nil {
		s.describe(d)
	}
	return d, err
}

func (s spoiled) Prepare(ctx context.Context, site *region.Site) (*region.Preparation, error) {
	p, err := s.Region.Prepare(ctx, site)
	if s.prepare != nil {
		s.prepare(p)
	}
	return p, err
}

func (s spoiled) Derive(ctx context.Context, b *region.Batch) (*region.Derived, error) {
	d, err := s.Region.Derive(context.WithoutCancel(ctx), b)
	if err == nil && s.derive != nil {
		err = s.derive(b, d)
	}
	return d, err
}

func (s spoiled) Span(ctx context.Context, r *region.SpanRequest) (*region.Span, error) {
	a, err := s.Region.Span(ctx, r)
	if s.span != nil {
		s.span(r, a)
	}
	return a, err
}

func TestEveryCheckFindsItsFault(t *testing.T) {
	runs := 0
	var busy atomic.Int32
	var held sync.Mutex
	for _, row := range []struct {
		check string
		fault spoiled
	}{
		{"it starts and describes itself by the contract", spoiled{describe: func(d *region.Description) { d.Facts[0].Text = "" }}},
		{"two processes of it describe themselves alike", spoiled{describe: func(d *region.Description) { runs++; d.Title += strings.Repeat("!", runs) }}},
		{"it prepares a site by the contract, and alike each time", spoiled{prepare: func(p *region.Preparation) { p.Grades[0].E += rand.Float64() }}},
		{"it knows the grades that it calls stock", spoiled{describe: func(d *region.Description) { d.Stock[0].Grades[0] = "H99" }}},
		{"it says why it does not know a grade", spoiled{prepare: func(p *region.Preparation) { p.Grades[len(p.Grades)-1] = p.Grades[0] }}},
		{"a frame with nothing but permanent load has its combination", spoiled{prepare: func(p *region.Preparation) { p.Combinations = p.Combinations[2:] }}},
		{"it answers for every piece and every fact of a batch", spoiled{derive: func(_ *region.Batch, d *region.Derived) error {
			d.Value, d.ID = d.Value[1:], d.ID[1:]
			return nil
		}}},
		{"it answers the same question alike", spoiled{derive: func(_ *region.Batch, d *region.Derived) error { d.Value[0] += rand.Float64(); return nil }}},
		{"the order of pieces and their cutting into batches change no answer", spoiled{derive: func(_ *region.Batch, d *region.Derived) error { d.Value[0]++; return nil }}},
		{"how many pieces a row stands for changes no answer", spoiled{derive: func(b *region.Batch, d *region.Derived) error {
			d.Value[0] *= float64(b.Pieces.Multiplicity[0])
			return nil
		}}},
		{"more load never lowers a ratio", spoiled{derive: func(_ *region.Batch, d *region.Derived) error { d.Value[0] = -d.Value[0]; return nil }}},
		{"an unknown section or grade gives no value where it feeds one", spoiled{derive: func(_ *region.Batch, d *region.Derived) error {
			clear(d.Reason)
			return nil
		}}},
		{"it lists its working when asked", spoiled{derive: func(_ *region.Batch, d *region.Derived) error { d.Working = nil; return nil }}},
		{"it answers an empty batch", spoiled{derive: func(b *region.Batch, _ *region.Derived) error {
			if len(b.Pieces.ID) == 0 {
				return errors.New("there is nothing in it")
			}
			return nil
		}}},
		{"it answers a batch near the largest message", spoiled{derive: func(b *region.Batch, _ *region.Derived) error {
			if len(b.Pieces.ID) > 1000 {
				return errors.New("that is too much")
			}
			return nil
		}}},
		{"it answers several runs at once", spoiled{derive: func(*region.Batch, *region.Derived) error {
			defer busy.Add(-1)
			if busy.Add(1) > 1 {
				return errors.New("one at a time")
			}
			time.Sleep(10 * time.Millisecond)
			return nil
		}}},
		{"it lets go of a run that is given up", spoiled{derive: func(b *region.Batch, _ *region.Derived) error {
			held.Lock()
			if len(b.Pieces.ID) == 500 {
				select {} // with the lock: nobody is answered any more
			}
			held.Unlock()
			return nil
		}}},
		{"it refuses malformed batches and lives on", spoiled{Region: careless{}}},
		{"more load and wider centres never lengthen a span", spoiled{span: func(r *region.SpanRequest, a *region.Span) { a.Span *= r.Centres * r.Centres }}},
		{"it says why there is no span", spoiled{span: func(_ *region.SpanRequest, a *region.Span) {
			*a = region.Span{Span: 1000, Governs: "a guess"}
		}}},
	} {
		t.Run(row.check, func(t *testing.T) {
			if row.fault.Region == nil {
				row.fault.Region = oakshire.New()
			}
			report := kit.RunWith(context.Background(), func() *host.Client { return host.InProcess("spoiled", row.fault, host.Deadlines{Derive: time.Second}) })
			assert.False(t, report.Conforms())
			for _, result := range report.Results {
				if result.Check == row.check {
					assert.NotEmpty(t, result.Problem)
					return
				}
			}
			require.Fail(t, "no such check")
		})
	}
}

// careless answers whatever it is sent without looking at it.
type careless struct{ region.Region }

func (careless) Describe(ctx context.Context) (*region.Description, error) {
	return oakshire.New().Describe(ctx)
}

func (careless) Prepare(ctx context.Context, s *region.Site) (*region.Preparation, error) {
	return oakshire.New().Prepare(ctx, s)
}

func (careless) Span(ctx context.Context, r *region.SpanRequest) (*region.Span, error) {
	return oakshire.New().Span(ctx, r)
}

func (careless) Derive(_ context.Context, b *region.Batch) (*region.Derived, error) {
	const facts = 5 // of Oakshire
	n := facts * len(b.Pieces.ID)
	d := &region.Derived{Sequence: b.Sequence, ID: b.Pieces.ID, Value: make([]float64, n), Reason: make([]int32, n), Reasons: region.Dictionary{""},
		Combination: make([]int32, n), Contact: make([]int32, n), At: make([]float64, n)}
	for i := range n {
		d.Combination[i], d.Contact[i] = -1, -1
	}
	return d, nil
}
