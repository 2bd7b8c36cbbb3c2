package tomlfile

import (
	"strings"
	"unicode/utf8"
)

// Nearest is the known name most like a mistyped one, or "" if none is near:
// one letter in three, and one more, may be wrong. Of two equally near it is the
// one that begins alike, since first letters are seldom the ones mistyped.
func Nearest(name string, known []string) string {
	return NearestWithin(name, known, 1+utf8.RuneCountInString(name)/3)
}

// NearestWithin is Nearest with so many letters wrong at most.
func NearestWithin(name string, known []string, most int) string {
	if name == "" || len(name) > 4*MaxName {
		return ""
	}
	name = strings.ToLower(name)
	first, _ := utf8.DecodeRuneInString(name)
	best, least := "", most
	for _, k := range known {
		alike := strings.HasPrefix(strings.ToLower(k), string(first))
		d := edits(name, strings.ToLower(k))
		if d < least || d == least && (best == "" || alike && !strings.HasPrefix(strings.ToLower(best), string(first))) {
			best, least = k, d
		}
	}
	return best
}

// edits is the least number of letters to change, add or drop, two swapped
// neighbours counting as one (optimal string alignment distance).
func edits(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	before, last, row := make([]int, len(rb)+1), make([]int, len(rb)+1), make([]int, len(rb)+1)
	for j := range last {
		last[j] = j
	}
	for i := range ra {
		row[0] = i + 1
		for j := range rb {
			change := last[j]
			if ra[i] != rb[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && ra[i] == rb[j-1] && ra[i-1] == rb[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(rb)]
}
