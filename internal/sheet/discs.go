package sheet

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/discdrawing"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// DiscsPage is the page with the discs of pulleys that are to be made. Only a drive with
// such pulleys has it.
const DiscsPage = "discs"

// AllNames lists the pages with those that only some drives have.
func AllNames() []string { return append(Names(), DiscsPage) }

// Pages lists the pages of this drive.
func (s *Set) Pages() []string {
	if len(s.plan.Build.Made) == 0 {
		return Names()
	}
	return AllNames()
}

// made lists the pulleys that are to be made, in driving order.
func (s *Set) made() []fitted {
	var out []fitted
	for _, p := range s.pulleys {
		if p.Made != nil {
			out = append(out, p)
		}
	}
	return out
}

// toMake tells whether a use of the cupboard's list is of pulleys to be made.
func (s *Set) toMake(u *certificate.Use) bool {
	return u.Kind == "pulley" && slices.ContainsFunc(s.made(), func(p fitted) bool { return p.Name == u.Name })
}

// youngMade tells the children which pulleys they make.
func (s *Set) youngMade() string {
	var letters []string
	for _, p := range s.made() {
		letters = append(letters, p.letter)
	}
	if len(letters) == 0 {
		return ""
	}
	return " You make " + and(letters) + "."
}

// discJob is what is to be cut for all sets.
func (s *Set) discJob() *discdrawing.Job {
	j := &discdrawing.Job{Foot: s.id.Line() + ": " + s.id.Print, Sets: s.sets}
	for _, p := range s.made() {
		at := slices.IndexFunc(j.Pulleys, func(q discdrawing.Pulley) bool {
			return q.Layers == p.Made.Layers && q.Bore == units.Millimetres(p.Bore) && q.Core == drawnDisc(&p.Made.Core) && q.Flange == drawnDisc(&p.Made.Flange)
		})
		if at < 0 {
			at = len(j.Pulleys)
			j.Pulleys = append(j.Pulleys, discdrawing.Pulley{Core: drawnDisc(&p.Made.Core), Flange: drawnDisc(&p.Made.Flange), Layers: p.Made.Layers, Bore: units.Millimetres(p.Bore)})
		}
		j.Pulleys[at].Letters = append(j.Pulleys[at].Letters, p.letter)
	}
	var err error
	if j.Pieces, err = s.nested(); err != nil {
		j.Short = err.Error()
	}
	return j
}

func drawnDisc(d *certificate.Disc) discdrawing.Disc {
	return discdrawing.Disc{Diameter: units.Millimetres(d.Diameter), Thickness: units.Millimetres(d.Thickness), Kind: d.Kind, Sheet: d.Sheet, Way: d.Way,
		Adult: parts.CuttingWay(d.Way).Adult()}
}

// nested lays the discs of all sets on the sheets there are.
func (s *Set) nested() ([]making.Piece, error) {
	if s.cert.Discs == nil {
		return nil, fmt.Errorf("the file does not say which sheets there are")
	}
	var sheets []parts.SheetStock
	for i := range s.cert.Discs.Sheets {
		q := &s.cert.Discs.Sheets[i]
		sheets = append(sheets, parts.SheetStock{Item: parts.Item{Name: q.Name, Location: q.Location, Count: q.Count}, Kind: parts.Sheet(q.Kind),
			Thickness: units.Millimetres(q.Thickness), Length: units.Millimetres(q.Length), Width: units.Millimetres(q.Width)})
	}
	var all []making.Several
	for _, p := range s.made() {
		made := &parts.Made{Core: nestedDisc(&p.Made.Core), Flange: nestedDisc(&p.Made.Flange), Layers: p.Made.Layers}
		all = append(all, making.Several{Pulley: &parts.Pulley{Item: parts.Item{Name: p.Name}, Made: made}, Count: s.sets})
	}
	return making.Nest(sheets, all)
}

func nestedDisc(d *certificate.Disc) parts.Disc {
	return parts.Disc{Sheet: d.Sheet, Kind: parts.Sheet(d.Kind), Thickness: units.Millimetres(d.Thickness), Diameter: units.Millimetres(d.Diameter), Cutter: d.Cutter, Way: parts.CuttingWay(d.Way)}
}

// discBlocks are the discs on the cutting list; none where no pulley is to be made.
func (s *Set) discBlocks() []Block {
	if len(s.made()) == 0 {
		return nil
	}
	t := Table{Caption: "Discs for the pulleys to be made", Head: []string{"Disc", "From", "Across mm", "Hole mm", "How", "Each set", plural(s.sets, "set", "sets")}, Right: []int{2, 3, 5, 6}, Names: true}
	row := func(what string, p *fitted, d *certificate.Disc, n int) {
		t.Rows = append(t.Rows, []string{what + " of " + p.letter, d.Sheet + ", " + d.Kind + " " + mm(d.Thickness) + " mm", mm(d.Diameter), mm(p.Bore), cutBy(d.Way), fmt.Sprint(n), fmt.Sprint(n * s.sets)})
	}
	for _, p := range s.made() {
		row("Large disc", &p, &p.Made.Flange, 2)
		row("Small disc", &p, &p.Made.Core, p.Made.Layers)
	}
	pieces, err := s.nested()
	if err != nil {
		return []Block{t, Text{Words: "SHORT: " + err.Error() + ".", Bold: true}}
	}
	var notes []string
	for _, sheet := range s.cert.Discs.Sheets {
		n, left := 0, 0.0
		for i := range pieces {
			if pieces[i].Sheet.Name == sheet.Name {
				n++
				left += pieces[i].Waste()
			}
		}
		if n > 0 {
			place := ""
			if sheet.Location != "" {
				place = ", " + sheet.Location
			}
			notes = append(notes, fmt.Sprintf("Take %d of %d of %s (%s × %s mm%s); %.0f %% of it is left over.", n, sheet.Count, sheet.Name, mm(sheet.Length), mm(sheet.Width), place, 100*left/float64(n)))
		}
	}
	t.Note = strings.Join(notes, " ") + " The discs lie in rows, the largest first, as the discs page shows."
	return []Block{t}
}

// cutBy is a way of cutting with whose job it is.
func cutBy(way string) string {
	if parts.CuttingWay(way).Adult() {
		return "ADULT: " + way
	}
	return way
}

// discWords say what is done about discs in a step, and what must be so afterwards.
func (s *Set) discWords(step *assembly.Step) (do, check string) {
	b := s.plan.Build
	letters := func() string {
		var list []string
		for _, a := range step.Actions {
			if a.Verb != assembly.Dry {
				list = append(list, b.Parts[a.Part].Letter)
			}
		}
		return and(distinct(list))
	}
	switch step.Kind {
	case assembly.CutDiscsStep:
		return fmt.Sprintf("Cut out by %s, on the lines of the discs page: %s.", and(s.waysOf(step)), s.cutList(step)),
			"Laid on the page, none is out by more than half a millimetre."
	case assembly.BoreDiscsStep:
		return fmt.Sprintf("Prick the middle of each disc. Drill it %s mm, clamped on scrap wood: %s.", and(s.boresOf()), letters()), "Each goes on its rod with a firm push."
	case assembly.GlueDiscsStep:
		var list []string
		how := ""
		for _, a := range step.Actions {
			for _, m := range b.Made {
				if m.Plastic {
					how = " Craft glue does not hold plastic: an adult takes a low-temperature glue gun, or double-sided tape does it."
				}
				if a.Verb == assembly.Stack && m.Pulley == a.Part {
					list = append(list, fmt.Sprintf("%s large, %d small, large", b.Parts[a.Part].Letter, len(m.Discs)-2))
				}
			}
		}
		return fmt.Sprintf("Push the discs on a piece of rod, glue between them: %s. Press them flat under books. Pull the rod out before the glue sets. Let dry overnight.%s", strings.Join(list, "; "), how),
			"They are flat, and no glue is in the holes or the groove."
	}
	return fmt.Sprintf("Turn each on a rod against a pencil held still: %s. Sand off what the pencil marks.", letters()), "It runs true to a millimetre. The groove is smooth."
}

// waysOf are the ways of cutting of a step's discs.
func (s *Set) waysOf(step *assembly.Step) []string {
	var out []string
	for _, p := range s.made() {
		for _, d := range []*certificate.Disc{&p.Made.Flange, &p.Made.Core} {
			if parts.CuttingWay(d.Way).Adult() == step.Adult && !slices.Contains(out, d.Way) {
				out = append(out, d.Way)
			}
		}
	}
	return out
}

func (s *Set) boresOf() []string {
	var out []string
	for _, p := range s.made() {
		if words := mm(p.Bore); !slices.Contains(out, words) {
			out = append(out, words)
		}
	}
	return out
}

// cutList is the discs of a step, pulley by pulley: "B 2 of 115 mm, 2 of 105 mm".
func (s *Set) cutList(step *assembly.Step) string {
	b := s.plan.Build
	var list []string
	for _, m := range b.Made {
		var words []string
		for _, name := range []string{assembly.FlangeName, assembly.CoreName} {
			n, across := 0, units.Millimetres(0)
			for _, a := range step.Actions {
				if p := &b.Parts[a.Part]; slices.Contains(m.Discs, a.Part) && p.Name == name {
					n, across = n+1, p.Length
				}
			}
			if n > 0 {
				words = append(words, fmt.Sprintf("%d of %s mm", n, mm(across)))
			}
		}
		if len(words) > 0 {
			list = append(list, b.Parts[m.Pulley].Letter+" "+strings.Join(words, ", "))
		}
	}
	return strings.Join(list, "; ")
}
