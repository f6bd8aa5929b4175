package host_test

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/oakshire"
)

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
		region string
		cause  host.Cause
	}{
		{"panics", host.Panicked},
		{"exits", host.Died},
		{"hangs", host.Slow},
		{"stops", host.Slow},
		{"misnumbers", host.Malformed},
	} {
		t.Run(row.region, func(t *testing.T) {
			leavesNothing(t, func() {
				c := host.Start(background, host.Options{Shipped: row.region, Deadlines: host.Deadlines{Derive: 500 * time.Millisecond}})
				defer c.Close()
				errs := asks(t, c, 4, 50)
				failure(t, errs[len(errs)-1], row.cause)
				for i, err := range errs {
					if err != nil {
						assert.Equal(t, row.cause, failure(t, err, row.cause).Cause, fmt.Sprint(i))
					}
				}
			})
		})
	}
}

func TestBatchThatBreaksTheContractFailsForItsAskerAlone(t *testing.T) {
	c := host.InProcess("oakshire", oakshire.New(), host.Deadlines{})
	defer c.Close()
	s := site(t)
	p, err := c.Prepare(background, s)
	require.NoError(t, err)
	talk, err := c.Talk(background, s, p)
	require.NoError(t, err)
	answered := 0
	each := func(*region.Batch, *region.Derived) { answered++ }
	err = talk.Ask(func(yield func(*region.Batch) bool) {
		for i, b := range []*region.Batch{kit.Batch(s, p, joists(3), nil), kit.Batch(s, p, joists(3), nil)} {
			if i == 1 {
				b.Stations.M = b.Stations.M[1:]
			}
			if !yield(b) {
				return
			}
		}
	}, each)
	failure(t, err, host.Unfit)
	assert.Equal(t, 1, answered, "what was sent before it")
	require.NoError(t, talk.Ask(batches(s, p, 2, 3), each))
	assert.Equal(t, 3, answered)
	assert.NoError(t, talk.Close())
}
