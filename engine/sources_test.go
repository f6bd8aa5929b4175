package engine_test

import (
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/engine"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/eurocode"
	"example.com/scantling/plugins/region/host"
)

// inProcess serves the Eurocodes without a child process.
type inProcess struct{}

func (inProcess) Region(_ context.Context, code string) *host.Client {
	if code == "GB-ENG" {
		return host.InProcess("eurocode", eurocode.New(), host.Deadlines{})
	}
	return nil
}

// eurocodes is a session with a region.
func eurocodes(t testing.TB) *engine.Session {
	t.Helper()
	s := engine.NewSession(inProcess{}, nil)
	t.Cleanup(s.Close)
	return s
}

// sourceOf reads a document.
func sourceOf(t testing.TB, name, text string) *engine.Source {
	t.Helper()
	doc, problems := read.Document([]byte(text), name)
	require.Empty(t, problems)
	return &engine.Source{Document: doc, Text: []byte(text), File: name}
}

// demo is the reading room.
func demo(t testing.TB) *engine.Source {
	t.Helper()
	text, err := os.ReadFile("../testdata/quillmere.json")
	require.NoError(t, err)
	return sourceOf(t, "quillmere.json", string(text))
}
