package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/score"
	"findrive/internal/search"
)

// A dive finds the same drives on any number of threads, and a search that is stopped shows them
// for the least that their arrangements can be had for.
func TestADiveHasDrivesToShow(t *testing.T) {
	cup, b := cases.Make(cases.Service(), cases.JustIn, 1)
	var shown []string
	for _, threads := range []int{1, 2, 8} {
		opt := Options{Keep: 3, Threads: threads}
		tk := taskFor(context.Background(), cup, b, opt)
		stats := tk.dive(context.Background(), opt)
		require.Positive(t, stats.Finished)
		require.Len(t, tk.dived, opt.Keep)
		known := tk.knownBesides(nil, opt.Keep, 0)
		require.Len(t, known, opt.Keep)
		require.Less(t, known[0].Cost, tk.dived[0].Cost)
		least := score.Points(known[0].Cost)
		require.Equal(t, known[:1], tk.knownBesides(nil, opt.Keep, least), "dearer ones are not asked for")
		require.Empty(t, tk.knownBesides(nil, opt.Keep, least-1))
		lines := []string{}
		for _, f := range append(tk.dived, known...) {
			p, err := tk.propose(f.Solution)
			require.NoError(t, err)
			require.Equal(t, f.Cost, search.Cost(p.Total))
			lines = append(lines, described(p.Drive, p.Total, p.Bears))
		}
		if shown == nil {
			shown = lines
		}
		require.Equal(t, shown, lines, "on %d threads", threads)
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
