package proof

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// briefs are the built-in example and small drawn cases of every kind of model.
func briefs(t *testing.T) map[string]*space {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Tolerance = 0.6
	out := map[string]*space{"example": newSpace(cup, b)}
	for _, family := range cases.Families() {
		cup, b := cases.Make(cases.Size{Pulleys: 8, Bands: 5, Stages: 3}, family, 812)
		b.Tolerance = 0.6
		out[string(family)] = newSpace(cup, b)
	}
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
		out["example as "+string(model)] = newSpace(cup, &of)
	}
	return out
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
	// The row, stage by stage from the output back, whatever its rods.
	f, before := r.hd.outset(r.hd.freeAxle), span{Lo: 1, Hi: 1}
	for i := range r.hd.stages {
		r.before[i] = before
		own := r.roughRatio(r.pairs[i])
		before = span{Lo: before.Lo * own.Lo, Hi: before.Hi * own.Hi}
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

func holdsState(b *bunch, st *state) bool {
	for _, o := range b.states {
		if o == st {
			return true
		}
	}
	return false
}
