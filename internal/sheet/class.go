package sheet

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/cutting"
	"findrive/internal/units"
)

// ClassShare is a drive that some groups of a class build.
type ClassShare struct {
	*Set
	Letter string
	First  int // of the groups, from 1; a tray has the number of its group
	Groups int
	Brief  string // its name, where there are several; else empty
}

// trays names the trays of a share: "1 to 4", "5".
func (s *ClassShare) trays() string {
	if s.Groups == 1 {
		return fmt.Sprint(s.First)
	}
	return fmt.Sprintf("%d to %d", s.First, s.First+s.Groups-1)
}

// trayWords are the trays of a share, as a caption has them.
func (s *ClassShare) trayWords() string {
	if s.Groups == 1 {
		return "tray " + s.trays()
	}
	return "trays " + s.trays()
}

// Class is several drives that are built at the same time from one cupboard.
type Class struct {
	Name   string
	Shares []ClassShare
	Date   string
	// Orders are lines of what is bought, one for each supplier; may be empty.
	Orders []string
	sawn   map[string]*cutting.Plan // how a kind of rod is sawn, by its first name, where that is settled
}

// ClassPage is the page for the whole class, ClassKitPage its kit list by tray, and
// ClassDiscsPage has the discs of all trays, where pulleys are to be made.
const (
	ClassPage      = "class"
	ClassKitPage   = "class-kit"
	ClassDiscsPage = "class-discs"
)

// Page is one of the pages of the class as a whole: ClassPage or ClassKitPage.
func (c *Class) Page(name string) (Page, error) {
	if name == ClassKitPage {
		return c.Kit()
	}
	return c.Whole(), nil
}

// FileName is what the file of such a page is called, without its ending.
func (c *Class) FileName(page string) string { return Slug(c.Name) + "-" + page }

// ShareName is what the files of a share's own pages begin with.
func (c *Class) ShareName(share int) string {
	s := &c.Shares[share]
	return Slug(cmp.Or(s.Brief, c.Name)) + "-" + s.Letter
}

func (c *Class) identity() Identity {
	var prints []string
	for i := range c.Shares {
		prints = append(prints, c.Shares[i].Letter+" "+c.Shares[i].print())
	}
	return Identity{Name: c.Name, Date: c.Date, Print: "cupboard " + c.Shares[0].cert.Prints.Cupboard + ", drives " + strings.Join(prints, ", ")}
}

func (c *Class) groups() int {
	n := 0
	for i := range c.Shares {
		n += c.Shares[i].Groups
	}
	return n
}

// classLine is one kind of part for all trays.
type classLine struct {
	kitLine
	by  []int // each tray of each share
	use *certificate.Use
	of  *Set
}

// lines adds up what all trays take, sorted by where it is.
func (c *Class) lines() ([]classLine, error) {
	var all []classLine
	for i := range c.Shares {
		s := &c.Shares[i]
		uses := s.uses()
		for k := range uses {
			u := &uses[k]
			at := slices.IndexFunc(all, func(l classLine) bool {
				return l.unit == u.Kind && (l.item == u.Name || slices.Contains(u.Also, l.item))
			})
			if at < 0 {
				at = len(all)
				all = append(all, classLine{kitLine: kitLine{item: u.Name, size: s.sizeOf(u), have: u.Have, unit: u.Kind, made: s.toMake(u)}, by: make([]int, len(c.Shares)), use: u, of: s.Set})
			}
			all[at].by[i] += u.Each
			all[at].total += u.Each * s.Groups
			all[at].have = max(all[at].have, u.Have)
		}
	}
	var out []classLine
	for i := range all {
		l := all[i]
		places, err := c.places(&l)
		if err != nil {
			return nil, err
		}
		for _, at := range places {
			line := l
			line.kitLine = at
			out = append(out, line)
		}
	}
	for _, l := range sheetLines(c.discShares()) {
		out = append(out, classLine{kitLine: l, by: make([]int, len(c.Shares))}) // on no tray
	}
	sortStable(out, func(a, b classLine) int {
		return cmp.Or(cmp.Compare(unplaced(a.kitLine), unplaced(b.kitLine)), cmp.Compare(a.place, b.place))
	})
	return out, nil
}

// places shares a line out over where its part is kept, with spares; of axles, the rods that
// are sawn for all trays.
func (c *Class) places(l *classLine) ([]kitLine, error) {
	if l.unit != "axle" {
		if !l.made {
			l.spare = max(0, min(sparesOf(l.unit, l.total, c.groups()), l.have-l.total))
		}
		return l.of.places(l.use, l.kitLine), nil
	}
	for _, o := range c.sections() {
		if o.name == l.item {
			one := *l.of
			one.sets = 1
			return one.rodLines(&o, l.use, l.kitLine)
		}
	}
	return nil, nil
}

// sparesOf is how many more of a part to take than so many, for so many groups.
func sparesOf(kind string, total, groups int) int {
	share := 0.0
	switch kind {
	case "band":
		share = bandSpare
	case "pulley", "wheel", "drum", "sleeve":
		share = pulleySpare
	case "motor":
		return motorSpare
	case "cells":
		return (groups + cellGroups - 1) / cellGroups
	}
	return int(math.Ceil(share*float64(total) - 1e-9))
}

// sections are what is cut from each kind of rod, strip and tube for all trays.
func (c *Class) sections() []section {
	var out []section
	for i := range c.Shares {
		s := &c.Shares[i]
		for _, o := range s.sections() {
			at := slices.IndexFunc(out, func(x section) bool { return x.name == o.name })
			if at < 0 {
				at = len(out)
				pieces := o.pieces
				o.pieces = nil
				out = append(out, o)
				o.pieces = pieces
			}
			for _, p := range o.pieces {
				p.Mark = "drive " + s.Letter + ", " + p.Mark
				p.Count *= s.Groups
				out[at].pieces = append(out[at].pieces, p)
			}
		}
	}
	for i := range out {
		out[i].sawn = c.sawn[out[i].kind()]
	}
	return out
}

// one is a set as the cutting list takes it when all trays have been added up.
func (c *Class) one() *Set {
	s := *c.Shares[0].Set
	s.sets = 1
	return &s
}

// Kit is the kit list for all trays: what to take out of the cupboard once, what goes on
// which tray, and what to saw.
func (c *Class) Kit() (Page, error) {
	p := Page{Name: ClassKitPage, Title: "Kit list by tray: " + c.Name, Identity: c.identity()}
	lines, err := c.lines()
	if err != nil {
		return p, err
	}
	t := Table{Caption: "Take out of the cupboard, for " + plural(c.groups(), "tray", "trays"), Head: []string{"Where", "Part", "Size", "All trays", "Spare", "Take", "Have", "Picked", "Returned"}, Right: []int{3, 4, 5, 6}, Note: spareRules}
	short := false
	for i := range lines {
		l := &lines[i]
		have := l.there()
		if l.have < l.total {
			have, short = have+" SHORT", true
		}
		t.Rows = append(t.Rows, []string{orDash(l.place), l.unitName() + l.item, l.size, fmt.Sprint(l.total), fmt.Sprint(l.spare), fmt.Sprint(l.take()), have, "", ""})
	}
	p.Blocks = append(p.Blocks, t)
	if short {
		p.Blocks = append(p.Blocks, Text{Words: "SHORT: the cupboard has not enough for so many trays.", Bold: true})
	}
	p.Blocks = append(p.Blocks, Heading("Fill the trays"))
	for i := range c.Shares {
		p.Blocks = append(p.Blocks, c.tray(i, lines))
	}
	saw := Table{Caption: "Saw beforehand, for all trays", Head: []string{"From", "Take", "Saw from each", "Left mm"}, Right: []int{3}, Names: true}
	for _, o := range c.sections() {
		plan, more, err := c.one().cut(o)
		if err != nil {
			return p, fmt.Errorf("%s: %w", o.words, err)
		}
		saw.Rows = append(saw.Rows, sawingRows(o, plan)...)
		if more {
			saw.Note += o.words + ": MORE than the cupboard has. "
		}
	}
	for i := range c.Shares {
		_, from := c.Shares[i].sleeveRows(c.Shares[i].Groups)
		saw.Rows = append(saw.Rows, from...)
	}
	saw.Note += fmt.Sprintf("The saw takes %s mm at each cut. An adult's job.", mm(c.Shares[0].opt.Kerf))
	if len(c.sawn) > 0 {
		saw.Note += " Keep what is left: other briefs need it as offcuts."
	}
	p.Blocks = append(p.Blocks, saw)
	p.Blocks = append(p.Blocks, discBlocks(c.discShares(), plural(c.groups(), "tray", "trays"))...)
	p.Blocks = append(p.Blocks, Heading("When it comes back"), Steps{Ticks: true, Items: list(
		"Bands off the pulleys: left stretched they lose their pull. Perished ones go in the bin.",
		"Cells out of the holders.", "Count against the list, and write down what is lost or broken.")})
	return p, nil
}

// tray is what goes on each tray of a share.
func (c *Class) tray(i int, lines []classLine) Table {
	s := &c.Shares[i]
	brief := ""
	if s.Brief != "" {
		brief = s.Brief + ", "
	}
	t := Table{Caption: fmt.Sprintf("%sdrive %s, %s: on each", units.Capital(brief), s.Letter, s.trayWords()), Head: []string{"Part", "Size", "How many", "Done"}, Right: []int{2}}
	if brief == "" {
		t.Caption = fmt.Sprintf("Drive %s, %s: on each", s.Letter, s.trayWords())
	}
	met := map[string]bool{}
	for k := range lines {
		l := &lines[k]
		if l.by[i] == 0 || met[l.use.Kind+l.use.Name] {
			continue
		}
		met[l.use.Kind+l.use.Name] = true
		n, size, name := fmt.Sprint(l.by[i]), l.size, l.use.Name
		if l.use.Kind == "axle" { // of whichever rod it was sawn from
			n, size = n+" cut", l.of.across(l.use.Name)+" mm"
		} else { // from whichever tub it was taken
			for m := range lines {
				if o := &lines[m]; o.use == l.use && o.item != l.use.Name {
					name += " or " + o.item
				}
			}
		}
		t.Rows = append(t.Rows, []string{l.use.Kind + " " + name, size, n, ""})
	}
	for _, o := range s.others() {
		t.Rows = append(t.Rows, []string{o[0], "-", o[1], ""})
	}
	return t
}

// KitCSV is the kit list for a spreadsheet, to be filled in and given to stock back.
func (c *Class) KitCSV(w io.Writer) error {
	lines, err := c.lines()
	if err != nil {
		return err
	}
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	id := c.identity()
	rows := [][]string{{"where", "kind", "part", "size", "each_tray", "trays", "all_trays", "spare", "take", "have", "short", "picked", "returned", "design"}}
	for i := range lines {
		l := &lines[i]
		var each []string
		for k, n := range l.by {
			if n > 0 {
				each = append(each, fmt.Sprintf("%s: %d", c.Shares[k].Letter, n))
			}
		}
		rows = append(rows, []string{plain(l.place), l.unit, plain(l.item), plain(l.size), strings.Join(each, "; "), fmt.Sprint(c.groups()), fmt.Sprint(l.total), fmt.Sprint(l.spare),
			fmt.Sprint(l.take()), l.haveCell(), fmt.Sprint(max(0, l.total-l.have)), "", "", plain(id.Line() + ", " + id.Print)})
	}
	return out.WriteAll(rows)
}

// Whole is the page for the whole class: who builds what, what it is for the adult to see
// to, and where each group's papers are.
func (c *Class) Whole() Page {
	p := Page{Name: ClassPage, Title: "For the whole class: " + c.Name, Identity: c.identity()}
	t := Table{Caption: "Who builds what", Head: []string{"Drive", "Groups", "Trays", "Goes", "Motor and cells", "Pulleys, from the motor"}, Names: true}
	for i := range c.Shares {
		s := &c.Shares[i]
		name := s.Letter
		if s.Brief != "" {
			name += ", " + s.Brief
		}
		var pairs []string
		for k := range s.drive.Stages {
			st := &s.drive.Stages[k]
			pairs = append(pairs, st.Driver.Name+" turns "+st.Driven.Name)
		}
		t.Rows = append(t.Rows, []string{name, fmt.Sprint(s.Groups), s.trays(), s.goes(), s.drive.Motor.Name + ", " + plural(s.drive.Cells.Cells, "cell", "cells"), strings.Join(pairs, ", ")})
	}
	t.Note = "A tray has the number of its group. Each drive's papers carry its letter."
	p.Blocks = append(p.Blocks, t)
	if len(c.Orders) > 0 {
		p.Blocks = append(p.Blocks, Heading("To be bought first"), Steps{Ticks: true, Items: list(c.Orders...)})
	}
	p.Blocks = append(p.Blocks, Heading("Before the lesson"), Steps{Ticks: true, Items: list(
		"Fill the trays from the kit list, and tick what is picked.",
		"Saw the rods and strips, and drill what is marked as an adult's job.",
		"Print each drive's pages once for each of its groups.",
		"Build one of each drive yourself, and measure it as its build sheet says.")})
	p.Blocks = append(p.Blocks, c.results(), Text{Words: "Sawing and drilling are an adult's job or closely supervised. A motor that is held gets hot: off within a few seconds. Your school's own risk assessment, local codes and competent staff decide."})
	return p
}

// results is a table to fill in with what the groups counted: turns, or seconds where the build
// sheet times a run; with what it is in each row where drives of both kinds are built.
func (c *Class) results() Table {
	var over []string
	for i := range c.Shares {
		over = append(over, c.Shares[i].timed())
	}
	t := Table{Caption: "What the groups counted", Head: []string{"Group", "Drive", "Turns", "In how many seconds", "What helped"}, Least: 8}
	one := len(slices.Compact(slices.Clone(over))) == 1
	switch {
	case !one:
		t.Head = []string{"Group", "Drive", "What to count", "Counted", "What helped"}
	case over[0] != "":
		t.Head = []string{"Group", "Drive", "Seconds for " + over[0], "What helped"}
	}
	for i := range c.Shares {
		s := &c.Shares[i]
		for n := range s.Groups {
			if len(t.Rows) == mostCounted {
				break
			}
			row := make([]string, len(t.Head))
			row[0], row[1] = fmt.Sprint(s.First+n), s.Letter
			if !one {
				row[2] = fmt.Sprintf("turns of %s in %d s", s.outputLetter(), s.window())
				if over[i] != "" {
					row[2] = "seconds for " + over[i]
				}
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return t
}

// mostCounted is how many groups the table to fill in has rows for.
const mostCounted = 40

// goes is how fast a drive goes, in words.
func (s *Set) goes() string {
	d := s.drive
	if t := d.Travel; t != nil {
		return fmt.Sprintf("about %.0f mm each second", float64(t.Likely)*1000)
	}
	return fmt.Sprintf("about %.0f turns a minute", float64(d.Speed.Likely))
}
