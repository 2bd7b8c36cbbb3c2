package stocktake

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"
)

// collecting is all lists on their way to one cupboard.
type collecting struct {
	opt     Options
	result  *Result
	taking  []*taking // one for each list; nil for those that are not read
	entries []entry
}

func (c *collecting) row(p Place) *Row { return &c.result.Lists[p.List].Rows[p.Row] }

// Read makes a cupboard file of one file with lists in it. name is the file's name in
// messages. The error is a plain sentence: this is no list, or one beyond the limits.
func Read(name string, data []byte, opt Options) (*Result, error) {
	return ReadAll([]Sheet{{name, data}}, opt)
}

// ReadAll makes one cupboard file of all sheets of several files. The error is a plain
// sentence about the first file that is no list, or one beyond the limits.
func ReadAll(files []Sheet, opt Options) (*Result, error) {
	c := &collecting{opt: opt, result: &Result{}}
	var names []string
	for _, f := range files {
		names = append(names, f.Name)
		if err := c.open(f); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	c.result.Name = strings.Join(names, ", ")
	if len(c.result.Lists) > MaxLists {
		return nil, fmt.Errorf("there are %d sheets in all, the most is %d", len(c.result.Lists), MaxLists)
	}
	if opt.CountColumn != "" && !c.picked() {
		return nil, fmt.Errorf("--count %s: no list has a column of that heading, or is open about the column of that letter: give the heading of the column that has the counts", opt.CountColumn)
	}
	c.take()
	if opt.Usual {
		// Bores are usual on the dowel there is, which may be listed after them.
		if dowel := dowelOf(c.entries); dowel > 0 {
			for _, t := range c.taking {
				if t != nil {
					t.axle = dowel
				}
			}
			c.take()
		}
	}
	for i, t := range c.taking {
		if t != nil {
			c.ask(i, t)
		}
	}
	c.tubs()
	c.names()
	if err := c.write(c.result); err != nil {
		return nil, fmt.Errorf("%s: %w", c.result.Name, err)
	}
	c.lacks()
	return c.result, nil
}

// picked reports whether what the user says about the column of counts fits any table.
func (c *collecting) picked() bool {
	for _, t := range c.taking {
		if t != nil && slices.ContainsFunc(t.tables, func(h *heading) bool { return h.picked }) {
			return true
		}
	}
	return false
}

// open reads the sheets of a file and finds their tables.
func (c *collecting) open(f Sheet) error {
	if say := wrongSort(f.Data); say != "" {
		return errors.New(say)
	}
	grids, err := open(f.Data, stockOrKit)
	if err != nil {
		return err
	}
	switch {
	case len(grids) > 1:
	case len(c.opt.Headings) > 0:
		grids[0].head(c.opt.Headings, c.opt.Headed)
	case !grids[0].workbook && !grids[0].headed():
		if lines := grids[0].inLines(f.Data); lines != nil {
			grids[0] = lines
		}
	}
	read := 0
	var first error
	for _, g := range grids {
		l := List{File: f.Name, Sheet: g.sheet, How: g.how, Lines: g.lines}
		if g.workbook && g.sheet == "" {
			l.Sheet = "unnamed"
		}
		t := &taking{list: len(c.result.Lists), grid: g, opt: c.opt, named: kindOver(nameFor(f.Name, g))}
		switch t.tables, err = findTables(g, c.opt); {
		case len(grids) > 1 && sumsUp[plainWords(g.sheet)]:
			l.Unread, t = "its name says that it sums up the others", nil
		case g.hidden:
			l.Unread, t = "the sheet is hidden in the workbook", nil
		case err != nil:
			if first == nil {
				first = err
			}
			l.Unread, t = "no row of headings", nil
			if saidRows(g) == 0 {
				l.Unread = "empty"
			}
		default:
			read++
			if err := priceList(t.tables); err != nil {
				return err
			}
			if err := kitList(g); err != nil {
				return err
			}
			for _, h := range t.tables {
				l.Tables = append(l.Tables, Table{Heading: g.rows[h.at].number, Columns: h.columns()})
			}
		}
		c.result.Lists, c.taking = append(c.result.Lists, l), append(c.taking, t)
	}
	if read == 0 && first != nil {
		return first
	}
	if read == 0 {
		return errors.New("all its sheets are hidden: show the one with the stock, and save it again")
	}
	return nil
}

// sumsUp are names of sheets that count once more what is on others.
var sumsUp = map[string]bool{"summary": true, "totals": true, "total": true, "overview": true, "contents": true, "index": true, "sum": true, "dashboard": true, "pivot": true}

// nameFor is the name that may say what kind of part a list is of.
func nameFor(file string, g *grid) string {
	if g.workbook {
		return g.sheet
	}
	return strings.ReplaceAll(strings.TrimSuffix(path.Base(file), path.Ext(file)), "_", " ")
}

func saidRows(g *grid) int {
	n := 0
	for i := range g.rows {
		if !g.rows[i].blank() {
			n++
		}
	}
	return n
}

// kitList refuses a list of what to take out and bring back.
func kitList(g *grid) error {
	h, err := findHeading(g, kitWords)
	if err == nil && h.column(takeField) >= 0 && (h.column(pickedField) >= 0 || h.column(returnedField) >= 0) && slices.ContainsFunc(h.list, func(c column) bool { return plainWords(c.heading) == "each tray" }) {
		return errors.New("this is a kit list, not a list of stock: it goes to findrive stock back")
	}
	return nil
}

// take goes through the rows of all lists.
func (c *collecting) take() {
	c.entries = nil
	for i, t := range c.taking {
		if t == nil {
			continue
		}
		t.rows, t.entries, t.asks, t.heading, t.section, t.left, t.above, t.away = nil, nil, nil, nil, nil, 0, naming{}, ""
		t.take()
		if c.result.Lists[i].Lines {
			t.withoutColumns()
		}
		c.result.Lists[i].Rows = t.rows
		c.entries = append(c.entries, t.entries...)
	}
}

// ask gathers the questions of a list.
func (c *collecting) ask(list int, t *taking) {
	where := ""
	if len(c.result.Lists) > 1 {
		where = c.result.nameOf(list) + ": "
	}
	for _, h := range t.tables {
		for _, a := range h.asks {
			if len(t.tables) > 1 {
				a = fmt.Sprintf("headings in row %d: %s", t.grid.rows[h.at].number, a)
			}
			c.result.Asks = append(c.result.Asks, where+a)
		}
	}
	for _, a := range t.asks {
		c.result.Asks = append(c.result.Asks, where+a)
	}
}
