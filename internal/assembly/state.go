package assembly

import (
	"fmt"
	"slices"
)

// Sides is how far the frame is.
type Sides int

// The states of the frame.
const (
	InPieces Sides = iota
	Apart
	Clamped
	Joined
)

// hold is how far an axle is in the frame.
type hold int

const (
	out      hold = iota
	entering      // through the front side, its other end free between the sides
	held          // in both sides
)

// State is how far the building is. The zero value is no state: begin with Start.
type State struct {
	build   *Build
	sawn    bool
	sides   Sides
	drilled bool
	wet     []int // parts whose glue is not dry yet; a frame piece stands for the frame
	dry     []int // parts that were glued and are dry
	open    []int // pulleys whose bore has been opened
	packed  []int // sleeves that are in a bore
	cut     []int // discs that are cut out
	bored   []int // and have their hole
	trued   []int // pulleys that are made and run true
	fitted  []int // parts that are neither on a shaft nor on the table
	shafts  []onShaft
	loops   map[int]*ring
}

// onShaft is a shaft with what is on it.
type onShaft struct {
	hold        hold
	on          []int // parts and loops between the sides, from the front
	front, back []int // outside, from the side outwards
}

// ring is a band as a closed loop.
type ring struct {
	over   []int  // shafts it goes round
	other  []bool // of each, whether it is on the other side of the crossing than the first
	turns  int
	seated bool // over both pulleys
}

// Start is all parts on the table.
func Start(b *Build) *State {
	s := &State{build: b, shafts: make([]onShaft, len(b.Shafts)), loops: map[int]*ring{}}
	for i := range b.Bands {
		for _, l := range b.Bands[i].Loops {
			s.loops[l] = &ring{}
		}
	}
	return s
}

// Loose lists the parts that are on the table.
func (s *State) Loose() []int {
	var out []int
	for k := range s.build.Parts {
		if s.onTable(k) {
			out = append(out, k)
		}
	}
	return out
}

func (s *State) onTable(part int) bool {
	if slices.Contains(s.fitted, part) || slices.Contains(s.packed, part) {
		return false
	}
	if l := s.loops[part]; l != nil {
		return len(l.over) == 0
	}
	for i := range s.shafts {
		sh := &s.shafts[i]
		if slices.Contains(sh.on, part) || slices.Contains(sh.front, part) || slices.Contains(sh.back, part) || s.build.Shafts[i].Rod == part && sh.hold != out {
			return false
		}
	}
	return true
}

// name of a part in a message.
func (s *State) name(part int) string {
	p := &s.build.Parts[part]
	switch {
	case p.Kind == Disc:
		return "a disc of pulley " + p.Letter
	case p.Letter != "":
		return "pulley " + p.Letter
	}
	return string(p.Kind) + " " + p.Name
}

// Do carries an action out. The error says, in plain words, why it cannot be done as
// things stand; the state is then as it was.
func (s *State) Do(a Action) error {
	if a.Part < 0 || a.Part >= len(s.build.Parts) || a.Shaft < 0 || a.Shaft >= len(s.shafts) {
		return fmt.Errorf("%s: there is no such part or shaft", a.Verb)
	}
	if err := s.do(a); err != nil {
		return fmt.Errorf("%s: %w", a.Verb, err)
	}
	return nil
}

func (s *State) do(a Action) error {
	switch a.Verb {
	case Saw:
		s.sawn = true
	case MakeSides, Clamp, Drill, Unclamp, Bear, Join:
		return s.frame(a)
	case Dry:
		s.dry, s.wet = append(s.dry, s.wet...), nil
	case CutOut, Bore, Stack, True:
		return s.discs(a)
	case OpenBore, PackOut, GlueJoint:
		return s.joint(a)
	case Enter, Through, Withdraw, Retreat:
		return s.rod(a)
	case Thread, Unthread:
		return s.thread(a)
	case Hang, Unhang:
		return s.hang(a)
	case Seat, Unseat:
		return s.seat(a)
	case Cap, Uncap:
		return s.cap(a)
	case Attach, Detach:
		return s.attach(a)
	default:
		return fmt.Errorf("nobody knows how to do that")
	}
	return nil
}

// frameGlue stands for the frame among what is wet.
func (s *State) frameGlue() int { return s.build.Frame.Pieces[0] }

func (s *State) frame(a Action) error {
	need := func(at Sides, words string) error {
		if s.sides != at {
			return fmt.Errorf("the sides must be %s for that", words)
		}
		if s.sides > InPieces && slices.Contains(s.wet, s.frameGlue()) {
			return fmt.Errorf("the frame's glue is wet")
		}
		return nil
	}
	switch a.Verb {
	case MakeSides:
		if err := need(InPieces, "in pieces"); err != nil {
			return err
		}
		if !s.sawn {
			return fmt.Errorf("nothing has been sawn yet")
		}
		s.sides = Apart
		for _, k := range s.build.Frame.Pieces {
			if !s.joining(k) {
				s.fitted = append(s.fitted, k)
			}
		}
		if s.build.Frame.OfStrip {
			s.wet = append(s.wet, s.frameGlue())
		}
	case Clamp:
		if err := need(Apart, "apart"); err != nil {
			return err
		}
		s.sides = Clamped
	case Drill:
		if !s.build.Drilled {
			return fmt.Errorf("this frame must not be drilled")
		}
		if err := need(Clamped, "clamped together"); err != nil {
			return err
		}
		s.drilled = true
	case Unclamp:
		if err := need(Clamped, "clamped together"); err != nil {
			return err
		}
		s.sides = Apart
	case Bear:
		if err := need(Apart, "apart"); err != nil {
			return err
		}
		if !slices.Contains(s.build.Bearings, a.Part) || !s.onTable(a.Part) {
			return fmt.Errorf("%s is no bearing that is on the table", s.name(a.Part))
		}
		s.fitted = append(s.fitted, a.Part)
		s.wet = append(s.wet, a.Part)
	case Join:
		if err := need(Apart, "apart"); err != nil {
			return err
		}
		if !s.carries() {
			return fmt.Errorf("the sides have nothing yet that carries the axles, and once joined they cannot be drilled together")
		}
		s.sides = Joined
		for _, k := range s.build.Frame.Pieces {
			if s.joining(k) {
				s.fitted = append(s.fitted, k)
			}
		}
		s.wet = append(s.wet, s.frameGlue())
	}
	return nil
}

// joining reports whether a piece of the frame is one that joins the sides.
func (s *State) joining(part int) bool { return s.build.Parts[part].Name == joinerName }

// carries reports whether the sides have holes, or bearings, for all axles.
func (s *State) carries() bool {
	if s.build.Drilled {
		return s.drilled
	}
	for _, k := range s.build.Bearings {
		if !slices.Contains(s.fitted, k) {
			return false
		}
	}
	return true
}

// stands reports whether the frame is joined and dry.
func (s *State) stands() error {
	if s.sides != Joined {
		return fmt.Errorf("the sides are not joined yet")
	}
	if slices.Contains(s.wet, s.frameGlue()) {
		return fmt.Errorf("the frame's glue is wet")
	}
	return nil
}

func (s *State) attach(a Action) error {
	b := s.build
	if a.Verb == Detach {
		at := slices.Index(s.fitted, a.Part)
		if at < 0 {
			return fmt.Errorf("%s is not fitted", s.name(a.Part))
		}
		if err := s.needed(a.Part); err != nil {
			return err
		}
		s.fitted = slices.Delete(s.fitted, at, at+1)
		return nil
	}
	if !s.onTable(a.Part) {
		return fmt.Errorf("%s is not on the table", s.name(a.Part))
	}
	if err := s.stands(); err != nil {
		return err
	}
	after := func(part int) error {
		if part >= 0 && s.onTable(part) {
			return fmt.Errorf("%s must be in its place first", s.name(part))
		}
		return nil
	}
	var err error
	switch b.Parts[a.Part].Kind {
	case Motor:
		err = after(b.Mount)
	case Mount, Foot:
	case Cells, Switch, Wire:
		if len(s.wet) > 0 {
			return fmt.Errorf("some glue is wet")
		}
		err = after(b.Motor)
	case Cord:
		drum := slices.IndexFunc(b.Parts, func(p Part) bool { return p.Kind == Drum })
		err = after(drum)
	case Blocks:
		err = after(b.Lifting[0])
	default:
		return fmt.Errorf("%s is not fitted like that", s.name(a.Part))
	}
	if err == nil {
		s.fitted = append(s.fitted, a.Part)
	}
	return err
}

// needed refuses to take off what something else still hangs on.
func (s *State) needed(part int) error {
	b := s.build
	first := func(list ...int) error {
		for _, k := range list {
			if !s.onTable(k) {
				return fmt.Errorf("%s must come off first", s.name(k))
			}
		}
		return nil
	}
	switch b.Parts[part].Kind {
	case Motor:
		for k, l := range s.loops {
			if slices.Contains(l.over, 0) && b.bandOf(k).From == 0 {
				return fmt.Errorf("%s is still round its shaft", s.name(k))
			}
		}
		return first(b.Electric...)
	case Mount:
		return first(b.Motor)
	case Cord:
		return first(b.Lifting[1:]...)
	case Piece, Bearing:
		return fmt.Errorf("%s is glued", s.name(part))
	}
	return nil
}

// Stretched lists the bands that are on their pulleys.
func (s *State) Stretched() []int {
	var out []int
	for k := range s.build.Parts {
		if l := s.loops[k]; l != nil && l.seated {
			out = append(out, k)
		}
	}
	return out
}

// Last is what is next to a shaft's free end between the sides; ok is false if nothing
// is on it there.
func (s *State) Last(shaft int) (part int, ok bool) { return last(s.shafts[shaft].on) }

// Outermost is what is furthest out on an end of a shaft outside the frame.
func (s *State) Outermost(shaft int, back bool) (part int, ok bool) {
	if back {
		return last(s.shafts[shaft].back)
	}
	return last(s.shafts[shaft].front)
}

func last(list []int) (int, bool) {
	if len(list) == 0 {
		return 0, false
	}
	return list[len(list)-1], true
}
