package plane

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMembersThatCannotBeSet(t *testing.T) {
	level := []Point{{}, {U: 1000}}
	nan := math.NaN()
	rows := []struct {
		name     string
		axis     []Point
		supports []Support
		k        Stiffness
		want     error
		index    int
	}{
		{"one point has no length", level[:1], ends(0), Stiffness{}, ErrLength, 0},
		{"two points in one place", []Point{{1, 2}, {1, 2}}, ends(0), Stiffness{}, ErrLength, 1},
		{"a point that is no number", []Point{{}, {nan, 0}}, ends(0), Stiffness{}, ErrNotFinite, 1},
		{"points too far apart to measure", []Point{{-1e308, 0}, {1e308, 0}}, ends(0), Stiffness{}, ErrNotFinite, 0},
		{"no support", level, nil, Stiffness{}, ErrMechanism, 0},
		{"a support beyond the end", level, ends(0, 1001), Stiffness{}, ErrBeyond, 1},
		{"a support before the start", level, ends(-1, 1000), Stiffness{}, ErrBeyond, 0},
		{"a support nowhere", level, ends(0, nan), Stiffness{}, ErrNotFinite, 1},
		{"two supports in one place", level, ends(500, 0, 500), Stiffness{}, ErrCoincident, 2},
		{"a negative stiffness", level, ends(0, 1000), Stiffness{EI: -1}, ErrStiffness, 0},
		{"a stiffness that is no number", level, ends(0, 1000), Stiffness{EA: nan}, ErrNotFinite, 0},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			_, err := NewMember(r.axis, r.supports, r.k)
			require.ErrorIs(t, err, r.want)
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.Equal(t, r.index, e.Index)
			assert.NotEmpty(t, e.Error())
		})
	}
	_, err := NewMember([]Point{{}, {nan, 0}, {0, nan}}, nil, Stiffness{EA: nan, EI: nan})
	var joined interface{ Unwrap() []error }
	require.True(t, errors.As(err, &joined))
	assert.Len(t, joined.Unwrap(), 2, "points and stiffness are reported in one go")
}

func TestCasesThatCannotBeSolved(t *testing.T) {
	level, slope, post := []Point{{}, {U: 1000}}, []Point{{}, {1000, 500}}, []Point{{}, {Z: 2500}}
	rows := []struct {
		name     string
		axis     []Point
		supports []Support
		k        Stiffness
		loads    []Load
		want     error
	}{
		{"nothing holds the drift", slope, []Support{{}, {At: 1118}}, Stiffness{}, []Load{Force(500, 10, -10)}, ErrDrift},
		{"one support lets the member swing", level, ends(0), Stiffness{}, []Load{Force(500, 0, -10)}, ErrMechanism},
		{"a post on one support under an eccentric load", post, ends(0), Stiffness{}, []Load{Force(2500, 0, -10), {Moment: 5}}, ErrMechanism},
		{"supports above one another do not stop a push aside", post, ends(0, 2500), Stiffness{}, []Load{Force(1000, 10, 0)}, ErrMechanism},
		{"three supports without EI", level, ends(0, 400, 1000), Stiffness{EA: 1e8}, []Load{Force(500, 0, -10)}, ErrStiffness},
		{"three supports on a slope without EA", slope, ends(0, 400, 1000), Stiffness{EI: 1e11}, []Load{Force(500, 0, -10)}, ErrStiffness},
		{"a load beyond the end", level, ends(0, 1000), Stiffness{}, []Load{Force(1010, 0, -10)}, ErrBeyond},
		{"a load that ends before it starts", level, ends(0, 1000), Stiffness{}, []Load{{From: 10, To: 5}}, ErrLoad},
		{"a point load with two intensities", level, ends(0, 1000), Stiffness{}, []Load{{From: 10, To: 10, Z1: 1}}, ErrLoad},
		{"a spread moment", level, ends(0, 1000), Stiffness{}, []Load{{From: 10, To: 20, Moment: 1}}, ErrLoad},
		{"a load that is no number", level, ends(0, 1000), Stiffness{}, []Load{Force(10, math.NaN(), 0)}, ErrNotFinite},
		{"loads too large to add up", level, ends(0, 1000), Stiffness{}, []Load{Force(10, 0, 1e308), Force(20, 0, 1e308)}, ErrNotFinite},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			m, err := NewMember(r.axis, r.supports, r.k)
			require.NoError(t, err)
			kept := []Reaction{{U: 7}}
			got, err := m.Reactions(kept, r.loads)
			require.ErrorIs(t, err, r.want)
			assert.Equal(t, kept, got, "nothing is appended with an error")
			var e *Error
			require.ErrorAs(t, err, &e)
			assert.NotEmpty(t, e.Text)
		})
	}
}

func TestMembersThatStandAllTheSame(t *testing.T) {
	t.Run("a post on one support carries what comes down its axis", func(t *testing.T) {
		m, err := NewMember([]Point{{Z: 100}, {Z: 2600}}, ends(0), Stiffness{EA: 1e8, EI: 1e10})
		require.NoError(t, err)
		var d Diagram
		r, err := m.Solve(&d, nil, []Load{Force(2500, 0, -8000), {From: 0, To: 2500, Z0: -0.1, Z1: -0.1}})
		require.NoError(t, err)
		assert.InEpsilon(t, 8250, r[0].Z, 1e-12)
		n, _ := d.Range(Axial)
		assert.InEpsilon(t, -8250, n.Min.Value, 1e-12)
		assert.InEpsilon(t, -8000, n.Max.Value, 1e-12)
		m0, _ := d.Range(Moment)
		assert.Equal(t, Range{}, m0)
	})
	t.Run("a rafter without a horizontal hold under gravity", func(t *testing.T) {
		m, err := NewMember([]Point{{}, {3000, 2000}}, []Support{{}, {At: math.Hypot(3000, 2000)}}, Stiffness{EA: 1e8, EI: 1e11})
		require.NoError(t, err)
		var d Diagram
		r, err := m.Solve(&d, nil, []Load{Force(1000, 0, -900)})
		require.NoError(t, err)
		assert.InEpsilon(t, 900, r[0].Z+r[1].Z, 1e-12)
		assert.True(t, d.Known(Deflection))
	})
	t.Run("two supports above one another share by the lengths between", func(t *testing.T) {
		m, err := NewMember([]Point{{}, {Z: 3000}}, ends(0, 3000), Stiffness{EA: 1e8})
		require.NoError(t, err)
		r, err := m.Reactions(nil, []Load{Force(1000, 0, -900)})
		require.NoError(t, err)
		assert.InEpsilon(t, 600, r[0].Z, 1e-9)
		assert.InEpsilon(t, 300, r[1].Z, 1e-9)
	})
	t.Run("a fixed foot without a horizontal hold carries gravity", func(t *testing.T) {
		m, err := NewMember([]Point{{}, {U: 1000}}, []Support{{Fixed: true}}, Stiffness{})
		require.NoError(t, err)
		r, err := m.Reactions(nil, []Load{Force(1000, 0, -10)})
		require.NoError(t, err)
		assert.Equal(t, []Reaction{{Z: 10, Moment: -10000}}, r)
	})
	t.Run("places written with a few decimals mean the end, and no load is lost", func(t *testing.T) {
		l := math.Hypot(3000, 2000)
		m, err := NewMember([]Point{{}, {3000, 2000}}, ends(0, l+1e-4), Stiffness{})
		require.NoError(t, err)
		var d Diagram
		r, err := m.Solve(&d, nil, []Load{{From: -1e-4, To: l + 2e-4, Z0: -1, Z1: -1}, Force(l-1e-4, 0, -100)})
		require.NoError(t, err)
		assert.InEpsilon(t, l+3e-4+100, r[0].Z+r[1].Z, 1e-14)
		assert.Len(t, d.Breaks(), 2, "no sliver is left at the end")
	})
}

func TestAxis(t *testing.T) {
	a, err := NewAxis(Point{}, Point{U: 1000}, Point{U: 2000}, Point{2300, 400})
	require.NoError(t, err)
	assert.Equal(t, []float64{2000}, a.Kinks(), "a point in line is no kink")
	assert.Equal(t, 2500., a.Length())
	assert.Equal(t, Point{2150, 200}, a.At(2250))
	assert.Equal(t, Point{2300, 400}, a.At(9999))
	cos, sin := a.Direction(2000)
	assert.InDelta(t, 0.6, cos, 1e-15)
	assert.InDelta(t, 0.8, sin, 1e-15)
	var zero Axis
	assert.Zero(t, zero.Length())
	assert.Equal(t, Point{}, zero.At(3))
	assert.True(t, zero.Straight())
	assert.Nil(t, zero.Kinks())
}

func TestDiagramsThatAreNotTheMembers(t *testing.T) {
	m, err := NewMember([]Point{{}, {U: 1000}}, ends(0, 1000), Stiffness{EI: 1e10})
	require.NoError(t, err)
	var d Diagram
	assert.ErrorIs(t, m.Deflect(&d), ErrMismatch)
	assert.ErrorIs(t, m.Diagram(&d, nil, nil), ErrMismatch)
	_, known := d.Value(Moment, 5, After)
	assert.False(t, known)
	_, known = d.Range(Moment)
	assert.False(t, known)
	_, known = d.Within(Quantity(99), 0, 1)
	assert.False(t, known)
	assert.Empty(t, d.Breaks())
}

func TestMemberThatIsNotSet(t *testing.T) {
	var m Member
	require.Error(t, m.Set([]Point{{}, {U: 1000}}, nil, Stiffness{}))
	_, err := m.Reactions(nil, nil)
	assert.ErrorIs(t, err, ErrMechanism)
	assert.ErrorIs(t, m.Diagram(new(Diagram), nil, nil), ErrMechanism)
	_, err = m.Answer(nil, 0)
	assert.ErrorIs(t, err, ErrMechanism)
}

// A Member that is set again forgets the one before.
func TestMemberSetAgain(t *testing.T) {
	var m Member
	require.NoError(t, m.Set([]Point{{}, {3000, 900}, {5000, 0}}, ends(0, 2000, 5000), Stiffness{EA: 1e8, EI: 1e11}))
	_, err := m.Reactions(nil, []Load{Force(1000, 0, -900)})
	require.NoError(t, err)
	require.NoError(t, m.Set([]Point{{}, {U: 4000}}, ends(0, 4000), Stiffness{}))
	require.True(t, m.Determinate())
	r, err := m.Reactions(nil, []Load{Force(1000, 0, -900)})
	require.NoError(t, err)
	assert.InEpsilon(t, 675, r[0].Z, 1e-12)
	require.NoError(t, m.Set([]Point{{}, {U: 6000}}, ends(0, 3000, 6000), Stiffness{EI: 1}))
	r, err = m.Reactions(nil, []Load{{From: 0, To: 6000, Z0: -1, Z1: -1}})
	require.NoError(t, err)
	assert.InEpsilon(t, 3750, r[1].Z, 1e-12)
}

func TestDeterminateMembersDoNotAllocate(t *testing.T) {
	var m Member
	var d Diagram
	axis, supports := []Point{{}, {U: 4000, Z: 800}}, ends(200, 4000)
	loads := []Load{{From: 0, To: 4000, Z0: -1, Z1: -2}, Force(1500, 0, -900)}
	var r []Reaction
	run := func() {
		if err := m.Set(axis, supports, Stiffness{EA: 1e8, EI: 1e11}); err != nil {
			t.Fatal(err)
		}
		var err error
		if r, err = m.Solve(&d, r[:0], loads); err != nil {
			t.Fatal(err)
		}
		for q := range quantities {
			d.Range(q)
		}
	}
	run()
	assert.Zero(t, testing.AllocsPerRun(100, run))
}
