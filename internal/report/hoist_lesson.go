package report

import (
	"fmt"

	"findrive/internal/hoist"
	"findrive/internal/parts"
	"findrive/internal/units"
)

const blankBox = "_____"

// lesson writes the table that a class fills in: the same load and the same lift
// with five arrangements.
func (p *page) lesson(r *hoist.Result) {
	rows := r.Lesson
	p.blank()
	p.heading(fmt.Sprintf("The lesson: %s lifted by %s, five ways", mass(rows[0].Mass), metre(r.Brief.Lift)))
	p.say(0, fmt.Sprintf("Mass is in kilograms, weight in newtons: %s weighs %s. Pull steadily and read the force meter while the load moves.",
		kilograms(rows[0].Mass), newtons(rows[0].Mass.Weight())))
	p.blank()
	columns := []column{{head: "Arrangement"}, {head: "Pulled", fixed: true}, {head: "Parts", right: true, fixed: true}, {head: "Pull, N", right: true, fixed: true},
		{head: "between", right: true, fixed: true}, {head: "I read", fixed: true}, {head: "Cord", right: true, fixed: true}, {head: "I measure", fixed: true}}
	var table [][]string
	for i := range rows {
		h := &rows[i].Hoist
		table = append(table, []string{
			h.Name(), string(h.Way()), fmt.Sprint(h.Parts()), significant(float64(h.Raising.Likely), 2),
			significant(float64(h.Raising.Low), 2) + " to " + significant(float64(h.Raising.High), 2), blankBox + " N", metre(h.CordPulled), blankBox + " mm",
		})
	}
	p.table(0, columns, table)
	p.blank()
	p.say(0, "Work = force x distance. What the hand puts in comes out as the load lifted, the moving block lifted, and friction:")
	columns = []column{{head: "Arrangement"}, {head: "Work in", right: true, fixed: true}, {head: "Load", right: true, fixed: true},
		{head: "Block", right: true, fixed: true}, {head: "Friction", right: true, fixed: true}, {head: "Gain", right: true, fixed: true}, {head: "I work out", fixed: true}}
	table = nil
	for i := range rows {
		h := &rows[i].Hoist
		table = append(table, []string{h.Name(), joules(h.Work.In), joules(h.Work.Load), joules(h.Work.Block), joules(h.Work.Friction), significant(h.Advantage.Likely, 2), blankBox + " J"})
	}
	p.table(0, columns, table)
	p.say(0, "Count the rope parts that hold the load, not the wheels: twice the parts, half the pull, twice the cord. A single fixed pulley gains nothing; it turns the pull round.")
	for i := range rows {
		if rows[i].Missing != "" {
			p.say(0, fmt.Sprintf("The cupboard lacks %s for %s; the figures are those of usual blocks.", rows[i].Missing, rows[i].Name()))
		}
	}
}

// joules shows work to a hundredth of a joule.
func joules(j hoist.Joules) string { return trimmed(float64(j), 2) + " J" }

func kilograms(g units.Grams) string { return trimmed(float64(g)/1000, 3) + " kg" }

// makings say how the home-made blocks of the hoists are made.
func (p *page) makings(r *hoist.Result) {
	for _, m := range hoistMakings(r) {
		p.blank()
		b := m.Block
		p.heading(fmt.Sprintf("Making block %s (%s)", b.Name, count(b.Sheaves, "sheave")))
		p.fact("Cheeks", fmt.Sprintf("2 of %s x %s mm, from %s mm %s", size(m.Width), size(m.Height), size(b.Sheet), b.SheetKind))
		if b.SheetKind.Fluted() {
			p.fact("Flutes", "run up and down, across the line of the axle: that way the holes tear least")
		}
		p.fact("Opening", fmt.Sprintf("%s x %s mm to hang it by, %s mm of sheet above it (never under 10 mm)", size(m.OpeningWidth), size(m.OpeningHeight), size(m.Above)))
		p.fact("Axle hole", fmt.Sprintf("%s mm, %s mm below the top", size(m.AxleHole), size(m.AxleAt)))
		p.fact("Tie hole", fmt.Sprintf("%s mm, %s mm below the top, for a tie bar", size(m.TieHole), size(m.TieAt)))
		p.fact("Between", fmt.Sprintf("%s mm: %s and %s of %s mm, %s", size(m.Inside), count(b.Sheaves, "sheave"), count(m.Spacers, "spacer"), size(b.Spacer), m.SpacersGo()))
		p.fact("Axle", fmt.Sprintf("%s mm of %s mm %s, and a tie bar as long; %s", size(m.AxleLength), size(b.Axle), rod(b.AxleMaterial), count(m.Stops, "stop")))
		if m.SheavesTurn {
			p.fact("Running fit", fmt.Sprintf("sheaves loose on the axle, %s mm of room; the axle is held by the cheeks", size(m.LooseFit)))
		}
		for _, w := range m.Warnings {
			p.fact("Look out", w)
		}
	}
}

func rod(m parts.Material) string {
	if m == parts.Wood {
		return "dowel"
	}
	return string(m) + " rod"
}

// hoistMakings are the home-made blocks to make, each kind once, in the order in
// which the first hoist and then the lesson need them.
func hoistMakings(r *hoist.Result) []hoist.Making {
	var reevings []*hoist.Reeving
	if len(r.Hoists) > 0 {
		reevings = append(reevings, &r.Hoists[0].Reeving)
	}
	for i := range r.Lesson {
		reevings = append(reevings, &r.Lesson[i].Reeving)
	}
	var out []hoist.Making
	seen := map[string]bool{}
	for _, reeving := range reevings {
		for _, m := range hoist.Makings(reeving) {
			if !seen[m.Block.Name] {
				seen[m.Block.Name] = true
				out = append(out, m)
			}
		}
	}
	return out
}
