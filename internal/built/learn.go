package built

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
)

// lesson is one example to learn by: what it says, and how likely it is of each kind.
type lesson struct {
	terms  map[string]float64
	of     []float64
	weight float64
}

// learned tells how likely each kind is by what is said: a regression of the logarithm of the
// odds on terms (multinomial logistic regression; Berger, Della Pietra and Della Pietra 1996).
type learned struct {
	at    map[string]int
	rare  []float64 // the logarithm of in how few lessons each term is
	weigh []float64 // of each term, for each kind
	kinds int
}

// Learning goes so often over all lessons, by steps that get smaller. It ends before each
// lesson is known by heart.
const (
	rounds    = 15
	firstStep = 1.0
	smaller   = 0.1
)

type learnedTerm struct {
	at int
	by float64
}

// learn goes over the lessons in an order that is mixed, and the same every time.
func learn(list []lesson, kinds int) *learned {
	m := &learned{at: map[string]int{}, kinds: kinds}
	var many []float64
	for _, l := range list {
		for _, t := range slices.Sorted(maps.Keys(l.terms)) {
			if _, known := m.at[t]; !known {
				m.at[t] = len(m.at)
				many = append(many, 0)
			}
			many[m.at[t]]++
		}
	}
	for _, n := range many {
		m.rare = append(m.rare, math.Log(float64(len(list)+1)/n))
	}
	m.weigh = make([]float64, len(many)*kinds)
	of := make([][]learnedTerm, len(list))
	order := make([]int, len(list))
	for i, l := range list {
		of[i], order[i] = m.terms(l.terms), i
	}
	r := rand.New(rand.NewPCG(1, 2))
	off := make([]float64, kinds)
	for round := range rounds {
		r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		step := firstStep / (1 + smaller*float64(round))
		for _, i := range order {
			m.odds(of[i], off)
			for k := range off {
				off[k] = step * list[i].weight * (off[k] - list[i].of[k])
			}
			for _, t := range of[i] {
				w := m.weigh[t.at*kinds : (t.at+1)*kinds]
				for k := range w {
					w[k] -= t.by * off[k]
				}
			}
		}
	}
	return m
}

// terms are those that are known, rare ones more, all together of length one.
func (m *learned) terms(of map[string]float64) []learnedTerm {
	var out []learnedTerm
	for t, v := range of {
		if at, known := m.at[t]; known {
			out = append(out, learnedTerm{at, v * m.rare[at]})
		}
	}
	slices.SortFunc(out, func(a, b learnedTerm) int { return a.at - b.at }) // sums are the same every time
	squares := 0.0
	for _, t := range out {
		squares += t.by * t.by
	}
	for i := range out {
		out[i].by /= math.Sqrt(squares)
	}
	return out
}

// odds are how likely each kind is.
func (m *learned) odds(of []learnedTerm, out []float64) {
	clear(out)
	for _, t := range of {
		w := m.weigh[t.at*m.kinds : (t.at+1)*m.kinds]
		for k := range out {
			out[k] += t.by * w[k]
		}
	}
	most, sum := slices.Max(out), 0.0
	for k := range out {
		out[k] = math.Exp(out[k] - most)
		sum += out[k]
	}
	for k := range out {
		out[k] /= sum
	}
}

// shares are how likely each kind is by what is said; false where no term is known.
func (m *learned) shares(terms map[string]float64) ([]float64, bool) {
	of := m.terms(terms)
	out := make([]float64, m.kinds)
	m.odds(of, out)
	return out, len(of) > 0
}
