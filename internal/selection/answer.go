package selection

import "findrive/internal/units"

// Answer is what was found.
type Answer struct {
	// Drives are the cheapest, cheapest first. Which of drives that cost the same as
	// the last are among them is settled by the way of the search, and is always the
	// same.
	Drives []Drive
	// Proved is whether no other drive costs less than the last. Only if Proved does
	// a list shorter than asked for mean that there are no more.
	Proved bool
}

// Drive is one choice. Clones stand in for each other as the stock allows.
type Drive struct {
	Cost   int64 // in units, see Question.PerPoint, rounded down
	Stages []Stage
}

// Stage holds indices into the question's lists.
type Stage struct {
	Driver, Driven, Band int
	Centre               units.Millimetres
	Stretch              float64
}

func (f *finder) answer(proved bool) *Answer {
	a := &Answer{Proved: proved}
	for _, d := range f.best {
		a.Drives = append(a.Drives, f.named(d))
	}
	return a
}

// named gives out clones in the order of the question, each as long as there are
// enough of it for all sets.
func (f *finder) named(d found) Drive {
	out := Drive{Cost: d.cost / shares}
	taken := map[int]int{}
	pulley := func(s size) int {
		for _, i := range s.kinds {
			if taken[i] < f.Pulleys[i].Count/f.Sets {
				taken[i]++
				return i
			}
		}
		return -1
	}
	bands := map[int]int{}
	band := func(l loop) int {
		for _, i := range l.kinds {
			if bands[i] < f.Bands[i].Count/f.Sets {
				bands[i]++
				return i
			}
		}
		return -1
	}
	for i, s := range d.stages {
		driver := f.axle
		if i == 0 {
			driver = f.motor
		}
		a, b := driver[s.driver], f.axle[s.driven]
		out.Stages = append(out.Stages, Stage{
			Driver: pulley(a), Driven: pulley(b), Band: band(f.bands[s.band]),
			Centre:  units.Millimetres(s.centre) * f.Limits.Grid,
			Stretch: f.path(a.diameter, b.diameter, int(s.centre)) / float64(f.bands[s.band].rest),
		})
	}
	return out
}
