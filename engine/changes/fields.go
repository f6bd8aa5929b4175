package changes

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

// fields is a document key by key, so that a difference in a key that nothing here knows is still seen.
type fields struct {
	Members    map[string]keyed `json:"members"`
	Areas      map[string]keyed `json:"areas"`
	Grades     map[string]keyed `json:"grades"`
	Site       keyed            `json:"site"`
	SelfWeight *bool            `json:"self_weight"`
}

type keyed map[string]any

// fieldsOf writes a document in some units, whatever its own, and reads the keys back.
func fieldsOf(doc *model.Document, units model.Units) (*fields, error) {
	written := *doc
	written.Units = units
	var f fields
	if err := json.Unmarshal(read.Write(&written), &f); err != nil {
		return nil, err
	}
	return &f, nil
}

// paperwork is the keys that say nothing of what stands: drawings, evidence, notes.
var paperwork = []string{"drawing", "covered_by", "seen", "note", "price", "stage", "existing", "stability", "snow_drift", "temporary_work"}

// differing is the keys whose values differ, in order; those of paperwork are left out.
func differing(a, b keyed) []string {
	var out []string
	for k, v := range a {
		if w, there := b[k]; !there || !alike(v, w) {
			out = append(out, k)
		}
	}
	for k := range b {
		if _, there := a[k]; !there {
			out = append(out, k)
		}
	}
	out = slices.DeleteFunc(out, func(k string) bool { return slices.Contains(paperwork, k) })
	slices.Sort(out)
	return out
}

// longestValue is how many letters of a value are told; what is longer is for the documents to say.
const longestValue = 40

// valuesOf are a key's two values as the documents write them; where they cannot be told in a few words, that they differ.
// A bare number is told with its unit.
func valuesOf(d, b keyed, key, unit string) (was, now string) {
	was, now = valueWords(d[key], unit), valueWords(b[key], unit)
	if key == "phase" {
		was, now = cmp.Or(was, "new"), cmp.Or(now, "new")
	}
	if was == now || utf8.RuneCountInString(was) > longestValue || utf8.RuneCountInString(now) > longestValue {
		return asDrawn, "otherwise"
	}
	return was, now
}

// unitOf is the unit in which a bare number stands under a key of one kind of object ("members", "areas", "site"); empty
// where it has none.
func unitOf(kind, key string, u model.Units) string {
	form := read.Describe()
	for _, name := range []string{kind, key} {
		if form = under(form, name); form == nil {
			return ""
		}
	}
	for _, f := range append([]*read.Form{form}, form.Choices...) {
		if f.Kind == read.Amount {
			return f.Measure.Unit(u)
		}
	}
	return ""
}

// under is the form of a key of an object, or of every object of a map; nil where it has no such key.
func under(f *read.Form, key string) *read.Form {
	if f.Kind == read.Map {
		f = f.Items
	}
	for _, k := range f.Keys {
		if k.Name == key {
			return k.Form
		}
	}
	return nil
}

// valueWords is a value of a document as text; empty where there is none.
func valueWords(v any, unit string) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case float64:
		return strings.TrimSpace(model.Format(v, model.Plain, model.Metric) + " " + unit)
	}
	text, err := json.Marshal(v)
	if err != nil {
		return ""
	}
	return string(text)
}

// alike says whether two values are the same but for the rounding of units.
func alike(a, b any) bool {
	switch x := a.(type) {
	case float64:
		y, ok := b.(float64)
		return ok && math.Abs(x-y) <= 1e-6*max(1, math.Abs(x), math.Abs(y))
	case []any:
		y, ok := b.([]any)
		return ok && slices.EqualFunc(x, y, alike)
	case map[string]any:
		y, ok := b.(map[string]any)
		return ok && len(differing(x, y)) == 0
	}
	return a == b
}
