package design

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// enumerated is one drive as the page docs/model.md has it, found by trying every
// design.
type enumerated struct {
	node node
	*candidate
}

// everyDrive lists the drives of a cupboard for a brief by trying every design there is,
// one by one, in the order of equals: no bound, no cluster, no ceiling, nothing
// remembered. It shares with the search what a design is and what it costs.
func everyDrive(cup *parts.Cupboard, b *brief.Brief) []enumerated {
	t := newTask(cup, b)
	p := problem{task: t}
	var rows []enumerated
	for h := range t.heads {
		eachRow(t, h, func(n node) {
			if best := cheapest(t, n); best != nil {
				rows = append(rows, enumerated{n, best})
			}
		})
	}
	slices.SortFunc(rows, func(a, b enumerated) int { return cmp.Or(cmp.Compare(a.cost, b.cost), p.Tie(a.node, b.node)) })
	var out []enumerated
	for _, row := range rows {
		if row.cost <= rows[0].cost+score.Worth && !slices.ContainsFunc(out, func(o enumerated) bool { return p.Same(o.node, row.node) }) {
			out = append(out, row)
		}
	}
	return out
}

// eachRow gives every row of pulleys of a head that the stock and the floor allow.
func eachRow(t *task, h int, f func(node)) {
	hd := &t.heads[h]
	n := node{head: int16(h), fixed: hd.fixed}
	var next func()
	next = func() {
		if n.whole(t) {
			f(n)
			return
		}
		before := n
		for pulley := range t.pulleys {
			n = before
			if int(n.chosen) == 2*hd.stages-1 {
				joints := t.onMotor[hd.motor][pulley]
				if joints == nil {
					continue
				}
				n.fixed += score.Joint(t.brief.Weights, joints[0].Kind)
			} else {
				if !slices.Contains(t.axlePulleys, pulley) {
					continue
				}
				n.fixed += t.axleCost[pulley]
			}
			if wheel, _ := t.outputParts(hd.output); wheel != nil && n.chosen == 0 && constraints.ClearOfFloor(t.brief, wheel, &t.pulleys[pulley].Part) != nil {
				continue
			}
			if (problem{task: t}).enough(&n, pulley) != nil {
				continue
			}
			n.pulleys[n.chosen] = int16(pulley)
			n.fixed += score.Assumptions(t.brief.Weights, len(t.pulleys[pulley].Part.Assumed)) + t.toMake(&n, pulley)
			if n.chosen++; n.chosen%2 == 0 && t.idle(pulley, int(n.pulleys[n.chosen-2])) {
				n.fixed += score.Idle(t.brief.Weights, 1)
			}
			next()
		}
		n = before
	}
	next()
}

// cheapest is the first of the cheapest designs of a row; nil if there are none.
func cheapest(t *task, n node) *candidate {
	s := t.settlingOf(context.Background(), &n, unsettled-1)
	if !s.prepare() {
		return nil
	}
	for _, bears := range t.bearable {
		var states [drive.MaxStages][]*state
		none := false
		for i := range s.stages {
			states[i] = everyState(t, s.driver[i], s.driven[i], bears)
			none = none || len(states[i]) == 0
		}
		if none {
			continue // what bears less has more marks
		}
		s.choice = choice{bears: bears, cost: s.fixed - s.jointFloor + score.Forgiveness(t.brief.Weights, bears, t.brief.Limits.HoleError)}
		for i := range s.stages {
			s.states[i] = joined(inClusters(states[i][:1]))
		}
		for _, inner := range drive.Lies() {
			for _, output := range drive.Lies() {
				s.chooseMotorJoint(func() {
					s.chooseAxles(0, func() {
						r, all := s.refiningOf()
						as := shape{inner, output}
						if r == nil || inner < all.best.inner || inner > all.worst.inner || output < all.best.output || output > all.worst.output {
							return
						}
						eachChoice(s, states[:s.stages], func() { tryDesign(r, as) })
					})
				})
			}
		}
	}
	return s.best
}

// everyState lists the bands and marks of a pair of pulleys in the order of equals.
func everyState(t *task, driver, driven int, bears mm) []*state {
	var out []*state
	for band := range t.bands {
		for _, use := range uses {
			for _, crossed := range []bool{false, true} {
				if t.bandSuits(pair{driver, driven, use, crossed}, band) != nil {
					continue
				}
				if o, no := t.bandOption(driver, driven, way{band, use, crossed}); no == nil && o != nil {
					out = append(out, t.marks(o, bears, -1, unsettled)...)
				}
			}
		}
	}
	openFirst := map[bool]int{false: 1, true: 2}
	slices.SortStableFunc(out, func(a, b *state) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(openFirst[a.crossed], openFirst[b.crossed]), cmp.Compare(a.use, b.use),
			cmp.Compare(a.band, b.band), cmp.Compare(a.off(a.Centre), b.off(b.Centre)), cmp.Compare(a.Centre, b.Centre))
	})
	return out
}

// eachChoice gives every choice of a state for each stage, the output's first.
func eachChoice(s *settling, states [][]*state, f func()) {
	if len(states) == 0 {
		f()
		return
	}
	last := len(states) - 1
	for _, state := range states[last] {
		s.choice.states[last] = state
		eachChoice(s, states[:last], f)
	}
}

// tryDesign works a design out and keeps it if it is cheaper than what was before it.
func tryDesign(r *refining, as shape) {
	before := r.choice.cost
	defer func() { r.choice.cost = before }()
	w := windows{best: as, worst: as}
	for i, s := range r.choice.states[:r.stages] {
		r.choice.cost += s.cost
		w.centre[i], w.far[i], w.prefer[i] = s.cell, s.cell.Hi, s.Centre
	}
	if r.partsDo() != nil {
		return
	}
	lies := as.lies(r.stages)
	cost, no := r.atWork(&lies)
	if no != nil || cost > r.limit {
		return
	}
	found := r.asStated(&w)
	if found == nil {
		var outcome layout.Outcome
		if found, outcome = r.findPlacement(r.assemble(), &w, placeBudget, false); outcome != layout.Placed {
			return
		}
	}
	for i := range r.stages {
		found.Spacings, found.Lies = append(found.Spacings, r.choice.states[i].Centre), append(found.Lies, lies[i])
	}
	r.best, r.limit = &candidate{drive: found, bears: r.choice.bears, cost: cost}, cost-1
}

// heldToEnumeration holds the list for a brief to that of every design tried: searched as a small
// cupboard is, and as a large one, with the classrooms' chart looked at from the start.
func heldToEnumeration(t *testing.T, cup *parts.Cupboard, b *brief.Brief, keep int, why string) int {
	t.Helper()
	want := everyDrive(cup, b)
	wanted := []string{}
	for _, e := range want[:min(keep, len(want))] {
		wanted = append(wanted, described(e.drive, e.cost, e.bears))
	}
	for _, large := range []bool{false, true} {
		opt := Options{Keep: keep, Threads: 2}
		tk := taskFor(context.Background(), cup, b, opt)
		tk.large, tk.many = large, large
		r, err := tk.find(context.Background(), opt, tk.under)
		require.NoError(t, err, why)
		got := []string{}
		for i := range r.Proposals {
			got = append(got, described(r.Proposals[i].Drive, r.Proposals[i].Total, r.Proposals[i].Bears))
		}
		require.Equal(t, wanted, got, why)
		require.Equal(t, len(want) == 0, r.Status == NonePossible, why)
	}
	return len(want)
}

// described is a drive in one line, whole.
func described(d *drive.Drive, cost score.Points, bears mm) string {
	s := fmt.Sprintf("%.3f points, %s, %s, holes %g mm:", cost.Float(), d.Motor.Name, d.Holder.Name, float64(bears))
	for i := range d.Stages {
		st := &d.Stages[i]
		s += fmt.Sprintf(" %s>%s %s %v crossed %t at %.2f %v on %s", st.Driver.Name, st.Driven.Name, st.Band.Name, st.Use, st.Crossed, float64(d.Spacings[i]), d.Lies[i], d.Axles[i].Name)
	}
	return s + fmt.Sprint(" ", d.Positions, d.Lanes.Lane)
}

// At the settings that ship, the list is that of every design tried one by one, and the
// first k of a longer list are the list of k.
func TestListIsThatOfEveryDesign(t *testing.T) {
	t.Parallel()
	some := 0
	for seed := range uint64(60) {
		cup, b := smallCase(seed)
		some += min(1, heldToEnumeration(t, cup, b, 1+int(seed%10), fmt.Sprintf("seed %d", seed)))
	}
	require.Greater(t, some, 10)
}

// Where crossing a band costs nothing, of a drive with open bands and the same with crossed ones
// the open one is listed.
func TestListWhereCrossingIsFreeIsThatOfEveryDesign(t *testing.T) {
	t.Parallel()
	free := 0
	for seed := range uint64(40) {
		cup, b := smallCase(seed)
		b.Weights.Crossed = 0
		heldToEnumeration(t, cup, b, 10, fmt.Sprintf("seed %d", seed))
		r, err := Find(context.Background(), cup, b, Options{Keep: 10, Threads: 2})
		require.NoError(t, err)
		if b.Direction.Sense != brief.Either {
			continue // the motor's way of turning asks for one of them
		}
		for i := range r.Proposals {
			p := &r.Proposals[i]
			require.False(t, p.Stages[0].Crossed && opens(cup, b, p), "seed %d: %s", seed, described(p.Drive, p.Total, p.Bears))
			free++
		}
	}
	require.Greater(t, free, 10)
}

// opens tells whether a drive of one stage with a crossed band can be had for as much with an open
// one, all that comes before that in the order of equals alike: told from the list where a crossed
// band is never worth it.
func opens(cup *parts.Cupboard, b *brief.Brief, p *Proposal) bool {
	open := *b
	open.Weights.Crossed = 1000
	return slices.ContainsFunc(everyDrive(cup, &open), func(e enumerated) bool {
		return e.drive.Stages[0].Driver.Name == p.Stages[0].Driver && e.drive.Stages[0].Driven.Name == p.Stages[0].Driven &&
			e.drive.Holder.Name == p.Drive.Holder.Name && e.cost <= p.Total && e.bears == p.Bears && e.drive.Lies[0] == p.Drive.Lies[0]
	})
}

func TestListOfTwoStagesIsThatOfEveryDesign(t *testing.T) {
	t.Parallel()
	some := 0
	for seed := range uint64(60) {
		cup, b := smallerCase(seed)
		some += min(1, heldToEnumeration(t, cup, b, 10, fmt.Sprintf("seed %d", seed)))
	}
	require.Greater(t, some, 7)
}
