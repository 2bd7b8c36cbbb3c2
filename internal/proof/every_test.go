package proof

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// smallCase draws a case of one stage or two of which every design can be tried: few kinds,
// and few marks for each band. What a band costs differs much, so that in many a part of
// the space there is nothing but what is too dear to look at.
func smallCase(r *rand.Rand) (*parts.Cupboard, *brief.Brief) {
	cup, b := oneStage(r)
	pick := func(v ...float64) float64 { return v[r.IntN(len(v))] }
	b.MaxStages = 1 + r.IntN(5)/4
	b.Frame.Pitch, b.Frame.Length, b.Frame.Height = 10, 260, 140
	b.Frame.MotorZone = brief.Rect{X1: 260, Y1: 140}
	b.Frame.OutputZone = b.Frame.MotorZone
	b.Limits.HoleError = mm(pick(0, 0.5, 1, 2))
	b.Limits.FittedStretchMin, b.Limits.FittedStretchMax = 1.1, pick(1.16, 1.2, 1.3)
	b.Limits.ComfortStretchMin, b.Limits.ComfortStretchMax = 1.12, 1.15
	b.Weights.BandFit = pick(0, 1, 20)
	b.Weights.Crossed = pick(0, 2, 12)
	b.Weights.Classroom = pick(0, 2)
	b.Making.Glue = r.IntN(2) == 0
	b.Direction.MotorTurns = brief.Either
	if r.IntN(2) == 0 {
		b.Direction.MotorTurns = brief.Anticlockwise
	}
	for i := range cup.Pulleys {
		cup.Pulleys[i].GrooveWidth = mm(pick(2, 2, 4))
	}
	middle := cup.Pulleys[0]
	middle.Name, middle.GrooveFloor, middle.Bore = "middle", cup.Pulleys[0].GrooveFloor*0.8, mm(pick(4.8, 4.9, 5))
	middle.Outside = middle.GrooveFloor + 3
	cup.Pulleys = append(cup.Pulleys, middle)
	if b.MaxStages == 2 {
		b.Speed.Turning /= 1.25
		b.Limits.FittedStretchMax = 1.16
	}
	if b.MaxStages == 1 && r.IntN(3) == 0 { // it turns faster than its motor
		large, small := &cup.Pulleys[0], &cup.Pulleys[1]
		large.Bore, small.Bore = 2, 5
		b.Speed.Turning = units.RPM(2000 * large.GrooveFloor / small.GrooveFloor)
		b.Load.Torque = 0.02
	}
	if r.IntN(2) == 0 { // pulleys sit worse on
		thick := cup.Axles[0]
		thick.Name, thick.Diameter = "thick", 6
		cup.Axles = append(cup.Axles, thick)
		b.Making.DrillOut = true
	}
	other := cup.Bands[0]
	other.Name, other.FlatLength, other.Thickness = "other", other.FlatLength*mm(pick(0.8, 1.3)), mm(pick(0.9, 1.2))
	if n := r.IntN(3); n > 0 {
		other.Assumed = make([]string, 20*n)
		for i := range other.Assumed {
			other.Assumed[i] = fmt.Sprint("fact ", i)
		}
	}
	cup.Bands = append(cup.Bands, other)
	if r.IntN(2) == 0 {
		b.Load.Mass = 40 // which hangs on the output axle
	}
	return cup, b
}

// told keeps what a walk finds of each part of the space, pair by pair.
type told map[string]found

func (w told) whole(string, bool) bool     { return false }
func (w told) before(string) (bool, error) { return false, nil }
func (w told) after(at string, f found) error {
	w[at] = f
	return nil
}

// everyDesign tries every design of a space, by the definition: no bound is asked. It gives
// what the cheapest of each part costs that is none of the listed drives.
func everyDesign(t *testing.T, s *space, listed *ranking) map[string]points {
	t.Helper()
	out := map[string]points{}
	for h := range s.heads {
		for e, level := range levelsOf(s.brief) {
			w := newWalk(context.Background(), &ranking{keep: 1}, nil)
			r := &row{space: s, walk: w, hd: &s.heads[h], head: h, level: level, lies: s.heads[h].liesFor()}
			var choose func(i int)
			choose = func(i int) {
				if i < 0 {
					if known(listed, r) || !r.inStock() {
						return
					}
					last := r.pairs[r.hd.stages-1]
					at := fmt.Sprintf("t0 h%d e%d p%d,%d", h, e, last.driven, last.driver)
					if cost := r.cheapest(t); cost != never {
						if is, found := out[at]; !found || cost < is {
							out[at] = cost
						}
					}
					return
				}
				for n := range s.pulleys {
					for m := range s.pulleys {
						r.pairs[i] = pair{n, m}
						choose(i - 1)
					}
				}
			}
			choose(r.hd.stages - 1)
		}
	}
	return out
}

// levelsOf are how far holes may be out of place.
func levelsOf(b *brief.Brief) []mm {
	out := []mm{b.Limits.HoleError}
	for _, level := range []mm{1, 0} {
		if level < b.Limits.HoleError {
			out = append(out, level)
		}
	}
	return out
}

func known(listed *ranking, r *row) bool {
	for i := range listed.drive {
		if listed.drive[i].same(r.tackle, r.head, r.pairs[:r.hd.stages]) {
			return true
		}
	}
	return false
}

// inStock counts the pulleys of a row.
func (r *row) inStock() bool {
	need := map[int]int{}
	for _, p := range r.pairs[:r.hd.stages] {
		need[p.driven] += r.brief.Sets
		need[p.driver] += r.brief.Sets
	}
	for p, n := range need {
		if n > r.pulleys[p].Count {
			return false
		}
	}
	return true
}

// cheapest is what the cheapest design of a row costs for which there are holes.
func (r *row) cheapest(t *testing.T) points {
	t.Helper()
	least := never
	k := r.hd.stages
	if r.plans = r.lanePlans(); len(r.plans) == 0 {
		return never
	}
	var marks [drive.MaxStages][]*state
	for i := range k {
		for _, w := range r.waysOf(r.pairs[i]).all {
			marks[i] = append(marks[i], r.marks(w, r.level)...)
		}
		if len(marks[i]) == 0 {
			return never
		}
	}
	var bands func(i int, charged points)
	bands = func(i int, marked points) {
		if marked >= least {
			return // as dear already as one that there is
		}
		if i < k {
			for _, st := range marks[i] {
				r.states[i] = st
				bands(i+1, marked+st.cost)
			}
			return
		}
		charged := marked
		for _, st := range r.states[:k] {
			charged -= st.cost
		}
		for inner := r.lies.innerBest; inner <= r.lies.innerWorst; inner++ {
			for output := r.lies.outputBest; output <= r.lies.outputWorst; output++ {
				b := box{lies: lies{inner, inner, output, output}}
				for j := range k {
					b.bunch[j] = &bunch{cell: r.states[j].cell, far: r.states[j].cell.Hi}
				}
				cost, no := r.worth(b.all(k), charged)
				if no != "" || cost >= least {
					continue
				}
				if got, _ := r.holes(r.windowsOf(&b)); got == layout.Placed {
					least = cost
				}
			}
		}
	}
	var rods func(i int, charged points)
	rods = func(i int, charged points) {
		if i < k {
			for _, a := range r.axleWays(i) {
				r.rods[i] = a
				rods(i+1, charged+a.cost)
			}
			return
		}
		if !r.enoughRod() {
			return
		}
		for j := range k {
			r.states[j] = marks[j][0]
		}
		r.made = r.assemble()
		var err error
		r.model, err = drive.Prepare(r.made, r.brief, drive.Conditions{})
		require.NoError(t, err)
		bands(0, charged)
	}
	w := r.brief.Weights
	cost := r.hd.fixed + score.Forgiveness(w, r.level, r.brief.Limits.HoleError)
	for _, p := range r.pairs[:k] {
		driver, driven := &r.pulleys[p.driver].Part, &r.pulleys[p.driven].Part
		cost += score.Assumptions(w, len(driver.Assumed)+len(driven.Assumed))
		if driver.GrooveFloor == driven.GrooveFloor {
			cost += score.Idle(w, 1)
		}
	}
	shaft, _ := constraints.Joints(constraints.PulleyHub(&r.pulleys[r.pairs[0].driver].Part), r.motors[r.hd.motor].Part.ShaftDiameter, r.cup.Sleeves, r.brief.Making)
	for j := range shaft {
		r.shaft = &shaft[j]
		rods(0, cost+score.Joint(w, shaft[j].Kind))
	}
	return least
}

// TestFiguresOfEveryDesign holds what is said of each part of the space to every design that
// lies in it: none costs less, and where there is one it is not said that there is none.
// Much of it costs more than any drive that is listed.
func TestFiguresOfEveryDesign(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(53, 59))
	held, beyond := 0, 0
	for n := range 80 {
		cup, b := smallCase(r)
		keep := 1 + r.IntN(3)
		found, err := design.Find(context.Background(), cup, b, design.Options{Keep: keep, Threads: 1})
		require.NoError(t, err)
		var list []Listed
		for i := range found.Proposals {
			p := &found.Proposals[i]
			l, err := ListedOf(p.Drive, p.Total, p.Bears, 0)
			require.NoError(t, err)
			list = append(list, l)
		}
		all := spaces(cup, b)
		ranking, err := rank(context.Background(), all, keep, list)
		require.NoError(t, err)
		said := told{}
		require.NoError(t, newWalk(context.Background(), ranking, said).spaces(all), "case %d", n)
		for at, least := range everyDesign(t, newSpace(cup, b), ranking) {
			f, looked := said[at]
			require.True(t, looked, "case %d: nothing is said of %s, where there is a design of %s points", n, at, inPoints(least))
			require.LessOrEqual(t, f.least, least, "case %d: %s", n, at)
			if held++; least > ranking.loosest() {
				beyond++
			}
		}
	}
	t.Log(held, beyond)
	assert.Greater(t, held, 150)
	assert.Greater(t, beyond, 100)
}
