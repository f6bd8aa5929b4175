package host_test

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

// opened is a talk with a region about a site and what it prepared for it.
func opened(t *testing.T, ctx context.Context, c *host.Client) (*host.Talk, *region.Site, *region.Preparation) {
	t.Helper()
	s := site(t)
	p, err := c.Prepare(background, s)
	require.NoError(t, err)
	talk, err := c.Talk(ctx, s, p)
	require.NoError(t, err)
	return talk, s, p
}

// asks has several goroutines ask over one talk, each about beams of a span of its own, and gives their errors. Each must get the
// answers to its own batches, once each.
func asks(t *testing.T, c *host.Client, askers, each int) []error {
	s := site(t)
	p, err := c.Prepare(background, s)
	require.NoError(t, err)
	talk, err := c.Talk(background, s, p)
	if err != nil {
		return []error{err}
	}
	var all sync.WaitGroup
	errs := make([]error, askers, askers+1)
	for i := range askers {
		all.Go(func() {
			answered := 0
			errs[i] = talk.Ask(func(yield func(*region.Batch) bool) {
				for k := range each {
					beam := kit.Beam{Span: 2000 + 10*float64(i), Load: 0.3, Multiplicity: 1}
					if !yield(kit.Batch(s, p, []kit.Beam{beam}, []int32{int32(100*i + k)})) {
						return
					}
				}
			}, func(b *region.Batch, d *region.Derived) {
				assert.Equal(t, b.Pieces.ID, d.ID)
				assert.Equal(t, i, int(d.ID[0])/100, "somebody else's answer")
				answered++
			})
			if errs[i] == nil {
				assert.Equal(t, each, answered)
			}
		})
	}
	all.Wait()
	return append(errs, talk.Close())
}

func TestSeveralAskOverOneTalk(t *testing.T) {
	for name, open := range map[string]func() *host.Client{
		"in process":     func() *host.Client { return host.InProcess("oakshire", oakshire.New(), host.Deadlines{}) },
		"out of process": func() *host.Client { return host.Start(background, host.Options{Shipped: "oakshire"}) },
	} {
		t.Run(name, func(t *testing.T) {
			leavesNothing(t, func() {
				c := open()
				defer c.Close()
				for _, err := range asks(t, c, 6, 30) {
					assert.NoError(t, err)
				}
				_, err := run(t, c, 2, 5)
				assert.NoError(t, err, "the region can be asked again")
			})
		})
	}
}

func TestTalkFailsForAllWhoAsk(t *testing.T) {
	for _, row := range []struct {
		region       string
		askers, each int
		cause        host.Cause
	}{
		{"panics", 4, 50, host.Panicked},
		{"exits", 4, 50, host.Died},
		{"hangs", 4, 50, host.Slow},
		{"stops", 4, 50, host.Slow},
		{"misnumbers", 4, 50, host.Malformed},
		{"refuses", 4, 50, host.Refused},
		{"refuses", 1, 1, host.Refused}, // no batch follows
	} {
		t.Run(fmt.Sprint(row.region, row.askers), func(t *testing.T) {
			leavesNothing(t, func() {
				c := host.Start(background, host.Options{Shipped: row.region, Deadlines: host.Deadlines{Derive: 500 * time.Millisecond}})
				defer c.Close()
				for _, err := range asks(t, c, row.askers, row.each) {
					failure(t, err, row.cause)
				}
			})
		})
	}
}

func TestBatchThatBreaksTheContractFailsForItsAskerAlone(t *testing.T) {
	c := host.InProcess("oakshire", oakshire.New(), host.Deadlines{})
	defer c.Close()
	talk, s, p := opened(t, background, c)
	answered := 0
	each := func(*region.Batch, *region.Derived) { answered++ }
	err := talk.Ask(func(yield func(*region.Batch) bool) {
		for i, b := range []*region.Batch{kit.Batch(s, p, joists(3), nil), kit.Batch(s, p, joists(3), nil)} {
			if i == 1 {
				b.Stations.M = b.Stations.M[1:]
			}
			if !yield(b) {
				return
			}
		}
	}, each)
	f := failure(t, err, host.Unfit)
	assert.Equal(t, "oakshire", f.Region)
	assert.Equal(t, 1, answered, "what was sent before it")
	require.NoError(t, talk.Ask(batches(s, p, 2, 3), each))
	assert.Equal(t, 3, answered)
	assert.NoError(t, talk.Close())
}

func TestTalkWaitsForItsFirstQuestion(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		c := host.InProcess("oakshire", oakshire.New(), host.Deadlines{Derive: time.Second})
		defer c.Close()
		talk, s, p := opened(t, background, c)
		time.Sleep(time.Minute) // the region owes nothing, so that its deadline does not run
		assert.NoError(t, talk.Ask(batches(s, p, 2, 3), func(*region.Batch, *region.Derived) {}))
		assert.NoError(t, talk.Close())
	})
}

func TestAskingAfterCloseIsAnError(t *testing.T) {
	for name, c := range map[string]*host.Client{
		"in process":     host.InProcess("oakshire", oakshire.New(), host.Deadlines{}),
		"out of process": host.Start(background, host.Options{Shipped: "oakshire"}),
	} {
		t.Run(name, func(t *testing.T) {
			defer c.Close()
			talk, s, p := opened(t, background, c)
			require.NoError(t, talk.Close())
			err := talk.Ask(batches(s, p, 1, 3), func(*region.Batch, *region.Derived) { t.Error("it was answered") })
			failure(t, err, host.Cancelled)
			assert.NoError(t, talk.Close(), "a second time")
		})
	}
}

func TestCancelledContextEndsATalk(t *testing.T) {
	c := host.Start(background, host.Options{Shipped: "hangs"})
	defer c.Close()
	ctx, cancel := context.WithCancel(background)
	defer cancel()
	talk, s, p := opened(t, ctx, c)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			err := talk.Ask(func(yield func(*region.Batch) bool) {
				for b := range batches(s, p, 20, 3) {
					if !yield(b) {
						return
					}
					cancel()
				}
			}, func(*region.Batch, *region.Derived) {})
			failure(t, err, host.Cancelled)
		})
	}
	all.Wait()
	failure(t, talk.Close(), host.Cancelled)
}
