package report

import "bytes"

// utf16Column turns a column in code points of a line (both from 1) into one in UTF-16 code units, which a letter
// outside the basic plane takes two of. A column behind the end of the line stays as far behind it.
func utf16Column(text []byte, line, column int) int {
	for ; line > 1; line-- {
		end := bytes.IndexByte(text, '\n')
		if end < 0 {
			return column
		}
		text = text[end+1:]
	}
	if end := bytes.IndexByte(text, '\n'); end >= 0 {
		text = text[:end]
	}
	units, seen := 0, 0
	for _, r := range string(text) {
		if seen == column-1 {
			break
		}
		seen++
		units++
		if r > 0xffff {
			units++
		}
	}
	return units + column - seen
}
