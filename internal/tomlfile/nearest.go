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
	letters := []rune(name)
	best, least := "", most
	var at distance
	for _, k := range known {
		other := []rune(strings.ToLower(k))
		d := at.edits(letters, other, least)
		if d > least {
			continue
		}
		alike := len(other) > 0 && other[0] == letters[0]
		if d < least || best == "" || alike && !strings.HasPrefix(strings.ToLower(best), string(letters[0])) {
			best, least = k, d
		}
	}
	return best
}

// distance holds the rows of a table of edits from one pair of names to the next.
type distance struct{ before, last, row []int }

// edits is the least number of letters to change, add or drop, two swapped neighbours
// counting as one (optimal string alignment distance); or most + 1 if it is above
// most. It gives up as soon as that is certain: thousands of names that nobody means
// must not take minutes.
func (t *distance) edits(a, b []rune, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return most + 1
	}
	size := len(b) + 1
	if cap(t.row) < size {
		t.before, t.last, t.row = make([]int, size), make([]int, size), make([]int, size)
	}
	before, last, row := t.before[:size], t.last[:size], t.row[:size]
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		least := row[0]
		for j := range b {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
			least = min(least, row[j+1])
		}
		// No later row can come below this one's least: swapped neighbours reach back
		// two rows, whose least is at most one less, and cost one.
		if least > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return min(last[len(b)], most+1)
}
