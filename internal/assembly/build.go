// Package assembly is the building of a drive as a plan that is carried out: what
// there is to put together, the state of the work, the actions that change it with
// their conditions, and the planning of steps that lead from parts on the table to
// a model that turns, and back again for storing.
//
//	build.go   the parts of one drive and where each belongs
//	discs.go   pulleys that are made of discs
//	inside.go  what else a band goes round
//	frame.go   the frame's pieces, its outside size, its joints
//	spacers.go tubes and washers that fill the gaps along an axle
//	room.go    room for a vehicle's second axle and for the strips that join the sides
//	action.go  what can be done
//	state.go   how far the work is, and what each action asks of it
//	axles.go   the actions about axles, bands and what is on them
//	plan.go    the steps in order; Carry does them
//	store.go   taking apart again
//
// The rules are those of things on a table: a closed band gets onto a shaft over a
// free end only, a part onto an axle over a free end, an axle into a closed side
// only endways, a motor's shaft has one free end, and glue needs time.
package assembly

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"findrive/internal/certificate"
	"findrive/internal/units"
)

type mm = units.Millimetres

// Models, as certificates name them.
const (
	uprightRide = "ride on an upright axle"
	levelRide   = "ride on a level axle"
	vehicle     = "vehicle"
	lift        = "lift"
)

// Kind is what a part is.
type Kind string

// The kinds of parts.
const (
	Rod     Kind = "axle"
	Tube    Kind = "spacer tube"
	Washer  Kind = "washer"
	Pulley  Kind = "pulley"
	Sleeve  Kind = "sleeve"
	Loop    Kind = "band"
	Motor   Kind = "motor"
	Mount   Kind = "motor mount"
	Cells   Kind = "cells"
	Switch  Kind = "switch"
	Wire    Kind = "wire"
	Wheel   Kind = "wheel"
	Drum    Kind = "drum"
	Ride    Kind = "ride"
	Cord    Kind = "cord"
	Blocks  Kind = "tackle"
	Foot    Kind = "foot"
	Bearing Kind = "bearing"
	Piece   Kind = "frame piece"
	Disc    Kind = "disc" // of a pulley that is to be made
)

// Point is a place in the plane of the pulleys, from the frame's datum corner.
type Point struct{ X, Y units.Millimetres }

// Part is one thing of the kit.
type Part struct {
	Kind   Kind
	Name   string // of the part in the cupboard, or what it is
	Letter string // of a pulley
	Length units.Millimetres
	Width  units.Millimetres // of a piece of sheet; 0 for anything else
	// From and To are where it lies along its shaft when all is built, behind the
	// inside of the front side; Radius is how far it reaches from the shaft's
	// middle. All are 0 for what is on no shaft.
	From, To, Radius units.Millimetres
	// Joint is how a pulley, wheel or drum is held, as certificates name it.
	Joint  string
	Sleeve int  // the part that packs it out; -1 for none
	Free   bool // of the second axle of a vehicle: not in the certificate
	Adult  bool // of a disc: cutting it out is an adult's job
}

// Shaft is the motor's shaft or an axle with all that belongs on it.
type Shaft struct {
	Name             string
	At               Point
	Diameter, Length units.Millimetres
	Hole             units.Millimetres // 0 where nothing is drilled
	From, To         units.Millimetres // where it begins and ends behind the inside of the front
	Rod              int               // part; -1 for the motor's
	Along            []int             // parts between the sides, from the front
	Front, Back      []int             // parts outside the sides, from the side outwards
	Free             bool              // a vehicle's axle that is not driven
}

// Band is what goes round the two pulleys of a stage.
type Band struct {
	Loops          []int // parts: two where bands lie side by side
	Turns          int   // 2 for a band that is wound twice
	Crossed        bool
	Driver, Driven int // parts
	From, To       int // shafts
	Lane           units.Millimetres
	Inside         []Inside // what else passes through its loop
}

// Build is all that is to be put together.
type Build struct {
	Model   string
	Upright bool // axles stand upright, the front side on top
	Depth   units.Millimetres
	Side    units.Millimetres // thickness of a side
	Drilled bool
	Frame   Frame
	Parts   []Part
	Shafts  []Shaft // motor first, then the driven axles, then a vehicle's free one
	Stages  int
	Bands   []Band
	// What belongs to no axle: motor, mount, cells, switch, wires, cord, tackle,
	// feet, bearings; -1 or none where there are none.
	Motor, Mount int
	Electric     []int
	Lifting      []int // cord, then tackle
	Under        []int // feet
	Bearings     []int
	Made         []Made // pulleys that are to be made of discs
	BodyFrom     units.Millimetres
	BodyLength   units.Millimetres
	BodyWidth    units.Millimetres
	BodyHeight   units.Millimetres
	Rope         int // rope parts of the tackle; 0 without one
	// Guide is which way a cord leaves its drum that does not hang down, and so goes over a guide:
	// "up", "left" or "right"; else empty.
	Guide         string
	bandThickness []mm
}

// Of lists what a proposal is built from. The error, in plain words, is that the
// file does not hold a whole drive, or one without room for what holds it up.
func Of(b *certificate.Brief, p *certificate.Proposal) (*Build, error) {
	if len(p.Stages) == 0 || len(p.Axles) != len(p.Stages) || len(p.Positions) != len(p.Stages)+1 {
		return nil, errors.New("the drive has no stages, or not a place for each shaft")
	}
	f := &b.Frame
	o := &Build{Model: b.Model, Upright: b.Model == uprightRide, Depth: mm(f.Depth), Side: mm(max(f.Sheet, f.Strip)),
		Drilled: b.Making.DrillFrame, Stages: len(p.Stages),
		BodyFrom: mm(p.Lanes.BodyFront), BodyLength: mm(p.Motor.BodyLength), BodyWidth: mm(p.Motor.BodyWidth), BodyHeight: mm(p.Motor.BodyHeight)}
	if !(o.Depth > 0 && o.Depth <= largest && f.Length > 0 && mm(f.Length) <= largest && f.Height > 0 && mm(f.Height) <= largest && o.Side >= 0 && o.Side <= largest) {
		return nil, errors.New("the frame has no size, or one that nobody builds")
	}
	for _, r := range []*certificate.Round{p.Wheel, p.Drum} {
		if r != nil && !(r.Width > 0 && mm(r.Width) <= largest && r.Diameter > 0 && mm(r.Diameter) <= largest) {
			return nil, fmt.Errorf("%s has no size, or one that nobody builds", r.Name)
		}
	}
	if !(o.BodyFrom >= -largest && o.BodyFrom <= largest && o.BodyLength >= 0 && o.BodyLength <= largest) {
		return nil, errors.New("the motor has no place along the axles")
	}
	o.Motor = o.add(Part{Kind: Motor, Name: p.Motor.Name})
	o.Mount = o.add(Part{Kind: Mount, Name: "motor clip, or block and strap"})
	if err := o.addShafts(p); err != nil {
		return nil, err
	}
	o.addBands(p)
	o.enclose()
	o.addOutput(b, p)
	if b.Model == vehicle && p.Wheel != nil {
		if err := o.addFreeAxle(b, p); err != nil {
			return nil, err
		}
	}
	for i := 1; i < len(o.Shafts); i++ {
		if err := o.fill(i); err != nil {
			return nil, err
		}
	}
	o.frame(b)
	o.Electric = append(o.Electric, o.add(Part{Kind: Cells, Name: p.Cells.Name}), o.add(Part{Kind: Switch, Name: "switch"}))
	for range 3 {
		o.Electric = append(o.Electric, o.add(Part{Kind: Wire, Name: "wire with bare ends, 150 mm"}))
	}
	return o, nil
}

// largest is a frame's side or a rod that is still built.
const largest mm = 3000

func (o *Build) add(p Part) int {
	if p.Joint == sleeved && p.Sleeve < 0 {
		p.Joint = pushed
	}
	if p.Joint == "" {
		p.Sleeve = -1
	}
	o.Parts = append(o.Parts, p)
	return len(o.Parts) - 1
}

// The joints, as certificates name them.
const (
	pushed  = "push fit"
	glued   = "drop of glue"
	sleeved = "sleeve"
	opened  = "drill out"
)

// held adds a part that sits on a shaft by a joint, with its sleeve.
func (o *Build) held(p Part, j *certificate.Joint) int {
	p.Joint, p.Sleeve = pushed, -1
	if j != nil {
		p.Joint = j.Kind
		if j.Kind == sleeved && j.Sleeve != nil {
			p.Sleeve = o.add(Part{Kind: Sleeve, Name: j.Sleeve.Name, Length: mm(j.Sleeve.Length), Free: p.Free})
		}
	}
	return o.add(p)
}

func (o *Build) addShafts(p *certificate.Proposal) error {
	for i, at := range p.Positions {
		s := Shaft{At: Point{mm(at.X), mm(at.Y)}, Rod: -1}
		if i == 0 {
			s.Name, s.Diameter, s.Length = "motor shaft", mm(p.Motor.ShaftDiameter), mm(p.Motor.ShaftLength)
			s.From = o.BodyFrom + o.BodyLength
			s.To = s.From + s.Length
		} else {
			a := &p.Axles[i-1]
			s.Name, s.Diameter, s.Length = fmt.Sprintf("axle %d", i), mm(a.Diameter), mm(a.Length)
			if a.Hole != nil {
				s.Hole = mm(*a.Hole)
			}
			if !(s.Length > o.Depth+2*o.Side && s.Length <= largest && s.Diameter > 0) {
				return fmt.Errorf("axle %d does not reach through both sides", i)
			}
			s.From, s.To = o.ends(s.Length, i == o.Stages, p.Wheel != nil)
			s.Rod = o.add(Part{Kind: Rod, Name: a.Stock, Length: s.Length, From: s.From, To: s.To, Radius: s.Diameter / 2})
		}
		o.Shafts = append(o.Shafts, s)
	}
	for i := range p.Stages {
		st := &p.Stages[i]
		var ends [2]int
		for k, q := range []*certificate.Pulley{&st.Driver, &st.Driven} {
			lane, half := mm(st.Lane), mm(q.Width)/2
			if !(half > 0 && half < largest && q.Outside > 0 && mm(q.Outside) < largest) || lane < 0 || lane > largest {
				return fmt.Errorf("a pulley of stage %d has no size", i+1)
			}
			part := Part{Kind: Pulley, Name: q.Name, Letter: letter(2*i + k), Length: 2 * half, From: lane - half, To: lane + half, Radius: mm(q.Outside) / 2}
			ends[k] = o.held(part, &q.Joint)
			if q.Made != nil {
				o.makeOf(ends[k], q.Made)
			}
			o.Shafts[i+k].Along = append(o.Shafts[i+k].Along, ends[k])
		}
		o.Bands = append(o.Bands, Band{Driver: ends[0], Driven: ends[1], From: i, To: i + 1, Turns: 1, Lane: mm(st.Lane)})
	}
	for i := range o.Shafts {
		slices.SortStableFunc(o.Shafts[i].Along, func(a, b int) int { return cmp.Compare(o.Parts[a].From, o.Parts[b].From) })
	}
	return nil
}

// letter of a pulley in driving order: A is on the motor. A drive has no more than
// 26 (drive.MaxStages); a file altered by hand begins again.
func letter(k int) string { return string(rune('A' + k%26)) }

// usualEnd is how far an axle stands out of the frame that carries pulleys only
// (docs/certificate.md, length_mm).
const usualEnd mm = 5

// ends is where an axle begins and ends, behind the inside of the front. Wheels are
// on both ends; a drum or a ride is on the front end, which is then longer.
func (o *Build) ends(length mm, output, wheels bool) (front, back mm) {
	over := length - o.Depth
	behind := over / 2
	if output && !wheels {
		behind = min(behind, o.Side+usualEnd)
	}
	return behind - over, o.Depth + behind
}

func (o *Build) addBands(p *certificate.Proposal) {
	for i := range p.Stages {
		st, b := &p.Stages[i], &o.Bands[i]
		b.Crossed = st.Crossed
		count := 1
		switch st.Use {
		case "looped twice":
			b.Turns = 2
		case "two side by side":
			count = 2
		}
		for range count {
			b.Loops = append(b.Loops, o.add(Part{Kind: Loop, Name: st.Band.Name, Length: mm(st.Band.FlatLength)}))
		}
		o.bandThickness = append(o.bandThickness, mm(st.Band.Thickness))
	}
}

// rideHold is how much of the output axle a ride is pushed onto: of the 15 mm that the axle is
// longer (docs/certificate.md, length_mm) 3 mm keep the ride clear of the ends of the other
// axles, which stand out and have play. rideHub is how large it is drawn.
const (
	rideHold mm = 12
	rideHub  mm = 15
)

// addOutput adds what the last axle carries outside the frame.
func (o *Build) addOutput(b *certificate.Brief, p *certificate.Proposal) {
	last := o.Stages
	s := &o.Shafts[last]
	switch {
	case p.Wheel != nil:
		o.wheels(last, p)
	case p.Drum != nil:
		w := mm(p.Drum.Width)
		s.Front = append(s.Front, o.held(Part{Kind: Drum, Name: p.Drum.Name, Length: w, From: s.From, To: s.From + w, Radius: mm(p.Drum.Diameter) / 2}, p.OutputJoint))
	case b.Model == uprightRide || b.Model == levelRide:
		s.Front = append(s.Front, o.held(Part{Kind: Ride, Name: "ride", Length: rideHold, From: s.From, To: s.From + rideHold, Radius: rideHub}, nil))
	}
	if b.Model == lift {
		if way := b.Load.CordLeaves; way == "up" || way == "left" || way == "right" {
			o.Guide = way
		}
		name, parts := "cord with a hook", 1
		if w := p.Tackle; w != nil && w.Parts > 1 {
			name, parts = "cord", w.Parts // the hook is the block's
		}
		var across mm
		if p.Drum != nil {
			across = mm(p.Drum.Diameter)
		}
		long := CordLength(parts, across, o.Guide != "")
		o.Lifting = append(o.Lifting, o.add(Part{Kind: Cord, Name: fmt.Sprintf("%s, %.0f mm or more", name, float64(long)), Length: long}))
		if parts > 1 {
			o.Rope = parts
			o.Lifting = append(o.Lifting, o.add(Part{Kind: Blocks, Name: tackleName(parts)}))
		}
	}
}

// Lifted is the way over which the load of a crane is timed.
const Lifted mm = 300

// What a crane's cord takes besides (judgement): each part of it above the load when that is
// up, the turns that stay on the drum so that the knot is not pulled at, and both knots.
const (
	cordAtTop   mm = 100
	cordKnots   mm = 200
	cordInWhole mm = 100 // cut in whole decimetres, rounded up
	turnsLeft      = 3
)

// CordLength is how much cord a crane takes at the least: for each part that carries the load
// the way that it rises and what is left at the top, as much again to a guide, three turns on
// the drum, and the knots.
func CordLength(parts int, drum mm, guide bool) mm {
	if guide {
		parts++
	}
	length := mm(parts)*(Lifted+cordAtTop) + turnsLeft*math.Pi*drum + cordKnots
	return cordInWhole * mm(math.Ceil(float64(length/cordInWhole)-1e-9))
}

// TacklePulleys are how many pulleys the two blocks of a tackle have between a drum and
// the load, when so many parts of the cord carry it: the cord runs from the drum, which
// stands where another pulley of the upper block would, and ends at the upper block, or at
// the lower one if their number is odd.
func TacklePulleys(parts int) (lower, upper int) { return parts / 2, (parts - 1) / 2 }

// tackleName is what has to be taken out for a tackle.
func tackleName(parts int) string {
	lower, upper := TacklePulleys(parts)
	words := fmt.Sprintf("tackle of %d rope parts: a hook's block of %s", parts, pulleys(lower))
	if upper > 0 {
		words += fmt.Sprintf(" and an upper block of %s", pulleys(upper))
	}
	return words
}

func pulleys(n int) string {
	if n == 1 {
		return "1 pulley"
	}
	return fmt.Sprintf("%d pulleys", n)
}

// wheels puts a wheel on both ends of an axle.
func (o *Build) wheels(shaft int, p *certificate.Proposal) {
	w, r := mm(p.Wheel.Width), mm(p.Wheel.Diameter)/2
	s := &o.Shafts[shaft]
	part := Part{Kind: Wheel, Name: p.Wheel.Name, Length: w, Radius: r, Free: s.Free}
	part.From, part.To = s.From, s.From+w
	s.Front = append(s.Front, o.held(part, p.OutputJoint))
	part.From, part.To = s.To-w, s.To
	s.Back = append(s.Back, o.held(part, p.OutputJoint))
}

// Distance between two places.
func (p Point) distance(q Point) mm {
	return mm(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
}
