package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/cutting"
	"findrive/internal/units"
)

// section is one kind of rod or strip with what is cut from it for one set.
type section struct {
	name   string
	words  string // "dowel-5, 5 mm wood"
	length float64
	count  int             // pieces in the cupboard; 0 if that is not known
	rods   []cutting.Stock // of the cupboard, by where they are kept; nil if it has none
	pieces []cutting.Piece
	sawn   *cutting.Plan // how it is sawn, if that is settled
}

// stripStock is the name of the square strip among offcuts, tubeStock that of the
// tube for spacers.
const (
	stripStock = "strip"
	tubeStock  = "tube"
)

// tubeLength is a piece of tube for spacers: paper straws are about 200 mm long
// (common practice).
const tubeLength = 200

// sections lists what has to be cut for one set: the axles, the strips of the frame
// or those that join its sides, and the spacer tubes.
func (s *Set) sections() []section {
	var out []section
	last := len(s.drive.Axles) - 1
	for i := 1; i < len(s.plan.Build.Shafts); i++ {
		a := &s.drive.Axles[min(i-1, last)] // a free axle is like the last
		at := slices.IndexFunc(out, func(o section) bool { return o.name == a.Stock })
		if at < 0 {
			at = len(out)
			o := section{name: a.Stock, words: fmt.Sprintf("%s, %s mm %s", a.Stock, mm(a.Diameter), a.Material), length: float64(a.RodSize)}
			for _, u := range s.drive.Uses {
				if u.Kind != "axle" || u.Name != a.Stock {
					continue
				}
				for _, p := range u.Places {
					length := p.Length
					if length == 0 {
						length = a.RodSize
					}
					o.rods, o.count = append(o.rods, cutting.Stock{Name: p.Name, Length: units.Millimetres(length), Count: p.Count}), o.count+p.Count
				}
			}
			out = append(out, o)
		}
		out[at].pieces = append(out[at].pieces, cutting.Piece{Mark: s.shaftName(i), Length: s.plan.Build.Shafts[i].Length, Count: 1})
	}
	if strips := s.strips(); len(strips.pieces) > 0 {
		out = append(out, strips)
	}
	return append(out, s.tubes()...)
}

// strips are the pieces of square strip.
func (s *Set) strips() section {
	b := s.plan.Build
	out := section{name: stripStock, words: "square strip, " + mm(b.Frame.Strip) + " mm", length: s.opt.StripLength}
	add := func(p *assembly.Part) { out.pieces = gathered(out.pieces, p.Name, p.Length) }
	for _, k := range b.Frame.Pieces {
		if p := &b.Parts[k]; p.Length > 0 && p.Width == 0 {
			add(p)
		}
	}
	for _, k := range b.Under {
		if p := &b.Parts[k]; p.Kind == assembly.Foot {
			add(p)
		}
	}
	return out
}

// gathered adds a piece to a list, pieces alike together.
func gathered(list []cutting.Piece, mark string, long units.Millimetres) []cutting.Piece {
	for i := range list {
		if list[i].Mark == mark && list[i].Length == long {
			list[i].Count++
			return list
		}
	}
	return append(list, cutting.Piece{Mark: mark, Length: long, Count: 1})
}

// tubes are the spacer tubes, by the rod they slip over.
func (s *Set) tubes() []section {
	b := s.plan.Build
	var out []section
	for i := range b.Shafts {
		sh := &b.Shafts[i]
		for _, k := range slices.Concat(sh.Along, sh.Front, sh.Back) {
			p := &b.Parts[k]
			if p.Kind != assembly.Tube {
				continue
			}
			name := tubeStock + " for " + mm(sh.Diameter) + " mm"
			at := slices.IndexFunc(out, func(o section) bool { return o.name == name })
			if at < 0 {
				at = len(out)
				out = append(out, section{name: name, words: p.Name, length: tubeLength})
			}
			out[at].pieces = gathered(out[at].pieces, "spacer tube", p.Length)
		}
	}
	return out
}

// moreOf names lengths that the cupboard does not have.
const moreOf = "more"

// cut plans the sawing of one section for all sets. Offcuts of that section are
// stock too. short is true if the cupboard has not enough of it: the plan then
// takes as many lengths as it needs.
func (s *Set) cut(o section) (plan cutting.Plan, short bool, err error) {
	if o.sawn != nil {
		return *o.sawn, false, nil
	}
	var pieces []cutting.Piece
	total := 0
	for _, p := range o.pieces {
		p.Count *= s.sets
		total += p.Count
		pieces = append(pieces, p)
	}
	stock := func(count int) []cutting.Stock {
		list := slices.Clone(o.rods)
		if more := count - o.count; more > 0 || len(list) == 0 {
			list = append(list, cutting.Stock{Name: moreOf, Length: units.Millimetres(o.length), Count: more})
		}
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
	if errors.As(err, &missing) && o.count > 0 {
		plan, err = cutting.Cuts(pieces, stock(o.count+total), units.Millimetres(s.opt.Kerf))
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
	if f := &s.plan.Build.Frame; !f.OfStrip {
		pieces.Rows = append(pieces.Rows, []string{"Side", "sheet, " + mm(f.Sheet) + " mm", mm(f.Length) + " × " + mm(f.Height), "2", fmt.Sprint(2 * s.sets)})
	}
	for _, o := range s.sections() {
		pieces.Rows = append(pieces.Rows, s.pieceRows(o)...)
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
	cut, from := s.sleeveRows(s.sets)
	pieces.Rows, sawing.Rows = append(pieces.Rows, cut...), append(sawing.Rows, from...)
	sawing.Note = strings.Join(notes, " ") + fmt.Sprintf(" The saw takes %s mm at each cut.", mm(s.opt.Kerf))
	return append([]Block{pieces, sawing}, s.discBlocks()...), nil
}

// pieceRows has a row for each piece, and one for all spacer tubes of a rod, longest
// first.
func (s *Set) pieceRows(o section) [][]string {
	if !strings.HasPrefix(o.name, tubeStock) {
		var out [][]string
		for _, p := range o.pieces {
			out = append(out, []string{units.Capital(p.Mark), o.name, mm(p.Length), fmt.Sprint(p.Count), fmt.Sprint(p.Count * s.sets)})
		}
		return out
	}
	n := 0
	for _, p := range o.pieces {
		n += p.Count
	}
	return [][]string{{"Spacer tubes", o.name, lengths(o.pieces), fmt.Sprint(n), fmt.Sprint(n * s.sets)}}
}

// lengths are those of some pieces, longest first.
func lengths(pieces []cutting.Piece) string {
	sorted := slices.Clone(pieces)
	sortStable(sorted, func(a, b cutting.Piece) int { return cmp.Compare(b.Length, a.Length) })
	var long []string
	for _, p := range sorted {
		words := mm(p.Length)
		if p.Count > 1 {
			words = fmt.Sprintf("%d × %s", p.Count, words)
		}
		long = append(long, words)
	}
	return strings.Join(long, ", ")
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
		from := "new length"
		if b.Offcut {
			from = "offcut"
		}
		cells := []string{o.name, from + " of " + mm(b.Length) + " mm", strings.Join(cuts, " + "), mm(b.Left)}
		at := slices.IndexFunc(rows, func(r row) bool { return slices.Equal(r.cells, cells) })
		if at < 0 {
			rows = append(rows, row{cells: cells})
			at = len(rows) - 1
		}
		rows[at].n++
	}
	// Offcuts are used up first.
	sortStable(rows, func(a, b row) int {
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
