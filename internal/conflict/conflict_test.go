package conflict

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// plant is an oracle for which the given sets, and no others, are the conflicts.
func plant(conflicts []Set, asked *int) Ask {
	return func(_ context.Context, kept Set) Answer {
		*asked++
		for _, c := range conflicts {
			if c.Within(kept) {
				return Impossible
			}
		}
		return Possible
	}
}

// smallestOf leaves out the sets that hold another.
func smallestOf(sets []Set) []Set {
	var out []Set
	for _, s := range sets {
		if !slices.ContainsFunc(sets, func(o Set) bool { return o != s && o.Within(s) }) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return out
}

// Every conflict and every cure of planted conflicts, against trying all sets.
func TestFindsAllAsBruteForceDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const rules = 8
		all := Set(1<<rules - 1)
		planted := smallestOf(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Set { return Set(rapid.IntRange(1, 1<<rules-1).Draw(t, "set")) }), 1, 4).Draw(t, "conflicts"))
		asked := 0
		r := Find(context.Background(), plant(planted, &asked), Options{Rules: rules, Conflicts: 100, Cure: rules})
		require.True(t, r.Complete)
		require.True(t, r.Smallest)
		var found, cures []Set
		for _, c := range r.Conflicts {
			require.Equal(t, c.Members, c.Needed)
			found = append(found, c.Members)
		}
		slices.Sort(found)
		require.Equal(t, planted, found)
		for s := range all + 1 {
			if !slices.ContainsFunc(planted, func(c Set) bool { return c.Within(all &^ s) }) {
				cures = append(cures, s)
			}
		}
		slices.Sort(r.Cures)
		require.Equal(t, smallestOf(cures), r.Cures)
	})
}

// With some questions left open every conflict is still one, and every member said to
// be needed is.
func TestOpenQuestionsNeverMakeAFalseClaim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const rules = 7
		planted := smallestOf(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Set { return Set(rapid.IntRange(1, 1<<rules-1).Draw(t, "set")) }), 1, 3).Draw(t, "conflicts"))
		hard := rapid.SliceOfN(rapid.IntRange(0, 1<<rules-1), 0, 60).Draw(t, "open")
		asked := 0
		truth := plant(planted, &asked)
		ask := func(ctx context.Context, kept Set) Answer {
			if slices.Contains(hard, int(kept)) {
				return Open
			}
			return truth(ctx, kept)
		}
		ctx := context.Background()
		r := Find(ctx, ask, Options{Rules: rules, Conflicts: 4, Cure: 3})
		for _, c := range r.Conflicts {
			require.Equal(t, Impossible, truth(ctx, c.Members))
			for _, m := range c.Needed.Rules() {
				require.Equal(t, Possible, truth(ctx, c.Members&^Of(m)))
			}
		}
		for _, c := range r.Cures {
			require.Equal(t, Possible, truth(ctx, (1<<rules-1)&^c))
		}
	})
}

// The rules that are enough alone are those in every conflict, and where they are wanted only no
// more is asked.
func TestAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const rules = 8
		planted := smallestOf(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Set { return Set(rapid.IntRange(1, 1<<rules-1).Draw(t, "set")) }), 1, 3).Draw(t, "conflicts"))
		inAll := Set(1<<rules - 1)
		for _, c := range planted {
			inAll &= c
		}
		asked, told := 0, Set(0)
		r := Find(context.Background(), plant(planted, &asked), Options{Rules: rules, Conflicts: 100, Cure: rules, Enough: func(alone Set) bool { told = alone; return true }})
		require.Equal(t, inAll, r.Alone)
		require.Equal(t, inAll, told)
		if inAll == 0 {
			require.NotEmpty(t, r.Conflicts)
			return
		}
		require.Empty(t, r.Conflicts)
		require.False(t, r.Complete)
		require.True(t, r.Smallest)
		require.Len(t, r.Cures, inAll.Len())
		require.LessOrEqual(t, asked, rules+2)
		whole := Find(context.Background(), plant(planted, &asked), Options{Rules: rules, Conflicts: 100, Cure: 1})
		require.Equal(t, whole.Cures, r.Cures)
	})
}

func TestFewQuestions(t *testing.T) {
	asked := 0
	r := Find(context.Background(), plant([]Set{Of(3, 11, 19)}, &asked), Options{Rules: 20, Conflicts: 3, Cure: 2})
	assert.Equal(t, []Conflict{{Of(3, 11, 19), Of(3, 11, 19)}}, r.Conflicts)
	assert.Equal(t, []Set{Of(3), Of(11), Of(19)}, r.Cures)
	assert.True(t, r.Complete)
	assert.Equal(t, 23, asked, "all, none, each alone, and those that helped alone")
}

func TestEnds(t *testing.T) {
	asked := 0
	opt := Options{Rules: 3, Conflicts: 3, Cure: 2}
	ctx := context.Background()
	assert.Equal(t, Result{All: Possible, Cures: []Set{}, Complete: true}, Find(ctx, plant(nil, &asked), opt))
	assert.Equal(t, Result{All: Impossible, None: Impossible, Cures: []Set{}, Complete: true}, Find(ctx, plant([]Set{0}, &asked), opt))
	over, stop := context.WithCancel(ctx)
	stop()
	assert.Equal(t, Result{Cures: []Set{}}, Find(over, plant([]Set{1}, &asked), opt))
	// Where it is not settled that there is a conflict, single rules may still help.
	unsure := func(ctx context.Context, kept Set) Answer {
		if kept == Of(0, 1, 2) {
			return Open
		}
		return plant([]Set{Of(0, 2)}, &asked)(ctx, kept)
	}
	assert.Equal(t, Result{None: Possible, Alone: Of(0, 2), Cures: []Set{Of(0), Of(2)}}, Find(ctx, unsure, opt))
	// A set has no room for more rules than Most.
	asked = 0
	assert.Equal(t, Result{Cures: []Set{}}, Find(ctx, plant([]Set{1}, &asked), Options{Rules: Most + 1, Conflicts: 3, Cure: 2}))
	assert.Zero(t, asked)
	assert.Equal(t, Impossible, Find(ctx, plant([]Set{1}, &asked), Options{Rules: Most, Conflicts: 3, Cure: 2}).All)
	// Two conflicts that share nothing are cured by no single rule, and by no pair
	// if none may be tried.
	r := Find(ctx, plant([]Set{Of(0), Of(1, 2)}, &asked), Options{Rules: 3, Conflicts: 1, Cure: 1})
	assert.Len(t, r.Conflicts, 1)
	assert.Empty(t, r.Cures)
	assert.False(t, r.Complete)
}
