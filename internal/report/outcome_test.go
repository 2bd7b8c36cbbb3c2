package report

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/goals"
	"findrive/internal/score"
)

// TestWhatIsProvedOfAStoppedSearch: drives that cost less than anything unseen
// can are proved, whatever became of the rest.
func TestWhatIsProvedOfAStoppedSearch(t *testing.T) {
	for _, c := range []struct {
		name      string
		open      score.Points
		totals    []score.Points
		head, say string
	}{
		{"nothing", 1000, []score.Points{4000, 5000}, "not proved best",
			"The first has 4 points. A drive not yet looked at could have as few as 1, which is 3 fewer."},
		{"as good as the first", 4000, []score.Points{4000, 5000}, "not proved best",
			"No drive still unseen can have fewer points than the first's 4, but there may be others as good."},
		{"the first", 4500, []score.Points{4000, 5000}, "the first proved best",
			"The next has 5 points. A drive not yet looked at could have as few as 4.5, which is 0.5 fewer."},
		{"two of three", 8000, []score.Points{4000, 5000, 8000}, "the first 2 proved best",
			"No drive still unseen can have fewer points than the next's 8, but there may be others as good."},
		{"all there are so far", 8000, []score.Points{4000, 5000}, "all proved best", "Others not yet looked at cost at least 8 points."},
		{"the only one", 8000, []score.Points{4000}, "proved best", "Others not yet looked at cost at least 8 points."},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := &design.Result{Status: design.StoppedEarly, Open: c.open}
			for _, total := range c.totals {
				r.Proposals = append(r.Proposals, design.Proposal{Total: total})
			}
			proved := provedFirst(r)
			require.Equal(t, c.head, howProved(proved, len(c.totals)))
			require.Equal(t, c.say, stillOpen(r, proved))
		})
	}
}

// How far off a score is said to be is what the score that is shown is off.
func TestOffIsOfTheScoreThatIsShown(t *testing.T) {
	c := &goals.Challenge{Kind: goals.Turns, Turns: 20, Time: 60}
	for v, want := range map[float64][2]string{20.46: {"20.5 turns", "+0.5"}, 20.04: {"20 turns", "0"}, 19.96: {"20 turns", "0"}, 17.25: {"17.2 turns", "-2.8"}, 184.9: {"185 turns", "+165"}} {
		require.Equal(t, want, [2]string{scored(c, v), offWords(c, v)})
		e := &goals.Entry{Score: goals.Score{Turns: v}, Proposal: &testResult(t, brief.PlainShaft).Proposals[0]}
		cells := scoreCells(c, e)
		require.Equal(t, want, [2]string{cells[0] + " turns", cells[1]})
		require.Equal(t, "About "+want[0]+" in 60 s", scoreWords(c, e))
	}
	c = &goals.Challenge{Kind: goals.ExactTime, Time: 10}
	require.Equal(t, "+0.1", offWords(c, 10.06))
	require.Equal(t, "0", offWords(c, 9.96))
}
