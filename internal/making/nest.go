package making

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/parts"
)

// Room round a disc on its sheet: to cut it out roughly first, and so that no saw runs off
// the edge (common practice).
const (
	edge   mm = 4 // from the edge of the sheet
	across mm = 3 // between two discs
)

// Round is a disc in its place on a sheet: its middle, from the left and the lower edge of
// a sheet that lies with its longer way from left to right.
type Round struct {
	parts.Disc
	Index int // of the disc in the list it came from
	X, Y  mm
}

// Piece is one sheet with the discs on it.
type Piece struct {
	Sheet  parts.SheetStock
	Rounds []Round
}

// Waste is the share of the sheet that is not in discs.
func (p *Piece) Waste() float64 {
	discs := 0.0
	for i := range p.Rounds {
		discs += math.Pi / 4 * float64(p.Rounds[i].Diameter*p.Rounds[i].Diameter)
	}
	return 1 - discs/float64(p.Sheet.Length*p.Sheet.Width)
}

// shelf is a row of discs across a sheet.
type shelf struct{ from, height, used mm }

// sheetInWork is a sheet with its shelves, from the lower edge up.
type sheetInWork struct {
	piece   Piece
	shelves []shelf
}

// place puts a disc on the first shelf with room for it, or on a new one; false if there is
// none. Discs come the largest first, so what a shelf is high is its first disc.
func (w *sheetInWork) place(d parts.Disc, index int) bool {
	at := func(s *shelf) {
		x := s.used + d.Diameter/2
		w.piece.Rounds = append(w.piece.Rounds, Round{Disc: d, Index: index, X: x, Y: s.from + d.Diameter/2})
		s.used += d.Diameter + across
	}
	long, wide, top := w.piece.Sheet.Length-edge, w.piece.Sheet.Width-edge, edge
	for i := range w.shelves {
		s := &w.shelves[i]
		if s.used+d.Diameter <= long+1e-9 {
			at(s)
			return true
		}
		top = s.from + s.height + across
	}
	if top+d.Diameter > wide+1e-9 || edge+d.Diameter > long+1e-9 {
		return false
	}
	w.shelves = append(w.shelves, shelf{from: top, height: d.Diameter, used: edge})
	at(&w.shelves[len(w.shelves)-1])
	return true
}

// Nest lays discs on the sheets there are: in rows, the largest first, each on the first
// row of the first sheet that has room. It is a rule of the thumb: what it wastes is known,
// and a cleverer hand may need a sheet less. The error says of which sheet there are too
// few, in words.
func Nest(sheets []parts.SheetStock, discs []parts.Disc) ([]Piece, error) {
	work := map[string][]*sheetInWork{}
	order := make([]int, len(discs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return compare(discs[i], discs[j]) })
	for _, i := range order {
		d := discs[i]
		if slices.ContainsFunc(work[d.Sheet], func(w *sheetInWork) bool { return w.place(d, i) }) {
			continue
		}
		k := slices.IndexFunc(sheets, func(s parts.SheetStock) bool { return s.Name == d.Sheet })
		if k < 0 {
			return nil, fmt.Errorf("there is no sheet %s", d.Sheet)
		}
		if len(work[d.Sheet]) >= sheets[k].Count {
			return nil, fmt.Errorf("sheet %s is short: %d do not take all the discs", d.Sheet, sheets[k].Count)
		}
		w := &sheetInWork{piece: Piece{Sheet: sheets[k]}}
		work[d.Sheet] = append(work[d.Sheet], w)
		if !w.place(d, i) {
			return nil, fmt.Errorf("a disc of %.0f mm does not go on sheet %s", float64(d.Diameter), d.Sheet)
		}
	}
	var out []Piece
	for i := range sheets {
		for _, w := range work[sheets[i].Name] {
			out = append(out, w.piece)
		}
	}
	return out, nil
}

// compare orders discs for nesting: the larger first.
func compare(a, b parts.Disc) int {
	switch {
	case a.Diameter > b.Diameter:
		return -1
	case a.Diameter < b.Diameter:
		return 1
	}
	return 0
}

func fits(sheets []parts.SheetStock, discs []parts.Disc) bool {
	_, err := Nest(sheets, discs)
	return err == nil
}
