package read_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// referenceCase is one of the statics reference cases: 75 documents that must be readable as they are.
type referenceCase struct {
	ID    string          `json:"id"`
	Model json.RawMessage `json:"model"`
}

func referenceCases(t testing.TB) []referenceCase {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "statics", "cases.json"))
	require.NoError(t, err)
	var cases []referenceCase
	require.NoError(t, json.Unmarshal(src, &cases))
	return cases
}

// alike makes two documents comparable: where they were read from is no part of what they say.
func alike(d *model.Document) *model.Document {
	c := *d
	fresh := model.Document{Title: c.Title, Units: c.Units, Weightless: c.Weightless, Site: c.Site, Drawings: c.Drawings, Areas: c.Areas, Grades: c.Grades}
	for _, m := range c.Members {
		m.Offset = 0
		fresh.Members = append(fresh.Members, m)
	}
	return &fresh
}

func TestReferenceCasesAreReadAndWrittenBack(t *testing.T) {
	cases := referenceCases(t)
	require.Len(t, cases, 75)
	for _, c := range cases {
		t.Run(c.ID, func(t *testing.T) {
			d, problems := read.Document(c.Model, c.ID)
			require.Empty(t, problems)
			var plain struct {
				Members map[string]json.RawMessage `json:"members"`
			}
			require.NoError(t, json.Unmarshal(c.Model, &plain))
			assert.Len(t, d.Members, len(plain.Members))
			for _, m := range d.Members {
				assert.JSONEq(t, string(plain.Members[m.Mark]), string(rawAt(t, c.Model, m.Offset)), "the offset is that of the member")
			}
			again, problems := read.Document(read.Write(d), c.ID)
			require.Empty(t, problems)
			assert.Equal(t, alike(d), alike(again))
		})
	}
}

func rawAt(t *testing.T, src []byte, offset int64) json.RawMessage {
	t.Helper()
	var raw json.RawMessage
	d := json.NewDecoder(bytes.NewReader(src[offset:]))
	require.NoError(t, d.Decode(&raw))
	return raw
}
