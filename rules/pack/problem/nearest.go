package problem

import (
	"fmt"
	"sort"
)

// Nearest is the name of a list that a misspelt one was most likely meant to be, or "" when none is near.
func Nearest(name string, names []string) string {
	best, distance := "", 1+max(1, len([]rune(name))/3)
	sorted := append([]string(nil), names...)
	sort.Strings(sorted)
	for _, n := range sorted {
		if d := edits(name, n, distance); d < distance {
			best, distance = n, d
		}
	}
	return best
}

// DidYouMean is the question that goes with a misspelt name, or otherwise.
func DidYouMean(name string, names []string, otherwise string) string {
	if n := Nearest(name, names); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return otherwise
}

// longestName bounds the names that are compared; beyond it nobody misspelt anything.
const longestName = 80

// edits counts the letters to put in, take out, change or swap with the next to turn a into b (optimal string
// alignment), giving up at limit.
func edits(a, b string, limit int) int {
	s, t := []rune(a), []rune(b)
	if len(s) > longestName || len(t) > longestName || abs(len(s)-len(t)) >= limit {
		return limit
	}
	var swap []int
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(s); i++ {
		next := make([]int, len(t)+1)
		next[0] = i
		for j := 1; j <= len(t); j++ {
			change := row[j-1]
			if s[i-1] != t[j-1] {
				change++
			}
			next[j] = min(row[j]+1, next[j-1]+1, change)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				next[j] = min(next[j], swap[j-2]+1)
			}
		}
		swap, row = row, next
	}
	return row[len(t)]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}
