package brief

import (
	"math"
	"slices"
	"strings"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Usual frames (common practice).
const (
	usualStrip units.Millimetres = 10 // square strip, where there are rails
	usualSheet units.Millimetres = 4  // plywood or corrugated plastic
)

// readFrame reads [frame], the inside of the frame seen from the front:
//
//	length, height, depth  needed
//	rails        heights of the level strips that carry axles, such as
//	             ["10 mm", "90 mm"]; otherwise the sides are sheet and a hole may
//	             be anywhere on the grid
//	strip        section of the strip; otherwise 10 mm with rails, 0 without; only
//	             with rails, for a hole is never drilled where there is no wood
//	sheet        thickness of a sheet side; otherwise 4 mm without a strip, 0 with
//	pitch        of the hole grid; otherwise 1 mm
//	motor_zone   where the motor shaft may be: words such as "left third", or
//	             ["left", "bottom", "right", "top"] as lengths from the lower left
//	             inside corner; otherwise "anywhere"
//	output_zone  where the output axle may be, in the same way
//	overhang     how far a disc may reach outside; otherwise 0
//	ground       how far the floor is below the frame; otherwise, for a vehicle,
//	             wherever its wheels stand, below all else, and for other models
//	             there is none to keep clear of
func readFrame(t *tomlfile.Table) Frame {
	length := func(key string, usual, least, most units.Millimetres) units.Millimetres {
		return tomlfile.Quantity(t, key, &units.Lengths, usual, tomlfile.Range[units.Millimetres]{Least: least, Most: most})
	}
	t.Need("length", `"250 mm"`)
	t.Need("height", `"120 mm"`)
	t.Need("depth", `"120 mm"`)
	f := Frame{Length: length("length", 250, 20, 2000), Height: length("height", 120, 20, 2000), Depth: length("depth", 120, 10, 1000)}
	f.Rails = readRails(t, f.Height)
	strip := units.Millimetres(0)
	if len(f.Rails) > 0 {
		strip = usualStrip
	}
	f.Strip = length("strip", strip, 1, 100)
	if f.Strip > 0 && len(f.Rails) == 0 && t.Good("strip", "rails", "height") {
		low := math.Round(float64(f.Height) / 4)
		t.Fail("strip", "sides of strip have wood only where the strips are, so it must be said how high those with the holes are, counted from the frame's lower inside edge: write for example rails = [\"%g mm\", \"%g mm\"], or leave strip out for sides of sheet", low, math.Round(float64(f.Height))-low)
	}
	sheet := usualSheet
	if f.Strip > 0 {
		sheet = 0
	}
	f.Sheet = length("sheet", sheet, 0.5, 50)
	f.Pitch = length("pitch", 1, 0.5, 100)
	f.MotorZone, f.OutputZone = readZone(t, "motor_zone", f), readZone(t, "output_zone", f)
	f.Overhang = length("overhang", 0, 0, 500)
	if t.Has("ground") {
		f.HasGround = true
		f.Ground = -length("ground", 0, 0, 500)
	}
	t.Offer("ground")
	t.Close()
	return f
}

// readRails are the heights of the rails, ascending.
func readRails(t *tomlfile.Table, height units.Millimetres) []units.Millimetres {
	var rails []units.Millimetres
	for _, v := range t.List("rails", `["10 mm", "90 mm"]`, 50) {
		y, err := tomlfile.Measure(v, &units.Lengths, tomlfile.Range[units.Millimetres]{Least: 0, Most: 2000})
		switch {
		case err != nil:
			t.Fail("rails", "%v", err)
			return nil
		case t.Good("height") && y > height:
			t.Fail("rails", "a rail at %s is above the frame, which is %s high", units.Lengths.Format(y), units.Lengths.Format(height))
			return nil
		}
		rails = append(rails, y)
	}
	slices.Sort(rails)
	return slices.Compact(rails)
}

// zone is a part of a frame that has a name, as shares of its length and height.
type zone struct {
	words          string
	x0, y0, x1, y1 units.Millimetres
}

// zoneWords are the parts of a frame that have a name.
var zoneWords = []zone{
	{"anywhere", 0, 0, 1, 1},
	{"left half", 0, 0, 0.5, 1},
	{"right half", 0.5, 0, 1, 1},
	{"top half", 0, 0.5, 1, 1},
	{"bottom half", 0, 0, 1, 0.5},
	{"left third", 0, 0, 1. / 3, 1},
	{"middle third", 1. / 3, 0, 2. / 3, 1},
	{"right third", 2. / 3, 0, 1, 1},
}

func readZone(t *tomlfile.Table, key string, f Frame) Rect {
	if t.IsList(key) {
		return readRect(t, key, f)
	}
	words := make([]string, len(zoneWords))
	for i, z := range zoneWords {
		words[i] = z.words
	}
	chosen := t.Choice(key, "anywhere", words...)
	for _, z := range zoneWords {
		if z.words == chosen {
			return z.of(f)
		}
	}
	return Rect{X1: f.Length, Y1: f.Height}
}

// of is the part of a frame that the words mean.
func (z zone) of(f Frame) Rect {
	return Rect{X0: z.x0 * f.Length, Y0: z.y0 * f.Height, X1: z.x1 * f.Length, Y1: z.y1 * f.Height}
}

// ZoneWords are the words a brief may use for a part of a frame, such as "left third";
// false if there are none for it.
func ZoneWords(f Frame, r Rect) (string, bool) {
	for _, z := range zoneWords {
		if z.of(f) == r {
			return z.words, true
		}
	}
	return "", false
}

func readRect(t *tomlfile.Table, key string, f Frame) Rect {
	const example = `["0 mm", "0 mm", "60 mm", "100 mm"]`
	sides := []string{"left", "bottom", "right", "top"}
	list := t.List(key, example, len(sides))
	if len(list) != len(sides) {
		if t.Good(key) {
			t.Fail(key, "found %d lengths, four are needed (%s): write for example %s = %s", len(list), strings.Join(sides, ", "), key, example)
		}
		return Rect{}
	}
	var v [4]units.Millimetres
	for i := range v {
		var err error
		if v[i], err = tomlfile.Measure(list[i], &units.Lengths, tomlfile.Range[units.Millimetres]{Least: 0, Most: 2000}); err != nil {
			t.Fail(key, "%s: %v", sides[i], err)
			return Rect{}
		}
	}
	r := Rect{X0: v[0], Y0: v[1], X1: v[2], Y1: v[3]}
	switch {
	case r.X0 > r.X1:
		t.Fail(key, "its left, %s, is right of its right, %s: the order is %s", units.Lengths.Format(r.X0), units.Lengths.Format(r.X1), strings.Join(sides, ", "))
	case r.Y0 > r.Y1:
		t.Fail(key, "its bottom, %s, is above its top, %s: the order is %s", units.Lengths.Format(r.Y0), units.Lengths.Format(r.Y1), strings.Join(sides, ", "))
	case t.Good("length") && r.X1 > f.Length:
		t.Fail(key, "its right, %s, is outside the frame, which is %s long", units.Lengths.Format(r.X1), units.Lengths.Format(f.Length))
	case t.Good("height") && r.Y1 > f.Height:
		t.Fail(key, "its top, %s, is outside the frame, which is %s high", units.Lengths.Format(r.Y1), units.Lengths.Format(f.Height))
	}
	return r
}
