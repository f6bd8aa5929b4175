package report

import (
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
)

func TestUTF16Column(t *testing.T) {
	for _, row := range []struct {
		name, text         string
		line, column, want int
	}{
		{"plain letters count one each", "abc", 1, 3, 3},
		{"the start of a line is column 1", "ab\ncd", 2, 1, 1},
		{"a letter of two bytes counts one", "\u00e9x", 1, 2, 2},
		{"a letter of three bytes counts one", "\u6728x", 1, 2, 2},
		{"an emoji counts two", "\U0001F332x", 1, 2, 3},
		{"two emoji count four", "\U0001F332\U0001F3E0x", 1, 3, 5},
		{"a mark that combines counts one of its own", "e\u0301x", 1, 3, 3},
		{"an emoji joined of four, with joiners, counts eleven", "\U0001F468\u200d\U0001F469\u200d\U0001F467\u200d\U0001F466x", 1, 8, 12},
		{"a flag of two letters counts four", "\U0001F1EC\U0001F1E7x", 1, 3, 5},
		{"an emoji on the line before does not count", "\U0001F332\nxy", 2, 2, 2},
		{"a line ends at its carriage return and line feed", "\U0001F332\r\n\U0001F332y", 2, 2, 3},
		{"the end of a line is one behind its last letter", "\U0001F332", 1, 2, 3},
		{"behind the end of a line, as far behind", "ab", 1, 5, 5},
		{"a line that is not there keeps its column", "ab", 9, 4, 4},
		{"a byte that is no letter counts one", "\xffx", 1, 2, 2},
		{"an empty text", "", 1, 1, 1},
	} {
		assert.Equal(t, row.want, utf16Column([]byte(row.text), row.line, row.column), row.name)
	}
}

// The standard library encodes what stands before the column; its length is the column less one.
func TestUTF16ColumnAgreesWithTheStandardLibrary(t *testing.T) {
	line := []rune("B\U0001F332e\u0301: \u6728\u9020 \U0001F468\u200d\U0001F469 n\u0303 \u00e9 \U00020BB7 end")
	for column := 1; column <= len(line)+1; column++ {
		assert.Equal(t, len(utf16.Encode(line[:column-1]))+1, utf16Column([]byte(string(line)), 1, column))
	}
}
