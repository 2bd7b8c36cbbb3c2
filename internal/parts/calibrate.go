package parts

import (
	"slices"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Calibrate is the cupboard with what a calibration file says of its motors and
// bands, in the same words as a cupboard: counted_speed or free_speed of
// [motor.NAME], hung_mass and reached of [band.NAME]. The error is
// tomlfile.Problems; a name that the cupboard has not got is one.
func (c *Cupboard) Calibrate(name string, data []byte) (*Cupboard, error) {
	return c.calibrate(name, data, true)
}

// CalibrateKnown is Calibrate for parts that are not the whole cupboard, such as those of one
// drive: what the file says of others is passed over.
func (c *Cupboard) CalibrateKnown(name string, data []byte) (*Cupboard, error) {
	return c.calibrate(name, data, false)
}

func (c *Cupboard) calibrate(name string, data []byte, whole bool) (*Cupboard, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	out := *c
	out.Motors, out.Bands = slices.Clone(c.Motors), slices.Clone(c.Bands)
	out.Learned = Learned{}
	speeds := tomlfile.Range[units.RPM]{Least: 10, Most: 50_000}
	names, tables := root.Named("motor")
	for i, t := range tables {
		m := named("motor", names[i], t, whole, out.Motors, func(m *Motor) string { return m.Name })
		if m == nil {
			continue
		}
		out.Learned.Motors = append(out.Learned.Motors, m.Name)
		m.FreeSpeed = tomlfile.Quantity(t, "free_speed", &units.Turnings, m.FreeSpeed, speeds)
		m.SpeedKnown = readSpeedKnown(t)
		if t.Has("counted_speed") {
			m.FreeSpeed, m.Calibrated = tomlfile.Quantity(t, "counted_speed", &units.Turnings, m.FreeSpeed, speeds), true
		}
		t.Offer("counted_speed")
		t.Close()
	}
	names, tables = root.Named("band")
	for i, t := range tables {
		if b := named("band", names[i], t, whole, out.Bands, func(b *Band) string { return b.Name }); b != nil {
			out.Learned.Bands = append(out.Learned.Bands, b.Name)
			readCalibration(t, b)
			t.Close()
		}
	}
	out.Remembered = readCounted(root)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return &out, nil
}

// named is the part of a table's name; nil if there is none, with the mistake noted if the
// list is whole.
func named[P any](kind, name string, t *tomlfile.Table, whole bool, list []P, of func(*P) string) *P {
	for i := range list {
		if of(&list[i]) == name {
			return &list[i]
		}
	}
	if !whole {
		return nil
	}
	all := make([]string, len(list))
	for i := range list {
		all[i] = of(&list[i])
	}
	t.Stranger(name, all, "the cupboard has no %s of this name", kind)
	return nil
}
