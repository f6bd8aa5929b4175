package read

import "example.com/scantling/model"

// Kind is what a value of a document looks like.
type Kind uint8

// The kinds of value.
const (
	Text     Kind = iota
	Choice        // one of the texts in Values
	Number        // a plain number
	Whole         // a whole number
	Truth         // true or false
	Amount        // a number in the document's units, or a text with its unit
	Notation      // a section's notation
	Object        // keys that are fixed
	Map           // keys that are the document's own names
	List          // values of one form
	Either        // one of several forms
)

// Form describes a value: the schema and the documentation are made of it.
type Form struct {
	Kind        Kind
	Name        string         // of an object, or what keys a map
	Doc         string         // of an object
	Values      []string       // of a choice; of a text, those that are known among others
	Measure     *model.Measure // of an amount
	Low, High   float64        // of a number or amount, in internal units
	Least, Most int            // items of a list or map; 0: any number
	Keys        []Key          // of an object
	Items       *Form          // of a list or map
	Choices     []*Form        // of either
}

// Key is one key of an object.
type Key struct {
	Name, Doc string
	Required  bool
	Form      *Form
}

// Describe is the form of a whole document.
func Describe() *Form { return documentTable.form }

// Keys lists every key of a document by its path, such as "members.*.supports.bearing": a star stands for the
// document's own names. The order is that of the tables.
func Keys() []string {
	var paths []string
	seen := map[string]bool{}
	walkKeys("", Describe(), func(path string) {
		if !seen[path] {
			seen[path] = true
			paths = append(paths, path)
		}
	})
	return paths
}

func walkKeys(path string, f *Form, visit func(string)) {
	switch f.Kind {
	case Object:
		for _, k := range f.Keys {
			inner := k.Name
			if path != "" {
				inner = path + "." + k.Name
			}
			visit(inner)
			walkKeys(inner, k.Form, visit)
		}
	case Map:
		walkKeys(path+".*", f.Items, visit)
	case List:
		walkKeys(path, f.Items, visit)
	case Either:
		for _, c := range f.Choices {
			walkKeys(path, c, visit)
		}
	}
}
