package selection_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/selection"
)

// TestEveryFamilyIsClosed solves a question of a loans service's size of each family.
func TestEveryFamilyIsClosed(t *testing.T) {
	t.Parallel()
	for _, family := range cases.SelectionFamilies() {
		for seed := range uint64(3) {
			a, err := selection.Solve(context.Background(), cases.Selection(cases.Service(), family, seed))
			require.NoError(t, err)
			require.True(t, a.Proved)
			require.Len(t, a.Drives, 10)
		}
	}
}

// TestStoppedProvesNothing stops a search before it begins.
func TestStoppedProvesNothing(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	a, err := selection.Solve(ctx, cases.Selection(cases.Service(), cases.SelectVaried, 1))
	require.NoError(t, err)
	require.False(t, a.Proved)
}

func TestNothingToBuildFrom(t *testing.T) {
	t.Parallel()
	q := cases.Selection(cases.Cupboard(), cases.SelectVaried, 1)
	noBands, noPulleys := *q, *q
	noBands.Bands, noPulleys.Pulleys = nil, nil
	for _, q := range []*selection.Question{&noBands, &noPulleys} {
		a, err := selection.Solve(context.Background(), q)
		require.NoError(t, err)
		require.True(t, a.Proved)
		require.Empty(t, a.Drives)
	}
}

// TestNoSecondStage has one axle's pulley, round two of which no band goes, and a
// ratio that one stage is far from.
func TestNoSecondStage(t *testing.T) {
	t.Parallel()
	q := &selection.Question{
		Pulleys:    []selection.Pulley{{Diameter: 22.05, OnMotor: true, Count: 4}, {Diameter: 44.1, Count: 8}},
		Bands:      []selection.Band{{Rest: 126.5, Count: 8}},
		Ratio:      41,
		MostStages: 5, Sets: 1, Limits: selection.UsualLimits(),
	}
	q.Limits.Grid = 20
	a, err := selection.Solve(context.Background(), q)
	require.NoError(t, err)
	require.True(t, a.Proved)
	for _, d := range a.Drives {
		require.Len(t, d.Stages, 1)
	}
}

func TestQuestionsWithoutSense(t *testing.T) {
	t.Parallel()
	for name, spoil := range map[string]func(*selection.Question){
		"no ratio":        func(q *selection.Question) { q.Ratio = 0 },
		"ratio not known": func(q *selection.Question) { q.Ratio = math.NaN() },
		"no grid":         func(q *selection.Question) { q.Limits.Grid = 0 },
		"no stretch":      func(q *selection.Question) { q.Limits.MostStretch = 1 },
		"no arc so great": func(q *selection.Question) { q.Limits.LeastArc = 4 },
		"no stages":       func(q *selection.Question) { q.MostStages = 0 },
		"no sets":         func(q *selection.Question) { q.Sets = 0 },
		"pulley":          func(q *selection.Question) { q.Pulleys[0].Diameter = -1 },
		"band":            func(q *selection.Question) { q.Bands[0].Rest = 0 },
	} {
		q := cases.Selection(cases.Cupboard(), cases.SelectVaried, 1)
		spoil(q)
		_, err := selection.Solve(context.Background(), q)
		require.Error(t, err, name)
	}
}
