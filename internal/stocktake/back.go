package stocktake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Sheet is a file with a table in it.
type Sheet struct {
	Name string
	Data []byte
}

// Line is one part that was counted.
type Line struct {
	Row               int // number of its row
	Kind, Name, Where string
	// Taken is how many were taken out; for a sheet of all stock, how many there
	// were.
	Taken int
	// Counted is false where nothing was written down; Back and Damaged are then 0.
	Counted       bool
	Back, Damaged int  // Damaged are of those that are back
	Consumed      bool // rods and sheets are cut up: what is not back has been used
}

// Missing is how many are not back, below 0 if more are back than were taken. What
// has been used is not missing.
func (l *Line) Missing() int {
	if !l.Counted || l.Consumed && l.Back < l.Taken {
		return 0
	}
	return l.Taken - l.Back
}

// Return is what a count says.
type Return struct {
	Name  string
	How   []string
	Kit   bool // a kit list; otherwise a sheet of all stock
	Lines []Line
	Rows  []Row // what became of each row of the sheet, and then of the count's
	// Changes are the parts of the cupboard whose count changes.
	Changes []Change
	// Strange are parts that the cupboard does not have.
	Strange []string
	// Made are pulleys that were made of discs, which the cupboard has not either.
	Made []string
	// Over are parts of which more were taken out than the cupboard file has: they were
	// bought since. What came back of them is counted all the same.
	Over []string
	// Cupboard is the cupboard file with the counts of today; nil without a cupboard,
	// or if nothing changes.
	Cupboard []byte
}

// Back checks a count against a kit list, the CSV that findrive sheet writes, with the
// columns picked and returned filled in; or a count sheet against the whole stock. If
// the count is on a sheet of its own, that is counted; it may be nil. cupboard, if not
// nil, is the cupboard file as it was before the kit was taken out of it; the one with
// the counts of today is made of it. date is written into that; it may be empty.
//
// A kit list has a column of what to take; a sheet without one is a sheet of all stock.
// Where nothing is written under picked, as many were taken as the list says. Where
// nothing is written under returned, the part was not counted, and its stock stays as
// it was. The error is a plain sentence.
func Back(kit Sheet, counted, cupboard *Sheet, date string) (*Return, error) {
	r := &Return{Name: kit.Name}
	g, h, err := kitGrid(kit)
	if err != nil {
		return nil, err
	}
	r.How = g.how
	r.Kit = h.column(takeField) >= 0 || h.column(pickedField) >= 0
	if h.column(returnedField) < 0 && h.column(damagedField) < 0 && counted == nil {
		return nil, fmt.Errorf("%s: there is no column returned or count, in which what came back is written: write it among the headings", kit.Name)
	}
	if counted != nil && !r.Kit {
		return nil, fmt.Errorf("%s: this is no kit list: it has no column take", kit.Name)
	}
	r.readLines(g, h)
	if counted != nil {
		if err := r.join(*counted); err != nil {
			return nil, err
		}
	}
	if cupboard != nil {
		if err := r.update(*cupboard, date); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func kitGrid(s Sheet) (*grid, *heading, error) {
	grids, err := open(s.Data, stockOrKit)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	g := mostKnown(grids, func(cells []string) int { return knownIn(cells, kitWords) })
	h, err := findHeading(g, kitWords)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: no row of headings was found: write those of the kit list, with part, kind, take and returned", s.Name)
	}
	if h.column(labelField) < 0 {
		return nil, nil, fmt.Errorf("%s: there is no column part, which says what was counted: write it among the headings", s.Name)
	}
	return g, h, nil
}

// readLines reads the rows of a sheet.
func (r *Return) readLines(g *grid, h *heading) {
	t := taking{grid: g, heading: h}
	for i := range g.rows {
		row := Row{Number: g.rows[i].number, First: g.rows[i].first, Last: g.rows[i].last, Verdict: Ignored, Words: t.wordsOf(i)}
		if why := t.bare(i); why != "" {
			row.Bare, row.Remarks = true, []Remark{{Column: Nowhere, Text: why}}
			r.Rows = append(r.Rows, row)
			continue
		}
		l, err := t.line(g.rows[i].cells, &row, r.Kit)
		var no *refused
		if errors.As(err, &no) {
			row.Remarks = []Remark{{Column: no.column, Text: no.why}}
			r.Rows = append(r.Rows, row)
			continue
		}
		l.Row = row.Number
		row.Verdict, row.Part = Used, l.Kind+"."+l.Name
		if slices.ContainsFunc(row.Remarks, func(m Remark) bool { return m.Assumes }) {
			row.Verdict = Assumed
		}
		r.Rows, r.Lines = append(r.Rows, row), append(r.Lines, l)
	}
}

// line reads one row.
func (t *taking) line(cells []string, r *Row, kit bool) (Line, error) {
	var l Line
	l.Name = t.label(cells)
	if l.Name == "" {
		return l, refuse(t.heading.column(labelField), "it does not say what part it is")
	}
	kind, at := t.cell(cells, kindField)
	if strings.EqualFold(kind, "rod") {
		l.Consumed, kind = true, "axle"
	} else if strings.EqualFold(kind, "sheet") {
		l.Consumed, kind = kit, "sheet"
	} else if known := kindIn(kind).kind; known != "" {
		kind = known
	} else if at >= 0 && kind != "" {
		return l, refuse(at, "%s is no kind of part known here", units.Quoted(kind))
	}
	l.Kind = kind
	l.Where, _ = t.cell(cells, locationField)
	if kit {
		n, _, ok, err := t.number(cells, r, pickedField)
		if err != nil {
			return l, err
		}
		if !ok {
			if n, _, ok, err = t.number(cells, r, takeField); err != nil {
				return l, err
			}
		}
		if !ok {
			return l, refuse(t.heading.column(pickedField), "it does not say how many were taken")
		}
		l.Taken = n
	}
	back, broken, ok, err := t.number(cells, r, returnedField)
	if err != nil {
		return l, err
	}
	damaged, _, said, err := t.number(cells, r, damagedField)
	if err != nil {
		return l, err
	}
	l.Counted, l.Back, l.Damaged = ok, back, broken+damaged
	switch {
	case !ok && said && damaged > 0:
		return l, refuse(t.heading.column(returnedField), "it says how many are damaged, but not how many are back")
	case l.Damaged > l.Back:
		return l, refuse(t.heading.column(damagedField), "%d damaged are more than are back, %d: count the damaged ones among those that are back", l.Damaged, l.Back)
	}
	return l, nil
}

// number is a count in a column; not ok if nothing is written there.
func (t *taking) number(cells []string, r *Row, f field) (n, damaged int, ok bool, err error) {
	text, at := t.cell(cells, f)
	if text == "" || strings.Trim(text, "?") == "" {
		return 0, 0, false, nil
	}
	c, err := readCount(text, 0)
	if err != nil {
		return 0, 0, false, refuse(at, "%s", err.Error())
	}
	if c.assumed != "" {
		r.assume(at, false, c.assumed)
	}
	return c.n, c.damaged, true, nil
}

// join fills in what is back from a count on a sheet of its own.
func (r *Return) join(counted Sheet) error {
	g, h, err := kitGrid(counted)
	if err != nil {
		return err
	}
	if h.column(returnedField) < 0 {
		return fmt.Errorf("%s: there is no column returned or count: write it among the headings", counted.Name)
	}
	other := Return{}
	other.readLines(g, h)
	rows := map[int]*Row{}
	for i := range other.Rows {
		rows[other.Rows[i].Number] = &other.Rows[i]
	}
	for _, c := range other.Lines {
		if !c.Counted {
			continue
		}
		var fits []*Line
		for i := range r.Lines {
			l := &r.Lines[i]
			if strings.EqualFold(l.Name, c.Name) && (c.Kind == "" || l.Kind == c.Kind) && (c.Where == "" || strings.EqualFold(l.Where, c.Where)) {
				fits = append(fits, l)
			}
		}
		why := ""
		switch {
		case len(fits) == 0:
			why = "the kit list does not have it"
		case len(fits) > 1:
			why = "the kit list has it more than once: say where it is kept, and its kind"
		case fits[0].Counted:
			why = "it is counted already"
		default:
			fits[0].Counted, fits[0].Back, fits[0].Damaged = true, c.Back, c.Damaged
			continue
		}
		row := rows[c.Row]
		row.Verdict, row.Part, row.Remarks = Ignored, "", []Remark{{Column: Nowhere, Text: why}}
	}
	for i := range other.Rows {
		if words := other.Rows[i].Words; words != "" {
			other.Rows[i].Words = counted.Name + ": " + words
		}
	}
	r.Rows = append(r.Rows, other.Rows...)
	return nil
}

// update makes the cupboard of today.
func (r *Return) update(cupboard Sheet, date string) error {
	cup, err := parts.Read(cupboard.Name, cupboard.Data)
	if err != nil {
		return err
	}
	found, taken := map[[2]string]*Change{}, map[[2]string]int{}
	var order [][2]string
	for i := range r.Lines {
		l := &r.Lines[i]
		kind, it := partOf(cup, l)
		if it == nil && l.Where == parts.ToBeMade {
			r.Made = append(r.Made, l.Name)
			continue
		}
		if it == nil {
			r.Strange = append(r.Strange, strings.TrimSpace(l.Kind+" "+l.Name))
			continue
		}
		if !r.Kit {
			l.Taken = it.Count
		}
		if !l.Counted {
			continue
		}
		id := [2]string{kind, it.Name}
		c := found[id]
		if c == nil {
			c = &Change{Kind: kind, Name: it.Name, Before: it.Count, After: it.Count}
			found[id], order = c, append(order, id)
			if !r.Kit {
				c.After = 0
			}
		}
		taken[id] += l.Taken
		c.After += l.Back - l.Damaged
		if r.Kit {
			c.After -= l.Taken
		}
	}
	for _, id := range order {
		c := found[id]
		if over := taken[id] - c.Before; r.Kit && over > 0 {
			r.Over = append(r.Over, fmt.Sprintf("%s %s: %d were taken out, and the file has %d", c.Kind, c.Name, taken[id], c.Before))
			c.After += over
		}
		c.After = min(max(c.After, 0), mostCount)
		if c.After != c.Before {
			r.Changes = append(r.Changes, *c)
		}
	}
	if len(r.Changes) == 0 {
		return nil
	}
	r.Cupboard, err = recount(cupboard.Name, cupboard.Data, r.Changes, fmt.Sprintf("Counts brought up to date by findrive stock from %s%s.", cleanName(r.Name), dated(date)))
	return err
}

// partOf is the part of the cupboard that a line means, and its kind; nil if there is
// none. A line without a kind means the only part of that name.
func partOf(cup *parts.Cupboard, l *Line) (kind string, it *parts.Item) {
	n := 0
	cup.Recounted(func(k string, part *parts.Item) int {
		if (l.Kind == "" || k == l.Kind) && strings.Join(cleaned([]string{part.Name}), "") == l.Name {
			found := *part
			kind, it = k, &found
			n++
		}
		return part.Count
	})
	if n > 1 {
		return "", nil
	}
	return kind, it
}
