package sheet

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

var (
	sentenceEnd = regexp.MustCompile(`[.?!:]+(\s+|$)`)
	aWord       = regexp.MustCompile(`[A-Za-z0-9']+`)
	vowels      = regexp.MustCompile(`[aeiouy]+`)
)

// sentences of a page, one to a heading, a line or a full stop.
func sentences(p *Page) []string {
	var out []string
	say := func(words string) {
		for _, s := range sentenceEnd.Split(words, -1) {
			if s = strings.TrimSpace(s); len(aWord.FindAllString(s, -1)) > 0 {
				out = append(out, s)
			}
		}
	}
	say(p.Title)
	for _, b := range flat(p.Blocks) {
		switch b := b.(type) {
		case Heading:
			say(string(b))
		case Text:
			// Letters to be ringed are no words.
			words, _, _ := strings.Cut(b.Words, "    ")
			say(words)
		case Steps:
			for _, s := range b.Items {
				say(s.Do)
				say(s.Check)
			}
		case Boxes:
			for _, l := range b.Labels {
				say(l)
			}
		}
	}
	return out
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

// Sentences of fewer than twelve words, and words of few beats. The grade is that
// of Kincaid and others (Derivation of new readability formulas, 1975):
// 0.39 words to a sentence + 11.8 syllables to a word - 15.59. Readers of 7 or 8
// are in the second or third grade.
func TestPupilsCanReadIt(t *testing.T) {
	for _, name := range every {
		p := set(t, name).Pupils()
		all, beats, words := sentences(&p), 0, 0
		for _, s := range all {
			list := aWord.FindAllString(s, -1)
			assert.Less(t, len(list), 12, "%s: %q", name, s)
			for _, w := range list {
				words++
				beats += syllables(w)
			}
		}
		grade := 0.39*float64(words)/float64(len(all)) + 11.8*float64(beats)/float64(words) - 15.59
		assert.Less(t, grade, 2.5, name)
		assert.Greater(t, words, 100, name)
	}
}
