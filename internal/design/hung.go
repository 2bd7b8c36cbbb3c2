package design

import (
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
)

// hanging tells which pulleys can sit on which rods, and how many sleeves there are, so
// that pulleys for whose axles there are no rods are refused when they are chosen.
type hanging struct {
	asks    bool         // whether it may ever refuse
	ways    [][]hungWays // [pulley][rod]
	sleeves int          // of any kind, for one set
}

// hungWays is how a pulley can sit on a rod.
type hungWays uint8

const (
	unhung   hungWays = iota
	inSleeve          // only with a sleeve
	plainly
)

// findHanging makes the tables. There is nothing to ask where each pulley sits plainly on
// each rod, and each kind of rod makes all axles of all sets by itself.
func (t *task) findHanging() {
	h := &t.hanging
	for k := range t.sleeves {
		h.sleeves += t.sleeves[k].Count / t.brief.Sets
	}
	h.ways = make([][]hungWays, len(t.pulleys))
	for p := range h.ways {
		h.ways[p] = make([]hungWays, len(t.axles))
	}
	for _, p := range t.axlePulleys {
		for a := range t.axles {
			for _, j := range t.onAxle[p][a] {
				way := plainly
				if j.Kind == drive.Sleeved {
					way = inSleeve
				}
				h.ways[p][a] = max(h.ways[p][a], way)
			}
			h.asks = h.asks || h.ways[p][a] != plainly
		}
	}
	for i := range t.heads {
		kinds := make([]int, t.heads[i].stages)
		wheel, drum := t.outputParts(t.heads[i].output)
		for a := range t.axles {
			for k := range kinds {
				kinds[k] = a
			}
			for _, cut := range t.sawingsOf(kinds, wheel, drum) {
				h.asks = h.asks || !t.plentyOfRod(cut)
			}
		}
	}
}

// hang is whether the pulleys chosen so far can sit on axles for which there are rods and
// sleeves; if not, what is short, or nil if they just do not go together. What is still to
// choose is taken to sit anywhere, and so is a wheel or drum.
func (t *task) hang(n *node) (ok bool, short *constraints.Refusal) {
	h := &t.heads[n.head]
	if !t.hanging.asks || n.whole(t) {
		return true, nil // the last pulley is on the motor
	}
	var kinds [drive.MaxStages]int
	wheel, drum := t.outputParts(h.output)
	var choose func(axle, sleeves int) bool // axles from the output back
	choose = func(axle, sleeves int) bool {
		if axle == h.stages {
			for _, cut := range t.sawingsOf(kinds[:h.stages], wheel, drum) {
				if t.plentyOfRod(cut) {
					continue
				}
				if no := constraints.EnoughRod(t.axles[cut.kind].Part.Name, cut.each(), t.setsFrom(cut), t.brief.Sets); no != nil {
					short = no
					return false
				}
			}
			return true
		}
		for rod := range t.axles {
			left := sleeves
			if !t.hangs(n, 2*axle, rod, &left) || axle > 0 && !t.hangs(n, 2*axle-1, rod, &left) {
				continue
			}
			if left < 0 {
				short = t.sleevesShort(n, rod)
				continue
			}
			kinds[h.stages-1-axle] = rod
			if choose(axle+1, left) {
				return true
			}
		}
		return false
	}
	return choose(0, t.hanging.sleeves), short
}

// plentyOfRod tells at a glance that the rods of a kind surely make what all sets take: even
// if every axle were as long as the longest.
func (t *task) plentyOfRod(s sawing) bool {
	longest := drive.AxleLength(t.brief)
	if s.output > 0 {
		longest = max(longest, s.length)
	}
	axles := 0
	for i := range t.cup.Axles {
		if a := &t.cup.Axles[i]; slices.Contains(t.axles[s.kind].Names, a.Name) {
			axles += a.Count * FromRod(a.Length, longest)
		}
	}
	return axles >= t.brief.Sets*s.each()
}

// hangs is whether a pulley of a node, if it is chosen, sits on a rod, and what sleeves are
// left then.
func (t *task) hangs(n *node, at, rod int, sleeves *int) bool {
	if at >= int(n.chosen) {
		return true
	}
	way := t.hanging.ways[n.pulleys[at]][rod]
	if way == inSleeve {
		*sleeves--
	}
	return way != unhung
}

// sleevesShort says that the sleeves for the pulleys of a node on such a rod are too few.
func (t *task) sleevesShort(n *node, rod int) *constraints.Refusal {
	for _, pulley := range n.pulleys[:n.chosen] {
		if t.hanging.ways[pulley][rod] == inSleeve {
			return constraints.SleevesShort(t.onAxle[pulley][rod][0].Sleeve.Name, t.hanging.sleeves+1, t.brief.Sets)
		}
	}
	return nil
}
