package design

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/cases"
	"findrive/internal/constraints"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// aTask draws a task of a small case.
func aTask(t *rapid.T) *task {
	family := rapid.SampledFrom(cases.Families()).Draw(t, "family")
	cup, b := cases.Make(cases.Size{Pulleys: 8, Bands: 8, Stages: 2}, family, rapid.Uint64Range(1, 50).Draw(t, "seed"))
	b.Limits.ArcMin = units.Degrees(float64(rapid.IntRange(90, 150).Draw(t, "arc")))
	return newTask(cup, b)
}

// The change of stretch that a change of pull makes, as a share, grows up to softStretch and not
// much further, as the constants of the default rubber have it.
func TestSoftStretchFollowsFromTheRubber(t *testing.T) {
	perShare := func(stretch float64) float64 { return stretch * float64(mechanics.DefaultRubber().Slope(stretch)) }
	for s := 1.0; s <= softStretch-0.01; s += 0.01 {
		require.Greater(t, perShare(s), perShare(s+0.01), "at %g", s)
	}
	require.Less(t, perShare(softStretch+0.1), perShare(softStretch+0.2))
}

// What a glance promises of a band holds of the band worked out, at any of its centre
// distances, idle and under load; and a band that it passes over has none.
func TestAGlancePromisesNoMoreThanThereIs(t *testing.T) {
	seen, forgave := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		tk := aTask(rt)
		if len(tk.axlePulleys) == 0 {
			return
		}
		driver := rapid.IntRange(0, len(tk.pulleys)-1).Draw(rt, "driver")
		driven := rapid.SampledFrom(tk.axlePulleys).Draw(rt, "driven")
		limit := score.Points(rapid.SampledFrom([]int64{0, 500, 2000, 8000, 1_000_000}).Draw(rt, "limit"))
		found := map[way]bool{}
		on := onStage{driver: driver, driven: driven, far: tk.longestCentre()}
		every := tk.glances(&on, limit, 0, nil)
		tk.eachOption(&on, every, limit, 0, nil, func(_ float64, o *bandOption) {
			found[o.way] = true
			at := slices.IndexFunc(every, func(g sectionGlance) bool {
				return g.use == o.use && g.room.crossed == o.crossed && slices.Contains(g.bands, o.band)
			})
			g := every[at]
			section := slices.IndexFunc(tk.sections[o.use], func(s section) bool { return slices.Contains(s.bands, o.band) })
			some := g.room.someForgiving(&tk.sections[o.use][section], tk.brief.Limits.HoleError)
			g.loop = &tk.used[o.use][o.band].loop
			g.stretch, _ = g.room.stretch(g.loop, g.stretch)
			if forgiving := o.whole.Grow(-2 * tk.brief.Limits.HoleError).Meet(units.Interval[units.Millimetres]{Hi: on.far}); !forgiving.Empty() {
				forgave++
				bound := g.room.forgiving(g.loop, tk.used[o.use][o.band].whole(), tk.brief.Limits.HoleError)
				for _, centre := range []units.Millimetres{forgiving.Lo, forgiving.Hi} {
					f, err := o.stage.Fit(centre)
					require.NoError(rt, err)
					require.True(rt, bound.Grow(1e-6).Contains(f.Stretch), "stretch %v, that forgives, of %v", f.Stretch, bound)
					require.True(rt, some.Grow(1e-6).Contains(f.Stretch), "stretch %v, that forgives, of %v of the section", f.Stretch, some)
				}
			}
			p := g.promise()
			if rapid.Bool().Draw(rt, "several") {
				another := rapid.SampledFrom(every).Draw(rt, "other")
				other := another.promise()
				p.join(&other)
			}
			require.GreaterOrEqual(rt, o.cost, g.cost)
			window, _ := o.reach(span{0, len(o.rungs)}, limit)
			window.Hi = min(window.Hi, on.far) // beyond, the frame has no room
			share := rapid.Float64Range(0, 1).Draw(rt, "share")
			f, err := o.stage.Fit(window.Lo + window.Length()*units.Millimetres(share))
			if err != nil {
				return
			}
			seen++
			require.True(rt, g.stretch.Grow(1e-6).Contains(f.Stretch), "stretch %v of %v", f.Stretch, g.stretch)
			hub := 2 * f.Pull * units.Newtons(f.Span/f.Centre)
			require.True(rt, p.pull.Grow(1e-6).Contains(hub), "pull %v of %v", hub, p.pull)
			require.True(rt, p.ratio.Grow(1e-6).Contains(f.Ratio), "ratio %v of %v", f.Ratio, p.ratio)
			require.True(rt, p.driven.Grow(1e-6).Contains(f.DrivenPitch))
			greatest, _ := o.stage.Grip(f)
			load := greatest * units.Newtons(rapid.Float64Range(0, 0.999).Draw(rt, "load"))
			if loaded, ok := o.stage.Load(f, load); ok {
				require.LessOrEqual(rt, p.leastShare(load, 0), loaded.SpeedFactor+1e-9)
				require.Greater(rt, p.leastShare(load/100, 0), 0.95)
			}
			any, ok := tk.anyBand(limit)
			require.True(rt, ok)
			require.True(rt, any.pull.Grow(1e-6).Contains(hub), "pull %v of %v", hub, any.pull)
			require.LessOrEqual(rt, float64(tk.pulleys[on.driven].Part.GrooveFloor+any.driven.Lo), float64(f.DrivenPitch)+1e-6)
		})
		for band := range tk.bands {
			for _, use := range uses {
				for _, crossed := range []bool{false, true} {
					w := way{band, use, crossed}
					o, no := tk.bandOption(driver, driven, w)
					if found[w] || no != nil || o == nil || o.cost > limit {
						continue
					}
					if window, _ := o.reach(span{0, len(o.rungs)}, limit); window.Lo > on.far {
						continue // the frame has no room where it costs so little
					}
					require.NotNil(rt, tk.bandSuits(pair{driver, driven, use, crossed}, band), "%v was passed over: window %v, frame to %v", w, o.whole, on.far)
				}
			}
		}
	})
	require.Greater(t, seen, 100)
	require.Greater(t, forgave, 20)
}

// A drive of the enumerated ones is never in a place that the seats leave out.
func TestSeatsLeaveRoomForWhatIsPlaced(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		for _, family := range []cases.Family{cases.Varied, cases.TightFrame} {
			cup, b := cases.Make(cases.Size{Pulleys: 8, Bands: 8, Stages: 2}, family, seed)
			tk := newTask(cup, b)
			found := tk.rising(t.Context(), Options{Keep: 5}, tk.under)
			for _, f := range found.Best {
				a := tk.arrange(&f.Node)
				for i, at := range f.Solution.drive.Positions {
					var on []int // the pulleys on the shaft
					if i < a.stages {
						on = append(on, a.driver[i])
					}
					if i > 0 {
						on = append(on, a.driven[i-1])
					}
					for _, pulley := range on {
						seat := tk.seats.at(a.head, i, pulley)
						if f.Solution.bears >= tk.brief.Limits.HoleError {
							seat = tk.forgivingSeats.at(a.head, i, pulley)
						}
						require.True(t, seat.X0 <= at.X && at.X <= seat.X1 && seat.Y0 <= at.Y && at.Y <= seat.Y1, "%v not in %v", at, seat)
					}
				}
			}
		}
	}
}

// The bound of a part-built drive rises, if anything, as more of it is chosen, down to
// the cost of the drive itself: nothing is cut off that could still be among the best.
func TestNoDriveCostsLessThanItsBounds(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tk := aTask(rt)
		found := tk.rising(t.Context(), Options{Keep: 3}, tk.under)
		tk.many = rapid.Bool().Draw(rt, "many")
		for _, f := range found.Best {
			p := tk.upTo(rapid.SampledFrom([]search.Cost{f.Cost, f.Cost + 2000, search.Unlimited}).Draw(rt, "ceiling"))
			n := p.Root()
			for !n.whole(tk) {
				var next *node
				for _, c := range p.Branch(n) {
					if c.head == f.Node.head && leadsTo(&c, &f.Node) {
						next = &c
					}
				}
				require.NotNil(rt, next, "cut off after %d choices", n.chosen)
				require.LessOrEqual(rt, next.bound, f.Cost)
				var bound search.Cost
				n, bound = p.Closer(*next, search.Cost(rapid.Int64Range(int64(f.Cost), int64(f.Cost)+2000).Draw(rt, "limit")))
				require.LessOrEqual(rt, bound, f.Cost)
			}
		}
	})
}

// Halving a range of ratios loses none of it: no ratio in it has a lower bound.
func TestHalvedRangesOfRatiosAreCovered(t *testing.T) {
	seen := 0
	rapid.Check(t, func(rt *rapid.T) {
		tk := aTask(rt)
		p := tk.upTo(search.Cost(rapid.SampledFrom([]int{2000, 4000, 6000, 12_000}).Draw(rt, "ceiling")))
		for _, n := range p.Branch(p.Root()) {
			lo := rapid.Float64Range(0, 5).Draw(rt, "lo")
			before := units.Interval[float64]{Lo: lo, Hi: lo + rapid.Float64Range(0, 3).Draw(rt, "width")}
			left := p.ahead(&n, 0)
			whole := p.boundBefore(&n, left, before)
			for range 20 {
				at := rapid.Float64Range(before.Lo, before.Hi).Draw(rt, "at")
				bound := p.boundBetween(&n, left, units.Interval[float64]{Lo: at, Hi: at}, byRooms)
				// What is above the ceiling may be bounded by anything above it: see atMotor.
				require.LessOrEqual(rt, min(whole, p.ceiling+1), bound)
				if bound <= p.ceiling {
					seen++
				}
			}
		}
	})
	require.Greater(t, seen, 100)
}

func leadsTo(n, whole *node) bool {
	for i := range n.chosen {
		if n.pulleys[i] != whole.pulleys[i] {
			return false
		}
	}
	return true
}

// The cosine of the most a crossed band can lean is what the spacing rule leaves it.
func TestCrossedLean(t *testing.T) {
	sum := units.Millimetres(40)
	sine := float64(sum / (2 * constraints.CrossedCentreMin(sum/2, sum/2)))
	require.LessOrEqual(t, crossedCosLean, math.Sqrt(1-sine*sine))
}
