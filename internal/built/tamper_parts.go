package built

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// unlikelyFit is how much less likely parts are to be mixed up that do not go on each
// other's shafts as they are (judgement).
const unlikelyFit = 0.15

// swappedWays: the two pulleys of a stage, or the two of an axle, have changed places.
func (b *Build) swappedWays() []tampering {
	var out []tampering
	d := b.Drive
	for i := range d.Stages {
		s := &d.Stages[i]
		if s.Driver.Name == s.Driven.Name {
			continue
		}
		weight := 1.0
		_, one := b.joint(constraints.PulleyHub(s.Driven), b.shaft(i))
		_, two := b.joint(constraints.PulleyHub(s.Driver), d.Axles[i].Diameter)
		if one != nil || two != nil {
			weight = unlikelyFit
		}
		out = append(out, tampering{fault: PulleysSwapped, stage: i + 1, weight: weight, says: fmt.Sprintf("%s and %s of stage %d have changed places", s.Driver.Name, s.Driven.Name, i+1), do: func(b *Build) {
			s := &b.Drive.Stages[i]
			s.Driver, s.Driven = s.Driven, s.Driver
		}})
		if i+1 < len(d.Stages) && d.Stages[i+1].Driver.Name != s.Driven.Name {
			out = append(out, tampering{fault: PulleysSwapped, stage: i + 1, weight: 1, says: fmt.Sprintf("%s and %s, on one axle, have changed places, and each has the other's band", s.Driven.Name, d.Stages[i+1].Driver.Name), do: func(b *Build) {
				s, next := &b.Drive.Stages[i], &b.Drive.Stages[i+1]
				s.Driven, next.Driver = next.Driver, s.Driven
			}})
		}
	}
	return out
}

// resized is a pulley so many times as large across at its rim and groove.
func resized(p *parts.Pulley, times float64) *parts.Pulley {
	out := *p
	out.Outside *= units.Millimetres(times)
	out.GrooveFloor *= units.Millimetres(times)
	return &out
}

// otherSizes are what another part may measure, over the right one, where the cupboard
// does not say what there is.
func otherSizes() []float64 { return even(0.4, 2.5) }

// All other sizes together weigh so much to one part that the cupboard has: of pulleys,
// holders and motors, which come out of the cupboard, and of wheels and drums, which are as
// often lids and reels from home (judgement, from memory of classes).
const (
	unknownSize = 0.3
	fromHome    = 1.0
	// The drum is off its axle so often, to one that the cupboard has.
	bareAxle = 0.3
)

// wrongPulleyWays: one of the cupboard in a pulley's place, or one of any size. The band
// is taken to be one that goes on.
func (b *Build) wrongPulleyWays() []tampering {
	var out []tampering
	for i := range b.Drive.Stages {
		for _, driven := range []bool{false, true} {
			of := func(b *Build) **parts.Pulley {
				if driven {
					return &b.Drive.Stages[i].Driven
				}
				return &b.Drive.Stages[i].Driver
			}
			shaft := b.shaft(i)
			if driven {
				shaft = b.Drive.Axles[i].Diameter
			}
			own := *of(b)
			put := func(p *parts.Pulley) func(*Build) {
				return func(b *Build) {
					before, _ := b.Drive.Stages[i].Mechanics(likelyGrip).Fit(b.Drive.Centre(i))
					*of(b) = p
					s := &b.Drive.Stages[i]
					if after, _ := s.Mechanics(likelyGrip).Fit(b.Drive.Centre(i)); after.Stretch > 0 && before.Stretch > 0 {
						s.Band = longer(s, after.Stretch/before.Stretch)
					}
				}
			}
			for k := range b.Cupboard.Pulleys {
				p := &b.Cupboard.Pulleys[k]
				if ratio := float64(p.GrooveFloor / own.GrooveFloor); p.Name == own.Name || math.Abs(math.Log(ratio)) < 0.05 {
					continue
				}
				if _, no := b.joint(constraints.PulleyHub(p), shaft); no != nil {
					continue
				}
				out = append(out, tampering{fault: PulleyWrong, stage: i + 1, weight: 1 / float64(len(b.Cupboard.Pulleys)), says: fmt.Sprintf("%s sits where %s should", p.Name, own.Name), do: put(p)})
			}
			for _, times := range otherSizes() {
				out = append(out, tampering{fault: PulleyWrong, stage: i + 1, weight: unknownSize / float64(len(otherSizes())), says: fmt.Sprintf("in place of %s one that is %s times as large", own.Name, figure(times)), do: put(resized(own, times))})
			}
		}
	}
	return out
}

// wrongRoundWays: wheels or a drum of another size.
func (b *Build) wrongRoundWays() []tampering {
	var out []tampering
	switch d := b.Drive; {
	case b.Brief.Model == brief.Vehicle && d.Wheel != nil:
		put := func(w parts.Wheel, weight float64, says string) {
			out = append(out, tampering{fault: WheelWrong, weight: weight, says: says, travel: float64(w.Diameter / d.Wheel.Diameter), do: func(b *Build) { b.Drive.Wheel = &w }})
		}
		for _, w := range b.Cupboard.Wheels {
			if w.Diameter != d.Wheel.Diameter {
				put(w, 1, fmt.Sprintf("%s in place of %s", w.Name, d.Wheel.Name))
			}
		}
		for _, times := range otherSizes() {
			w := *d.Wheel
			w.Diameter *= units.Millimetres(times)
			put(w, fromHome/float64(len(otherSizes())), fmt.Sprintf("about %s times as large across", figure(times)))
		}
	case b.Brief.Model == brief.Lift && d.Drum != nil:
		cord := b.Brief.Load.CordDiameter
		put := func(w parts.Drum, weight float64, says string) {
			out = append(out, tampering{fault: DrumWrong, weight: weight, says: says, travel: float64((w.Diameter + cord) / (d.Drum.Diameter + cord)), do: func(b *Build) { b.Drive.Drum = &w }})
		}
		for _, w := range b.Cupboard.Drums {
			if w.Diameter != d.Drum.Diameter {
				put(w, 1, fmt.Sprintf("%s in place of %s", w.Name, d.Drum.Name))
			}
		}
		if bare := *d.Drum; len(d.Axles) > 0 {
			bare.Diameter = d.Axles[len(d.Axles)-1].Diameter
			put(bare, bareAxle, "the cord winds on the bare axle")
		}
		for _, times := range otherSizes() {
			w := *d.Drum
			w.Diameter *= units.Millimetres(times)
			put(w, fromHome/float64(len(otherSizes())), fmt.Sprintf("about %s times as large across", figure(times)))
		}
	}
	return out
}

// motorWays: another motor of the cupboard, or one of any speed.
func (b *Build) motorWays() []tampering {
	var out []tampering
	own := b.Drive.Motor
	for k := range b.Cupboard.Motors {
		if m := &b.Cupboard.Motors[k]; m.Name != own.Name {
			out = append(out, tampering{fault: MotorOther, weight: 1, says: fmt.Sprintf("motor %s in place of %s", m.Name, own.Name), do: func(b *Build) { b.Drive.Motor = m }})
		}
	}
	for _, times := range even(0.3, 3) {
		m := *own
		m.FreeSpeed *= units.RPM(times)
		out = append(out, tampering{fault: MotorOther, weight: unknownSize / 20, says: fmt.Sprintf("one that is about %s times as fast", figure(times)), do: func(b *Build) { b.Drive.Motor = &m }})
	}
	return out
}

// bandWays: another band of the cupboard in a band's place.
func (b *Build) bandWays() []tampering {
	var out []tampering
	for i := range b.Drive.Stages {
		own := b.Drive.Stages[i].Band
		for k := range b.Cupboard.Bands {
			if band := &b.Cupboard.Bands[k]; band.Name != own.Name {
				out = append(out, tampering{fault: BandWrong, stage: i + 1, weight: 1, says: fmt.Sprintf("%s sits where %s should", band.Name, own.Name), do: func(b *Build) { b.Drive.Stages[i].Band = band }})
			}
		}
	}
	return out
}
