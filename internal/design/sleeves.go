package design

import (
	"cmp"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

// tubes are the sleeves of a drive's joints: of the motor's pulley, then for each axle of
// the driven pulley and of what else sits on it. Nil where there is none.
type tubes [2*drive.MaxStages + 1]*parts.Sleeve

// putIn gives the joints of a drive their sleeves.
func (s *tubes) putIn(d *drive.Drive) {
	put := func(j *drive.Joint, sleeve *parts.Sleeve) {
		if j.Kind == drive.Sleeved && sleeve != nil {
			j.Sleeve = sleeve
		}
	}
	put(&d.Stages[0].DriverJoint, s[0])
	for i := range d.Stages {
		put(&d.Stages[i].DrivenJoint, s[1+2*i])
		if i+1 < len(d.Stages) {
			put(&d.Stages[i+1].DriverJoint, s[2+2*i])
		}
	}
	put(&d.OutputJoint, s[2*len(d.Stages)])
}

// packing is a joint that a sleeve packs out, or several of one kind.
type packing struct {
	at    int // in tubes
	joint *drive.Joint
	takes int
}

// alike is whether the sleeves that do for one do for the other, as many of them.
func (p *packing) alike(o *packing) bool {
	return p.joint.Bore == o.joint.Bore && p.joint.Shaft == o.joint.Shaft && p.takes == o.takes
}

// packings lists the joints of the choice that sleeves pack out.
func (s *settling) packings() []packing {
	var out []packing
	add := func(at, takes int, j *drive.Joint) {
		if j.Kind == drive.Sleeved {
			out = append(out, packing{at, j, takes})
		}
	}
	add(0, 1, s.choice.onMotor)
	for i, o := range s.choice.axles[:s.stages] {
		add(1+2*i, 1, &o.driven)
		pieces := 1
		if i == s.stages-1 {
			pieces = drive.OutputPieces(s.outputParts(s.head.output))
		}
		add(2+2*i, pieces, &o.next)
	}
	return out
}

// chooseSleeves takes sleeves for the joints of the choice, of those there are enough of
// for all sets: the first kinds that will do. It refuses if none will.
func (s *settling) chooseSleeves() *constraints.Refusal {
	s.choice.tubes = tubes{}
	all := s.packings()
	if len(all) == 0 {
		return nil
	}
	left := make([]int, len(s.sleeves)) // for one set
	for k := range s.sleeves {
		left[k] = s.sleeves[k].Count / s.brief.Sets
	}
	// Joints that are alike stand together, so that they need not be tried crosswise.
	slices.SortStableFunc(all, func(a, b packing) int {
		return cmp.Or(cmp.Compare(a.joint.Shaft, b.joint.Shaft), cmp.Compare(a.joint.Bore, b.joint.Bore), cmp.Compare(b.takes, a.takes))
	})
	if s.pack(all, left, 0) {
		return nil
	}
	use := 0
	for _, p := range all {
		use += p.takes
	}
	return constraints.SleevesShort(all[0].joint.Sleeve.Name, use, s.brief.Sets)
}

// pack takes a sleeve for the first of some joints, of the kinds from one on, then for
// the rest.
func (s *settling) pack(rest []packing, left []int, from int) bool {
	if len(rest) == 0 {
		return true
	}
	p := &rest[0]
	for k := from; k < len(s.sleeves); k++ {
		if left[k] < p.takes || !constraints.SleevePacks(&s.sleeves[k].Part, p.joint.Bore, p.joint.Shaft) {
			continue
		}
		left[k] -= p.takes
		s.choice.tubes[p.at] = &s.sleeves[k].Part
		next := 0
		if len(rest) > 1 && p.alike(&rest[1]) {
			next = k
		}
		if s.pack(rest[1:], left, next) {
			return true
		}
		left[k] += p.takes
		s.choice.tubes[p.at] = nil
	}
	return false
}
