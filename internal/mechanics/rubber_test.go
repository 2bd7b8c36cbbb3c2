package mechanics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

type treloarPoint struct{ stretch, kgfPerCM2 float64 }

func readTreloar(t *testing.T) []treloarPoint {
	t.Helper()
	file, err := os.Open("../../testdata/mechanics/treloar_uniaxial.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	var out []treloarPoint
	for _, row := range rows[1:] {
		s, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		p, err := strconv.ParseFloat(row[2], 64)
		require.NoError(t, err)
		out = append(out, treloarPoint{s, p})
	}
	require.Len(t, out, 25)
	return out
}

func TestDefaultRubberFollowsTreloarInItsRange(t *testing.T) {
	for _, p := range readTreloar(t) {
		want := p.kgfPerCM2 * 0.0980665
		switch {
		case p.stretch > 1.05 && p.stretch < 2:
			assert.InEpsilon(t, want, float64(DefaultRubber().Stress(p.stretch)), 0.02, p.stretch)
		case p.stretch > 5:
			// Far outside its range the law is of no use, and does not pretend.
			assert.Less(t, float64(DefaultRubber().Stress(p.stretch)), 0.8*want, p.stretch)
		}
	}
}

func drawRubber(t *rapid.T) Rubber {
	c1 := rapid.Float64Range(0, 1).Draw(t, "C1")
	c2 := rapid.Float64Range(0, 1).Draw(t, "C2")
	if c1+c2 < 0.01 {
		c1 = 0.01
	}
	return Rubber{C1: units.Megapascals(c1), C2: units.Megapascals(c2)}
}

func TestStretchAtIsTheInverseOfStress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRubber(t)
		s := rapid.Float64Range(1, 6).Draw(t, "stretch")
		assert.InEpsilon(t, s, r.StretchAt(r.Stress(s)), 1e-9*(1+float64(r.C1+r.C2)/float64(r.Slope(s))))
	})
	r := DefaultRubber()
	assert.Equal(t, 1.0, r.StretchAt(0))
	assert.Equal(t, 1.0, r.StretchAt(-1))
	assert.Equal(t, units.Megapascals(0), r.Stress(1))
	assert.True(t, math.IsInf(Rubber{C2: 0.1}.StretchAt(0.2), 1))
}

func TestSlopeIsTheRateOfStress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRubber(t)
		s := rapid.Float64Range(1.001, 4).Draw(t, "stretch")
		const h = 1e-5
		rate := float64(r.Stress(s+h)-r.Stress(s-h)) / (2 * h)
		assert.InDelta(t, rate, float64(r.Slope(s)), 1e-7)
		assert.LessOrEqual(t, r.Slope(s+h), r.Slope(s))
	})
}

func TestMemoryIsTheIntegral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRubber(t)
		s2 := rapid.Float64Range(1.01, 2.5).Draw(t, "slack")
		s1 := s2 + rapid.Float64Range(0.001, 0.5).Draw(t, "more")
		want := quad.Fixed(func(s float64) float64 {
			return float64(r.Slope(s)/r.Stress(s)) / s
		}, s2, s1, 200, nil, 0)
		got := r.Memory(s1) - r.Memory(s2)
		assert.InEpsilon(t, want, got, 1e-7)

		// Scaling both constants changes nothing.
		k := units.Megapascals(rapid.Float64Range(0.1, 10).Draw(t, "scale"))
		scaled := Rubber{C1: k * r.C1, C2: k * r.C2}
		assert.InDelta(t, r.Memory(s1), scaled.Memory(s1), 1e-9)
	})
	for _, r := range []Rubber{{C1: 0.1}, {C2: 0.1}} {
		want := quad.Fixed(func(s float64) float64 { return float64(r.Slope(s)/r.Stress(s)) / s }, 1.1, 1.9, 200, nil, 0)
		assert.InEpsilon(t, want, r.Memory(1.9)-r.Memory(1.1), 1e-9)
	}
}

func TestLoopUses(t *testing.T) {
	l := Loop{Rest: 120, Width: 1.6, Thickness: 0.8, Strands: 1, PullFactor: 1.1, Rubber: DefaultRubber()}
	twice, pair := l.LoopedTwice(), l.Paired()
	assert.Equal(t, units.Millimetres(60), twice.Rest)
	assert.Equal(t, l.Rest, pair.Rest)
	for _, other := range []Loop{twice, pair} {
		assert.InEpsilon(t, 2*float64(l.Pull(1.3)), float64(other.Pull(1.3)), 1e-12)
		assert.Equal(t, l.ThicknessAt(1.3), other.ThicknessAt(1.3))
		assert.InEpsilon(t, 2*float64(l.WidthAt(1.3)), float64(other.WidthAt(1.3)), 1e-12)
		assert.InEpsilon(t, 2*l.Area(), other.Area(), 1e-12)
	}
	assert.Equal(t, 1, l.Strands, "the loop itself is not changed")
	// Rubber keeps its volume.
	assert.InEpsilon(t, l.Area(), float64(l.ThicknessAt(1.7)*l.WidthAt(1.7))*1.7, 1e-12)
}

func TestPullFactorFromHungMass(t *testing.T) {
	l := Loop{Rest: 120, Width: 1.6, Thickness: 0.8, Strands: 1, PullFactor: 1, Rubber: DefaultRubber()}
	// A band a fifth stiffer than the default, hung out to 84 mm (1.4 times).
	mass := units.Grams(2 * 1.2 * float64(l.Pull(1.4)) / units.StandardGravity * 1000)
	got, err := PullFactorFromHungMass(l, mass, 84)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.2, got, 1e-12)
	l.PullFactor = 3
	again, err := PullFactorFromHungMass(l, mass, 84)
	require.NoError(t, err)
	assert.Equal(t, got, again, "the factor a band has already plays no part")

	for _, c := range []struct {
		name    string
		loop    Loop
		mass    units.Grams
		reached units.Millimetres
		want    error
	}{
		{"no mass", l, 0, 84, ErrNoHungMass},
		{"slack", l, 5, 61, ErrHungTooShort},
		{"slack, and no mass mends it", l, 100, 60, ErrHungOtherwise},
		{"not a number", l, 100, units.Millimetres(math.NaN()), ErrHungTooShort},
		{"far out", l, 3000, 200, ErrHungTooLong},
		{"far out, and no mass mends it", l, 50, 200, ErrHungOtherwise},
		{"no section", Loop{Rest: 120, Strands: 1}, 100, 84, ErrNoSection},
	} {
		_, err := PullFactorFromHungMass(c.loop, c.mass, c.reached)
		assert.ErrorIs(t, err, c.want, c.name)
	}
}

// LongStretchRubber is the same rubber fitted for stretches up to 3.
func LongStretchRubber() Rubber { return Rubber{C1: 0.107, C2: 0.101} }

// Stress is the engineering stress at a stretch; 0 at a stretch of 1, negative
// below it.
func (r Rubber) Stress(stretch float64) units.Megapascals {
	p, _ := r.tension(stretch - 1)
	return units.Megapascals(p)
}

// Memory is F of Stage.Load, as it is written there.
func (r Rubber) Memory(stretch float64) float64 {
	s := stretch
	return math.Log(s-1) - math.Log(s*s+s+1)/2 +
		math.Sqrt(3)*math.Atan((2*s+1)/math.Sqrt(3)) - r.shareBetween(1/s, 0) + 3/s
}
