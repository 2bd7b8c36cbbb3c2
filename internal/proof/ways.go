package proof

import (
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// way is one way to band a driver and a driven pulley: the band, how it is put on,
// and a window of centre distances in which its fit costs the same.
type way struct {
	band    int
	use     drive.Use
	crossed bool
	cost    score.Points // of the band alone: fit, use and what was assumed
	// window is where this cost holds, whole where the band may be at all.
	window, whole gap
	stage         mechanics.Stage
	part          *parts.Band
	ends          map[mm]*end
	answers       *remembered
}

// slack is by how much windows are wider than the rules, in mm, so that the last
// bits of a root never hide a drive.
const slack mm = 1e-6

// waysOf lists the ways to band two pulleys that the rules about bands at rest
// leave, in the order of bands, uses, open before crossed, then stretch.
func (s *space) waysOf(driver, driven int) []*way {
	key := [2]int{driver, driven}
	list, known := s.ways[key]
	if known {
		return list
	}
	for b := range s.bands {
		for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			for _, crossed := range []bool{false, true} {
				list = append(list, s.banded(driver, driven, b, use, crossed)...)
			}
		}
	}
	s.ways[key] = list
	return list
}

// banded is one band in one use, cut where the cost of its fit changes.
func (s *space) banded(driver, driven, b int, use drive.Use, crossed bool) []*way {
	l, w, band := s.brief.Limits, s.brief.Weights, &s.bands[b].part
	first, second := &s.pulleys[driver].part, &s.pulleys[driven].part
	if use.BandsTaken()*s.brief.Sets > s.bands[b].count {
		return nil
	}
	for _, p := range []*parts.Pulley{first, second} {
		if constraints.BandInGroove(p, band, use) != nil || constraints.BigEnoughGroove(l, p, band) != nil {
			return nil
		}
	}
	st := drive.Stage{Driver: first, Driven: second, Band: band, Use: use, Crossed: crossed}
	stage := st.Mechanics(mechanics.BandGrip().Likely)
	whole := s.centres(&st, &stage)
	if whole.Empty() {
		return nil
	}
	// A longer centre distance stretches the band further, so that steps of
	// stretch are windows of centre distance.
	cuts := []mm{whole.Lo, whole.Hi}
	for _, edge := range [2]float64{l.ComfortStretchMin, l.ComfortStretchMax} {
		for k := -40; k <= 40; k++ {
			if c, ok := stage.CentreAtStretch(edge + float64(k)*score.BandFitStep); ok && c > whole.Lo && c < whole.Hi {
				cuts = append(cuts, c)
			}
		}
	}
	slices.Sort(cuts)
	base := score.BandUse(w, use, crossed) + s.assumed(len(band.Assumed))
	var out []*way
	for i := range len(cuts) - 1 {
		f, err := stage.Fit((cuts[i] + cuts[i+1]) / 2)
		if err != nil {
			continue
		}
		cost := base + score.BandFit(l, w, f.Stretch)
		if n := len(out); n > 0 && out[n-1].cost == cost && out[n-1].window.Hi == cuts[i] {
			out[n-1].window.Hi = cuts[i+1]
			continue
		}
		out = append(out, &way{band: b, use: use, crossed: crossed, cost: cost, window: gap{Lo: cuts[i], Hi: cuts[i+1]},
			whole: whole, stage: stage, part: band, ends: map[mm]*end{}, answers: &s.answers})
	}
	return out
}

// centres is every centre distance that the rules about a band at rest allow, and
// that fits in the frame; empty if there is none. All of them get easier one way:
// stretch, arc of contact and the spacing of a crossed band grow with the centre
// distance.
func (s *space) centres(st *drive.Stage, stage *mechanics.Stage) gap {
	l := s.brief.Limits
	none := gap{Lo: 1}
	least := (st.Driver.Outside+st.Driven.Outside)/2 + l.Clearance
	most := mm(math.Hypot(float64(s.brief.Frame.Length), float64(s.brief.Frame.Height)))
	window := constraints.FittedWindow(l, st.Band)
	tightest, ok := stage.CentreAtStretch(window.Hi)
	if !ok {
		return none
	}
	most = min(most, tightest+slack)
	if c, ok := stage.CentreAtStretch(window.Lo); ok {
		least = max(least, c-slack)
	}
	if least > most {
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
	if !keeps(most) {
		return none
	}
	if lo, hi := least, most; !keeps(lo) {
		for hi-lo > slack/2 {
			if mid := (lo + hi) / 2; keeps(mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		least = hi - slack
	}
	return gap{Lo: least, Hi: most}
}

// forgiving is the part of the way's window that leaves room for both its holes to
// be out of place.
func (s *space) forgiving(w *way) gap {
	return w.window.Meet(w.whole.Grow(-2 * s.brief.Limits.HoleError))
}
