package built

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// Write is the file that describes a built drive, as Read reads it: what it moves, its
// parts by name and, so that it can be read beside any cupboard, their sizes, and the
// holes. note is one line on where the drive comes from; empty for none.
func (b *Build) Write(note string) []byte {
	w := &writer{}
	if note != "" {
		w.line("# " + oneLine(note))
	}
	w.line("# Change what is different in the model, then: findrive try, measure, explain or swap.")
	w.line("schema = 1")
	w.text("name", b.Name)
	b.writeTask(w)
	b.writeDrive(w)
	if b.Framed {
		writeFrame(w, &b.Brief.Frame)
	}
	w.line("\n# The parts, with their sizes as they were known.")
	b.writeParts(w)
	return []byte(w.out.String())
}

// WriteListed is the file of a drive that a search lists under a number.
func (b *Build) WriteListed(rank int) []byte {
	return b.Write(fmt.Sprintf("Drive %d that findrive propose lists for %s", rank, b.Name))
}

// oneLine is a text without breaks and other control characters.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}

// writer writes keys and values of TOML.
type writer struct{ out strings.Builder }

func (w *writer) line(s string) { w.out.WriteString(s + "\n") }

func (w *writer) table(parts ...string) {
	for i, p := range parts {
		parts[i] = key(p)
	}
	w.line("\n[" + strings.Join(parts, ".") + "]")
}

func (w *writer) text(k, v string) { w.line(k + " = " + quoted(v)) }

// put writes a quantity with its unit, in full.
func (w *writer) put(k string, v float64, unit string) { w.text(k, exact(v)+" "+unit) }

func (w *writer) length(k string, v units.Millimetres) { w.put(k, float64(v), "mm") }

// exact is the shortest decimal that is read back as the same number.
func exact(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func quoted(v string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(oneLine(v)) + `"`
}

// key is a name as a table has it.
func key(name string) string {
	if name != "" && strings.Trim(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == "" {
		return name
	}
	return quoted(name)
}

func (b *Build) writeTask(w *writer) {
	r, l := b.Brief, &b.Brief.Load
	w.text("model", string(r.Model))
	turning, turningErr := units.Turnings.Parse(r.Speed.Words)
	travel, travelErr := units.Travels.Parse(r.Speed.Words)
	switch {
	case turningErr == nil && turning == r.Speed.Turning, travelErr == nil && travel == r.Speed.Linear:
		w.text("speed", r.Speed.Words)
	case r.Speed.Turning > 0:
		w.put("speed", float64(r.Speed.Turning), "rpm")
	case r.Speed.Linear > 0:
		w.put("speed", float64(r.Speed.Linear), "m/s")
	}
	w.put("tolerance", 100*r.Tolerance, "%")
	w.table("direction")
	for _, k := range []struct{ key, word string }{{"turns", string(r.Direction.Sense)}, {"seen_from", r.Direction.SeenFrom}, {"motor_turns", string(r.Direction.MotorTurns)}} {
		if k.word != "" {
			w.text(k.key, k.word)
		}
	}
	w.table("load")
	if r.Model != brief.PlainShaft || l.Mass > 0 {
		w.put("mass", float64(l.Mass), "g")
	}
	switch r.Model {
	case brief.UprightRide:
		w.length("radius", l.LoadRadius)
		w.length("pivot_radius", l.PivotRadius)
	case brief.LevelRide:
		w.length("radius", l.LoadRadius)
		w.put("out_of_balance", float64(l.OutOfBalance), "g")
		w.length("out_of_balance_radius", l.OutOfBalanceRadius)
	case brief.Vehicle:
		w.text("wheel", b.Drive.Wheel.Name)
		w.text("surface", l.Surface)
		w.put("slope", l.Slope.Degrees(), "deg")
		w.put("driven_share", 100*l.DrivenShare, "%")
	case brief.Lift:
		w.text("drum", b.Drive.Drum.Name)
		w.length("cord", l.CordDiameter)
		w.text("cord_leaves", string(l.CordLeaves))
		w.line(fmt.Sprintf("tackle_parts = %d", l.TackleParts))
		w.put("tackle_efficiency", 100*l.TackleEfficiency, "%")
	case brief.PlainShaft:
		w.put("torque", float64(l.Torque), "mN.m")
	}
	w.table("making")
	w.line(fmt.Sprintf("drill_frame = %v\ndrill_out = %v\nglue = %v", r.Making.DrillFrame, r.Making.DrillOut, r.Making.Glue))
	writeLimits(w, &r.Limits)
}

// writeLimits writes the limits that are not the usual ones.
func writeLimits(w *writer, l *brief.Limits) {
	u := brief.DefaultLimits()
	begun := false
	put := func(k string, v, usual float64, text string) {
		if math.Abs(v-usual) < 1e-12 {
			return
		}
		if !begun {
			w.table("limits")
			begun = true
		}
		w.line(k + " = " + text)
	}
	number := func(k string, v, usual float64) { put(k, v, usual, exact(v)) }
	number("fitted_stretch_min", l.FittedStretchMin, u.FittedStretchMin)
	number("fitted_stretch_max", l.FittedStretchMax, u.FittedStretchMax)
	number("comfort_stretch_min", l.ComfortStretchMin, u.ComfortStretchMin)
	number("comfort_stretch_max", l.ComfortStretchMax, u.ComfortStretchMax)
	number("ideal_stretch", l.IdealStretch, u.IdealStretch)
	number("running_stretch_max", l.RunningStretchMax, u.RunningStretchMax)
	number("grip_min", l.GripMin, u.GripMin)
	number("grip_start_min", l.GripStartMin, u.GripStartMin)
	number("start_min", l.StartMin, u.StartMin)
	number("run_min", l.RunMin, u.RunMin)
	number("section_ratio", l.SectionRatio, u.SectionRatio)
	put("kept_speed_min", l.KeptSpeedMin, u.KeptSpeedMin, quoted(exact(100*l.KeptSpeedMin)+" %"))
	put("continuous_share", l.ContinuousShare, u.ContinuousShare, quoted(exact(100*l.ContinuousShare)+" %"))
	put("arc_min", float64(l.ArcMin), float64(u.ArcMin), quoted(exact(l.ArcMin.Degrees())+" deg"))
	put("arc_warn", float64(l.ArcWarn), float64(u.ArcWarn), quoted(exact(l.ArcWarn.Degrees())+" deg"))
	length := func(k string, v, usual units.Millimetres) {
		put(k, float64(v), float64(usual), quoted(exact(float64(v))+" mm"))
	}
	length("clearance", l.Clearance, u.Clearance)
	length("lane_gap", l.LaneGap, u.LaneGap)
	length("hole_wall", l.HoleWall, u.HoleWall)
	length("running_fit", l.RunningFit, u.RunningFit)
	length("hole_error", l.HoleError, u.HoleError)
}

func (b *Build) writeDrive(w *writer) {
	d := b.Drive
	w.table("drive")
	w.text("motor", d.Motor.Name)
	w.text("cells", d.Holder.Name)
	var at []string
	for _, p := range b.holesFromCorner() {
		at = append(at, fmt.Sprintf("[%s, %s]", quoted(exact(float64(p.X))+" mm"), quoted(exact(float64(p.Y))+" mm")))
	}
	if b.MotorAt != nil || !b.Framed {
		w.line("# From the left and from below: the motor's shaft, then the axle of each stage.\nholes = [" + strings.Join(at, ", ") + "]")
	}
	for i := range d.Stages {
		s := &d.Stages[i]
		w.table("stage", strconv.Itoa(i+1))
		w.text("driver", s.Driver.Name)
		w.text("driven", s.Driven.Name)
		w.text("band", s.Band.Name)
		w.text("use", s.Use.String())
		w.text("run", map[bool]string{true: "crossed", false: "open"}[s.Crossed])
		if b.MotorAt == nil && b.Framed {
			w.length("centre", d.Centre(i))
			w.text("lies", string(b.lies(i)))
		}
		w.text("axle", d.Axles[i].Name)
	}
}

// holesFromCorner are the holes from the frame's corner, or, where none is known, from
// a corner that leaves all of them to its right and above.
func (b *Build) holesFromCorner() []layout.Point {
	by := layout.Point{}
	if b.MotorAt != nil {
		by = *b.MotorAt
	} else {
		for _, p := range b.Drive.Positions {
			by.X, by.Y = max(by.X, -p.X), max(by.Y, -p.Y)
		}
	}
	return shifted(b.Drive.Positions, by)
}

// lies is the way a stage lies, of the four that have names.
func (b *Build) lies(i int) Way {
	from, to := b.Drive.Positions[i], b.Drive.Positions[i+1]
	x, y := to.X-from.X, to.Y-from.Y
	switch {
	case x >= 0 && x >= max(y, -y):
		return Right
	case x < 0 && -x >= max(y, -y):
		return Left
	case y > 0:
		return Up
	}
	return Down
}

func writeFrame(w *writer, f *brief.Frame) {
	w.table("frame")
	w.length("length", f.Length)
	w.length("height", f.Height)
	w.length("depth", f.Depth)
	if len(f.Rails) > 0 {
		var rails []string
		for _, r := range f.Rails {
			rails = append(rails, quoted(exact(float64(r))+" mm"))
		}
		w.line("rails = [" + strings.Join(rails, ", ") + "]")
	}
	if f.Strip > 0 {
		w.length("strip", f.Strip)
	}
	if f.Sheet > 0 {
		w.length("sheet", f.Sheet)
	}
	w.length("pitch", f.Pitch)
	whole := brief.Rect{X1: f.Length, Y1: f.Height}
	for _, z := range []struct {
		key string
		brief.Rect
	}{{"motor_zone", f.MotorZone}, {"output_zone", f.OutputZone}} {
		if z.Rect != whole {
			w.line(fmt.Sprintf("%s = [%s, %s, %s, %s]", z.key, quoted(exact(float64(z.X0))+" mm"), quoted(exact(float64(z.Y0))+" mm"), quoted(exact(float64(z.X1))+" mm"), quoted(exact(float64(z.Y1))+" mm")))
		}
	}
	if f.Overhang > 0 {
		w.length("overhang", f.Overhang)
	}
	if f.HasGround {
		w.length("ground", -f.Ground)
	}
}
