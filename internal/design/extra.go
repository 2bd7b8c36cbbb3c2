package design

import (
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
)

// Extra is one more rule that a drive must keep, such as one of a contest. It is
// asked at several moments, so that it can refuse early what it can; nil is no
// refusal. Its methods are called from several goroutines at once.
type Extra interface {
	// Begun is asked of a drive of which motor, cells, output part and the number of
	// stages are chosen, and nothing of the stages.
	Begun(d *drive.Drive) *constraints.Refusal
	// Parts is asked once all parts are chosen, before anything is placed.
	Parts(d *drive.Drive) *constraints.Refusal
	// Room may take from the places of a drive's shafts those that the rule refuses
	// wherever the others are. One placement is looked at for all that are alike but
	// for where they stand in the frame, so it had better be one that the rule likes.
	Room(d *drive.Drive, p *layout.Problem)
	// Within may refuse an extent if the rule refuses every placement in it.
	Within(d *drive.Drive, m *drive.Model, x *drive.Extent) *constraints.Refusal
	// Placed decides on a placed drive, with its holes as drawn.
	Placed(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal
}

// noExtra refuses nothing.
type noExtra struct{}

func (noExtra) Begun(*drive.Drive) *constraints.Refusal { return nil }
func (noExtra) Parts(*drive.Drive) *constraints.Refusal { return nil }
func (noExtra) Room(*drive.Drive, *layout.Problem)      {}
func (noExtra) Within(*drive.Drive, *drive.Model, *drive.Extent) *constraints.Refusal {
	return nil
}
func (noExtra) Placed(*drive.Drive, *drive.Model, *drive.Geometry) *constraints.Refusal {
	return nil
}

// keep puts a task under an extra rule, if there is one, and drops what it refuses
// from the beginning.
func (t *task) keep(extra Extra) {
	if extra == nil {
		return
	}
	t.extra = extra
	t.heads = slices.DeleteFunc(t.heads, func(h head) bool {
		d := &drive.Drive{Motor: &t.motors[h.motor].Part, Holder: &t.holders[h.holder].Part, Stages: make([]drive.Stage, h.stages)}
		d.Wheel, d.Drum = t.outputParts(h.output)
		no := extra.Begun(d)
		if no != nil {
			t.tally.add(no)
		}
		return no != nil
	})
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
