package proof

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// way is one way to band a driver and a driven pulley.
type way struct {
	band    int
	use     drive.Use
	crossed bool
	cost    points // of its use and of what is assumed of the band
	// whole is every spacing that the rules about the band at rest allow.
	whole gap
	ideal mm // where the stretch is the ideal one
	stage mechanics.Stage
}

// state is a way at a mark of the ruler.
type state struct {
	*way
	fit      mechanics.Fitted // at the mark, or as near to it as the band allows
	cell     gap
	cost     points  // of the band with its fit
	greatest float64 // N; effective pull at which it slips
	growth   float64 // of its pull at rest for each mm that the spacing is longer, as a share
	exponent float64 // m theta of the pulley that slips first
	hub      span    // N; pull on either axle, from none to slip
	creep    span    // -ln of the share of speed left, for each newton of effective pull
}

// waysAt are the ways to band two pulleys that the rules about single bands at rest leave and that
// are not too dear to look at; dearer tells whether there may be others.
type waysAt struct {
	all    []*way
	dearer bool
}

func (s *space) waysOf(p pair) waysAt {
	key := [2]int{p.driven, p.driver}
	list, known := s.ways[key]
	if known {
		return list
	}
	s.dropped = false
	for b := range s.bands {
		for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			for _, crossed := range []bool{false, true} {
				if w := s.banded(p, b, use, crossed); w != nil {
					list.all = append(list.all, w)
				}
			}
		}
	}
	list.dearer = s.dropped
	s.ways[key] = list
	return list
}

func (s *space) banded(p pair, b int, use drive.Use, crossed bool) *way {
	l, w, band := s.brief.Limits, s.brief.Weights, &s.bands[b].Part
	driver, driven := &s.pulleys[p.driver].Part, &s.pulleys[p.driven].Part
	cost := score.BandUse(w, use, crossed) + score.Assumptions(w, len(band.Assumed))
	if use.BandsTaken()*s.brief.Sets > s.bands[b].Count {
		return nil
	}
	if cost > s.dearest {
		s.dropped = true
		return nil
	}
	for _, p := range []*parts.Pulley{driver, driven} {
		if constraints.BandInGroove(p, band, use) != nil || constraints.BigEnoughGroove(l, p, band) != nil {
			return nil
		}
	}
	st := drive.Stage{Driver: driver, Driven: driven, Band: band, Use: use, Crossed: crossed}
	out := &way{band: b, use: use, crossed: crossed, cost: cost, stage: st.Mechanics(mechanics.BandGrip().Likely)}
	if out.whole = s.spacings(&st, &out.stage); out.whole.Empty() {
		return nil
	}
	out.ideal, _ = out.stage.CentreAtStretch(l.IdealStretch)
	return out
}

// near is how finely the ends of the spacings are told that the arc or the crossing sets, in
// mm: a power of two, of which every multiple is a number.
const near mm = 1.0 / (1 << 20)

// spacings is every spacing that the rules about a band at rest allow and that is not
// longer than the frame; empty if there is none. All of them get easier one way: stretch,
// arc of contact and the room to cross grow with the spacing. Where the arc or the
// crossing is what ends them, the end is a multiple of near, found by halving: the last that
// just fails for the arc, so that round figures do not fall outside, and for the crossing
// the first that does. A search that finds the end in another way comes to the same number.
func (s *space) spacings(st *drive.Stage, stage *mechanics.Stage) gap {
	l, none := s.brief.Limits, gap{Lo: 1}
	least := (st.Driver.Outside+st.Driven.Outside)/2 + l.Clearance
	window := constraints.FittedWindow(l, st.Band)
	most, ok := stage.CentreAtStretch(window.Hi)
	if !ok {
		return none
	}
	if c, ok := stage.CentreAtStretch(window.Lo); ok {
		least = max(least, c)
	}
	if least > most || float64(least) > math.Hypot(float64(s.brief.Frame.Length), float64(s.brief.Frame.Height)) {
		return none
	}
	keeps := func(c mm) bool {
		f, err := stage.Fit(c)
		switch {
		case err != nil:
			return false
		case st.Crossed:
			return constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, c) == nil
		}
		return constraints.ArcOfContact(l, &f) == nil
	}
	if keeps(least) {
		return gap{Lo: least, Hi: most}
	}
	if !keeps(most) {
		return none
	}
	fails, does := math.Floor(float64(least/near)), math.Ceil(float64(most/near))
	for does-fails > 1 {
		if mid := math.Floor((fails + does) / 2); keeps(mm(mid) * near) {
			does = mid
		} else {
			fails = mid
		}
	}
	if st.Crossed {
		return gap{Lo: min(most, mm(does)*near), Hi: most}
	}
	return gap{Lo: max(least, mm(fails)*near), Hi: most}
}

// The ruler: a mark every so many mm, or so much of a band's rest length.
const (
	rulerStep  mm = 4
	rulerShare    = 1.0 / 20
)

// marks lists a way at every mark of the ruler, for holes that may be so far out of
// place.
func (s *space) marks(w *way, level mm) []*state {
	window := w.whole.Grow(-2 * level)
	if window.Empty() {
		return nil
	}
	step := rulerStep * mm(max(1, math.Round(float64(w.stage.Band.Rest*rulerShare/rulerStep))))
	number := func(at mm) float64 { return math.Floor(float64(at/step) + 0.5) }
	var out []*state
	for k := number(window.Lo); k <= number(window.Hi); k++ {
		at := mm(k) * step
		if st := s.stateAt(w, window.Clamp(at), window.Meet(gap{Lo: at - step/2, Hi: at + step/2})); st != nil {
			out = append(out, st)
		}
	}
	return out
}

// How far between two loads that are worked out a band may be from what it is at them,
// as a share: TestBetweenLoads holds the bounds to many more loads.
const (
	hubPad   = 0.004
	creepPad = 0.02
)

// loads are where a band is worked out, as shares of the effective pull at slip.
var loads = [...]float64{0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95, 1 - 1e-7}

func (s *space) stateAt(w *way, spacing mm, cell gap) *state {
	f, err := w.stage.Fit(spacing)
	if err != nil {
		return nil
	}
	greatest, _ := w.stage.Grip(f)
	driver, driven := w.stage.FrictionExponents(f)
	st := &state{way: w, fit: f, cell: cell, cost: w.cost + score.BandFit(s.brief.Limits, s.brief.Weights, f.Stretch),
		greatest: float64(greatest), growth: w.stage.PullGrowth(f), exponent: min(driver, driven)}
	if !(greatest > 0) {
		return nil
	}
	if st.cost > s.dearest {
		s.dropped = true
		return nil
	}
	hub := drive.HubOf(&f, w.crossed)
	rest := float64(hub(f.Pull, f.Pull))
	st.hub, st.creep = span{Lo: rest, Hi: rest}, span{Lo: math.Inf(1)}
	loading := w.stage.Loading(&f)
	for _, share := range loads {
		effective := units.Newtons(st.greatest * share)
		at, ok := loading.At(effective)
		if !ok {
			st.hub.Lo, st.creep = 0, span{Lo: 0, Hi: math.MaxFloat32} // nothing is known
			st.hub.Hi = 2 * st.hub.Hi
			return st
		}
		pull, lost := float64(hub(at.Tight, at.Slack)), -math.Log(at.SpeedFactor)/float64(effective)
		st.hub = st.hub.Join(span{Lo: pull, Hi: pull})
		st.creep = st.creep.Join(span{Lo: lost, Hi: lost})
	}
	st.hub = span{Lo: st.hub.Lo * (1 - hubPad), Hi: st.hub.Hi * (1 + hubPad)}
	st.creep = span{Lo: st.creep.Lo * (1 - creepPad), Hi: st.creep.Hi * (1 + creepPad)}
	return st
}
