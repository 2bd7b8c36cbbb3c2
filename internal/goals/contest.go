package goals

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// contest is the rules of the contest, and what a goal asks beyond them, as
// design.Find is told of them.
type contest struct {
	rules Rules
	brief *brief.Brief
	goal  rule            // may be nil
	known map[string]bool // arrangements that have been found already
}

// arrangement names what the search tells apart: motor, cells, what is at the
// output, and which pulley drives which, in whatever order the stages come. Bands and
// holes are chosen for it as is best.
func arrangement(d *drive.Drive) string {
	parts := []string{d.Motor.Name, d.Holder.Name}
	if d.Wheel != nil {
		parts = append(parts, d.Wheel.Name)
	}
	if d.Drum != nil {
		parts = append(parts, d.Drum.Name)
	}
	var pairs []string
	for i := range d.Stages {
		pairs = append(pairs, d.Stages[i].Driver.Name+"\t"+d.Stages[i].Driven.Name)
	}
	slices.Sort(pairs)
	parts = append(parts, pairs...)
	return strings.Join(parts, "\n")
}

// Bill is what a drive takes of what a contest counts.
type Bill struct {
	Parts int // motor, holder, pulleys, bands, axles, wheels or drum, sleeves
	Cells int
	Price int // in whole pounds of pretend money
	// Stands is the sheet that the model covers, frame, discs and axle ends.
	Stands Footprint
}

// billOf counts a drive's parts. Without places, Stands is left empty.
func billOf(d *drive.Drive, b *brief.Brief, p Prices) Bill {
	n := len(d.Stages)
	bands, sleeves, wheels, drums, axles := 0, 0, 0, 0, n
	count := func(j *drive.Joint, pieces int) {
		if j.Sleeve != nil {
			sleeves += pieces
		}
	}
	for i := range d.Stages {
		bands += d.Stages[i].Use.BandsTaken()
		count(&d.Stages[i].DriverJoint, 1)
		count(&d.Stages[i].DrivenJoint, 1)
	}
	count(&d.OutputJoint, d.OutputPieces())
	if d.Wheel != nil {
		wheels = d.OutputPieces()
		axles++ // the free one
	}
	if d.Drum != nil {
		drums = 1
	}
	bill := Bill{
		Parts: 1 + 1 + 2*n + bands + axles + wheels + drums + sleeves,
		Cells: d.Holder.Cells,
		Price: p.Motor + p.Cell*d.Holder.Cells + p.Pulley*2*n + p.Band*bands + p.Axle*axles + p.Wheel*wheels + p.Drum*drums + p.Sleeve*sleeves,
	}
	if len(d.Positions) > 0 {
		bill.Stands = stands(d, b)
	}
	return bill
}

// stands is the sheet a placed model covers: along the drawing the frame and
// whatever reaches beyond it, across it the longest axle.
func stands(d *drive.Drive, b *brief.Brief) Footprint {
	lo, hi := units.Millimetres(0), b.Frame.Length
	reach := func(at layout.Point, across units.Millimetres) {
		lo, hi = min(lo, at.X-across/2), max(hi, at.X+across/2)
	}
	for i := range d.Stages {
		reach(d.Positions[i], d.Stages[i].Driver.Outside)
		reach(d.Positions[i+1], d.Stages[i].Driven.Outside)
	}
	if d.Wheel != nil {
		reach(d.Positions[len(d.Stages)], d.Wheel.Diameter)
		if d.FreeAxle != nil {
			reach(*d.FreeAxle, d.Wheel.Diameter)
		}
	}
	return Footprint{Length: hi - lo, Width: drive.OutputAxleLength(b, d.Wheel, d.Drum)}
}

// fits tells whether a model stands on a sheet, either way round.
func (f Footprint) fits(on Footprint) bool {
	return f.Length <= on.Length && f.Width <= on.Width || f.Length <= on.Width && f.Width <= on.Length
}

// over is how much too large it is, as a share, the better way round.
func (f Footprint) over(on Footprint) float64 {
	way := func(l, w units.Millimetres) float64 { return math.Max(float64(f.Length/l), float64(f.Width/w)) - 1 }
	return math.Min(way(on.Length, on.Width), way(on.Width, on.Length))
}

// Begun holds a drive to the rules as if each stage took two pulleys, a band and an
// axle, which is the least there is. Wherever the axles go, the frame and the longest
// axle have to stand somewhere.
func (c *contest) Begun(d *drive.Drive) *constraints.Refusal {
	if no := c.affords(d); no != nil {
		return no
	}
	return c.standsOn(Footprint{Length: c.brief.Frame.Length, Width: drive.OutputAxleLength(c.brief, d.Wheel, d.Drum)}, "at least")
}

// Reaches asks the goal; the rules of the contest have been asked at the beginning.
func (c *contest) Reaches(p *design.Partly) bool { return c.goal == nil || c.goal.reaches(p) }

// Parts holds the chosen parts to the budget and the number of parts, and passes
// over arrangements that have been found already.
func (c *contest) Parts(d *drive.Drive) *constraints.Refusal {
	if c.known[arrangement(d)] {
		return refused(1, func() string { return "it is among the best already" })
	}
	if no := c.affords(d); no != nil || c.goal == nil {
		return no
	}
	return c.goal.parts(d)
}

// affords holds a drive to the numbers of cells and parts and to the budget.
func (c *contest) affords(d *drive.Drive) *constraints.Refusal {
	bill := billOf(d, c.brief, c.rules.Prices)
	if most := c.rules.Cells; most > 0 && bill.Cells > most {
		return refused(float64(bill.Cells)/float64(most)-1, func() string {
			return fmt.Sprintf("a drive would take %d cells, and the contest allows %d", bill.Cells, most)
		})
	}
	if most := c.rules.Parts; most > 0 && bill.Parts > most {
		return refused(float64(bill.Parts)/float64(most)-1, func() string {
			return fmt.Sprintf("a drive would take %d parts, and the contest allows %d", bill.Parts, most)
		})
	}
	if most := c.rules.Budget; most > 0 && bill.Price > most {
		return refused(float64(bill.Price)/float64(most)-1, func() string {
			return fmt.Sprintf("a drive would cost %d pretend pounds, and the contest allows %d", bill.Price, most)
		})
	}
	return nil
}

// Room keeps the wheels from reaching further beyond either end of the frame than
// the footprint has room for, if nothing reaches beyond the other. Begun has seen to
// it that the frame itself has room one way round.
func (c *contest) Room(d *drive.Drive, p *layout.Problem) {
	on := c.rules.Footprint
	if on.Length == 0 || d.Wheel == nil {
		return
	}
	var spare units.Millimetres
	width := drive.OutputAxleLength(c.brief, d.Wheel, d.Drum)
	for _, way := range []Footprint{on, {Length: on.Width, Width: on.Length}} {
		if width <= way.Width {
			spare = max(spare, way.Length-c.brief.Frame.Length)
		}
	}
	reach := d.Wheel.Diameter/2 - spare
	for _, zone := range []*layout.Rect{&p.Shafts[len(p.Shafts)-1].Zone, &p.Mate.Zone} {
		zone.X0, zone.X1 = max(zone.X0, reach), min(zone.X1, c.brief.Frame.Length-reach)
	}
}

// Works holds a design to what the goal asks.
func (c *contest) Works(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal {
	if c.goal == nil {
		return nil
	}
	return c.goal.works(d, m, g)
}

// Stands holds a placed drive to the footprint.
func (c *contest) Stands(d *drive.Drive) *constraints.Refusal {
	return c.standsOn(stands(d, c.brief), "just")
}

// standsOn refuses what is too large for the sheet, if there is one.
func (c *contest) standsOn(f Footprint, how string) *constraints.Refusal {
	on := c.rules.Footprint
	if on.Length == 0 || f.fits(on) {
		return nil
	}
	return refused(f.over(on), func() string {
		return fmt.Sprintf("a model would cover %s %.0f by %.0f mm, and the contest allows %.0f by %.0f", how, f.Length, f.Width, on.Length, on.Width)
	})
}

func contains(list []int, n int) bool {
	for _, v := range list {
		if v == n {
			return true
		}
	}
	return false
}
