package brief

import (
	"findrive/internal/mechanics"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// Facts are the keys of a file that say what a brief says: each set to its value, also
// where that is what is taken without it, or left out where nothing is to stand. Read
// makes the same brief of them, but for its name.
func (b *Brief) Facts() []tomledit.Edit {
	var out facts
	out.text("model", string(b.Model))
	out.text("speed", b.Speed.written())
	out.text("tolerance", units.Shares.Exact(b.Tolerance))
	out.set(tomledit.Whole(b.Sets), "sets")
	out.set(tomledit.Whole(b.MaxStages), "max_stages")
	out.wholes("cells", b.Cells)
	direction := out.in("direction")
	direction.text("turns", string(b.Direction.Sense))
	direction.text("seen_from", b.Direction.SeenFrom)
	direction.text("motor_turns", string(b.Direction.MotorTurns))
	b.loadFacts(out.in("load"))
	b.Frame.facts(out.in("frame"))
	making := out.in("making")
	making.set(tomledit.Yes(b.Making.DrillFrame), "drill_frame")
	making.set(tomledit.Yes(b.Making.DrillOut), "drill_out")
	making.set(tomledit.Yes(b.Making.Glue), "glue")
	making.set(tomledit.Yes(b.Making.Discs), "discs")
	limitFacts(out.in("limits"), b.Limits)
	weights := out.in("weights")
	for _, n := range weightNumbers(&b.Weights) {
		weights.set(tomledit.Number(*n.to), n.key)
	}
	weights.set(tomledit.Number(b.Weights.SpeedStep), "speed_step")
	return out.all
}

// facts are collected for one table at a time.
type facts struct {
	table []string
	all   []tomledit.Edit
	of    *facts // that they are collected in; nil for the root's
}

func (f *facts) in(table string) *facts { return &facts{table: []string{table}, of: f} }

func (f *facts) set(v tomledit.Value, key string) {
	to := f
	if f.of != nil {
		to = f.of
	}
	to.all = append(to.all, tomledit.Edit{Key: append(append([]string(nil), f.table...), key), Value: v})
}

// text is a text, left out if it is empty.
func (f *facts) text(key, s string) {
	if s == "" {
		f.set(tomledit.Value{}, key)
		return
	}
	f.set(tomledit.Text(s), key)
}

// size is a length, left out at 0 where a file cannot say 0.
func (f *facts) size(key string, l units.Millimetres, zero bool) {
	if l == 0 && !zero {
		f.set(tomledit.Value{}, key)
		return
	}
	f.text(key, units.Lengths.Exact(l))
}

// wholes is a list of whole numbers, left out if it is empty.
func (f *facts) wholes(key string, list []int) {
	var values []tomledit.Value
	for _, n := range list {
		values = append(values, tomledit.Whole(n))
	}
	f.list(key, values)
}

func (f *facts) list(key string, values []tomledit.Value) {
	if len(values) == 0 {
		f.set(tomledit.Value{}, key)
		return
	}
	f.set(tomledit.List(values...), key)
}

// written is the speed as the user wrote it, or as it is.
func (s Speed) written() string {
	switch {
	case s.Words != "":
		return s.Words
	case s.Linear > 0:
		return units.Travels.Exact(s.Linear)
	}
	return units.Turnings.Exact(s.Turning)
}

// loadFacts are the keys of [load] that belong to the model.
func (b *Brief) loadFacts(f *facts) {
	l := &b.Load
	if b.Model == PlainShaft && l.Mass == 0 {
		f.set(tomledit.Value{}, "mass")
	} else {
		f.text("mass", units.Masses.Exact(l.Mass))
	}
	switch b.Model {
	case UprightRide:
		f.size("radius", l.LoadRadius, false)
		f.size("pivot_radius", l.PivotRadius, false)
	case LevelRide:
		f.size("radius", l.LoadRadius, false)
		f.text("out_of_balance", units.Masses.Exact(l.OutOfBalance))
		f.size("out_of_balance_radius", l.OutOfBalanceRadius, false)
	case Vehicle:
		f.text("wheel", l.Wheel)
		f.text("surface", l.Surface)
		f.text("slope", units.Angles.Exact(l.Slope))
		f.text("driven_share", units.Shares.Exact(l.DrivenShare))
	case Lift:
		f.text("drum", l.Drum)
		f.size("cord", l.CordDiameter, false)
		f.text("cord_leaves", string(l.CordLeaves))
		l.tackleFacts(f)
	case PlainShaft:
		f.text("torque", units.Torques.Exact(l.Torque))
	}
}

// tackleFacts say an efficiency only if it is not that which is taken without one.
func (l *Load) tackleFacts(f *facts) {
	var parts []int
	given := ""
	for _, t := range l.Tackles {
		parts = append(parts, t.Parts)
		usual := 1.0
		if t.Parts > 1 {
			usual = mechanics.ObservedTackle(t.Parts)
		}
		if t.Efficiency != usual {
			given = units.Shares.Exact(t.Efficiency)
		}
	}
	f.wholes("tackle_parts", parts)
	f.text("tackle_efficiency", given)
}

func (f Frame) facts(to *facts) {
	to.size("length", f.Length, false)
	to.size("height", f.Height, false)
	to.size("depth", f.Depth, false)
	var rails []tomledit.Value
	for _, y := range f.Rails {
		rails = append(rails, tomledit.Text(units.Lengths.Exact(y)))
	}
	to.list("rails", rails)
	to.size("strip", f.Strip, false)
	to.size("sheet", f.Sheet, false)
	to.size("pitch", f.Pitch, false)
	for _, z := range []struct {
		key string
		at  Rect
	}{{"motor_zone", f.MotorZone}, {"output_zone", f.OutputZone}} {
		if words, has := ZoneWords(f, z.at); has {
			to.text(z.key, words)
			continue
		}
		var sides []tomledit.Value
		for _, side := range []units.Millimetres{z.at.X0, z.at.Y0, z.at.X1, z.at.Y1} {
			sides = append(sides, tomledit.Text(units.Lengths.Exact(side)))
		}
		to.list(z.key, sides)
	}
	to.size("overhang", f.Overhang, true)
	if f.HasGround {
		to.size("ground", -f.Ground, true)
	} else {
		to.set(tomledit.Value{}, "ground")
	}
}

func limitFacts(f *facts, l Limits) {
	for _, n := range limitNumbers(&l) {
		f.set(tomledit.Number(*n.to), n.key)
	}
	f.text("kept_speed_min", units.Shares.Exact(l.KeptSpeedMin))
	f.text("continuous_share", units.Shares.Exact(l.ContinuousShare))
	f.text("arc_min", units.Angles.Exact(l.ArcMin))
	f.text("arc_warn", units.Angles.Exact(l.ArcWarn))
	for _, n := range limitLengths(&l) {
		f.size(n.key, *n.to, true)
	}
}
