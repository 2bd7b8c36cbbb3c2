package drive

import "findrive/internal/parts"

// Pulleys lists the pulleys of a drive, motor side first, one that is used twice twice.
func (d *Drive) Pulleys() []*parts.Pulley {
	var out []*parts.Pulley
	for i := range d.Stages {
		out = append(out, d.Stages[i].Driver, d.Stages[i].Driven)
	}
	return out
}

// RatioUncertainty is by what share the velocity ratio of a drive may be out, either way,
// because discs are cut by hand: of each made pulley the error of its diameter, in shares
// of it, and all of them at once the same way. 0 without made pulleys.
func (d *Drive) RatioUncertainty() float64 {
	sum := 0.0
	for _, p := range d.Pulleys() {
		sum += RatioUncertainty(p)
	}
	return sum
}

// RatioUncertainty is what one pulley adds to that of its drive.
func RatioUncertainty(p *parts.Pulley) float64 {
	if p.Made == nil {
		return 0
	}
	return float64(p.Made.Error / p.GrooveFloor)
}

// Swing is by what share the speed of a drive's output goes up and down within a turn at
// most, because bores are not quite in the middle: a pulley whose middle is off by e is
// like one whose radius is e more and then e less. The speed over whole turns is the same.
func (d *Drive) Swing() float64 {
	sum := 0.0
	for _, p := range d.Pulleys() {
		if p.Made != nil {
			sum += float64(2 * p.Made.Wobble / p.GrooveFloor)
		}
	}
	return sum
}
