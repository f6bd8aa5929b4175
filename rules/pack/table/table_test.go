package table

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
)

// spans is made up for the test.
const spans = `# spans in mm, loads in kN/m2
section text exact, centres [mm] next up, load [kN/m2] between, span [m], note text
`

func TestReadingSaysEveryMistake(t *testing.T) {
	for _, row := range []struct{ what, csv, says string }{
		{"no rows", "a exact, b\n", "no rows"},
		{"nothing at all", "# only a comment\n", "empty"},
		{"an open quote", "a exact, b\n\"1, 2\n", "not CSV"},
		{"a unit that nobody knows", "a [furlong] exact, b\n1, 2\n", `"furlong" is not a unit`},
		{"texts between", "a text between, b\n1, 2\n", "texts are matched exact"},
		{"a text between two numbers", spans + "47x147, 400, 0.5, 3, short\n", "nothing between two texts"},
		{"an empty key", "a exact, b\n , 2\n", "the key a is empty"},
		{"keys that differ by less than the tolerance", "a exact, b\n1, 2\n1.0000000001, 3\n", "two rows have the same keys"},
		{"infinity", "a exact, b\n1, inf\n", `"inf" is not a number`},
		{"bytes that are no text", "a exact, b\n1, \xff\n", "not UTF-8"},
		{"two columns of one name", "a exact, a\n1, 2\n", `two columns are called "a"`},
	} {
		table, problems := ReadCSV("t", "t.csv", []byte(row.csv))
		require.Nil(t, table, row.what)
		require.Contains(t, problems.Error(), row.says, row.what)
	}
	_, problems := ReadCSV("t", "t.csv", []byte("é text exact, b\n1,2,3\n"))
	require.Contains(t, problems.Error(), "t.csv:1:1")
	_, problems = ReadCSV("t", "t.csv", []byte("a text exact, b\néé, x\n"))
	require.Contains(t, problems.Error(), "t.csv:2:5", "columns count characters, not bytes")
}

func TestTheProductOfAllKeysIsBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString("a exact, b exact, c exact, d\n")
	for i := range 200 {
		fmt.Fprintf(&b, "%d, %d, %d, 1\n", i, i, i)
	}
	_, problems := ReadCSV("t", "t.csv", []byte(b.String()))
	require.Contains(t, problems.Error(), "more than 1000000")
}

func look(t *testing.T, table *Table, column string, keys ...any) (float64, Miss) {
	var c Cursor
	for i, k := range keys {
		var miss Miss
		if s, ok := k.(string); ok {
			miss = table.Text(&c, i, s)
		} else {
			miss = table.Number(&c, i, k.(float64))
		}
		if miss != Hit {
			return 0, miss
		}
	}
	return table.Figure(&c, table.Column(column))
}

func TestLookingUp(t *testing.T) {
	table, problems := ReadCSV("t", "t.csv", []byte("section text exact, centres [mm] next up, load [kN/m2] next down, span [m], weight [kg]\n"+
		"47x147, 400, 0.5, 3.0, 10\n47x147, 600, 0.5, 2.5, 11\n47x147, 400, 1.0, 2.0, -\n47x147, 600, 1.0, 1.5, 12\n"))
	require.Empty(t, problems)
	require.Equal(t, model.Length, table.Values[0].Dimension)
	for _, row := range []struct {
		what          string
		column        string
		section       string
		centres, load float64 // mm, N/mm2
		want          float64 // mm, kg
		miss          Miss
	}{
		{"a listed key", "span", "47x147", 400, 0.0005, 3000, Hit},
		{"the next centres upwards", "span", "47x147", 450, 0.0005, 2500, Hit},
		{"the next load downwards", "span", "47x147", 600, 0.0009, 2500, Hit},
		{"a key within the tolerance above a listed one", "span", "47x147", 400 + 1e-8, 0.0005, 3000, Hit},
		{"a key just beyond it", "span", "47x147", 400.001, 0.0005, 2500, Hit},
		{"a value column further right", "weight", "47x147", 600, 0.001, 12, Hit},
		{"a cell without a value", "weight", "47x147", 400, 0.001, 0, Empty},
		{"a section that is not listed", "span", "47x170", 400, 0.0005, 0, NotListed},
		{"centres above the table", "span", "47x147", 601, 0.0005, 0, TooHigh},
		{"a load below the table", "span", "47x147", 400, 0.0004, 0, TooLow},
	} {
		got, miss := look(t, table, row.column, row.section, row.centres, row.load)
		require.Equal(t, row.miss, miss, row.what)
		require.InDelta(t, row.want, got, 1e-9, row.what)
	}
}

// TestBetweenIsLinear holds interpolation in two keys to the bilinear formula, worked out another way, on random grids.
func TestBetweenIsLinear(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 100 {
		f := [2][2]float64{{rng.Float64(), rng.Float64()}, {rng.Float64(), rng.Float64()}}
		cell := func(v any) Cell { return Cell{Text: fmt.Sprint(v)} }
		var rows [][]Cell
		for i := range 2 {
			for j := range 2 {
				rows = append(rows, []Cell{cell(i), cell(j), cell(f[i][j])})
			}
		}
		table, problems := New("t", []Cell{cell("x between"), cell("y between"), cell("v")}, rows)
		require.Empty(t, problems)
		x, y := rng.Float64(), rng.Float64()
		got, miss := look(t, table, "v", x, y)
		require.Equal(t, Hit, miss)
		low, high := f[0][0]+x*(f[1][0]-f[0][0]), f[0][1]+x*(f[1][1]-f[0][1])
		require.InDelta(t, low+y*(high-low), got, 1e-12)
		at, miss := look(t, table, "v", 1.0, 0.0)
		require.Equal(t, Hit, miss)
		require.Equal(t, f[1][0], at)
		_, miss = look(t, table, "v", 1.1, y)
		require.Equal(t, TooHigh, miss)
	}
}

func FuzzReadCSV(f *testing.F) {
	f.Add([]byte(spans + "47x147, 400, 0.5, 3, -\n"))
	f.Add([]byte("a [mm] between, b\n0, 1\n10, 2\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, problems := ReadCSV("t", "t.csv", data)
		require.Equal(t, table == nil, len(problems) > 0)
		if table == nil {
			return
		}
		var c Cursor
		for i, k := range table.Keys {
			if k.IsText {
				require.Equal(t, Hit, table.Text(&c, i, table.Listed(i)[0]))
				continue
			}
			least, most := table.Range(i)
			require.LessOrEqual(t, least, most)
			require.Equal(t, Hit, table.Number(&c, i, most))
		}
		for v := range table.Values {
			if !table.Values[v].IsText {
				figure, miss := table.Figure(&c, v)
				require.True(t, miss != Hit || !math.IsNaN(figure))
			}
		}
	})
}
