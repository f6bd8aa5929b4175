package kit_test

import (
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"

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
	for _, line := range report.Lines() {
		t.Log(line)
	}
	assert.True(t, report.Conforms())
}
