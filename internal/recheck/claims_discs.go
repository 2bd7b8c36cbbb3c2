package recheck

import "math"

// made are the different pulleys of a drive that are to be made, with how many of each a
// set takes.
func (p *proposal) made() map[string]int {
	out := map[string]int{}
	for i := range p.Stages {
		for _, q := range []*pulley{&p.Stages[i].Driver, &p.Stages[i].Driven} {
			if q.Made != nil {
				out[q.Name]++
			}
		}
	}
	return out
}

// How much room a disc takes on its sheet besides itself, and how far a flange stands out
// over the band at least, in mm.
const (
	discRoom   = 3.0
	flangeOver = 2.0
)

// discs checks the pulleys that are to be made: that their discs come to their sizes, that
// none sits on a motor's shaft, and that a group may cut, and the sheets have the area for,
// all of them.
func (r *report) discs(c *certificate, p *proposal) {
	group, area := 0.0, map[string]float64{}
	for i := range p.Stages {
		s := &p.Stages[i]
		for k, q := range []*pulley{&s.Driver, &s.Driven} {
			m := q.Made
			if m == nil {
				continue
			}
			r.hold(c.Brief.Making.Discs && c.Brief.Making.Glue && c.Discs != nil, "%s is to be made, and the brief allows no discs", q.Name)
			if c.Discs == nil {
				return
			}
			r.hold(i > 0 || k > 0, "%s is made of discs and sits on the motor's shaft", q.Name)
			r.same("the groove floor of "+q.Name, q.Floor, m.Core.Diameter)
			r.same("the outside of "+q.Name, q.Outside, m.Flange.Diameter)
			r.same("the groove width of "+q.Name, q.GrooveWidth, m.Layers*m.Core.Thickness)
			r.same("the width of "+q.Name, q.Width, m.Layers*m.Core.Thickness+2*m.Flange.Thickness)
			r.hold((q.Outside-q.Floor)/2 >= s.Band.Thickness+flangeOver-slackRule, "the flanges of %s hardly stand out over its band", q.Name)
			r.hold(q.Joint.Kind == "push fit", "%s is made, and not for its rod", q.Name)
			group += m.Layers + 2
			sets := float64(c.Brief.Sets)
			area[m.Core.Sheet] += sets * m.Layers * squared(m.Core.Diameter)
			area[m.Flange.Sheet] += sets * 2 * squared(m.Flange.Diameter)
			for _, d := range []cutRound{m.Core, m.Flange} {
				known := false
				for _, sheet := range c.Discs.Sheets {
					known = known || sheet.Name == d.Sheet && sheet.Kind == d.Kind && near(sheet.Thickness, d.Thickness) && d.Diameter < math.Min(sheet.Length, sheet.Width)
				}
				r.hold(known, "a disc of %s is cut from no sheet there is", q.Name)
			}
		}
	}
	if group == 0 {
		return
	}
	r.hold(group <= float64(c.Discs.Most), "a group would cut %.0f discs, and %d is the most", group, c.Discs.Most)
	for _, sheet := range c.Discs.Sheets {
		r.hold(area[sheet.Name] <= sheet.Length*sheet.Width*sheet.Count, "sheet %s does not reach for the discs", sheet.Name)
	}
}

func squared(diameter float64) float64 {
	return math.Pi / 4 * (diameter + discRoom) * (diameter + discRoom)
}
