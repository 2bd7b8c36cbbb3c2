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
	weigh []float64 // of each group of terms, for each kind
	kinds int
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
// lesson is known by heart. What would change a weight by next to nothing is left.
const (
	rounds    = 15
	firstStep = 1.0
	smaller   = 0.1
	unlikely  = 1e-4
)

// learn goes over the lessons in an order that is mixed, and the same every time.
func learn(list []lesson, kinds int) *learned {
	m := &learned{kinds: kinds}
	of := m.group(list)
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	r := rand.New(rand.NewPCG(1, 2))
	off := make([]float64, kinds)
	var wrong []grouped // kinds that were thought too likely or not likely enough
	for round := range rounds {
		r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		step := firstStep / (1 + smaller*float64(round))
		for _, i := range order {
			m.odds(of[i], off)
			wrong = wrong[:0]
			for k := range off {
				if by := off[k] - list[i].of[k]; math.Abs(by) > unlikely {
					wrong = append(wrong, grouped{k, step * list[i].weight * by})
				}
			}
			for _, g := range of[i] {
				w := m.weigh[g.at*kinds : (g.at+1)*kinds]
				for _, k := range wrong {
					w[k.at] -= g.by * k.by
				}
			}
		}
	}
	return m
}

// group finds which terms learn the same, and is what each lesson says in groups, of length one.
func (m *learned) group(list []lesson) [][]grouped {
	var in [][]grouped // the lessons of each term
	for i, l := range list {
		for _, t := range l.terms {
			for t.at >= len(in) {
				in = append(in, nil)
			}
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
	m.weigh = make([]float64, len(sizes)*m.kinds)
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

// odds are how likely each kind is.
func (m *learned) odds(of []grouped, out []float64) {
	clear(out)
	for _, g := range of {
		w := m.weigh[g.at*m.kinds:][:len(out)]
		for k := range out {
			out[k] += g.by * w[k]
		}
	}
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
	out := make([]float64, m.kinds)
	m.odds(of, out)
	return out, len(of) > 0
}
