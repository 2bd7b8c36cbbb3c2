package making

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"findrive/internal/cutting"
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

// row is discs side by side across a sheet, as high as its first.
type row struct{ discs []int } // in the list they came from

// rowsOf lays the discs of one kind of sheet in rows, the largest first: each row is filled
// before the next is begun. A disc that is taken away makes no row higher, and not one more
// of them, so that what fits does so with less. large is a disc that goes on no sheet of
// the kind, or -1.
func rowsOf(s *parts.SheetStock, discs []parts.Disc) (rows []row, large int) {
	var order []int
	for i := range discs {
		if discs[i].Sheet == s.Name {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(discs[j].Diameter, discs[i].Diameter) })
	used := edge
	for _, i := range order {
		d := discs[i].Diameter
		if edge+d > min(s.Length, s.Width)-edge+nearly {
			return nil, i
		}
		if len(rows) == 0 || used+d > s.Length-edge+nearly {
			rows, used = append(rows, row{}), edge
		}
		last := &rows[len(rows)-1]
		last.discs = append(last.discs, i)
		used += d + across
	}
	return rows, -1
}

// nearly is what rounding of lengths does.
const nearly mm = 1e-9

// sawn is what lays rows on sheets: pieces as long as the rows are high, cut from sheets
// as long as these are wide.
func sawn(s *parts.SheetStock, rows []row, discs []parts.Disc) ([]cutting.Piece, []cutting.Stock) {
	var out []cutting.Piece
	for i := range rows {
		out = append(out, cutting.Piece{Mark: strconv.Itoa(i), Length: discs[rows[i].discs[0]].Diameter, Count: 1})
	}
	return out, []cutting.Stock{{Name: s.Name, Length: s.Width - 2*edge, Count: min(s.Count, len(rows))}}
}

// reach reports why the sheets do not take the discs, in words; nil if they do.
func reach(sheets []parts.SheetStock, discs []parts.Disc) error {
	for i := range discs {
		if !slices.ContainsFunc(sheets, func(s parts.SheetStock) bool { return s.Name == discs[i].Sheet }) {
			return fmt.Errorf("there is no sheet %s", discs[i].Sheet)
		}
	}
	for i := range sheets {
		s := &sheets[i]
		rows, large := rowsOf(s, discs)
		if large >= 0 {
			return fmt.Errorf("a disc of %.0f mm does not go on sheet %s", float64(discs[large].Diameter), s.Name)
		}
		if pieces, stock := sawn(s, rows, discs); len(rows) > 0 && !cutting.Enough(pieces, stock, across) {
			return short(s)
		}
	}
	return nil
}

func short(s *parts.SheetStock) error {
	return fmt.Errorf("sheet %s is short: %d do not take all the discs", s.Name, s.Count)
}

// Nest lays discs on the sheets there are: in rows, the largest first, each row filled
// before the next is begun, and the rows on as few sheets as can be. What it wastes is
// known, and a cleverer hand may need a sheet less. The error says of which sheet there
// are too few, in words.
func Nest(sheets []parts.SheetStock, discs []parts.Disc) ([]Piece, error) {
	if err := reach(sheets, discs); err != nil {
		return nil, err
	}
	var out []Piece
	for i := range sheets {
		s := &sheets[i]
		rows, _ := rowsOf(s, discs)
		if len(rows) == 0 {
			continue
		}
		pieces, stock := sawn(s, rows, discs)
		plan, err := cutting.Cuts(pieces, stock, across)
		if err != nil {
			return nil, short(s)
		}
		for _, bar := range plan.Bars {
			piece, y := Piece{Sheet: *s}, edge
			for _, cut := range bar.Cuts {
				at, err := strconv.Atoi(cut.Mark)
				if err != nil {
					return nil, fmt.Errorf("row %s: %w", cut.Mark, err)
				}
				x := edge
				for _, k := range rows[at].discs {
					d := discs[k]
					piece.Rounds = append(piece.Rounds, Round{Disc: d, Index: k, X: x + d.Diameter/2, Y: y + d.Diameter/2})
					x += d.Diameter + across
				}
				y += cut.Length + across
			}
			out = append(out, piece)
		}
	}
	return out, nil
}

func fits(sheets []parts.SheetStock, discs []parts.Disc) bool { return reach(sheets, discs) == nil }
