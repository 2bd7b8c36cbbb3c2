package proof

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/layout"
	"findrive/internal/parts"
)

// ErrMissed says that the answer is not the best: while its proof was being written
// a drive turned up that should have been ranked. The proof written up to there
// ends with that drive.
var ErrMissed = errors.New("a drive that is not ranked is better than one that is")

// Record writes the proof that the ranked drives of a certificate are the best keep
// drives of a cupboard for a brief. It goes through the whole space once more, on
// its own, and writes down what it leaves out and why. Errors: ErrMissed; that ctx
// ended; that the certificate is not one, is of a search that was stopped early, or
// ranks drives that break a rule.
func Record(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, keep int, data []byte) ([]byte, error) {
	h, err := headerOf(cup, b, keep)
	if err != nil {
		return nil, err
	}
	c, err := certificate.Read(data)
	if err != nil {
		return nil, err
	}
	all := spaces(cup, b)
	r := recorder{ctx: ctx}
	if r.ranking, err = readRanking(all, keep, c); err != nil {
		return nil, err
	}
	missed := r.spaces(all)
	if missed != nil && !errors.Is(missed, ErrMissed) {
		return nil, missed
	}
	out, err := file(h, data, legend(all), &r.log)
	return out, errors.Join(err, missed)
}

type recorder struct {
	log
	*ranking
	ctx context.Context
}

func (r *recorder) spaces(all []*space) error {
	for t, s := range all {
		r.line(key("t", t), expanded)
		for h := range s.heads {
			n := s.root(h)
			n.tackle, n.head = t, h
			if err := r.node(key("h", h), n); err != nil {
				return err
			}
		}
	}
	return nil
}

// root is a head with no pulley chosen.
func (s *space) root(h int) *node {
	hd := &s.heads[h]
	return &node{space: s, hd: hd, fixed: hd.fixed, flows: s.flowsAt(hd), ok: true}
}

func key(letter string, i int) string { return letter + strconv.Itoa(i) }

func (r *recorder) node(at string, n *node) error {
	if err := r.ctx.Err(); err != nil {
		return err
	}
	limit := r.limit(n.key())
	if no := n.judge(limit); no.rule != "" {
		r.leave(at, no)
		return nil
	}
	r.line(at, expanded)
	if !n.whole() {
		for _, p := range n.next() {
			if err := r.node(key("p", p), n.with(p, limit)); err != nil {
				return err
			}
		}
		return nil
	}
	s := settling{recorder: r, limit: limit}
	for i := range n.hd.stages {
		s.axleWays = append(s.axleWays, n.axleWays(i))
	}
	for _, forgive := range []bool{true, false} {
		if err := s.axles(forgiving(forgive), n.start(forgive), 0); err != nil {
			return err
		}
	}
	return nil
}

func forgiving(yes bool) string {
	if yes {
		return "f1"
	}
	return "f0"
}

// settling records one arrangement.
type settling struct {
	*recorder
	axleWays [][]*axleWay
	limit    points
}

func (s *settling) axles(at string, c *choice, i int) error {
	if no := c.judgeAxles(i, s.limit); no.rule != "" {
		s.leave(at, no)
		return nil
	}
	s.line(at, expanded)
	if i == c.n.hd.stages {
		return s.bands(c, i-1)
	}
	for k, a := range s.axleWays[i] {
		next := *c
		next.axles[i], next.cost = a, c.cost+a.cost
		if err := s.axles(key("a", k), &next, i+1); err != nil {
			return err
		}
	}
	return nil
}

// bands records the ways to band stage i, and then those before it.
func (s *settling) bands(c *choice, i int) error {
	for k, w := range c.n.waysOf(c.n.driver(i), c.n.driven(i)) {
		next := *c
		next.ways[i], next.cost = w, c.cost+w.cost
		at := key("w", k)
		if no := next.judgeBands(i, s.limit); no.rule != "" {
			s.leave(at, no)
			continue
		}
		if i > 0 {
			s.line(at, expanded)
			if err := s.bands(&next, i-1); err != nil {
				return err
			}
			continue
		}
		if err := next.finish(); err != nil {
			return fmt.Errorf("a drive cannot be worked out: %w", err)
		}
		whole := next.wholeBox()
		if err := s.box(at, &next, &whole, nil); err != nil {
			return err
		}
	}
	return nil
}

// known is a placement that has been found, with the number of its plan.
type known struct {
	at    []layout.Point
	lanes plan
	bad   bool // it is no better than what is ranked
	// excused is that it is better, and another in its cell is not.
	excused bool
	by      points // how much less it costs than would matter; below 0 if it is bad
}

// box records a box: that it can be left out, or that a placement stands for it, or
// its two halves.
func (s *settling) box(at string, c *choice, b *box, has *known) error {
	if err := s.ctx.Err(); err != nil {
		return err
	}
	if no := c.judgeBox(b, s.limit); no.rule != "" {
		s.leave(at, no)
		return nil
	}
	axis, size := c.widest(b)
	work := quickWork
	if size <= smallest {
		work = roomWork
	}
	if has == nil || !c.holds(b, has.at) {
		spot, lanes, got := c.place(b, work, func([]layout.Point, plan) bool { return true })
		switch got {
		case none:
			s.leave(at, reason{rule: room})
			return nil
		case unknown:
			has = nil
		default:
			has = &known{at: spot, lanes: lanes, bad: true, by: -1}
			if cost, no := c.costs(c.placed(spot, lanes)); no.rule == "" && cost <= s.limit {
				has.bad, has.by = false, s.limit-cost
			}
		}
	}
	if has != nil && has.bad && c.oneCell(b, has.at) {
		s.stand(at, seen, c, has)
		return nil
	}
	if has != nil && !has.bad && !has.excused {
		here := c.where(has.at)
		if has.by >= plainlyBetter || s.neighbour(c, &here, true) == nil {
			s.stand(at, better, c, has)
			cost, _ := c.costs(c.placed(has.at, has.lanes))
			return fmt.Errorf("%w: %s", ErrMissed, c.describe(cost))
		}
		has.excused = true
	}
	if size <= 1 && has != nil {
		if other := s.neighbour(c, b, size <= smallest); other != nil {
			word := near
			if has.bad {
				word = seen
			}
			s.stand(at, word, c, other)
			return nil
		}
	}
	if size <= smallest {
		s.leave(at, reason{rule: open})
		return nil
	}
	s.line(at, split, strconv.Itoa(axis))
	lower, upper := b.halves(axis, c.n.hd.stages)
	// The upper first, with the axles more in line: there is more often room there.
	if err := s.box("u", c, &upper, has); err != nil {
		return err
	}
	return s.box("l", c, &lower, has)
}

// plainlyBetter is by how many points a placement must be better for no other in its
// cell to excuse it: more than the speed varies within one.
const plainlyBetter points = 2_000

// smallest is the size of the boxes, in cells, below which no more are cut.
const smallest = 1.0 / 16

// better is the word for a placement that should have been ranked.
const better = "better"

// noBetter reports whether a placement is not what is looked for.
func (s *settling) noBetter(c *choice, at []layout.Point, lanes plan) bool {
	cost, no := c.costs(c.placed(at, lanes))
	return no.rule != "" || cost > s.limit
}

// neighbour looks for a placement in one cell with the whole box that is no better
// than what is ranked. It looks where the bounds say that all are: in parts of the
// surroundings, cut smaller and smaller. If that fails, and it is asked to be thorough,
// it tries the placements of the surroundings one by one.
func (s *settling) neighbour(c *choice, b *box, thorough bool) *known {
	k := c.n.hd.stages
	about, whole := *b, c.wholeBox()
	for axis := range c.axes() {
		v, size := b.get(axis, k), c.cell(axis)
		about.set(axis, k, span{Lo: v.Hi - size, Hi: v.Lo + size}.Meet(whole.get(axis, k)))
	}
	bad := func(at []layout.Point, lanes plan) bool { return s.noBetter(c, at, lanes) }
	queue := []box{about}
	for tried := 0; tried < len(queue) && tried < neighbours; tried++ {
		part := queue[tried]
		switch no := c.judgeBox(&part, s.limit); {
		case no.rule == room:
		case no.rule != "":
			if spot, lanes, got := c.place(&part, quickWork, bad); got == found {
				return &known{at: spot, lanes: lanes, bad: true}
			}
		default:
			if axis, wide := c.widest(&part); wide > smallest {
				lower, upper := part.halves(axis, k)
				queue = append(queue, lower, upper)
			}
		}
	}
	if !thorough {
		return nil
	}
	if spot, lanes, got := c.place(&about, roomWork, bad); got == found {
		return &known{at: spot, lanes: lanes, bad: true}
	}
	return nil
}

// neighbours is how many parts of a box's surroundings are looked at.
const neighbours = 150

func (s *settling) stand(at, word string, c *choice, k *known) {
	for i, p := range c.n.plansFor() {
		if p.same(&k.lanes) {
			s.stands(at, word, k.at, i)
			return
		}
	}
}

// widest is the axis along which a box is largest for a cell, and how many cells
// that is.
func (c *choice) widest(b *box) (axis int, cells float64) {
	for a := range c.axes() {
		if size := b.get(a, c.n.hd.stages).Length() / c.cell(a); size > cells {
			axis, cells = a, size
		}
	}
	return axis, cells
}
