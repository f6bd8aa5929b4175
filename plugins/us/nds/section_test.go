package nds_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/nds"
)

func TestParseSection(t *testing.T) {
	for _, row := range []struct {
		says, notation   string
		thickness, width float64 // dressed, inches
		plies            int
		err              string
	}{
		{"a joist", "2x10", 1.5, 9.25, 1, ""},
		{"a header of three", "3/2x12", 1.5, 11.25, 3, ""},
		{"a post", "4x4", 3.5, 3.5, 1, ""},
		{"a board has no design values", "1x6", 0, 0, 0, "dimension lumber"},
		{"a timber is in a table that is not held", "6x6", 0, 0, 0, "dimension lumber"},
		{"no such width", "2x7", 0, 0, 0, "no such nominal width"},
		{"a metric size", "47x195", 0, 0, 0, "dimension lumber"},
		{"the wide face comes second", "4x2", 0, 0, 0, "no such nominal width"},
		{"no plies", "0/2x8", 0, 0, 0, "plies"},
		{"a slip of the pen", "200/2x8", 0, 0, 0, "plies"},
		{"no numbers", "two by four", 0, 0, 0, "nominal inches"},
		{"nothing", "", 0, 0, 0, "nominal inches"},
	} {
		t.Run(row.says, func(t *testing.T) {
			s, err := nds.ParseSection(row.notation)
			if row.err != "" {
				requireAbsence(t, err, row.err)
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, row.thickness*inch, s.Thickness, 1e-9)
			assert.InDelta(t, row.width*inch, s.Width, 1e-9)
			assert.Equal(t, row.plies, s.Plies)
			assert.Equal(t, row.notation, s.String())
			same, err := nds.DressedSection(s.Thickness, s.Width, s.Plies)
			require.NoError(t, err)
			assert.Equal(t, s, same)
		})
	}
	_, err := nds.DressedSection(38, 220, 1)
	requireAbsence(t, err, "must be graded again")
}

// NDS Supplement Table 1B (memory): 2x10 has A = 13.88 in2, S = 21.39 in3, I = 98.93 in4.
func TestSectionProperties(t *testing.T) {
	s, err := nds.ParseSection("2x10")
	require.NoError(t, err)
	assert.InDelta(t, 13.88, s.Area()/inch/inch, 0.006)
	assert.InDelta(t, 21.39, s.Modulus()/inch/inch/inch, 0.006)
	assert.InDelta(t, 98.93, s.Inertia()/inch/inch/inch/inch, 0.006)
	s.Flat = true
	assert.InDelta(t, 3.469, s.Modulus()/inch/inch/inch, 0.001, "laid flat: 9.25 x 1.5^2 / 6")
	assert.InDelta(t, 13.88, s.Area()/inch/inch, 0.006)
}

func FuzzParseSection(f *testing.F) {
	for _, s := range []string{"2x10", "3/2x12", "", "x", "/", "2x", "-2x10", "2x10x2", "99999999999999999999x4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, notation string) {
		s, err := nds.ParseSection(notation)
		if err != nil {
			requireAbsence(t, err, "")
			return
		}
		again, err := nds.ParseSection(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, again)
		assert.Positive(t, s.Modulus())
	})
}
