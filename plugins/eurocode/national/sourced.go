package national

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"

	"example.com/scantling/plugins/eurocode/working"
)

// Sourced is one national choice with the place where it was read. A choice without a source does not exist: Get refuses it.
type Sourced[T any] struct {
	Value  T      `json:"value"`
	Source string `json:"source"`

	absent working.Absence // why Get refuses, worded once when the file is read so that a check costs nothing
}

// Value is a choice that is one number; its unit stands at the field.
type Value = Sourced[float64]

// Known is the choice of one number with its source, for a caller that holds one of its own.
func Known(value float64, source string) Value { return Value{Value: value, Source: source} }

// Get is the value, or why it is absent.
func (s *Sourced[T]) Get() (value T, absent working.Absence) {
	if s.Source == "" {
		if s.absent == "" {
			return value, "a national choice is not sourced: name the country whose annex counts"
		}
		return value, s.absent
	}
	return s.Value, ""
}

// Table is a set of choices by name: categories of use, masonry units.
type Table[T any] map[string]*Sourced[T]

// Get is the value of this name, or why it is absent.
func (t Table[T]) Get(name string) (value T, absent working.Absence) {
	if found := t[name]; found != nil {
		return found.Get()
	}
	if len(t) == 0 {
		return value, working.Absence(fmt.Sprintf("not sourced: the national choices give nothing for %q; ask the engineer for it", name))
	}
	return value, working.Absence(fmt.Sprintf("the national choices give no value for %q; they give %s",
		name, strings.Join(slices.Sorted(maps.Keys(t)), ", ")))
}

// choice is what every Sourced is, whatever it holds.
type choice interface {
	name(country, path string)
	fault() error
}

func (s *Sourced[T]) name(country, path string) {
	s.absent = working.Absence(fmt.Sprintf("not sourced: the national choices for %s give no source for %s; ask the engineer for it", country, path))
}

// fault is a value in a file that cannot be meant.
func (s *Sourced[T]) fault() error {
	if s.Source == "" && !reflect.ValueOf(s.Value).IsZero() {
		return errors.New("has a value without a source")
	}
	if number, ok := any(s.Value).(float64); ok && s.Source != "" && (math.IsNaN(number) || number <= 0) {
		return fmt.Errorf("is %g, which is not above 0", number)
	}
	return nil
}

// eachChoice calls visit for every Sourced in what v points to, with its path in the file, in the order of the struct.
func eachChoice(v reflect.Value, path string, visit func(path string, c choice)) {
	if v.CanAddr() {
		if c, ok := v.Addr().Interface().(choice); ok {
			visit(path, c)
			return
		}
	}
	under := func(name string) string {
		if path == "" {
			return name
		}
		return path + "." + name
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			eachChoice(v.Elem(), path, visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			eachChoice(v.Field(i), under(v.Type().Field(i).Tag.Get("json")), visit)
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(a.String(), b.String()) })
		for _, key := range keys {
			eachChoice(v.MapIndex(key), under(key.String()), visit)
		}
	}
}
