package kit_test

import (
	"context"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/testdata/regions/elsewhere"
)

func conforms(t *testing.T, executable, id string) {
	report := kit.Run(context.Background(), elsewhere.Pinned(t, executable))
	assert.True(t, report.Conforms(), strings.Join(report.Lines(), "\n"))
	assert.Equal(t, id, report.Region)
}

func TestRegionInJavaScriptConforms(t *testing.T) {
	conforms(t, elsewhere.Brackwater(t), "brackwater")
}

// TestRegionOutOfTreeConforms builds the sources of Oakshire as somebody else would have them: in a module of their
// own that only requires this one. Nothing is fetched.
func TestRegionOutOfTreeConforms(t *testing.T) {
	module := elsewhere.Module(t)
	executable := elsewhere.Oakshire(t, module)
	deps := strings.Fields(elsewhere.Go(t, module, "list", "-deps", "./oakshire-region"))
	var ours []string
	for _, d := range deps {
		if strings.HasPrefix(d, "example.com/scantling/") {
			ours = append(ours, strings.TrimPrefix(d, "example.com/scantling/"))
		}
	}
	assert.ElementsMatch(t, []string{"model", "rules/vocabulary", "plugins/region", "plugins/region/wire", "plugins/region/serve"}, ours,
		"an author needs the contract and nothing else of ours")
	for _, d := range deps {
		assert.False(t, strings.Contains(d, "viper") || strings.Contains(d, "expr-lang"), "%s has no business in a region", d)
	}
	conforms(t, executable, "oakshire")

	output, err := exec.Command(executable).CombinedOutput()
	assert.Error(t, err, "run by hand, it ends with a status that is not zero")
	assert.Contains(t, string(output), "not meant to be executed directly")
}
