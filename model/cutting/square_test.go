package cutting

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/draft"
)

const inch = 25.4

// squareTable reads the rafter table: by rise, the four figures in inches.
func squareTable(t *testing.T) map[int][4]float64 {
	t.Helper()
	text, err := os.ReadFile("testdata/framing_square.csv")
	require.NoError(t, err)
	rows := map[int][4]float64{}
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "rise") {
			continue
		}
		cells := strings.Split(line, ",")
		require.Len(t, cells, 5)
		rise, err := strconv.Atoi(cells[0])
		require.NoError(t, err)
		var row [4]float64
		for i := range row {
			row[i], err = strconv.ParseFloat(cells[i+1], 64)
			require.NoError(t, err)
		}
		rows[rise] = row
	}
	require.Len(t, rows, 16)
	return rows
}

// printed is half a unit of the table's last figure, and as much again because some squares cut where others round.
const printed = 0.011

func TestFramingSquareTableAgreesWithDraftedRoofs(t *testing.T) {
	for rise, row := range squareTable(t) {
		for i, centres := range []float64{16, 24} {
			d, err := draft.Make(draft.Options{Kind: draft.Hipped, Units: model.US, Pitch: math.Atan2(float64(rise), 12), Centres: centres * inch,
				Length: 480 * inch, Width: 240 * inch})
			require.NoError(t, err, "rise %d", rise)
			length := map[string]float64{}
			for _, p := range Make(d, Options{}).Parts {
				length[p.Mark] = p.Length + p.Ends[0].Short + p.Ends[1].Short // to the crossing of the axes, as squares count
			}
			run := (120 + 12.0) / 12 // ft, with the overhang
			common := d.Member("RS")
			if common == nil {
				common = d.Member("RS1")
			}
			assert.InDelta(t, row[0], length[common.Mark]/inch/run, printed, "common, rise %d", rise)
			assert.InDelta(t, math.Hypot(12, float64(rise)), length[common.Mark]/inch/run, 1e-3, "common the second way, rise %d", rise)
			assert.InDelta(t, row[1], length["H1"]/inch/run, printed, "hip, rise %d", rise)
			assert.InDelta(t, math.Sqrt(288+float64(rise*rise)), length["H1"]/inch/run, 1e-3, "hip the second way, rise %d", rise)
			for k := 2; d.Member("J1S"+strconv.Itoa(k)) != nil; k++ {
				step := (length["J1S"+strconv.Itoa(k)] - length["J1S"+strconv.Itoa(k-1)]) / inch
				assert.InDelta(t, row[2+i], step, printed, "jacks at %g in, rise %d", centres, rise)
				assert.InDelta(t, centres/12*math.Hypot(12, float64(rise)), step, 3e-3, "jacks the second way at %g in, rise %d", centres, rise)
			}
			require.NotNil(t, d.Member("J1S2"), "there are jacks to compare")
		}
	}
}

func TestCutsOfAHippedRoofAreThoseOfTheSquare(t *testing.T) {
	d, err := draft.Make(draft.Options{Kind: draft.Hipped, Units: model.US, Pitch: math.Atan2(8, 12)})
	require.NoError(t, err)
	parts := byName(Make(d, Options{}))
	jack, hip, common := parts["J1S1"], parts["H1"], parts["RS1"]
	if common.Mark == "" {
		common = parts["RS"]
	}
	degrees := func(v float64) float64 { return v * 180 / math.Pi }

	assert.InDelta(t, degrees(math.Atan2(8, 12)), degrees(common.Ends[1].Face), 1e-2, "plumb cut: 12 and 8, scribed along the blade")
	assert.Zero(t, common.Ends[1].Bevel, "a common is cut square across at the ridge")
	require.Len(t, common.Seats, 1)
	assert.InDelta(t, 90, degrees(common.Seats[0].Plumb+common.Seats[0].Level), 1e-9, "the seat cut is square to the plumb cut")
	// NAVEDTRA 14044 Builder: side cut of jacks at a rise of 8, 12 on the tongue and 10 on the blade (9.98).
	assert.InDelta(t, 10, 12*math.Tan(jack.Ends[1].Edge), 0.03, "side cut of the jack on its top edge")
	assert.InDelta(t, 45, degrees(jack.Ends[1].Bevel), 1e-6, "tilt of the saw")
	assert.True(t, jack.Ends[1].Left != parts["J1W1"].Ends[1].Left, "the jacks on both sides of a hip are cut to opposite hands")
	assert.False(t, jack.Ends[1].Left, "going north beside a hip that runs north-east, the tip lies to the east")
	assert.InDelta(t, degrees(math.Atan2(8, 12*math.Sqrt2)), degrees(hip.Ends[1].Face), 1e-2, "plumb cut of the hip: 17 and 8")

	d, err = draft.Make(draft.Options{Kind: draft.Hipped, Units: model.US, Pitch: math.Atan2(12, 12)})
	require.NoError(t, err)
	hip = byName(Make(d, Options{}))["H1"]
	// Griffith, Carpentry, appendix IV: side cut of the hip at a rise of 12, 17 on the tongue and 20.78 on the blade.
	assert.InDelta(t, 17/20.78, math.Tan(hip.Ends[1].Edge), 2e-3, "side cut of the hip on its top edge")
	// Backing: arcsin(sin pitch x cos plan angle), a published formula; 30 degrees at a rise of 12.
	require.True(t, hip.Backing.Known)
	assert.InDelta(t, 30, degrees(hip.Backing.Value), 1e-2, "backing of the hip")
}

// An irregular hip between slopes of 10 and 11 in 12: published angles of its jacks and of its backing
// ("Irregular hip jack rafters: compound angle calculations", a web table).
func TestCutsOfAnIrregularHip(t *testing.T) {
	const plan = 47.72631 * math.Pi / 180 // of the hip to the main eave
	run := 3000.0
	along := run / math.Tan(plan)
	rise := run * 10 / 12
	plate := model.NewRectangle(97, 47, 1)
	d := &model.Document{}
	d.Add(model.Member{Mark: "WP", Role: model.RoleWallPlate, Section: plate, Path: []model.Point{{X: 0}, {X: 6000}}})
	d.Add(model.Member{Mark: "H", Role: model.RoleHipRafter, Section: model.NewRectangle(50, 250, 1),
		Path: []model.Point{{}, {X: along, Y: run, Z: rise}}, Supports: []model.Support{{On: "WP"}}})
	half := along / 2
	d.Add(model.Member{Mark: "J", Role: model.RoleJackRafter, Section: model.NewRectangle(50, 150, 1),
		Path:     []model.Point{{X: half}, {X: half, Y: run / 2, Z: rise / 2}},
		Supports: []model.Support{{On: "WP"}, {On: "H", By: "hanger"}}})
	parts := byName(Make(d, Options{}))
	degrees := 180 / math.Pi
	assert.InDelta(t, 34.92979, parts["J"].Ends[1].Edge*degrees, 1e-4, "side cut of the jack")
	assert.InDelta(t, 47.72631, parts["J"].Ends[1].Bevel*degrees, 1e-4, "tilt of the saw: the plan angle")
	assert.InDelta(t, 90-58.34132, newStretch(d.Member("H").Path[0], d.Member("H").Path[1]).slope*degrees, 1e-4, "pitch of the hip")
	assert.InDelta(t, 25.50784, parts["H"].Backing.Value*degrees, 1e-4, "backing towards the main slope")
	hip := d.Member("H")
	hip.Path[0], hip.Path[1] = hip.Path[1], hip.Path[0]
	assert.Equal(t, parts["J"].Ends, byName(Make(d, Options{}))["J"].Ends, "which way the hip is drawn does not matter")
	// Half of 50 mm, over the sine of the angle between the two in plan, up the jack's slope.
	assert.InDelta(t, 25/math.Sin(math.Pi/2-plan)/math.Cos(math.Atan2(10, 12)), parts["J"].Ends[1].Short, 1e-9)
}

func byName(s *Schedule) map[string]Part {
	out := map[string]Part{}
	for _, p := range s.Parts {
		out[p.Name()] = p
	}
	return out
}
