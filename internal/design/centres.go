package design

import (
	"cmp"
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// allowedCentres are the centre distances that the stretch, arc, crossing and
// touching rules allow and the frame has room for; or the rule that leaves none.
func (t *task) allowedCentres(s *drive.Stage, m *mechanics.Stage) (units.Interval[units.Millimetres], *constraints.Refusal) {
	l := t.brief.Limits
	touching := (s.Driver.Outside+s.Driven.Outside)/2 + l.Clearance
	frame := t.longestCentre()
	window := constraints.FittedWindow(l, s.Band)
	// Most bands are too short by far, which the nearest that the pulleys can be tells
	// at once.
	nearest, err := m.Fit(touching)
	ok := err != nil || nearest.Stretch <= window.Hi*(1+1e-9)
	var hi units.Millimetres
	if ok {
		hi, ok = m.CentreAtStretch(window.Hi)
	}
	if !ok || hi < touching {
		if err != nil {
			return units.Interval[units.Millimetres]{}, constraints.TooShort(s.Band)
		}
		return units.Interval[units.Millimetres]{}, cmp.Or(constraints.FittedStretch(l, s.Band, nearest.Stretch), constraints.TooShort(s.Band))
	}
	lo := touching
	if err != nil || nearest.Stretch < window.Lo*(1+1e-9) {
		if at, ok := m.CentreAtStretch(window.Lo); ok {
			lo = max(at, touching)
		}
	}
	if lo > frame {
		return units.Interval[units.Millimetres]{}, constraints.TooLong(s.Band, lo, frame)
	}
	f, err := m.Fit(hi)
	if err != nil {
		return units.Interval[units.Millimetres]{}, constraints.TooShort(s.Band)
	}
	if s.Crossed {
		if no := constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, hi); no != nil {
			return units.Interval[units.Millimetres]{}, no
		}
		// The least allowed itself: it is stated as part of the range that works.
		_, lo = leastCentre(m, lo, hi, func(f *mechanics.Fitted) units.Millimetres {
			return constraints.CrossedCentreMin(f.DriverPitch, f.DrivenPitch)
		}, func(f *mechanics.Fitted) bool {
			return constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre) == nil
		})
	} else {
		if no := constraints.ArcOfContact(l, &f); no != nil {
			return units.Interval[units.Millimetres]{}, no
		}
		// A hair less than the least: round diameters often have just enough arc at a
		// round distance, which must not fall outside, and a placed drive is held to
		// the rule itself.
		lo, _ = leastCentre(m, lo, hi, func(f *mechanics.Fitted) units.Millimetres {
			return constraints.ArcCentreMin(l, f.DriverPitch, f.DrivenPitch)
		}, func(f *mechanics.Fitted) bool { return constraints.ArcOfContact(l, f) == nil })
	}
	return units.Interval[units.Millimetres]{Lo: lo, Hi: hi}, nil
}

// fineness is how finely the ends of windows are told that the arc or the crossing sets:
// a millionth of a millimetre, as a power of two, of which every multiple is a number. An
// end is a multiple, so that it does not depend on how it is looked for.
const fineness units.Millimetres = 1.0 / (1 << 20)

// leastCentre is the least centre distance in lo..hi at which a fitted stage is
// well: it is not yet well at below, and is at above, multiples of fineness one after the
// other unless lo or hi is nearer; the same twice if lo will do. hi
// is known to do, and so does all above the least. need is the least by the pitch
// diameters at some centre distance; they change a little with the stretch, so it is
// asked again where it says, and if that does not settle, the least is found by halving.
func leastCentre(m *mechanics.Stage, lo, hi units.Millimetres, need func(*mechanics.Fitted) units.Millimetres, well func(*mechanics.Fitted) bool) (below, above units.Millimetres) {
	enough := func(c units.Millimetres) bool {
		f, err := m.Fit(c)
		return err == nil && well(&f)
	}
	if enough(lo) {
		return lo, lo
	}
	at := hi
	for range 6 {
		f, err := m.Fit(at)
		if err != nil {
			break
		}
		was := at
		if at = need(&f); max(at-was, was-at) < fineness/10 {
			break
		}
	}
	mark := func(k int64) units.Millimetres { return fineness * units.Millimetres(k) }
	k := int64(math.Floor(float64(at / fineness)))
	if below, above = mark(k), mark(k+1); lo < below && above < hi && !enough(below) && enough(above) {
		return below, above
	}
	first, last := int64(math.Floor(float64(lo/fineness))), int64(math.Ceil(float64(hi/fineness)))
	for last-first > 1 {
		if mid := (first + last) / 2; enough(mark(mid)) {
			last = mid
		} else {
			first = mid
		}
	}
	return max(lo, mark(first)), min(hi, mark(last))
}

// longestCentre is the longest distance between two holes of the frame.
func (t *task) longestCentre() units.Millimetres {
	f := t.brief.Frame
	return units.Millimetres(math.Hypot(float64(f.Length), float64(f.Height)))
}
