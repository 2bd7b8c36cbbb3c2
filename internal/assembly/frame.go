package assembly

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/certificate"
)

// JoinerSize is the square strip that joins sides of sheet (common practice: 8 to
// 10 mm).
const JoinerSize mm = 10

// Feet under a frame whose axles stand upright, so that their lower ends clear the
// table: higher than the ends stand out (usualEnd).
const (
	footLength mm = 20
	FootHigh   mm = 10
)

// leastJoiners hold two sides square (geometry: two would let them lean).
const leastJoiners = 3

// Frame is what carries the axles: two sides and what joins them.
type Frame struct {
	OfStrip bool
	// Length and Height are the outside of one side. Left and Below are how far its
	// lower left outside corner is from the datum, which is the lower left corner of
	// the space inside: both are 0 for most sides of sheet, whose corner is the datum.
	Length, Height, Left, Below mm
	Strip                       mm // section of the strips
	Sheet                       mm // thickness of a side of sheet; 0 for one of strip
	Joiners                     []Point
	Pieces                      []int // parts
	Corners                     int   // card triangles to be glued over joints
}

func (o *Build) frame(b *certificate.Brief) {
	in := &b.Frame
	f := Frame{OfStrip: in.Strip > 0, Length: mm(in.Length), Height: mm(in.Height), Strip: JoinerSize, Sheet: mm(in.Sheet)}
	piece := func(name string, length, width mm, count int) {
		for range count {
			f.Pieces = append(f.Pieces, o.add(Part{Kind: Piece, Name: name, Length: length, Width: width}))
		}
	}
	if f.OfStrip {
		o.ofStrip(&f, in, b.Model == vehicle, mm(b.Limits.Clearance), piece)
	} else {
		f.Joiners = o.joiners(f.Length, f.Height, mm(b.Limits.Clearance))
		if len(f.Joiners) < leastJoiners { // no room inside: the sides are longer by a strip at each end
			const s = JoinerSize
			f.Joiners = []Point{{-s / 2, s / 2}, {f.Length + s/2, s / 2}, {-s / 2, f.Height - s/2}, {f.Length + s/2, f.Height - s/2}}
			f.Length, f.Left = f.Length+2*s, s
		}
		piece("side", f.Length, f.Height, 2)
	}
	piece(joinerName, o.Depth, 0, len(f.Joiners))
	o.Frame = f
	if o.Upright {
		for range 4 {
			o.Under = append(o.Under, o.add(Part{Kind: Foot, Name: "foot", Length: footLength}))
		}
	}
	if !o.Drilled {
		for i := 1; i < len(o.Shafts); i++ {
			for range 2 {
				o.Bearings = append(o.Bearings, o.add(Part{Kind: Bearing, Name: fmt.Sprintf("clip, straw or tube that carries a %g mm rod", float64(o.Shafts[i].Diameter)), Free: o.Shafts[i].Free}))
			}
		}
	}
}

// ofStrip makes the sides of a frame of strips: level rails between two uprights, and strips
// over and under these. Nothing of a vehicle's may hang below the space inside, which is held
// clear of the floor: there all level strips are between the uprights, the lowest in that
// space, or a low rail closes the side.
func (o *Build) ofStrip(f *Frame, in *certificate.Frame, onFloor bool, clearance mm, piece func(name string, length, width mm, count int)) {
	s := mm(in.Strip)
	f.Strip, f.Sheet, f.Left, f.Below = s, 0, s, s
	left, right, low, high := -s/2, f.Length+s/2, -s/2, f.Height+s/2
	piece("rail", f.Length, 0, 2*len(in.Rails))
	switch closed := slices.ContainsFunc(in.Rails, func(rail certificate.Number) bool { return mm(rail) < s+s/2 }); {
	case !onFloor:
		piece("top and bottom", f.Length+2*s, 0, 4)
		piece("upright", f.Height, 0, 4)
	case closed:
		piece("top", f.Length, 0, 2)
		piece("upright", f.Height+s, 0, 4)
	default:
		piece("top and bottom", f.Length, 0, 4)
		piece("upright", f.Height+s, 0, 4)
	}
	if onFloor {
		f.Below, low = 0, s/2
	}
	for _, corner := range []Point{{left, low}, {right, low}, {left, high}, {right, high}} {
		// Along the upright there is room, if the lower corner has none.
		for at := corner; at.Y <= high; at.Y += 2 {
			if !onFloor || at.Y == high || o.clear(at, mm(math.Sqrt2)*s/2, clearance) {
				f.Joiners = append(f.Joiners, at)
				break
			}
		}
	}
	f.Length, f.Height = f.Length+2*s, f.Height+s+f.Below
	// On both faces of the four corners of each side, and one at each end of what joins
	// them.
	f.Corners = 2*4*2 + 2*len(f.Joiners)
	for range f.Corners {
		f.Pieces = append(f.Pieces, o.add(Part{Kind: Piece, Name: "card corner triangle, 30 mm"}))
	}
}

// joinerName is what a strip is called that joins the sides.
const joinerName = "joining strip"
