package report

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes a text of a document safe to print on a terminal, in XML and in a drawing: line breaks and tabs become
// spaces, other control characters and those that turn the direction of writing become U+FFFD.
func Clean(text string) string {
	if strings.IndexFunc(text, hazardous) < 0 && utf8.ValidString(text) {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\r', r == '\t', r == '\u2028', r == '\u2029':
			return ' '
		case hazardous(r):
			return utf8.RuneError
		}
		return r
	}, text)
}

func hazardous(r rune) bool {
	return unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' ||
		r == '\u200e' || r == '\u200f' || r == '\u2028' || r == '\u2029' || r == '\ufffe' || r == '\uffff'
}

// Wrap breaks a text into lines of at most width columns. A word that is longer than a line is cut.
func Wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(Clean(text)) {
		for {
			length := textWidth(word)
			switch {
			case used > 0 && used+1+length <= width:
				line, used = line+" "+word, used+1+length
			case used > 0:
				lines = append(lines, line)
				line, used = "", 0
				continue
			case length <= width:
				line, used = word, length
			default:
				head, tail := cut(word, width)
				lines, word = append(lines, head), tail
				continue
			}
			break
		}
	}
	if used > 0 {
		lines = append(lines, line)
	}
	return lines
}

// textWidth is how wide a text stands on a terminal: a mark that combines takes none, a wide letter takes two.
func textWidth(text string) int {
	n := 0
	for _, r := range text {
		n += runeWidth(r)
	}
	return n
}

func runeWidth(r rune) int {
	switch {
	case r < 0x300: // before the first mark that combines
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me) || r == '\u200d':
		return 0
	case r >= 0x1100 && r <= 0x115f, r >= 0x2e80 && r <= 0xa4cf, r >= 0xac00 && r <= 0xd7a3, r >= 0xf900 && r <= 0xfaff,
		r >= 0xfe30 && r <= 0xfe4f, r >= 0xff00 && r <= 0xff60, r >= 0x1f300 && r <= 0x1faff, r >= 0x20000 && r <= 0x3fffd:
		return 2
	}
	return 1
}

// cut takes as much of a word as fits, at least one letter with the marks that combine with it.
func cut(word string, width int) (head, tail string) {
	used := 0
	for i, r := range word {
		used += runeWidth(r)
		if used > width && i > 0 {
			return word[:i], word[i:]
		}
	}
	return word, ""
}
