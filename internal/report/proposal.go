package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/explain"
	"findrive/internal/making"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/units"
)

// proposal writes one drive in full.
func (p *page) proposal(r *design.Result, i int, opt TextOptions) {
	q, b := &r.Proposals[i], r.Brief
	p.blank()
	p.heading(fmt.Sprintf("%d. %s", q.Rank, speedWords(q, b)))
	if mayStand(q) {
		p.emphasised(3, 5, fmt.Sprintf("It may not start: in %d classrooms of %d it stands still.", q.Stands, rooms), bold)
	}
	p.say(3, strings.Join([]string{against(q, b), fmt.Sprintf("It works in %s.", worksIn(q)), turnsWords(q, b), ratioWords(q), tackleWords(q), effortWords(q.Drive)}, " "))
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
	p.hang(3, 5, handling(q, b.Limits.ContinuousShare))
	if len(q.Assumed) > 0 {
		p.hang(3, 5, "Relies on facts nobody measured: "+strings.Join(byPart(q.Assumed), "; ")+".")
	}
	for _, note := range q.Notes {
		p.emphasised(3, 5, "Look out: "+note+".", bold)
	}
}

// byPart joins facts about the same part, which stand side by side, as
// "part: one fact, another".
func byPart(facts []string) []string {
	var out []string
	last := ""
	for _, fact := range facts {
		part, what, _ := strings.Cut(fact, ": ")
		if part == last && what != "" {
			out[len(out)-1] += ", " + what
		} else {
			out = append(out, fact)
		}
		last = part
	}
	return out
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
		out += " (swap its wires to turn all round)"
	}
	return out + "."
}

func ratioWords(q *design.Proposal) string {
	return fmt.Sprintf("%s, %s: %s.",
		count(len(q.Stages), "stage"), count(q.Drive.Holder.Cells, "cell"), timesWords(q.Ratio, atWork(q)))
}

// atWork is how often the motor turns for one turn of the output with what the bands lose; 0 if
// that is not known.
func atWork(q *design.Proposal) float64 {
	if q.AtHoles <= 0 {
		return 0
	}
	creeps := make([]float64, len(q.Stages))
	for i := range q.Stages {
		creeps[i] = q.Stages[i].Creep
	}
	return mechanics.TurnsAtWork(q.Ratio, creeps)
}

// timesWords say how often the motor turns for one turn of the output: as it is at work, and
// by the pulleys alone where that is another figure.
func timesWords(pulleys, atWork float64) string {
	real, by := significant(atWork, 2), significant(pulleys, 3)
	if !explain.Loses(pulleys, atWork) || real == by {
		return fmt.Sprintf("the motor turns %s times for one turn of the output", by)
	}
	return fmt.Sprintf("about %s motor turns for one of the output, %s by the pulleys", real, by)
}

// tackleWords say what is between the drum of a lift and its load; nothing for
// other models.
func tackleWords(q *design.Proposal) string {
	t := q.Tackle
	switch {
	case t == nil:
		return ""
	case t.Parts == 1:
		return fmt.Sprintf("The cord goes straight to the load; the drum pulls %s.", newtons(t.Pull))
	}
	return fmt.Sprintf("The load hangs on a tackle of %d rope parts (%s of the work arrives): the drum pulls only %s and winds in %d times the lift.",
		t.Parts, percent(t.Efficiency), newtons(t.Pull), t.Parts)
}

// effortWords say what must be done to make pulleys sit on their shafts.
func effortWords(d *drive.Drive) string {
	work := effort(d)
	if len(work) == 0 {
		return "Making it fit: push fits only."
	}
	return "Making it fit: " + strings.Join(work, ", ") + "."
}

// effort lists the work that the joints of a drive make.
func effort(d *drive.Drive) []string {
	var n [4]int
	for i := range d.Stages {
		n[d.Stages[i].DriverJoint.Kind]++
		n[d.Stages[i].DrivenJoint.Kind]++
	}
	n[d.OutputJoint.Kind] += d.OutputPieces()
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
	return work
}

// letter names pulleys in driving order: A on the motor, B driven by it, and so on.
func letter(place int) string { return string(rune('A' + place)) }

// roomyTable is the width of page from which the stages' table has a column for
// the bands.
const roomyTable = 72

// stages writes the table from motor pulley to output; explain says what its
// columns mean, once a page.
func (p *page) stages(q *design.Proposal, explain bool) {
	p.blank()
	columns := []column{{head: "Driver -> driven"}, {head: "Band"}, {head: "Centres\nmm", right: true, fixed: true},
		{head: "Works", right: true, fixed: true}, {head: "Stretch", right: true, fixed: true}, {head: "Arc", right: true, fixed: true}, {head: "Grip", right: true, fixed: true}}
	var rows [][]string
	weakest := 0
	for i := range q.Stages {
		s := &q.Stages[i]
		band := s.Band.Name
		switch s.Use {
		case drive.LoopedTwice:
			band += ",\nlooped twice"
		case drive.Paired:
			band = "2 x " + band + ",\nside by side"
		}
		if s.Crossed {
			band += ",\ncrossed"
		} else {
			band += ",\nopen"
		}
		rows = append(rows, []string{
			letter(2*i) + " " + s.Driver + " ->\n" + letter(2*i+1) + " " + s.Driven, band,
			size(s.Fitted.Centre), mmUp(s.CentreAllowed.Lo) + "-" + mmDown(s.CentreAllowed.Hi), percent(s.Fitted.Stretch - 1),
			trimmed(min(s.Fitted.DriverArc, s.Fitted.DrivenArc).Degrees(), 0), gripTimes(grip(s)),
		})
		if grip(s) < grip(&q.Stages[weakest]) {
			weakest = i
		}
	}
	if p.width < roomyTable {
		// The band stands under its pulleys.
		columns = slices.Delete(columns, 1, 2)
		columns[0].head = "Stage"
		for i := range rows {
			rows[i][0] += "\n" + rows[i][1]
			rows[i] = slices.Delete(rows[i], 1, 2)
		}
	}
	p.table(3, columns, rows)
	var words []string
	if explain {
		words = append(words, "Centres: from shaft to shaft. Works: how near and how far apart they may be with this band. Arc: degrees of band on the smaller pulley.")
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
		{head: "Axle"}, {head: "Drill\nmm", right: true, fixed: true}, {head: "Pulleys,\ndepth mm"}}
	lane := func(place int) string {
		return fmt.Sprintf("%s at %s", letter(place), mm(q.Stages[place/2].LanePosition))
	}
	var rows [][]string
	for i, at := range d.Positions {
		if i == 0 {
			rows = append(rows, []string{"motor", mm(at.X), mm(at.Y), "its own shaft,\n" + size(d.Motor.ShaftDiameter) + " mm", "-", lane(0)})
			continue
		}
		a := &q.Axles[i-1]
		drill, carries := "-", lane(2*i-1)
		if a.Hole > 0 {
			drill = mm(a.Hole)
		}
		if i < len(q.Stages) {
			carries += ",\n" + lane(2*i)
		}
		name := fmt.Sprintf("axle %d", i)
		if i == len(q.Stages) {
			name = "output"
		}
		rows = append(rows, []string{name, mm(at.X), mm(at.Y), fmt.Sprintf("%s, %s mm,\ncut %s", a.Stock, size(a.Diameter), mm(a.Length)), drill, carries})
	}
	if at := d.FreeAxle; at != nil {
		last := rows[len(rows)-1]
		rows = append(rows, []string{"free", mm(at.X), mm(at.Y), last[3], last[4], "-"})
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
	sets := 1
	for _, u := range q.Uses {
		sets = u.Sets
		if toMake(q, &u) {
			continue
		}
		name := useName(&u)
		if len(u.Also) > 0 {
			name += " (or " + strings.Join(u.Also, ", ") + ")"
		}
		part := fmt.Sprintf("%s %d of %d", name, u.Each*u.Sets, u.Have)
		if u.Sets > 1 && u.Each > 1 {
			part += fmt.Sprintf(" (%d a set)", u.Each)
		}
		parts = append(parts, part)
	}
	head := "Takes, of what there is: "
	if sets > 1 {
		head = fmt.Sprintf("For all %d sets it takes, of what there is: ", sets)
	}
	words := head + strings.Join(parts, "; ") + "."
	if todo := making.Words(q.Drive.Pulleys(), sets); todo != "" {
		words += " Before that, " + todo + "."
	}
	return words
}

// toMake tells whether a use is of a pulley that is to be made of discs.
func toMake(q *design.Proposal, u *design.Use) bool {
	if q.Drive == nil || u.Kind != "pulley" {
		return false
	}
	for _, p := range q.Drive.Pulleys() {
		if p.Name == u.Name && p.Made != nil {
			return true
		}
	}
	return false
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
			names = append(names, fmt.Sprintf("%s%s (stretch %s, %s)", o.Name, use, percent(o.Stretch-1), speedWith(q, o.Speed)))
		}
		if len(names) > 0 {
			p.hang(3, 5, fmt.Sprintf("Other bands for %s to %s: %s.", letter(2*i), letter(2*i+1), strings.Join(names, "; ")))
		}
	}
}

// speedWith is the speed at another turning of the output.
func speedWith(q *design.Proposal, n units.RPM) string {
	if q.Linear != nil {
		return significant(100*float64(q.Linear.Likely)*float64(n/q.Speed.Likely), 2) + " cm/s"
	}
	return rpm(n) + " rpm"
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
		out += fmt.Sprintf(", as many as number %d", before.Rank)
		for k := 1; k < i; k++ {
			if r.Proposals[k].Total == r.Proposals[k-1].Total {
				return out + "." // the rule has been told
			}
		}
		return out + "; among equals come fewer stages, fewer cells, stronger motors and larger last pulleys first."
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

// handling is forgiveness, battery life and the motor's load in one breath; a load
// above warned is told elsewhere.
func handling(q *design.Proposal, warned float64) string {
	var out []string
	if q.Forgives < ruler {
		out = append(out, "Holes must be exact: less than half a millimetre off.")
	} else {
		out = append(out, fmt.Sprintf("Holes may be up to %s mm off.", mmDown(q.Forgives)))
	}
	switch {
	case q.Motor.Minutes >= 120:
		out = append(out, fmt.Sprintf("Fresh cells last about %.0f hours of running.", q.Motor.Minutes/60))
	case q.Motor.Minutes > 0:
		out = append(out, fmt.Sprintf("Fresh cells last about %s minutes of running.", significant(q.Motor.Minutes, 2)))
	default:
		out = append(out, "How long the cells last is not known: their capacity is not given.")
	}
	if q.Motor.Share <= warned {
		out = append(out, fmt.Sprintf("The motor works at %s of its stall torque.", percent(q.Motor.Share)))
	}
	return strings.Join(out, " ")
}
