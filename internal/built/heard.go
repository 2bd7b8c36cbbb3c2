package built

import (
	"slices"
	"strings"
	"unicode"
)

// smallWords are in many questions and tell none apart.
const smallWords = " a an and are can do for have how i if in is it my of on or that the this to we what will would "

// Heard is the question that is meant by words of the asker's own: the one that they
// hold, or else the one that has most words in common with them, two at least. False if
// there is none, or more than one.
func Heard(words string) (Question, bool) {
	asked := telling(words)
	var best Question
	most, several := 1, false
	for _, q := range Questions() {
		common := 0
		if strings.Contains(strings.ToLower(words), string(q)) {
			common = len(asked) // as much as can be
		}
		for _, w := range telling(string(q)) {
			if slices.Contains(asked, w) {
				common++
			}
		}
		switch {
		case common > most:
			best, most, several = q, common, false
		case common == most:
			several = true
		}
	}
	return best, best != "" && !several
}

// telling are the words of a text that tell questions apart, without the s of plurals.
func telling(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if !strings.Contains(smallWords, " "+w+" ") {
			out = append(out, strings.TrimSuffix(w, "s"))
		}
	}
	return out
}
