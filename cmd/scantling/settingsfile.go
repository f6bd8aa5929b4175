package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"example.com/scantling/rules/pack/problem"
)

// settingKeys are the keys of a settings file with what each holds.
var settingKeys = map[string]string{
	"region": "text", "at_least": "text", "format": "text", "stock": "text", "packs": "texts", "regions": "regions",
}

// regionKeys are the keys of an entry under regions.
var regionKeys = map[string]string{"file": "text", "sha256": "text", "codes": "texts"}

var keyForms = map[string]string{
	"region": "region: GB-ENG", "at_least": "at_least: ask", "format": "format: json", "stock": "stock: yard.yaml", "packs": "packs: [house.yaml]",
	"regions": "a list; `scantling region pin` prints an entry", "file": "file: path/to/region", "sha256": `sha256: "..."`, "codes": "codes: [GB-ENG]",
}

// settingsFile is a settings file that is held against its form before it is read, so that whoever wrote it is told the
// line and the key of all that is wrong.
type settingsFile struct {
	name string
	own  bool // the user's own, which alone may name executables
	bad  []string
}

// checkSettings says everything that is wrong with a settings file.
func checkSettings(name string, own bool, text []byte) error {
	f := &settingsFile{name: name, own: own}
	var document yaml.Node
	switch err := yaml.NewDecoder(bytes.NewReader(text)).Decode(&document); {
	case errors.Is(err, io.EOF):
		return nil // empty: it sets nothing
	case err != nil:
		f.unreadable(err)
	default:
		f.keys(document.Content[0], "the settings", settingKeys)
	}
	if len(f.bad) == 0 {
		return nil
	}
	return unusablef("%s", strings.Join(f.bad, "\n"))
}

func (f *settingsFile) say(at *yaml.Node, format string, args ...any) {
	f.bad = append(f.bad, fmt.Sprintf("%s:%d:%d: %s", f.name, at.Line, at.Column, fmt.Sprintf(format, args...)))
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// unreadable says what keeps the text from being YAML.
func (f *settingsFile) unreadable(err error) {
	at, what := f.name, err.Error()
	if m := yamlLine.FindStringSubmatch(what); m != nil {
		if m[1] != "" {
			at += ":" + m[1]
		}
		what = what[len(m[0]):]
	}
	f.bad = append(f.bad, fmt.Sprintf("%s: this is not YAML: %s; close every bracket and quote, and line up what belongs together", at, what))
}

// keys holds a mapping against the keys that it may have.
func (f *settingsFile) keys(n *yaml.Node, whose string, known map[string]string) {
	if n.Kind != yaml.MappingNode {
		if n.Tag != "!!null" {
			f.say(n, "%s are keys with values; write for example %s", whose, keyForms["region"])
		}
		return
	}
	names := slices.Sorted(maps.Keys(known))
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch {
		case known[key.Value] == "":
			f.say(key, "%q is no key of %s; %s", key.Value, whose, problem.DidYouMean(key.Value, names, "the keys are "+strings.Join(names, ", ")))
		case seen[key.Value]:
			f.say(key, "%s is there twice; leave one of them out", key.Value)
		case key.Value == "regions" && !f.own:
			f.say(key, "a project's file may name a region by its code only, never an executable; put regions into %s", userFile())
		default:
			f.value(key.Value, known[key.Value], value)
		}
		seen[key.Value] = true
	}
}

func (f *settingsFile) value(key, form string, n *yaml.Node) {
	text := n.Kind == yaml.ScalarNode && (n.Tag == "!!str" || n.Tag == "!!null")
	switch {
	case form == "text" && !text:
		f.say(n, "%s is a text; write %s", key, keyForms[key])
	case key == "at_least" && n.Value != "" && !isThreshold(n.Value):
		f.say(n, "at_least is %q; write stop, ask or note", n.Value)
	case form != "text" && n.Kind != yaml.SequenceNode && n.Tag != "!!null":
		f.say(n, "%s is a list; write %s", key, keyForms[key])
	case form == "texts":
		for _, item := range n.Content {
			if item.Kind != yaml.ScalarNode || item.Tag != "!!str" {
				f.say(item, "%s lists texts; write %s", key, keyForms[key])
			}
		}
	case form == "regions":
		for _, item := range n.Content {
			f.keys(item, "an entry under regions", regionKeys)
		}
	}
}

func isThreshold(word string) bool { return word == "stop" || word == "ask" || word == "note" }
