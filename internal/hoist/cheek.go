package hoist

import (
	"math"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Making is how a home-made block is cut and put together: two cheeks alike, the
// sheaves between them on one axle through both, a tie bar of the same rod at the
// nose, and an opening at the top that the block hangs by.
//
// Lengths along the cheek are measured from its top end, across it from its middle
// line.
type Making struct {
	Block *parts.Block
	// Width and Height are of one cheek; Corner is the radius of its corners.
	Width, Height, Corner units.Millimetres
	// The opening for the hook or hanging loop: its upper edge is Above below the
	// top of the cheek.
	OpeningWidth, OpeningHeight, Above units.Millimetres
	AxleAt, AxleHole                   units.Millimetres // middle of the hole, and its diameter
	TieAt, TieHole                     units.Millimetres
	Spacers                            int               // on the axle: one each side, one between sheaves
	SpacerOutside, SpacerHole          units.Millimetres // diameters
	Inside                             units.Millimetres // between the cheeks
	AxleLength                         units.Millimetres // and of the tie bar, which is as long
	Stops                              int               // on the ends of axle and tie bar
	LooseFit                           units.Millimetres // what turns has this much room, in diameter
	// SheavesTurn is true when the sheaves run loose on a still axle; otherwise the
	// axle turns in the cheeks with the sheaves tight on it.
	SheavesTurn bool
	// Warnings are what is wrong with the fit, each a sentence.
	Warnings []string
}

// The sizes of a cheek. That at least 10 mm of material stays above the opening is
// common practice; the rest is judgement for 3 to 6 mm sheet and hand tools, and
// errs by the 2 mm that a pupil cuts and drills amiss.
const (
	leastAbove    units.Millimetres = 10
	cuttingError  units.Millimetres = 2
	openingWidth  units.Millimetres = 16
	openingHeight units.Millimetres = 10
	guard         units.Millimetres = 5 // of cheek beyond the rim, to keep the cord in
	rimClear      units.Millimetres = 4 // between rim and opening or tie bar, on top of the cord
	holeWall      units.Millimetres = 6 // from the tie hole to the edge
	spacerRing    units.Millimetres = 4 // of spacer round the axle
	stopRoom      units.Millimetres = 6 // of axle outside each cheek, for a stop
	endPlay       units.Millimetres = 1 // between cheeks, so that nothing binds
	runningRoom   units.Millimetres = 0.5
	slackRoom     units.Millimetres = 1.5
	thinRim       units.Millimetres = 2 // of sheave left between bore and groove
)

// Make designs the cheeks of a home-made block for a cord.
func Make(b *parts.Block, cord units.Millimetres) Making {
	n := units.Millimetres(b.Sheaves)
	m := Making{
		Block: b, Corner: 5, Above: leastAbove + cuttingError, OpeningWidth: openingWidth, OpeningHeight: openingHeight,
		Spacers: b.Sheaves + 1, Stops: 4, LooseFit: b.Bore - b.Axle, SheavesTurn: TurnsOnAxle(b),
	}
	m.Width = up(b.Outside + 2*guard)
	m.AxleAt = up(m.Above + m.OpeningHeight + rimClear + cord + b.Outside/2)
	m.AxleHole, m.TieHole = b.Axle, b.Axle
	if !m.SheavesTurn {
		m.LooseFit = runningRoom
		m.AxleHole += runningRoom
	}
	m.TieAt = up(m.AxleAt + b.Outside/2 + cord + rimClear + m.TieHole/2)
	m.Height = up(m.TieAt + m.TieHole/2 + holeWall)
	m.SpacerOutside, m.SpacerHole = up(b.Axle+2*spacerRing), b.Axle+runningRoom
	m.Inside = n*b.Width + (n+1)*b.Spacer + endPlay
	m.AxleLength = up(m.Inside + 2*b.Sheet + 2*stopRoom)
	m.warn()
	return m
}

// SpacersGo says where the spacers go.
func (m *Making) SpacersGo() string {
	if m.Block.Sheaves == 1 {
		return "one each side"
	}
	return "one each side and one between sheaves"
}

// up rounds up to the whole millimetre that can be marked out.
func up(l units.Millimetres) units.Millimetres {
	return units.Millimetres(math.Ceil(float64(l) - 1e-9))
}

func (m *Making) warn() {
	b := m.Block
	size := units.Lengths.Format
	switch {
	case !m.SheavesTurn:
		m.Warnings = append(m.Warnings, "A bore of "+size(b.Bore)+" sits tight on an axle of "+size(b.Axle)+": the axle turns in the cheeks, in holes of "+size(m.AxleHole)+", and all sheaves of the block turn together, which a tackle does not do freely. Better open the bores to "+size(b.Axle+runningRoom)+" (an adult's job).")
	case m.LooseFit < runningRoom:
		m.Warnings = append(m.Warnings, "A bore of "+size(b.Bore)+" on an axle of "+size(b.Axle)+" may bind: a loose running fit has at least "+size(runningRoom)+" of room.")
	case m.LooseFit > slackRoom:
		m.Warnings = append(m.Warnings, "A bore of "+size(b.Bore)+" on an axle of "+size(b.Axle)+" lets the sheaves wobble: a sleeve on the axle helps.")
	}
	if b.GrooveFloor-b.Bore < 2*thinRim {
		m.Warnings = append(m.Warnings, "Less than "+size(thinRim)+" of sheave is left between bore and groove.")
	}
	if b.SheetKind == parts.PlainCard && b.Sheet < 2 {
		m.Warnings = append(m.Warnings, "Card of "+size(b.Sheet)+" bends: glue two layers together for each cheek.")
	}
}

// drop is from a block's axle to where it hangs, nose from its axle to its other
// end.
func drop(b *parts.Block, cord units.Millimetres) units.Millimetres {
	if b.HomeMade {
		m := Make(b, cord)
		return m.AxleAt - m.Above
	}
	return b.Drop
}

func nose(b *parts.Block, cord units.Millimetres) units.Millimetres {
	if b.HomeMade {
		m := Make(b, cord)
		return m.Height - m.AxleAt
	}
	return b.Nose
}

// Makings are the home-made blocks of a reeving, each kind once, in the order of
// Blocks.
func Makings(r *Reeving) []Making {
	var out []Making
	seen := map[string]bool{}
	for _, b := range r.Blocks() {
		if b.HomeMade && !seen[b.Name] {
			seen[b.Name] = true
			out = append(out, Make(b, r.Cord.Diameter))
		}
	}
	return out
}
