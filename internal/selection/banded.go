package selection

import (
	"slices"

	"findrive/internal/units"
)

// dropUnbanded leaves out sizes round which, whatever the other pulley, no band of
// the stock goes, and finds the least and the greatest ratio of a stage that can be
// banded. A pulley too large for every band would else seem to bring ratios within
// reach that it does not.
func (r *ready) dropUnbanded() {
	if len(r.bands) == 0 {
		r.motor, r.axle = nil, nil
		return
	}
	for {
		first, driverOf, drivenOf := r.partners(r.motor)
		later, driving, driven := r.partners(r.axle)
		r.firstCan, r.laterCan = first, later
		motor, axle := len(r.motor), len(r.axle)
		r.motor = without(r.motor, driverOf)
		r.axle = without(r.axle, either(drivenOf, either(driving, driven)))
		if len(r.motor) == motor && len(r.axle) == axle {
			return
		}
	}
}

// partners is what stages of these drivers and any axle's pulley can do, and which
// of both have any partner at all. Partners are tried from the largest and from the
// smallest on, so that hardly more than one has to be tried.
func (r *ready) partners(drivers []size) (can span, drives, driven []bool) {
	can = span{unlimited, -unlimited}
	drives, driven = make([]bool, len(drivers)), make([]bool, len(r.axle))
	for i := range drivers {
		for j := len(r.axle) - 1; j >= 0; j-- {
			if r.banded(drivers[i].diameter, r.axle[j].diameter) {
				drives[i], driven[j] = true, true
				can.greatest = max(can.greatest, r.axle[j].log-drivers[i].log)
				break
			}
		}
		for j := 0; j < len(r.axle) && drives[i]; j++ {
			if r.banded(drivers[i].diameter, r.axle[j].diameter) {
				driven[j] = true
				can.least = min(can.least, r.axle[j].log-drivers[i].log)
				break
			}
		}
	}
	for j := range r.axle {
		for i := 0; i < len(drivers) && !driven[j]; i++ {
			driven[j] = r.banded(drivers[i].diameter, r.axle[j].diameter)
		}
	}
	return can, drives, driven
}

// banded is whether any band goes round two pulleys.
func (r *ready) banded(driver, driven units.Millimetres) bool {
	longest := r.Limits.MostStretch * float64(r.bands[len(r.bands)-1].rest)
	for i := r.leastCentre(driver, driven); i < len(r.twiceCentre); i++ {
		path := r.path(driver, driven, i)
		if path > longest {
			break
		}
		b, _ := slices.BinarySearchFunc(r.bands, units.Millimetres(path/r.Limits.MostStretch), func(l loop, rest units.Millimetres) int { return compare(l.rest, rest) })
		// One to either side, for the division is rounded.
		for b = max(0, b-1); b < len(r.bands); b++ {
			stretch := path / float64(r.bands[b].rest)
			if stretch < r.Limits.LeastStretch {
				break
			}
			if stretch <= r.Limits.MostStretch {
				return true
			}
		}
	}
	return false
}

func without(list []size, keep []bool) []size {
	var out []size
	for i := range list {
		if keep[i] {
			out = append(out, list[i])
		}
	}
	return out
}

func either(a, b []bool) []bool {
	out := make([]bool, len(a))
	for i := range out {
		out[i] = a[i] || b[i]
	}
	return out
}
