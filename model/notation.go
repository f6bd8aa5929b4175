package model

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Bounds of a section that is no mistake, mm.
const (
	leastSide    = 5.0
	greatestSide = 5000.0
	mostPlies    = 20
)

// ParseSection reads trade notation:
//
//	47x195  2/47x195           timber, width x depth, mm (a unit may follow: "1.5x7.25 in")
//	2x8  2/2x8  6x6            nominal lumber sizes, in a US document; with a decimal point, actual inches
//	100x100x8 SHS  200x100x8 RHS  139.7x5 CHS    hollow sections, mm, finish not said
//	203x133x25 UB  152x152x23 UC  150x75x18 PFC  W8x18  rolled sections, from the table
//
// Plies stand before a stroke: 2/152x89x16 UB. An error is a *TextError.
func ParseSection(text string, u Units) (*Section, error) {
	text = strings.TrimSpace(text)
	if text == "" || len(text) > longestText {
		return nil, sectionError(text, u)
	}
	plies, body, err := cutPlies(text, u)
	if err != nil {
		return nil, err
	}
	s, err := parseSingle(text, body, u)
	if err != nil {
		return nil, err
	}
	s.Text = text
	s.multiply(plies)
	return s, nil
}

// cutPlies takes "2/" from the front of a section's text.
func cutPlies(text string, u Units) (plies int, body string, err error) {
	before, after, found := strings.Cut(text, "/")
	if !found {
		return 1, text, nil
	}
	plies, err = strconv.Atoi(strings.TrimSpace(before))
	if err != nil {
		return 0, "", sectionError(text, u)
	}
	if plies < 1 || plies > mostPlies {
		return 0, "", &TextError{fmt.Sprintf("%q has %d plies", text, plies), fmt.Sprintf("write 1 to %d plies", mostPlies)}
	}
	return plies, strings.TrimSpace(after), nil
}

func parseSingle(text, body string, u Units) (*Section, error) {
	kind, sizes := splitKind(body)
	switch kind {
	case "UB", "UC", "PFC", "W":
		return rolled(kind, text, sizes)
	}
	numbers, err := parseSides(text, sizes, u)
	if err != nil {
		return nil, err
	}
	switch kind {
	case "SHS", "RHS":
		if len(numbers) != 3 || kind == "SHS" && numbers[0] != numbers[1] {
			return nil, &TextError{fmt.Sprintf("%q is not a hollow section", text), `write depth x width x wall, such as "100x100x8 SHS" or "200x100x8 RHS"`}
		}
		return hollow(text, numbers[0], numbers[1], numbers[2], "")
	case "CHS":
		if len(numbers) != 2 {
			return nil, &TextError{fmt.Sprintf("%q is not a hollow section", text), `write diameter x wall, such as "139.7x5 CHS"`}
		}
		return tube(text, numbers[0], numbers[1])
	}
	if len(numbers) != 2 {
		return nil, sectionError(text, u)
	}
	unit := kind
	if unit == "" && u == US {
		if strings.Contains(sizes, ".") {
			unit = "IN"
		} else {
			return lumber(text, numbers[0], numbers[1])
		}
	}
	if unit == "IN" {
		numbers[0], numbers[1] = numbers[0]*inch, numbers[1]*inch
	}
	if numbers[0] < leastSide || numbers[1] < leastSide {
		return nil, &TextError{fmt.Sprintf("%q is a section of less than %g mm", text, leastSide), `write width x depth in mm, such as "47x195", or say "units": "us" for nominal sizes`}
	}
	if err := withinSides(text, numbers...); err != nil {
		return nil, err
	}
	return NewRectangle(numbers[0], numbers[1], 1), nil
}

// splitKind parts "203x133x25 UB" into the kind in capitals and the sizes; a unit counts as a kind.
func splitKind(body string) (kind, sizes string) {
	body = strings.ToUpper(strings.ReplaceAll(body, "×", "x"))
	if rest, cut := strings.CutPrefix(body, "W"); cut {
		return "W", strings.TrimSpace(rest)
	}
	for _, k := range []string{"SHS", "RHS", "CHS", "UB", "UC", "PFC", "MM", "IN"} {
		if rest, cut := strings.CutSuffix(body, k); cut {
			return k, strings.TrimSpace(rest)
		}
	}
	return "", strings.TrimSpace(body)
}

func parseSides(text, sizes string, u Units) ([]float64, error) {
	var numbers []float64
	for _, side := range strings.Split(sizes, "X") {
		v, rest, ok := cutDecimal(strings.TrimSpace(side))
		if !ok || rest != "" || math.IsInf(v, 0) {
			return nil, sectionError(text, u)
		}
		numbers = append(numbers, v)
	}
	return numbers, nil
}

func withinSides(text string, sides ...float64) error {
	for _, v := range sides {
		if v <= 0 || v > greatestSide {
			return &TextError{fmt.Sprintf("%q has a side of %g mm", text, v), fmt.Sprintf("write sides up to %g mm", greatestSide)}
		}
	}
	return nil
}

// sectionError names the nearest section that is known, or shows the notation.
func sectionError(text string, u Units) *TextError {
	fix := `write "47x195", "2/47x195", "100x100x8 SHS", "139.7x5 CHS", "203x133x25 UB" or "W8x18"`
	if u == US {
		fix = `write "2x8", "2/2x8", "1.75x11.875", "W8x18" or "100x100x8 SHS"`
	}
	if near := Nearest(text, SectionNames()); near != "" {
		fix = fmt.Sprintf("the nearest known is %q", near)
	}
	if len(text) > longestText {
		text = text[:longestText] + "..."
	}
	return &TextError{fmt.Sprintf("%q is no section that is known here", text), fix}
}

// dressed are the dry dressed sizes of nominal inches, in inches: American Softwood Lumber Standard PS 20 (memory;
// the span tables of the IRC use the same sizes for 2-inch dimension lumber).
var dressed = map[float64]float64{1: 0.75, 2: 1.5, 3: 2.5, 4: 3.5, 5: 4.5, 6: 5.5, 8: 7.25, 10: 9.25, 12: 11.25, 14: 13.25, 16: 15.25}

// lumber is a nominal size of a US document. Timbers of 5 inches and more are dressed alike since PS 20-10
// (7 inches and more: 3/4 inch off), which is the smaller of the sizes in use.
func lumber(text string, width, depth float64) (*Section, error) {
	w, d := dressed[width], dressed[depth]
	if w == 0 || d == 0 {
		return nil, &TextError{fmt.Sprintf("%q is no nominal lumber size", text),
			`write a nominal size such as "2x8", or the actual size as "1.75x11.875" or "47x195 mm"`}
	}
	s := NewRectangle(w*inch, d*inch, 1)
	s.Nominal = strconv.FormatFloat(width, 'f', -1, 64) + "x" + strconv.FormatFloat(depth, 'f', -1, 64)
	return s, nil
}

// SectionNames lists the rolled sections of the table as notation, in the table's order.
func SectionNames() []string {
	return slices.Clone(rolledNames())
}
