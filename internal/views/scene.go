package views

import (
	"math"
	"slices"
	"strconv"

	"findrive/internal/units"
)

type mm = units.Millimetres

// scene is a proposal as things in space: x to the right and y up in the plane
// of the pulleys, from the lower left inside corner of the frame, and depth
// behind the inside face of its front side.
type scene struct {
	upright bool // axles stand upright: the front is above
	// unfolded says that the shafts lie side by side in driving order, as far apart as
	// their bands say, and not where they are in the frame; see alongAxles.
	unfolded bool
	// fromBehind says that whoever asked for the drive judges from the back, or from
	// below, how it turns; drawings are seen from the front all the same, and say so.
	fromBehind bool
	frame      frame
	shafts     []shaft // motor first, then the axles
	pulleys    []pulley
	bands      []band
	body       body
	// output is the wheel or drum outside the frame on the last axle; nil for none.
	output *round
	// freeAxle is a vehicle's axle that is not driven, with wheels like the driven one's; nil
	// for none.
	freeAxle *shaft
	// forgives is how far a hole may be off before a rule breaks; 0 if not known.
	forgives mm
}

type frame struct {
	length, height, depth mm // inside
	side                  mm // thickness of the front and the back
	strip                 mm // height of a rail; 0 for sheet sides
	rails                 []mm
	ground                *mm
	drilled               bool
	over                  overhang
	joiners               []place // middles of the strips from side to side
	joiner                mm      // their section
}

// overhang is how far a side's own edges are beyond the inside of the frame.
type overhang struct{ left, right, below, above mm }

// inset reports whether the datum, a corner of the inside, is not the side's own corner.
func (f *frame) inset() bool { return f.over != overhang{} }

// outside is how large a side is.
func (f *frame) outside() (length, height mm) {
	return f.length + f.over.left + f.over.right, f.height + f.over.below + f.over.above
}

type place struct{ x, y mm }

type shaft struct {
	name    string // "motor" or "axle 1" ...
	at      place
	radius  mm
	hole    mm // diameter; 0 if nothing is drilled
	length  mm // as cut; of the motor as it stands out of the body
	turns   sense
	rim     mm    // largest radius on the shaft
	pulleys []int // from the front
	spacers []spacer
}

// everyShaft are the motor, the driven axles and a free one.
func (s *scene) everyShaft() []shaft {
	if s.freeAxle == nil {
		return s.shafts
	}
	return append(slices.Clone(s.shafts), *s.freeAxle)
}

// sense is a way of turning seen from the front.
type sense int

const (
	still         sense = 0
	anticlockwise sense = 1
	clockwise     sense = -1
)

type pulley struct {
	letter         string // in driving order
	shaft          int
	outside, floor mm // radii
	width, groove  mm // along the axle
	lane           mm // depth of the groove's middle
}

type band struct {
	number             int // from 1
	from, to           int // pulleys
	crossed            bool
	fromPitch, toPitch mm // radii
	thickness, width   mm // width of all strands together
	lane               mm
	centres            mm
}

type body struct{ width, height, front, length mm }

// What is driven, on the last axle outside the frame.
const (
	wheelKind = "wheel"
	drumKind  = "drum"
)

type round struct {
	kind          string
	radius, width mm
}

// strands are the two straight runs, as ends at the from and the to pulley.
func (s *scene) strands(b *band) [2][2]place {
	p, q := s.shafts[s.pulleys[b.from].shaft].at, s.shafts[s.pulleys[b.to].shaft].at
	c := mm(math.Hypot(float64(q.x-p.x), float64(q.y-p.y)))
	ux, uy := (q.x-p.x)/c, (q.y-p.y)/c
	r1, r2 := b.fromPitch, b.toPitch
	if b.crossed {
		r2 = -r2
	}
	// A line at r1 from one centre and at r2 from the other has a normal at sine
	// (r1-r2)/c to the square of the line of centres.
	sin := max(-1, min(1, (r1-r2)/c))
	cos := mm(math.Sqrt(float64(1 - sin*sin)))
	var out [2][2]place
	for i, side := range [2]mm{1, -1} {
		nx, ny := ux*sin-side*uy*cos, uy*sin+side*ux*cos
		out[i] = [2]place{{p.x + r1*nx, p.y + r1*ny}, {q.x + r2*nx, q.y + r2*ny}}
	}
	return out
}

// extent is the smallest rectangle round everything in the plane of the pulleys,
// left, bottom, right, top.
func (s *scene) extent() (x0, y0, x1, y1 mm) {
	x0, y0, x1, y1 = s.drawn()
	f, over := &s.frame, &s.frame.over
	x0, y0, x1, y1 = min(-over.left, x0), min(-over.below, y0), max(f.length+over.right, x1), max(f.height+over.above, y1)
	if g := s.frame.ground; g != nil {
		y0 = min(y0, *g)
	}
	return x0, y0, x1, y1
}

// drawn is the smallest rectangle round the drive without its frame.
func (s *scene) drawn() (x0, y0, x1, y1 mm) {
	at := s.shafts[0].at
	x0, y0, x1, y1 = at.x, at.y, at.x, at.y
	include := func(at place, rx, ry mm) {
		x0, y0, x1, y1 = min(x0, at.x-rx), min(y0, at.y-ry), max(x1, at.x+rx), max(y1, at.y+ry)
	}
	for _, p := range s.pulleys {
		include(s.shafts[p.shaft].at, p.outside, p.outside)
	}
	include(at, s.body.width/2, s.body.height/2)
	if s.output != nil {
		include(s.shafts[len(s.shafts)-1].at, s.output.radius, s.output.radius)
	}
	if s.freeAxle != nil {
		r := s.freeAxle.radius
		if s.output != nil {
			r = s.output.radius
		}
		include(s.freeAxle.at, r, r)
	}
	return x0, y0, x1, y1
}

// number is a length as it is written on drawings, to a tenth of a millimetre.
func number(x mm) string {
	return strconv.FormatFloat(math.Round(float64(x)*10)/10, 'f', -1, 64)
}
