package host

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"example.com/scantling/plugins/region"
)

// early is a region whose side sees a deadline pass a little before this one does, as gRPC servers may.
type early struct {
	link
	killed bool
}

func (e *early) Describe(ctx context.Context) (*region.Description, error) {
	deadline, _ := ctx.Deadline()
	time.Sleep(time.Until(deadline) - 20*time.Millisecond)
	return nil, status.Error(codes.Canceled, "stream terminated by RST_STREAM with error code: CANCEL")
}

func (e *early) kill() { e.killed = true }

func TestDeadlineThatPassesOnTheOtherSideFirstIsADeadline(t *testing.T) {
	region := &early{}
	started := make(chan struct{})
	close(started)
	c := &Client{name: "early", deadlines: Deadlines{Describe: 50 * time.Millisecond}, started: started, link: region}
	_, err := c.Describe(context.Background())
	var f *Failure
	require.ErrorAs(t, err, &f)
	assert.Equal(t, Slow, f.Cause, f.Error())
	assert.True(t, region.killed)
}
