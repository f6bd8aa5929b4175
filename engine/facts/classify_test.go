package facts

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/frame"
	"example.com/scantling/engine/statics"
	"example.com/scantling/model"
	"example.com/scantling/model/read"
	"example.com/scantling/plugins/region"
	"example.com/scantling/rules/vocabulary"
)

// readModel reads one of the program's own models.
func readModel(t *testing.T, name string) *model.Document {
	t.Helper()
	text, err := os.ReadFile("../../testdata/" + name)
	require.NoError(t, err)
	doc, bad := read.Document(text, name)
	require.Empty(t, bad)
	return doc
}

// facted fills the facts of a document.
func facted(t *testing.T, doc *model.Document) *Filled {
	t.Helper()
	return Fill(sourced(t, doc))
}

// sourced takes a document down under combinations that favour each variable case in turn.
func sourced(t *testing.T, doc *model.Document) *Source {
	t.Helper()
	cases := statics.DefaultCases(doc)
	var combinations []region.Combination
	for _, state := range []region.LimitState{region.Strength, region.Stability, region.Characteristic} {
		for lead := range cases {
			k := region.Combination{ID: fmt.Sprint(len(combinations)), State: state, Factors: make([]float64, len(cases))}
			for c := range cases {
				k.Factors[c] = 1.05
				if c == lead {
					k.Factors[c] = 1.5
				}
			}
			combinations = append(combinations, k)
		}
	}
	in := &statics.Input{Frame: frame.Assemble(doc, frame.After), Cases: cases, Materials: make([]statics.Material, len(doc.Members))}
	for i := range in.Materials {
		in.Materials[i] = statics.Material{E: 11_000, G: 690, Density: 420e-9, Kind: "timber"}
		if s := doc.Members[i].Section; s != nil && s.SteelByDefault {
			in.Materials[i] = statics.Material{E: 210_000, G: 81_000, Density: 7850e-9, Kind: "steel"}
		}
	}
	book, err := vocabulary.NewBook()
	require.NoError(t, err)
	return &Source{Book: book, Down: statics.Run(in), Combinations: combinations, Served: true}
}

// beside puts a copy of every member 50 m to the side, under marks of its own.
func beside(doc *model.Document) *model.Document {
	const copied = "'"
	out := *doc
	out.Members = slices.Clone(doc.Members)
	var more []model.Member
	for _, m := range doc.Members {
		m.Mark += copied
		m.Path, m.Supports, m.Ties = slices.Clone(m.Path), slices.Clone(m.Supports), slices.Clone(m.Ties)
		for i := range m.Path {
			m.Path[i].X += 50_000
			m.Path[i].Y -= 1_234.5
		}
		for i := range m.Supports {
			s := &m.Supports[i]
			for _, mark := range []*string{&s.On, &s.Against} {
				if *mark != "" {
					*mark += copied
				}
			}
		}
		for i := range m.Ties {
			m.Ties[i].On += copied
		}
		more = append(more, m)
	}
	fresh := model.Document{Units: out.Units, Site: out.Site, Areas: out.Areas, Grades: out.Grades, Drawings: out.Drawings}
	for _, m := range append(out.Members, more...) {
		fresh.Add(m)
	}
	return &fresh
}

// TestPiecesOfAClassCannotBeToldApart writes every piece as a region would be told of it, and holds it against the piece
// that stands for its class.
func TestPiecesOfAClassCannotBeToldApart(t *testing.T) {
	for _, name := range []string{"quillmere.json", "quillmere-faulty.json"} {
		t.Run(name, func(t *testing.T) {
			f := facted(t, beside(readModel(t, name)))
			lists := NewLists(f.Source.Down.Frame.Document)
			told := func(class, piece int32) *region.Batch {
				w := newBatchWriter(f, lists, false)
				w.piece(class, piece)
				return w.take()
			}
			shared := 0
			for class, first := range f.Classes.First {
				if f.judged(first) != "" {
					continue
				}
				want := told(int32(class), first)
				for _, piece := range f.Classes.Rows(int32(class))[1:] {
					same(t, f.Source.Down.Frame.Name(piece)+" and "+f.Source.Down.Frame.Name(first), reflect.ValueOf(want), reflect.ValueOf(told(int32(class), piece)))
					shared++
				}
			}
			assert.Greater(t, shared, 200, "classes hold several pieces")
		})
	}
}

// same holds two values against each other, numbers to a millionth.
func same(t *testing.T, what string, a, b reflect.Value) {
	t.Helper()
	switch a.Kind() {
	case reflect.Pointer:
		if !a.IsNil() && !b.IsNil() {
			same(t, what, a.Elem(), b.Elem())
		}
	case reflect.Struct:
		for i := range a.NumField() {
			same(t, what+", "+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	case reflect.Slice:
		if assert.Equal(t, a.Len(), b.Len(), what) {
			for i := range a.Len() {
				same(t, what, a.Index(i), b.Index(i))
			}
		}
	case reflect.Float64:
		x, y := a.Float(), b.Float()
		if !(math.Abs(x-y) <= 1e-6*max(math.Abs(x), math.Abs(y), 1e3)) {
			assert.Equal(t, x, y, what)
		}
	default:
		assert.Equal(t, a.Interface(), b.Interface(), what)
	}
}

func TestACopyOfAFrameAddsNoClass(t *testing.T) {
	doc := readModel(t, "quillmere.json")
	once, twice := facted(t, doc), facted(t, beside(doc))
	require.Len(t, twice.Classes.Of, 2*len(once.Classes.Of))
	assert.Len(t, twice.Classes.First, len(once.Classes.First))
}

// TestWhatTellsPiecesApart changes one thing of a joist, of what lands on it or of what carries it.
func TestWhatTellsPiecesApart(t *testing.T) {
	type keys = map[string]any
	list := func(of ...any) []any { return of }
	// A joist between two walls, or between copies of them further on, and a trimmer that lands on it.
	joist := func(x float64, walls [2]string) keys {
		return keys{"role": "floor joist", "section": "47x195", "grade": "C24", "centres": 400, "service_class": 1, "treated": "none", "load_at": "top",
			"path":      list(list(x, 0, 97.5), list(x, 4000, 97.5)),
			"carries":   list(keys{"area": "floor", "width": 400}),
			"restraint": keys{"top": 600, "bottom": 1200}, "held": keys{"depth": 2000, "width": 1000}, "blocking": list(keys{"at": 2000, "kind": "solid"}),
			"supports": list(keys{"on": walls[0], "bearing": 60, "by": "seat", "notch": keys{"depth": 20, "face": "bottom", "slope": 2, "to_reaction": 40},
				"seat": keys{"kind": "padstone", "size": "215x100x65", "strength": 10}}, keys{"on": walls[1], "bearing": 60}),
			"loads":   list(keys{"action": "dead", "line": 1, "from": 500, "to": 2000}, keys{"action": "imposed", "point": 2, "at": 1500}),
			"notches": list(keys{"at": 1200, "depth": 20, "length": 50, "face": "top"}),
			"holes":   list(keys{"at": 2500, "diameter": 20, "edge": 97})}
	}
	trimmer := func(x float64, on, wall string) keys {
		return keys{"role": "trimmer", "section": "2/47x195", "grade": "C24", "path": list(list(x, 3000, 97.5), list(x+600, 3000, 97.5)),
			"loads":    list(keys{"action": "dead", "line": 2}),
			"supports": list(keys{"on": on, "bearing": 40, "by": "hanger", "seat": keys{"kind": "plate", "size": "100x100x10"}}, keys{"on": wall, "bearing": 60})}
	}
	wall := func(from, to, y float64) keys {
		return keys{"role": "wall", "ground": true, "width": 100, "height": 2400, "material": "masonry", "path": list(list(from, y, 0), list(to, y, 0)),
			"masonry": keys{"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "II"}}
	}
	side := func(x float64) keys {
		return keys{"role": "wall", "ground": true, "width": 100, "path": list(list(x+600, 2000, 0), list(x+600, 4000, 0))}
	}
	for name, row := range map[string]struct {
		equal         bool
		joist         keys // what is changed of the second joist
		lands, others keys // of what lands on it; of the wall that carries it
	}{
		"nothing":                           {equal: true},
		"a drawing":                         {equal: true, joist: keys{"drawing": "S-1", "covered_by": "boards"}},
		"a millionth of a millimetre":       {equal: true, joist: keys{"path": list(list(9000, 0, 97.5), list(9000, 4000.000001, 97.5))}},
		"its length":                        {joist: keys{"path": list(list(9000, 0, 97.5), list(9000, 4000.01, 97.5))}},
		"its slope":                         {joist: keys{"path": list(list(9000, 0, 97.5), list(9000, 4000, 98.5))}},
		"a bend":                            {joist: keys{"path": list(list(9000, 0, 97.5), list(9000, 2000, 107.5), list(9000, 4000, 97.5))}},
		"its role":                          {joist: keys{"role": "ceiling joist"}},
		"its grade":                         {joist: keys{"grade": "C16"}},
		"its section":                       {joist: keys{"section": "47x220"}},
		"its centres":                       {joist: keys{"centres": 450}},
		"its service class":                 {joist: keys{"service_class": 2}},
		"its treatment":                     {joist: keys{"treated": "preservative"}},
		"its condition":                     {joist: keys{"condition": "unverified", "phase": "existing"}},
		"how its plies are joined":          {joist: keys{"plies_joined": "bolts"}},
		"where load stands on it":           {joist: keys{"load_at": "bottom"}},
		"a person that may stand on it":     {joist: keys{"movable_load": 0.9}},
		"a load that may stand anywhere":    {joist: keys{"loads": list(keys{"action": "imposed", "point": 0.9, "movable": true})}},
		"how often it is strutted":          {joist: keys{"blocking": list(keys{"at": 1500, "kind": "solid"}, keys{"at": 2500, "kind": "solid"})}},
		"blocking that is no strutting":     {joist: keys{"blocking": list(keys{"at": 2000, "kind": "block"})}},
		"a deck of its own":                 {joist: keys{"deck": 18}},
		"an area that is brittle":           {joist: keys{"carries": list(keys{"area": "plastered", "width": 400})}},
		"an area of another kind":           {joist: keys{"carries": list(keys{"area": "loft", "width": 400})}},
		"how its top is held":               {joist: keys{"restraint": keys{"top": "full", "bottom": 1200}}},
		"how its bottom is held":            {joist: keys{"restraint": keys{"top": 600, "bottom": 900}}},
		"how its depth is held":             {joist: keys{"held": keys{"depth": 1500, "width": 1000}}},
		"how its width is held":             {joist: keys{"held": keys{"depth": 2000, "width": 900}}},
		"the size of a load":                {joist: keys{"loads": list(keys{"action": "dead", "line": 1.01, "from": 500, "to": 2000}, keys{"action": "imposed", "point": 2, "at": 1500})}},
		"the place of a load":               {joist: keys{"loads": list(keys{"action": "dead", "line": 1, "from": 500, "to": 2000}, keys{"action": "imposed", "point": 2, "at": 1501})}},
		"the case of a load":                {joist: keys{"loads": list(keys{"action": "imposed", "line": 1, "from": 500, "to": 2000}, keys{"action": "imposed", "point": 2, "at": 1500})}},
		"the place of a notch":              {joist: keys{"notches": list(keys{"at": 1201, "depth": 20, "length": 50, "face": "top"})}},
		"the depth of a notch":              {joist: keys{"notches": list(keys{"at": 1200, "depth": 21, "length": 50, "face": "top"})}},
		"the length of a notch":             {joist: keys{"notches": list(keys{"at": 1200, "depth": 20, "length": 51, "face": "top"})}},
		"the face of a notch":               {joist: keys{"notches": list(keys{"at": 1200, "depth": 20, "length": 50, "face": "bottom"})}},
		"the place of a hole":               {joist: keys{"holes": list(keys{"at": 2501, "diameter": 20, "edge": 97})}},
		"the size of a hole":                {joist: keys{"holes": list(keys{"at": 2500, "diameter": 21, "edge": 97})}},
		"the height of a hole":              {joist: keys{"holes": list(keys{"at": 2500, "diameter": 20, "edge": 80})}},
		"another hole":                      {joist: keys{"holes": list(keys{"at": 2500, "diameter": 20, "edge": 97}, keys{"at": 3000, "diameter": 20, "edge": 97})}},
		"what lands and its section":        {lands: keys{"section": "2/45x195"}},
		"what lands and its load":           {lands: keys{"loads": list(keys{"action": "dead", "line": 2.01})}},
		"what lands and how it is held":     {lands: keys{"supports": list(keys{"on": "K", "bearing": 40, "by": "seat", "seat": keys{"kind": "plate", "size": "100x100x10"}}, keys{"on": "S2", "bearing": 60})}},
		"what lands and its seat":           {lands: keys{"supports": list(keys{"on": "K", "bearing": 40, "by": "hanger", "seat": keys{"kind": "plate", "size": "90x100x10"}}, keys{"on": "S2", "bearing": 60})}},
		"what lands and its bearing":        {lands: keys{"supports": list(keys{"on": "K", "bearing": 41, "by": "hanger", "seat": keys{"kind": "plate", "size": "100x100x10"}}, keys{"on": "S2", "bearing": 60})}},
		"what lands and what it is made of": {lands: keys{"material": "masonry"}},
		"the width of what carries it":      {others: keys{"width": 140}},
		"the height of what carries it":     {others: keys{"height": 2700}},
		"the weight of what carries it":     {others: keys{"weight": 2.1}},
		"the leaf of what carries it":       {others: keys{"masonry": keys{"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "II", "leaf": "inner"}}},
		"how far the wall runs beyond it":   {others: keys{"path": list(list(8000.0, 0, 0), list(11_000.0, 0, 0))}},
		"what stands beside it":             {others: keys{"loads": list(keys{"action": "dead", "line": 1})}},
		"what carries it is made of":        {others: keys{"material": "concrete"}},
		"what carries it is":                {others: keys{"role": "foundation"}},
		"the units of what carries it":      {others: keys{"masonry": keys{"unit": "clay", "group": 1, "strength": 7.3, "mortar": 4, "class": "II"}}},
		"the group of the units":            {others: keys{"masonry": keys{"unit": "concrete", "group": 2, "strength": 7.3, "mortar": 4, "class": "II"}}},
		"the strength of the units":         {others: keys{"masonry": keys{"unit": "concrete", "group": 1, "strength": 3.6, "mortar": 4, "class": "II"}}},
		"the mortar":                        {others: keys{"masonry": keys{"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 2, "class": "II"}}},
		"the category of the units":         {others: keys{"masonry": keys{"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "I"}}},
		"how far the end of the wall is":    {others: keys{"path": list(list(8000.0, 0, 0), list(9500.0, 0, 0))}},
		"an opening near by":                {others: keys{"openings": list(keys{"from": 200, "to": 500})}},
		"a continuous support":              {joist: keys{"supports": list(keys{"on": "C", "continuous": true, "bearing": 60, "by": "seat"}, keys{"on": "D", "bearing": 60})}},
		"a bearing":                         {joist: first(joist(9000, [2]string{"C", "D"}), "bearing", 61)},
		"a hanger instead of a seat":        {joist: first(joist(9000, [2]string{"C", "D"}), "by", "hanger")},
		"a support that holds the turn":     {joist: first(joist(9000, [2]string{"C", "D"}), "fixed", true)},
		"the depth of a notch at its end":   {joist: first(joist(9000, [2]string{"C", "D"}), "notch", keys{"depth": 21, "face": "bottom", "slope": 2, "to_reaction": 40})},
		"the face of a notch at its end":    {joist: first(joist(9000, [2]string{"C", "D"}), "notch", keys{"depth": 20, "face": "top", "slope": 2, "to_reaction": 40})},
		"the slope of a notch at its end":   {joist: first(joist(9000, [2]string{"C", "D"}), "notch", keys{"depth": 20, "face": "bottom", "slope": 3, "to_reaction": 40})},
		"how far a notch is from its end":   {joist: first(joist(9000, [2]string{"C", "D"}), "notch", keys{"depth": 20, "face": "bottom", "slope": 2, "to_reaction": 41})},
		"what lies between":                 {joist: first(joist(9000, [2]string{"C", "D"}), "seat", keys{"kind": "plate", "size": "215x100x65", "strength": 10})},
		"the size of what lies between":     {joist: first(joist(9000, [2]string{"C", "D"}), "seat", keys{"kind": "padstone", "size": "215x100x66", "strength": 10})},
		"the strength of what lies between": {joist: first(joist(9000, [2]string{"C", "D"}), "seat", keys{"kind": "padstone", "size": "215x100x65", "strength": 11})},
		"where along it a support is":       {joist: first(joist(9000, [2]string{"C", "D"}), "at", 20)},
	} {
		t.Run(name, func(t *testing.T) {
			k, m, c := joist(9000, [2]string{"C", "D"}), trimmer(9000, "K", "S2"), wall(8000, 10_000, 0)
			maps.Copy(k, row.joist)
			maps.Copy(m, row.lands)
			maps.Copy(c, row.others)
			text, err := json.Marshal(keys{"framing": 1, "areas": keys{
				"floor":     keys{"kind": "floor", "dead": 0.5, "finish": "boards", "deck": 22},
				"plastered": keys{"kind": "floor", "dead": 0.5, "finish": "plaster", "deck": 22},
				"loft":      keys{"kind": "loft", "dead": 0.5, "finish": "plasterboard", "deck": 22},
			}, "members": keys{
				"A": wall(0, 2000, 0), "B": wall(0, 2000, 4000), "C": c, "D": wall(8000, 10_000, 4000), "S1": side(1000), "S2": side(9000),
				"J": joist(1000, [2]string{"A", "B"}), "L": trimmer(1000, "J", "S1"), "K": k, "M": m,
			}})
			require.NoError(t, err)
			doc, bad := read.Document(text, "")
			require.Empty(t, bad)
			f := facted(t, doc)
			one, _ := f.Source.Down.Frame.PiecesOf(int32(doc.Index("J")))
			two, _ := f.Source.Down.Frame.PiecesOf(int32(doc.Index("K")))
			assert.Equal(t, row.equal, f.Classes.Of[one] == f.Classes.Of[two])
		})
	}
}

func TestPostsDifferByHowFarFromTheirAxisLoadLands(t *testing.T) {
	const post = `"role": "post", "section": "100x100", "grade": "C24", "supports": [{"on": "G"}]`
	const beam = `"role": "beam", "section": "100x200", "grade": "C24", "loads": [{"action": "dead", "line": 1}]`
	for aside, equal := range map[float64]bool{0: true, 15: false} {
		doc, bad := read.Document(fmt.Appendf(nil, `{"framing": 1, "members": {
			"G": {"role": "foundation", "ground": true, "path": [[0, 0, 0], [90000, 0, 0]]},
			"W": {"role": "wall", "ground": true, "path": [[0, 3000, 2400], [90000, 3000, 2400]]},
			"P": {"path": [[20000, 0, 0], [20000, 0, 2400]], %[1]s}, "Q": {"path": [[70000, 0, 0], [70000, 0, 2400]], %[1]s},
			"B": {"path": [[20000, 0, 2500], [20000, 3000, 2500]], "supports": [{"on": "P"}, {"on": "W"}], %[2]s},
			"C": {"path": [[%[3]g, 0, 2500], [%[3]g, 3000, 2500]], "supports": [{"on": "Q"}, {"on": "W"}], %[2]s}
		}}`, post, beam, 70000+aside), "")
		require.Empty(t, bad)
		f := facted(t, doc)
		p, _ := f.Source.Down.Frame.PiecesOf(int32(doc.Index("P")))
		q, _ := f.Source.Down.Frame.PiecesOf(int32(doc.Index("Q")))
		assert.Equal(t, equal, f.Classes.Of[p] == f.Classes.Of[q], "%g mm", aside)
	}
}

// first is the supports of a member with one thing changed of the first.
func first(member map[string]any, key string, value any) map[string]any {
	supports := member["supports"].([]any)
	supports[0].(map[string]any)[key] = value
	return map[string]any{"supports": supports}
}

// TestSignaturesKnowEveryColumn fails where a region is told something new: say in classify.go how it tells pieces apart,
// in a row of TestWhatTellsPiecesApart that it does, and then here.
func TestSignaturesKnowEveryColumn(t *testing.T) {
	for _, row := range []struct {
		group any
		known string
	}{
		{region.Pieces{}, "ID Multiplicity Words Role Section Grade Service Length Slope Centres Cranked Column Repetitive TopFull TopSpacing BottomFull BottomSpace HeldDepth HeldWidth LoadAt PliesJoined Brittle Carries Deck BlockingRows Treated Condition Movable Alike ContactStart StationStart SpanStart NotchStart HoleStart"},
		{region.Contacts{}, "At Landing Support Length Width Underside By SeatKind SeatAlong SeatAcross SeatHigh SeatStress WallWidth WallHeight WallWeight WallLeaf WallUnit WallGroup WallUnitF WallMortar WallClass ToWallEnd ToWallFar AlongWall CaseBeside CaseTurn BesideUnknown ToEnd ToNext Eccentric NotchDepth NotchFace NotchSlope NotchX Down Up Along"},
		{region.Stations{}, "At Span Kind N V M MomentOut"},
		{region.Spans{}, "From To Overhang Deflection CaseDeflect CaseMoment MoveDeflect MoveMoment"},
		{region.Notches{}, "At Depth Length Bottom"},
		{region.Holes{}, "At Diameter FromTop"},
	} {
		var columns []string
		for _, f := range reflect.VisibleFields(reflect.TypeOf(row.group)) {
			columns = append(columns, f.Name)
		}
		assert.Equal(t, strings.Fields(row.known), columns)
	}
}
