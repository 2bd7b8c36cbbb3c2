package built

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"findrive/internal/tomlfile"
)

// clauses are the parts of a text between stops and "but".
func clauses(text string) [][]string {
	for _, stop := range []string{" but ", ";", ". ", "!", ", and ", ", "} {
		text = strings.ReplaceAll(text, stop, "\x00")
	}
	var out [][]string
	for _, part := range strings.Split(text, "\x00") {
		if t := tokens(part); len(t) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// tokens are the words of a text: letters only, "won't" as "wont".
func tokens(text string) []string {
	return strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case r == '\'' || r == '’':
			return -1
		case unicode.IsLetter(r):
			return unicode.ToLower(r)
		}
		return ' '
	}, text))
}

// vocabulary is lists of words by what they stand for, ready to be looked up in.
type vocabulary struct {
	whole map[string][]string
	stems map[string][]string // of words that end in *
	most  int                 // letters of the longest stem
}

func newVocabulary(lists map[string]string) *vocabulary {
	v := &vocabulary{whole: map[string][]string{}, stems: map[string][]string{}}
	for kind, list := range lists {
		for _, word := range strings.Fields(list) {
			if stem, open := strings.CutSuffix(word, "*"); open {
				v.stems[stem] = append(v.stems[stem], kind)
				v.most = max(v.most, len(stem))
			} else {
				v.whole[word] = append(v.whole[word], kind)
			}
		}
	}
	return v
}

// of are the kinds that a word belongs to, by their names.
func (v *vocabulary) of(word string) []string {
	out := slices.Clone(v.whole[word])
	for n := 1; n <= min(len(word), v.most); n++ {
		out = append(out, v.stems[word[:n]]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// words are all words, stems without their star, of at least so many letters.
func (v *vocabulary) words(least int) []string {
	var out []string
	for _, m := range []map[string][]string{v.whole, v.stems} {
		for w := range m {
			if len(w) >= least {
				out = append(out, w)
			}
		}
	}
	return out
}

var (
	meaningWords = sync.OnceValue(func() *vocabulary { return newVocabulary(meanings) })
	thingWords   = sync.OnceValue(func() *vocabulary { return newVocabulary(things) })
	stateWords   = sync.OnceValue(func() *vocabulary { return newVocabulary(states) })
	// plainWords are those that have no meaning here and are no slip of another.
	plainWords = sync.OnceValue(func() map[string]bool {
		out := map[string]bool{}
		for _, w := range strings.Fields(small + common) {
			out[w] = true
		}
		return out
	})
	// knownWords are all that a slip may be read as.
	knownWords = sync.OnceValue(func() []string {
		var out []string
		for _, v := range []*vocabulary{meaningWords(), thingWords(), stateWords()} {
			out = append(out, v.words(4)...)
		}
		for w := range plainWords() {
			if len(w) >= 4 {
				out = append(out, w)
			}
		}
		slices.Sort(out)
		return slices.Compact(out)
	})
)

// shortestSlip is the length from which a word that is not known may be a slip of another:
// shorter ones are too like each other.
const shortestSlip = 5

// spelt are words as they were meant: one that is not known is read as the nearest known one.
// read tells of those that were.
func spelt(words []string) (out, read []string) {
	for _, w := range words {
		near := w
		if len(w) >= shortestSlip && !isWord(w) {
			for _, form := range forms(w) {
				if k := tomlfile.NearestWithin(form, knownWords(), 1+len(form)/8); k != "" {
					near = k
					break
				}
			}
			if near != w && !plainWords()[near] {
				read = append(read, w+" as "+near)
			}
		}
		out = append(out, near)
	}
	return out, read
}

// isWord reports whether a word is known as it stands.
func isWord(w string) bool {
	return plainWords()[w] || saidWords()[w] || len(meaningWords().of(w)) > 0 || len(thingWords().of(w)) > 0 || len(stateWords().of(w)) > 0
}

// lexicon is what each word of a clause may mean; read tells of words taken for others.
func lexicon(words []string) (of [][]string, read []string) {
	words, read = spelt(words)
	for i, w := range words {
		meant := meaningWords().of(w)
		if isSound(meant) && slices.ContainsFunc(words[max(0, i-soundDenied):i], func(w string) bool { return strings.Contains(denies, " "+w+" ") }) {
			meant = []string{"silent"} // not even a hum
		}
		of = append(of, meant)
	}
	return of, read
}

// soundDenied is how many words before a sound it may be denied (judgement).
const soundDenied = 3

func isSound(meant []string) bool {
	return slices.Contains(meant, "hum") || slices.Contains(meant, "noise")
}

// forms are a word and its stem, without the usual endings.
func forms(w string) []string {
	out := []string{w}
	for _, end := range []string{"ing", "ed", "es", "s", "y"} {
		if stem, cut := strings.CutSuffix(w, end); cut && len(stem) >= 4 {
			out = append(out, stem)
		}
	}
	return out
}
