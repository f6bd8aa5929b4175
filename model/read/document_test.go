package read_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

func mustRead(t testing.TB, text string) *model.Document {
	t.Helper()
	d, problems := read.Document([]byte(text), "roof.json")
	require.Empty(t, problems)
	return d
}

// everything names each key that a document can have; TestEveryKeyIsCovered holds it to that.
const everything = `{
  "framing": 1, "title": "All that can be said", "units": "metric", "self_weight": false,
  "site": {"region": "GB-ENG", "ground_snow": 0.5, "altitude": 60, "service_class": 1, "snow_zone": 3, "snow_drift": "none expected", "stage": "building",
    "existing": "not relied on", "stability": "the engineer", "masonry_class": 2, "temporary_work": "the builder"},
  "drawings": {"S-101": {"title": "Roof framing plan", "by": "engineer", "revision": "C"}, "S-102": {}},
  "areas": {
    "tiles": {"kind": "roof", "category": "H", "wind": {"uplift": -0.6, "across": 0.3}, "dead": 0.75, "roof_imposed": 0.6, "snow": 0.4, "imposed": 0.1,
      "covering": "tiles on battens", "finish": "plasterboard", "pitch": 35, "extent": [[0, 0], [7200, 0], [7200, 4000]], "dead_on": "plan",
      "self_weight": "included", "deck": 18, "point_load": 0.9}
  },
  "grades": {"LVL 48 P": {"material": "LVL", "E": 13800, "G": 600, "density": 510, "region": {"fm_k": 44, "fv_k": 4.2}, "by": "maker's declaration"}},
  "members": {
    "R1": {"role": "rafter", "section": "2/47x147", "flat": true, "grade": "C24", "centres": 400, "path": [[0, 0, 2400], [0, 2000, 3400]],
      "repeat": {"count": 9, "step": [400, 0, 0]}, "carries": ["tiles", {"area": "tiles", "width": 350}],
      "supports": [{"on": "WP1", "at": 0, "bearing": 50, "by": "seat", "holds": "horizontal", "fixed": true, "level": 2400,
          "notch": {"depth": 22, "face": "bottom", "at": 40, "length": 60, "slope": 2, "to_reaction": 12},
          "capacity": {"down": 5, "up": 2, "along": 1, "basis": "safe working", "by": "maker"},
          "seat": {"kind": "padstone", "size": "440x140x215", "material": "concrete", "strength": 7.3}},
        {"against": "R2", "continuous": true, "from": 100, "to": 900}],
      "loads": [{"action": "dead", "point": 1.5, "at": 900, "case": "tank", "phase": "existing"}, {"action": "imposed", "line": 2, "from": 0, "to": 1200, "per": "plan"},
        {"action": "snow", "line": [1, 2.5]}, {"action": "imposed", "point": 0.9, "movable": true}],
      "tied_by": ["T1", {"on": "T2", "at": 300, "capacity": {"along": 4, "basis": "design"}}], "thrust": true, "phase": "existing", "condition": "unverified",
      "service_class": 2, "restraint": {"top": "full", "bottom": 1200}, "load_at": "top", "covered_by": "plasterboard",
      "drawing": ["S-101", {"S-102": {"section": "47x120", "grade": "C16", "centres": 450, "to": "engineer"}}],
      "notches": [{"at": 500, "depth": 15, "face": "top"}], "holes": [{"at": 900, "diameter": 20, "edge": 70}],
      "joints": [{"at": 1000, "kind": "rigid", "detail": "6 mm fillet all round", "capacity": 3.5}], "plies_joined": "bolts M12 at 450",
      "straps": [{"kind": "holding down", "to": "W1", "at": 100, "centres": 2000, "size": "30x5", "capacity": {"up": 8}}], "blocking": [{"kind": "herringbone", "at": 1250}],
      "packer": 10, "treated": "yes", "note": "first of nine", "price": 4.2, "deck": 22, "movable_load": 0.9, "brace_removed": true},
    "ST1": {"role": "beam", "section": "100x100x8 SHS", "finish": "hot", "grade": "S355", "length": 3000, "pitch": 10, "fire_protection": "board",
      "corrosion_protection": "paint", "end_fixing": "two bolts", "weld": "6 mm fillet", "stated": {"total_load": 40, "line_load": 25, "moment": 8, "by": "maker's table"},
      "seen": {"by": "the builder", "date": "2026-03-01", "photo": "12.jpg"}},
    "PO1": {"role": "post", "section": {"width": 47, "depth": 120, "plies": 2, "nominal": "50x125"}, "depth_along": [0, 1], "held": {"depth": 1200, "width": "full"}},
    "PO2": {"role": "post", "section": {"area": 2000, "iy": 3000000, "iz": 2000000, "wy": 40000, "wz": 30000, "wply": 50000, "it": 100000, "mass": 16, "depth": 150}, "restraint": 900},
    "F1": {"role": "beam", "section": {"layers": [{"width": 47, "depth": 195, "grade": "C24"}, {"width": 10, "depth": 180, "grade": "S275"}], "bolts": "M12 at 450"}},
    "W1": {"role": "wall", "material": "masonry", "width": 140, "height": 2400, "weight": 2.1, "path": [[0, 0, 2300], [7200, 0, 2300]], "ground": true,
      "masonry": {"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "I", "leaf": "inner"},
      "openings": [{"from": 900, "to": 1800, "lintel": "L1"}], "footing": "strip, 600 wide"}
  }
}`

func TestEveryKeyIsCovered(t *testing.T) {
	keys := read.Keys()
	require.Greater(t, len(keys), 150)
	written := string(read.Write(mustRead(t, everything)))
	for _, path := range keys {
		key := path[strings.LastIndex(path, ".")+1:]
		if key == "*" || key == "" {
			continue
		}
		assert.Contains(t, everything, `"`+key+`"`, "%s is in the sample", path)
		assert.Contains(t, written, `"`+key+`"`, "%s is written", path)
	}
	for _, path := range []string{"members.*.supports.notch.to_reaction", "areas.*.wind", "grades.*.region", "members.*.section.layers.grade", "members.*.carries.width", "site.region"} {
		assert.Contains(t, keys, path)
	}
}

func TestWhatIsSaidIsWhatIsRead(t *testing.T) {
	d := mustRead(t, everything)
	assert.True(t, d.Weightless)
	assert.Equal(t, model.Given(60_000), d.Site.Altitude, "a bare altitude is in metres")
	assert.Equal(t, model.Given(0.5e-3), d.Site.GroundSnow)
	tiles := d.Area("tiles")
	require.NotNil(t, tiles)
	assert.Equal(t, []model.AreaLoad{{Action: model.Dead, Value: 0.75e-3}, {Action: model.Imposed, Value: 0.1e-3}, {Action: model.RoofImposed, Value: 0.6e-3}, {Action: model.Snow, Value: 0.4e-3},
		{Action: model.Wind, Name: "uplift", Value: -0.6e-3}, {Action: model.Wind, Name: "across", Value: 0.3e-3}}, tiles.Loads, "in the order of the actions")
	assert.InDelta(t, 35*math.Pi/180, tiles.Pitch.Value, 1e-15)
	grade := d.Grades[0]
	assert.Equal(t, model.Given(510e-9).Value, grade.Density.Value)
	assert.Equal(t, []model.Named{{Name: "fm_k", Value: 44}, {Name: "fv_k", Value: 4.2}}, grade.Region)

	r1 := d.Member("R1")
	require.NotNil(t, r1)
	assert.Equal(t, model.RoleRafter, r1.Role)
	assert.True(t, r1.Section.Flat)
	assert.Equal(t, 147.0, r1.Section.Breadth())
	assert.Equal(t, 9, r1.Pieces())
	assert.Equal(t, model.Given(350), r1.Carries[1].Width)
	assert.True(t, r1.Supports[0].Horizontal)
	assert.Equal(t, 215.0, r1.Supports[0].Seat.High.Value)
	assert.Equal(t, model.Bottom, r1.Supports[0].Notch.Face)
	assert.Equal(t, 5000.0, r1.Supports[0].Capacity.Down.Value)
	assert.Equal(t, "R2", r1.Supports[1].Against)
	assert.Equal(t, model.Load{Action: model.Dead, Case: "tank", Phase: model.Existing, IsPoint: true, Point: 1500, At: 900}, r1.Loads[0])
	assert.Equal(t, model.Load{Action: model.Imposed, First: 2, Last: 2, From: model.Given(0), To: model.Given(1200), PerPlan: true}, r1.Loads[1])
	assert.Equal(t, model.Load{Action: model.Snow, First: 1, Last: 2.5}, r1.Loads[2])
	assert.True(t, r1.Loads[3].Movable)
	assert.Equal(t, model.Restraint{Top: model.Hold{Said: true, Full: true}, Bottom: model.Hold{Said: true, Spacing: 1200}}, r1.Restraint)
	assert.Equal(t, []model.DrawingRef{{ID: "S-101"}, {ID: "S-102", To: "engineer", Section: "47x120", Grade: "C16", Centres: model.Given(450)}}, r1.Drawings)
	assert.True(t, r1.More().BraceRemoved)

	assert.Equal(t, "hot", d.Member("ST1").Section.Finish)
	assert.Equal(t, 40_000.0, d.Member("ST1").More().Stated.TotalLoad.Value)
	post := d.Member("PO1")
	assert.InDelta(t, math.Pi/2, post.More().DepthAlong.Value, 1e-15)
	assert.Equal(t, "2/47x120", post.Section.Text)
	assert.Equal(t, "50x125", post.Section.Nominal)
	assert.Equal(t, model.Hold{Said: true, Spacing: 900}, d.Member("PO2").Restraint.Top, "a bare value is the top")
	assert.Equal(t, model.Properties, d.Member("PO2").Section.Shape)
	assert.Zero(t, d.Member("PO2").Section.Wplz, "what is not given is not known")
	assert.Len(t, d.Member("F1").Section.Layers, 2)
	assert.Nil(t, d.Member("F1").Detail)
	assert.Same(t, d.Member("F1").More(), (&model.Member{}).More())
}

func TestUnitsHoldWhereverTheyStand(t *testing.T) {
	member := `"members": {"J1": {"role": "floor joist", "section": "2x8", "centres": 16, "length": "13 ft 6 in",
		"loads": [{"action": "dead", "line": 40}, {"action": "imposed", "point": 300, "at": 24}], "weight": 30, "restraint": 24}}`
	first := mustRead(t, `{"framing": 1, "units": "us", `+member+`}`)
	last := mustRead(t, `{"framing": 1, `+member+`, "units": "us"}`)
	assert.Equal(t, alike(first), alike(last))
	j := first.Members[0]
	assert.InDelta(t, 406.4, j.Centres.Value, 1e-9)
	assert.InDelta(t, 4114.8, j.Length.Value, 1e-9)
	assert.Equal(t, "2x8", j.Section.Nominal)
	assert.InEpsilon(t, 40*14.59390e-3, j.Loads[0].First, 1e-6, "lb/ft (NIST SP 811)")
	assert.InEpsilon(t, 300*4.448222, j.Loads[1].Point, 1e-6, "lb (NIST SP 811)")
	assert.InEpsilon(t, 30*47.88026e-6, j.More().Weight.Value, 1e-6, "psf (NIST SP 811)")
	assert.InDelta(t, 609.6, j.Restraint.Top.Spacing, 1e-9)
}

func TestSectionsThatAreEqualAreOne(t *testing.T) {
	d := mustRead(t, `{"framing": 1, "members": {
		"A": {"role": "beam", "section": "47x195"}, "B": {"role": "beam", "section": "47x195"},
		"C": {"role": "beam", "section": {"width": 47, "depth": 195}}, "D": {"role": "beam", "section": {"width": 47, "depth": 195}},
		"E": {"role": "beam", "section": "47x195", "flat": true}, "F": {"role": "beam", "section": "47x195", "flat": true}}}`)
	m := d.Members
	assert.Same(t, m[0].Section, m[1].Section)
	assert.Same(t, m[2].Section, m[3].Section)
	assert.Same(t, m[4].Section, m[5].Section)
	assert.NotSame(t, m[0].Section, m[4].Section)
}

// Members' lists share arrays, so that appending to one must not reach into the next.
func TestListsOfMembersDoNotRunIntoEachOther(t *testing.T) {
	d := mustRead(t, `{"framing": 1, "members": {
		"A": {"role": "beam", "supports": [{"on": "X"}], "path": [[0, 0, 0], [1, 0, 0]]}, "B": {"role": "beam", "supports": [{"on": "Y"}], "path": [[5, 0, 0], [6, 0, 0]]}}}`)
	_ = append(d.Members[0].Supports, model.Support{On: "Z"})
	_ = append(d.Members[0].Path, model.Point{X: 9})
	assert.Equal(t, "Y", d.Members[1].Supports[0].On)
	assert.Equal(t, 5.0, d.Members[1].Path[0].X)
}

func TestLongListsHoldTogether(t *testing.T) {
	var points, expect []string
	for i := range 3000 {
		points = append(points, "["+strings.Repeat("1", 1+i%3)+", "+string(rune('0'+i%10))+", 0]")
	}
	expect = points
	d := mustRead(t, `{"framing": 1, "members": {"A": {"role": "beam", "path": [`+strings.Join(points, ", ")+`]}, "B": {"role": "beam", "path": [`+strings.Join(points[:7], ", ")+`]}}}`)
	assert.Len(t, d.Members[0].Path, len(expect))
	assert.Equal(t, d.Members[0].Path[:7], d.Members[1].Path)
}

func TestWrittenDocumentsReadTheSame(t *testing.T) {
	for name, text := range samples(t) {
		d := mustRead(t, text)
		written := read.Write(d)
		again, problems := read.Document(written, name)
		require.Empty(t, problems, "%s", written)
		assert.Equal(t, alike(d), alike(again), name)
		assert.Equal(t, string(written), string(read.Write(again)), "%s: written twice it is the same text", name)
	}
}

// samples are the documents of this file and every model in testdata.
func samples(t testing.TB) map[string]string {
	t.Helper()
	found := map[string]string{
		"everything": everything,
		"us": `{"framing": 1, "units": "us", "site": {"altitude": 700, "ground_snow": 30}, "members": {"J1": {"role": "floor joist", "section": "2/2x8", "centres": 16, "path": [[0.1, 0.3, 7.7], [163.3, 0, 0]],
			"loads": [{"action": "dead", "line": 40.7, "from": 1.1, "to": 33.3}, {"action": "imposed", "point": 300.3, "at": 24}], "supports": [{"on": "B", "bearing": 1.5, "seat": {"size": "17.3x5.5x8"}}]},
			"J2": {"role": "floor joist", "section": {"width": 1.5, "depth": 7.25}, "pitch": 33.3, "weight": 31.7}, "J3": {"role": "beam", "section": "1.75x11.875", "length": "90 mm"}}}`,
	}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "*.json"))
	require.NoError(t, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		if strings.Contains(string(text), `"framing"`) {
			found[file] = string(text)
		}
	}
	return found
}

func FuzzDocument(f *testing.F) {
	f.Add([]byte(everything))
	f.Add([]byte(`{"framing": 1, "units": "us", "members": {"J1": {"role": "post", "section": "2x8", "length": "13 ft 6 in", "depth_along": [1, 2]}}}`))
	f.Add([]byte(`{"members": {"A": {"role": NaN, "path": [[1], 2]}}, "framing": 1}`))
	f.Add([]byte(`{"framing": 1, "members": {"A": {"role": "beam", "section": {"layers": [{"width": 9, "depth": 9}]}, "drawing": {"a": {}, "b": {"to": "engineer"}}}}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		d, problems := read.Document(text, "roof.json")
		if problems != nil {
			require.Nil(t, d)
			for i, p := range problems {
				require.NotEmpty(t, p.Message)
				require.True(t, p.Line >= 1 && p.Column >= 1 && p.Offset <= int64(len(text)) || i == len(problems)-1)
			}
			return
		}
		written := read.Write(d)
		again, problems := read.Document(written, "written")
		require.Empty(t, problems, "%s", written)
		require.Equal(t, alike(d), alike(again))
	})
}
