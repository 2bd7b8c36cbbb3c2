package leeway

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// stock are the parts of the cupboard, kind by kind.
func stock(c Case) []Lever {
	return slices.Concat(pulleys(c), rubber(c), motors(c), rods(c), rounds(c))
}

// more is to get more of a part that is there. each is the most of it that a set can
// use.
func more(what string, c Case, have, each int, count func(c Case) *int) Way {
	short := each*c.Brief.Sets - have
	return Way{Most: max(0, short), Apply: func(c Case, n int) { *count(c) += n }, Words: func(c Case, _ *design.Proposal) string {
		return fmt.Sprintf("get %d more of %s", *count(c)-have, what)
	}}
}

// shortIn is how many of a part are short for a drive, of all tubs of the like together.
func shortIn(c Case, kind, name string) func(q *design.Proposal) int {
	return func(q *design.Proposal) int {
		short := 0
		for _, u := range q.Uses {
			names := append([]string{u.Name}, u.Also...)
			if u.Kind != kind || !slices.Contains(names, name) {
				continue
			}
			short += u.Each * u.Sets
			for _, like := range names {
				if it := c.Cupboard.Item(kind, like); it != nil {
					short -= it.Count
				}
			}
		}
		return short
	}
}

// get is to buy a part that is not there, as many as the drive then takes.
func get(kind, name, words string, add func(c Case)) Way {
	return Way{Most: 1, Apply: func(c Case, n int) {
		if n > 0 {
			add(c)
		}
	}, Do: func(c Case, _ int, q *design.Proposal) {
		add(c)
		c.Cupboard.Item(kind, name).Count = max(1, taken(q, kind, name)) * c.Brief.Sets
	}, Words: func(c Case, q *design.Proposal) string {
		if n := taken(q, kind, name); n > 0 {
			return fmt.Sprintf("get %d %s", n*c.Brief.Sets, words)
		}
		return "get " + words
	}}
}

// taken is how many of a part a set of a drive takes.
func taken(q *design.Proposal, kind, name string) int {
	for _, u := range q.Uses {
		if u.Kind == kind && u.Name == name {
			return u.Each
		}
	}
	return 0
}

// across are sizes of pulley that are easy to get or to cut (common practice).
func across() []units.Millimetres { return []units.Millimetres{60, 80, 40, 100, 20} }

// newPulleys are pulleys of sizes that the cupboard has not, each like the one there
// that is nearest in size, with a bore for the commonest axle.
func newPulleys(cup *parts.Cupboard) []parts.Pulley {
	if len(cup.Pulleys) == 0 || len(cup.Axles) == 0 {
		return nil
	}
	rod := slices.MaxFunc(cup.Axles, func(a, b parts.AxleStock) int { return a.Count - b.Count })
	fits := func(p *parts.Pulley) bool {
		d := p.Bore - rod.Diameter
		return d <= 0 && d > -0.5
	}
	var out []parts.Pulley
	for _, size := range across() {
		like := -1
		off := func(i int) float64 { return math.Abs(float64(cup.Pulleys[i].Outside - size)) }
		there := false
		for i := range cup.Pulleys {
			if like < 0 || off(i) < off(like) {
				like = i
			}
			there = there || fits(&cup.Pulleys[i]) && off(i) < 0.1*float64(size)
		}
		if there {
			continue
		}
		p := cup.Pulleys[like]
		groove := p.Outside - p.GrooveFloor
		p.Item = parts.Item{Name: fmt.Sprintf("a new %.0f mm pulley", float64(size)), Count: plenty}
		p.Outside, p.GrooveFloor, p.Bore = size, units.Lengths.Rounded(size-min(groove, size/3)), rod.Diameter
		out = append(out, p)
	}
	return out
}

func pulleys(c Case) []Lever {
	motor, sizes := motorPulley(c.Cupboard, c.Brief.Making), newPulleys(c.Cupboard)
	fresh := slices.Clone(sizes)
	if motor != nil {
		fresh = append([]parts.Pulley{*motor}, fresh...)
	}
	add := func(c Case, p parts.Pulley) { c.Cupboard.Pulleys = append(c.Cupboard.Pulleys, p) }
	l := Lever{Key: "pulleys", Words: "the pulleys there are", Aside: "plenty of each pulley, and other sizes", Cost: Part, Relax: func(c Case) {
		for i := range c.Cupboard.Pulleys {
			c.Cupboard.Pulleys[i].Count = plenty
		}
		for _, p := range fresh {
			add(c, p)
		}
	}}
	for i := range c.Cupboard.Pulleys {
		p := &c.Cupboard.Pulleys[i]
		way := more("pulley "+p.Name, c, p.Count, mostPulleys, func(c Case) *int { return &c.Cupboard.Pulleys[i].Count })
		way.Enough = shortIn(c, "pulley", p.Name)
		l.Ways = append(l.Ways, way)
	}
	for _, p := range fresh {
		l.Ways = append(l.Ways, get("pulley", p.Name, pulleyWords(&p), func(c Case) { add(c, p) }))
	}
	l.Ways = slices.Concat(l.Ways, motorPulleyAndDiscs(c, motor), together(motor, sizes), []Way{severalMore(c, fresh)})
	return []Lever{l}
}

// trades are the trade numbers of bands, the commonest lengths and widths first
// (judgement).
func trades() []int { return []int{16, 18, 19, 24, 14, 12, 10, 8, 32, 33, 31, 30, 64, 63, 62, 61} }

// wide is how many of the trades are thought of at once.
const wide = 10

// TradeBands are a bag of each trade size that the cupboard has not.
func TradeBands(cup *parts.Cupboard) []parts.Band {
	var out []parts.Band
	for _, n := range trades() {
		shop, err := parts.Read("bag", fmt.Appendf(nil, "[band.\"a No. %d band\"]\nsize = %d\ncount = 100\n", n, n))
		if err != nil {
			continue // the number is not known to the reader
		}
		bag := shop.Bands[0]
		if !slices.ContainsFunc(cup.Bands, func(have parts.Band) bool {
			return have.Size == bag.Size || near(have.FlatLength, bag.FlatLength) && near(have.Width, bag.Width)
		}) {
			out = append(out, bag)
		}
	}
	return out
}

// near is whether two bands' sizes differ no more than those of one bag.
func near(a, b units.Millimetres) bool { return math.Abs(float64(a/b)-1) < 0.05 }

func rubber(c Case) []Lever {
	bags := TradeBands(c.Cupboard)
	l := Lever{Key: "bands", Words: "the rubber bands there are", Aside: "plenty of each band, and other trade sizes", Cost: Part, Relax: func(c Case) {
		c.Cupboard.Bands = append(c.Cupboard.Bands, bags[:min(wide, len(bags))]...)
		for i := range c.Cupboard.Bands {
			c.Cupboard.Bands[i].Count = plenty
		}
	}}
	for i := range c.Cupboard.Bands {
		b := &c.Cupboard.Bands[i]
		way := more("band "+b.Name, c, b.Count, mostBands, func(c Case) *int { return &c.Cupboard.Bands[i].Count })
		way.Enough = shortIn(c, "band", b.Name)
		l.Ways = append(l.Ways, way)
	}
	for _, bag := range bags[:min(wide, len(bags))] {
		l.Ways = append(l.Ways, once(fmt.Sprintf("get rubber bands of trade size %s (%.0f x %.1f mm)", bag.Size, float64(bag.FlatLength), float64(bag.Width)),
			func(c Case) { c.Cupboard.Bands = append(c.Cupboard.Bands, bag) }))
	}
	return []Lever{l}
}

// stronger is how many times as strong as the strongest motor there another is thought
// of.
const stronger = 2

func motors(c Case) []Lever {
	if len(c.Cupboard.Motors) == 0 {
		return nil
	}
	strong := slices.MaxFunc(c.Cupboard.Motors, func(a, b parts.Motor) int {
		if a.StallTorque > b.StallTorque {
			return 1
		}
		return -1
	})
	like := strong.Name
	strong.Item = parts.Item{Name: "a stronger motor", Count: plenty}
	strong.StallTorque = units.Torques.Rounded(strong.StallTorque * stronger)
	strong.StallCurrent = units.Currents.Rounded(strong.StallCurrent * stronger)
	if strong.Calibrated { // nobody has counted this one
		strong.Calibrated, strong.FreeSpeed = false, units.Turnings.Rounded(strong.FreeSpeed)
	}
	add := func(c Case) { c.Cupboard.Motors = append(c.Cupboard.Motors, strong) }
	l := Lever{Key: "motors", Words: "the motors there are", Aside: fmt.Sprintf("plenty of each motor, and one %d times as strong", stronger), Cost: Part, Relax: func(c Case) {
		add(c)
		for i := range c.Cupboard.Motors {
			c.Cupboard.Motors[i].Count = plenty
		}
	}}
	for i := range c.Cupboard.Motors {
		m := &c.Cupboard.Motors[i]
		l.Ways = append(l.Ways, more("motor "+m.Name, c, m.Count, 1, func(c Case) *int { return &c.Cupboard.Motors[i].Count }))
	}
	l.Ways = append(l.Ways, get("motor", strong.Name, fmt.Sprintf("of a motor like %s but %d times as strong (%s mN.m at stall)", like, stronger, units.Significant(float64(strong.StallTorque), 2)), add))
	return []Lever{l}
}

// newSleeves are tubes that pack out each shaft there is to each larger bore.
func newSleeves(cup *parts.Cupboard) []parts.Sleeve {
	var shafts, bores []units.Millimetres
	for i := range cup.Motors {
		shafts = append(shafts, cup.Motors[i].ShaftDiameter)
	}
	for i := range cup.Axles {
		shafts = append(shafts, cup.Axles[i].Diameter)
	}
	for i := range cup.Pulleys {
		bores = append(bores, cup.Pulleys[i].Bore)
	}
	for i := range cup.Wheels {
		bores = append(bores, cup.Wheels[i].Bore)
	}
	for i := range cup.Drums {
		bores = append(bores, cup.Drums[i].Bore)
	}
	slices.Sort(shafts)
	slices.Sort(bores)
	var out []parts.Sleeve
	for _, shaft := range slices.Compact(shafts) {
		for _, bore := range slices.Compact(bores) {
			hub := constraints.Hub{Bore: bore, Room: bore}
			if ways, _ := constraints.Joints(hub, shaft, cup.Sleeves, brief.Making{}); bore <= shaft+0.2 || len(ways) > 0 {
				continue
			}
			s := parts.Sleeve{Inner: shaft, Outer: bore, Length: 8}
			is := "sleeve"
			if ofPaper(&s) {
				is = "sleeve of wound paper"
			}
			s.Item = parts.Item{Name: fmt.Sprintf("a %s to %s mm %s", units.Decimals(float64(shaft), 1), units.Decimals(float64(bore), 1), is), Count: plenty}
			out = append(out, s)
		}
	}
	return out
}

// leastWall is the thinnest wall that tubes are sold with (common practice).
const leastWall = 0.5

// ofPaper is whether a sleeve is too thin for a tube, and a strip of paper wound round the
// shaft does instead.
func ofPaper(s *parts.Sleeve) bool { return s.Outer-s.Inner < 2*leastWall }

// The most that a set takes: two pulleys for each stage, and two bands where they are
// paired; a rod for each stage and a vehicle's free axle; a sleeve for each pulley and wheel.
const (
	mostPulleys = 2 * drive.MaxStages
	mostBands   = 2 * drive.MaxStages
	mostRods    = drive.MaxStages + 1
	mostSleeves = 2*drive.MaxStages + drive.VehicleWheels
)

// rods are what carries pulleys: rod, dowel and sleeves.
func rods(c Case) []Lever {
	fresh := newSleeves(c.Cupboard)
	l := Lever{Key: "rods and sleeves", Words: "the rods and sleeves there are", Aside: "plenty of each rod and sleeve, and sleeves for every bore", Cost: Part, Relax: func(c Case) {
		c.Cupboard.Sleeves = append(c.Cupboard.Sleeves, fresh...)
		for i := range c.Cupboard.Sleeves {
			c.Cupboard.Sleeves[i].Count = plenty
		}
		for i := range c.Cupboard.Axles {
			c.Cupboard.Axles[i].Count = plenty
		}
	}}
	for i := range c.Cupboard.Axles {
		a := &c.Cupboard.Axles[i]
		l.Ways = append(l.Ways, more(fmt.Sprintf("rod %s (%s mm long)", a.Name, units.Decimals(float64(a.Length), 0)), c, a.Count, mostRods, func(c Case) *int { return &c.Cupboard.Axles[i].Count }))
	}
	for i := range c.Cupboard.Sleeves {
		s := &c.Cupboard.Sleeves[i]
		l.Ways = append(l.Ways, more("sleeve "+s.Name, c, s.Count, mostSleeves, func(c Case) *int { return &c.Cupboard.Sleeves[i].Count }))
	}
	for _, s := range fresh {
		w := get("sleeve", s.Name, "", func(c Case) { c.Cupboard.Sleeves = append(c.Cupboard.Sleeves, s) })
		w.Words = func(c Case, q *design.Proposal) string {
			return sleeveWords([]parts.Sleeve{s}, func(name string) int { return max(1, taken(q, "sleeve", name)) * c.Brief.Sets })
		}
		l.Ways = append(l.Ways, w)
	}
	if len(fresh) > 1 { // for the motor's shaft and for the rods, say, where those for one of them are not enough
		l.Ways = append(l.Ways, Way{Most: 1, Last: true, Apply: func(c Case, steps int) {
			if steps > 0 {
				c.Cupboard.Sleeves = append(c.Cupboard.Sleeves, fresh...)
			}
		}, Do: func(c Case, _ int, q *design.Proposal) {
			for _, s := range fresh {
				if n := taken(q, "sleeve", s.Name); n > 0 {
					s.Count = n * c.Brief.Sets
					c.Cupboard.Sleeves = append(c.Cupboard.Sleeves, s)
				}
			}
		}, Words: func(c Case, q *design.Proposal) string {
			return sleeveWords(fresh, func(name string) int { return taken(q, "sleeve", name) * c.Brief.Sets })
		}})
	}
	return []Lever{l}
}

// sleeveWords say to get sleeves, as many of each as are taken, or to make them.
func sleeveWords(fresh []parts.Sleeve, taken func(name string) int) string {
	var bought, wound []string
	for i := range fresh {
		s := &fresh[i]
		n := taken(s.Name)
		if n == 0 {
			continue
		}
		sizes := fmt.Sprintf("%s mm inside and %s mm outside", units.Decimals(float64(s.Inner), 1), units.Decimals(float64(s.Outer), 1))
		if ofPaper(s) {
			wound = append(wound, plural(n, "sleeve")+" "+sizes)
		} else {
			bought = append(bought, fmt.Sprintf("%d of a sleeve %s", n, sizes))
		}
	}
	var out []string
	if len(bought) > 0 {
		out = append(out, "get "+strings.Join(bought, " and "))
	}
	if len(wound) > 0 {
		out = append(out, "wind strips of paper round, for "+strings.Join(wound, " and ")+" (no tube is so thin)")
	}
	return strings.Join(out, " and ")
}

// rounds are the wheels or drums of a model that has them.
func rounds(c Case) []Lever {
	if c.Brief.Model != brief.Vehicle && c.Brief.Model != brief.Lift {
		return nil
	}
	l := Lever{Key: "wheels", Words: "the wheels there are", Aside: "plenty of each wheel", Cost: Part, Relax: func(c Case) {
		for i := range c.Cupboard.Wheels {
			c.Cupboard.Wheels[i].Count = plenty
		}
		for i := range c.Cupboard.Drums {
			c.Cupboard.Drums[i].Count = plenty
		}
	}}
	if c.Brief.Model == brief.Lift {
		l.Key, l.Words, l.Aside = "drums", "the drums there are", "plenty of each drum"
		for i := range c.Cupboard.Drums {
			l.Ways = append(l.Ways, more("drum "+c.Cupboard.Drums[i].Name, c, c.Cupboard.Drums[i].Count, 1, func(c Case) *int { return &c.Cupboard.Drums[i].Count }))
		}
		return []Lever{l}
	}
	for i := range c.Cupboard.Wheels {
		l.Ways = append(l.Ways, more("wheel "+c.Cupboard.Wheels[i].Name, c, c.Cupboard.Wheels[i].Count, drive.VehicleWheels, func(c Case) *int { return &c.Cupboard.Wheels[i].Count }))
	}
	return []Lever{l}
}
