package measure

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

const reference = `
model = "ride on an upright axle"
load = {mass = "150 g"}
drive = {motor = "hobby", cells = "two"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-40", band = "no-18", centre = "60 mm", axle = "dowel-5"}`

func referenceBuild(t *testing.T) *built.Build {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(reference), cup)
	require.NoError(t, err)
	return b
}

// The likeliest point and the ranges agree with a general-purpose routine: gonum's
// simplex search of Nelder and Mead for the least sum of squares, readings and what was
// known before together, and the curvature there by gonum's finite differences. It is told
// nothing of straight lines, Kalman or Bayes, only what each reading should be. Readings
// are drawn about a known truth, of every kind.
func TestAgainstReferenceLeastSquares(t *testing.T) {
	b := referenceBuild(t)
	draw := rand.New(rand.NewPCG(40, 12))
	for round := range 3 {
		readings := drawnReadings(t, b, draw)
		e, err := newEstimate(b, readings)
		require.NoError(t, err)
		for i := range e.seen {
			e.seen[i].used = true
		}
		e.settle()

		forward := map[int]func(*built.Build, []unknown, []float64) (float64, bool){ofSpeed: speed, ofSlip: slipping, ofDrag: dragging}
		half := func(x []float64) float64 { // half the sum of squares
			sum := 0.0
			for i := range x {
				sum += math.Pow(x[i]/e.all[i].sigma, 2)
			}
			for i := range e.seen {
				o := &e.seen[i]
				at, ok := 0.0, true
				if o.of >= 0 {
					at = o.offset + x[o.of]
				} else if at, ok = forward[o.of](b, e.all, x); !ok {
					return math.Inf(1)
				}
				sum += math.Pow((o.value-at)/o.sigma, 2)
			}
			return sum / 2
		}
		// Each unknown in units of its doubt beforehand, or the simplex is too long.
		scaled := func(y []float64) float64 {
			x := make([]float64, len(y))
			for i := range y {
				x[i] = y[i] * e.all[i].sigma
			}
			return half(x)
		}
		start := make([]float64, len(e.x))
		for range 4 { // begun again from where it stopped, as is usual with it
			got, err := optimize.Minimize(optimize.Problem{Func: scaled}, start, &optimize.Settings{FuncEvaluations: 20_000,
				Converger: &optimize.FunctionConverge{Absolute: 1e-13, Iterations: 400}}, &optimize.NelderMead{})
			require.NoError(t, err)
			start = got.X
		}
		for i, u := range e.all {
			assert.InDelta(t, start[i], e.x[i]/u.sigma, 0.02, "round %d: %s, in standard deviations beforehand", round, u.name)
		}
		assert.InDelta(t, scaled(start), half(e.x), 2e-3)

		// The curvature at the likeliest point, turned round, is the covariance of a
		// normal law there; ours leaves second derivatives of the drive out, as Gauss
		// and Newton do, which is worth some hundredths of a range.
		n := len(e.x)
		curved := mat.NewSymDense(n, nil)
		fd.Hessian(curved, scaled, start, &fd.Settings{Step: 2e-2})
		var inverse mat.Dense
		require.NoError(t, inverse.Inverse(curved))
		for i, u := range e.all {
			assert.InEpsilon(t, math.Sqrt(inverse.At(i, i)), math.Sqrt(e.p[i][i])/u.sigma, 0.1, "round %d: range of %s", round, u.name)
		}
	}
}

// drawnReadings are readings of every kind, about a drive drawn from the stated ranges.
func drawnReadings(t *testing.T, b *built.Build, draw *rand.Rand) []Reading {
	t.Helper()
	all := unknowns(b, []string{"no-24", "no-18"})
	truth := make([]float64, len(all))
	for {
		for i := range truth {
			truth[i] = all[i].sigma * draw.NormFloat64()
		}
		if n, ok := speed(b, all, truth); ok && n > math.Log(20) {
			break
		}
	}
	noisy := func(sigma float64) float64 { return math.Exp(sigma * draw.NormFloat64()) }
	n, _ := speed(b, all, truth)
	slip, _ := slipping(b, all, truth)
	drag, _ := dragging(b, all, truth)
	var out []Reading
	add := func(r Reading, err error) {
		require.NoError(t, err)
		out = append(out, r)
	}
	add(ReadTurns(fmt.Sprintf("%.2f turns in 30 s", math.Exp(n)/2*noisy(0.01))))
	add(ReadTurns(fmt.Sprintf("%.2f turns in 60 s", math.Exp(n)*noisy(0.006))))
	add(ReadSlip(fmt.Sprintf("%.3f N", max(0.06, math.Exp(slip)*noisy(0.1)))))
	add(ReadDrag(fmt.Sprintf("%.3f N", max(0.06, math.Exp(drag)*noisy(0.1)))))
	add(ReadPulled(fmt.Sprintf("no-18: 1 N to %.1f mm", 120*noisy(0.01)), b.Cupboard.Bands))
	return out
}
