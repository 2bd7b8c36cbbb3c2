package built

import (
	"math"
	"math/rand/v2"
	"slices"
)

// lesson is one example to learn by: what it says, and how likely it is of each kind.
type lesson struct {
	terms  []term
	of     []float64
	weight float64
}

// learned tells how likely each kind is by what is said: a regression of the logarithm of the
// odds on terms (multinomial logistic regression; Berger, Della Pietra and Della Pietra 1996).
type learned struct {
	terms []learnedTerm
	// weigh are the weights of each group of terms, in its row one for each kind; a row is as
	// long as whole blocks.
	weigh      []float64
	kinds, row int
}

// learnedTerm is what is known of a term. Terms that stand in the same lessons, and in each in
// the same proportion, are one group: they learn the same, so they are learned once.
type learnedTerm struct {
	rare  float64 // the logarithm of in how few lessons it is; 0 where it is in none
	group int
	part  float64 // of the group, so that the squares of all parts together are 1
}

// grouped is a group of terms in a lesson.
type grouped struct {
	at int
	by float64
}

// Learning goes so often over all lessons, by steps that get smaller. It ends before each
// lesson is known by heart: by fewer and longer steps as well as by more and shorter ones (lists
// that were not learned by are heard alike).
const (
	rounds    = 8
	firstStep = 1.5
	smaller   = 0.1
)

// learn goes over the lessons in an order that is mixed, and the same every time.
func learn(list []lesson, kinds int) *learned {
	m := &learned{kinds: kinds, row: (kinds + block - 1) / block * block}
	of := m.group(list)
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	r := rand.New(rand.NewPCG(1, 2))
	off := make([]float64, m.row)
	for round := range rounds {
		r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		step := firstStep / (1 + smaller*float64(round))
		for _, i := range order {
			l := &list[i]
			m.odds(of[i], off)
			for k, p := range l.of {
				off[k] = step * l.weight * (off[k] - p)
			}
			m.correct(of[i], off)
		}
	}
	return m
}

// group finds which terms learn the same, and is what each lesson says in groups, of length one.
func (m *learned) group(list []lesson) [][]grouped {
	var many []int // in how many lessons each term is
	all := 0
	for _, l := range list {
		for _, t := range l.terms {
			if t.at >= len(many) {
				many = append(many, make([]int, t.at+1-len(many))...)
			}
			many[t.at]++
		}
		all += len(l.terms)
	}
	in := make([][]grouped, len(many)) // the lessons of each term
	room := make([]grouped, all)
	for t, n := range many {
		in[t], room = room[:0:n], room[n:]
	}
	for i, l := range list {
		for _, t := range l.terms {
			in[t.at] = append(in[t.at], grouped{i, t.by})
		}
	}
	m.terms = make([]learnedTerm, len(in))
	var sizes []float64         // of each group
	var first []int             // its first term
	alike := map[uint64][]int{} // groups by their lessons
	of := make([][]grouped, len(list))
	for t := range in {
		if len(in[t]) == 0 {
			continue
		}
		key := uint64(0)
		for _, l := range in[t] {
			key = (key ^ uint64(l.at)) * 0x9e3779b97f4a7c15
		}
		g := -1
		for _, c := range alike[key] {
			if sameLessons(in[first[c]], in[t]) {
				g = c
			}
		}
		if g < 0 {
			g = len(sizes)
			sizes, first = append(sizes, 0), append(first, t)
			alike[key] = append(alike[key], g)
		}
		rare := math.Log(float64(len(list)+1) / float64(len(in[t])))
		part := rare * in[t][0].by
		m.terms[t] = learnedTerm{rare, g, part}
		sizes[g] = math.Hypot(sizes[g], part)
	}
	for t := range m.terms {
		if len(in[t]) > 0 {
			m.terms[t].part /= sizes[m.terms[t].group]
		}
	}
	for g, t := range first {
		for _, l := range in[t] {
			of[l.at] = append(of[l.at], grouped{g, sizes[g] * l.by / in[t][0].by})
		}
	}
	for i := range of {
		toLengthOne(of[i])
	}
	m.weigh = make([]float64, len(sizes)*m.row)
	return of
}

// sameLessons reports whether two terms stand in the same lessons, in the same proportion.
func sameLessons(a, b []grouped) bool {
	return slices.EqualFunc(a, b, func(x, y grouped) bool {
		return x.at == y.at && x.by*b[0].by == y.by*a[0].by
	})
}

func toLengthOne(of []grouped) {
	squares := 0.0
	for _, g := range of {
		squares += g.by * g.by
	}
	length := math.Sqrt(squares)
	for i := range of {
		of[i].by /= length
	}
}

// block is how many kinds are gone through at once: their sums stay in registers.
const block = 8

// odds are how likely each kind is, in a row.
func (m *learned) odds(of []grouped, out []float64) {
	for at := 0; at < m.row; at += block {
		var a, b, c, d, e, f, g, h float64
		for _, t := range of {
			w := (*[block]float64)(m.weigh[t.at*m.row+at:])
			a += t.by * w[0]
			b += t.by * w[1]
			c += t.by * w[2]
			d += t.by * w[3]
			e += t.by * w[4]
			f += t.by * w[5]
			g += t.by * w[6]
			h += t.by * w[7]
		}
		*(*[block]float64)(out[at:]) = [block]float64{a, b, c, d, e, f, g, h}
	}
	clear(out[m.kinds:])
	out = out[:m.kinds]
	most, sum := out[0], 0.0
	for _, v := range out {
		if v > most {
			most = v
		}
	}
	for k := range out {
		out[k] = math.Exp(out[k] - most)
		sum += out[k]
	}
	for k := range out {
		out[k] /= sum
	}
}

// correct takes what is off from the weights.
func (m *learned) correct(of []grouped, off []float64) {
	for at := 0; at < m.row; at += block {
		o := *(*[block]float64)(off[at:])
		for _, t := range of {
			w := (*[block]float64)(m.weigh[t.at*m.row+at:])
			w[0] -= t.by * o[0]
			w[1] -= t.by * o[1]
			w[2] -= t.by * o[2]
			w[3] -= t.by * o[3]
			w[4] -= t.by * o[4]
			w[5] -= t.by * o[5]
			w[6] -= t.by * o[6]
			w[7] -= t.by * o[7]
		}
	}
}

// shares are how likely each kind is by what is said, terms that are rare more; false where no
// term is known.
func (m *learned) shares(terms []term) ([]float64, bool) {
	var of []grouped
	for _, t := range terms {
		if t.at < len(m.terms) && m.terms[t.at].rare > 0 {
			of = append(of, grouped{t.at, t.by * m.terms[t.at].rare})
		}
	}
	toLengthOne(of)
	for i, t := range of {
		of[i] = grouped{m.terms[t.at].group, t.by * m.terms[t.at].part}
	}
	out := make([]float64, m.row)
	m.odds(of, out)
	return out[:m.kinds], len(of) > 0
}
