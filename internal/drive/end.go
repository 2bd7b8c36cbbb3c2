package drive

import (
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// End is a stage fitted at one end of a window of centre distances.
type End struct {
	mechanics.Fitted
	Greatest units.Newtons // effective pull at which it slips
	stage    *mechanics.Stage
	idleHub  units.Newtons
}

// NewEnd fits a stage at a centre distance. The stage is kept and must not change
// afterwards. The error is from mechanics.Stage.Fit.
func NewEnd(s *mechanics.Stage, centre units.Millimetres) (*End, error) {
	f, err := s.Fit(centre)
	if err != nil {
		return nil, err
	}
	e := &End{Fitted: f, stage: s}
	e.Greatest, _ = s.Grip(f)
	cos, _ := StrandLean(&f, s.Crossed)
	e.idleHub = units.Newtons(cos) * (2 * e.Pull)
	return e, nil
}

// beforeSlip is how far before slip, as a share, Load is sure to answer.
const beforeSlip = 1e-9

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
