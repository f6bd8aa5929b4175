package host_test

import (
	"os"
	"testing"

	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/testdata/regions/oakshire"
)

// The test binary is the program: it serves its own regions.
func TestMain(m *testing.M) {
	host.ServeIfAsked(map[string]func() region.Region{"oakshire": oakshire.New})
	os.Exit(m.Run())
}
