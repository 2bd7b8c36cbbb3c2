package assembly

import (
	"fmt"
	"math"
)

// Spacers keep parts apart on an axle (all common practice): tube where it is long
// enough to be cut by a child, washers of 1 mm where not.
const (
	LeastTube  mm = 4   // shorter than this is done with washers
	MostTube   mm = 180 // longer than this is done with two pieces, or more
	WasherSize mm = 1   // thickness
	tubeStep   mm = 0.5 // tube is cut to half a millimetre
	endPlay    mm = 1   // of an axle between the sides, so that it turns freely
	outerPlay  mm = 0.5 // between a side and what turns outside it
	tubeWall   mm = 1.5 // as thick as a drawing shows a tube's wall
)

// spacers are the parts that fill a gap from a place on: they are never longer than
// the gap, and shorter by less than a washer.
func (o *Build) spacers(s *Shaft, from, gap mm) []int {
	part := Part{Radius: s.Diameter/2 + tubeWall, Sleeve: -1, Free: s.Free}
	if gap+noise >= LeastTube {
		pieces := mm(math.Ceil(float64(gap/MostTube) - noise))
		long := mm(math.Floor(float64(gap/pieces/tubeStep)+noise)) * tubeStep
		part.Kind, part.Name, part.Length = Tube, TubeFor(s.Diameter), long
		var out []int
		for k := range int(pieces) {
			part.From = from + mm(k)*long
			part.To = part.From + long
			out = append(out, o.add(part))
		}
		return out
	}
	var out []int
	for k := range int(math.Floor(float64(gap/WasherSize) + noise)) {
		part.Kind, part.Name, part.Length = Washer, fmt.Sprintf("washer for %g mm rod, 1 mm thick", float64(s.Diameter)), WasherSize
		part.From = from + mm(k)*WasherSize
		part.To = part.From + WasherSize
		out = append(out, o.add(part))
	}
	return out
}

// TubeFor names the tube that slips over a rod.
func TubeFor(rod mm) string { return fmt.Sprintf("spacer tube for %g mm rod", float64(rod)) }

// noise is rounding in sums of lengths.
const noise = 1e-6

// fill puts spacers between the sides and the pulleys of an axle, and between the
// sides and what turns outside them.
func (o *Build) fill(i int) error {
	s := &o.Shafts[i]
	if len(s.Along) > 0 {
		var along []int
		play, at := endPlay, mm(0)
		gaps := o.gaps(s)
		for k, part := range s.Along {
			if gaps[k] < -noise {
				return fmt.Errorf("pulley %s on %s stands in what is before it", o.Parts[part].Letter, s.Name)
			}
			gap := gaps[k]
			if k == 0 && gaps[len(s.Along)] < play && gap > play { // no room for play at the back
				gap, play = gap-play, 0
			}
			along = append(append(along, o.spacers(s, at, gap)...), part)
			at = o.Parts[part].To
		}
		if gaps[len(s.Along)] < -noise {
			return fmt.Errorf("what is on %s does not fit between the sides", s.Name)
		}
		s.Along = append(along, o.spacers(s, at, gaps[len(s.Along)]-play)...)
	}
	for front, list := range map[bool]*[]int{true: &s.Front, false: &s.Back} {
		if len(*list) == 0 {
			continue
		}
		p := o.Parts[(*list)[0]]
		if front {
			gap := -o.Side - p.To
			*list = append(o.outer(s, p.To, gap), *list...)
		} else {
			*list = append(o.outer(s, o.Depth+o.Side, p.From-o.Depth-o.Side), *list...)
		}
	}
	return nil
}

// outer are the spacers between a side and what turns outside it.
func (o *Build) outer(s *Shaft, from, gap mm) []int { return o.spacers(s, from, gap-outerPlay) }

// gaps are those before each part between the sides, and the one after the last.
func (o *Build) gaps(s *Shaft) []mm {
	var out []mm
	at := mm(0)
	for _, k := range s.Along {
		out = append(out, o.Parts[k].From-at)
		at = o.Parts[k].To
	}
	return append(out, o.Depth-at)
}
