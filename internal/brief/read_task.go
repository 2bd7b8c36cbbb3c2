package brief

import (
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// ReadTask reads what a drive that is already built is to move, from the file that
// describes the drive: model, speed, tolerance and the tables [direction], [load],
// [making] and [limits], as Read does, but that the speed may be left out (both
// figures are then 0) and that there is no frame to fit into. Mistakes are noted in
// the document; the table of the load is handed back, so that the caller can note
// more. With a cupboard, a wheel or drum that is named must be in it.
func ReadTask(root *tomlfile.Table, cup *parts.Cupboard) (*Brief, *tomlfile.Table) {
	b := &Brief{Limits: DefaultLimits(), Weights: DefaultWeights(), Sets: 1, MaxStages: 4}
	b.Model = readModel(root)
	if root.Has("speed") {
		b.Speed = readSpeed(root, b.Model)
	} else {
		root.Offer("speed")
	}
	b.Tolerance = tomlfile.Quantity(root, "tolerance", &units.Shares, 0.25, tomlfile.Range[float64]{Least: 0.01, Most: 0.9})
	b.Direction = readDirection(root.Table("direction"))
	load := root.Table("load")
	b.Load = readLoad(load, b.Model)
	b.Making = readMaking(root.Table("making"), false)
	readLimits(root.Table("limits"), &b.Limits)
	if cup != nil {
		named(load, "wheel", b.Load.Wheel, wheelNames(cup))
		named(load, "drum", b.Load.Drum, drumNames(cup))
	}
	return b, load
}

func wheelNames(cup *parts.Cupboard) []string {
	var names []string
	for i := range cup.Wheels {
		names = append(names, cup.Wheels[i].Name)
	}
	return names
}

func drumNames(cup *parts.Cupboard) []string {
	var names []string
	for i := range cup.Drums {
		names = append(names, cup.Drums[i].Name)
	}
	return names
}
