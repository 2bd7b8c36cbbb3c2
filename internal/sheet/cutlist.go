package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/cutting"
	"findrive/internal/units"
)

// section is one kind of rod or strip with what is cut from it for one set.
type section struct {
	name   string
	words  string // "dowel-5, 5 mm wood"
	length float64
	count  int // pieces in the cupboard; 0 if that is not known
	pieces []cutting.Piece
}

// stripStock is the name of the square strip among offcuts.
const stripStock = "strip"

// sections lists what has to be cut for one set: an axle for each stage and, for
// a frame of strip, its strips.
func (s *Set) sections() []section {
	var out []section
	for i := range s.drive.Axles {
		a := &s.drive.Axles[i]
		at := slices.IndexFunc(out, func(o section) bool { return o.name == a.Stock })
		if at < 0 {
			at = len(out)
			rods := 0
			for _, u := range s.drive.Uses {
				if u.Kind == "axle" && u.Name == a.Stock {
					for _, p := range u.Places {
						rods += p.Count
					}
				}
			}
			out = append(out, section{name: a.Stock, words: fmt.Sprintf("%s, %s mm %s", a.Stock, mm(a.Diameter), a.Material), length: float64(a.RodSize), count: rods})
		}
		out[at].pieces = append(out[at].pieces, cutting.Piece{Mark: s.shaftName(i + 1), Length: units.Millimetres(a.Length), Count: 1})
	}
	f := &s.cert.Brief.Frame
	if f.Strip <= 0 {
		return out
	}
	outside := units.Millimetres(f.Length + 2*f.Strip)
	strips := section{name: stripStock, words: "square strip, " + mm(f.Strip) + " mm", length: s.opt.StripLength}
	if n := 2 * len(f.Rails); n > 0 {
		strips.pieces = append(strips.pieces, cutting.Piece{Mark: "rail with holes", Length: units.Millimetres(f.Length), Count: n})
	}
	strips.pieces = append(strips.pieces,
		cutting.Piece{Mark: "top and bottom", Length: outside, Count: 4},
		cutting.Piece{Mark: "upright", Length: units.Millimetres(f.Height), Count: 4},
		cutting.Piece{Mark: "front to back", Length: units.Millimetres(f.Depth), Count: 4})
	return append(out, strips)
}

// cut plans the sawing of one section for all sets. Offcuts of that section are
// stock too. short is true if the cupboard has not enough of it: the plan then
// takes as many lengths as it needs.
func (s *Set) cut(o section) (plan cutting.Plan, short bool, err error) {
	var pieces []cutting.Piece
	total := 0
	for _, p := range o.pieces {
		p.Count *= s.sets
		total += p.Count
		pieces = append(pieces, p)
	}
	stock := func(count int) []cutting.Stock {
		list := []cutting.Stock{{Name: "new length", Length: units.Millimetres(o.length), Count: count}}
		for _, off := range s.opt.Offcuts {
			if off.Of == o.name {
				list = append(list, cutting.Stock{Name: "offcut", Length: units.Millimetres(off.Length), Count: off.Count, Offcut: true})
			}
		}
		return list
	}
	count := o.count
	if count == 0 {
		count = total
	}
	plan, err = cutting.Cuts(pieces, stock(count), units.Millimetres(s.opt.Kerf))
	var missing *cutting.ShortError
	if errors.As(err, &missing) && count < total {
		plan, err = cutting.Cuts(pieces, stock(total), units.Millimetres(s.opt.Kerf))
		short = true
	}
	return plan, short, err
}

// cutBlocks are the cutting list: what one set takes, and how to saw it for all
// sets from as little as can be.
func (s *Set) cutBlocks() ([]Block, error) {
	pieces := Table{Caption: "What is cut", Head: []string{"Piece", "From", "Length mm", "Each set", plural(s.sets, "set", "sets")}, Right: []int{2, 3, 4}, Names: true}
	sawing := Table{Caption: "How to saw it for " + plural(s.sets, "set", "sets"), Head: []string{"From", "Take", "Saw from each", "Left mm"}, Right: []int{3}, Names: true}
	var notes []string
	for _, o := range s.sections() {
		for _, p := range o.pieces {
			pieces.Rows = append(pieces.Rows, []string{upper(p.Mark), o.name, mm(p.Length), fmt.Sprint(p.Count), fmt.Sprint(p.Count * s.sets)})
		}
		plan, short, err := s.cut(o)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", o.words, err)
		}
		sawing.Rows = append(sawing.Rows, sawingRows(o, plan)...)
		line := fmt.Sprintf("%s: %s mm begun", o.words, mm(plan.Used))
		if plan.Least {
			line += ", the least possible"
		} else {
			line += fmt.Sprintf("; less than %s mm will not do, offcuts counted half", mm(plan.Bound))
		}
		if plan.Largest > 0 {
			line += ", longest piece left " + mm(plan.Largest) + " mm"
		}
		if short {
			line += "; MORE than the cupboard has"
		}
		notes = append(notes, line+".")
	}
	sawing.Note = strings.Join(notes, " ") + fmt.Sprintf(" The saw takes %s mm at each cut.", mm(s.opt.Kerf))
	return []Block{pieces, sawing}, nil
}

// sawingRows gather equal bars.
func sawingRows(o section, plan cutting.Plan) [][]string {
	type row struct {
		cells []string
		n     int
	}
	var rows []row
	for _, b := range plan.Bars {
		var cuts []string
		for i := 0; i < len(b.Cuts); {
			k := i
			for k < len(b.Cuts) && b.Cuts[k].Length == b.Cuts[i].Length {
				k++
			}
			cuts = append(cuts, fmt.Sprintf("%d × %s mm", k-i, mm(b.Cuts[i].Length)))
			i = k
		}
		cells := []string{o.name, b.Stock + " of " + mm(b.Length) + " mm", strings.Join(cuts, " + "), mm(b.Left)}
		at := slices.IndexFunc(rows, func(r row) bool { return slices.Equal(r.cells, cells) })
		if at < 0 {
			rows = append(rows, row{cells: cells})
			at = len(rows) - 1
		}
		rows[at].n++
	}
	// Offcuts are used up first.
	slices.SortStableFunc(rows, func(a, b row) int {
		first := func(r row) int {
			if strings.HasPrefix(r.cells[1], "offcut ") {
				return 0
			}
			return 1
		}
		return cmp.Compare(first(a), first(b))
	})
	var out [][]string
	for _, r := range rows {
		r.cells[1] = fmt.Sprintf("%d × %s", r.n, r.cells[1])
		out = append(out, r.cells)
	}
	return out
}
