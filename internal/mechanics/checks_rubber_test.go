package mechanics

import (
	"math"

	"github.com/stretchr/testify/assert"

	"findrive/internal/units"
)

// table is the stress of Treloar's series A, read off at its own stretches.
func table(g given) []float64 {
	var out []float64
	for _, s := range g.stretches() {
		for _, point := range readTreloar(g.t) {
			if point.stretch == s {
				out = append(out, point.kgfPerCM2*0.0980665)
			}
		}
	}
	return out
}

func stresses(r Rubber, stretches []float64) []float64 {
	var out []float64
	for _, s := range stretches {
		out = append(out, float64(r.Stress(s)))
	}
	return out
}

// neoHooke is a rubber of one constant G: C1 = G/2.
func neoHooke(g given, name string) []float64 {
	return stresses(Rubber{C1: units.Megapascals(g.in(name) / 2)}, g.stretches())
}

var rubberQuestions = map[string]func(given) answers{
	"treloar-uniaxial-1-to-3": func(g given) answers {
		published := g.Expected.list(g.t, "P_MPa")
		for i, want := range table(g) {
			assert.InEpsilon(g.t, want, published[i], 1e-6)
		}
		// The default law holds to a stretch of 2, the other to 3.
		for i, s := range g.stretches() {
			switch {
			case 1.05 < s && s < 2:
				assert.InEpsilon(g.t, published[i], float64(DefaultRubber().Stress(s)), 0.03)
			case s > 2:
				assert.InEpsilon(g.t, published[i], float64(LongStretchRubber().Stress(s)), 0.06)
			}
		}
		return nil
	},
	"rubber-mooney-rivlin-fit": func(g given) answers {
		r := Rubber{C1: units.Megapascals(g.in("C1_MPa")), C2: units.Megapascals(g.in("C2_MPa"))}
		assert.Equal(g.t, DefaultRubber(), r)
		assert.InEpsilon(g.t, 1.29, float64(r.Slope(1)), 1e-12)
		return answers{"P_MPa": stresses(r, g.stretches())}
	},
	"rubber-trap-whole-curve-fit": func(g given) answers {
		// What the trap would say, and what the program says instead.
		printed := g.Expected.list(g.t, "P_MPa")
		for i, p := range neoHooke(g, "mu_MPa") {
			assert.InEpsilon(g.t, printed[i], p, 1e-6)
			assert.Greater(g.t, printed[i], 1.35*float64(DefaultRubber().Stress(g.stretches()[i])))
		}
		return answers{"P_MPa": table(g)}
	},
	"rubber-gaussian-G": func(g given) answers {
		printed := g.Expected.list(g.t, "P_MPa")
		for i, p := range neoHooke(g, "G_MPa") {
			assert.InEpsilon(g.t, printed[i], p, 1e-6)
		}
		return answers{"P_MPa": table(g)}
	},
	"rubber-ogden-1972": func(g given) answers {
		// A published three-term law of the same curve, as far from the table as
		// it says, and from the default law no further.
		mu, alpha := []float64{0.63, 0.0012, -0.01}, []float64{1.3, 5.0, -2.0}
		printed := g.Expected.list(g.t, "P_MPa")
		for i, s := range g.stretches() {
			p := 0.0
			for k := range mu {
				p += mu[k] * (math.Pow(s, alpha[k]-1) - math.Pow(s, -1-alpha[k]/2))
			}
			assert.InEpsilon(g.t, printed[i], p, 1e-6)
			assert.InEpsilon(g.t, p, float64(DefaultRubber().Stress(s)), g.Tolerance)
		}
		return answers{"P_MPa": table(g)}
	},
}
