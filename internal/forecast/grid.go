package forecast

import "findrive/internal/units"

// Parts is in how many parts a grid has the friction of some drives, and their creep.
const Parts = 3

// Grid is several drives told apart by their friction and creep.
type Grid struct {
	Friction [Parts]units.Interval[units.NewtonMillimetres]
	Creep    [Parts]units.Interval[float64]
	Works    [Parts][Parts]int // of those of a friction and a creep: in how many rooms, at most
}

// Apart bounds in how many of the classrooms any drive of a part of a grid works, where those
// of all parts do what an extent says, and told says of them what AtMost has found. In each
// room some drive of an extent may work, and yet none work in many: the slow ones do where
// cells are fresh, and the fast ones where they are tired. Of a part this is much less so.
//
// A velocity ratio that may be out is not allowed for: x.Cut is to be 0.
func (c *Class) Apart(x *Extent, told *Told, g *Grid) {
	e := c.edgesOf(x)
	g.Works = [Parts][Parts]int{}
	for i := range c.rooms {
		if told.fails[i/64]&(1<<(i%64)) == 0 {
			e.count(&c.rooms[i], g)
		}
	}
}

// count adds a room to the parts of which some drive may work in it.
func (e *edges) count(o *member, g *Grid) {
	least, most := over(o.steady, o.rub, e.running)
	load := e.load * o.steady
	// What the speed is at most and at least by the friction, and times that by the creep.
	var fast, slow, leaves, keeps [Parts]float64
	for k := range Parts {
		fast[k] = fastestOf(o.free-o.slope*float64(g.Friction[k].Lo)*o.rub, o.slope*load, e.least, e.most)
		slow[k] = o.slowest(load, float64(g.Friction[k].Hi), e.least, e.most)
		leaves[k] = expAtMost(g.Creep[k].Hi * least * o.perPull)
		keeps[k] = expAtLeast(g.Creep[k].Lo * most * o.perPull)
	}
	if e.turn > 0 {
		e.countSwinging(o, g, &fast, &slow, &leaves, &keeps)
		return
	}
	for k := range Parts {
		for j := range Parts {
			if fast[k]*leaves[j] >= e.low && slow[k]*keeps[j] <= e.high {
				g.Works[k][j]++
			}
		}
	}
}

// countSwinging is count where the torque swings in a turn.
func (e *edges) countSwinging(o *member, g *Grid, fast, slow, leaves, keeps *[Parts]float64) {
	asked := e.load*o.steady + e.turn*o.swing
	begun, heaviest := over(o.steady+(o.swing-o.steady)*e.swung, o.rub, e.starting)
	quick, held := expAtMost(e.Heavy.Hi*begun*o.perPull), expAtLeast(e.Heavy.Lo*heaviest*o.perPull)
	for k := range Parts {
		atMost := quick * fastestOf(o.free-o.slope*float64(g.Friction[k].Lo)*o.rub, o.slope*asked, e.least, e.most)
		atLeast := held * o.slowest(asked, float64(g.Friction[k].Hi), e.least, e.most)
		for j := range Parts {
			if overTurnSquared(fast[k]*leaves[j], atMost) >= e.low*e.low && overTurnSquared(slow[k]*keeps[j], atLeast) <= e.high*e.high {
				g.Works[k][j]++
			}
		}
	}
}
