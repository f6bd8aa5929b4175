package us_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/plugins/us"
)

func TestMain(m *testing.M) {
	host.ServeIfAsked(map[string]func() region.Region{"us": us.New})
	os.Exit(m.Run())
}

// The contract's own checks, against the region in a process of its own.
func TestRegionConforms(t *testing.T) {
	report := kit.Run(context.Background(), host.Options{Shipped: "us"})
	lines := report.Lines()
	t.Log(lines[len(lines)-1])
	assert.True(t, report.Conforms(), strings.Join(lines, "\n"))
}
