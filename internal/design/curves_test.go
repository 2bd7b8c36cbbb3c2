package design

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// The curves of a band under load are as near to its mechanics as the bounds of the
// search take them to be, at every load up to slip, and so is the bound of its creep.
func TestCurvesAreNearEnough(t *testing.T) {
	seen := 0
	for seed := range uint64(60) {
		cup, b := smallCase(seed)
		tk := newTask(cup, b)
		for driver := range tk.pulleys {
			for driven := range tk.pulleys {
				for _, s := range everyState(tk, driver, driven, 0) {
					c := alone(s)
					for _, x := range []float64{0.02, 0.1, 0.3, 0.6, 0.8, 0.9, 0.95, 0.99, 0.999} {
						pull := s.greatest * units.Newtons(x)
						loaded, ok := s.stage.Load(s.Fitted, pull)
						if !ok || loaded.TightStretch > 2 {
							continue // beyond the running-stretch rule
						}
						seen++
						cos, tan := drive.StrandLean(&s.Fitted, s.crossed)
						hub := cos * math.Hypot(float64(loaded.Tight+loaded.Slack), float64(loaded.Tight-loaded.Slack)*tan)
						lost := 1 - loaded.SpeedFactor
						require.InEpsilon(t, hub, s.hubAt(x), curvePad(x))
						require.InEpsilon(t, lost, s.lostAt(x), lostPad(x))
						for _, near := range []float64{0, 0.03, 0.2} { // bounds at about that load
							least, most := max(0, x-near), min(1, x+near)
							for _, at := range []atLoad{c.within(least, most), c.atLoads.within(least, most)} {
								require.LessOrEqual(t, at.creep.Lo*float64(pull), lost, "at %v", x)
								require.GreaterOrEqual(t, at.creep.Hi*float64(pull), lost, "at %v", x)
								require.True(t, at.hub.Contains(units.Newtons(hub)), "%v of %v at %v", hub, at.hub, x)
							}
						}
					}
				}
			}
		}
	}
	require.Greater(t, seen, 5000)
}

// A band pulls no more and no less on its axles under load than the bounds of the tree of
// arrangements have it, by how it pulls at rest.
func TestLoadedPullsAreBounded(t *testing.T) {
	seen := [2]int{}
	for seed := range uint64(60) {
		cup, b := smallCase(seed)
		tk := newTask(cup, b)
		for driver := range tk.pulleys {
			for driven := range tk.pulleys {
				toSmaller := tk.pulleys[driver].Part.GrooveFloor > tk.pulleys[driven].Part.GrooveFloor
				for _, s := range everyState(tk, driver, driven, 0) {
					rest := units.Newtons(s.hubAt(0))
					bounds := loadedPulls(units.Interval[units.Newtons]{Lo: rest, Hi: rest}, toSmaller)
					for _, x := range []float64{0.1, 0.3, 0.5, 0.7, 0.8, 0.9, 1} {
						loaded, ok := s.stage.Load(s.Fitted, s.greatest*units.Newtons(min(x, 0.999)))
						if !ok || constraints.RunningTight(b.Limits, &tk.bands[s.band].Part, loaded.TightStretch) != nil {
							continue
						}
						cos, tan := drive.StrandLean(&s.Fitted, s.crossed)
						hub := cos * math.Hypot(float64(loaded.Tight+loaded.Slack), float64(loaded.Tight-loaded.Slack)*tan)
						require.True(t, bounds.Contains(units.Newtons(hub)), "%v times the %v at rest", hub/float64(rest), rest)
						if toSmaller {
							seen[1]++
						} else {
							seen[0]++
						}
					}
				}
			}
		}
	}
	require.Greater(t, min(seen[0], seen[1]), 3000)
}
