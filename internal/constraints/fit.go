package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// The fits of a bore on a shaft. Common practice with dowel that is itself good
// to 0.2 mm: a bore up to 0.2 mm under the shaft is pushed on; up to 0.2 mm over
// it turns unless it is glued. A tube is stretched on, so it may be 0.3 mm under.
const (
	pushUnder   = 0.2
	glueOver    = 0.2
	sleeveUnder = 0.3
	// drillWall is the material that must stay round a bore that is opened.
	drillWall = 2.0
	// exact forgives the last bits of sizes given in inches.
	exact = 1e-6
)

// Hub is the part of a pulley, wheel or drum that sits on a shaft.
type Hub struct {
	Name     string
	Bore     units.Millimetres
	Room     units.Millimetres // diameter within which the bore may grow
	CanDrill bool
}

// PulleyHub, WheelHub and DrumHub are the hubs of parts.
func PulleyHub(p *parts.Pulley) Hub { return Hub{p.Name, p.Bore, p.GrooveFloor, p.CanDrill} }

// WheelHub is the hub of a wheel.
func WheelHub(w *parts.Wheel) Hub { return Hub{w.Name, w.Bore, w.Diameter, w.CanDrill} }

// DrumHub is the hub of a drum.
func DrumHub(d *parts.Drum) Hub { return Hub{d.Name, d.Bore, d.Diameter, d.CanDrill} }

// Joints lists the ways in which a hub can sit on a shaft under the brief's
// making rules, easiest first, at most one of each kind; or says why none does.
// A motor shaft is never made thicker or thinner, so the list is the same for
// it. Of several sleeves that fit the first by name stands for all: which there are enough
// of is for the stock to say, see SleevePacks.
func Joints(h Hub, shaft units.Millimetres, sleeves []parts.Sleeve, making brief.Making) ([]drive.Joint, *Refusal) {
	over := float64(h.Bore - shaft)
	joint := func(k drive.JointKind, s *parts.Sleeve) drive.Joint {
		return drive.Joint{Kind: k, Sleeve: s, Bore: h.Bore, Shaft: shaft}
	}
	tooSmall := func(why string) *Refusal {
		return refuse(Fit, -over/float64(shaft), func() string {
			return fmt.Sprintf("%s has a %s mm bore, too small for a %s mm shaft, %s", h.Name, figure(h.Bore), figure(shaft), why)
		})
	}
	switch {
	case -pushUnder-exact <= over && over <= exact:
		return []drive.Joint{joint(drive.PushFit, nil)}, nil
	case over > 0:
		var ways []drive.Joint
		if over <= glueOver+exact && making.Glue {
			ways = append(ways, joint(drive.Glued, nil))
		}
		for i := range sleeves {
			if SleevePacks(&sleeves[i], h.Bore, shaft) {
				ways = append(ways, joint(drive.Sleeved, &sleeves[i]))
				break
			}
		}
		if len(ways) > 0 {
			return ways, nil
		}
		return nil, refuse(Fit, over/float64(shaft), func() string {
			if over <= glueOver+exact {
				return fmt.Sprintf("%s has a %s mm bore, loose on a %s mm shaft, and the brief allows no glue", h.Name, figure(h.Bore), figure(shaft))
			}
			return fmt.Sprintf("%s has a %s mm bore, too loose on a %s mm shaft, and no sleeve packs it out", h.Name, figure(h.Bore), figure(shaft))
		})
	case !making.DrillOut:
		return nil, tooSmall("and the brief allows no drilling out")
	case !h.CanDrill:
		return nil, tooSmall("and it cannot be drilled out")
	case float64(h.Room) < float64(shaft)+2*drillWall:
		return nil, tooSmall(fmt.Sprintf("and drilled out it would keep less than %.0f mm of material round the hole", drillWall))
	}
	return []drive.Joint{joint(drive.DrilledOut, nil)}, nil
}

// SleevePacks tells whether a sleeve packs a shaft out to a bore.
func SleevePacks(s *parts.Sleeve, bore, shaft units.Millimetres) bool {
	inner, outer := float64(shaft-s.Inner), float64(s.Outer-bore)
	return -exact <= inner && inner <= sleeveUnder+exact && -exact <= outer && outer <= sleeveUnder+exact
}

// leastSeat is how many shaft diameters of a pulley sit on a motor's shaft at least
// (common practice for hubs: one and a half to two shaft diameters; from memory).
const leastSeat = 1.5

// ShaftSeat is how far a motor's shaft must reach into a pulley: to the far side of its
// groove, which lies in the middle of its width, so that the band pulls between the ends
// of what is held and cannot tilt it (judgement); and leastSeat shaft diameters, or all
// through a pulley that is narrower.
func ShaftSeat(m *parts.Motor, p *parts.Pulley) units.Millimetres {
	groove := (p.Width + min(p.GrooveWidth, p.Width)) / 2
	return max(groove, min(leastSeat*m.ShaftDiameter, p.Width))
}

// MotorAlong is a motor with a pulley on it as lanes are planned with it.
func MotorAlong(m *parts.Motor, p *parts.Pulley) layout.MotorAlong {
	return layout.MotorAlong{Body: m.BodyLength, Shaft: m.ShaftLength, Seat: ShaftSeat(m, p) - p.Width/2}
}

// ShaftReaches is the motor-shaft rule: the shaft reaches as far into the pulley on it as
// ShaftSeat says.
func ShaftReaches(m *parts.Motor, p *parts.Pulley) *Refusal {
	seat := ShaftSeat(m, p)
	if m.ShaftLength >= seat-exact {
		return nil
	}
	return refuse(Fit, float64(seat/m.ShaftLength)-1, func() string {
		is, needed := apart(m.ShaftLength, seat, 1)
		return fmt.Sprintf("the shaft of motor %s is %s mm long and must reach %s mm into %s, past its groove", m.Name, is, needed, p.Name)
	})
}
