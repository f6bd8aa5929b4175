package eurocode_test

import (
	"context"
	"os"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region"
	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

func TestMain(m *testing.M) {
	host.ServeIfAsked(map[string]func() region.Region{"eurocode": eurocode.New})
	os.Exit(m.Run())
}

// The contract's own checks, against the region in a process of its own.
func TestConforms(t *testing.T) {
	report := kit.Run(context.Background(), host.Options{Shipped: "eurocode"})
	for _, result := range report.Results {
		assert.Empty(t, result.Problem, result.Check)
	}
	assert.True(t, report.Conforms())
}

func TestPackIsSoundAndItsExamplesHold(t *testing.T) {
	d, err := eurocode.New().Describe(context.Background())
	require.NoError(t, err)
	files := fstest.MapFS{}
	for _, file := range d.Packs {
		files[file.Name] = &fstest.MapFile{Data: file.Data}
	}
	book, err := vocabulary.NewBook(d.Facts...)
	require.NoError(t, err)
	p, err := pack.Read(files, "eurocode.yaml", pack.Region)
	require.NoError(t, err)
	require.NoError(t, pack.Vet(book, p))
	set, err := pack.Compile(book, p)
	require.NoError(t, err)
	tried, err := set.Try(model.Metric)
	require.NoError(t, err)
	assert.Empty(t, tried.Failed)
	assert.Empty(t, tried.Unreached)
	assert.Positive(t, tried.Passed)
}
