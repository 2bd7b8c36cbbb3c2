package assembly_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
)

// Where an axle passes between the runs of another axles' band, the band cannot be lifted
// on if it is hung round its own two axles alone; nor if it is hung round an axle that is
// not between its runs.
func TestBandRoundAnotherAxle(t *testing.T) {
	inside, outside := 0, 0
	for seed := uint64(0); seed < 3000 && (inside < 20 || outside < 20); seed++ {
		brief, prop := assemblytest.Drive(seed)
		b, err := Of(brief, prop)
		require.NoError(t, err)
		p, err := PlanOf(b)
		require.NoError(t, err)
		for i := range b.Bands {
			band := &b.Bands[i]
			for _, in := range band.Inside {
				if in.Shaft == 0 || in.Far {
					continue
				}
				left := slices.Clone(p.Steps)
				for k := range left {
					left[k].Actions = slices.DeleteFunc(slices.Clone(left[k].Actions), func(a Action) bool {
						return a.Verb == Hang && a.Shaft == in.Shaft && a.Part == band.Loops[0]
					})
				}
				_, err = Carry(b, left)
				require.ErrorContains(t, err, fmt.Sprintf("axle %d passes between the band's runs", in.Shaft), "seed %d", seed)
				inside++
			}
			for k := 1; k < len(b.Shafts); k++ {
				if k == band.From || k == band.To || len(band.Inside) > 0 || b.Shafts[k].Free || outside >= 20 {
					continue
				}
				more := slices.Clone(p.Steps)
				for at := range more {
					if more[at].Kind == AxleStep && more[at].Shaft == k {
						more[at].Actions = slices.Insert(slices.Clone(more[at].Actions), 1, Action{Verb: Hang, Shaft: k, Part: band.Loops[0], Turns: 1})
					}
				}
				if _, err = Carry(b, more); err == nil || !strings.Contains(err.Error(), "is not between its runs") {
					continue // another condition came first
				}
				outside++
			}
		}
	}
	require.Positive(t, inside)
	require.Positive(t, outside)
}

// Which axles are between the runs of a band is found by another way: by turning once
// round the axle along the band's outline (the winding number of a polygon).
func TestInsideByWinding(t *testing.T) {
	seen := 0
	for seed := range uint64(3000) {
		brief, prop := assemblytest.Drive(seed)
		b, err := Of(brief, prop)
		require.NoError(t, err)
		for i := range b.Bands {
			band := &b.Bands[i]
			for k := 1; k < len(b.Shafts); k++ {
				if k == band.From || k == band.To {
					continue
				}
				turns, sure := winding(b, band, b.Shafts[k].At)
				if !sure {
					continue
				}
				in := slices.ContainsFunc(band.Inside, func(in Inside) bool { return in.Shaft == k })
				assert.Equal(t, turns != 0, in, "seed %d, band %d, axle %d", seed, i+1, k)
				if in {
					seen++
				}
			}
		}
	}
	assert.Greater(t, seen, 300)
}

// winding is how often the outline of a band goes round a place; sure is false for a
// place too near the outline to tell.
func winding(b *Build, band *Band, at Point) (turns int, sure bool) {
	p, q := b.Shafts[band.From].At, b.Shafts[band.To].At
	r1, r2 := float64(b.Parts[band.Driver].Radius), float64(b.Parts[band.Driven].Radius)
	dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
	along, far := math.Atan2(dy, dx), math.Hypot(dx, dy)
	second := r2
	if band.Crossed {
		second = -r2
	}
	off := math.Acos((r1 - second) / far)
	var outline [][2]float64
	arc := func(c Point, r, from, sweep float64) {
		for n := range 181 {
			a := from + sweep*float64(n)/180
			outline = append(outline, [2]float64{float64(c.X) + r*math.Cos(a), float64(c.Y) + r*math.Sin(a)})
		}
	}
	arc(p, r1, along+off, 2*math.Pi-2*off)
	if band.Crossed { // the other way round
		arc(q, r2, along+math.Pi-off, -(2*math.Pi - 2*off))
	} else {
		arc(q, r2, along-off, 2*off)
	}
	sum := 0.0
	for i := range outline {
		u, v := outline[i], outline[(i+1)%len(outline)]
		ux, uy, vx, vy := u[0]-float64(at.X), u[1]-float64(at.Y), v[0]-float64(at.X), v[1]-float64(at.Y)
		if near := distance(ux, uy, vx, vy); near < 0.3 {
			return 0, false
		}
		sum += math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
	}
	return int(math.Round(sum / (2 * math.Pi))), true
}

// distance from the origin to a straight piece.
func distance(ux, uy, vx, vy float64) float64 {
	dx, dy := vx-ux, vy-uy
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = math.Max(0, math.Min(1, -(ux*dx+uy*dy)/l))
	}
	return math.Hypot(ux+t*dx, uy+t*dy)
}
