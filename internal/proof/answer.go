package proof

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// ranking is what is to be proved: the ranked drives, and how many were asked for.
type ranking struct {
	keep  int
	drive []ranked
}

// ranked is one drive of the answer.
type ranked struct {
	key  []int // tackle, head, pulleys
	cost score.Points
}

// limit is what a drive of the arrangement with this key, or of any arrangement
// that begins with it, may cost at most for it to matter. A ranked one must not be
// had for less than it is said to cost; any other must not cost less than the last
// of a full ranking, nor as much if it would come before it among equals.
func (r *ranking) limit(key []int) score.Points {
	for i := range r.drive {
		if slices.Equal(r.drive[i].key, key) {
			return r.drive[i].cost - 1
		}
	}
	if len(r.drive) < r.keep {
		return math.MaxInt64 / 4
	}
	last := &r.drive[len(r.drive)-1]
	if mayPrecede(key, last.key) {
		return last.cost
	}
	return last.cost - 1
}

// spaces makes the space of each tackle.
func spaces(cup *parts.Cupboard, b *brief.Brief) []*space {
	if len(b.Load.Tackles) < 2 {
		return []*space{newSpace(cup, b)}
	}
	var out []*space
	for _, t := range b.Load.Tackles {
		out = append(out, newSpace(cup, b.With(t)))
	}
	return out
}

// readRanking reads the ranked drives from the certificate and holds each to every
// rule: built again from the cupboard's own parts, worked out and charged by the
// plain route.
func readRanking(spaces []*space, keep int, c *certificate.Certificate) (*ranking, error) {
	switch c.Status {
	case "proved best", "none possible":
	default:
		return nil, fmt.Errorf("the answer is %q, and there is nothing to prove of that", c.Status)
	}
	if len(c.Proposals) > keep {
		return nil, fmt.Errorf("%d drives were asked for and %d are ranked", keep, len(c.Proposals))
	}
	r := &ranking{keep: keep}
	for i := range c.Proposals {
		d, err := rankedDrive(spaces, &c.Proposals[i])
		if err != nil {
			return nil, fmt.Errorf("ranked drive %d: %w", i+1, err)
		}
		for j := range r.drive {
			if slices.Equal(r.drive[j].key, d.key) {
				return nil, fmt.Errorf("ranked drives %d and %d are the same arrangement", j+1, i+1)
			}
		}
		if i > 0 {
			before := &r.drive[i-1]
			if before.cost > d.cost || before.cost == d.cost && slices.Compare(before.key, d.key) >= 0 {
				return nil, fmt.Errorf("ranked drives %d and %d are in the wrong order", i, i+1)
			}
		}
		r.drive = append(r.drive, d)
	}
	return r, nil
}

// rankedDrive makes a drive of the certificate from the parts of the cupboard.
func rankedDrive(spaces []*space, p *certificate.Proposal) (ranked, error) {
	tackle := 0
	if len(spaces) > 1 {
		tackle = slices.IndexFunc(spaces, func(s *space) bool { return p.Tackle != nil && s.brief.Load.TackleParts == p.Tackle.Parts })
		if tackle < 0 {
			return ranked{}, errors.New("the brief does not allow its tackle")
		}
	}
	s := spaces[tackle]
	c, err := s.choiceOf(p)
	if err != nil {
		return ranked{}, err
	}
	c.n.tackle = tackle
	at, lanes, err := c.placesOf(p)
	if err != nil {
		return ranked{}, err
	}
	if broken := layout.Check(c.problem(lanes, c.off()), at); len(broken) > 0 {
		return ranked{}, fmt.Errorf("its places break a rule: %s", broken[0])
	}
	d := c.placed(at, lanes)
	cost, no := c.costs(d)
	speed, _, _ := c.works(d, 0)
	switch {
	case no.rule != "":
		return ranked{}, fmt.Errorf("it breaks the rule %q", no.rule)
	case math.Abs(cost.Float()-float64(p.Total)) > 5e-4:
		return ranked{}, fmt.Errorf("it is said to cost %.9g points and costs %.9g", float64(p.Total), cost.Float())
	case math.Abs(float64(speed)/float64(p.Speed.Likely)-1) > 1e-6:
		return ranked{}, fmt.Errorf("it is said to turn at %.9g rpm and turns at %.9g", float64(p.Speed.Likely), float64(speed))
	}
	return ranked{key: c.n.key(), cost: cost}, nil
}

// choiceOf finds what a proposal chose among the kinds of the cupboard.
func (s *space) choiceOf(p *certificate.Proposal) (*choice, error) {
	k := len(p.Stages)
	output := -1
	if p.Wheel != nil {
		output = find(s.wheels, p.Wheel.Name)
	} else if p.Drum != nil {
		output = find(s.drums, p.Drum.Name)
	}
	motor, holder := find(s.motors, p.Motor.Name), find(s.holders, p.Cells.Name)
	h := slices.IndexFunc(s.heads, func(h head) bool {
		return h.stages == k && h.motor == motor && h.holder == holder && h.output == output
	})
	if h < 0 {
		return nil, errors.New("its motor, cells and output are not to be had together")
	}
	n := s.root(h)
	n.head = h
	for i := k - 1; i >= 0; i-- {
		for _, name := range []string{p.Stages[i].Driven.Name, p.Stages[i].Driver.Name} {
			q := find(s.pulleys, name)
			if !slices.Contains(n.next(), q) {
				return nil, fmt.Errorf("pulley %s cannot be there", name)
			}
			n = n.with(q, math.MaxInt64/4)
		}
	}
	c := n.start(float64(p.Forgives) >= float64(s.brief.Limits.HoleError)-1e-6)
	for i := range k {
		a, err := n.axleOf(i, p)
		if err != nil {
			return nil, err
		}
		c.axles[i], c.cost = a, c.cost+a.cost
	}
	for i := range k {
		st := &p.Stages[i]
		band := find(s.bands, st.Band.Name)
		for _, w := range s.waysOf(n.driver(i), n.driven(i)) {
			if w.band == band && w.use.String() == st.Use && w.crossed == st.Crossed && w.window.Grow(1e-6).Contains(mm(st.Centre)) &&
				(c.ways[i] == nil || w.cost < c.ways[i].cost) {
				c.ways[i] = w
			}
		}
		if c.ways[i] == nil {
			return nil, fmt.Errorf("band %s does not go round stage %d so", st.Band.Name, i+1)
		}
		c.cost += c.ways[i].cost
	}
	if !c.enoughRod() || !c.enoughBands() {
		return nil, errors.New("the stock does not reach for it")
	}
	if constraints.TurnsRight(s.brief.Direction, c.reversals()) != nil {
		return nil, errors.New("the output turns the wrong way")
	}
	return c, c.finish()
}

// axleOf finds the rod and joints of a proposal's axle i.
func (n *node) axleOf(i int, p *certificate.Proposal) (*axleWay, error) {
	next := drive.Joint{}.Kind.String()
	switch {
	case i+1 < len(p.Stages):
		next = p.Stages[i+1].Driver.Joint.Kind
	case p.OutputJoint != nil:
		next = p.OutputJoint.Kind
	}
	stock := find(n.space.axles, p.Axles[i].Stock)
	for _, a := range n.axleWays(i) {
		if a.stock == stock && a.driven.Kind.String() == p.Stages[i].Driven.Joint.Kind && a.next.Kind.String() == next {
			return a, nil
		}
	}
	return nil, fmt.Errorf("axle %d cannot be made so", i+1)
}

// placesOf reads the holes and lanes of a proposal.
func (c *choice) placesOf(p *certificate.Proposal) ([]layout.Point, plan, error) {
	f := &c.n.brief.Frame
	var at []layout.Point
	for _, h := range p.Positions {
		q := layout.Point{X: mm(math.Round(float64(mm(h.X)/f.Pitch))) * f.Pitch, Y: mm(math.Round(float64(mm(h.Y)/f.Pitch))) * f.Pitch}
		for _, y := range f.Rails {
			if math.Abs(float64(y-mm(h.Y))) < 1e-4 {
				q.Y = y
			}
		}
		at = append(at, q)
	}
	for _, lanes := range c.n.plansFor() {
		if slices.Equal(lanes.lane, p.Lanes.Lane) && slices.Equal(lanes.beside, p.Lanes.BodyLanes) {
			return at, lanes, nil
		}
	}
	return nil, plan{}, errors.New("its lanes do not fit in the frame")
}
