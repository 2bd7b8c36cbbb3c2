package goals

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// TestExpect has what the club will see: a drive that is further off but surely so may beat
// one that is likely to be right on time.
func TestExpect(t *testing.T) {
	c := &Challenge{Kind: ExactTime, Time: 10}
	run := func(early, likely, late float64) *Entry {
		return &Entry{Score: Score{Run: &RunScore{Early: units.Seconds(early), Likely: units.Seconds(likely), Late: units.Seconds(late)}}}
	}
	wide, narrow, even := expect(c, run(6, 10, 17)), expect(c, run(10.4, 10.5, 10.6)), expect(c, run(9, 10, 11.1))
	assert.InDelta(t, 0.5, narrow, 0.01)
	assert.Greater(t, wide, narrow)
	// The mean of |z| of a normal law is sqrt(2/pi) of its deviation, here half of 10.5 %.
	assert.InDelta(t, 0.798*0.0525*10, even, 0.03)
	assert.Negative(t, expect(c, run(8, 10, 0)), "it may not get away")
	assert.Zero(t, expect(&Challenge{Kind: Fastest}, run(6, 10, 17)))

	n := &Challenge{Kind: Turns, Time: 60, Turns: 30}
	e := &Entry{Proposal: &design.Proposal{Speed: design.SpeedRange{Low: 20, Likely: 30, High: 45}}}
	before := expect(n, e)
	e.Counted = &parts.CountedDrive{Slowest: 29, Likely: 30, Fastest: 31}
	assert.Less(t, expect(n, e), before/3, "a model that was counted is known better")
}

// TestBeyond has what binds a drive that lifts or climbs: at what is said a rule is broken,
// and up to the most that is said the drive turns.
func TestBeyond(t *testing.T) {
	told, further := 0, 0
	for _, kind := range []Kind{Heaviest, Steepest} {
		for seed := range uint64(4) {
			cup, c := small(t, seed, kind)
			r, err := Find(context.Background(), cup, c, Options{Keep: 1})
			require.NoError(t, err)
			e := &r.Entries[0]
			b := e.Beyond
			if b == nil {
				continue
			}
			told++
			at := func(v float64) *built.Working {
				q := *e.Score.Asked
				set(&q, kind, v)
				w, err := built.Work(built.FromProposal(e.Proposal, cup, &q))
				require.NoError(t, err)
				return w
			}
			broken := 0
			for _, f := range at(b.At).Findings {
				if f.Broken && f.Rule == b.Rule {
					broken++
				}
			}
			assert.Positive(t, broken)
			if b.Most > 0 {
				further++
				assert.GreaterOrEqual(t, b.Most, b.At)
				assert.Equal(t, built.Turns, at(b.Most).Stops)
			}
		}
	}
	assert.Positive(t, told)
	assert.Positive(t, further)
}

// TestJudgeBuilt has a model that was counted judged by its count, and its changes keep the
// rules of the contest.
func TestJudgeBuilt(t *testing.T) {
	cup, c := small(t, 1, ExactTime)
	r, err := Find(context.Background(), cup, c, Options{Keep: 1})
	require.NoError(t, err)
	p := r.Entries[0].Proposal
	b := built.FromProposal(p, cup, r.Entries[0].Score.Asked)
	plain, err := JudgeBuilt(c, b)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(atHoles(p.Drive, b.Brief, c.Distance)), plain.Likely, 1e-6)

	was := remembered.Of(b.Drive, b.Brief)
	n := plain.Working.Speed.Likely
	was.Slowest, was.Likely, was.Fastest = n*0.88, n*0.9, n*0.92
	with := *cup
	with.Remembered = []parts.CountedDrive{was}
	counted, err := JudgeBuilt(c, built.FromProposal(p, &with, r.Entries[0].Score.Asked))
	require.NoError(t, err)
	assert.Greater(t, counted.Likely, plain.Likely)
	assert.Less(t, counted.High-counted.Low, 0.2*counted.Likely)
	require.Equal(t, len(plain.Changes), len(counted.Changes))

	c.Rules.Cells = 1
	held, err := JudgeBuilt(c, b)
	require.NoError(t, err)
	for _, k := range held.Changes {
		assert.Empty(t, k.Cells, "no more cells than the contest allows")
	}
	c.Kind = Heaviest
	_, err = JudgeBuilt(c, b)
	require.ErrorIs(t, err, ErrNoBuilt)
}

func set(b *brief.Brief, kind Kind, v float64) {
	if kind == Heaviest {
		b.Load.Mass = units.Grams(v)
	} else {
		b.Load.Slope = units.Degrees(v)
	}
}
