package supply

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// TestWhatIsShort gives the cupboard what is said to be short: then all can build, and
// not with a piece less of any part.
func TestWhatIsShort(t *testing.T) {
	t.Parallel()
	short := 0
	for seed := range uint64(12) {
		rnd := rand.New(rand.NewPCG(seed, 10))
		cup := box(t, 7, 1+rnd.IntN(2), 1, 1+rnd.IntN(2))
		cup.Axles[0].Count = 4
		q := &Question{Cupboard: cup, List: shop(t, cup, seed), Briefs: []*brief.Brief{ride(t, 4, "220 rpm")}, InTurn: seed%3 == 0}
		if seed%2 == 0 {
			q.Briefs = append(q.Briefs, ride(t, 3, "260 rpm"))
		}
		q.List.Offers = q.List.Offers[:1]
		r, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		if !r.None {
			require.Nil(t, r.Wanting)
			continue
		}
		w := r.Wanting
		if len(r.Short) > 0 {
			require.Nil(t, w)
			w, err = wanting(context.Background(), q, Options{})
			require.NoError(t, err)
			for _, s := range r.Short { // what is wanting has them among it
				require.GreaterOrEqual(t, of(w.Pieces, s.Kind, s.Name), s.Wanted-s.Have, "seed %d", seed)
			}
		}
		require.NotNil(t, w)
		require.True(t, w.Proved)
		require.NotEmpty(t, w.Pieces)
		short++
		with := func(less int) bool {
			given := *q
			given.List.Offers = given.List.Offers[:1]
			given.Cupboard = q.List.Parts.With(cup).Counted(func(kind string, it *parts.Item) int {
				n := it.Count
				if cup.Item(kind, it.Name) == nil {
					n = 0
				}
				for i, p := range w.Pieces {
					if p.Kind == kind && p.Name == it.Name {
						if n += p.Pieces; i == less {
							n--
						}
					}
				}
				return n
			})
			r, err := Find(context.Background(), &given, Options{})
			require.NoError(t, err)
			return r.Plan != nil && r.Plan.Money == 0
		}
		require.True(t, with(-1), "seed %d", seed)
		for i := range w.Pieces {
			require.False(t, with(i), "seed %d, one less of %s", seed, w.Pieces[i].Name)
		}
	}
	require.Greater(t, short, 3)
}

func of(list []Piece, kind, name string) int {
	n := 0
	for _, p := range list {
		if p.Kind == kind && (name == "" || p.Name == name) {
			n += p.Pieces
		}
	}
	return n
}
