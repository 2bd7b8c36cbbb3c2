package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// GeometryOf is the geometry of a placed drive with every centre distance longer
// by off (0: as drawn). The error is from mechanics.Stage.Fit: the band does not
// go round there.
func GeometryOf(d *Drive, m *Model, off units.Millimetres) (Geometry, error) {
	g := Geometry{Turns: d.MotorTurns}
	for i := range d.Stages {
		a, b := d.Positions[i], d.Positions[i+1]
		f, err := m.Stages[i].Fit(Distance(a, b) + off)
		if err != nil {
			return g, err
		}
		g.Fits[i] = f
		g.Along[i] = units.Radians(math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X)))
	}
	return g, nil
}

// Designed is the geometry of a drive as it is designed: at its spacings and lies,
// wherever its holes are. The error is from mechanics.Stage.Fit.
func Designed(d *Drive, m *Model) (Geometry, error) {
	var fits [MaxStages]mechanics.Fitted
	var lies [MaxStages]Lie
	copy(lies[:], d.Lies)
	for i := range d.Stages {
		f, err := m.Stages[i].Fit(d.Spacings[i])
		if err != nil {
			return Geometry{}, err
		}
		fits[i] = f
	}
	return GeometryAt(&fits, &lies), nil
}
