package assembly

import (
	"fmt"
	"slices"
)

// joint are the actions that make a part ready for its shaft, and glue.
func (s *State) joint(a Action) error {
	p := &s.build.Parts[a.Part]
	switch a.Verb {
	case OpenBore:
		if p.Joint != opened || !s.onTable(a.Part) {
			return fmt.Errorf("%s is not on the table to be opened", s.name(a.Part))
		}
		s.open = append(s.open, a.Part)
	case PackOut:
		if p.Sleeve < 0 || !s.onTable(a.Part) || !s.onTable(p.Sleeve) {
			return fmt.Errorf("%s and its sleeve are not both on the table", s.name(a.Part))
		}
		s.packed = append(s.packed, p.Sleeve)
	case GlueJoint:
		if p.Joint != glued {
			return fmt.Errorf("%s needs no glue", s.name(a.Part))
		}
		if s.onTable(a.Part) {
			return fmt.Errorf("%s is not on its shaft yet", s.name(a.Part))
		}
		if slices.Contains(s.wet, a.Part) || slices.Contains(s.dry, a.Part) {
			return fmt.Errorf("%s has its glue", s.name(a.Part))
		}
		s.wet = append(s.wet, a.Part)
	}
	return nil
}

// ready reports whether a part can be pushed on its shaft.
func (s *State) ready(part int) error {
	p := &s.build.Parts[part]
	switch {
	case !s.onTable(part):
		return fmt.Errorf("%s is not on the table", s.name(part))
	case s.build.isMade(part) && !slices.Contains(s.trued, part):
		return fmt.Errorf("%s has not been made yet", s.name(part))
	case p.Joint == opened && !slices.Contains(s.open, part):
		return fmt.Errorf("the bore of %s has not been opened", s.name(part))
	case p.Sleeve >= 0 && !slices.Contains(s.packed, p.Sleeve):
		return fmt.Errorf("%s has no sleeve yet", s.name(part))
	case p.Kind == Tube && !s.sawn:
		return fmt.Errorf("the tube has not been cut")
	}
	return nil
}

// stuck reports whether glue, wet or dry, holds a part.
func (s *State) stuck(part int) error {
	if slices.Contains(s.wet, part) || slices.Contains(s.dry, part) {
		return fmt.Errorf("%s is glued", s.name(part))
	}
	return nil
}

// freeEnd reports whether a shaft has an end over which things get on it between the
// sides: an axle that is not in both of them yet; always a motor that is fixed or on
// the table.
func (s *State) freeEnd(shaft int) error {
	if shaft == 0 {
		return nil
	}
	switch s.shafts[shaft].hold {
	case out:
		return fmt.Errorf("%s is not in the frame yet", s.build.Shafts[shaft].Name)
	case held:
		return fmt.Errorf("%s is held at both ends, so nothing gets onto it", s.build.Shafts[shaft].Name)
	}
	return nil
}

func (s *State) rod(a Action) error {
	sh, plan := &s.shafts[a.Shaft], &s.build.Shafts[a.Shaft]
	if plan.Rod < 0 {
		return fmt.Errorf("the motor's shaft is part of the motor")
	}
	if err := s.stands(); err != nil {
		return err
	}
	at := func(h hold, words string) error {
		if sh.hold != h {
			return fmt.Errorf("%s is not %s", plan.Name, words)
		}
		return nil
	}
	switch a.Verb {
	case Enter:
		if !s.sawn {
			return fmt.Errorf("%s has not been sawn", plan.Name)
		}
		if err := at(out, "on the table"); err != nil {
			return err
		}
		if len(sh.on)+len(sh.front)+len(sh.back) > 0 {
			return fmt.Errorf("what is on it does not go through the hole")
		}
		sh.hold = entering
	case Through:
		if err := at(entering, "on its way"); err != nil {
			return err
		}
		if long := s.stack(sh.on); long > s.build.Depth+noise {
			return fmt.Errorf("what is on %s is %.1f mm long, and between the sides are %.1f mm", plan.Name, long, s.build.Depth)
		}
		sh.hold = held
	case Retreat:
		if err := at(held, "in both sides"); err != nil {
			return err
		}
		if len(sh.back) > 0 {
			return fmt.Errorf("%s is on its other end", s.name(sh.back[0]))
		}
		for _, k := range sh.on {
			if err := s.stuck(k); err != nil {
				return err
			}
		}
		sh.hold = entering
	case Withdraw:
		if err := at(entering, "through the front side alone"); err != nil {
			return err
		}
		if len(sh.on) > 0 {
			return fmt.Errorf("%s is still on it", s.name(sh.on[len(sh.on)-1]))
		}
		sh.hold = out // what is on its front end comes out with it
	}
	return nil
}

// stack is how long parts on a shaft are together; loops take no room.
func (s *State) stack(on []int) mm {
	long := mm(0)
	for _, k := range on {
		if s.build.Parts[k].Kind != Loop {
			long += s.build.Parts[k].Length
		}
	}
	return long
}

func (s *State) thread(a Action) error {
	sh := &s.shafts[a.Shaft]
	if err := s.freeEnd(a.Shaft); err != nil {
		return err
	}
	if a.Verb == Thread {
		if s.loops[a.Part] != nil {
			return fmt.Errorf("a band is hung and not threaded")
		}
		if err := s.ready(a.Part); err != nil {
			return err
		}
		sh.on = append(sh.on, a.Part)
		return nil
	}
	if n := len(sh.on); n == 0 || sh.on[n-1] != a.Part {
		return fmt.Errorf("%s is not the last on %s", s.name(a.Part), s.build.Shafts[a.Shaft].Name)
	}
	if err := s.stuck(a.Part); err != nil {
		return err
	}
	sh.on = sh.on[:len(sh.on)-1]
	return nil
}

func (s *State) hang(a Action) error {
	sh, l := &s.shafts[a.Shaft], s.loops[a.Part]
	if l == nil {
		return fmt.Errorf("%s is no band", s.name(a.Part))
	}
	// Round the motor's body and not its shaft: the motor is passed through the band.
	body := a.Shaft == 0 && s.build.bandOf(a.Part).From != 0
	switch {
	case body && !s.onTable(s.build.Motor):
		return fmt.Errorf("the motor is fixed, so that no band gets round it")
	case !body && a.Shaft == 0 && s.onTable(s.build.Motor):
		return fmt.Errorf("the motor is not fixed, so the band would pull it away")
	}
	if err := s.freeEnd(a.Shaft); err != nil {
		return err
	}
	if a.Verb == Hang {
		switch {
		case slices.Contains(l.over, a.Shaft):
			return fmt.Errorf("the band is round %s", s.build.Shafts[a.Shaft].Name)
		case a.Turns < 1 || a.Turns > 2:
			return fmt.Errorf("a band goes round once or twice")
		case len(l.over) > 0 && a.Turns != l.turns:
			return fmt.Errorf("the band is wound %d times round the other shaft", l.turns)
		case l.seated:
			return fmt.Errorf("the band is on its pulleys")
		}
		l.over, l.other, l.turns = append(l.over, a.Shaft), append(l.other, a.Crossed && len(l.over) > 0), a.Turns
		if !body {
			sh.on = append(sh.on, a.Part)
		}
		return nil
	}
	at := slices.Index(l.over, a.Shaft)
	switch n := len(sh.on); {
	case at < 0:
		return fmt.Errorf("the band is not round %s", s.build.Shafts[a.Shaft].Name)
	case l.seated:
		return fmt.Errorf("the band is still on its pulleys")
	case !body && (n == 0 || sh.on[n-1] != a.Part):
		return fmt.Errorf("something else is between the band and the free end")
	case !body:
		sh.on = sh.on[:n-1]
	}
	l.over, l.other = slices.Delete(l.over, at, at+1), slices.Delete(l.other, at, at+1)
	return nil
}

// bandOf is the band that a loop is of.
func (b *Build) bandOf(loop int) *Band {
	for i := range b.Bands {
		if slices.Contains(b.Bands[i].Loops, loop) {
			return &b.Bands[i]
		}
	}
	return nil
}

// inPlane is how far the two grooves of a stage may be out of line, with the axles
// pushed to the front (common practice: about the width of a band).
const inPlane mm = 2.5

func (s *State) seat(a Action) error {
	l := s.loops[a.Part]
	if l == nil {
		return fmt.Errorf("%s is no band", s.name(a.Part))
	}
	if a.Verb == Unseat {
		if !l.seated {
			return fmt.Errorf("the band is on no pulleys")
		}
		l.seated = false
		return nil
	}
	band := s.build.bandOf(a.Part)
	var middles [2]mm
	for k, end := range []struct{ shaft, pulley int }{{band.From, band.Driver}, {band.To, band.Driven}} {
		sh, name := &s.shafts[end.shaft], s.build.Shafts[end.shaft].Name
		switch {
		case !slices.Contains(l.over, end.shaft):
			return fmt.Errorf("the band is not round %s", name)
		case end.shaft > 0 && sh.hold != held:
			return fmt.Errorf("%s is not held at both ends yet", name)
		case slices.Contains(s.wet, end.pulley):
			return fmt.Errorf("the glue of %s is wet", s.name(end.pulley))
		case s.build.Parts[end.pulley].Joint == glued && !slices.Contains(s.dry, end.pulley):
			return fmt.Errorf("%s has no glue yet", s.name(end.pulley))
		}
		p, q := slices.Index(sh.on, end.pulley), slices.Index(sh.on, a.Part)
		if p < 0 {
			return fmt.Errorf("%s is not on %s", s.name(end.pulley), name)
		}
		for _, k := range sh.on[min(p, q)+1 : max(p, q)] {
			if s.loops[k] == nil {
				return fmt.Errorf("%s is between the band and %s", s.name(k), s.name(end.pulley))
			}
		}
		if end.shaft == 0 {
			middles[k] = (s.build.Parts[end.pulley].From + s.build.Parts[end.pulley].To) / 2
		} else {
			middles[k] = s.stack(sh.on[:p]) + s.build.Parts[end.pulley].Length/2
		}
	}
	if err := s.round(a.Part, band, l); err != nil {
		return err
	}
	switch {
	case l.turns != band.Turns:
		return fmt.Errorf("the band is wound %d times round and should be %d times", l.turns, band.Turns)
	case max(middles[0]-middles[1], middles[1]-middles[0]) > inPlane:
		return fmt.Errorf("the grooves are %.1f mm out of line", max(middles[0]-middles[1], middles[1]-middles[0]))
	}
	l.seated = true
	return nil
}

// round reports whether a band goes round what it must and nothing else, crossed where
// it is to be, and in line with its lane on every shaft.
func (s *State) round(loop int, band *Band, l *ring) error {
	for _, in := range band.Inside {
		if !slices.Contains(l.over, in.Shaft) {
			return fmt.Errorf("%s passes between the band's runs, and the band is not round it", s.build.Shafts[in.Shaft].Name)
		}
	}
	first, _ := band.farOf(l.over[0])
	for k, shaft := range l.over {
		far, round := band.farOf(shaft)
		switch {
		case !round:
			return fmt.Errorf("the band is round %s, which is not between its runs", s.build.Shafts[shaft].Name)
		case (far != first) != l.other[k] && band.Crossed:
			return fmt.Errorf("the band was put on without crossing it")
		case (far != first) != l.other[k]:
			return fmt.Errorf("the band was crossed")
		}
		before := true
		for _, part := range s.shafts[shaft].on {
			lane, ok := s.lane(part)
			switch {
			case part == loop:
				before = false
			case shaft > 0 && ok && (before && lane > band.Lane+sameLane || !before && lane < band.Lane-sameLane):
				return fmt.Errorf("on %s the band is on the wrong side of %s", s.build.Shafts[shaft].Name, s.name(part))
			}
		}
	}
	return nil
}

// sameLane is how far apart two lanes are still one: a band passes over what is in its
// own.
const sameLane mm = 0.5

// lane is where along the axles a pulley or a band belongs; ok is false for anything
// else.
func (s *State) lane(part int) (at mm, ok bool) {
	switch p := &s.build.Parts[part]; p.Kind {
	case Pulley:
		return (p.From + p.To) / 2, true
	case Loop:
		return s.build.bandOf(part).Lane, true
	}
	return 0, false
}

func (s *State) cap(a Action) error {
	sh := &s.shafts[a.Shaft]
	list := &sh.front
	if a.Back {
		list = &sh.back
	}
	if a.Shaft == 0 || sh.hold != held {
		return fmt.Errorf("%s is not in both sides", s.build.Shafts[a.Shaft].Name)
	}
	if a.Verb == Cap {
		if s.loops[a.Part] != nil {
			return fmt.Errorf("a band does not go outside the frame")
		}
		if err := s.ready(a.Part); err != nil {
			return err
		}
		*list = append(*list, a.Part)
		return nil
	}
	if n := len(*list); n == 0 || (*list)[n-1] != a.Part {
		return fmt.Errorf("%s is not the outermost", s.name(a.Part))
	}
	if err := s.stuck(a.Part); err != nil {
		return err
	}
	if s.build.Parts[a.Part].Kind == Drum && len(s.build.Lifting) > 0 && !s.onTable(s.build.Lifting[0]) {
		return fmt.Errorf("the cord is still on it")
	}
	*list = (*list)[:len(*list)-1]
	return nil
}
