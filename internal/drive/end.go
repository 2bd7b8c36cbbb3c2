package drive

import (
	"math"
	"sync"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// knots is how many points of a stage under load an End keeps.
const knots = 9

// End is a stage fitted at one end of a window of centre distances. Envelopes ask
// for its behaviour under load thousands of times: that is worked out, when first
// asked for, at a few effective pulls from none to slip, and interpolated between
// them to within endPad.
type End struct {
	mechanics.Fitted
	Greatest units.Newtons // effective pull at which it slips
	Exponent float64       // at slip the tight run pulls e to this times as much as the slack one
	stage    *mechanics.Stage
	cosLean  float64 // of the strands from the line of centres
	tanLean  float64
	idleHub  units.Newtons
	step     float64 // effective pull from one knot to the next
	once     sync.Once
	loads    *[knots]knot
}

// knot is a stage's answer to the effective pull of one knot.
type knot struct {
	tight, stretch, share float64 // pull and stretch of the tight run; speed factor
}

// endPad is how far, as a share, an End's answers may be from mechanics.Load.
const endPad = 2e-4

// NewEnd fits a stage at a centre distance. The stage is kept and must not change
// afterwards. The error is from mechanics.Stage.Fit.
func NewEnd(s *mechanics.Stage, centre units.Millimetres) (*End, error) {
	f, err := s.Fit(centre)
	if err != nil {
		return nil, err
	}
	e := &End{Fitted: f, stage: s}
	e.Greatest, _ = s.Grip(f)
	driver, driven := s.FrictionExponents(f)
	e.Exponent = min(driver, driven)
	strands := belt(&f, s.Crossed).Strands(1).DriverTight
	e.cosLean, e.tanLean = strands.X, math.Abs(strands.Y/strands.X)
	e.idleHub = e.hub(e.Pull, e.Pull)
	e.step = float64(e.Greatest) * (1 - beforeSlip) / (knots - 1)
	return e, nil
}

// beforeSlip is how far before slip, as a share, Load is sure to answer.
const beforeSlip = 1e-9

// knotted is the stage under load, knot by knot.
func (e *End) knotted() *[knots]knot {
	e.once.Do(func() {
		var pulls [knots]units.Newtons
		for k := range pulls {
			pulls[k] = units.Newtons(float64(k) * e.step)
		}
		loads := e.stage.Loads(e.Fitted, pulls[:])
		e.loads = new([knots]knot)
		for k := range e.loads {
			// Rounding at the very edge of slip: the point before will do.
			l := &loads[min(k, len(loads)-1)]
			e.loads[k] = knot{tight: float64(l.Tight), stretch: l.TightStretch, share: l.SpeedFactor}
		}
	})
	return e.loads
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

// at answers for an effective pull; false if the band slips. Between knots it goes
// by the cubic through the two of them with the slopes of their neighbours (Catmull
// and Rom 1974).
func (e *End) at(effective units.Newtons) (load, bool) {
	if !(effective >= 0) || effective > e.Greatest || !(e.step > 0) {
		return load{}, false
	}
	x := float64(effective) / e.step
	k := min(int(x), knots-2)
	x -= float64(k)
	y := e.knotted()
	// The knots either side and their neighbours.
	near, far := &y[k], &y[k+1]
	before, after := &y[max(0, k-1)], &y[min(knots-1, k+2)]
	curve := func(before, near, far, after float64) float64 {
		a, b, rise := (far-before)/2, (after-near)/2, far-near
		switch k { // at the ends the slope of the parabola through the last three
		case 0:
			a = 2*far - 1.5*near - 0.5*after
		case knots - 2:
			b = 1.5*far - 2*near + 0.5*before
		}
		return near + x*(a+x*(3*rise-2*a-b+x*(a+b-2*rise)))
	}
	tight := units.Newtons(curve(before.tight, near.tight, far.tight, after.tight))
	return load{
		tight: tight, slack: tight - effective,
		stretch: curve(before.stretch, near.stretch, far.stretch, after.stretch),
		share:   curve(before.share, near.share, far.share, after.share),
	}, true
}

// hub is the size of the pull of two strands on either axle: along the line of
// centres their sum, across it their difference.
func (e *End) hub(tight, slack units.Newtons) units.Newtons {
	along, across := float64(tight+slack), float64(tight-slack)*e.tanLean
	return units.Newtons(e.cosLean * math.Sqrt(along*along+across*across))
}

// IdleHub is the size of the band's pull on either axle at rest.
func (e *End) IdleHub() units.Newtons { return e.idleHub }

// ShareAt is the speed factor at an effective pull, or at slip if that comes
// first. It is worked out anew each time.
func (e *End) ShareAt(effective units.Newtons) float64 {
	loaded, ok := e.stage.Load(e.Fitted, min(effective, e.Greatest*(1-beforeSlip)))
	if !ok {
		return 1 // it carries nothing
	}
	return loaded.SpeedFactor
}

// HubAt is the size of the band's pull on either axle at an effective pull, to within
// endPad; at rest where the band would slip.
func (e *End) HubAt(effective units.Newtons) units.Newtons {
	if l, ok := e.at(effective); ok {
		return e.hub(l.tight, l.slack)
	}
	return e.idleHub
}

// Share is the speed factor at an effective pull, to within endPad; 1 where the band
// would slip.
func (e *End) Share(effective units.Newtons) float64 {
	if l, ok := e.at(effective); ok {
		return l.share
	}
	return 1
}
