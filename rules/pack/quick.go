package pack

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"go.yaml.in/yaml/v3"

	"example.com/scantling/rules/pack/problem"
)

// quick reads the text of one document, as parseYAML would; nil where there is anything that parseYAML has a problem
// with, or that a pack does not need.
func (f *yamlFile) quick(data []byte) (root *item) {
	defer func() { // as in parseYAML
		if recover() != nil {
			root = nil
		}
	}()
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var first, second yaml.Node
	if decoder.Decode(&first) != nil || len(first.Content) != 1 || !errors.Is(decoder.Decode(&second), io.EOF) {
		return nil
	}
	if i, ok := f.quickItem(first.Content[0]); ok {
		return i
	}
	return nil
}

// quickItem is the item of a node; false where it is none that a pack needs.
func (f *yamlFile) quickItem(n *yaml.Node) (*item, bool) {
	if n.Anchor != "" || n.Style&yaml.TaggedStyle != 0 {
		return nil, false
	}
	out := &item{place: problem.Place{File: f.name, Line: n.Line, Column: n.Column}, file: f}
	switch n.Kind {
	case yaml.ScalarNode:
		return out, out.quickScalar(n)
	case yaml.SequenceNode:
		out.form = list
		for _, c := range n.Content {
			i, ok := f.quickItem(c)
			if !ok {
				return nil, false
			}
			out.items = append(out.items, i)
		}
	case yaml.MappingNode:
		out.form = mapping
		for k := 0; k+1 < len(n.Content); k += 2 {
			key, plain := f.quickItem(n.Content[k])
			value, ok := f.quickItem(n.Content[k+1])
			if !plain || !ok || key.form != scalar {
				return nil, false
			}
			out.keys = append(out.keys, entry{key, value})
		}
		if len(out.keys) > 0 {
			out.place = out.keys[0].key.place
		}
	default:
		return nil, false
	}
	return out, true
}

// quickScalar fills in a scalar; false where parsers may differ over what it is.
func (i *item) quickScalar(n *yaml.Node) bool {
	i.text, i.bare = n.Value, n.Style == 0
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		i.text = strings.TrimRight(n.Value, "\n")
	}
	if !i.bare {
		return true
	}
	switch n.ShortTag() {
	case "!!str":
		return true
	case "!!null":
		i.form, i.text, i.bare = null, "", false
		return true
	case "!!bool":
		i.truth = true
		return true
	}
	i.number = plainNumber(n.Value)
	return i.number
}

// plainNumber says that a text is a number by every edition of YAML, and the same one.
func plainNumber(text string) bool {
	whole, fraction, point := strings.Cut(strings.TrimPrefix(text, "-"), ".")
	return digits(whole) && (whole == "0" || whole[0] != '0') && (!point || digits(fraction))
}

func digits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}
