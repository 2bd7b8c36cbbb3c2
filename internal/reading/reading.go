// Package reading says how hard words are to read; tests hold pages for children to it.
package reading

import (
	"regexp"
	"strings"
)

var (
	sentenceEnd = regexp.MustCompile(`[.?!:]+(\s+|$)`)
	aWord       = regexp.MustCompile(`[A-Za-z0-9']+`)
	vowels      = regexp.MustCompile(`[aeiouy]+`)
)

// Words are the words of a text.
func Words(text string) []string { return aWord.FindAllString(text, -1) }

// Sentences are those of a text, without what ends them.
func Sentences(text string) []string {
	var out []string
	for _, s := range sentenceEnd.Split(text, -1) {
		if s = strings.TrimSpace(s); len(Words(s)) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// Grade is the school grade that sentences can be read in, by Kincaid and others
// (Derivation of new readability formulas, 1975): 0.39 words to a sentence + 11.8
// syllables to a word - 15.59. Readers of 7 or 8 are in the second or third grade.
func Grade(sentences []string) float64 {
	beats, words := 0, 0
	for _, s := range sentences {
		for _, w := range Words(s) {
			words++
			beats += syllables(w)
		}
	}
	return 0.39*float64(words)/float64(len(sentences)) + 11.8*float64(beats)/float64(words) - 15.59
}

// syllables are counted as groups of vowels, a last silent e left out: right for
// most of the short words of such a page, and rather too many than too few.
func syllables(word string) int {
	w := strings.ToLower(word)
	n := len(vowels.FindAllString(w, -1))
	if n > 1 && strings.HasSuffix(w, "e") && !strings.HasSuffix(w, "le") {
		n--
	}
	return max(1, n)
}
