package signoff_test

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/signoff"
)

func accepted(id string) finding.Signoff {
	return finding.Signoff{Rule: "practice/x", Mark: "B1", Finding: id, Reason: "seen and measured", Who: "M. Elder",
		Authority: "engineer's letter", Date: "2026-03-01", Digest: "00"}
}

func TestRecordAndLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.signoffs.json")
	got, err := signoff.Load(path)
	require.NoError(t, err)
	assert.Empty(t, got, "a file that is not there holds none")
	require.NoError(t, signoff.Record(path, []finding.Signoff{accepted("one")}))
	changed := accepted("one")
	changed.Reason = "looked at again"
	require.NoError(t, signoff.Record(path, []finding.Signoff{changed, accepted("two")}))
	got, err = signoff.Load(path)
	require.NoError(t, err)
	assert.Equal(t, []finding.Signoff{changed, accepted("two")}, got)
}

func TestManyAtOnceLoseNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.signoffs.json")
	var all sync.WaitGroup
	for i := range 20 {
		all.Go(func() { assert.NoError(t, signoff.Record(path, []finding.Signoff{accepted(fmt.Sprint(i))})) })
	}
	all.Wait()
	got, err := signoff.Load(path)
	require.NoError(t, err)
	assert.Len(t, got, 20)
}

func TestWhatIsNoFileOfSignoffsIsLeftAlone(t *testing.T) {
	for name, text := range map[string]string{
		"truncated": `{"signoffs": 1, "entries": [`, "another version": `{"signoffs": 7}`, "an unknown key": `{"signoffs": 1, "more": 2}`,
		"an entry without a reason": `{"signoffs": 1, "entries": [{"rule": "a/b", "who": "x"}]}`,
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "a.signoffs.json")
			require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
			_, err := signoff.Load(path)
			require.Error(t, err)
			require.Error(t, signoff.Record(path, []finding.Signoff{accepted("one")}))
			after, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, text, string(after))
		})
	}
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte(`{"signoffs": 1, "entries": []}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), "a.signoffs.json")
		require.NoError(t, os.WriteFile(path, data, 0o600))
		_, _ = signoff.Load(path)
	})
}
