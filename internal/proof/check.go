package proof

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/recheck"
	"findrive/internal/score"
)

// Verdict is what a proof comes to that is accepted.
type Verdict struct {
	Asked  int            // how many drives were asked for
	Ranked []score.Points // what each ranked drive costs, best first
	Nodes  int            // parts of the space looked at
	// Left counts the parts that were left out, reason by reason, the most
	// frequent first.
	Left []Count
	// Trusted counts those whose reason could not be worked out again.
	Trusted int
}

// Count is how often parts of the space were left out for a reason.
type Count struct {
	Reason string
	Parts  int
}

// Total is how many parts were left out.
func (v *Verdict) Total() int {
	n := 0
	for _, c := range v.Left {
		n += c.Parts
	}
	return n
}

// Check replays a proof against a cupboard and a brief. It goes through the space
// itself: at every node it works out what the children are and wants each of them
// in the proof, and of everything left out it works the reason out again. The
// ranked drives are built from the cupboard's parts and held to every rule, and
// their certificate is rechecked by package recheck.
//
// Errors: ErrNotProof, a *Rejection, or that ctx ended.
func Check(ctx context.Context, data []byte, cup *parts.Cupboard, b *brief.Brief) (*Verdict, error) {
	r, err := openProof(data)
	if err != nil {
		return nil, err
	}
	h, err := headerOf(cup, b, r.header.keep)
	switch {
	case err != nil:
		return nil, err
	case h.cupboard != r.header.cupboard:
		return nil, &Rejection{Says: "the proof is of another cupboard, or this one has changed since"}
	case h.brief != r.header.brief:
		return nil, &Rejection{Says: "the proof is of another brief, or this one has changed since"}
	}
	cert, err := certificate.Read(r.certificate)
	if err != nil {
		return nil, &Rejection{Says: "the answer in the proof: " + err.Error()}
	}
	if broken := recheck.Recheck(r.certificate); len(broken) > 0 {
		return nil, &Rejection{Says: "the answer in the proof does not hold: " + broken[0]}
	}
	c := checker{ctx: ctx, reader: r, counts: map[string]int{}}
	all := spaces(cup, b)
	if c.ranking, err = readRanking(all, r.header.keep, cert); err != nil {
		return nil, &Rejection{Says: err.Error()}
	}
	if status := "proved best"; (len(c.drive) > 0) != (cert.Status == status) {
		return nil, &Rejection{Says: fmt.Sprintf("the answer is %q with %d drives", cert.Status, len(c.drive))}
	}
	if err := r.legend(legend(all)); err != nil {
		return nil, err
	}
	if err := c.spaces(all); err != nil {
		return nil, err
	}
	if err := r.end(); err != nil {
		return nil, err
	}
	return c.verdict(), nil
}

type checker struct {
	*reader
	*ranking
	ctx     context.Context
	counts  map[string]int
	trusted int
}

func (c *checker) verdict() *Verdict {
	v := &Verdict{Asked: c.keep, Nodes: c.read, Trusted: c.trusted}
	for i := range c.drive {
		v.Ranked = append(v.Ranked, c.drive[i].cost)
	}
	for reason, n := range c.counts {
		v.Left = append(v.Left, Count{reason, n})
	}
	slices.SortFunc(v.Left, func(a, b Count) int {
		if a.Parts != b.Parts {
			return b.Parts - a.Parts
		}
		return strings.Compare(a.Reason, b.Reason)
	})
	return v
}

func (c *checker) reject(format string, args ...any) error {
	return &Rejection{Line: c.read, Says: fmt.Sprintf(format, args...)}
}

// next is the line that must be there for a child.
func (c *checker) next(at string) ([]string, error) {
	if err := c.ctx.Err(); err != nil {
		return nil, err
	}
	words, err := c.reader.node()
	if err != nil {
		return nil, err
	}
	if len(words) < 2 || words[0] != at {
		return nil, c.reject("branch %s is missing", at)
	}
	return words[1:], nil
}

// left holds what is said of a node that is left out against the reason worked out
// again.
func (c *checker) left(words []string, no reason) error {
	word := strings.ReplaceAll(no.rule, " ", "-")
	if no.rule == "" {
		return c.reject("left out as %s, and that does not hold", strings.Join(words, " "))
	}
	if words[0] != word {
		return c.reject("left out as %s, and it is %s", words[0], word)
	}
	want, claimed := 1, 0.0
	if no.rule == dear || no.figure != 0 {
		want = 2
		if len(words) == 2 {
			var err error
			if claimed, err = strconv.ParseFloat(words[1], 64); err != nil {
				return c.reject("%s is not a number", words[1])
			}
		}
	}
	if len(words) != want {
		return c.reject("left out as %s with %d figures, and %d are needed", words[0], len(words)-1, want-1)
	}
	if no.rule == dear && math.Abs(claimed-no.bound.Float()) > 1e-9 {
		return c.reject("the bound is given as %s points and comes out as %s", words[1], inPoints(no.bound))
	}
	if no.rule != dear && !(math.Abs(claimed-no.figure) <= 1e-4*math.Abs(no.figure)) {
		return c.reject("the figure for %s is given as %s and comes out as %s", words[0], words[1], figure(no.figure))
	}
	c.counts[no.rule]++
	return nil
}

func (c *checker) spaces(all []*space) error {
	for t, s := range all {
		words, err := c.next(key("t", t))
		if err != nil {
			return err
		}
		if len(words) != 1 || words[0] != expanded {
			return c.reject("a tackle is left out")
		}
		for h := range s.heads {
			n := s.root(h)
			n.tackle, n.head = t, h
			if err := c.node(key("h", h), n); err != nil {
				return err
			}
		}
	}
	return nil
}

// isExpanded reports whether a node's children follow.
func isExpanded(words []string) bool { return len(words) == 1 && words[0] == expanded }

func (c *checker) node(at string, n *node) error {
	words, err := c.next(at)
	if err != nil {
		return err
	}
	limit := c.limit(n.key())
	if !isExpanded(words) {
		return c.left(words, n.judge(limit))
	}
	if len(n.pulleys) > 0 && len(n.pulleys)%2 == 0 && !n.ok {
		return c.reject("nothing can lie under this branch: %s", n.why.rule)
	}
	if !n.whole() {
		for _, p := range n.next() {
			if err := c.node(key("p", p), n.with(p, limit)); err != nil {
				return err
			}
		}
		return nil
	}
	s := settled{checker: c, limit: limit}
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

// settled checks one arrangement.
type settled struct {
	*checker
	axleWays [][]*axleWay
	limit    points
}

func (s *settled) axles(at string, c *choice, i int) error {
	words, err := s.next(at)
	if err != nil {
		return err
	}
	if !isExpanded(words) {
		return s.left(words, c.judgeAxles(i, s.limit))
	}
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

func (s *settled) bands(c *choice, i int) error {
	for k, w := range c.n.waysOf(c.n.driver(i), c.n.driven(i)) {
		next := *c
		next.ways[i], next.cost = w, c.cost+w.cost
		words, err := s.next(key("w", k))
		if err != nil {
			return err
		}
		no := next.judgeBands(i, s.limit)
		switch {
		case no.rule != "":
			err = s.left(words, no)
		case i > 0 && isExpanded(words):
			err = s.bands(&next, i-1)
		case i > 0:
			err = s.left(words, no)
		default:
			if err = next.finish(); err == nil {
				whole := next.wholeBox()
				err = s.box(words, &next, &whole)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// thin is the size, in cells, below which the checker follows no more cuts, so that
// a file cannot lead it down for ever.
const thin = 1.0 / 32

func (s *settled) box(words []string, c *choice, b *box) error {
	switch words[0] {
	case split:
		axis := -1
		if len(words) == 2 {
			axis, _ = strconv.Atoi(words[1])
		}
		if axis < 0 || axis >= c.axes() || b.get(axis, c.n.hd.stages).Length() < thin*c.cell(axis) {
			return s.reject("a box is cut along no axis, or too fine")
		}
		lower, upper := b.halves(axis, c.n.hd.stages)
		for _, half := range []struct {
			at string
			*box
		}{{"u", &upper}, {"l", &lower}} {
			words, err := s.next(half.at)
			if err != nil {
				return err
			}
			if err := s.box(words, c, half.box); err != nil {
				return err
			}
		}
		return nil
	case seen, near, better:
		return s.stood(words, c, b)
	case open:
		if len(words) != 1 {
			return s.reject("an open box has no figures")
		}
		s.counts[open]++
		s.trusted++
		return nil
	case room:
		if no := c.judgeBox(b, s.limit); no.rule == room {
			return s.left(words, no)
		}
		_, _, got := c.place(b, roomWork, func([]layout.Point, plan) bool { return true })
		if got != none {
			return s.reject("it is said that nothing can be placed there, and that does not hold")
		}
		return s.left(words, reason{rule: room})
	}
	return s.left(words, c.judgeBox(b, s.limit))
}

// stood checks a placement that stands for a box.
func (s *settled) stood(words []string, c *choice, b *box) error {
	plans := c.n.plansFor()
	if len(words) != 2+c.n.hd.stages+1 {
		return s.reject("a placement needs a plan and %d places", c.n.hd.stages+1)
	}
	p, err := strconv.Atoi(words[1])
	if err != nil || p < 0 || p >= len(plans) {
		return s.reject("there is no plan %s", words[1])
	}
	var at []layout.Point
	for _, w := range words[2:] {
		x, y, _ := strings.Cut(w, ",")
		px, errX := strconv.ParseFloat(x, 64)
		py, errY := strconv.ParseFloat(y, 64)
		if errX != nil || errY != nil || !(math.Abs(px) < 1e5) || !(math.Abs(py) < 1e5) {
			return s.reject("%s is not a place", w)
		}
		at = append(at, layout.Point{X: mm(px), Y: mm(py)})
	}
	whole := c.wholeBox()
	if !c.holds(&whole, at) || !c.oneCell(b, at) && words[0] != better {
		return s.reject("the placement does not stand for its box")
	}
	if broken := layout.Check(c.problem(plans[p], c.off()), at); len(broken) > 0 {
		return s.reject("the placement breaks a rule itself: %s", broken[0])
	}
	cost, no := c.costs(c.placed(at, plans[p]))
	if no.rule == "" && cost <= s.limit {
		return s.reject("a better drive is not ranked: %s", c.describe(cost))
	}
	if words[0] == better {
		return s.reject("a placement is given as better, and it is not")
	}
	s.counts[words[0]]++
	return nil
}
