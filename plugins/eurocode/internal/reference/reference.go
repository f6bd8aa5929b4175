// Package reference reads the published values that the tests of the region are held against. It is for tests alone and must
// not be imported by what is tested.
package reference

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Example is a worked example out of worked_examples.json.
type Example struct {
	ID        string                     `json:"id"`
	Source    string                     `json:"source"`
	Number    string                     `json:"example_no"`
	Seen      string                     `json:"values_seen_in"`
	Inputs    map[string]json.RawMessage `json:"inputs"`
	Published map[string]json.RawMessage `json:"published"`
}

// Find reads one example.
func Find(t testing.TB, id string) Example {
	t.Helper()
	var file struct{ Examples []Example }
	require.NoError(t, json.NewDecoder(bytes.NewReader(read(t, "worked_examples.json"))).Decode(&file))
	for _, example := range file.Examples {
		if example.ID == id {
			t.Logf("%s: %s, example %s; values seen in %s", example.ID, example.Source, example.Number, example.Seen)
			return example
		}
	}
	require.Fail(t, "no example "+id)
	return Example{}
}

// In is an input that is a number.
func (e Example) In(t testing.TB, name string) float64 {
	t.Helper()
	return number(t, e.Inputs, name)
}

// Out is a published number.
func (e Example) Out(t testing.TB, name string) float64 {
	t.Helper()
	return number(t, e.Published, name)
}

// Agrees holds a figure against the published one by the rule of the file: within 0.6 of the last printed place, or 0.5 %. An
// example that is memory binds nobody: a difference is logged, and the test beside it holds a derivation of its own.
func (e Example) Agrees(t testing.TB, name string, got float64) {
	t.Helper()
	printed := strings.Trim(string(e.Published[name]), `"`)
	want := e.Out(t, name)
	place := 1.0
	if _, decimals, ok := strings.Cut(printed, "."); ok {
		place = math.Pow(10, -float64(len(decimals)))
	}
	if math.Abs(got-want) <= math.Max(0.6*place, 0.005*math.Abs(want)) {
		return
	}
	if e.Seen == "memory" {
		t.Logf("%s: %s is %g, remembered as %s", e.ID, name, got, printed)
		return
	}
	t.Errorf("%s: %s is %g, published as %s", e.ID, name, got, printed)
}

// Rows reads a CSV file into one map a line, by the names of its columns.
func Rows(t testing.TB, file string) []map[string]string {
	t.Helper()
	lines, err := csv.NewReader(bytes.NewReader(read(t, file))).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, cells := range lines[1:] {
		row := map[string]string{}
		for i, cell := range cells {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

// Number reads a cell.
func Number(t testing.TB, text string) float64 {
	t.Helper()
	var value float64
	require.NoError(t, json.Unmarshal([]byte(text), &value), "%q", text)
	return value
}

func number(t testing.TB, from map[string]json.RawMessage, name string) float64 {
	t.Helper()
	var value float64
	require.Contains(t, from, name)
	require.NoError(t, json.Unmarshal(from[name], &value), name)
	return value
}

// read finds testdata at the root of the module, above the folder that the test runs in.
func read(t testing.TB, name string) []byte {
	t.Helper()
	root, err := filepath.Abs(".")
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(root, "go.mod")); err == nil {
			break
		}
		require.NotEqual(t, filepath.Dir(root), root, "no go.mod above the test")
		root = filepath.Dir(root)
	}
	text, err := os.ReadFile(filepath.Join(root, "testdata/reference/eurocode", name))
	require.NoError(t, err)
	return text
}
