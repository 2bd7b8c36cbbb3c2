package making

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

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
	X, Y mm
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

// size is so many discs of one diameter.
type size struct {
	diameter mm
	count    int
}

// row is discs side by side across a sheet, the largest first: it is as high as that.
type row struct {
	height mm
	discs  int
}

// rowsOf lays discs, the largest first, in rows of one kind of sheet: each row is filled
// before the next is begun. A disc that is taken away makes no row higher, and not one more
// of them, so that what fits does so with less. large is a disc that goes on no sheet of
// the kind, or 0.
func rowsOf(s *parts.SheetStock, discs []size) (rows []row, large mm) {
	used := edge
	for _, d := range discs {
		if edge+d.diameter > min(s.Length, s.Width)-edge+nearly {
			return nil, d.diameter
		}
		for range d.count {
			if len(rows) == 0 || used+d.diameter > s.Length-edge+nearly {
				rows, used = append(rows, row{height: d.diameter}), edge
			}
			rows[len(rows)-1].discs++
			used += d.diameter + across
		}
	}
	return rows, 0
}

// nearly is what rounding of lengths does.
const nearly mm = 1e-9

// sawn is what lays rows on sheets: pieces as long as the rows are high, cut from sheets
// as long as these are wide.
func sawn(s *parts.SheetStock, rows []row) (pieces []cutting.Piece, stock []cutting.Stock) {
	for i, r := range rows {
		if i > 0 && r.height == rows[i-1].height {
			pieces[len(pieces)-1].Count++
		} else {
			pieces = append(pieces, cutting.Piece{Length: r.height, Count: 1})
		}
	}
	return pieces, []cutting.Stock{{Name: s.Name, Length: s.Width - 2*edge, Count: min(s.Count, len(rows))}}
}

// goOn reports whether rows go on the sheets there are. What no way to lay them allows is
// told at a glance; see Measure.
func goOn(s *parts.SheetStock, rows []row) bool {
	if len(rows) == 0 {
		return true
	}
	for k := range mostFold + 1 {
		sum := 0.0
		for _, r := range rows {
			sum += fold(share(r.height, s.Width), k)
		}
		if sum > float64(s.Count)+1e-6 {
			return false
		}
	}
	pieces, stock := sawn(s, rows)
	return cutting.Enough(pieces, stock, across)
}

// sizesOf sorts the discs of one kind of sheet, the largest first.
func sizesOf(sheet string, list []Several) []size {
	var out []size
	add := func(d *parts.Disc, n int) {
		if d.Sheet != sheet {
			return
		}
		at, known := slices.BinarySearchFunc(out, d.Diameter, func(s size, d mm) int { return cmp.Compare(d, s.diameter) })
		if !known {
			out = slices.Insert(out, at, size{diameter: d.Diameter})
		}
		out[at].count += n
	}
	for i := range list {
		m := list[i].Pulley.Made
		add(&m.Core, m.Layers*list[i].Count)
		add(&m.Flange, flanges*list[i].Count)
	}
	return out
}

// flanges of a pulley: one on either side of the core.
const flanges = 2

// reach reports why the sheets do not take the discs, in words; nil if they do.
func reach(sheets []parts.SheetStock, list []Several) error {
	for i := range list {
		for _, d := range []*parts.Disc{&list[i].Pulley.Made.Core, &list[i].Pulley.Made.Flange} {
			if !slices.ContainsFunc(sheets, func(s parts.SheetStock) bool { return s.Name == d.Sheet }) {
				return fmt.Errorf("there is no sheet %s", d.Sheet)
			}
		}
	}
	for i := range sheets {
		s := &sheets[i]
		rows, large := rowsOf(s, sizesOf(s.Name, list))
		if large > 0 {
			return fmt.Errorf("a disc of %.0f mm does not go on sheet %s", float64(large), s.Name)
		}
		if !goOn(s, rows) {
			return short(s)
		}
	}
	return nil
}

func short(s *parts.SheetStock) error {
	return fmt.Errorf("sheet %s is short: %d do not take all the discs", s.Name, s.Count)
}

// SheetsFor is how many sheets of a kind the discs that are cut from it take, laid as Nest
// does; more than there are if those are too few.
func SheetsFor(s *parts.SheetStock, list []Several) int {
	rows, large := rowsOf(s, sizesOf(s.Name, list))
	if large > 0 {
		return s.Count + 1
	}
	few := *s
	return sort.Search(s.Count+1, func(n int) bool {
		few.Count = n
		return goOn(&few, rows)
	})
}

// Nest lays the discs of pulleys on the sheets there are: in rows, the largest first, each
// row filled before the next is begun, and the rows on as few sheets as can be. What it
// wastes is known, and a cleverer hand may need a sheet less. The error says of which sheet
// there are too few, in words.
func Nest(sheets []parts.SheetStock, list []Several) ([]Piece, error) {
	if err := reach(sheets, list); err != nil {
		return nil, err
	}
	var out []Piece
	for i := range sheets {
		s := &sheets[i]
		discs := discsOf(s.Name, list)
		rows, _ := rowsOf(s, sizesOf(s.Name, list))
		if len(rows) == 0 {
			continue
		}
		pieces, stock := sawn(s, rows)
		plan, err := cutting.Cuts(pieces, stock, across)
		if err != nil {
			return nil, short(s)
		}
		from := make([]int, len(rows)) // of each row its first disc
		for k := 1; k < len(rows); k++ {
			from[k] = from[k-1] + rows[k-1].discs
		}
		laid := make([]bool, len(rows))
		for _, bar := range plan.Bars {
			piece, y := Piece{Sheet: *s}, edge
			for _, cut := range bar.Cuts {
				k := slices.IndexFunc(rows, func(r row) bool { return r.height == cut.Length })
				for laid[k] {
					k++ // rows as high as one another stand together
				}
				laid[k] = true
				x := edge
				for _, d := range discs[from[k] : from[k]+rows[k].discs] {
					piece.Rounds = append(piece.Rounds, Round{Disc: d, X: x + d.Diameter/2, Y: y + d.Diameter/2})
					x += d.Diameter + across
				}
				y += cut.Length + across
			}
			out = append(out, piece)
		}
	}
	return out, nil
}

// discsOf are the discs of one kind of sheet, the largest first.
func discsOf(sheet string, list []Several) []parts.Disc {
	var out []parts.Disc
	for i := range list {
		for _, d := range list[i].Pulley.Made.Pieces() {
			if d.Sheet == sheet {
				for range list[i].Count {
					out = append(out, d)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b parts.Disc) int { return cmp.Compare(b.Diameter, a.Diameter) })
	return out
}

func fits(sheets []parts.SheetStock, list []Several) bool { return reach(sheets, list) == nil }
