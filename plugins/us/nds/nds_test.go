package nds_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/nds"
)

// member puts a grade of the 2018 edition into a nominal size.
func member(t testing.TB, grade, section string, service nds.Service) nds.Member {
	t.Helper()
	g, err := nds.Lookup(nds.Supplement2018, grade)
	require.NoError(t, err)
	s, err := nds.ParseSection(section)
	require.NoError(t, err)
	return nds.Member{Section: s, Grade: g, Service: service}
}

// step finds a line of the working; inPSI turns its stress back.
func step(t testing.TB, c nds.Check, symbol string) float64 {
	t.Helper()
	for _, s := range c.Steps {
		if s.Symbol == symbol {
			return s.Value
		}
	}
	require.Failf(t, "no such step", "%s in %v", symbol, c.Steps)
	return 0
}

func inPSI(v float64) float64 { return v / nds.PSI }

const (
	pound = 4.4482216152605 // N
	inch  = nds.Inch
)

func requireAbsence(t testing.TB, err error, words string) {
	t.Helper()
	var a *nds.Absence
	require.ErrorAs(t, err, &a)
	assert.Contains(t, a.Error(), words)
	assert.NotEmpty(t, a.What)
	assert.NotEmpty(t, a.Reason)
}
