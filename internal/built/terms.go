package built

import (
	"math"
	"strings"
)

// term is one of what a telling is compared by, by its number, and its share.
type term struct {
	at int
	by float64
}

// termTable numbers the terms of tellings: the stems of words and pieces of them, words that
// stand side by side, what they mean, each apart where it is denied, and which things and states
// stand in one part.
type termTable struct {
	at    map[string]int
	pairs map[[2]int]int // of stems
	words map[string]*wordTerms
	many  int
	// closed tables are full: they number no more, and so may be asked by several at once.
	closed bool
}

// wordTerms are the terms of a word by itself.
type wordTerms struct {
	denies, empty bool
	stem          int
	pieces        []int
	// meant are the terms of what it means and of states, plain and denied.
	meant          []term
	denied         []term
	things, states []string
}

func newTermTable() *termTable {
	return &termTable{at: map[string]int{}, pairs: map[[2]int]int{}, words: map[string]*wordTerms{}}
}

// unnumbered is the number of a term that a closed table does not have.
const unnumbered = -1

// number is that of a term, unnumbered if it is not known and the table is closed.
func (t *termTable) number(name string) int {
	return numberIn(t, t.at, name)
}

func numberIn[K comparable](t *termTable, at map[K]int, key K) int {
	n, known := at[key]
	switch {
	case known:
		return n
	case t.closed:
		return unnumbered
	}
	n = t.many
	t.many++
	at[key] = n
	return n
}

// Marks of kinds of terms.
const (
	pieceMark   = "…"
	meaningMark = "~"
	stateMark   = "="
	deniedMark  = "not"
)

func (t *termTable) word(w string) *wordTerms {
	if known := t.words[w]; known != nil {
		return known
	}
	said := w
	w = meantBy(w)
	out := &wordTerms{denies: strings.Contains(denies, " "+w+" ")}
	out.empty = !out.denies && (len(w) < 2 || strings.Contains(emptyWords, " "+w+" "))
	if !out.denies && !out.empty {
		out.stem = t.number(stem(w))
		for i := 0; i+piece <= len(w); i++ {
			out.pieces = append(out.pieces, t.number(pieceMark+w[i:i+piece]))
		}
		out.things, out.states = thingWords().of(w), stateWords().of(w)
		mean := func(mark string, of []string) {
			by := classShare / math.Sqrt(float64(len(of)))
			for _, m := range of {
				out.meant = append(out.meant, term{t.number(mark + m), by})
				out.denied = append(out.denied, term{t.number(deniedMark + mark + m), by})
			}
		}
		mean(meaningMark, meaningWords().of(w))
		mean(stateMark, out.states)
	}
	if !t.closed {
		t.words[said] = out
	}
	return out
}

// of are the terms of a text.
func (t *termTable) of(text string) []term {
	out := make([]term, 0, 32)
	add := func(at int, by float64) {
		if at == unnumbered {
			return
		}
		for i := range out { // a map would take longer
			if out[i].at == at {
				out[i].by = max(out[i].by, by)
				return
			}
		}
		out = append(out, term{at, by})
	}
	denying := t.number(deniedMark)
	for _, words := range clauses(strings.ToLower(text)) {
		last, denied := unnumbered, 0
		var things, are []string
		for _, w := range words {
			of := t.word(w)
			switch {
			case of.denies:
				last, denied = denying, deniesNext
				continue
			case of.empty:
				continue
			}
			add(of.stem, 1)
			if last != unnumbered && of.stem != unnumbered {
				add(numberIn(t, t.pairs, [2]int{last, of.stem}), pairShare)
			}
			for _, p := range of.pieces {
				add(p, pieceShare)
			}
			meant, not := of.meant, ""
			if denied > 0 {
				meant, not = of.denied, deniedMark
			}
			for _, m := range meant {
				add(m.at, m.by)
			}
			for _, s := range of.states {
				are = append(are, not+s)
			}
			things = append(things, of.things...)
			last, denied = of.stem, denied-1
		}
		for i, a := range things {
			for _, state := range are {
				add(t.number(a+stateMark+state), togetherShare)
			}
			for _, b := range things[i+1:] {
				add(t.number(a+"+"+b), togetherShare)
			}
		}
	}
	return out
}
