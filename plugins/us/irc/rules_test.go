package irc_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/plugins/us/irc"
	"example.com/scantling/plugins/us/nds"
)

// R502.8.1 for a 2x10 as a public article prints it (document): notch 1.54 deep, 3.08 long, end notch 2.31, hole 3.08 in.
func TestCutsOfATwoByTen(t *testing.T) {
	c := irc.CutLimits(9.25*inch, 2)
	for what, pair := range map[string][2]float64{
		"notch": {1.54, c.NotchDepth}, "length": {3.08, c.NotchLength}, "end": {2.31, c.EndNotch}, "hole": {3.08, c.Hole}, "clear": {2, c.HoleClear},
	} {
		assert.InDelta(t, pair[0], pair[1]/inch, 0.005, what)
	}
	assert.True(t, c.TensionSide)
	assert.False(t, irc.CutLimits(9.25*inch, 4).TensionSide)
}

func TestMiddleThird(t *testing.T) {
	const span = 3000
	for _, row := range []struct {
		says     string
		from, to float64
		want     bool
	}{
		{"ends where the third begins", 950, 1000, false},
		{"reaches into it", 950, 1001, true},
		{"inside", 1400, 1450, true},
		{"covers it", 900, 2100, true},
		{"begins where it ends", 2000, 2050, false},
	} {
		assert.Equal(t, row.want, irc.InMiddleThird(row.from, row.to, span), row.says)
	}
}

func TestOverhangNotch(t *testing.T) {
	assert.True(t, irc.OverhangNotch(3.5*inch, 24*inch))
	assert.False(t, irc.OverhangNotch(3.4*inch, 24*inch))
	assert.False(t, irc.OverhangNotch(3.5*inch, 24.1*inch))
	assert.False(t, irc.OverhangNotch(math.NaN(), 0))
}

func TestLeastBearing(t *testing.T) {
	for on, want := range map[irc.Support]float64{irc.Wood: 1.5, irc.Metal: 1.5, irc.Masonry: 3, irc.Concrete: 3} {
		got, source, err := irc.LeastBearing(on)
		require.NoError(t, err)
		assert.InDelta(t, want*inch, got, 1e-9)
		assert.NotEmpty(t, source.Clause)
	}
	_, _, err := irc.LeastBearing("straw")
	assert.ErrorContains(t, err, "straw")
}

// A 2x8 at 12 in 12 is cut 7.25 x sqrt(2) = 10.25 in deep, so that a 2x12 (11.25) serves as ridge and a 2x10 does not.
func TestRidge(t *testing.T) {
	assert.InDelta(t, 10.25, irc.CutEnd(7.25*inch, math.Pi/4)/inch, 0.005)
	assert.True(t, irc.AsBeams(math.Atan(2.9/12)))
	assert.False(t, irc.AsBeams(math.Atan(3.0/12)), "3 in 12 itself is steep enough")
}

func TestLoadsAndLimits(t *testing.T) {
	for place, psf := range map[irc.Place]float64{
		irc.SleepingRoom: 30, irc.OtherRoom: 40, irc.Stairs: 40, irc.Deck: 40, irc.EmptyAttic: 10, irc.StorageAttic: 20, irc.HabitableLoft: 30,
	} {
		got, err := irc.LiveLoad(place)
		require.NoError(t, err)
		assert.InDelta(t, psf, got/irc.PSF, 1e-9, place)
	}
	_, err := irc.LiveLoad("ballroom")
	assert.ErrorContains(t, err, "ballroom")
	for part, n := range map[irc.Part]float64{irc.BareRafter: 180, irc.Floor: 360, irc.BrittleCeiling: 360, irc.FlexibleCeiling: 240, irc.Other: 240} {
		got, err := irc.DeflectionLimit(part)
		require.NoError(t, err)
		assert.Equal(t, n, got, part)
	}
	_, err = irc.DeflectionLimit("")
	assert.Error(t, err)
	for _, row := range []struct{ rise, area, psf float64 }{
		{3, 200, 20}, {3, 201, 16}, {3, 600, 16}, {3, 601, 12}, {4, 200, 16}, {4, 300, 14}, {11.9, 700, 12}, {12, 100, 12}, {18, 100, 12},
	} {
		got, err := irc.RoofLiveLoad(math.Atan(row.rise/12), row.area*irc.Foot*irc.Foot)
		require.NoError(t, err)
		assert.InDelta(t, row.psf, got/irc.PSF, 1e-9, "%v", row)
	}
	_, err = irc.RoofLiveLoad(math.NaN(), 1)
	assert.Error(t, err)
}

func TestLateralSupport(t *testing.T) {
	for section, want := range map[string][2]irc.LateralSupport{
		"2x10": {{}, {AtBearings: true}},
		"2x12": {{AtBearings: true}, {AtBearings: true}},
		"2x14": {{AtBearings: true, Bridging: 8 * irc.Foot}, {AtBearings: true, Bridging: 8 * irc.Foot}},
		"4x14": {{}, {AtBearings: true, Bridging: 8 * irc.Foot}},
	} {
		s, err := nds.ParseSection(section)
		require.NoError(t, err)
		assert.Equal(t, want, [2]irc.LateralSupport{irc.RoofLateralSupport(s), irc.FloorLateralSupport(s)}, section)
	}
}
