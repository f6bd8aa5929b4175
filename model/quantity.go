package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// TextError says what is wrong with a text of a document, and what would be right.
type TextError struct{ Message, Fix string }

// Error is both in one line.
func (e *TextError) Error() string { return e.Message + "; " + e.Fix }

// longestText bounds the texts that are parsed: no quantity or section is longer.
const longestText = 120

// ParseQuantity reads a text with its unit, such as "5.5 in", "13 ft 6 in", "30 psf" or "0.75 kN/m2". The value is in
// internal units (mm, N, N/mm2, kg, rad). An angle may also be a rise to a run, "6:12" or "6/12". An error is a *TextError.
func ParseQuantity(text string, want Dimension) (float64, error) {
	trimmed := strings.TrimSpace(text)
	if trimmed == "" {
		return 0, quantityError("an empty text is no quantity", want)
	}
	if len(trimmed) > longestText {
		return 0, quantityError("this text is too long to be a quantity", want)
	}
	rest, sign := trimmed, 1.0
	if after, cut := strings.CutPrefix(rest, "-"); cut {
		rest, sign = strings.TrimSpace(after), -1
	}
	if slope, ok := riseToRun(rest); ok && want == Angle {
		return sign * slope, nil
	}
	total, last := 0.0, math.Inf(1)
	for parts := 0; rest != "" || parts == 0; parts++ {
		number, after, ok := cutNumber(rest)
		if !ok {
			return 0, quantityError(fmt.Sprintf("%q is not a number with a unit", text), want)
		}
		name, after := cutUnit(after)
		u, err := chooseUnit(text, name, want)
		if err != nil {
			return 0, err
		}
		// Only feet and inches come in several parts, each finer than the one before.
		if parts > 0 && (u.dimension != Length || u.size >= last) {
			return 0, quantityError(fmt.Sprintf("%q is not one quantity", text), want)
		}
		total, last = total+number*u.size, u.size
		rest = after
	}
	total *= sign
	if math.IsInf(total, 0) || math.IsNaN(total) {
		return 0, quantityError(fmt.Sprintf("%q is too large a number", text), want)
	}
	return total, nil
}

// riseToRun is the angle of a slope written as the trade does where it reckons in feet: 6:12, 6/12, 6 in 12. The run is more
// than 0.
func riseToRun(text string) (radians float64, ok bool) {
	rise, rest, ok := cutDecimal(text)
	if !ok {
		return 0, false
	}
	rest = strings.TrimLeft(rest, " ")
	for _, to := range []string{":", "/", "in "} {
		if after, cut := strings.CutPrefix(rest, to); cut {
			run, rest, ok := cutDecimal(strings.TrimLeft(after, " "))
			return math.Atan2(rise, run), ok && rest == "" && run > 0
		}
	}
	return 0, false
}

// chooseUnit is the reading of a unit's name that has the dimension wanted.
func chooseUnit(text, name string, want Dimension) (unit, error) {
	if name == "" && want != Plain {
		return unit{}, quantityError(fmt.Sprintf("%q has no unit", text), want)
	}
	readings := parseUnit(name)
	for _, u := range readings {
		if u.dimension == want {
			return u, nil
		}
	}
	if len(readings) == 0 {
		return unit{}, quantityError(fmt.Sprintf("%q is not a unit that is known here", name), want)
	}
	return unit{}, quantityError(fmt.Sprintf("%q is %s, where %s is wanted", text, readings[0].dimension.Phrase(), want.Phrase()), want)
}

func quantityError(message string, want Dimension) *TextError {
	example := examples[want]
	if example == "" {
		return &TextError{message, "write " + want.Phrase()}
	}
	return &TextError{message, "write for example " + example}
}

// cutNumber takes a number from the front of a text: 12, 0.75, 1e3, 1/2, 5 1/2 or 5-1/2.
func cutNumber(s string) (value float64, rest string, ok bool) {
	whole, rest, ok := cutDecimal(s)
	if !ok {
		return 0, s, false
	}
	if denominator, after, ok := cutFraction(rest); ok {
		return whole / denominator, after, true
	}
	joint := strings.TrimLeft(rest, " ")
	joint = strings.TrimPrefix(joint, "-")
	if numerator, after, ok := cutDecimal(joint); ok && len(joint) < len(rest) {
		if denominator, after, ok := cutFraction(after); ok {
			return whole + numerator/denominator, after, true
		}
	}
	return whole, rest, true
}

// cutFraction takes "/16" from the front of a text.
func cutFraction(s string) (denominator float64, rest string, ok bool) {
	after, cut := strings.CutPrefix(s, "/")
	if !cut {
		return 0, s, false
	}
	denominator, rest, ok = cutDecimal(after)
	return denominator, rest, ok && denominator > 0
}

// cutDecimal takes digits with a point and an exponent from the front of a text.
func cutDecimal(s string) (value float64, rest string, ok bool) {
	end := digits(s, 0)
	if end < len(s) && s[end] == '.' {
		end = digits(s, end+1)
	}
	if end == 0 || s[:end] == "." {
		return 0, s, false
	}
	if end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		start := end + 1
		if start < len(s) && (s[start] == '-' || s[start] == '+') {
			start++
		}
		if stop := digits(s, start); stop > start {
			end = stop
		}
	}
	value, err := strconv.ParseFloat(s[:end], 64)
	return value, s[end:], err == nil
}

func digits(s string, from int) int {
	for from < len(s) && s[from] >= '0' && s[from] <= '9' {
		from++
	}
	return from
}

// cutUnit takes what stands before the next number that begins a part: a digit that is no power of the unit.
func cutUnit(s string) (name, rest string) {
	s = strings.TrimLeft(s, " \u00a0")
	for i := 0; i < len(s); i++ {
		begins := s[i] >= '0' && s[i] <= '9' || s[i] == '.'
		if begins && (i == 0 || strings.IndexByte(` -'"`, s[i-1]) >= 0) {
			return strings.TrimRight(s[:i], " -"), s[i:]
		}
	}
	return strings.TrimRight(s, " \u00a0"), ""
}
