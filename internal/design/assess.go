package design

import (
	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// checkPlaced holds a placed drive with its bands on to every rule about them and about its
// work. It gives the likely speed, or the first rule that is broken.
func checkPlaced(d *drive.Drive, b *brief.Brief, model *drive.Model) (units.RPM, *constraints.Refusal) {
	g, err := drive.GeometryOf(d, model, 0)
	if err != nil {
		return 0, constraints.TooShort(d.Stages[0].Band)
	}
	for i := len(d.Stages) - 1; i >= 0; i-- {
		if no := constraints.First(constraints.PutOn(b.Limits, i, &d.Stages[i], &g.Fits[i])); no != nil {
			return 0, no
		}
	}
	w := constraints.WorkOf(d, b, model, &g)
	return w.Speed, constraints.First(w.Rules())
}
