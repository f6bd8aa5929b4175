package draft

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// options are random dimensions of a kind that a builder might give.
func options(r *rand.Rand, k Kind) Options {
	o := Options{Kind: k}
	step := 50.0
	if r.IntN(3) == 0 {
		o.Units, step = model.US, 6*inch
	}
	between := func(low, high float64) float64 { return math.Round((low+r.Float64()*(high-low))/step) * step }
	o.Width = between(3600, 8000)
	o.Length = o.Width + between(1000, 6000)
	o.Pitch = (15 + r.Float64()*33) * degrees
	o.Centres = []float64{300, 400, 450, 600}[r.IntN(4)]
	if o.Units == model.US {
		o.Centres = []float64{12, 16, 24}[r.IntN(3)] * inch
	}
	o.Overhang = between(150, min(450, 0.25*o.Width/2))
	o.Ridge = Ridge(r.IntN(2))
	switch k {
	case LeanTo:
		o.Width, o.Pitch = between(1500, 4000), (5+r.Float64()*30)*degrees
		o.Overhang = between(150, 300)
	case Floor:
		o.Opening = Opening{Width: between(700, 1200), Run: between(800, 1000)}
		if r.IntN(2) == 0 {
			o.Opening.Clear = 1200
			o.Width = max(o.Width, 4500)
		}
	case Dormer:
		o.Ridge = Beam
		o.Width = between(5000, 8000)
		o.Length = o.Width + between(3200, 6000)
		o.Pitch = (38 + r.Float64()*8) * degrees
	case Bay:
		o.Bay = Projection{Steel: r.IntN(2) == 0, Width: between(1200, 2400)}
	}
	return o
}

func TestEveryKindIsMadeFromItsNameAlone(t *testing.T) {
	for _, k := range Kinds {
		for _, u := range []model.Units{model.Metric, model.US} {
			d, err := Make(Options{Kind: k.Kind, Units: u})
			require.NoError(t, err, "%s in units %d", k.Kind, u)
			again, problems := read.Document(read.Write(d), "draft")
			require.Empty(t, problems, "%s in units %d", k.Kind, u)
			assert.Equal(t, sameDocument(d), sameDocument(again))
		}
	}
}

// sameDocument is a document without the places that only reading knows.
func sameDocument(d *model.Document) []model.Member {
	out := append([]model.Member(nil), d.Members...)
	for i := range out {
		out[i].Offset = 0
	}
	return out
}

func TestRandomDraftsReadBackEqualAndCarryTheirAreasOnce(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	made := 0
	for i := range 200 {
		o := options(r, Kinds[i%len(Kinds)].Kind)
		d, err := Make(o)
		if err != nil {
			require.IsType(t, Problems{}, err)
			t.Logf("%+v: %v", o, err)
			continue
		}
		made++
		text := read.Write(d)
		again, problems := read.Document(text, "draft")
		require.Empty(t, problems, "%+v", o)
		require.Equal(t, string(text), string(read.Write(again)))
		require.Equal(t, sameDocument(d), sameDocument(again))
		for _, a := range d.Areas {
			require.NotEmpty(t, a.Extent, "%s of %+v: the sum of its strips is held against it", a.ID, o)
			assert.InEpsilon(t, surface(a.Extent), carried(d, a.ID), 0.05, "%s of %+v", a.ID, o)
		}
		for _, m := range d.Members {
			for _, s := range m.Supports {
				if s.Notch != nil {
					assert.LessOrEqual(t, s.Notch.Depth.Value, m.Section.Depth/3+1e-6, "%s of %+v", m.Mark, o)
				}
			}
		}
	}
	assert.Greater(t, made, 190)
}

// carried is the plan area of all strips, by the shoelace of each strip's length and width.
func carried(d *model.Document, area string) float64 {
	sum := 0.0
	for _, m := range d.Members {
		for _, c := range m.Carries {
			if c.Area != area {
				continue
			}
			a, b := m.Path[0], m.Path[len(m.Path)-1]
			sum += c.Width.Or(m.Centres.Value) * math.Hypot(b.X-a.X, b.Y-a.Y) * float64(m.Pieces())
		}
	}
	return sum
}

func surface(p []model.Point) float64 {
	sum := 0.0
	for i := range p {
		j := (i + 1) % len(p)
		sum += p[i].X*p[j].Y - p[j].X*p[i].Y
	}
	return math.Abs(sum) / 2
}

func TestMistakesAreAllToldInOneGo(t *testing.T) {
	for _, c := range []struct {
		what string
		o    Options
		want []string
	}{
		{"an unknown kind names the known ones", Options{Kind: "pavilion"}, []string{`kind: no starter model is called "pavilion"; write hipped, gabled, lean-to, floor, dormer or bay`}},
		{"lengths that are no lengths, and a pitch that is none, all at once",
			Options{Kind: Hipped, Length: math.NaN(), Width: -3, Pitch: 80 * degrees, Centres: 2000},
			[]string{"length: no figure is out of range; give 1200 mm to 30000 mm", "width: -3 mm is out of range", "pitch: 80 degrees is out of range", "centres: 2000 mm is out of range"}},
		{"a roof longer one way only leaves no ridge", Options{Kind: Hipped, Length: 5000, Width: 4800}, []string{"length: 5000 mm leaves no ridge over a width of 4800 mm; give at least 5300 mm"}},
		{"an overhang longer than its span holds", Options{Kind: Gabled, Overhang: 1400}, []string{"overhang: 1400 mm is too long"}},
		{"an overhang that does not cover the plate", Options{Kind: LeanTo, Overhang: 20}, []string{"overhang: 20 mm does not reach the outer face of the plate"}},
		{"rafters too shallow for a seat", Options{Kind: Gabled, Pitch: 60 * degrees, Sections: map[model.Role]string{model.RoleRafter: "47x75"}},
			[]string{"section of rafter: a cut of a third"}},
		{"a hip that is shallower than its jacks' plumb cut", Options{Kind: Hipped, Sections: map[model.Role]string{model.RoleHipRafter: "47x145"}},
			[]string{"section of hip rafter: what is cut against it is 178 mm deep along the plumb cut, more than 47x145; give at least that depth"}},
		{"a service class that is none", Options{Kind: Floor, ServiceClass: 4}, []string{"service class: 4 is none; write 1 inside"}},
		{"a section that is none", Options{Kind: Floor, Sections: map[model.Role]string{model.RoleFloorJoist: "47 by 195"}}, []string{`section of floor joist: "47 by 195"`}},
		{"a stair opening as wide as the floor", Options{Kind: Floor, Opening: Opening{At: 10, Width: 5900, Run: 1000}}, []string{"opening: it leaves no room for a trimming joist"}},
		{"a dormer through couples", Options{Kind: Dormer, Ridge: Board}, []string{"ridge: a dormer cuts through couples"}},
		{"a dormer under a flat roof", Options{Kind: Dormer, Pitch: 15 * degrees}, []string{"dormer: its front would be only"}},
		{"a bay at the corner", Options{Kind: Bay, Bay: Projection{At: 100}}, []string{"bay: it leaves no wall beside it"}},
		{"a steel that runs past the ridge", Options{Kind: Bay, Bay: Projection{Steel: true, In: 4000}}, []string{"bay: the steel's high end does not lie under the slope"}},
	} {
		d, err := Make(c.o)
		assert.Nil(t, d, c.what)
		require.Error(t, err, c.what)
		for _, want := range c.want {
			assert.Contains(t, err.Error(), want, c.what)
		}
	}
}

func TestNothingIsInventedThatOnlyAMakerCanState(t *testing.T) {
	for _, k := range Kinds {
		d, err := Make(Options{Kind: k.Kind})
		require.NoError(t, err)
		for _, m := range d.Members {
			for _, s := range m.Supports {
				assert.Nil(t, s.Capacity, "%s of %s", m.Mark, k.Kind)
			}
			assert.Empty(t, m.Drawings)
		}
	}
}

// A floor lies inside the insulation, a drafted roof is cold: common practice, no source.
func TestEveryKindSaysItsServiceClass(t *testing.T) {
	for _, k := range Kinds {
		d, err := Make(Options{Kind: k.Kind})
		require.NoError(t, err)
		want := 2
		if k.Kind == Floor {
			want = 1
		}
		assert.Equal(t, want, d.Site.ServiceClass, k.Kind)
		assert.Contains(t, d.Site.Note, fmt.Sprintf("service class %d is taken as usual", want), k.Kind)
		d, err = Make(Options{Kind: k.Kind, ServiceClass: 3})
		require.NoError(t, err)
		assert.Equal(t, model.Site{ServiceClass: 3}, d.Site, k.Kind)
	}
}

func FuzzMake(f *testing.F) {
	f.Add(uint8(0), 8400.0, 4800.0, 0.6, 400.0, 300.0, 0.0, 0.0, false)
	f.Add(uint8(4), 10800.0, 6000.0, 0.73, 400.0, 300.0, 4500.0, 1800.0, true)
	f.Add(uint8(5), 8400.0, 4800.0, 0.6, 600.0, 150.0, 600.0, 1800.0, true)
	f.Add(uint8(3), math.Inf(1), math.NaN(), -1.0, 0.0, 1e300, math.NaN(), -1.0, false)
	f.Fuzz(func(t *testing.T, kind uint8, length, width, pitch, centres, overhang, at, across float64, other bool) {
		o := Options{Kind: Kinds[int(kind)%len(Kinds)].Kind, Length: length, Width: width, Pitch: pitch, Centres: centres, Overhang: overhang,
			Opening: Opening{At: at, Width: across, Run: across, Clear: overhang}, Dormer: Recess{At: at, Width: across, Depth: centres},
			Bay: Projection{At: at, Width: across, Steel: other, In: overhang}}
		if other {
			o.Ridge, o.Units = Board, model.US
		}
		d, err := Make(o)
		if err != nil {
			return
		}
		if _, problems := read.Document(read.Write(d), "draft"); problems != nil {
			t.Fatalf("%+v: %v", o, problems)
		}
	})
}
