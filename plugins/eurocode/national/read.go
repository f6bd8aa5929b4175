package national

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"sync"

	"example.com/scantling/plugins/eurocode/working"
)

//go:embed data/*.json
var files embed.FS

// Read takes the national choices out of a data file. Unknown keys, values without a source and numbers that cannot be meant
// are errors, all of the last two at once.
func Read(data []byte) (*Choices, error) {
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	var c Choices
	if err := decoder.Decode(&c); err != nil {
		return nil, fmt.Errorf("national choices: %w", err)
	}
	if _, err := decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("national choices: more follows after the first object; keep one object a file")
	}
	var wrong []error
	if c.ID == "" || len(c.Serves) == 0 || c.Basis == "" {
		wrong = append(wrong, errors.New("national choices: id, serves and basis must say which country this is and how it was read"))
	}
	eachChoice(reflect.ValueOf(&c), "", func(path string, held choice) {
		held.name(c.ID, path)
		if err := held.fault(); err != nil {
			wrong = append(wrong, fmt.Errorf("national choices for %s: %s %w", c.ID, path, err))
		}
	})
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return &c, nil
}

// For gives the choices that hold in the place of this code: ISO 3166-2, or 3166-1 where a country has one annex. The code
// "recommended" gives the values that the EN texts recommend.
func For(code string) (*Choices, working.Absence) {
	if c, ok := shipped()[code]; ok {
		return c, ""
	}
	return nil, working.Absence(fmt.Sprintf("no national choices are held for %q; they are held for %s", code, strings.Join(Codes(), ", ")))
}

// Codes lists the codes that For serves, in alphabetical order.
func Codes() []string {
	var codes []string
	for code := range shipped() {
		codes = append(codes, code)
	}
	slices.Sort(codes)
	return codes
}

// shipped reads the embedded files once; a fault in one is a fault of the build, which the tests find.
var shipped = sync.OnceValue(func() map[string]*Choices {
	byCode := map[string]*Choices{}
	entries, err := files.ReadDir("data")
	if err != nil {
		panic(err)
	}
	for _, entry := range entries {
		data, err := files.ReadFile("data/" + entry.Name())
		if err != nil {
			panic(err)
		}
		choices, err := Read(data)
		if err != nil {
			panic(err)
		}
		for _, code := range choices.Serves {
			if byCode[code] != nil {
				panic("national: two files serve " + code)
			}
			byCode[code] = choices
		}
	}
	return byCode
})
