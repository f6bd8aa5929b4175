package engine_test

import (
	"bytes"
	"fmt"
)

// housePieces is how many pieces a house of the estate stands for.
const housePieces = 100

// estate is an estate of equal houses on a grid, as text: at least the asked number of pieces in whole houses, such that
// only findings for the note-book remain. Written out, every joist and rafter is a member of its own of about 1 kB;
// otherwise each row of them is one repeated member.
func estate(pieces int, writtenOut bool) []byte {
	e := &estateWriter{writtenOut: writtenOut}
	e.b.WriteString(`{
  "framing": 1,
  "title": "An estate",
  "units": "metric",
  "site": {"region": "GB-ENG", "ground_snow": 0.5, "altitude": 60, "snow_zone": 3, "service_class": 1, "stage": "design",
    "snow_drift": "no valleys, no abutment above a roof", "masonry_class": 2},
  "drawings": {
    "S-1": {"title": "Walls and footings", "by": "engineer", "revision": "B"},
    "S-2": {"title": "Floor plan", "by": "engineer", "revision": "A"},
    "S-3": {"title": "Roof plan", "by": "engineer", "revision": "A"}
  },
  "areas": {
    "tiles": {"kind": "roof", "covering": "interlocking tiles on battens", "finish": "plasterboard", "dead": 0.75, "roof_imposed": 0.5, "snow": 0.33,
      "wind": -0.35, "pitch": 35},
    "floor": {"kind": "floor", "category": "A", "covering": "22 mm chipboard", "finish": "plasterboard", "deck": 22, "dead": 0.5, "imposed": 1.5}
  },
  "members": {`)
	houses := (pieces + housePieces - 1) / housePieces
	for h := range houses {
		e.house(h, 12_000*float64(h%100), 10_000*float64(h/100))
	}
	e.b.WriteString("\n  }\n}\n")
	return e.b.Bytes()
}

// estateWriter writes houses, each at its own place and with its own marks.
type estateWriter struct {
	b          bytes.Buffer
	writtenOut bool
	any        bool
	x, y       float64 // of the house, mm
	prefix     string
}

// The house: two storeys of masonry, 8.4 m by 7.2 m. A steel over two posts carries the floor's middle, a ridge beam the
// roof's; posts over those of the floor prop it.
func (e *estateWriter) house(number int, x, y float64) {
	e.x, e.y, e.prefix = x, y, fmt.Sprintf("H%d-", number)
	const long, wide, floor, eaves, ridge = 8400, 7200, 2300, 4700, 7250.0
	for _, w := range []struct {
		mark           string
		x0, y0, x1, y1 float64
		high           float64 // of its upper storey
	}{
		{"WS", 0, 0, long, 0, eaves}, {"WN", 0, wide, long, wide, eaves},
		{"WW", 0, 0, 0, wide, ridge - 202.5}, {"WE", long, 0, long, wide, ridge - 202.5},
	} {
		e.wall(w.mark, w.x0, w.y0, w.x1, w.y1, floor, floor, `"ground": true, "footing": "strip footing, 600 wide, S-1",
      "straps": [{"kind": "lateral", "centres": 1600, "size": "30x5 galvanised, over three joists"}]`)
		e.wall(w.mark+"U", w.x0, w.y0, w.x1, w.y1, w.high, w.high-floor, e.sprintf(`"supports": [{"on": "%s", "continuous": true, "bearing": 215, "holds": "horizontal"}]`, w.mark))
	}
	for i, at := range []float64{2800, 5600} {
		e.member(fmt.Sprintf("F%d", i+1), `"role": "foundation", "material": "concrete", "ground": true, "footing": "pad, 900 square, S-1",
      "path": [%s, %s], "width": 900, "drawing": "S-1"`, e.at(at-450, 3600, 150), e.at(at+450, 3600, 150))
		e.member(fmt.Sprintf("P%d", i+1), `"role": "post", "section": "100x100x6.3 SHS", "finish": "hot", "grade": "S355",
      "path": [%s, %s],
      "supports": [{"on": "%[3]sF%[4]d", "bearing": 100, "by": "bolted", "holds": "horizontal", "seat": {"kind": "plate", "size": "200x200x15"}}],
      "end_fixing": "welded plates, bolted", "corrosion_protection": "zinc phosphate primer", "fire_protection": "boarded, 30 minutes",
      "drawing": "S-2"`, e.at(at, 3600, 150), e.at(at, 3600, floor), e.prefix, i+1)
		e.member(fmt.Sprintf("Q%d", i+1), `"role": "post", "section": "120x120", "grade": "C24",
      "path": [%s, %s],
      "supports": [{"on": "%[3]sB1", "bearing": 120, "by": "bolted", "holds": "horizontal"}], "held": {"depth": 2400, "width": 2400},
      "drawing": "S-3"`, e.at(at, 3600, floor+203.2), e.at(at, 3600, ridge-202.5), e.prefix)
	}
	e.member("B1", `"role": "beam", "section": "203x133x30 UB", "grade": "S355",
      "path": [%s, %s],
      "supports": [
        {"on": "%[3]sWW", "bearing": 140, "by": "seat", "seat": {"kind": "padstone", "size": "440x215x215"}},
        {"on": "%[3]sP1", "bearing": 100, "by": "bolted"},
        {"on": "%[3]sP2", "bearing": 100, "by": "bolted"},
        {"on": "%[3]sWE", "bearing": 140, "by": "seat", "seat": {"kind": "padstone", "size": "440x215x215"}}
      ],
      "restraint": {"top": 400}, "end_fixing": "bedded on mortar", "corrosion_protection": "zinc phosphate primer",
      "fire_protection": "boarded, 30 minutes", "drawing": "S-2"`, e.at(0, 3600, floor+101.6), e.at(long, 3600, floor+101.6), e.prefix)
	e.member("RB", `"role": "ridge beam", "section": "115x405", "grade": "GL24h", "service_class": 2,
      "path": [%s, %s],
      "supports": [
        {"on": "%[3]sWWU", "bearing": 140, "by": "seat", "seat": {"kind": "padstone", "size": "440x215x215"}},
        {"on": "%[3]sQ1", "bearing": 115, "by": "seat"},
        {"on": "%[3]sQ2", "bearing": 115, "by": "seat"},
        {"on": "%[3]sWEU", "bearing": 140, "by": "seat", "seat": {"kind": "padstone", "size": "440x215x215"}}
      ],
      "restraint": {"top": 400}, "drawing": "S-3"`, e.at(0, 3600, ridge), e.at(long, 3600, ridge), e.prefix)
	for _, side := range []struct {
		letter  string
		at, in  float64 // of the wall, and which way the house lies
		outside float64
	}{{"S", 0, 1, -150}, {"N", wide, -1, wide + 150}} {
		e.member("WP"+side.letter, `"role": "wall plate", "section": "47x97", "flat": true, "grade": "C24", "service_class": 2,
      "path": [%s, %s],
      "supports": [{"on": "%[3]sW%[4]sU", "continuous": true, "bearing": 97, "by": "seat", "holds": "horizontal"}],
      "straps": [{"kind": "holding down", "to": "%[3]sW%[4]sU", "centres": 1800, "size": "30x2.5 galvanised, 1000 long",
        "capacity": {"up": 4, "basis": "safe working", "by": "maker's table"}}],
      "restraint": "full", "treated": "preservative, use class 2", "drawing": "S-3"`, e.at(0, side.at, eaves+23.5), e.at(long, side.at, eaves+23.5), e.prefix, side.letter)
		e.row("J"+side.letter, 20, 400, `"role": "floor joist", "section": "47x195", "grade": "C24", "centres": 400,
      "path": [
        %s,
        %s
      ],`, e.at(400, side.at, floor+97.5), e.at(400, 3600, floor+97.5), `
      "carries": [{"area": "floor", "width": 400}],
      "supports": [
        {"on": "%[1]sW%[2]s", "bearing": 90, "by": "seat"},
        {"on": "%[1]sB1", "bearing": 60, "by": "hanger", "capacity": {"down": 7.5, "basis": "safe working", "by": "maker's table"}}
      ],
      "straps": [{"kind": "lateral", "to": "%[1]sW%[2]s", "centres": 1600, "size": "30x5 galvanised, 100 turned down"}],
      "blocking": [{"at": 1800}],
      "restraint": {"top": "full"},
      "treated": "none: dry, heated",
      "covered_by": "plasterboard and chipboard",
      "seen": {"by": "site agent", "date": "2026-02-20", "photo": "E-018"},
      "drawing": ["S-2", {"S-3": {"section": "47x195", "grade": "C24", "centres": 400}}],
      "note": "joists as the floor plan, hung in long hangers to the steel"`, side.letter)
		e.row("R"+side.letter, 21, 400, `"role": "rafter", "section": "47x195", "grade": "C24", "service_class": 2, "centres": 400,
      "path": [
        %s,
        %s
      ],`, e.at(200, side.outside, eaves+5), e.at(200, 3600, eaves+5+3750*0.7002075382097097), `
      "carries": [{"area": "tiles", "width": 400}],
      "supports": [
        {"on": "%[1]sWP%[2]s", "bearing": 50, "by": "seat", "holds": "horizontal", "notch": {"depth": 33, "face": "bottom"},
          "capacity": {"up": 1.2, "basis": "safe working", "by": "rafter clip, maker's table"}},
        {"on": "%[1]sRB", "bearing": 45, "by": "hanger", "capacity": {"down": 4, "up": 0.8, "basis": "safe working", "by": "maker's table"}}
      ],
      "restraint": {"top": "full", "bottom": "full"},
      "treated": "preservative, use class 2",
      "covered_by": "plasterboard and insulation",
      "seen": {"by": "site agent", "date": "2026-03-02", "photo": "E-041"},
      "drawing": ["S-3", {"S-2": {"section": "47x195", "grade": "C24", "centres": 400}}],
      "note": "rafters as the roof plan, hung to the ridge beam"`, side.letter)
	}
}

// row writes a row of equal pieces along x: one by one, or as one repeated member. The path's two points are those of
// the first piece.
func (e *estateWriter) row(mark string, count int, step float64, head string, from, to point, tail, letter string) {
	rest := fmt.Sprintf(tail, e.prefix, letter)
	if !e.writtenOut {
		e.member(mark, head+rest+`,
      "repeat": {"count": %d, "step": [%g, 0, 0]}`, from, to, count, step)
		return
	}
	for i := range count {
		move := float64(i) * step
		e.member(fmt.Sprintf("%s%d", mark, i+1), head+rest, point{from[0] + move, from[1], from[2]}, point{to[0] + move, to[1], to[2]})
	}
}

func (e *estateWriter) wall(mark string, x0, y0, x1, y1, top, height float64, rest string) {
	e.member(mark, `"role": "wall", "material": "masonry", "width": 215, "height": %g, "weight": 2.8, `+rest+`,
      "path": [%s, %s],
      "masonry": {"unit": "concrete", "group": 1, "strength": 7.3, "mortar": 4, "class": "II", "leaf": "solid"},
      "drawing": "S-1"`, height, e.at(x0, y0, top), e.at(x1, y1, top))
}

func (e *estateWriter) member(mark, format string, args ...any) {
	if e.any {
		e.b.WriteByte(',')
	}
	e.any = true
	fmt.Fprintf(&e.b, "\n    %q: {\n      ", e.prefix+mark)
	fmt.Fprintf(&e.b, format, args...)
	e.b.WriteString("\n    }")
}

func (e *estateWriter) sprintf(format, mark string) string { return fmt.Sprintf(format, e.prefix+mark) }

// point is a place of the estate as a document writes it.
type point [3]float64

func (p point) String() string { return fmt.Sprintf("[%.4f, %.4f, %.4f]", p[0], p[1], p[2]) }

// at is a place of the house.
func (e *estateWriter) at(x, y, z float64) point { return point{e.x + x, e.y + y, z} }
