package views

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"findrive/internal/units"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
)

// Drive is one proposal made ready to be drawn.
type Drive struct{ scene }

// Of makes a proposal ready to be drawn, with the brief it answers and what is built from
// it: sides, spacers and a vehicle's second axle are drawn as built. A drive that
// cannot be drawn, since its pulleys stand in one another or something has no
// size, is an error; the program proposes none, but a saved file may hold
// anything.
func Of(b *certificate.Brief, p *certificate.Proposal, built *assembly.Build) (*Drive, error) {
	d := &Drive{scene{upright: b.Model == "ride on an upright axle", frame: frameOf(b), forgives: units.HalfDown(mm(p.Forgives)),
		fromBehind: b.Direction.SeenFrom == "back" || b.Direction.SeenFrom == "below"}}
	if len(p.Stages) == 0 || len(p.Axles) != len(p.Stages) || len(p.Positions) != len(p.Stages)+1 {
		return nil, errors.New("the drive has no stages, or not a place for each shaft")
	}
	if max(d.frame.length, d.frame.height, d.frame.depth) > largest {
		return nil, fmt.Errorf("the frame is larger than %s mm, too large to be drawn", number(largest))
	}
	m := &p.Motor
	if !(m.ShaftDiameter > 0 && m.BodyWidth > 0 && m.BodyHeight > 0 && m.BodyLength >= 0) || mm(max(m.BodyWidth, m.BodyHeight, m.BodyLength)) > largest {
		return nil, errors.New("the motor has no size")
	}
	d.body = body{mm(m.BodyWidth), mm(m.BodyHeight), mm(p.Lanes.BodyFront), mm(m.BodyLength)}
	for i, at := range p.Positions {
		s := shaft{name: at.Shaft, at: place{mm(at.X), mm(at.Y)}}
		if i == 0 {
			s.radius, s.length, s.turns = mm(m.ShaftDiameter)/2, mm(m.ShaftLength), senseOf(m.Turns)
		} else {
			a := &p.Axles[i-1]
			s.radius, s.length, s.turns = mm(a.Diameter)/2, mm(a.Length), senseOf(p.Stages[i-1].Driven.Turns)
			if a.Hole != nil {
				s.hole = mm(*a.Hole)
			}
		}
		d.shafts = append(d.shafts, s)
	}
	for i := range p.Stages {
		if err := d.addStage(i, &p.Stages[i]); err != nil {
			return nil, err
		}
	}
	for i := range d.shafts {
		slices.SortStableFunc(d.shafts[i].pulleys, func(a, b int) int { return cmp.Compare(d.pulleys[a].lane, d.pulleys[b].lane) })
	}
	if w := p.Wheel; w != nil {
		d.output = &round{wheelKind, mm(w.Diameter) / 2, mm(w.Width)}
	}
	if w := p.Drum; w != nil {
		d.output = &round{drumKind, mm(w.Diameter) / 2, mm(w.Width)}
	}
	d.build(built)
	return d, nil
}

// build adds what a proposal leaves open and the building decides.
func (d *Drive) build(built *assembly.Build) {
	f := &built.Frame
	d.frame.over = overhang{left: f.Left, below: f.Below, right: f.Length - f.Left - d.frame.length, above: f.Height - f.Below - d.frame.height}
	d.frame.joiner = f.Strip
	for _, at := range f.Joiners {
		d.frame.joiners = append(d.frame.joiners, place{at.X, at.Y})
	}
	for i := range built.Shafts {
		sh := &built.Shafts[i]
		switch {
		case sh.Free:
			d.freeAxle = &shaft{name: sh.Name, at: place{sh.At.X, sh.At.Y}, radius: sh.Diameter / 2, hole: sh.Hole, length: sh.Length, rim: sh.Diameter / 2}
		case i > 0:
			d.shafts[i].spacers = spacersOf(built, sh)
		}
	}
}

// spacersOf are tubes, and washers that lie on one another as one, between the sides.
func spacersOf(built *assembly.Build, sh *assembly.Shaft) []spacer {
	var out []spacer
	washers := false
	for _, k := range sh.Along {
		p := &built.Parts[k]
		switch {
		case p.Kind == assembly.Pulley:
			washers = false
		case p.Kind == assembly.Washer && washers:
			out[len(out)-1].to = p.To
		default:
			out, washers = append(out, spacer{p.From, p.To}), p.Kind == assembly.Washer
		}
	}
	return out
}

// largest is a side of a frame that is still drawn.
const largest mm = 3000

func frameOf(b *certificate.Brief) frame {
	f := &b.Frame
	out := frame{length: mm(f.Length), height: mm(f.Height), depth: mm(f.Depth), side: mm(max(f.Sheet, f.Strip)), drilled: b.Making.DrillFrame}
	if len(f.Rails) > 0 {
		out.strip = mm(f.Strip)
	}
	for _, y := range f.Rails {
		out.rails = append(out.rails, mm(y))
	}
	if f.Ground != nil {
		g := mm(*f.Ground)
		out.ground = &g
	}
	return out
}

func senseOf(words string) sense {
	switch words {
	case "clockwise":
		return clockwise
	case "anticlockwise":
		return anticlockwise
	}
	return still
}

// Letters of the pulleys of a stage, numbered from 0: A is on the motor.
func Letters(stage int) (driver, driven string) { return letterOf(2 * stage), letterOf(2*stage + 1) }

// letterOf is the letter of a pulley in driving order.
func letterOf(k int) string {
	if k < 26 {
		return string(rune('A' + k))
	}
	return letterOf(k/26-1) + letterOf(k%26)
}

func (d *Drive) addStage(i int, s *certificate.Stage) error {
	for j, q := range []*certificate.Pulley{&s.Driver, &s.Driven} {
		k, sh := len(d.pulleys), &d.shafts[i+j]
		p := pulley{letter: letterOf(k), shaft: i + j, outside: mm(q.Outside) / 2, floor: mm(q.GrooveFloor) / 2,
			width: mm(q.Width), groove: mm(q.GrooveWidth), lane: mm(s.Lane)}
		if !(p.outside > 0 && p.floor > 0 && p.width > 0) || p.outside > largest {
			return fmt.Errorf("pulley %s has no size", p.letter)
		}
		d.pulleys = append(d.pulleys, p)
		sh.pulleys, sh.rim = append(sh.pulleys, k), max(sh.rim, p.outside)
	}
	from, to := d.shafts[i].at, d.shafts[i+1].at
	b := band{number: i + 1, from: 2 * i, to: 2*i + 1, crossed: s.Crossed,
		fromPitch: mm(s.Driver.Pitch) / 2, toPitch: mm(s.Driven.Pitch) / 2, thickness: mm(s.Driver.Pitch - s.Driver.GrooveFloor),
		width: mm(s.Band.Width) * mm(max(1, s.Strands)), lane: mm(s.Lane),
		centres: mm(math.Hypot(float64(to.x-from.x), float64(to.y-from.y)))}
	least := mm(math.Abs(float64(b.fromPitch - b.toPitch)))
	if b.crossed {
		least = b.fromPitch + b.toPitch
	}
	if !(b.fromPitch > 0 && b.toPitch > 0 && b.centres > least+0.1) {
		return fmt.Errorf("pulleys %s and %s stand in one another, so no band runs between them", letterOf(b.from), letterOf(b.to))
	}
	d.bands = append(d.bands, b)
	return nil
}
