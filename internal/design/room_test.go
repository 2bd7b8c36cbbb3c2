package design

import (
	"context"
	"testing"

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
					s.chooseMotorJoint(func() {
						s.chooseAxles(0, func() {
							r, all := s.refiningOf()
							if r == nil {
								return
							}
							eachMixed(r, all, func(b *box) {
								if r.roomOf(b) != layout.Impossible {
									placed++
									return
								}
								refused++
								eachDesign(r, *b, func(d *box) {
									for k := range s.stages {
										s.choice.states[k] = d.states[k].states[0]
									}
									_, outcome := r.findPlacement(r.assemble(), r.windowsOf(d), placeBudget)
									require.Equal(t, layout.Impossible, outcome, "seed %d, pulleys %v", seed, n.pulleys)
								})
							})
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
					of.states[k] = b.states[k].states[len(b.states[k].states)/2].alone
				}
				f(&of)
			}
		}
	}
}

// eachDesign gives every design of a box as a box of its own.
func eachDesign(r *refining, b box, f func(*box)) {
	var choose func(stage int, d box)
	choose = func(stage int, d box) {
		if stage < r.stages {
			for _, s := range b.states[stage].states {
				d.states[stage] = s.alone
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
