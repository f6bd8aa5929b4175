package frame_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// document reads members.
func document(t testing.TB, members string) *model.Document {
	t.Helper()
	doc, problems := read.Document([]byte(`{"framing": 1, "title": "frame", "units": "metric", "members": {`+members+`}}`), "frame.json")
	require.Empty(t, problems)
	return doc
}

func assemble(t testing.TB, members string) *frame.Frame {
	t.Helper()
	return frame.Assemble(document(t, members), frame.After)
}

// supportsOf is the supports of a piece by its name.
func supportsOf(t testing.TB, f *frame.Frame, name string) []frame.Support {
	t.Helper()
	for i := range f.Pieces {
		if f.Name(int32(i)) == name {
			s, _ := f.SupportsOf(int32(i))
			return s
		}
	}
	require.Fail(t, "no piece "+name)
	return nil
}

// on is the name of what a support rests on, empty for nothing.
func on(f *frame.Frame, s *frame.Support) string {
	if s.On < 0 {
		return ""
	}
	return f.Name(s.On)
}

// The floor of these tests: wall W along x, 140 wide, its top at 2400; wall V 4 m further; beam B, 100 wide and 300 deep
// with its axis at 2400, another 4 m on. A joist J 47x195 has its axis 97.5 above what it lies on.
const floor = `
	"W": {"role": "wall", "width": 140, "ground": true, "path": [[0, 0, 2400], [6000, 0, 2400]]},
	"V": {"role": "wall", "width": 140, "ground": true, "path": [[6000, 4000, 2400], [0, 4000, 2400]]},
	"B": {"role": "beam", "section": "100x300", "path": [[0, 8000, 2400], [6000, 8000, 2400]], "supports": []}`

func joist(path, supports string) string {
	return `"J": {"role": "floor joist", "section": "47x195", "path": ` + path + `, "supports": [` + supports + `]},` + floor
}

func TestSupports(t *testing.T) {
	for _, row := range []struct {
		say     string
		members string
		piece   string
		index   int
		want    frame.Support // On, Piece and Document are left out
		on      string
	}{
		{"the first of two is found at the start", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{At: 0, OnAt: 1000, Placed: true}, "W"},
		{"the second at the end, along a wall drawn the other way", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 1,
			frame.Support{At: 4000, OnAt: 5000, Placed: true}, "V"},
		{"one between the ends where the axis passes over it", joist(`[[1000, -600, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{At: 600, OnAt: 1000, Placed: true}, "W"},
		{"the place that the document says stands", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W", "at": 60}, {"on": "V"}`), "J", 0,
			frame.Support{At: 60, OnAt: 1000, Eccentric: 60, Placed: true}, "W"},
		{"said to be 100 beyond the end, off the 140 wall's body by 30", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V", "at": 4100}`), "J", 1,
			frame.Support{At: 4100, OnAt: 5000, Eccentric: 100, Offset: 30, BeyondEnd: 100, Placed: true}, "V"},
		{"stopping short of the axis, within the body", joist(`[[1000, 50, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{At: 0, OnAt: 1000, Eccentric: 50, Placed: true}, "W"},
		{"stopping short of the body by 30", joist(`[[1000, 100, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{At: 0, OnAt: 1000, Eccentric: 100, Offset: 30, Placed: true}, "W"},
		{"landing 50 past the wall's end", joist(`[[6050, 0, 2497.5], [6050, 4000, 2497.5]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{At: 0, OnAt: 6000, Eccentric: 50, LandsPast: 50, Placed: true}, "W"},
		{"200 off in level, of which half the depth is the joist's", joist(`[[1000, 0, 2600], [1000, 4000, 2600]]`, `{"on": "W"}, {"on": "V"}`), "J", 0,
			frame.Support{OnAt: 1000, Level: 102.5, Placed: true}, "W"},
		{"a padstone 100 high makes it up", joist(`[[1000, 0, 2600], [1000, 4000, 2600]]`, `{"on": "W", "seat": {"kind": "padstone", "size": "440x140x100"}}, {"on": "V"}`), "J", 0,
			frame.Support{OnAt: 1000, Level: 2.5, Placed: true}, "W"},
		{"a hanger holds it beside the beam at any level", joist(`[[1000, 4000, 2600], [1000, 8000, 2600]]`, `{"on": "V"}, {"on": "B", "by": "hanger"}`), "J", 1,
			frame.Support{At: 4000, OnAt: 1000, Placed: true}, "B"},
		{"on a beam: half of both depths", joist(`[[1000, 4000, 2747.5], [1000, 8000, 2747.5]]`, `{"on": "V"}, {"on": "B"}`), "J", 1,
			frame.Support{At: 4000, OnAt: 1000, Level: 100, Placed: true}, "B"},
		{"let into the beam is no gap", joist(`[[1000, 4000, 2600], [1000, 8000, 2600]]`, `{"on": "V"}, {"on": "B"}`), "J", 1,
			frame.Support{At: 4000, OnAt: 1000, Placed: true}, "B"},
		// 3-4-5, 4 up on 3: half of 120 deep is 60 / 0.6 = 100 measured upright.
		{"of a slope half the depth measured upright", `"R": {"role": "rafter", "section": "47x120", "path": [[1000, 0, 2550], [1000, 3000, 6550]], "supports": [{"on": "W"}]},` + floor, "R", 0,
			frame.Support{OnAt: 1000, Level: 50, Placed: true}, "W"},
		{"a flat plate is as deep as it is thick: 23.5 over the wall", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 0, 2430], [6000, 0, 2430]],
			"supports": [{"on": "W", "continuous": true}]},` + floor, "P", 0,
			frame.Support{At: 3000, OnAt: 3000, To: 6000, Level: 6.5, Continuous: true, Placed: true}, "W"},
		{"packing under its ends", `"K": {"role": "beam", "section": "47x195", "packer": 10, "path": [[1000, 0, 2510], [1000, 4000, 2510]], "supports": [{"on": "W"}]},` + floor, "K", 0,
			frame.Support{OnAt: 1000, Level: 2.5, Placed: true}, "W"},
		{"a post stands with its foot on the beam's top", `"P": {"role": "post", "section": "97x97", "path": [[2000, 8000, 2550], [2000, 8000, 4000]], "supports": [{"on": "B"}]},` + floor, "P", 0,
			frame.Support{OnAt: 2000, Placed: true}, "B"},
		{"a post drawn from its head down too", `"P": {"role": "post", "section": "97x97", "path": [[2000, 8000, 4000], [2000, 8000, 2550]], "supports": [{"on": "B"}]},` + floor, "P", 0,
			frame.Support{At: 1450, OnAt: 2000, Placed: true}, "B"},
		{"a post 60 aside of a beam 100 wide", `"P": {"role": "post", "section": "97x97", "path": [[2000, 8060, 2550], [2000, 8060, 4000]], "supports": [{"on": "B"}]},` + floor, "P", 0,
			frame.Support{OnAt: 2000, Eccentric: 60, Offset: 10, Placed: true}, "B"},
		{"a beam lies on the head of a post", `"P": {"role": "post", "section": "97x97", "path": [[3000, 0, 0], [3000, 0, 2400]]},
			"K": {"role": "beam", "section": "97x200", "path": [[0, 0, 2500], [3000, 0, 2500]], "supports": [{"on": "P"}]}`, "K", 0,
			frame.Support{At: 3000, OnAt: 2400, Placed: true}, "P"},
		// Its path is its top at 4400, it is 2000 high, and the lintel's top is 2300 + 100.
		{"a wall stands on its underside", `"U": {"role": "wall", "width": 100, "height": 2000, "path": [[1000, 0, 4400], [2000, 0, 4400]], "supports": [{"on": "L", "continuous": true}]},
			"L": {"role": "lintel", "section": "100x200", "path": [[800, 0, 2300], [2200, 0, 2300]]}`, "U", 0,
			frame.Support{At: 500, OnAt: 700, To: 1000, Continuous: true, Placed: true}, "L"},
		{"a plate is bedded where it overlaps", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[-1000, 0, 2423.5], [4000, 0, 2423.5]],
			"supports": [{"on": "W", "continuous": true}]},` + floor, "P", 0,
			frame.Support{At: 3000, OnAt: 2000, From: 1000, To: 5000, Continuous: true, Placed: true}, "W"},
		{"or where the document says", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[-1000, 0, 2423.5], [4000, 0, 2423.5]],
			"supports": [{"on": "W", "continuous": true, "from": 2000, "to": 4000}]},` + floor, "P", 0,
			frame.Support{At: 3000, OnAt: 2000, From: 2000, To: 4000, Continuous: true, Placed: true}, "W"},
		{"as far as something is there", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[-1000, 0, 2423.5], [4000, 0, 2423.5]],
			"supports": [{"on": "W", "continuous": true, "from": 0, "to": 4000}]},` + floor, "P", 0,
			frame.Support{At: 2500, OnAt: 1500, From: 1000, To: 4000, Continuous: true, Placed: true}, "W"},
		{"a plate that crosses a wall 140 wide lies on no more than that", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[1000, -500, 2423.5], [1000, 1500, 2423.5]],
			"supports": [{"on": "W", "continuous": true}]},` + floor, "P", 0,
			frame.Support{At: 500, OnAt: 1000, From: 430, To: 570, Continuous: true, Placed: true}, "W"},
		{"of a wall that turns a corner, on the leg that is under it", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[0, 0, 2423.5], [6000, 0, 2423.5]],
			"supports": [{"on": "T", "continuous": true}]}, "T": {"role": "wall", "width": 140, "path": [[0, 0, 2400], [2000, 0, 2400], [2000, 3000, 2400], [6000, 3000, 2400]]}`, "P", 0,
			frame.Support{At: 1000, OnAt: 1000, To: 2000, Continuous: true, Placed: true}, "T"},
		{"a plate that runs along nothing lies where it comes nearest, off by what it is", `"P": {"role": "wall plate", "section": "47x97", "flat": true, "path": [[1000, 1000, 2423.5], [1000, 3000, 2423.5]],
			"supports": [{"on": "W", "continuous": true}]},` + floor, "P", 0,
			frame.Support{OnAt: 1000, Eccentric: 1000, Offset: 930, Continuous: true, Placed: true}, "W"},
		{"a mark that the model lacks", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "X"}`), "J", 1,
			frame.Support{At: 4000, OnAt: -1, Problem: frame.NamesNoMark}, ""},
		{"a mark that it lacks, at a place that is said", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "X", "at": 3900}`), "J", 1,
			frame.Support{At: 3900, OnAt: -1, Problem: frame.NamesNoMark}, ""},
		{"itself", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "J"}, {"on": "V"}`), "J", 0,
			frame.Support{OnAt: -1, Problem: frame.NamesItself}, ""},
		{"what goes does not stand", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "O"}`) +
			`, "O": {"role": "wall", "phase": "removed", "ground": true, "path": [[0, 2000, 2400], [6000, 2000, 2400]]}`, "J", 1,
			frame.Support{At: 4000, OnAt: -1, Problem: frame.NamesGone}, ""},
		{"without a path the first of two is at the start", `"J": {"role": "floor joist", "length": 3000, "supports": [{"on": "W"}, {"on": "V"}]},` + floor, "J", 0,
			frame.Support{OnAt: -1}, "W"},
		{"and the second at the end", `"J": {"role": "floor joist", "length": 3000, "supports": [{"on": "W"}, {"on": "V"}]},` + floor, "J", 1,
			frame.Support{At: 3000, OnAt: -1}, "V"},
		{"without a path one of three says nothing of its place", `"J": {"role": "floor joist", "length": 3000, "supports": [{"on": "W"}, {"on": "V"}, {"on": "B"}]},` + floor, "J", 1,
			frame.Support{OnAt: -1, Problem: frame.NoPlace}, "V"},
		{"nor does one of a member without a length", `"J": {"role": "floor joist", "supports": [{"on": "W"}]},` + floor, "J", 0,
			frame.Support{OnAt: -1, Problem: frame.NoPlace}, "W"},
		{"said to be beyond a length", `"J": {"role": "floor joist", "length": 3000, "supports": [{"on": "W"}, {"on": "V", "at": 3200}]},` + floor, "J", 1,
			frame.Support{At: 3200, OnAt: -1, BeyondEnd: 200}, "V"},
		{"a post by its length stands on its foot", `"P": {"role": "post", "length": 2400, "pitch": 90, "supports": [{"on": "W"}]},` + floor, "P", 0,
			frame.Support{OnAt: -1}, "W"},
		{"what has a path on what has none", joist(`[[1000, 0, 2497.5], [1000, 4000, 2497.5]]`, `{"on": "W"}, {"on": "D"}`) + `, "D": {"role": "wall", "ground": true}`, "J", 1,
			frame.Support{At: 4000, OnAt: -1}, "D"},
		{"bedded by its length alone", `"P": {"role": "wall plate", "length": 3000, "supports": [{"on": "W", "continuous": true}]},` + floor, "P", 0,
			frame.Support{At: 1500, OnAt: -1, To: 3000, Continuous: true}, "W"},
	} {
		t.Run(row.say, func(t *testing.T) {
			f := assemble(t, row.members)
			s := supportsOf(t, f, row.piece)[row.index]
			assert.Equal(t, row.on, on(f, &s))
			assert.EqualValues(t, row.index, s.Document)
			alike(t, row.want, s)
		})
	}
}

// alike compares two supports but for what they belong to.
func alike(t *testing.T, want, got frame.Support) {
	t.Helper()
	for _, v := range []struct {
		what      string
		want, got float64
	}{
		{"at", want.At, got.At}, {"on at", want.OnAt, got.OnAt}, {"offset", want.Offset, got.Offset}, {"eccentric", want.Eccentric, got.Eccentric},
		{"level", want.Level, got.Level}, {"beyond end", want.BeyondEnd, got.BeyondEnd}, {"lands past", want.LandsPast, got.LandsPast},
		{"from", want.From, got.From}, {"to", want.To, got.To},
	} {
		assert.InDelta(t, v.want, v.got, 1e-6, v.what)
	}
	assert.Equal(t, want.Continuous, got.Continuous)
	assert.Equal(t, want.Placed, got.Placed)
	assert.Equal(t, want.Problem, got.Problem)
	assert.Equal(t, want.Problem == frame.Sound, got.Holds())
}

// The floor again with everything a survey's grid away.
func TestPlaceOfTheWholeModelChangesNothing(t *testing.T) {
	members := joist(`[[1000, 50, 2600], [1000, 4000, 2600]]`, `{"on": "W"}, {"on": "V", "at": 3990}`)
	near, far := document(t, members), document(t, members)
	for i := range far.Members {
		for k := range far.Members[i].Path {
			p := &far.Members[i].Path[k]
			p.X, p.Y, p.Z = p.X+1e7, p.Y-1e7, p.Z+1e7
		}
	}
	a, b := frame.Assemble(near, frame.After), frame.Assemble(far, frame.After)
	require.Equal(t, len(a.Supports), len(b.Supports))
	for i := range a.Supports {
		alike(t, a.Supports[i], b.Supports[i])
	}
	assert.Equal(t, a.Order, b.Order)
}

// A wall comes out and a beam takes its place: the joist stays.
func TestStages(t *testing.T) {
	doc := document(t, `
		"J": {"role": "floor joist", "phase": "existing", "path": [[0, 0, 0], [0, 4000, 0]], "supports": [{"on": "O"}, {"on": "N"}]},
		"O": {"role": "wall", "phase": "removed", "ground": true, "path": [[-500, 0, 0], [500, 0, 0]]},
		"N": {"role": "beam", "path": [[-500, 4000, 0], [500, 4000, 0]]}`)
	for _, row := range []struct {
		stage  frame.Stage
		pieces []string
		wrong  [2]frame.Problem
	}{
		{frame.Before, []string{"J", "O"}, [2]frame.Problem{frame.Sound, frame.NamesGone}},
		{frame.After, []string{"J", "N"}, [2]frame.Problem{frame.NamesGone, frame.Sound}},
	} {
		f := frame.Assemble(doc, row.stage)
		var names []string
		for i := range f.Pieces {
			names = append(names, f.Name(int32(i)))
		}
		assert.Equal(t, row.pieces, names)
		s := supportsOf(t, f, "J")
		assert.Equal(t, row.wrong, [2]frame.Problem{s[0].Problem, s[1].Problem})
	}
}

func TestNames(t *testing.T) {
	f := assemble(t, `
		"A": {"role": "beam", "path": [[0, 0, 0], [1000, 0, 0]]},
		"B": {"role": "beam", "path": [[0, 0, 0], [1000, 0, 0]], "repeat": {"count": 1, "step": [0, 400, 0]}},
		"C": {"role": "beam", "path": [[0, 0, 0], [1000, 0, 0]], "repeat": {"count": 3, "step": [0, 400, 0]}}`)
	var names []string
	for i := range f.Pieces {
		names = append(names, f.Name(int32(i)))
	}
	assert.Equal(t, []string{"A", "B", "C#1", "C#2", "C#3"}, names, "a run of one is called by its mark")
	from, to := f.PiecesOf(2)
	assert.Equal(t, [2]int32{2, 5}, [2]int32{from, to})
	assert.Equal(t, model.Point{X: 250, Y: 800}, f.Point(4, 250), "the third piece is two steps on")
}
