package design_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// selection is the part of the job that a general-purpose solver can be asked as
// well: which rows of a table of stages to chain on which axles, behind which
// motor and cells. Loaded physics and places are left out; what is in the table is
// worked out by mechanics, constraints and score, without the search. Whole
// numbers only: thousandths of a point, and hundred-thousandths of a natural
// logarithm, so that two solvers can agree to the last digit.
type selection struct {
	cup                    *parts.Cupboard
	sets, mostStages       int
	rows                   []selectionRow
	pieces                 []int   // of each axle stock
	onAxle, onMotor        [][]int // [pulley][axle or motor]: cost of the joint, -1 if there is none
	tooFast                [][]int // [motor][holder]: ln of motor speed over wanted speed
	holderCost             []int
	reversal               int // 0 as the motor, 1 against it, -1 either
	fast, slow             int // the tolerance: ln(1+t), -ln(1-t)
	stageCost, step, price int
	least, greatest        int // ratio of any row
}

// selectionRow is one stage that can be banded somewhere in the frame.
type selectionRow struct {
	driver, driven, band, taken, crossed, ratio, cost int
}

const logScale = 100_000

func scaledLog(v float64) int { return int(math.Round(logScale * math.Log(v))) }

// drawSelection makes a random selection problem. Diameters come from a short
// list, so that many choices tie; stock is scarce for the sets. All invented.
func drawSelection(seed uint64) *selection {
	r := rand.New(rand.NewPCG(seed, 23))
	pick := func(v ...float64) float64 { return v[r.IntN(len(v))] }
	s := &selection{cup: &parts.Cupboard{}, sets: 1 + r.IntN(3), mostStages: 1 + r.IntN(3), reversal: r.IntN(3) - 1}
	item := func(kind string, i, count int) parts.Item {
		return parts.Item{Name: fmt.Sprintf("%s%d", kind, i), Count: count}
	}
	for i := range 5 + r.IntN(5) {
		floor := pick(6, 8, 10, 16, 20, 26, 36, 46, 60)
		p := parts.Pulley{Item: item("p", i, 1+r.IntN(9)), GrooveFloor: units.Millimetres(floor), Outside: units.Millimetres(floor + 4),
			GrooveWidth: units.Millimetres(pick(1.5, 3)), Width: 6, Bore: units.Millimetres(pick(2, 2, 3.9, 4.9, 4.9, 5.1)), CanDrill: r.IntN(2) == 0}
		if i < 2 {
			p.Bore, p.GrooveFloor = []units.Millimetres{2, 4.9}[i], []units.Millimetres{6, 46}[i]
			p.Outside = p.GrooveFloor + 4
		}
		s.cup.Pulleys = append(s.cup.Pulleys, p)
	}
	for i := range 2 + r.IntN(4) {
		s.cup.Bands = append(s.cup.Bands, parts.Band{Item: item("b", i, 1+r.IntN(9)),
			FlatLength: units.Millimetres(pick(44, 51, 63, 76, 89)), Width: 1.5, Thickness: 0.9, PullFactor: 1})
	}
	making := brief.Making{DrillOut: r.IntN(2) == 0, Glue: r.IntN(2) == 0}
	for i := range 1 + r.IntN(2) {
		s.cup.Motors = append(s.cup.Motors, parts.Motor{Item: item("m", i, 2+r.IntN(3)), FreeSpeed: units.RPM(pick(2400, 5200, 9100)), ShaftDiameter: 2, ShaftLength: 8})
		s.cup.Holders = append(s.cup.Holders, parts.CellHolder{Item: item("h", i, 2+r.IntN(3)), Cells: 1 + i})
	}
	for i, d := range []units.Millimetres{4, 5} {
		s.cup.Axles = append(s.cup.Axles, parts.AxleStock{Item: item("a", i, 1+r.IntN(4)), Diameter: d, Length: 300})
	}
	ratio := math.Exp(float64(s.mostStages) * (0.5 + 1.2*r.Float64()))
	s.tabulate(making, s.cup.Motors[0].FreeSpeed/units.RPM(ratio), pick(0.1, 0.25, 0.5))
	return s
}

// tabulate fills the tables by the plain route.
func (s *selection) tabulate(making brief.Making, target units.RPM, tolerance float64) {
	l, w := brief.DefaultLimits(), brief.DefaultWeights()
	joint := func(p *parts.Pulley, shaft units.Millimetres) int {
		ways, no := constraints.Joints(constraints.PulleyHub(p), shaft, nil, making)
		if no != nil {
			return -1
		}
		return int(score.Joint(w, ways[0].Kind))
	}
	for i := range s.cup.Pulleys {
		var axles, motors []int
		for _, a := range s.cup.Axles {
			axles = append(axles, joint(&s.cup.Pulleys[i], a.Diameter))
		}
		for m := range s.cup.Motors {
			motors = append(motors, joint(&s.cup.Pulleys[i], s.cup.Motors[m].ShaftDiameter))
		}
		s.onAxle, s.onMotor = append(s.onAxle, axles), append(s.onMotor, motors)
		for j := range s.cup.Pulleys {
			for b := range s.cup.Bands {
				for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
					for _, crossed := range []bool{false, true} {
						s.tabulateStage(l, w, i, j, b, use, crossed)
					}
				}
			}
		}
	}
	for _, a := range s.cup.Axles {
		s.pieces = append(s.pieces, a.Count*constraints.Pieces(a.Length, 100))
	}
	for _, m := range s.cup.Motors {
		var row []int
		for _, h := range s.cup.Holders {
			row = append(row, scaledLog(float64(m.FreeSpeed)*float64(h.Cells)/2/float64(target)))
		}
		s.tooFast = append(s.tooFast, row)
	}
	for _, h := range s.cup.Holders {
		s.holderCost = append(s.holderCost, int(score.Cells(w, h.Cells)))
	}
	s.fast, s.slow = scaledLog(1+tolerance), -scaledLog(1-tolerance)
	s.stageCost, s.step, s.price = int(score.Stages(w, 2)), logScale/100, 1000
}

// tabulateStage adds a stage at the spacing of its least cost, on a grid of 5 mm,
// if the rules allow any.
func (s *selection) tabulateStage(l brief.Limits, w brief.Weights, driver, driven, band int, use drive.Use, crossed bool) {
	a, b, rubber := &s.cup.Pulleys[driver], &s.cup.Pulleys[driven], &s.cup.Bands[band]
	for _, p := range []*parts.Pulley{a, b} {
		if constraints.BandInGroove(p, rubber, use) != nil || constraints.BigEnoughGroove(l, p, rubber) != nil {
			return
		}
	}
	stage := drive.Stage{Driver: a, Driven: b, Band: rubber, Use: use, Crossed: crossed}
	mech := stage.Mechanics(mechanics.BandGrip().Likely)
	best := selectionRow{cost: math.MaxInt}
	for centre := units.Millimetres(5); centre <= 150; centre += 5 {
		if centre < (a.Outside+b.Outside)/2+l.Clearance {
			continue
		}
		f, err := mech.Fit(centre)
		if err != nil || constraints.FittedStretch(l, rubber, f.Stretch) != nil || constraints.ArcOfContact(l, &f) != nil ||
			(crossed && constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, centre) != nil) {
			continue
		}
		cost := int(score.BandFit(l, w, f.Stretch) + score.BandUse(w, use, crossed))
		if cost < best.cost {
			best = selectionRow{driver, driven, band, use.BandsTaken(), 0, scaledLog(f.Ratio), cost}
		}
	}
	if best.cost < math.MaxInt {
		if crossed {
			best.crossed = 1
		}
		if s.rows = append(s.rows, best); len(s.rows) == 1 {
			s.least, s.greatest = best.ratio, best.ratio
		}
		s.least, s.greatest = min(s.least, best.ratio), max(s.greatest, best.ratio)
	}
}

// pickNode is a partly made selection: stages, motor and cells, then for each
// stage from the motor a row and the axle of its driven pulley.
type pickNode struct {
	stages, motor, holder int // -1 at the root
	done                  int
	row, axle             [3]int
}

func (n pickNode) String() string {
	var out strings.Builder
	fmt.Fprintf(&out, "%d %d", n.motor+1, n.holder+1)
	for i := range n.done {
		fmt.Fprintf(&out, " %d/%d", n.row[i]+1, n.axle[i]+1)
	}
	return out.String()
}

// picking puts a selection to the same search that finds drives.
type picking struct{ *selection }

func (p picking) Root() pickNode { return pickNode{stages: -1} }

func (p picking) Whole(n pickNode) bool { return n.done == n.stages }

func (p picking) Branch(n pickNode) []pickNode {
	var out []pickNode
	if n.stages < 0 {
		for stages := 1; stages <= p.mostStages; stages++ {
			for m := range p.cup.Motors {
				for h := range p.cup.Holders {
					if p.cup.Motors[m].Count >= p.sets && p.cup.Holders[h].Count >= p.sets {
						out = append(out, pickNode{stages: stages, motor: m, holder: h})
					}
				}
			}
		}
		return out
	}
	for r := range p.rows {
		if n.done == 0 && p.onMotor[p.rows[r].driver][n.motor] < 0 {
			continue
		}
		for a := range p.cup.Axles {
			c := n
			c.row[n.done], c.axle[n.done] = r, a
			c.done++
			if p.jointCost(&c, n.done) >= 0 && p.enough(&c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// jointCost is the cost of the two joints of stage i, -1 if one cannot be made.
func (p picking) jointCost(n *pickNode, i int) int {
	r := p.rows[n.row[i]]
	driver, driven := p.onMotor[r.driver][n.motor], p.onAxle[r.driven][n.axle[i]]
	if i > 0 {
		driver = p.onAxle[r.driver][n.axle[i-1]]
	}
	if driver < 0 || driven < 0 {
		return -1
	}
	return driver + driven
}

// enough is the stock rule over the stages chosen so far.
func (p picking) enough(n *pickNode) bool {
	var pulleys, bands, axles [16]int // more than any drawn problem has kinds
	for i := range n.done {
		r := p.rows[n.row[i]]
		pulleys[r.driver]++
		pulleys[r.driven]++
		bands[r.band] += r.taken
		axles[n.axle[i]]++
		if constraints.EnoughStock("", p.cup.Pulleys[r.driver].Count, pulleys[r.driver], p.sets) != nil ||
			constraints.EnoughStock("", p.cup.Pulleys[r.driven].Count, pulleys[r.driven], p.sets) != nil ||
			constraints.EnoughStock("", p.cup.Bands[r.band].Count, bands[r.band], p.sets) != nil ||
			constraints.EnoughStock("", p.pieces[n.axle[i]], axles[n.axle[i]], p.sets) != nil {
			return false
		}
	}
	return true
}

// Bound takes the stages still to come as free, and their velocity ratios as
// anything between the least and the greatest of the table.
func (p picking) Bound(n pickNode) search.Cost {
	if n.stages < 0 {
		return 0
	}
	if len(p.rows) == 0 {
		return search.Unlimited
	}
	cost := p.stageCost*(n.stages-1) + p.holderCost[n.holder]
	off := p.tooFast[n.motor][n.holder]
	for i := range n.done {
		r := p.rows[n.row[i]]
		cost += r.cost + p.jointCost(&n, i)
		off -= r.ratio
	}
	left := n.stages - n.done
	least, greatest := max(off-left*p.greatest, -p.slow), min(off-left*p.least, p.fast)
	switch {
	case least > greatest:
		return search.Unlimited
	case least > 0:
		cost += p.price * (least / p.step)
	case greatest < 0:
		cost += p.price * (-greatest / p.step)
	}
	return search.Cost(cost)
}

func (p picking) Tie(n, w pickNode) int {
	if c := cmp.Or(cmp.Compare(n.stages, w.stages), cmp.Compare(n.motor, w.motor), cmp.Compare(n.holder, w.holder)); c != 0 {
		return c
	}
	for i := range n.done {
		if c := cmp.Or(cmp.Compare(n.row[i], w.row[i]), cmp.Compare(n.axle[i], w.axle[i])); c != 0 {
			return c
		}
	}
	return cmp.Compare(n.done, w.done)
}

// Finish has only the direction left to look at: the bound of a whole selection
// is its cost.
func (p picking) Finish(_ context.Context, n pickNode, _ search.Cost) (string, search.Cost, bool, search.Cost) {
	crossed := 0
	for i := range n.done {
		crossed += p.rows[n.row[i]].crossed
	}
	turnsRight := p.reversal < 0 || crossed%2 == p.reversal
	return n.String(), p.Bound(n), turnsRight, search.Unlimited
}
