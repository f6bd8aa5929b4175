package us_test

import (
	"context"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/plugins/us"
	"example.com/scantling/rules/pack"
	"example.com/scantling/rules/vocabulary"
)

// The pack reads, its expressions fit the vocabulary, and its examples end as they say and reach every part of the rules.
func TestPackIsSound(t *testing.T) {
	d, err := us.New().Describe(context.Background())
	require.NoError(t, err)
	files := fstest.MapFS{}
	for _, f := range d.Packs {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	p, err := pack.Read(files, "us.yaml", pack.Region)
	require.NoError(t, err)
	book, err := vocabulary.NewBook(d.Facts...)
	require.NoError(t, err)
	require.NoError(t, pack.Vet(book, p))
	set, err := pack.Compile(book, p)
	require.NoError(t, err)
	trial, err := set.Try(model.US)
	require.NoError(t, err)
	for _, miss := range trial.Failed {
		assert.NoError(t, miss)
	}
	for _, u := range trial.Unreached {
		assert.Fail(t, u.Part.Error())
	}
	assert.GreaterOrEqual(t, trial.Passed, 2*len(set.Rules))
}
