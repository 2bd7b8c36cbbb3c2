package design

import (
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// toMake is what a node is charged for making one more pulley: nothing for one that is
// there, or of a kind that is made already.
func (t *task) toMake(n *node, pulley int) score.Points {
	if t.pulleys[pulley].Part.Made == nil {
		return 0
	}
	for _, q := range n.pulleys[:n.chosen] {
		if int(q) == pulley {
			return 0
		}
	}
	return score.Made(t.brief.Weights, 1)
}

// fewDiscs is the rule about the discs of one group for one more pulley. Whether the
// sheets take them is asked of whole arrangements only: see sheetsReach.
func (t *task) fewDiscs(n *node, pulley int) *constraints.Refusal {
	made := t.pulleys[pulley].Part.Made
	if made == nil || t.cup.Discs == nil {
		return nil
	}
	discs := made.Count()
	for _, q := range n.pulleys[:n.chosen] {
		if m := t.pulleys[q].Part.Made; m != nil {
			discs += m.Count()
		}
	}
	return constraints.DiscsOfAGroup(discs, t.cup.Discs.Most)
}

// toMakeOf puts in what one set takes how many of each pulley can be made, all those of the
// drive together sharing the sheets: for as many whole sets as these do, up to plenty.
func (t *task) toMakeOf(d *drive.Drive, uses []Use) {
	pulleys := d.Pulleys()
	if making.Discs(pulleys) == 0 {
		return
	}
	sets := making.Sets(t.cup, pulleys, t.brief.Sets)
	for i := range uses {
		u := &uses[i]
		for _, p := range pulleys {
			if u.Kind == "pulley" && u.Name == p.Name && p.Made != nil {
				u.Have = sets * u.Each
			}
		}
	}
}

// sheetsReach is the stock rule for the sheets that an arrangement's discs are cut from.
func (s *settling) sheetsReach() *constraints.Refusal {
	var all []*parts.Pulley
	for i := range s.stages {
		all = append(all, &s.pulleys[s.driver[i]].Part, &s.pulleys[s.driven[i]].Part)
	}
	return making.Enough(s.cup, all, s.brief.Sets)
}
