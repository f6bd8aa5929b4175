package read

// Merge applies a merge patch without reading the result, for tests.
func Merge(base, patch []byte) []byte {
	m, _ := merge(base, patch)
	return m.text
}
