package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/score"
)

// A dive finds the same drive on any number of threads, which is worth what it says, and a search
// that is stopped shows it.
func TestADiveHasADriveToShow(t *testing.T) {
	cup, b := cases.Make(cases.Service(), cases.JustIn, 1)
	var shown string
	for _, threads := range []int{1, 2, 8} {
		opt := Options{Keep: 3, Threads: threads}
		tk := taskFor(context.Background(), cup, b, opt)
		stats := tk.dive(context.Background(), opt)
		require.Len(t, tk.dived, 1)
		require.Positive(t, stats.Finished)
		f := tk.dived[0]
		p, err := tk.propose(f.Solution)
		require.NoError(t, err)
		require.Equal(t, score.Points(f.Cost), p.Total)
		line := described(p.Drive, p.Total, p.Bears)
		if shown == "" {
			shown = line
		}
		require.Equal(t, shown, line, "on %d threads", threads)
		require.Equal(t, f, tk.knownBesides(nil, 3)[0])
	}
}

// Of a cupboard so large that a dive is made, the list and what was refused are those of one
// thread on any number.
func TestASearchWithADiveIsThatOfOneThread(t *testing.T) {
	cup, b := cases.Make(cases.Service(), cases.Nominal, 33)
	find := func(threads int) *Result {
		r, err := Find(context.Background(), cup, b, Options{Threads: threads})
		require.NoError(t, err)
		require.Equal(t, ProvedBest, r.Status)
		require.Greater(t, r.Stats.Nodes, diveAfter)
		return r
	}
	one := find(1)
	for _, threads := range []int{2, 8} {
		r := find(threads)
		require.Equal(t, one.Stats, r.Stats, "on %d threads", threads)
		require.Equal(t, one.Refused, r.Refused, "on %d threads", threads)
		require.Equal(t, one.Proposals, r.Proposals, "on %d threads", threads)
	}
}
