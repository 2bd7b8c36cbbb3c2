package design

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// atLoadOf is a band at a mark that carries a share of what it slips at.
type atLoadOf struct {
	state     *state
	share     float64
	toSmaller bool // its driver is the larger pulley
	loaded    mechanics.Loaded
	hub       float64 // its pull on either axle
}

// eachLoaded gives bands at many loads, as far as the rule about the running stretch lets them be: of
// small cupboards every pair of pulleys, and some pairs of those that most schools have and of large
// stocks, where bands and pulleys are of all sizes.
func eachLoaded(f func(atLoadOf)) {
	draw := rand.New(rand.NewPCG(1, 2))
	pair := func(t *task, driver, driven int) {
		for _, s := range everyState(t, driver, driven, 0) {
			cos, tan := drive.StrandLean(&s.Fitted, s.crossed)
			for _, x := range []float64{0.02, 0.1, 0.2, 0.3, 0.45, 0.6, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999} {
				l, ok := s.stage.Load(s.Fitted, s.greatest*units.Newtons(x))
				if !ok || constraints.RunningTight(t.brief.Limits, &t.bands[s.band].Part, l.TightStretch) != nil {
					continue
				}
				hub := cos * math.Hypot(float64(l.Tight+l.Slack), float64(l.Tight-l.Slack)*tan)
				f(atLoadOf{s, x, t.pulleys[driver].Part.GrooveFloor > t.pulleys[driven].Part.GrooveFloor, l, hub})
			}
		}
	}
	some := func(cup *parts.Cupboard, b *brief.Brief) {
		t := newTask(cup, b)
		for range 6 {
			pair(t, draw.IntN(len(t.pulleys)), draw.IntN(len(t.pulleys)))
		}
	}
	for seed := range uint64(40) {
		t := newTask(smallCase(seed))
		for driver := range t.pulleys {
			for driven := range t.pulleys {
				pair(t, driver, driven)
			}
		}
		cup, b, _ := cases.Ordinary(seed)
		some(cup, b)
	}
	for _, size := range []cases.Size{cases.Service(), cases.Catalogue()} {
		for _, family := range cases.Families() {
			some(cases.Make(size, family, 1))
		}
	}
}

// The curves of a band under load are as near to its mechanics as the bounds of the
// search take them to be, at every load up to slip, and so are bounds at about a load.
func TestCurvesAreNearEnough(t *testing.T) {
	seen := 0
	eachLoaded(func(o atLoadOf) {
		seen++
		s, x, c := o.state, o.share, o.state.bounds()
		lost := 1 - o.loaded.SpeedFactor
		require.InEpsilon(t, o.hub, s.hubAt(x), curvePad(x))
		require.InEpsilon(t, lost, s.lostAt(x), lostPad(x))
		pull := float64(s.greatest) * x
		for _, near := range []float64{0, 0.03, 0.2} {
			least, most := max(0, x-near), min(1, x+near)
			for _, at := range []atLoad{c.within(least, most), c.atLoads.within(least, most)} {
				if at.creep.Lo*pull > lost || at.creep.Hi*pull < lost || !at.hub.Contains(units.Newtons(o.hub)) {
					require.Failf(t, "beyond its bounds", "at %v: pull %v, lost %v of %v", x, o.hub, lost, at)
				}
			}
		}
	})
	require.Greater(t, seen, 100_000)
}

// A band pulls no more and no less on its axles under load than the bounds of the tree of
// arrangements have it, by how it pulls at rest.
func TestLoadedPullsAreBounded(t *testing.T) {
	seen := map[bool]int{}
	eachLoaded(func(o atLoadOf) {
		seen[o.toSmaller]++
		rest := units.Newtons(o.state.hubAt(0))
		if !loadedPulls(interval(rest), o.toSmaller).Contains(units.Newtons(o.hub)) {
			require.Failf(t, "beyond its bounds", "%v times the %v at rest", o.hub/float64(rest), rest)
		}
	})
	require.Greater(t, min(seen[false], seen[true]), 30_000)
}
