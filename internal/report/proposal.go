package report

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/score"
)

// proposal writes one drive in full.
func (p *page) proposal(r *design.Result, i int, opt TextOptions) {
	q, b := &r.Proposals[i], r.Brief
	p.blank()
	p.heading(fmt.Sprintf("%d. %s", q.Rank, speedWords(q, b)))
	p.say(3, strings.Join([]string{against(q, b), turnsWords(q, b), ratioWords(q), effortWords(q.Drive)}, " "))
	p.stages(q, i == 0)
	p.holes(q, b, i == 0)
	p.hang(3, 5, usesWords(q))
	p.otherBands(q)
	p.hang(3, 5, rankWords(r, i))
	if opt.Why {
		for _, t := range q.Penalty {
			if t.Points != 0 {
				p.hang(5, 7, fmt.Sprintf("%s %s: %s.", t.Name, points(t.Points), t.Why))
			}
		}
	}
	p.hang(3, 5, handling(q))
	if len(q.Assumed) > 0 {
		p.hang(3, 5, "Relies on facts nobody measured: "+strings.Join(q.Assumed, "; ")+".")
	}
	for _, note := range q.Notes {
		p.emphasised(3, 5, "Look out: "+note+".", bold)
	}
}

// turnsWords say which way things turn, seen from the side the brief names.
func turnsWords(q *design.Proposal, b *brief.Brief) string {
	side := b.Direction.SeenFrom
	if side == "" {
		side = "front"
	}
	seen := func(s brief.Sense) brief.Sense {
		return design.Seen(brief.Direction{Sense: s, SeenFrom: side})
	}
	what := map[brief.Model]string{brief.Vehicle: "The wheels turn", brief.Lift: "The drum turns"}[b.Model]
	switch {
	case what != "":
	case b.Model == brief.PlainShaft:
		what = "The output turns"
	default:
		what = "The ride turns"
	}
	from := "the " + side
	if side == "above" || side == "below" {
		from = side
	}
	out := fmt.Sprintf("%s %s seen from %s; the motor turns %s", what, seen(q.Turns), from, seen(q.Motor.Turns))
	if b.Direction.MotorTurns == brief.Either {
		out += " (swap its wires to turn everything round)"
	}
	return out + "."
}

func ratioWords(q *design.Proposal) string {
	return fmt.Sprintf("%s, %s: the motor turns %s times for one turn of the output.",
		count(len(q.Stages), "stage"), count(q.Drive.Holder.Cells, "cell"), significant(q.Ratio, 3))
}

// effortWords say what must be done to make pulleys sit on their shafts.
func effortWords(d *drive.Drive) string {
	var n [4]int
	for i := range d.Stages {
		n[d.Stages[i].DriverJoint.Kind]++
		n[d.Stages[i].DrivenJoint.Kind]++
	}
	if d.Wheel != nil || d.Drum != nil {
		n[d.OutputJoint.Kind]++
	}
	var work []string
	if k := n[drive.Glued]; k > 0 {
		work = append(work, count(k, "drop")+" of glue")
	}
	if k := n[drive.Sleeved]; k > 0 {
		work = append(work, count(k, "sleeve"))
	}
	if k := n[drive.DrilledOut]; k > 0 {
		work = append(work, "drill out "+count(k, "bore")+" (an adult's job)")
	}
	if len(work) == 0 {
		return "Making it fit: push fits only."
	}
	return "Making it fit: " + strings.Join(work, ", ") + "."
}

// letter names pulleys in driving order: A on the motor, B driven by it, and so on.
func letter(place int) string { return string(rune('A' + place)) }

// stages writes the table from motor pulley to output; explain says what its
// columns mean, once a page.
func (p *page) stages(q *design.Proposal, explain bool) {
	p.blank()
	columns := []column{{head: "Driver -> driven"}, {head: "Band"}, {head: "Centres mm", right: true, fixed: true},
		{head: "Works", right: true, fixed: true}, {head: "Stretch", right: true, fixed: true}, {head: "Arc", right: true, fixed: true}, {head: "Grip", right: true, fixed: true}}
	var rows [][]string
	weakest := 0
	for i := range q.Stages {
		s := &q.Stages[i]
		band := s.Band.Name
		switch s.Use {
		case drive.LoopedTwice:
			band += ", looped twice"
		case drive.Paired:
			band = "2 x " + band + ", side by side"
		}
		if s.Crossed {
			band += ", crossed"
		} else {
			band += ", open"
		}
		rows = append(rows, []string{
			letter(2*i) + " " + s.Driver + " -> " + letter(2*i+1) + " " + s.Driven, band,
			mm(s.Fitted.Centre), mmUp(s.CentreAllowed.Lo) + "-" + mmDown(s.CentreAllowed.Hi), percent(s.Fitted.Stretch - 1),
			trimmed(min(s.Fitted.DriverArc, s.Fitted.DrivenArc).Degrees(), 0), gripTimes(grip(s)),
		})
		if grip(s) < grip(&q.Stages[weakest]) {
			weakest = i
		}
	}
	p.table(3, columns, rows)
	var words []string
	if explain {
		words = append(words, "Works: centres at which the band keeps its rules. Arc: degrees of band on the smaller pulley.")
	}
	if g := grip(&q.Stages[weakest]); !math.IsInf(g, 1) {
		which := "The band"
		if len(q.Stages) > 1 {
			which = fmt.Sprintf("The weakest band, %s to %s,", letter(2*weakest), letter(2*weakest+1))
		}
		words = append(words, fmt.Sprintf("%s grips %s what is needed.", which, gripTimes(g)))
	}
	p.say(3, strings.Join(words, " "))
}

// grip is the smaller of a stage's two margins.
func grip(s *design.StageReport) float64 { return min(s.GripRunning, s.GripStarting) }

// mostGrip is the largest margin worth telling.
const mostGrip = 99

func gripTimes(margin float64) string {
	if margin > mostGrip {
		return "over 99 x"
	}
	return significant(math.Floor(margin*10+1e-9)/10, 3) + " x"
}

// holes writes the places of the holes.
func (p *page) holes(q *design.Proposal, b *brief.Brief, explain bool) {
	d := q.Drive
	p.blank()
	columns := []column{{head: "Hole", fixed: true}, {head: "x mm", right: true, fixed: true}, {head: "y mm", right: true, fixed: true},
		{head: "Axle"}, {head: "Drill mm", right: true, fixed: true}, {head: "Pulleys, depth mm"}}
	lane := func(place int) string {
		return fmt.Sprintf("%s at %s", letter(place), mm(q.Stages[place/2].LanePosition))
	}
	var rows [][]string
	for i, at := range d.Positions {
		if i == 0 {
			rows = append(rows, []string{"motor", mm(at.X), mm(at.Y), "its own shaft, " + size(d.Motor.ShaftDiameter) + " mm", "-", lane(0)})
			continue
		}
		a := &q.Axles[i-1]
		drill, carries := "-", lane(2*i-1)
		if a.Hole > 0 {
			drill = mm(a.Hole)
		}
		if i < len(q.Stages) {
			carries += ", " + lane(2*i)
		}
		name := fmt.Sprintf("axle %d", i)
		if i == len(q.Stages) {
			name = "output"
		}
		rows = append(rows, []string{name, mm(at.X), mm(at.Y), fmt.Sprintf("%s, %s mm, cut %s", a.Stock, size(a.Diameter), mm(a.Length)), drill, carries})
	}
	p.table(3, columns, rows)
	var words []string
	if explain {
		words = append(words, "x and y are from the frame's lower left inside corner, seen from the front; depth is from its front inside face to the middle of the groove.")
	}
	if d.Wheel != nil {
		under := -b.Frame.Ground
		if !b.Frame.HasGround {
			under = d.Wheel.Diameter/2 - d.Positions[len(d.Stages)].Y
		}
		words = append(words, fmt.Sprintf("On its wheels, %s mm across, the bottom of the frame's inside is %s mm above the floor.", size(d.Wheel.Diameter), mm(under)))
	}
	if !b.Making.DrillFrame {
		words = append(words, "Nothing is drilled: carry the axles in clips, straws or tubes there.")
	}
	p.say(3, strings.Join(words, " "))
}

// usesWords list what is taken from the cupboard.
func usesWords(q *design.Proposal) string {
	var parts []string
	for _, u := range q.Uses {
		name := u.Name
		if !strings.Contains(strings.ToLower(name), u.Kind) {
			name = u.Kind + " " + name
		}
		if len(u.Also) > 0 {
			name += " (or " + strings.Join(u.Also, ", ") + ")"
		}
		if u.Sets > 1 {
			parts = append(parts, fmt.Sprintf("%s %d (%d of %d)", name, u.Each, u.Each*u.Sets, u.Have))
		} else {
			parts = append(parts, fmt.Sprintf("%s %d of %d", name, u.Each, u.Have))
		}
	}
	head := "Takes, of what there is: "
	if len(q.Uses) > 0 && q.Uses[0].Sets > 1 {
		head = fmt.Sprintf("Each set takes (all %d sets, of what there is): ", q.Uses[0].Sets)
	}
	return head + strings.Join(parts, "; ") + "."
}

// mostOthers is how many other bands are named for a stage.
const mostOthers = 3

func (p *page) otherBands(q *design.Proposal) {
	for i := range q.Stages {
		others := q.Stages[i].OtherBands
		var names []string
		for k, o := range others {
			if k == mostOthers {
				names = append(names, fmt.Sprintf("and %d more", len(others)-k))
				break
			}
			use := ""
			if o.Use != drive.Single {
				use = " " + o.Use.String()
			}
			names = append(names, fmt.Sprintf("%s%s (stretch %s, %s rpm)", o.Name, use, percent(o.Stretch-1), rpm(o.Speed)))
		}
		if len(names) > 0 {
			p.hang(3, 5, fmt.Sprintf("Other bands for %s to %s: %s.", letter(2*i), letter(2*i+1), strings.Join(names, "; ")))
		}
	}
}

// rankWords say why the drive ranks where it does.
func rankWords(r *design.Result, i int) string {
	q := &r.Proposals[i]
	var terms []string
	for _, t := range q.Penalty {
		if t.Points != 0 {
			terms = append(terms, t.Name+" "+points(t.Points))
		}
	}
	out := fmt.Sprintf("Why number %d: %s penalty points", q.Rank, points(q.Total))
	if len(terms) > 0 {
		out += " (" + strings.Join(terms, ", ") + ")"
	}
	if i == 0 {
		return out + "."
	}
	before := &r.Proposals[i-1]
	if q.Total == before.Total {
		return out + fmt.Sprintf(", as many as number %d; among equals come fewer stages, fewer cells, slower motors and smaller pulleys first.", before.Rank)
	}
	return out + fmt.Sprintf(", %s more than number %d: %s.", points(q.Total-before.Total), before.Rank, strings.Join(differences(before.Penalty, q.Penalty), ", "))
}

// differences lists the terms in which two penalties differ.
func differences(from, to []score.Term) []string {
	var out []string
	for _, t := range to {
		change := t.Points
		for _, f := range from {
			if f.Name == t.Name {
				change -= f.Points
			}
		}
		switch {
		case change > 0:
			out = append(out, t.Name+" +"+points(change))
		case change < 0:
			out = append(out, t.Name+" "+points(change))
		}
	}
	return out
}

// handling is forgiveness, battery life and the motor's load in one breath.
func handling(q *design.Proposal) string {
	var out []string
	if q.Forgives < ruler {
		out = append(out, "Holes must be exact: less than half a millimetre off.")
	} else {
		out = append(out, fmt.Sprintf("Holes may be up to %s mm off.", mmDown(q.Forgives)))
	}
	if q.Motor.Minutes > 0 {
		out = append(out, fmt.Sprintf("Fresh cells last about %s minutes of running.", significant(q.Motor.Minutes, 2)))
	} else {
		out = append(out, "How long the cells last is not known: their capacity is not given.")
	}
	out = append(out, fmt.Sprintf("The motor works at %s of its stall torque.", percent(q.Motor.Share)))
	return strings.Join(out, " ")
}
