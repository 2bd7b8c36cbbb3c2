package proof

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
)

// Listed is one drive of the list that a proof is about, as the file has it: names are
// the cupboard's, lengths in mm.
type Listed struct {
	Points      float64       `json:"points"`
	RopeParts   int           `json:"rope_parts,omitempty"` // of a lift's tackle
	Motor       string        `json:"motor"`
	Cells       string        `json:"cells"`
	Output      string        `json:"output,omitempty"` // wheel or drum
	OutputJoint string        `json:"output_joint,omitempty"`
	HoleError   float64       `json:"hole_error"` // that the design forgives
	Stages      []ListedStage `json:"stages"`     // motor first
	Holes       [][2]float64  `json:"holes"`      // motor shaft first
	Lanes       []int         `json:"lanes"`      // of each stage
	Beside      []int         `json:"beside"`     // lanes beside the motor's body
	Reached     []int         `json:"reached"`    // lanes into which its shaft reaches
}

// ListedStage is one stage of a listed drive, and the axle that carries its driven
// pulley.
type ListedStage struct {
	Driver      string  `json:"driver"`
	DriverJoint string  `json:"driver_joint"`
	Driven      string  `json:"driven"`
	DrivenJoint string  `json:"driven_joint"`
	Rod         string  `json:"rod"`
	Band        string  `json:"band"`
	Use         string  `json:"use"`
	Crossed     bool    `json:"crossed,omitempty"`
	Spacing     float64 `json:"spacing"`
	Lie         string  `json:"lie"`
}

// ListedOf is a drive of a list with its holes, spacings and lies, that costs so much and
// forgives holes out of place by so much.
func ListedOf(d *drive.Drive, cost points, forgives mm, ropeParts int) (Listed, error) {
	k := len(d.Stages)
	if len(d.Spacings) != k || len(d.Lies) != k || len(d.Positions) != k+1 {
		return Listed{}, errors.New("it has no spacing, lie and hole for each stage")
	}
	out := Listed{Points: cost.Float(), RopeParts: ropeParts, Motor: d.Motor.Name, Cells: d.Holder.Name, HoleError: float64(forgives),
		Lanes: d.Lanes.Lane, Beside: append([]int{}, d.Lanes.BodyLanes...), Reached: append([]int{}, d.Lanes.ShaftLanes...)}
	if d.Wheel != nil {
		out.Output, out.OutputJoint = d.Wheel.Name, jointWord(&d.OutputJoint)
	}
	if d.Drum != nil {
		out.Output, out.OutputJoint = d.Drum.Name, jointWord(&d.OutputJoint)
	}
	for i := range d.Stages {
		s := &d.Stages[i]
		out.Stages = append(out.Stages, ListedStage{Driver: s.Driver.Name, DriverJoint: jointWord(&s.DriverJoint), Driven: s.Driven.Name,
			DrivenJoint: jointWord(&s.DrivenJoint), Rod: d.Axles[i].Name, Band: s.Band.Name, Use: s.Use.String(), Crossed: s.Crossed,
			Spacing: float64(d.Spacings[i]), Lie: d.Lies[i].String()})
	}
	for _, p := range d.Positions {
		out.Holes = append(out.Holes, [2]float64{float64(p.X), float64(p.Y)})
	}
	return out, nil
}

// jointWord tells the joints of a hub on a shaft apart.
func jointWord(j *drive.Joint) string {
	if j.Sleeve != nil {
		return j.Kind.String() + " " + j.Sleeve.Name
	}
	return j.Kind.String()
}

// sleeveOf is the kind of sleeve of a joint that is listed with one, -1 for none.
func (s *space) sleeveOf(listed string) int {
	name, found := strings.CutPrefix(listed, drive.Sleeved.String()+" ")
	if !found {
		return -1
	}
	return parts.Find(s.sleeves, name)
}

// sits tells whether a joint is the one that is listed: of its kind, packed out with a
// sleeve that fits.
func (s *space) sits(j *drive.Joint, listed string) bool {
	if j.Kind != drive.Sleeved {
		return jointWord(j) == listed
	}
	k := s.sleeveOf(listed)
	return k >= 0 && constraints.SleevePacks(&s.sleeves[k].Part, j.Bore, j.Shaft)
}

// enoughSleeves reports whether there are as many as are listed.
func (r *row) enoughSleeves(l *Listed) bool {
	need := map[int]int{}
	for i := range l.Stages {
		need[r.sleeveOf(l.Stages[i].DriverJoint)] += r.brief.Sets
		need[r.sleeveOf(l.Stages[i].DrivenJoint)] += r.brief.Sets
	}
	if nexts := r.rods[len(l.Stages)-1].nexts; nexts > 0 {
		need[r.sleeveOf(l.OutputJoint)] += nexts * r.brief.Sets
	}
	for k, n := range need {
		if k >= 0 && n > r.sleeves[k].Count {
			return false
		}
	}
	return true
}

// ranking is what is to be proved: the listed drives, and how many were asked for.
type ranking struct {
	keep  int
	drive []ranked
}

// ranked is a drive of the list: a row, and what it costs.
type ranked struct {
	tackle, head int
	pairs        []pair // motor first
	cost         points
}

// same reports whether a row is the same drive: the same pairs in any order.
func (d *ranked) same(tackle, head int, pairs []pair) bool {
	if d.tackle != tackle || d.head != head {
		return false
	}
	order := func(a, b pair) int { return cmp.Or(cmp.Compare(a.driven, b.driven), cmp.Compare(a.driver, b.driver)) }
	return slices.Equal(slices.SortedFunc(slices.Values(d.pairs), order), slices.SortedFunc(slices.Values(pairs), order))
}

// compare is the order of equals: tackle and head, then from the output back the larger
// driven pulley and the smaller driver first.
func (d *ranked) compare(tackle, head int, pairs []pair) int {
	if c := cmp.Or(cmp.Compare(d.tackle, tackle), cmp.Compare(d.head, head)); c != 0 {
		return c
	}
	for i := len(pairs) - 1; i >= 0; i-- {
		if c := cmp.Or(cmp.Compare(pairs[i].driven, d.pairs[i].driven), cmp.Compare(d.pairs[i].driver, pairs[i].driver)); c != 0 {
			return c
		}
	}
	return 0
}

// loosest is what any design may cost at most to matter.
func (r *ranking) loosest() points {
	switch n := len(r.drive); {
	case n == 0:
		return never - 1
	case n < r.keep:
		return r.drive[0].cost + score.Worth
	default:
		return r.drive[n-1].cost
	}
}

// limitOf is what a design of a row may cost at most to matter. A listed drive must not be
// had for less than it is said to cost, nor for as much by a row that comes before its
// own. Another must not cost less than the last of a full list, nor as much if it comes
// before it; and where the list is not full, nothing else may be worth building.
func (r *ranking) limitOf(tackle, head int, pairs []pair) points {
	before := func(d *ranked) points {
		if d.compare(tackle, head, pairs) > 0 {
			return d.cost
		}
		return d.cost - 1
	}
	for i := range r.drive {
		if d := &r.drive[i]; d.same(tackle, head, pairs) {
			return before(d)
		}
	}
	if len(r.drive) < r.keep {
		return r.loosest()
	}
	return before(&r.drive[len(r.drive)-1])
}

// missedError is that a design turned up that should have been listed.
type missedError struct{ says string }

func (e *missedError) Error() string { return e.says }

// missed says what is wrong with the list now that a design is found that costs so much.
func (r *row) missed(cost points) error {
	pairs := r.pairs[:r.hd.stages]
	for i := range r.drive {
		switch d := &r.drive[i]; {
		case d.same(r.tackle, r.head, pairs) && cost < d.cost:
			return &missedError{fmt.Sprintf("listed drive %d can be had for less: %s", i+1, r.describe(cost))}
		case d.same(r.tackle, r.head, pairs):
			return &missedError{fmt.Sprintf("listed drive %d comes first with its stages in another order: %s", i+1, r.describe(cost))}
		}
	}
	return &missedError{"a better drive is not listed: " + r.describe(cost)}
}

// rank holds the listed drives to the definition and to their order. Errors: what is wrong with
// them, or that ctx ended.
func rank(ctx context.Context, all []*space, keep int, list []Listed) (*ranking, error) {
	if len(list) > keep {
		return nil, fmt.Errorf("%d drives were asked for and %d are listed", keep, len(list))
	}
	out := &ranking{keep: keep}
	for i := range list {
		if err := pause.Err(ctx); err != nil {
			return nil, err
		}
		d, err := rankedOf(all, &list[i])
		if err != nil {
			return nil, fmt.Errorf("listed drive %d: %w", i+1, err)
		}
		for j := range out.drive {
			if out.drive[j].same(d.tackle, d.head, d.pairs) {
				return nil, fmt.Errorf("listed drives %d and %d are the same drive", j+1, i+1)
			}
		}
		if i > 0 {
			first, before := &out.drive[0], &out.drive[i-1]
			if before.cost > d.cost || before.cost == d.cost && before.compare(d.tackle, d.head, d.pairs) > 0 {
				return nil, fmt.Errorf("listed drives %d and %d are in the wrong order", i, i+1)
			}
			if d.cost > first.cost+score.Worth {
				return nil, fmt.Errorf("listed drive %d is not worth building: it costs over %s points more than the first", i+1, inPoints(score.Worth))
			}
		}
		out.drive = append(out.drive, d)
	}
	for _, s := range all {
		least := never
		for h := range s.heads {
			least = min(least, s.heads[h].fixed)
		}
		s.dearest = out.loosest() - min(least, out.loosest())
		clear(s.ways)
		clear(s.bunches)
	}
	return out, nil
}

// rankedOf makes a listed drive from the parts of the cupboard, works it out, and checks
// its holes.
func rankedOf(all []*space, l *Listed) (ranked, error) {
	tackle := 0
	if len(all) > 1 {
		tackle = slices.IndexFunc(all, func(s *space) bool { return s.brief.Load.TackleParts == l.RopeParts })
		if tackle < 0 {
			return ranked{}, errors.New("the brief does not allow its tackle")
		}
	}
	r, lies, err := all[tackle].rowOf(l)
	if err != nil {
		return ranked{}, err
	}
	enough := r.enoughDiscs() && r.enoughRod() && r.enoughSleeves(l)
	for i := range l.Stages {
		enough = enough && r.enoughPulleys(i)
	}
	if !enough {
		return ranked{}, errors.New("the stock does not reach for it")
	}
	cost := r.rowCost() + score.Joint(r.brief.Weights, r.shaft.Kind)
	for _, a := range r.rods[:r.hd.stages] {
		cost += a.cost
	}
	r.made = r.assemble()
	if r.model, err = drive.Prepare(r.made, r.brief, drive.Conditions{}); err != nil {
		return ranked{}, err
	}
	cost, no := r.worth(lies.all(r.hd.stages), cost)
	if no != "" {
		return ranked{}, fmt.Errorf("it breaks the rule %q", string(no))
	}
	if points(math.Round(1000*l.Points)) != cost {
		return ranked{}, fmt.Errorf("it is said to cost %.9g points and costs %s", l.Points, inPoints(cost))
	}
	if err := r.holesOf(l, lies); err != nil {
		return ranked{}, err
	}
	return ranked{tackle: tackle, head: r.head, pairs: slices.Clone(r.pairs[:r.hd.stages]), cost: cost}, nil
}

// rowOf finds what a listed drive chose among the kinds of the cupboard.
func (s *space) rowOf(l *Listed) (*row, *lies, error) {
	k := len(l.Stages)
	output := -1
	if l.Output != "" {
		if output = parts.Find(s.drums, l.Output); s.brief.Model == brief.Vehicle {
			output = parts.Find(s.wheels, l.Output)
		}
	}
	motor, holder := parts.Find(s.motors, l.Motor), parts.Find(s.holders, l.Cells)
	h := slices.IndexFunc(s.heads, func(h head) bool {
		return h.stages == k && h.motor == motor && h.holder == holder && h.output == output
	})
	if h < 0 {
		return nil, nil, errors.New("its motor, cells and output are not to be had together")
	}
	r := &row{space: s, hd: &s.heads[h], head: h, level: mm(l.HoleError), lies: s.heads[h].liesFor()}
	if !slices.Contains(s.levels, r.level) {
		return nil, nil, fmt.Errorf("no design is held to holes %.9g mm out of place", l.HoleError)
	}
	for i := range l.Stages {
		r.pairs[i] = pair{parts.Find(s.pulleys, l.Stages[i].Driven), parts.Find(s.pulleys, l.Stages[i].Driver)}
		if !slices.Contains(s.pairsAt(r.hd, i), r.pairs[i]) {
			return nil, nil, fmt.Errorf("the pulleys of stage %d cannot be there", i+1)
		}
	}
	for j := range r.hd.onShaft[r.pairs[0].driver] {
		if joint := &r.hd.onShaft[r.pairs[0].driver][j]; r.sits(joint, l.Stages[0].DriverJoint) {
			r.shaft = joint
		}
	}
	if r.shaft == nil {
		return nil, nil, fmt.Errorf("pulley %s does not sit so on the motor's shaft", l.Stages[0].Driver)
	}
	for i := range l.Stages {
		if err := r.choose(l, i); err != nil {
			return nil, nil, err
		}
	}
	lies, err := r.liesOf(l)
	return r, lies, err
}

// choose finds the rod and the state of stage i.
func (r *row) choose(l *Listed, i int) error {
	st := &l.Stages[i]
	next := l.OutputJoint
	if i+1 < len(l.Stages) {
		next = l.Stages[i+1].DriverJoint
	}
	stock := parts.Find(r.axles, st.Rod)
	for _, a := range r.axleWays(i) {
		if a.stock == stock && r.sits(&a.driven, st.DrivenJoint) && (a.nexts == 0 || r.sits(&a.next, next)) {
			r.rods[i] = a
		}
	}
	if r.rods[i] == nil {
		return fmt.Errorf("axle %d cannot be made so", i+1)
	}
	band := parts.Find(r.bands, st.Band)
	for _, w := range r.waysOf(r.pairs[i]).all {
		if w.band != band || w.use.String() != st.Use || w.crossed != st.Crossed {
			continue
		}
		for _, mark := range r.marks(w, r.level) {
			if math.Abs(st.Spacing-float64(mark.fit.Centre)) <= 2*float64(near) {
				r.states[i] = mark
			}
		}
	}
	if r.states[i] == nil {
		return fmt.Errorf("stage %d has no mark at a spacing of %.9g mm for its band", i+1, st.Spacing)
	}
	return nil
}

// liesOf reads the lies of a listed drive.
func (r *row) liesOf(l *Listed) (*lies, error) {
	out := r.lies
	k := len(l.Stages)
	for i := range l.Stages {
		best, worst := r.lies.of(i, k)
		at := slices.IndexFunc(drive.Lies(), func(o drive.Lie) bool { return o.String() == l.Stages[i].Lie })
		lie := drive.Lie(at)
		switch {
		case at < 0 || lie < best || lie > worst || i > 0 && i < k-1 && lie != out.innerBest:
			return nil, fmt.Errorf("axle %d has no lie such as %q", i+1, l.Stages[i].Lie)
		case i == k-1:
			out.outputBest, out.outputWorst = lie, lie
		default:
			out.innerBest, out.innerWorst = lie, lie
		}
	}
	return &out, nil
}

// holesOf checks the holes of a listed drive, with nothing left out.
func (r *row) holesOf(l *Listed, lies *lies) error {
	k := r.hd.stages
	b := box{lies: *lies}
	for i := range k {
		b.bunch[i] = &bunch{cell: r.states[i].cell.Grow(near), far: r.states[i].cell.Hi - near}
	}
	plans := r.lanePlans()
	plan := slices.IndexFunc(plans, func(p layout.LanePlan) bool {
		return slices.Equal(p.Lane, l.Lanes) && slices.Equal(p.BodyLanes, l.Beside) && slices.Equal(p.ShaftLanes, l.Reached)
	})
	if plan < 0 {
		return errors.New("its lanes are not among those that fit in the frame")
	}
	var at []layout.Point
	for _, h := range l.Holes {
		at = append(at, layout.Point{X: mm(h[0]), Y: mm(h[1])})
	}
	if broken := layout.Check(r.problem(r.made, &plans[plan], r.windowsOf(&b)), at); len(broken) > 0 {
		return fmt.Errorf("its holes will not do: %s", broken[0])
	}
	return nil
}
