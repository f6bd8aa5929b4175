package sheet

import (
	"encoding/json"
	"regexp"
	"strings"

	"example.com/scantling/model"
)

// kind is how a column's cells and the document's JSON are turned into each other.
type kind uint8

const (
	words  kind = iota
	figure      // a number in the document's units, or a text with its unit
	truth
	points // x, y, z; x, y, z
	step   // x, y, z
	strips // area; area: width
	others // what no other column holds, as JSON
)

// column is a column that can be filled in: a key of an object of the document.
type column struct {
	title   string
	key     string // with dots between the keys of objects within
	kind    kind
	measure *model.Measure
	width   float64
}

// form is a table that can be filled in: one row for each object under a key of the document.
type form struct {
	name    string
	columns []column // the first is what the row is about
}

var (
	length   = &model.MeasureLength
	force    = &model.MeasureForce
	areaLoad = &model.MeasureAreaLoad
	turn     = &model.MeasureAngle
)

// more is the last column of every form.
var more = column{"More", "", others, nil, 40}

var modelForm = form{Model, []column{
	{"Title", "title", words, nil, 40}, {"Units", "units", words, nil, 9}, {"Region", "site.region", words, nil, 10},
	{"Ground snow", "site.ground_snow", figure, areaLoad, 14}, {"Altitude", "site.altitude", figure, &model.MeasureAltitude, 12},
	{"Service class", "site.service_class", figure, nil, 12}, {"Stage", "site.stage", words, nil, 10}, more,
}}

var areasForm = form{Areas, []column{
	{"Area", "", words, nil, 16}, {"Kind", "kind", words, nil, 9}, {"Category", "category", words, nil, 9},
	{"Dead", "dead", figure, areaLoad, 12}, {"Imposed", "imposed", figure, areaLoad, 12}, {"Roof imposed", "roof_imposed", figure, areaLoad, 12},
	{"Snow", "snow", figure, areaLoad, 12}, {"Wind", "wind", figure, areaLoad, 12}, {"Pitch", "pitch", figure, turn, 12},
	{"Covering", "covering", words, nil, 28}, {"Finish", "finish", words, nil, 14}, {"Deck", "deck", figure, length, 10},
	{"Outline", "extent", points, nil, 50}, more,
}}

var membersForm = form{Members, []column{
	{"Mark", "", words, nil, 9}, {"Role", "role", words, nil, 14}, {"Section", "section", words, nil, 16}, {"Flat", "flat", truth, nil, 7},
	{"Finish", "finish", words, nil, 8}, {"Grade", "grade", words, nil, 10}, {"Material", "material", words, nil, 10},
	{"Width", "width", figure, length, 11}, {"Length", "length", figure, length, 11}, {"Pitch", "pitch", figure, turn, 14},
	{"Centres", "centres", figure, length, 12}, {"Count", "repeat.count", figure, nil, 8}, {"Step", "repeat.step", step, nil, 14},
	{"Path", "path", points, nil, 44}, {"Carries", "carries", strips, nil, 22}, {"Ground", "ground", truth, nil, 8},
	{"Phase", "phase", words, nil, 10}, {"Condition", "condition", words, nil, 11}, {"Service class", "service_class", figure, nil, 12},
	{"Drawing", "drawing", words, nil, 10}, {"Covered by", "covered_by", words, nil, 16}, {"Treated", "treated", words, nil, 16},
	{"Price", "price", figure, nil, 9}, {"Note", "note", words, nil, 40}, more,
}}

var supportsForm = form{Supports, []column{
	{"Mark", "", words, nil, 9}, {"No.", "", figure, nil, 6}, {"On", "on", words, nil, 9}, {"Against", "against", words, nil, 9},
	{"At", "at", figure, length, 10}, {"Bearing", "bearing", figure, length, 13}, {"By", "by", words, nil, 9},
	{"Notch", "notch.depth", figure, length, 11}, {"Notch face", "notch.face", words, nil, 11}, {"Holds", "holds", words, nil, 11},
	{"Down", "capacity.down", figure, force, 10}, {"Up", "capacity.up", figure, force, 10}, {"Along", "capacity.along", figure, force, 10},
	{"Basis", "capacity.basis", words, nil, 13}, {"Stated by", "capacity.by", words, nil, 20},
	{"Seat", "seat.kind", words, nil, 10}, {"Seat size", "seat.size", words, nil, 14},
	{"Continuous", "continuous", truth, nil, 11}, {"From", "from", figure, length, 10}, {"To", "to", figure, length, 10},
	{"Level", "level", figure, length, 10}, more,
}}

// unit is the unit of a column's figures.
func (c *column) unit(u model.Units) string {
	if c.measure == nil {
		return ""
	}
	return c.measure.Unit(u)
}

// headings are a form's columns as they are printed.
func (f *form) headings(u model.Units) []Column {
	out := make([]Column, len(f.columns))
	for i, c := range f.columns {
		out[i] = Column{c.title, c.unit(u), c.width}
	}
	return out
}

// cell is a value of the document's JSON as a cell.
func (c *column) cell(v any) Cell {
	kept := Cell{Text: Kept}
	switch v := v.(type) {
	case nil:
		return Cell{}
	case string:
		if c.kind == strips {
			return c.cell([]any{v})
		}
		return text(v)
	case bool:
		if v {
			return Cell{Text: "TRUE", Truth: true}
		}
		return Cell{Text: "FALSE", Truth: true}
	case json.Number:
		return Cell{Text: v.String(), Figure: true}
	case map[string]any:
		if c.kind == strips { // a single strip may stand without a list
			return c.cell([]any{v})
		}
	case []any:
		parts := make([]string, len(v))
		for i, item := range v {
			var ok bool
			switch c.kind {
			case step:
				parts[i], ok = scalar(item)
			case points:
				parts[i], ok = pointText(item)
			case strips:
				parts[i], ok = stripText(item)
			}
			if !ok {
				return kept
			}
		}
		if c.kind == step {
			return text(strings.Join(parts, ", "))
		}
		return text(strings.Join(parts, "; "))
	}
	return kept
}

// scalar is a number or a text with a unit.
func scalar(v any) (string, bool) {
	switch v := v.(type) {
	case json.Number:
		return v.String(), true
	case string:
		return v, !strings.ContainsAny(v, ",;:")
	}
	return "", false
}

func pointText(v any) (string, bool) {
	list, ok := v.([]any)
	if !ok {
		return "", false
	}
	parts := make([]string, len(list))
	for i, item := range list {
		if parts[i], ok = scalar(item); !ok {
			return "", false
		}
	}
	return strings.Join(parts, ", "), true
}

// stripText is an area's id, or the id with the width of the strip.
func stripText(v any) (string, bool) {
	if area, ok := v.(string); ok {
		return area, !strings.ContainsAny(area, ";:")
	}
	strip, ok := v.(map[string]any)
	if !ok {
		return "", false
	}
	area, ok := strip["area"].(string)
	width, wide := scalar(strip["width"])
	if !ok || !wide || len(strip) != 2 || strings.ContainsAny(area, ";:") {
		return "", false
	}
	return area + ": " + width, true
}

var number = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)

// value is a cell as JSON. What is no figure where one is wanted stays a text, which the reader of documents judges.
func (c *column) value(cell string) (any, string) {
	switch c.kind {
	case figure:
		return amount(cell), ""
	case truth:
		switch strings.ToLower(cell) {
		case "true", "yes", "1":
			return true, ""
		case "false", "no", "0":
			return false, ""
		}
		return cell, ""
	case step:
		return point(cell), ""
	case points:
		var out []any
		for _, each := range list(cell) {
			out = append(out, point(each))
		}
		return out, ""
	case strips:
		return stripValues(cell)
	}
	return cell, ""
}

// amount is a bare number, or a text with its unit.
func amount(cell string) any {
	if number.MatchString(cell) {
		return json.Number(cell)
	}
	return cell
}

func point(cell string) any {
	out := []any{}
	for _, each := range strings.Split(cell, ",") {
		out = append(out, amount(strings.TrimSpace(each)))
	}
	return out
}

func stripValues(cell string) (any, string) {
	out := []any{}
	for _, each := range list(cell) {
		area, width, found := strings.Cut(each, ":")
		area, width = strings.TrimSpace(area), strings.TrimSpace(width)
		switch {
		case found && (width == "" || strings.Contains(width, ":")):
			return nil, `write areas with their widths like "tiles: 400; ceiling"`
		case found:
			out = append(out, map[string]any{"area": area, "width": amount(width)})
		default:
			out = append(out, area)
		}
	}
	return out, ""
}

// list is the items between semicolons; one at the end may be left over.
func list(cell string) []string {
	return strings.Split(strings.TrimRight(cell, "; "), ";")
}
