package design

import (
	"findrive/internal/constraints"
	"findrive/internal/drive"
)

// Extra is one more rule that a drive must keep, such as one of a contest. It is
// asked at three moments, so that it can refuse early what it can; nil is no
// refusal. Its methods are called from several goroutines at once.
type Extra interface {
	// Parts is asked once all parts are chosen, before anything is placed.
	Parts(d *drive.Drive) *constraints.Refusal
	// Within may refuse an extent if the rule refuses every placement in it.
	Within(d *drive.Drive, m *drive.Model, x *drive.Extent) *constraints.Refusal
	// Placed decides on a placed drive, with its holes as drawn.
	Placed(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal
}

// noExtra refuses nothing.
type noExtra struct{}

func (noExtra) Parts(*drive.Drive) *constraints.Refusal { return nil }
func (noExtra) Within(*drive.Drive, *drive.Model, *drive.Extent) *constraints.Refusal {
	return nil
}
func (noExtra) Placed(*drive.Drive, *drive.Model, *drive.Geometry) *constraints.Refusal {
	return nil
}

// allowed asks the extra rule about a placed drive that keeps all the others.
func (s *settling) allowed(d *drive.Drive, model *drive.Model) *constraints.Refusal {
	if s.extra == (noExtra{}) {
		return nil
	}
	g, err := drive.GeometryOf(d, model, 0)
	if err != nil {
		return constraints.TooShort(d.Stages[0].Band)
	}
	return s.extra.Placed(d, model, &g)
}
