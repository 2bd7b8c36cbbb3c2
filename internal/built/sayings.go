package built

import (
	_ "embed"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
)

//go:embed sayings.txt
var sayingsFile string

// phrasebook is how often each word and meaning is in the sayings of each sign.
type phrasebook struct {
	list  []saying
	of    map[string]map[string]float64 // sayings of the sign that have a term
	many  map[string]float64            // sayings of the sign
	all   map[string]float64            // sayings of any sign that have a term
	total float64
}

// saying is one way in which people tell a sign.
type saying struct {
	of    string // the sign
	words []string
	terms map[string]float64
	size  float64 // of its terms, each by its share and worth
}

// sayings are read once; the file is part of the program, and a test holds that every sign has
// some.
var sayings = sync.OnceValue(func() *phrasebook { return readBook(sayingsFile) })

func newBook() *phrasebook {
	return &phrasebook{of: map[string]map[string]float64{}, many: map[string]float64{}, all: map[string]float64{}}
}

func readBook(file string) *phrasebook {
	book := newBook()
	for _, l := range linesOf(file) {
		terms, _ := termsOf(tokens(l.text))
		s := saying{of: l.of, words: tokens(l.text), terms: terms}
		book.list = append(book.list, s)
		book.add(&s)
	}
	return book.measure()
}

// saidWords are the words of all sayings and tellings.
var saidWords = sync.OnceValue(func() map[string]bool {
	out := map[string]bool{}
	for _, l := range append(linesOf(sayingsFile), allTellings()...) {
		for _, w := range tokens(l.text) {
			out[w] = true
		}
	}
	return out
})

// add counts a saying in.
func (b *phrasebook) add(s *saying) {
	if b.of[s.of] == nil {
		b.of[s.of] = map[string]float64{}
	}
	for t := range s.terms {
		b.of[s.of][t]++
		b.all[t]++
	}
	b.many[s.of]++
	b.total++
}

// How sayings are weighed: chosen by hearing each saying of the program by all the others.
const (
	wordShare    = 0.6 // of a word itself
	meaningShare = 0.8 // of what it means; both say the same, so each says less
	nearest      = 6.0 // of the same words as one of the sign's sayings; the logarithm of a factor
	unheard      = 0.4 // sayings that a term is taken to be in besides those it is in
)

// termsOf are the stems of a text's words and what they mean; read tells of words that were
// taken for others.
func termsOf(words []string) (terms map[string]float64, read []string) {
	terms = map[string]float64{}
	of, read := lexicon(words)
	for i, w := range words {
		if len(w) > 1 && !strings.Contains(emptyWords, " "+w+" ") {
			terms[stem(w)] = wordShare
		}
		for _, m := range of[i] {
			terms["~"+m] = max(terms["~"+m], meaningShare/math.Sqrt(float64(len(of[i]))))
		}
	}
	return terms, read
}

// emptyWords are in sayings of every sign.
const emptyWords = " a an and the it is its in of to we our my i you that this there so with as at on be was are by has have had from when what theres thats weve ive youve im theyre "

// stem is a word without the usual endings.
func stem(w string) string {
	for _, end := range []string{"ing", "ies", "ed", "es", "ly", "s", "y", "e"} {
		if short, cut := strings.CutSuffix(w, end); cut && len(short) >= 3 {
			w = short
			break
		}
	}
	if n := len(w); n >= 4 && w[n-1] == w[n-2] && w[n-1] != 'l' && w[n-1] != 's' {
		w = w[:n-1] // slipping, slip
	}
	return w
}

// likeness is how much more likely a text is to be told of each sign than of any: the
// logarithm of a factor, by the terms taken as independent (naive Bayes, with Lidstone's
// smoothing), by how common the sign is, and by how near the text is to one of the sign's
// sayings (the cosine of their terms, weighed by how rare each is). Terms that are in no
// saying say nothing.
func (b *phrasebook) likeness(terms map[string]float64) map[string]float64 {
	keys := make([]string, 0, len(terms))
	for t := range terms {
		if b.all[t] > 0 {
			keys = append(keys, t)
		}
	}
	slices.Sort(keys)
	near := b.nearest(terms)
	out := map[string]float64{}
	for s := range b.many {
		sum := math.Log(b.many[s]*float64(len(b.many))/b.total) + nearest*near[s]*near[s]
		for _, t := range keys {
			here := (b.of[s][t] + unheard) / (b.many[s] + 2*unheard)
			anywhere := (b.all[t] + unheard) / (b.total + 2*unheard)
			sum += terms[t] * math.Log(here/anywhere)
		}
		out[s] = sum
	}
	if len(keys) == 0 {
		return map[string]float64{}
	}
	return out
}

// nearest is, for each sign, the cosine to the nearest of its sayings.
func (b *phrasebook) nearest(terms map[string]float64) map[string]float64 {
	keys := slices.Sorted(maps.Keys(terms)) // so that sums are the same every time
	worth := make([]float64, len(keys))
	squares := 0.0
	for i, t := range keys {
		worth[i] = terms[t] * math.Pow(b.worth(t), 2)
		squares += terms[t] * worth[i]
	}
	own := math.Sqrt(squares)
	out := map[string]float64{}
	for i := range b.list {
		s := &b.list[i]
		sum := 0.0
		for k, t := range keys {
			sum += worth[k] * s.terms[t]
		}
		if sum > 0 {
			out[s.of] = max(out[s.of], sum/(own*s.size))
		}
	}
	return out
}

// worth is the logarithm of in how few sayings a term is.
func (b *phrasebook) worth(t string) float64 { return math.Log((b.total + 1) / max(1, b.all[t])) }

// measure finds how long each saying is by its terms, when all are counted in.
func (b *phrasebook) measure() *phrasebook {
	for i := range b.list {
		s := &b.list[i]
		var squares []float64
		for t, v := range s.terms {
			squares = append(squares, math.Pow(v*b.worth(t), 2))
		}
		slices.Sort(squares) // so that the sum is the same every time
		sum := 0.0
		for _, v := range squares {
			sum += v
		}
		s.size = math.Sqrt(sum)
	}
	return b
}
