package built

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// holesExample is a list of holes as a file has it.
const holesExample = `[["30 mm", "50 mm"], ["125 mm", "112 mm"]]`

// holes are the places of the motor's shaft and of the axles after it, where the file
// gives them; nil where it does not. The frame's lower left inside corner is their nought;
// without a frame any corner will do.
func holes(t *tomlfile.Table) []layout.Point {
	list := t.List("holes", holesExample, drive.MaxStages+1)
	var out []layout.Point
	for i, v := range list {
		pair, is := v.([]any)
		if !is || len(pair) != 2 {
			t.Fail("holes", "hole %d is %s, two lengths are needed (from the left, from below): write for example holes = %s", i+1, tomlfile.Shown(v), holesExample)
			return nil
		}
		at, ok := point(t, "holes", pair)
		if !ok {
			return nil
		}
		out = append(out, at)
	}
	return out
}

// point is a place in two lengths.
func point(t *tomlfile.Table, key string, pair []any) (at layout.Point, ok bool) {
	for i, to := range []*units.Millimetres{&at.X, &at.Y} {
		v, err := tomlfile.Measure(pair[i], &units.Lengths, tomlfile.Range[units.Millimetres]{Least: 0, Most: 2000})
		if err != nil {
			t.Fail(key, "%s: %v", []string{"from the left", "from below"}[i], err)
			return at, false
		}
		*to = v
	}
	return at, true
}

// centreAgrees is how far a centre distance that is given beside the holes may be off
// them: what a ruler on two axles is good to (judgement).
const centreAgrees = 1

// atHoles places the axles at the holes, and notes what is wrong with them. Centre
// distances that are given as well, 0 where they are not, must agree.
func (r reader) atHoles(at []layout.Point, stages []*tomlfile.Table, given []units.Millimetres) bool {
	t := r.root.Table("drive")
	if n := len(stages) + 1; len(at) != n {
		t.Fail("holes", "there are %d holes, and %d are needed: the motor's shaft first, then the axle of each stage", len(at), n)
		return false
	}
	for i, c := range given {
		by := drive.Distance(at[i], at[i+1])
		switch {
		case by < 2:
			t.Fail("holes", "holes %d and %d are %s apart: two axles cannot stand so near", i+1, i+2, units.Lengths.Format(by))
			return false
		case c > 0 && math.Abs(float64(c-by)) > centreAgrees:
			stages[i].Fail("centre", "found %s, but holes %d and %d are %s apart: leave one of them out", units.Lengths.Format(c), i+1, i+2, millimetres(by))
			return false
		}
	}
	d := r.b.Drive
	d.Positions = []layout.Point{{}}
	for _, p := range at[1:] {
		d.Positions = append(d.Positions, layout.Point{X: p.X - at[0].X, Y: p.Y - at[0].Y})
	}
	return true
}
