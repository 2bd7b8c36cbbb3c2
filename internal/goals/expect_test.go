package goals

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// TestExpectCounted has what the club will see of a model that was counted: one that is
// further off but surely so may beat one that is likely to be right on time.
func TestExpectCounted(t *testing.T) {
	c := &Challenge{Kind: ExactTime, Time: 10}
	run := func(early, likely, late float64) *Entry {
		return &Entry{Counted: &parts.CountedDrive{}, Score: Score{Run: &RunScore{Early: units.Seconds(early), Likely: units.Seconds(likely), Late: units.Seconds(late)}}}
	}
	wide, narrow, even := expect(c, run(6, 10, 17)), expect(c, run(10.4, 10.5, 10.6)), expect(c, run(9, 10, 11.1))
	assert.InDelta(t, 0.5, narrow, 0.01)
	assert.Greater(t, wide, narrow)
	// The mean of |z| of a normal law is sqrt(2/pi) of its deviation, here half of 10.5 %.
	assert.InDelta(t, 0.798*0.0525*10, even, 0.03)
}

// TestExpectInClassrooms has what is expected of every drive that small cupboards give come
// out of the classrooms one by one: those in which it stands score nothing, or are off by all
// of the aim.
func TestExpectInClassrooms(t *testing.T) {
	stood := 0
	for _, kind := range []Kind{ExactTime, Turns, Fastest, Slowest, Steepest, Heaviest} {
		cup, c := small(t, 1, kind)
		r, err := Find(context.Background(), cup, c, Options{Keep: 4})
		require.NoError(t, err)
		for i := range r.Entries {
			e := &r.Entries[i]
			speeds, err := design.InClassrooms(e.Proposal.Drive, e.Score.Asked)
			require.NoError(t, err)
			stands, sum := 0, 0.0
			for _, n := range speeds {
				took := 0.0
				if n > 0 && e.Score.Run != nil {
					start := StartCosts(e.Proposal.Drive, e.Score.Asked, c.Distance)
					took = float64(start + (e.AtHoles-start)*units.Seconds(design.SpeedRangeOf(e.Proposal.Drive, e.Score.Asked).Likely/n))
				}
				switch {
				case n <= 0:
					stands++
					sum += float64(c.Time) + c.Turns // of which one is the aim
					if kind == Turns {
						sum -= float64(c.Time)
					}
				case kind == Turns:
					sum += math.Abs(float64(n)*float64(c.Time)/60 - c.Turns)
				default:
					sum += math.Abs(took - float64(c.Time))
				}
			}
			stood += stands
			runs := 1 - float64(e.Proposal.Stands)/100
			want := map[Kind]float64{ExactTime: sum / 100, Turns: sum / 100, Slowest: float64(e.Score.Takes) * runs,
				Steepest: e.Score.Climbs.Degrees() * float64(e.Proposal.Works) / 100, Heaviest: float64(e.Score.Lifts) * float64(e.Proposal.Works) / 100}[kind]
			if kind == Fastest {
				want = float64(e.Score.Run.Likely) / runs
			}
			assert.InDelta(t, want, e.Expect, 1e-9*(1+want), kind)
		}
	}
	assert.Positive(t, stood, "the cases must be worth testing")
}

// TestRankedByWhatTheClubSees has no drive listed behind one of which clearly less is to be
// expected, and the score decide between those that are alike.
func TestRankedByWhatTheClubSees(t *testing.T) {
	moved := 0
	for _, kind := range []Kind{ExactTime, Turns, Fastest, Slowest, Steepest, Heaviest, Forgiving} {
		for seed := range uint64(3) {
			cup, c := small(t, seed, kind)
			r, err := Find(context.Background(), cup, c, Options{Keep: 4})
			require.NoError(t, err)
			for i := range r.Entries {
				e := &r.Entries[i]
				require.Equal(t, i+1, e.Rank)
				if i == 0 {
					continue
				}
				before := &r.Entries[i-1]
				switch kind {
				case ExactTime, Turns:
					step := float64(c.Time) / exactSteps
					if kind == Turns {
						step = turns{c}.step()
					}
					assert.LessOrEqual(t, before.Expect, e.Expect+step)
				case Fastest:
					assert.LessOrEqual(t, before.Expect, 1.06*e.Expect)
				case Forgiving:
					assert.Equal(t, before.ByScore+1, e.ByScore)
				default:
					assert.GreaterOrEqual(t, 1.06*before.Expect, e.Expect)
				}
				if before.ByScore > e.ByScore {
					moved++
				} else if math.Abs(before.Expect/e.Expect-1) < 1e-9 {
					assert.Less(t, before.ByScore, e.ByScore)
				}
			}
		}
	}
	assert.Positive(t, moved, "the cases must be worth testing")
}

// TestUnprovedStayBehind has drives whose place is not proved never put before one whose is.
func TestUnprovedStayBehind(t *testing.T) {
	r := &Result{Challenge: &Challenge{Kind: Heaviest}, Proved: 2, Entries: []Entry{{Expect: 40}, {Expect: 50}, {Expect: 60}, {Expect: 70}}}
	r.rank()
	var order []int
	for i := range r.Entries {
		order = append(order, r.Entries[i].ByScore)
	}
	assert.Equal(t, []int{2, 1, 4, 3}, order)
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
	c.Kind = Forgiving
	_, err = JudgeBuilt(c, b)
	require.ErrorIs(t, err, ErrNoBuilt)
}

// TestJudgeLoad has a model that lifts or climbs judged by what it carries: with every rule
// kept up to there and not a step further, and as far as it goes while only margins are
// broken; the changes too, the best first.
func TestJudgeLoad(t *testing.T) {
	further, changes := 0, 0
	for _, kind := range []Kind{Heaviest, Steepest} {
		for seed := range uint64(4) {
			cup, c := small(t, seed, kind)
			r, err := Find(context.Background(), cup, c, Options{Keep: 1})
			require.NoError(t, err)
			e := &r.Entries[0]
			b := built.FromProposal(e.Proposal, cup, e.Score.Asked)
			m, err := JudgeBuilt(c, b)
			require.NoError(t, err)
			step := 1.0
			if kind == Heaviest {
				step = 10
			}
			broken := func(v float64) (margin, other bool) {
				q := *e.Score.Asked
				set(&q, kind, v)
				w, err := built.Work(built.FromProposal(e.Proposal, cup, &q))
				require.NoError(t, err)
				other = w.Stops != built.Turns
				for _, f := range w.Findings {
					if f.Broken && f.Rule != constraints.Speed {
						margin, other = margin || slices.Contains(margins, f.Rule), other || !slices.Contains(margins, f.Rule)
					}
				}
				return margin, other
			}
			kept, goes := m.Carries.Kept, m.Carries.Goes
			require.LessOrEqual(t, kept, goes)
			if kept > 0 {
				margin, other := broken(kept)
				assert.False(t, margin || other)
			}
			margin, other := broken(kept + step)
			assert.True(t, margin || other, "%s %d: a step more breaks a rule", kind, seed)
			if goes > kept {
				further++
				_, other = broken(goes)
				assert.False(t, other)
			}
			_, other = broken(goes + step)
			assert.True(t, other, "%s %d: a step more and it does not go", kind, seed)
			for i := range m.Changes {
				k := &m.Changes[i]
				changes++
				assert.LessOrEqual(t, k.Carries.Kept, k.Carries.Goes)
				if i > 0 {
					assert.GreaterOrEqual(t, m.Changes[i-1].Carries.Kept, k.Carries.Kept)
				}
			}
		}
	}
	assert.Positive(t, further)
	assert.Positive(t, changes)
}

func set(b *brief.Brief, kind Kind, v float64) {
	if kind == Heaviest {
		b.Load.Mass = units.Grams(v)
	} else {
		b.Load.Slope = units.Degrees(v)
	}
}
