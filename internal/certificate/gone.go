package certificate

import "slices"

// Gone is how many of a part that one set takes do not come back when it is taken apart, as
// supply reckons: bands, axles and sleeves, and what was glued on or drilled out. Rods are sawn,
// and sheets cut up, for all sets at once; what of them is begun is told by that.
func (p *Proposal) Gone(u *Use) int {
	if u.Kind == "band" || u.Kind == "axle" || u.Kind == "sleeve" {
		return u.Each
	}
	n := 0
	look := func(kind, name string, j *Joint, pieces int) {
		if u.Kind == kind && (u.Name == name || slices.Contains(u.Also, name)) && (j.Kind == "drop of glue" || j.Kind == "drill out") {
			n += pieces
		}
	}
	for i := range p.Stages {
		for _, q := range []*Pulley{&p.Stages[i].Driver, &p.Stages[i].Driven} {
			look("pulley", q.Name, &q.Joint, 1)
		}
	}
	if j := p.OutputJoint; j != nil && p.Wheel != nil {
		look("wheel", p.Wheel.Name, j, u.Each)
	} else if j != nil && p.Drum != nil {
		look("drum", p.Drum.Name, j, 1)
	}
	return n
}
