package drive

import (
	"errors"
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// knots is how many points of a stage under load an End keeps.
const knots = 13

// End is a stage fitted at one end of a window of centre distances, with its
// behaviour under load worked out once at a few effective pulls from none to
// slip. Envelopes ask for it thousands of times; between the points it is
// interpolated, to within endPad.
type End struct {
	mechanics.Fitted
	Greatest units.Newtons // effective pull at which it slips
	cosLean  float64       // of the strands from the line of centres
	tanLean  float64
	step     float64 // effective pull from one point to the next
	tight    [knots]float64
	stretch  [knots]float64 // of the tight run
	share    [knots]float64 // speed factor
}

// endPad is how far, as a share, an End's answers may be from mechanics.Load.
const endPad = 1e-4

// NewEnd fits a stage at a centre distance. The error is from
// mechanics.Stage.Fit, or that the band is loose there.
func NewEnd(s mechanics.Stage, centre units.Millimetres) (*End, error) {
	f, err := s.Fit(centre)
	if err != nil {
		return nil, err
	}
	e := &End{Fitted: f}
	e.Greatest, _ = s.Grip(f)
	strands := belt(&f, s.Crossed).Strands(1).DriverTight
	e.cosLean, e.tanLean = strands.X, math.Abs(strands.Y/strands.X)
	// The last point lies a hair before slip, where Load still answers.
	e.step = float64(e.Greatest) * (1 - 1e-9) / (knots - 1)
	var pulls [knots]units.Newtons
	for k := range pulls {
		pulls[k] = units.Newtons(float64(k) * e.step)
	}
	loads := s.Loads(f, pulls[:])
	if len(loads) == 0 {
		return nil, errors.New("the band is loose")
	}
	for k := range knots {
		// Rounding at the very edge of slip: the point before will do.
		loaded := &loads[min(k, len(loads)-1)]
		e.tight[k], e.stretch[k], e.share[k] = float64(loaded.Tight), loaded.TightStretch, loaded.SpeedFactor
	}
	return e, nil
}

// load is a stage's answer to an effective pull.
type load struct {
	tight, slack units.Newtons
	stretch      float64 // of the tight run
	share        float64 // speed factor
}

// idle is the stage at rest.
func (e *End) idle() load {
	return load{tight: e.Pull, slack: e.Pull, stretch: e.Stretch, share: 1}
}

// at answers for an effective pull; false if the band slips.
func (e *End) at(effective units.Newtons) (load, bool) {
	if !(effective >= 0) || effective > e.Greatest || !(e.step > 0) {
		return load{}, false
	}
	x := float64(effective) / e.step
	k := min(int(x), knots-2)
	x -= float64(k)
	tight := units.Newtons(between(&e.tight, k, x))
	return load{tight: tight, slack: tight - effective, stretch: between(&e.stretch, k, x), share: between(&e.share, k, x)}, true
}

// between is the cubic through the points either side of k + x, with the slopes
// of their neighbours (Catmull and Rom 1974); at the ends the slope of the
// parabola through the last three.
func between(y *[knots]float64, k int, x float64) float64 {
	slope := func(k int) float64 {
		switch k {
		case 0:
			return 2*y[1] - 1.5*y[0] - 0.5*y[2]
		case knots - 1:
			return 1.5*y[k] - 2*y[k-1] + 0.5*y[k-2]
		}
		return (y[k+1] - y[k-1]) / 2
	}
	a, b, rise := slope(k), slope(k+1), y[k+1]-y[k]
	return y[k] + x*(a+x*(3*rise-2*a-b+x*(a+b-2*rise)))
}

// hub is the size of the pull of two strands on either axle: along the line of
// centres their sum, across it their difference.
func (e *End) hub(tight, slack units.Newtons) units.Newtons {
	along, across := float64(tight+slack), float64(tight-slack)*e.tanLean
	return units.Newtons(e.cosLean * math.Sqrt(along*along+across*across))
}

// IdleHub is the size of the band's pull on either axle at rest.
func (e *End) IdleHub() units.Newtons { return e.hub(e.Pull, e.Pull) }

// ShareAt is the speed factor at an effective pull, or at slip if that comes
// first.
func (e *End) ShareAt(effective units.Newtons) float64 {
	loaded, ok := e.at(min(effective, e.Greatest))
	if !ok {
		return 1 // it carries nothing
	}
	return loaded.share
}
