package brief

import (
	"math"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Read reads a brief. Its error lists every problem in the document, each at its
// line; see tomlfile.Problems.
func Read(name string, data []byte) (*Brief, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	root.Whole("schema", 1, 1, 1)
	root.Needed("model", "speed")
	b := &Brief{Name: root.Text("name", name), Limits: DefaultLimits(), Weights: DefaultWeights()}
	b.Model = Model(root.Choice("model", string(PlainShaft), string(UprightRide), string(LevelRide), string(Vehicle), string(Lift), string(PlainShaft)))
	b.Speed = speed(root, b.Model)
	b.Tolerance = tomlfile.Quantity(root, "tolerance", units.ParseShare, 0.25, 0.001, 0.9, "(a share)")
	b.Sets = root.Whole("sets", 1, 1, 1000)
	b.MaxStages = root.Whole("max_stages", 3, 1, 4)
	if list, ok := root.List("cells"); ok {
		for _, v := range list {
			n, is := v.(int64)
			if !is || n < 1 || n > 8 {
				root.Fail("cells", "found %v, and numbers of cells from 1 to 8 are needed", v)
				continue
			}
			b.Cells = append(b.Cells, int(n))
		}
	}
	b.Direction = direction(root.Table("direction"))
	b.Load = load(root.Table("load"), b.Model)
	b.Frame = frame(root.Table("frame"))
	making := root.Table("making")
	b.Making = Making{DrillFrame: making.Yes("drill_frame", true), DrillOut: making.Yes("drill_out", true), Glue: making.Yes("glue", true)}
	making.Close()
	limits(root.Table("limits"), &b.Limits)
	weights(root.Table("weights"), &b.Weights)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

func speed(t *tomlfile.Table, m Model) Speed {
	s := Speed{Words: t.Text("speed", "20 rpm")}
	turning, err1 := units.ParseTurning(s.Words)
	travel, err2 := units.ParseTravel(s.Words)
	travels := m == Vehicle || m == Lift
	switch {
	case err1 == nil && turning > 0 && turning < 20000:
		s.Turning = turning
	case err2 == nil && travel > 0 && travel < 20 && travels:
		s.Linear = travel
	case err2 == nil && !travels:
		t.Fail("speed", "found %q, and a %s turns: write for example \"20 rpm\" or \"1 turn in 3 s\"", s.Words, m)
	case travels:
		t.Fail("speed", "found %q, which is no speed: write for example \"0.3 m/s\" or \"10 m in 25 s\"", s.Words)
	default:
		t.Fail("speed", "found %q, which is no speed of turning: write for example \"20 rpm\" or \"1 turn in 3 s\"", s.Words)
	}
	return s
}

func direction(t *tomlfile.Table) Direction {
	ways := []string{string(Either), string(Clockwise), string(Anticlockwise)}
	d := Direction{
		Sense:      Sense(t.Choice("turns", string(Either), ways...)),
		SeenFrom:   t.Choice("seen_from", "front", "front", "back", "above", "below"),
		MotorTurns: Sense(t.Choice("motor_turns", string(Either), ways...)),
	}
	t.Close()
	return d
}

// mostLifted caps a lifted load, for safety (common practice).
const mostLifted units.Grams = 1000

func load(t *tomlfile.Table, m Model) Load {
	length := func(key string, fallback units.Millimetres) units.Millimetres {
		return tomlfile.Quantity(t, key, units.ParseLength, fallback, 0.1, 2000, "mm")
	}
	l := Load{TackleParts: 1, TackleEfficiency: 1}
	l.Mass = tomlfile.Quantity(t, "mass", units.ParseMass, 0, 0, 20000, "g")
	if m != PlainShaft {
		t.Needed("mass")
	}
	switch m {
	case UprightRide:
		l.PivotRadius, l.LoadRadius = length("pivot_radius", 2.5), length("radius", 60)
	case LevelRide:
		l.LoadRadius = length("radius", 80)
		l.OutOfBalance = tomlfile.Quantity(t, "out_of_balance", units.ParseMass, 0, 0, 5000, "g")
		l.OutOfBalanceRadius = length("out_of_balance_radius", l.LoadRadius)
	case Vehicle:
		l.Wheel = t.Text("wheel", "")
		l.Surface = t.Choice("surface", "table", "table", "carpet")
		l.Slope = tomlfile.Quantity(t, "slope", units.ParseAngle, 0, 0, units.Degrees(45), "rad")
		l.DrivenShare = tomlfile.Quantity(t, "driven_share", units.ParseShare, 0.5, 0.05, 1, "(a share)")
	case Lift:
		l.Drum = t.Text("drum", "")
		l.CordDiameter = length("cord", 1)
		l.TackleParts = t.Whole("tackle_parts", 1, 1, 8)
		l.TackleEfficiency = tomlfile.Quantity(t, "tackle_efficiency", units.ParseShare, 1, 0.1, 1, "(a share)")
		if l.Mass > mostLifted {
			t.Fail("mass", "more than 1 kg is not for a classroom crane: somebody's hand may be under it")
		}
	case PlainShaft:
		l.Torque = tomlfile.Quantity(t, "torque", units.ParseTorque, 0, 0, 10000, "mN.m")
	}
	t.Close()
	return l
}

func frame(t *tomlfile.Table) Frame {
	length := func(key string, fallback, least units.Millimetres) units.Millimetres {
		return tomlfile.Quantity(t, key, units.ParseLength, fallback, least, 2000, "mm")
	}
	t.Needed("length", "height", "depth")
	f := Frame{
		Length: length("length", 200, 10), Height: length("height", 100, 10), Depth: length("depth", 100, 10),
		Strip: length("strip", 0, 1), Sheet: length("sheet", 0, 0.5), Pitch: length("pitch", 1, 1),
		Overhang: length("overhang", 0, 0),
	}
	if list, ok := t.List("rails"); ok {
		for _, v := range list {
			y, err := tomlfile.ParseValue(v, units.ParseLength)
			if err != nil || y > f.Height {
				t.Fail("rails", "found %v, and heights within the frame are needed, for example [\"10 mm\", \"90 mm\"]", v)
				continue
			}
			f.Rails = append(f.Rails, y)
		}
	}
	whole := Rect{X1: f.Length, Y1: f.Height}
	f.MotorZone, f.OutputZone = zone(t, "motor_zone", whole), zone(t, "output_zone", whole)
	if t.Has("ground") {
		f.HasGround = true
		below := tomlfile.Quantity(t, "ground", units.ParseLength, 0, 0, 500, "mm")
		f.Ground = -below
	}
	t.Close()
	return f
}

// zone reads ["x0", "y0", "x1", "y1"] or words for a third of the frame.
func zone(t *tomlfile.Table, key string, whole Rect) Rect {
	if list, ok := valueList(t, key); ok {
		var v [4]units.Millimetres
		for i := range v {
			q, err := tomlfile.ParseValue(list[i], units.ParseLength)
			if err != nil {
				t.Fail(key, "%v", err)
			}
			v[i] = q
		}
		if v[0] > v[2] || v[1] > v[3] {
			t.Fail(key, "the first corner must be left of and below the second")
		}
		return Rect{v[0], v[1], v[2], v[3]}
	}
	third := whole.X1 / 3
	switch t.Choice(key, "anywhere", "anywhere", "left third", "middle third", "right third") {
	case "left third":
		whole.X1 = third
	case "middle third":
		whole.X0, whole.X1 = third, 2*third
	case "right third":
		whole.X0 = 2 * third
	}
	return whole
}

func valueList(t *tomlfile.Table, key string) ([]any, bool) {
	if !t.IsList(key) {
		return nil, false
	}
	list, _ := t.List(key)
	if len(list) != 4 {
		t.Fail(key, "found %d values, and four are needed: left, bottom, right, top", len(list))
		return nil, false
	}
	return list, true
}

func limits(t *tomlfile.Table, l *Limits) {
	for _, n := range []struct {
		key         string
		to          *float64
		least, most float64
	}{
		{"fitted_stretch_min", &l.FittedStretchMin, 1.01, 2}, {"fitted_stretch_max", &l.FittedStretchMax, 1.02, 2},
		{"comfort_stretch_min", &l.ComfortStretchMin, 1.01, 2}, {"comfort_stretch_max", &l.ComfortStretchMax, 1.02, 2},
		{"ideal_stretch", &l.IdealStretch, 1.02, 2}, {"running_stretch_max", &l.RunningStretchMax, 1.05, 2},
		{"grip_min", &l.GripMin, 1, 10}, {"grip_start_min", &l.GripStartMin, 1, 10},
		{"start_min", &l.StartMin, 1, 10}, {"run_min", &l.RunMin, 1, 10}, {"section_ratio", &l.SectionRatio, 1, 20},
	} {
		*n.to = t.Number(n.key, *n.to, n.least, n.most)
	}
	l.ContinuousShare = tomlfile.Quantity(t, "continuous_share", units.ParseShare, l.ContinuousShare, 0.01, 1, "(a share)")
	l.ArcMin = tomlfile.Quantity(t, "arc_min", units.ParseAngle, l.ArcMin, units.Degrees(30), math.Pi, "rad")
	l.ArcWarn = tomlfile.Quantity(t, "arc_warn", units.ParseAngle, l.ArcWarn, units.Degrees(30), math.Pi, "rad")
	for _, n := range []struct {
		key string
		to  *units.Millimetres
	}{
		{"clearance", &l.Clearance}, {"lane_gap", &l.LaneGap}, {"hole_wall", &l.HoleWall}, {"running_fit", &l.RunningFit}, {"hole_error", &l.HoleError},
	} {
		*n.to = tomlfile.Quantity(t, n.key, units.ParseLength, *n.to, 0, 20, "mm")
	}
	if !(l.FittedStretchMin < l.ComfortStretchMin && l.ComfortStretchMin < l.IdealStretch && l.IdealStretch < l.ComfortStretchMax && l.ComfortStretchMax < l.FittedStretchMax) {
		t.Fail("", "the stretch limits must rise: fitted_stretch_min, comfort_stretch_min, ideal_stretch, comfort_stretch_max, fitted_stretch_max")
	}
	t.Close()
}

func weights(t *tomlfile.Table, w *Weights) {
	for _, n := range []struct {
		key string
		to  *float64
	}{
		{"speed_per_percent", &w.SpeedPerPercent}, {"stage", &w.Stage}, {"band_fit", &w.BandFit},
		{"sleeve", &w.Sleeve}, {"drill_out", &w.DrillOut}, {"glue", &w.Glue}, {"crossed", &w.Crossed}, {"doubled_band", &w.DoubledBand},
		{"assumption", &w.Assumption}, {"unforgiving", &w.Unforgiving}, {"cell", &w.Cell},
	} {
		*n.to = t.Number(n.key, *n.to, 0, 1000)
	}
	w.SpeedStep = t.Number("speed_step", w.SpeedStep, 0.1, 50)
	t.Close()
}
