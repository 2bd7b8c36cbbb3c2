package tomlfile

import "fmt"

// meant suggests the nearest of the known names, if one is near.
func meant(name string, known []string) string {
	if name == "" {
		return ""
	}
	best, least := "", 1+len(name)/3
	for _, k := range known {
		d := edits(name, k)
		// Of two equally near the one that begins alike: first letters are
		// seldom the ones mistyped.
		if d < least || d == least && (best == "" || k[0] == name[0] && best[0] != name[0]) {
			best, least = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
}

// edits is the least number of letters to change, add or drop (Levenshtein).
func edits(a, b string) int {
	ra, rb := []rune(a), []rune(b)
	row := make([]int, len(rb)+1)
	for j := range row {
		row[j] = j
	}
	for i := range ra {
		before := row[0]
		row[0] = i + 1
		for j := range rb {
			change := before
			if ra[i] != rb[j] {
				change++
			}
			before = row[j+1]
			row[j+1] = min(change, row[j]+1, before+1)
		}
	}
	return row[len(rb)]
}
