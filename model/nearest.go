package model

import (
	"slices"
	"strings"
)

// Nearest is the known word that a reader most likely meant by word, or "" when none is near. Case is no distance; of
// equals the first in order of the alphabet wins.
func Nearest(word string, known []string) string {
	best, least := "", len(word)/3+2
	for _, k := range slices.Sorted(slices.Values(known)) {
		if d := editDistance(strings.ToLower(word), strings.ToLower(k), least); d < least {
			best, least = k, d
		}
	}
	return best
}

// editDistance counts the bytes to insert, drop, replace or swap with a neighbour (Damerau 1964), or gives limit when
// it is no less.
func editDistance(a, b string, limit int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit || len(a) > 64 {
		return limit
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, last, row = last, row, before
		row[0] = i + 1
		for j := range len(b) {
			cost := last[j]
			if a[i] != b[j] {
				cost++
			}
			row[j+1] = min(cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(b)]
}
