package sheet

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/discdrawing"
	"findrive/internal/drawing"
	"findrive/internal/making"
	"findrive/internal/units"
)

// discShare is a drive of which so many sets are built, with its letter where there are
// several.
type discShare struct {
	*Set
	drive string
	sets  int
}

// jobOf is what is to be cut for all of some drives.
func jobOf(id Identity, shares []discShare) *discdrawing.Job {
	j := &discdrawing.Job{Foot: id.Line() + ": " + id.Print}
	for _, s := range shares {
		for _, p := range s.made() {
			at := slices.IndexFunc(j.Pulleys, func(q discdrawing.Pulley) bool {
				return q.Drive == s.drive && q.Layers == p.Made.Layers && q.Bore == units.Millimetres(p.Bore) && q.Core == drawnDisc(&p.Made.Core) && q.Flange == drawnDisc(&p.Made.Flange)
			})
			if at < 0 {
				at = len(j.Pulleys)
				j.Pulleys = append(j.Pulleys, discdrawing.Pulley{Drive: s.drive, Sets: s.sets, Core: drawnDisc(&p.Made.Core), Flange: drawnDisc(&p.Made.Flange), Layers: p.Made.Layers, Bore: units.Millimetres(p.Bore)})
			}
			j.Pulleys[at].Letters = append(j.Pulleys[at].Letters, p.letter)
		}
	}
	var err error
	if j.Pieces, err = nestedOf(shares); err != nil {
		j.Short = err.Error()
	}
	return j
}

// sheetsOf are the sheets that the discs of some drives are cut from; all are of one
// cupboard.
func sheetsOf(shares []discShare) *certificate.Discs {
	for _, s := range shares {
		if s.cert.Discs != nil {
			return s.cert.Discs
		}
	}
	return nil
}

// nestedOf lays the discs of all of some drives on the sheets there are.
func nestedOf(shares []discShare) ([]making.Piece, error) {
	sheets := sheetsOf(shares)
	if sheets == nil {
		return nil, fmt.Errorf("the file does not say which sheets there are")
	}
	var all []making.Several
	for _, s := range shares {
		for _, p := range s.made() {
			all = append(all, making.Several{Pulley: p.ToMake(), Count: s.sets})
		}
	}
	return making.Nest(sheets.Stock(), all)
}

// discBlocks are the discs on a cutting list; none where no pulley is to be made.
func discBlocks(shares []discShare, sets string) []Block {
	t := Table{Caption: "Discs for the pulleys to be made", Head: []string{"Disc", "From", "Across mm", "Hole mm", "How", "Each set", sets}, Right: []int{2, 3, 5, 6}, Names: true}
	for _, s := range shares {
		row := func(what string, p *fitted, d *certificate.Disc, n int) {
			if s.drive != "" {
				what = "Drive " + s.drive + ": " + strings.ToLower(what)
			}
			t.Rows = append(t.Rows, []string{what + " of " + p.letter, d.Sheet + ", " + d.Kind + " " + mm(d.Thickness) + " mm", mm(d.Diameter), mm(p.Bore), cutBy(d.Way), fmt.Sprint(n), fmt.Sprint(n * s.sets)})
		}
		for _, p := range s.made() {
			row("Large disc", &p, &p.Made.Flange, 2)
			row("Small disc", &p, &p.Made.Core, p.Made.Layers)
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	used, err := sheetsUsed(shares)
	if err != nil {
		return []Block{t, Text{Words: "SHORT: " + err.Error() + ".", Bold: true}}
	}
	var notes []string
	for _, u := range used {
		place := ""
		if u.Location != "" {
			place = ", " + u.Location
		}
		notes = append(notes, fmt.Sprintf("Take %d of %d of %s (%s × %s mm%s); %.0f %% of it is left over.", u.taken, u.Count, u.Name, mm(u.Length), mm(u.Width), place, 100*u.left))
	}
	t.Note = strings.Join(notes, " ") + " The discs lie in rows, the largest first, as the discs page shows."
	return []Block{t}
}

// usedSheet is a kind of sheet of which some are taken.
type usedSheet struct {
	*certificate.Sheet
	taken int
	left  float64 // share of them that is not in discs
}

// sheetsUsed are the sheets that the discs of some drives take.
func sheetsUsed(shares []discShare) ([]usedSheet, error) {
	pieces, err := nestedOf(shares)
	if err != nil {
		return nil, err
	}
	var out []usedSheet
	sheets := sheetsOf(shares)
	for k := range sheets.Sheets {
		u := usedSheet{Sheet: &sheets.Sheets[k]}
		for i := range pieces {
			if pieces[i].Sheet.Name == u.Name {
				u.taken++
				u.left += pieces[i].Waste()
			}
		}
		if u.taken > 0 {
			u.left /= float64(u.taken)
			out = append(out, u)
		}
	}
	return out, nil
}

// sheetLines are the sheets on a kit list; those that do not reach are told on the cutting
// list.
func sheetLines(shares []discShare) []kitLine {
	if len(shares) == 0 || len(shares[0].made()) == 0 {
		return nil
	}
	used, err := sheetsUsed(shares)
	if err != nil {
		return nil
	}
	var out []kitLine
	for _, u := range used {
		out = append(out, kitLine{place: u.Location, item: u.Name, size: fmt.Sprintf("%s, %s mm, %s × %s mm", u.Kind, mm(u.Thickness), mm(u.Length), mm(u.Width)),
			total: u.taken, have: u.Count, unit: "sheet"})
	}
	return out
}

// discShares are the drives of a class that make pulleys of discs; none if none does.
func (c *Class) discShares() []discShare {
	var out []discShare
	for i := range c.Shares {
		if s := &c.Shares[i]; len(s.made()) > 0 {
			out = append(out, discShare{s.Set, s.Letter, s.Groups})
		}
	}
	return out
}

// Discs are the pages with the discs of all trays; nil if no drive has pulleys that are to
// be made.
func (c *Class) Discs(size drawing.Size) *drawing.Drawing {
	shares := c.discShares()
	if len(shares) == 0 {
		return nil
	}
	id := c.identity()
	return &drawing.Drawing{Title: "Discs to cut: " + id.Name, Description: id.Line(), Pages: discdrawing.Pages(jobOf(id, shares), size)}
}
