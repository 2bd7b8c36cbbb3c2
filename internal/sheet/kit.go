package sheet

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/cutting"
)

// kitLine is one kind of part at one place in the cupboard.
type kitLine struct {
	place, item, size string
	each, total       int // of one set and of all
	spare             int
	have              int  // -1 if not known
	made              bool // as many as the sheets would yield, none of which is there
	unit              string
}

func (k *kitLine) take() int { return k.total + k.spare }

// Spares, by what gets lost, snapped or worn (common practice).
const (
	bandSpare   = 0.5 // of the bands
	pulleySpare = 0.1 // of pulleys, wheels, drums and sleeves
	axleSpare   = 0.1 // of the rods
	motorSpare  = 1   // for each class
	cellGroups  = 4   // one set of cells for so many groups
)

const spareRules = "Spares: half as many bands again, one pulley in ten, one rod in ten, one motor, and one holder with cells for four groups. They are taken as far as the cupboard has them."

// kit lists what to take out of the cupboard, sorted by where it is.
func (s *Set) kit() ([]kitLine, error) {
	var out []kitLine
	uses := s.uses()
	for i := range uses {
		u := &uses[i]
		k := kitLine{item: u.Name, size: s.sizeOf(u), each: u.Each, total: u.Each * s.sets, have: u.Have, unit: u.Kind, made: s.toMake(u)}
		ratio := 0.0
		switch u.Kind {
		case "band":
			ratio = bandSpare
		case "pulley", "wheel", "drum", "sleeve":
			ratio = pulleySpare
			if k.made {
				ratio = 0
			}
		case "motor":
			k.spare = motorSpare
		case "cells":
			k.spare = (s.sets + cellGroups - 1) / cellGroups
		case "axle":
			// Rods, not pieces: as many as the cutting list begins.
			lines, err := s.rods(u, k)
			if err != nil {
				return nil, err
			}
			out = append(out, lines...)
			continue
		}
		if ratio > 0 {
			k.spare = int(math.Ceil(ratio*float64(k.total) - 1e-9))
		}
		k.spare = max(0, min(k.spare, k.have-k.total))
		out = append(out, s.places(u, k)...)
	}
	out = append(out, sheetLines([]discShare{{s, "", s.sets}})...)
	sortStable(out, func(a, b kitLine) int {
		return cmp.Or(cmp.Compare(unplaced(a), unplaced(b)), cmp.Compare(a.place, b.place))
	})
	return out, nil
}

// sortStable sorts as slices.SortStableFunc does, but by the places of things in their list: what
// sorts these is in the engine once, and not once for each kind of thing, which a browser would load.
func sortStable[T any](list []T, compare func(a, b T) int) {
	was, at := slices.Clone(list), make([]int, len(list))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(i, j int) int { return compare(was[i], was[j]) })
	for i, k := range at {
		list[i] = was[k]
	}
}

// unplaced puts parts whose place is not known last.
func unplaced(k kitLine) int {
	if k.place == "" {
		return 1
	}
	return 0
}

// places shares a line out over the tubs of the same part, first tub first.
func (s *Set) places(u *certificate.Use, k kitLine) []kitLine {
	if len(u.Places) < 2 {
		if len(u.Places) == 1 {
			k.place = u.Places[0].Location
		}
		return []kitLine{k}
	}
	var out []kitLine
	total, spare := k.total, k.spare
	for i, at := range u.Places {
		line := k
		line.place, line.item, line.have = at.Location, at.Name, at.Count
		line.total = min(total, at.Count)
		line.spare = min(spare, at.Count-line.total)
		total, spare = total-line.total, spare-line.spare
		if line.take() > 0 || i == len(u.Places)-1 && len(out) == 0 {
			out = append(out, line)
		}
	}
	if total > 0 {
		out[len(out)-1].total += total // more than there is: it shows as short
	}
	return out
}

// rods are the lines of a kind of rod: of each place those that the cutting list begins,
// and spares.
func (s *Set) rods(u *certificate.Use, k kitLine) ([]kitLine, error) {
	all := s.sections()
	at := slices.IndexFunc(all, func(o section) bool { return o.name == u.Name })
	if at < 0 {
		return nil, nil
	}
	return s.rodLines(&all[at], u, k)
}

// rodLines are the lines of what is sawn from one kind of rod.
func (s *Set) rodLines(o *section, u *certificate.Use, k kitLine) ([]kitLine, error) {
	plan, _, err := s.cut(*o)
	if err != nil {
		return nil, err
	}
	k.unit = "rod"
	begun, more, total := map[string]int{}, 0, 0
	for _, b := range plan.Bars {
		if b.Offcut {
			continue
		}
		if total++; b.Stock == moreOf {
			more++
		} else {
			begun[b.Stock]++
		}
	}
	spare := max(0, min(int(math.Ceil(axleSpare*float64(total)-1e-9)), o.count-total))
	var out []kitLine
	for i, rod := range o.rods {
		line := k
		line.item, line.have, line.total = rod.Name, rod.Count, begun[rod.Name]
		line.place = u.Places[i].Location
		line.size = fmt.Sprintf("%s mm, rods of %s mm", s.across(u.Name), mm(rod.Length))
		line.spare = min(spare, rod.Count-line.total)
		if spare -= line.spare; i == len(o.rods)-1 {
			line.total += more // more than there is: it shows as short
		}
		if line.take() > 0 || i == len(o.rods)-1 && len(out) == 0 {
			out = append(out, line)
		}
	}
	return out, nil
}

// across is how thick a kind of rod is, in mm.
func (s *Set) across(stock string) string {
	for i := range s.drive.Axles {
		if a := &s.drive.Axles[i]; a.Stock == stock {
			return mm(a.Diameter)
		}
	}
	return ""
}

// sizeOf describes a part by its dimensions, so that it can be told from others
// and replaced.
func (s *Set) sizeOf(u *certificate.Use) string {
	d := s.drive
	switch u.Kind {
	case "motor":
		return fmt.Sprintf("%s V, %s mm shaft", mm(d.Motor.Rated), mm(d.Motor.ShaftDiameter))
	case "cells":
		return plural(d.Cells.Cells, "cell", "cells") + ", " + d.Cells.Chemistry
	case "wheel", "drum":
		for _, r := range []*certificate.Round{d.Wheel, d.Drum} {
			if r != nil && r.Name == u.Name {
				return fmt.Sprintf("%s mm across, bore %s mm", mm(r.Diameter), mm(r.Bore))
			}
		}
	case "spacer":
		for _, sp := range s.cert.Spacers {
			if sp.Name == u.Name {
				return fmt.Sprintf("bore %s mm, %s mm thick", mm(sp.Bore), mm(sp.Thickness))
			}
		}
	case "sleeve":
		for _, j := range s.joints() {
			if t := j.joint.Sleeve; t != nil && t.Name == u.Name {
				return fmt.Sprintf("%s mm inside, %s mm outside", mm(t.Inner), mm(t.Outer))
			}
		}
	}
	for i := range d.Stages {
		st := &d.Stages[i]
		if u.Kind == "band" && st.Band.Name == u.Name {
			return fmt.Sprintf("%s × %s mm flat", mm(st.Band.FlatLength), mm(st.Band.Width))
		}
		for _, p := range []*certificate.Pulley{&st.Driver, &st.Driven} {
			if u.Kind == "pulley" && p.Name == u.Name {
				return fmt.Sprintf("%s mm across, bore %s mm", mm(p.Outside), mm(p.Bore))
			}
		}
	}
	return ""
}

// others are things that the cupboard's list of uses does not have, for one set: the
// pieces of the frame, spacers, and what every model needs besides.
func (s *Set) others() [][2]string {
	b := s.plan.Build
	type row struct {
		name string
		n    int
	}
	var rows []row
	tubes := map[string][]cutting.Piece{}
	add := func(name string, n int) {
		at := slices.IndexFunc(rows, func(r row) bool { return r.name == name })
		if at < 0 {
			rows = append(rows, row{name: name})
			at = len(rows) - 1
		}
		rows[at].n += n
	}
	_, taken := s.washers()
	for k := range b.Parts {
		p := &b.Parts[k]
		if name := s.otherName(p); name != "" && !taken[name] {
			add(name, 1)
		}
		if p.Kind == assembly.Tube {
			tubes[p.Name] = gathered(tubes[p.Name], p.Name, p.Length)
		}
	}
	if s.model() == lift {
		add("soft mat", 1)
		if mass := s.cert.Brief.Load.Mass; mass > 0 {
			add(fmt.Sprintf("load of %s g, with a loop to hang it by", about(mass)), 1)
		}
		add("peg or catch to hold the drum when the motor is off", 1)
		if s.guideSide() != "" {
			add("guide for the cord: smooth rod or loose pulley, with what holds it", 1)
		}
	}
	var out [][2]string
	for _, r := range rows {
		if t := tubes[r.name]; t != nil {
			r.name += ": " + lengths(t) + " mm"
		}
		out = append(out, [2]string{r.name, fmt.Sprint(r.n)})
	}
	if s.model() == lift {
		out = append(out, [2]string{"tape for the cord", "some"})
	}
	if s.glued() || b.Frame.OfStrip || len(b.Frame.Joiners) > 0 {
		words := "glue"
		if !s.cert.Brief.Making.Glue {
			words = "screws, nails or glue for the frame"
		}
		out = append(out, [2]string{words, "some"})
	}
	return out
}

// otherName names a part that is not among the cupboard's uses; "" if it is.
func (s *Set) otherName(p *assembly.Part) string {
	b := s.plan.Build
	switch p.Kind {
	case assembly.Piece:
		switch {
		case p.Width > 0:
			return fmt.Sprintf("%s of sheet, %s mm: %s × %s mm", p.Name, mm(b.Frame.Sheet), mm(p.Length), mm(p.Width))
		case p.Length > 0:
			return fmt.Sprintf("%s, %s mm strip: %s mm", p.Name, mm(b.Frame.Strip), mm(p.Length))
		}
		return p.Name
	case assembly.Disc:
		return fmt.Sprintf("%s of %s, %s mm sheet: %s mm", p.Name, p.Letter, mm(p.Width), mm(p.Length))
	case assembly.Foot:
		return fmt.Sprintf("foot, %s mm strip: %s mm", mm(b.Frame.Strip), mm(p.Length))
	case assembly.Ride:
		return "ride, made beforehand, to push on the axle"
	case assembly.Tube, assembly.Washer, assembly.Mount, assembly.Switch, assembly.Wire, assembly.Cord, assembly.Blocks, assembly.Bearing:
		return p.Name
	}
	return ""
}

// Kit is the kit list, for the technician who fills the trays.
func (s *Set) Kit() (Page, error) {
	p := Page{Name: KitPage, Title: "Kit list: " + s.id.Name, Identity: s.id}
	lines, err := s.kit()
	if err != nil {
		return p, err
	}
	t := Table{Caption: "From the cupboard, for " + plural(s.sets, "tray", "trays"), Head: []string{"Where", "Part", "Size", "Each tray", "All trays", "Spare", "Take", "Have", "Picked", "Returned"}, Right: []int{3, 4, 5, 6, 7}}
	short := 0
	for _, k := range lines {
		have := k.there()
		if k.have < k.total {
			have += " SHORT"
			short++
		}
		total, take := fmt.Sprint(k.total), fmt.Sprint(k.take())
		each := fmt.Sprint(k.each)
		if k.unit == "rod" {
			each = fmt.Sprintf("%d cut", k.each)
		}
		t.Rows = append(t.Rows, []string{orDash(k.place), k.unitName() + k.item, k.size, each, total, fmt.Sprint(k.spare), take, have, "", ""})
	}
	t.Note = spareRules
	p.Blocks = append(p.Blocks, t)
	if short > 0 {
		p.Blocks = append(p.Blocks, Text{Words: "SHORT: the cupboard has not enough for so many trays.", Bold: true})
	}
	cut, err := s.cutBlocks()
	if err != nil {
		return p, err
	}
	p.Blocks = append(p.Blocks, Heading("Saw beforehand"))
	p.Blocks = append(p.Blocks, cut...)
	extra := Table{Caption: "On each tray besides: made beforehand, or not in the cupboard's file", Head: []string{"Part", "Each tray", "All trays", "Picked", "Returned"}, Right: []int{1, 2}}
	for _, o := range s.others() {
		all := "some"
		if n, err := strconv.Atoi(o[1]); err == nil {
			all = fmt.Sprint(n * s.sets)
		}
		extra.Rows = append(extra.Rows, []string{o[0], o[1], all, "", ""})
	}
	p.Blocks = append(p.Blocks, extra, Heading("When it comes back"), Steps{Ticks: true, Items: list(
		"Bands off the pulleys: left stretched they lose their pull. Perished ones go in the bin.",
		"Cells out of the holders.", "Count against the list, and write down what is lost or broken.")})
	return p, nil
}

// haveCell is how many there are in the cupboard, as a spreadsheet has it: nothing for what is
// still to be made.
func (k *kitLine) haveCell() string {
	if k.made {
		return ""
	}
	return fmt.Sprint(k.have)
}

// there is how many there are in the cupboard.
func (k *kitLine) there() string {
	if k.made {
		return "-"
	}
	return fmt.Sprint(k.have)
}

func (k *kitLine) unitName() string {
	return k.unit + " "
}

func orDash(s string) string {
	if s == "" {
		return "not said"
	}
	return s
}

// KitCSV is the kit list for a spreadsheet: UTF-8 with a byte order mark, which
// office programs need, commas, and names that would be taken for a formula with
// an apostrophe in front.
func (s *Set) KitCSV(w io.Writer) error {
	lines, err := s.kit()
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{"where", "kind", "part", "size", "each_tray", "trays", "all_trays", "spare", "take", "have", "short", "picked", "returned", "design"}}
	for _, k := range lines {
		rows = append(rows, []string{plain(k.place), k.unit, plain(k.item), plain(k.size), fmt.Sprint(k.each), fmt.Sprint(s.sets), fmt.Sprint(k.total), fmt.Sprint(k.spare),
			fmt.Sprint(k.take()), k.haveCell(), fmt.Sprint(max(0, k.total-k.have)), "", "", plain(s.id.Line() + ", " + s.id.Print)})
	}
	return out.WriteAll(rows)
}

// plain keeps a spreadsheet from running words as a formula: what begins with
// = + - @, a tab or a return gets an apostrophe (common practice).
func plain(words string) string {
	start := strings.TrimLeft(words, " \u00a0")
	if start == "" || !strings.ContainsRune("=+-@\t\r\n", rune(start[0])) {
		return words
	}
	return "'" + words
}
