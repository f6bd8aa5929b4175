// Package schema describes the framing document as a JSON Schema (2020-12), made from the tables that the document
// is read by. It serves editors and tests; reading itself needs no schema, and the schema knows nothing of its own.
package schema

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"

	"example.com/scantling/model"
	"example.com/scantling/model/read"
)

//go:embed framing.schema.json
var text []byte

// Text is the schema as it is checked in.
func Text() []byte { return text }

// Build makes the schema from the tables.
func Build() []byte {
	b := builder{definitions: object{}}
	root := b.object(read.Describe())
	top := object{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"$id":         "https://example.com/scantling/framing.schema.json",
		"title":       "Framing document, version 1",
		"$defs":       b.definitions,
		"description": root["description"],
	}
	for k, v := range root {
		top[k] = v
	}
	out, err := json.MarshalIndent(top, "", "  ")
	if err != nil {
		panic("schema: " + err.Error()) // maps, slices, texts and finite numbers always marshal
	}
	return append(out, '\n')
}

type object = map[string]any

// builder collects the objects that the document is made of, each under its name.
type builder struct{ definitions object }

// form is the schema of a value.
func (b *builder) form(f *read.Form) object {
	switch f.Kind {
	case read.Text:
		s := object{"type": "string"}
		if len(f.Values) > 0 {
			s["examples"] = f.Values
		}
		return s
	case read.Notation:
		return object{"type": "string", "minLength": 1, "examples": []string{"47x195", "2/47x195", "100x100x8 SHS", "139.7x5 CHS", "203x133x25 UB", "W8x18", "2x8"}}
	case read.Choice:
		return object{"enum": f.Values}
	case read.Truth:
		return object{"type": "boolean"}
	case read.Whole:
		return object{"type": "integer", "minimum": f.Low, "maximum": f.High}
	case read.Amount:
		return b.amount(f)
	case read.Object:
		return b.reference(f)
	case read.Map:
		s := object{"type": "object", "additionalProperties": b.form(f.Items), "propertyNames": object{"minLength": 1}}
		if f.Least > 0 {
			s["minProperties"] = f.Least
		}
		return s
	case read.List:
		s := object{"type": "array", "items": b.form(f.Items)}
		if f.Least > 0 {
			s["minItems"] = f.Least
		}
		if f.Most > 0 {
			s["maxItems"] = f.Most
		}
		return s
	case read.Either:
		var choices []object
		for _, c := range f.Choices {
			choices = append(choices, b.form(c))
		}
		return object{"anyOf": choices}
	}
	panic(fmt.Sprintf("schema: no schema for kind %d", f.Kind))
}

// amount is a number in the document's units or a text with its unit. The schema bounds signs only: the bounds of
// size depend on the units.
func (b *builder) amount(f *read.Form) object {
	number := object{"type": "number"}
	if f.Low >= 0 {
		number["minimum"] = 0
	}
	if f.Measure.Dimension == model.Plain {
		return number
	}
	unit := f.Measure.Unit(model.Metric)
	if us := f.Measure.Unit(model.US); us != unit {
		unit += ", or " + us + " in a US document"
	}
	name := strings.ReplaceAll(f.Measure.Dimension.String(), " ", "-") + "-" + strings.NewReplacer("/", "-per-", " ", "-").Replace(f.Measure.Unit(model.Metric))
	if f.Low >= 0 {
		name += "-not-negative"
	}
	b.definitions[name] = object{
		"description": sentence(f.Measure.Dimension.Phrase()) + " A number in " + unit + ", or a text with its unit, such as " + f.Measure.Example() + ".",
		"anyOf":       []object{number, {"type": "string", "pattern": `[0-9]`}},
	}
	return object{"$ref": "#/$defs/" + name}
}

// reference puts an object under its name and points to it.
func (b *builder) reference(f *read.Form) object {
	name := strings.ReplaceAll(strings.TrimPrefix(f.Name, "a "), " ", "-")
	if _, known := b.definitions[name]; !known {
		b.definitions[name] = object{}
		b.definitions[name] = b.object(f)
	}
	return object{"$ref": "#/$defs/" + name}
}

// object is an object with its keys, and no others.
func (b *builder) object(f *read.Form) object {
	properties := object{}
	var required []string
	for _, k := range f.Keys {
		s := b.form(k.Form)
		s["description"] = sentence(k.Doc)
		properties[k.Name] = s
		if k.Required {
			required = append(required, k.Name)
		}
	}
	s := object{"type": "object", "description": f.Doc, "properties": properties, "additionalProperties": false}
	if required != nil {
		s["required"] = required
	}
	return s
}

func sentence(doc string) string { return strings.ToUpper(doc[:1]) + doc[1:] + "." }
