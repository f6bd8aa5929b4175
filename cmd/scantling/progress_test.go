package main

import (
	"bytes"
	"io"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// screen is a writer that may be read while it is written to.
type screen struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// shows waits until a text is on the screen so many times.
func (s *screen) shows(t *testing.T, text string, times int) {
	t.Helper()
	require.Eventually(t, func() bool { return strings.Count(s.String(), text) >= times }, time.Minute, time.Millisecond,
		"%q is not shown %d times", text, times)
}

func TestProgressIsShownOfLongWorkAndTakenAway(t *testing.T) {
	var s screen
	p := showProgress(&s, time.Millisecond)
	p.at("models/roof.json", 0, 0)
	s.shows(t, "roof.json", 1)
	p.at("models/"+strings.Repeat("long", 20)+".json", 3, 40)
	s.shows(t, "longlonglonglonglonglonglon...", 1)
	s.shows(t, "3/40", 1)
	p.end()
	p.end()
	shown := s.String()
	last := shown[strings.LastIndexByte(strings.TrimRight(shown, "\r"), '\r')+1:]
	assert.Empty(t, strings.TrimSpace(last), "the line is left empty")
	assert.NotContains(t, shown, "\n")
}

func TestProgressOfShortWorkIsNotShown(t *testing.T) {
	var s screen
	p := showProgress(&s, time.Hour)
	p.at("roof.json", 0, 2)
	p.end()
	assert.Empty(t, s.String())
}

func TestProgressIsForTerminalsOnly(t *testing.T) {
	t.Setenv("CI", "")
	_, pipe, err := os.Pipe()
	require.NoError(t, err)
	defer pipe.Close()
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer null.Close()
	for name, out := range map[string]io.Writer{"a buffer": &bytes.Buffer{}, "a pipe": pipe, "a device that is no terminal": null} {
		p := (&app{err: out}).progress()
		assert.Nil(t, p, name)
		p.at("roof.json", 0, 2) // shows nothing
		p.end()
	}
}
