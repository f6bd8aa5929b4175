package main

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
)

// Trade facts (common practice, no source): what carpenters know must come out of the figures.

func TestTwo50x100FixedTogetherServeAsA100x100StudOneWay(t *testing.T) {
	two, one := section(t, "2/50x100"), section(t, "100x100")
	assert.InEpsilon(t, one.Area, two.Area, 1e-12)
	assert.InEpsilon(t, one.Iy, two.Iy, 1e-12, "about the axis that keeps them 100 deep")
	assert.InEpsilon(t, one.Wy, two.Wy, 1e-12)
	assert.InEpsilon(t, one.Iz/4, two.Iz, 1e-12, "about the other they slide on each other: two at an eighth each")

	found := foundIn(t, small(`
		"W1": {"role": "wall", "material": "masonry", "width": 140, "path": [[0,0,0],[4000,0,0]], "ground": true},
		"ST1": {"role": "stud", "section": "2/50x100", "grade": "C16", "path": [[1000,0,0],[1000,0,2400]], "supports": [{"on": "W1", "bearing": 100}], "plies_joined": "nailed at 300 mm"},
		"ST2": {"role": "stud", "section": "97x97", "grade": "C16", "path": [[2000,0,0],[2000,0,2400]], "supports": [{"on": "W1", "bearing": 97}]}`))[0]
	assert.Contains(t, found, "ST1: note practice/built-up-post", "and the program says which way")
	assert.NotContains(t, found, "ST2: note practice/built-up-post")
}

func TestHipsAndRidgeOf225StandOver150Rafters(t *testing.T) {
	found := foundIn(t, small(ridgeAt(35)), small(ridgeAt(45)), small(ridgeAt(50)))
	const shallow = "RB1: stop practice/deeper-than-cut"
	assert.NotContains(t, found[0], shallow, "at 35 degrees")
	assert.NotContains(t, found[1], shallow, "at 45 degrees")
	assert.Contains(t, found[2], shallow, "at 50 degrees: 150 / cos 50 is 233")
}

func TestSmallHippedRoofIs150At600Or125At400(t *testing.T) {
	deep, close := section(t, "50x150"), section(t, "50x125")
	assert.InDelta(t, 1.04, (close.Wy/400)/(deep.Wy/600), 0.02, "bending strength per metre of roof, one grade")
	assert.InDelta(t, 0.87, (close.Iy/400)/(deep.Iy/600), 0.02, "stiffness per metre of roof")
}

func TestBeamThatHoldsOneStudServesNothingWithoutIt(t *testing.T) {
	const oneStud = `
		"W1": {"role": "wall", "material": "masonry", "width": 140, "path": [[0,0,2300],[0,1000,2300]], "ground": true},
		"W2": {"role": "wall", "material": "masonry", "width": 140, "path": [[3000,0,2300],[3000,1000,2300]], "ground": true},
		"B1": {"role": "beam", "section": "2/47x195", "grade": "C24", "path": [[0,500,2397.5],[3000,500,2397.5]],
		       "supports": [{"on": "W1", "bearing": 100}, {"on": "W2", "bearing": 100}]},
		"ST1": {"role": "stud", "section": "47x95", "grade": "C24", "path": [[1500,500,2495],[1500,500,4000]], "supports": [{"on": "B1", "bearing": 47}],
		        "loads": [{"action": "dead", "point": 2, "at": 1505}]}`
	alone := small(oneStud)
	delete(alone["members"].(map[string]any), "ST1")
	found := foundIn(t, small(oneStud), alone)
	assert.NotContains(t, found[0], "B1: note load-path/serves-something")
	assert.Contains(t, found[1], "B1: note load-path/serves-something")
}

// ridgeAt is three pairs of 50x150 rafters at a pitch, against a ridge beam of 50x225.
func ridgeAt(pitch float64) string {
	rise := 2000 * math.Tan(pitch*math.Pi/180)
	number := func(v float64) string { b, _ := json.Marshal(math.Round(v*10) / 10); return string(b) }
	head := number(2400 + rise)
	return `
		"W1": {"role": "wall", "material": "masonry", "width": 140, "path": [[0,0,2300],[3000,0,2300]], "ground": true},
		"W2": {"role": "wall", "material": "masonry", "width": 140, "path": [[0,4000,2300],[3000,4000,2300]], "ground": true},
		"W3": {"role": "wall", "material": "masonry", "width": 140, "path": [[0,0,` + number(2400+rise-112.5) + `],[0,4000,` + number(2400+rise-112.5) + `]], "ground": true},
		"W4": {"role": "wall", "material": "masonry", "width": 140, "path": [[3000,0,` + number(2400+rise-112.5) + `],[3000,4000,` + number(2400+rise-112.5) + `]], "ground": true},
		"RB1": {"role": "ridge beam", "section": "50x225", "grade": "C24", "path": [[0,2000,` + head + `],[3000,2000,` + head + `]],
		        "supports": [{"on": "W3", "bearing": 100}, {"on": "W4", "bearing": 100}]},
		"R1": {"role": "rafter", "section": "50x150", "grade": "C24", "centres": 600, "path": [[900,0,2400],[900,2000,` + head + `]], "repeat": {"count": 3, "step": [600,0,0]},
		       "supports": [{"on": "W1", "bearing": 50}, {"on": "RB1", "bearing": 45, "by": "hanger"}]}`
}

// foundIn is what is found in each of some documents.
func foundIn(t *testing.T, documents ...map[string]any) [][]string {
	t.Helper()
	results, _ := checkAll(t, documents)
	out := make([][]string, len(results))
	for i, r := range results {
		out[i] = r.lines()
	}
	return out
}

// small is a document of a few members, without a region.
func small(members string) map[string]any {
	doc := map[string]any{}
	if err := json.Unmarshal([]byte(`{"framing": 1, "title": "a few members", "members": {`+members+`}}`), &doc); err != nil {
		panic(err)
	}
	return doc
}

func section(t *testing.T, text string) *model.Section {
	t.Helper()
	s, err := model.ParseSection(text, model.Metric)
	require.NoError(t, err)
	return s
}
