package proof

import (
	"context"
	"fmt"
	"iter"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/constraints"
	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// briefs are the built-in example and small drawn cases of every kind of model.
func briefs(t *testing.T) iter.Seq2[string, *space] {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Tolerance = 0.6
	out := map[string]*space{"example": newSpace(cup, b)}
	for _, family := range cases.Families() {
		cup, b := cases.Make(cases.Size{Pulleys: 8, Bands: 5, Stages: 3}, family, 812)
		b.Tolerance = 0.6
		cup.Bands[1].Calibrated, cup.Bands[3].Calibrated = true, true
		out[string(family)] = newSpace(cup, b)
	}
	out["discs"] = discs(cup, b)
	for _, model := range []brief.Model{brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft} {
		of := *b
		of.Model, of.MaxStages, of.Load.OutOfBalance, of.Load.OutOfBalanceRadius = model, 2, 20, 50
		of.Load.Wheel, of.Load.Drum = "", ""
		if of.Load.DrivenShare == 0 {
			of.Load.DrivenShare = 0.5
		}
		if of.Load.TackleParts == 0 {
			of.Load.TackleParts, of.Load.TackleEfficiency = 1, 1
		}
		of.Load.Torque, of.Speed.Turning, of.Tolerance = 2, 60, 0.9
		if model == brief.Lift {
			of.Load.Mass, of.Load.CordLeaves, of.Speed.Linear = 30, brief.Down, 0.05
		}
		out["example as "+string(model)] = newSpace(cup, &of)
	}
	return func(yield func(string, *space) bool) { // in the same order each time
		for _, name := range slices.Sorted(maps.Keys(out)) {
			if !yield(name, out[name]) {
				return
			}
		}
	}
}

// discs is the example with pulleys on its axles that are all made of card.
func discs(cup *parts.Cupboard, b *brief.Brief) *space {
	with, of := *cup, *b
	with.Pulleys = slices.DeleteFunc(slices.Clone(cup.Pulleys), func(p parts.Pulley) bool { return p.Bore > 3 })
	with.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 40}, Kind: parts.PlainCard, Thickness: 2, Length: 300, Width: 200}}
	with.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 20, Largest: 110, Step: 6}}
	with.Discs = &parts.Discs{Bores: []mm{5}, Most: 12}
	of.Making.Discs, of.Making.Glue, of.MaxStages = true, true, 2
	return newSpace(&with, &of)
}

// TestBetweenLoads holds what is said of bands between the loads that are worked out to
// many more loads.
func TestBetweenLoads(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 5))
	for name, s := range briefs(t) {
		for range 60 {
			list := s.waysOf(pair{r.IntN(len(s.pulleys)), r.IntN(len(s.pulleys))}).all
			if len(list) == 0 {
				continue
			}
			w := list[r.IntN(len(list))]
			marks := s.marks(w, 0)
			if len(marks) == 0 {
				continue
			}
			st := marks[r.IntN(len(marks))]
			hub, loading := drive.HubOf(&st.fit, w.crossed), st.stage.Loading(&st.fit)
			for k := 1; k <= 100; k++ {
				effective := units.Newtons(st.greatest * float64(k) / 100 * (1 - 1e-8))
				at, ok := loading.At(effective)
				if !ok {
					continue
				}
				pull, creep := float64(hub(at.Tight, at.Slack)), -math.Log(at.SpeedFactor)/float64(effective)
				require.True(t, st.hub.Contains(pull), "%s: %v N at %d %% of slip is not in %v", name, pull, k, st.hub)
				require.True(t, st.creep.Contains(creep), "%s: creep %v at %d %% of slip is not in %v", name, creep, k, st.creep)
			}
		}
	}
}

// TestBoundsHold draws designs that keep the rules, and all that they are among while they
// are chosen: no bound may rule a design out that costs no more than the limit.
func TestBoundsHold(t *testing.T) {
	t.Parallel()
	total := 0
	for name, s := range briefs(t) {
		r := rand.New(rand.NewPCG(11, 13))
		held := 0
		for try := 0; try < 8000 && held < 60 && len(s.heads) > 0; try++ {
			h := r.IntN(len(s.heads))
			w := newWalk(context.Background(), &ranking{keep: 1}, nil)
			w.limit = never - 1
			row := &row{space: s, walk: w, hd: &s.heads[h], head: h, level: s.levels[r.IntN(len(s.levels))], lies: s.heads[h].liesFor()}
			if cost, b, ok := drawn(row, r); ok {
				held++
				requireKept(t, name, row, b, cost, r)
			}
		}
		t.Log(name, held)
		total += held
	}
	assert.Greater(t, total, 300)
}

// drawn draws a design that keeps the rules; its holes are not looked at.
func drawn(r *row, from *rand.Rand) (points, *box, bool) {
	cost := r.drawRow(from)
	if cost == never {
		return 0, nil, false
	}
	b := &box{lies: r.lies}
	for i := range r.hd.stages {
		for b.bunch[i] = r.bunch[i]; b.bunch[i].lower != nil; {
			b.bunch[i] = [2]*bunch{b.bunch[i].lower, b.bunch[i].upper}[from.IntN(2)]
		}
		r.states[i] = b.bunch[i].states[0]
	}
	b.innerBest += drive.Lie(from.IntN(int(b.innerWorst-b.innerBest) + 1))
	b.outputBest += drive.Lie(from.IntN(int(b.outputWorst-b.outputBest) + 1))
	b.innerWorst, b.outputWorst = b.innerBest, b.outputBest
	r.made = r.assemble()
	var err error
	if r.model, err = drive.Prepare(r.made, r.brief, drive.Conditions{}); err != nil {
		return 0, nil, false
	}
	total, no := r.worth(b.all(r.hd.stages), cost)
	return total, b, no == ""
}

// drawRow draws the pulleys, rods and joints of a row, and says what they cost; never if
// there are none such.
func (r *row) drawRow(from *rand.Rand) points {
	rough := span{Lo: 1, Hi: 1}
	for i := r.hd.stages - 1; i >= 0; i-- {
		all := r.pairsAt(r.hd, i)
		if len(all) == 0 {
			return never
		}
		r.pairs[i] = all[from.IntN(len(all))]
		own := r.roughRatio(r.pairs[i])
		rough = span{Lo: rough.Lo * own.Lo, Hi: rough.Hi * own.Hi}
		if r.bunch[i] = r.bunchOf(r.pairs[i], r.level).all; r.bunch[i] == nil {
			return never
		}
	}
	if rough.Meet(r.hd.ratios).Empty() {
		return never // most are, and not worth working out
	}
	shaft := r.hd.onShaft[r.pairs[0].driver]
	r.shaft = &shaft[from.IntN(len(shaft))]
	cost := r.rowCost() + score.Joint(r.brief.Weights, r.shaft.Kind)
	for i := range r.hd.stages {
		ways := r.axleWays(i)
		if len(ways) == 0 {
			return never
		}
		r.rods[i] = ways[from.IntN(len(ways))]
		cost += r.rods[i].cost
	}
	return cost
}

// requireKept follows a design from the whole row down.
func requireKept(t *testing.T, name string, r *row, one *box, cost points, from *rand.Rand) {
	t.Helper()
	bands := points(0)
	for i := range r.hd.stages {
		bands += one.bunch[i].cost
	}
	r.limit = cost
	real := r.doing(one)
	// What is known of any rods and pulleys holds of those that were drawn.
	free := float64(r.model.Demand.Steady - r.hd.demand.Steady)
	require.True(t, free >= r.hd.freeAxle.Lo-noise && free <= r.hd.freeAxle.Hi+noise, "%s: free axle %v is not in %v", name, free, r.hd.freeAxle)
	for i := range r.hd.stages {
		require.LessOrEqual(t, float64(r.model.AxleWeight[i]), r.mostOwn*(1+noise), "%s: axle %d", name, i+1)
	}
	real.requireRefusedNowhere(t, name, r, one, from)
	// The row, stage by stage from the output back, whatever its rods.
	f, before := r.hd.outset(r.hd.freeAxle), span{Lo: 1, Hi: 1}
	for i := range r.hd.stages {
		r.before[i] = before
		reach := span{Lo: math.Inf(1)}
		for _, p := range r.pairsAt(r.hd, i) {
			reach = reach.Join(r.roughRatio(p))
		}
		before = span{Lo: before.Lo * reach.Lo, Hi: before.Hi * reach.Hi}
	}
	charged := r.hd.fixed + score.Forgiveness(r.brief.Weights, r.level, r.brief.Limits.HoleError)
	for i := r.hd.stages - 1; i >= 0; i-- {
		p := r.pairs[i]
		charged += r.pairCost(r.hd, i, p) + r.bunch[i].cost
		best, worst := r.lies.of(i, r.hd.stages)
		next, no := r.through(r.hd, &f, r.bunch[i], &axleAt{drag: r.drag[p.driven], weight: span{Hi: r.mostOwn}, best: best, worst: worst})
		require.Empty(t, string(no), "%s: %s", name, r.describe(cost))
		f = next
		at := r.atMotor(r.hd, &f, i, r.before[i], charged, r.limit)
		require.LessOrEqual(t, at.bound, cost, "%s: stage %d, %q: %s", name, i+1, at.rule, r.describe(cost))
		real.requireWithin(t, name, r, &f, i, r.before[i])
	}
	// The boxes, halved one way and another.
	b := box{bunch: r.bunch, lies: r.lies}
	rest := r.rowCost() + score.Joint(r.brief.Weights, r.shaft.Kind)
	for _, a := range r.rods[:r.hd.stages] {
		rest += a.cost
	}
	for {
		no, _ := r.bound(&b, rest)
		require.LessOrEqual(t, no.bound, cost, "%s: %q: %s", name, no.rule, r.describe(cost))
		f := r.outsetOf()
		for i := r.hd.stages - 1; i >= 0; i-- {
			at := r.axleIn(&b, i)
			f, _ = r.through(r.hd, &f, b.bunch[i], &at)
		}
		real.requireWithin(t, name, r, &f, 0, span{Lo: 1, Hi: 1})
		if b == *one {
			return
		}
		if from.IntN(3) == 0 {
			b.lies = one.lies
			continue
		}
		i := from.IntN(r.hd.stages)
		if c := b.bunch[i]; c.lower != nil {
			if b.bunch[i] = c.upper; holdsState(c.lower, one.bunch[i].states[0]) {
				b.bunch[i] = c.lower
			}
		}
	}
}

// doing is what a drawn design does, and how fast it turns in each classroom.
type doing struct {
	forecast.Work
	class             *forecast.Class
	speeds            [forecast.Rooms]units.RPM
	running, starting drive.Flow
	speed             units.RPM
}

func (r *row) doing(one *box) *doing {
	var fits [drive.MaxStages]mechanics.Fitted
	weighed := true
	for i, st := range r.states[:r.hd.stages] {
		fits[i], r.model.Stages[i] = st.fit, st.stage
		weighed = weighed && r.bands[st.band].Part.Calibrated
	}
	lies := one.all(r.hd.stages)
	g := drive.GeometryAt(&fits, &lies)
	out := &doing{class: r.hd.classes[0], running: r.model.Carry(&g, r.model.Demand.Steady), starting: r.model.Carry(&g, r.model.Demand.Start)}
	out.speed = r.model.OutputSpeed(&g, &out.running)
	if weighed {
		out.class = r.hd.classes[len(r.hd.classes)-1]
	}
	out.Work = out.class.WorkOf(&r.model, &g, &out.running, &out.starting)
	out.speeds = out.class.Speeds(&out.Work)
	return out
}

// requireWithin holds what a design does to what is known where so many of its stages are
// not chosen yet: every figure lies within its bounds, and in no classroom is it said to
// stand or to miss the speed if it does not.
func (d *doing) requireWithin(t *testing.T, name string, r *row, f *flow, unknown int, before span) {
	t.Helper()
	const last = 1e-9 // the last bits
	why := func(what string) string { return fmt.Sprintf("%s, %d stages not chosen: %s", name, unknown, what) }
	within := func(what string, v float64, in span) {
		t.Helper()
		if v < in.Lo-last*math.Abs(in.Lo)-1e-12 || v > in.Hi+last*math.Abs(in.Hi)+1e-12 {
			require.Fail(t, "out of bounds", "%s: %v is not in %v", why(what), v, in)
		}
	}
	ratio := span{Lo: f.ratio.Lo * before.Lo, Hi: f.ratio.Hi * before.Hi}
	within("ratio", d.Ratio, ratio)
	within("ratio that may do", d.Ratio, r.hd.ratios)
	w := r.workOf(r.hd, f, unknown, before, ratio.Meet(r.hd.ratios))
	for pass := range 2 {
		within("turns of the output", 1/d.Ratio, w.by)
		within("friction", float64(d.Friction), w.friction)
		within("creep", d.Creep, w.creep)
		within("creep at the heaviest moment", d.Heavy, w.heavy)
		if pass == 0 {
			torque, no := r.likely(r.hd, &w) // which narrows the friction
			require.Empty(t, string(no), why("likely day"))
			require.LessOrEqual(t, torque, (w.demand/d.Ratio+float64(d.Friction))*(1+last), why("torque"))
		}
	}
	require.GreaterOrEqual(t, w.cut, d.Cut*(1-last), why("cut of discs"))
	for _, g := range f.grips[:f.count] {
		real := &d.Grips[g.stage]
		require.GreaterOrEqual(t, g.margin, real.Margin*(1-last), why("margin of grip"))
		within("growth", real.Growth, g.growth)
		within("exponent", real.Exponent, g.exponent)
	}
	low, high := r.readied(&w)
	rooms := d.class.Each()
	for i := range rooms {
		may, turns := w.inCut(&rooms[i], f, low, high)
		require.True(t, turns || d.speeds[i] <= 0, why("said to stand in a room"))
		asked := math.Abs(float64(d.speeds[i]/d.class.Target)-1) <= r.brief.Tolerance
		require.True(t, may || d.speeds[i] <= 0 || !asked, why("said not to be as asked in a room"))
	}
}

// requireRefusedNowhere makes every limit so tight that the design only just keeps it, and
// follows it down from its row: no rule may refuse what it is among.
func (d *doing) requireRefusedNowhere(t *testing.T, name string, r *row, one *box, from *rand.Rand) {
	t.Helper()
	const just = 1e-7 // of its value, by which a limit is kept: more than the checker spares
	was, ratios := *r.brief, r.hd.ratios
	defer func() { *r.brief, r.hd.ratios = was, ratios }()
	l := &r.brief.Limits
	l.StartMin = r.hd.stall / float64(d.starting.MotorTorque) * (1 - just)
	l.RunMin = r.hd.stall / float64(d.running.MotorTorque) * (1 - just)
	l.KeptSpeedMin = float64(d.speed) * d.Ratio / r.hd.free * (1 - just)
	l.GripMin, l.GripStartMin = math.Inf(1), math.Inf(1)
	for i := range r.hd.stages {
		greatest := one.bunch[i].states[0].greatest
		l.GripMin = min(l.GripMin, greatest/float64(d.running.Stages[i].Effective)*(1-just))
		l.GripStartMin = min(l.GripStartMin, greatest/float64(d.starting.Stages[i].Effective)*(1-just))
	}
	// In turn the likely speed is only just as asked, and then that of some classroom.
	misses := func(speed units.RPM) float64 { return math.Abs(float64(speed/d.class.Target) - 1) }
	for _, room := range []int{-1, from.IntN(forecast.Rooms)} {
		asked := misses(d.speed)
		if room >= 0 && d.speeds[room] > 0 && misses(d.speeds[room]) < 0.95 {
			asked = max(asked, misses(d.speeds[room]))
		}
		r.brief.Tolerance = asked*(1+just) + just
		r.hd.ratios = r.ratiosFor(r.hd)
		for _, b := range []*box{one, {bunch: r.bunch, lies: r.lies}, r.widened(one, from)} {
			f := r.outsetOf()
			for i := r.hd.stages - 1; i >= 0; i-- {
				at := r.axleIn(b, i)
				var no constraints.Rule
				f, no = r.through(r.hd, &f, b.bunch[i], &at)
				require.Empty(t, string(no), "%s: stage %d, at every limit", name, i+1)
			}
			no := r.atMotor(r.hd, &f, 0, span{Lo: 1, Hi: 1}, 0, never-1)
			require.Empty(t, string(no.rule), "%s: at every limit", name)
			d.requireWithin(t, name+", at every limit", r, &f, 0, span{Lo: 1, Hi: 1})
		}
	}
}

// widened is a design of which one figure of each stage is known less well than the others,
// and lies at one end of what is known.
func (r *row) widened(one *box, from *rand.Rand) *box {
	out := *one
	for i := range r.hd.stages {
		c := *one.bunch[i]
		of := []*span{&c.ratio, &c.driven, &c.hub, &c.creep, &c.greatest}[from.IntN(5)]
		if from.IntN(2) == 0 {
			of.Hi *= 1.3
		} else {
			of.Lo /= 1.3
		}
		out.bunch[i] = &c
	}
	return &out
}

func holdsState(b *bunch, st *state) bool {
	for _, o := range b.states {
		if o == st {
			return true
		}
	}
	return false
}
