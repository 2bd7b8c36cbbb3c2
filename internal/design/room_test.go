package design

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"findrive/internal/drive"
	"findrive/internal/units"

	"github.com/stretchr/testify/require"

	"findrive/internal/layout"
)

// Where a box is said to have no room, none of its designs has any by itself: also where its
// bands are open and crossed and cannot be compared, so that they are left out.
func TestNoRoomIsTrueOfEachDesign(t *testing.T) {
	refused, placed := 0, 0
	for seed := range uint64(100) {
		cup, b := smallCase(seed)
		b.Frame.Length *= 0.55     // hardly room
		for i := range cup.Bands { // and which band takes up least depends on how it is used
			cup.Bands[i].Thickness = mm([]float64{0.9, 2.5}[i%2])
			cup.Pulleys[i%len(cup.Pulleys)].GrooveWidth = 5
		}
		b.Frame.MotorZone.X1, b.Frame.OutputZone.X1 = b.Frame.Length, b.Frame.Length
		tk := newTask(cup, b)
		for i := range tk.heads {
			h := &tk.heads[i]
			if h.stages > 2 {
				continue
			}
			eachPulleys(tk, h, func(n *node) {
				n.head = int16(i)
				s := tk.settlingOf(context.Background(), n, unsettled-1)
				if !s.prepare() {
					return
				}
				s.eachLevel(func() {
					s.listStates(s.wanted())
					s.chooseMotorJoint(func() {
						s.chooseAxles(0, func() {
							r, all := s.refiningOf()
							if r == nil {
								return
							}
							look := func(b *box) {
								if r.roomOf(b) != layout.Impossible {
									placed++
									return
								}
								refused++
								eachDesign(r, *b, func(d *box) {
									for k := range s.stages {
										s.choice.states[k] = d.states[k].states[0]
									}
									_, outcome := r.findPlacement(r.assemble(), r.windowsOf(d), placeBudget, false)
									require.Equal(t, layout.Impossible, outcome, "seed %d, pulleys %v", seed, n.pulleys)
								})
							}
							eachMixed(r, all, look)
							eachNeighbours(r, all, look)
						})
					})
				})
			})
		}
	}
	t.Logf("%d boxes without room, %d with", refused, placed)
	require.Greater(t, refused, 20)
	require.Greater(t, placed, 20)
}

// eachPulleys gives every choice of pulleys for a head, of the first 40.
func eachPulleys(t *task, h *head, f func(*node)) {
	left := 40
	var choose func(n node)
	choose = func(n node) {
		if left == 0 {
			return
		}
		if int(n.chosen) == 2*h.stages {
			left--
			f(&n)
			return
		}
		for _, p := range t.axlePulleys {
			if int(n.chosen) == 2*h.stages-1 {
				break
			}
			next := n
			next.pulleys[n.chosen], next.chosen = int16(p), n.chosen+1
			choose(next)
		}
		for p, joints := range t.onMotor[h.motor] {
			if int(n.chosen) == 2*h.stages-1 && joints != nil {
				next := n
				next.pulleys[n.chosen], next.chosen = int16(p), n.chosen+1
				choose(next)
			}
		}
	}
	choose(node{})
}

// eachMixed gives boxes in which the last stage has two bands that cannot be compared, at
// about the same spacing, and the others one band each.
func eachMixed(r *refining, b box, f func(*box)) {
	last := r.stages - 1
	states := b.states[last].states
	for i := range states {
		for j := i + 1; j < len(states); j++ {
			if c := joined([]*state{states[i], states[j]}); c.thinnest == nil && c.cell.Length() < 6 {
				of := b
				of.states[last] = c
				for k := range last {
					of.states[k] = joined(b.states[k].states[len(b.states[k].states)/2:][:1])
				}
				f(&of)
			}
		}
	}
}

// eachNeighbours gives boxes in which every stage has one band at a few marks that follow one
// another, so that how far the pulls may be out of line is asked of several spacings.
func eachNeighbours(r *refining, b box, f func(*box)) {
	const marks = 3
	of := b
	for i, all := range b.states[:r.stages] {
		alike := slices.DeleteFunc(slices.Clone(all.states), func(s *state) bool {
			first := all.states[0]
			return s.band != first.band || s.use != first.use || s.crossed != first.crossed
		})
		slices.SortFunc(alike, func(a, b *state) int { return cmp.Compare(a.Centre, b.Centre) })
		of.states[i] = joined(alike[len(alike)/2 : min(len(alike), len(alike)/2+marks)])
	}
	for inner := b.best.inner; inner <= b.worst.inner; inner++ {
		for output := b.best.output; output <= b.worst.output; output++ {
			of.best, of.worst = shape{inner, output}, shape{inner, output}
			f(&of)
		}
	}
}

// Whatever holes a design may have, they bend no more and are as steep as its lies ask of
// every spacing: also at the near ends of its cells, with the pulls as far out of line as the
// far ends allow.
func TestHolesBendNoMoreThanTheirLies(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	least := 1.0
	for range 100_000 {
		lies := drive.Lies()
		w := &windows{worst: shape{lies[r.IntN(len(lies))], lies[r.IntN(len(lies))]}}
		w.best = w.worst
		up := mm(1 - 2*r.IntN(2))
		s := &settling{arrangement: &arrangement{stages: 2, head: &head{}}}
		s.head.demand.Weight.Y = units.Newtons(up)
		var d [2]mm
		for i := range d {
			lo := mm(20 + 100*r.Float64())
			w.centre[i] = units.Interval[units.Millimetres]{Lo: lo, Hi: lo + mm(16*r.Float64())}
			w.far[i] = w.centre[i].Hi
			d[i] = w.centre[i].Lo + w.centre[i].Length()*mm(r.Float64())
		}
		s.asked.of(s, w, false)
		apart, rise := s.asked.gaps[2], s.asked.rises[0]
		ends := min(d[0]+d[1], apart.Min+mm(r.Float64()*r.Float64())*(apart.Max-apart.Min))
		climb := rise.Min + mm(r.Float64()*r.Float64())*(rise.Max-rise.Min)
		if up < 0 {
			climb = rise.Max + rise.Min - climb
		}
		cos := float64((d[0]*d[0] + d[1]*d[1] - ends*ends) / (2 * d[0] * d[1]))
		sin := float64(climb / d[1])
		if ends < apart.Min || max(cos, -cos, sin, -sin) > 1 {
			continue // there are no such holes
		}
		// The last pull leads up so steeply, and the one before lies so to it.
		heading, between := math.Asin(sin), math.Acos(cos)
		at := []layout.Point{{X: d[0] * mm(math.Cos(heading+between)), Y: d[0] * mm(math.Sin(heading+between))}, {}, {X: d[1] * mm(math.Cos(heading)), Y: d[1] * mm(math.Sin(heading))}}
		require.True(t, s.asked.hold(at), "the test's own holes")
		s.asked.of(s, w, true)
		require.True(t, s.asked.hold(at), "%v with %v", at, w)
		for _, turn := range s.asked.turns {
			least = min(least, -cos-turn.Cos)
		}
	}
	require.Less(t, least, 0.005, "how near it comes")
}

// eachDesign gives every design of a box as a box of its own.
func eachDesign(r *refining, b box, f func(*box)) {
	var choose func(stage int, d box)
	choose = func(stage int, d box) {
		if stage < r.stages {
			for _, s := range b.states[stage].states {
				d.states[stage] = joined([]*state{s})
				choose(stage+1, d)
			}
			return
		}
		for inner := b.best.inner; inner <= b.worst.inner; inner++ {
			for output := b.best.output; output <= b.worst.output; output++ {
				d.best, d.worst = shape{inner, output}, shape{inner, output}
				f(&d)
			}
		}
	}
	choose(0, b)
}
