package built

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"findrive/internal/tomlfile"
)

// clauses are the parts of a text between stops and "but", in words.
func clauses(text string) [][]string {
	var out [][]string
	from := 0
	cut := func(to, next int) {
		if words := tokens(text[from:to]); len(words) > 0 {
			out = append(out, words)
		}
		from = next
	}
	for i := 0; i < len(text); i++ {
		switch c := text[i]; c {
		case ';', '!':
			cut(i, i+1)
		case '.':
			if strings.HasPrefix(text[i:], ". ") {
				cut(i, i+1)
			}
		case ',':
			if strings.HasPrefix(text[i:], ", and ") {
				cut(i, i+len(", and"))
			} else if strings.HasPrefix(text[i:], ", ") {
				cut(i, i+1)
			}
		case ' ':
			if strings.HasPrefix(text[i:], " but ") {
				cut(i, i+len(" but"))
			}
		}
	}
	cut(len(text), len(text))
	return out
}

// tokens are the words of a text, in small letters: letters only, "won't" as "wont".
func tokens(text string) []string {
	var out []string
	word := make([]byte, 0, 16)
	end := func() {
		if len(word) > 0 {
			out = append(out, string(word))
			word = word[:0]
		}
	}
	for _, r := range text {
		switch {
		case 'a' <= r && r <= 'z':
			word = append(word, byte(r))
		case r == '\'' || r == '’':
		case unicode.IsLetter(r):
			word = utf8.AppendRune(word, unicode.ToLower(r))
		default:
			end()
		}
	}
	end()
	return out
}

// vocabulary is lists of words by what they stand for, ready to be looked up in.
type vocabulary struct {
	whole map[string][]string
	stems map[string][]openWord // by their first letters
}

// firstLetters is how many letters a stem is looked up by, and has at least.
const firstLetters = 2

// openWord stands for all words that begin so.
type openWord struct{ stem, kind string }

func newVocabulary(lists map[string]string) *vocabulary {
	v := &vocabulary{whole: map[string][]string{}, stems: map[string][]openWord{}}
	for kind, list := range lists {
		for _, word := range strings.Fields(list) {
			if stem, open := strings.CutSuffix(word, "*"); open {
				begin := stem[:firstLetters]
				v.stems[begin] = append(v.stems[begin], openWord{stem, kind})
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
	for _, o := range v.stems[word[:min(firstLetters, len(word))]] {
		if strings.HasPrefix(word, o.stem) {
			out = append(out, o.kind)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// words are all words, stems without their star, of at least so many letters.
func (v *vocabulary) words(least int) []string {
	var out []string
	for w := range v.whole {
		out = append(out, w)
	}
	for _, list := range v.stems {
		for _, o := range list {
			out = append(out, o.stem)
		}
	}
	return slices.DeleteFunc(out, func(w string) bool { return len(w) < least })
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
		near := meantBy(w)
		if near != w && !plainWords()[near] {
			read = append(read, w+" as "+near)
		}
		out = append(out, near)
	}
	return out, read
}

// meantBy is a word that is known, and else the nearest known one; itself if none is near.
func meantBy(w string) string {
	if len(w) < shortestSlip || isWord(w) {
		return w
	}
	for _, form := range forms(w) {
		if k := tomlfile.NearestWithin(form, knownWords(), 1+len(form)/8); k != "" {
			return k
		}
	}
	return w
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
