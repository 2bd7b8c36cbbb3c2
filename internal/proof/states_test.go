package proof

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

// Of ways and states that cost as much as is worth looking at none is left out, and of those
// that cost more it is said that there may be some.
func TestWhatIsTooDearToLookAt(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(61, 67))
	ways, marks := 0, 0
	for range 60 {
		s := newSpace(smallCase(r))
		p := pair{r.IntN(len(s.pulleys)), r.IntN(len(s.pulleys))}
		all := s.waysOf(p)
		require.False(t, all.dearer)
		for _, limit := range all.all {
			var within []*way
			dearer := false
			for _, w := range all.all {
				if w.cost <= limit.cost {
					within = append(within, w)
				} else {
					dearer = true
				}
			}
			s.dearest = limit.cost
			clear(s.ways)
			got := s.waysOf(p)
			require.Len(t, got.all, len(within))
			require.True(t, got.dearer || !dearer, "some are dearer")
			ways += len(within)
		}
		s.dearest = never
		for _, w := range all.all {
			every := s.marks(w, 0)
			for _, limit := range every {
				within := 0
				for _, st := range every {
					if st.cost <= limit.cost {
						within++
					}
				}
				s.dearest, s.dropped = limit.cost, false
				require.Len(t, s.marks(w, 0), within)
				require.Equal(t, within < len(every), s.dropped, "what is left out is told")
				marks += within
			}
			s.dearest = never
		}
	}
	assert.Greater(t, ways, 100)
	assert.Greater(t, marks, 300)
}

// The ratio of a pair is known before its band is, whatever the mark.
func TestRoughRatioHolds(t *testing.T) {
	t.Parallel()
	held := 0
	for name, s := range briefs(t) {
		for driven := range s.pulleys {
			for driver := range s.pulleys {
				p := pair{driven, driver}
				rough := s.roughRatio(p)
				for _, w := range s.waysOf(p).all {
					for _, at := range []mm{w.whole.Lo, w.whole.Hi} {
						f, err := w.stage.Fit(at)
						require.NoError(t, err)
						require.True(t, rough.Contains(f.Ratio), "%s: %v is not in %v", name, f.Ratio, rough)
						held++
					}
				}
			}
		}
	}
	assert.Greater(t, held, 2000)
}

// Three axles of all sets are cut from one rod: two between stages and the output axle.
func TestEnoughLengthOfThreeAxles(t *testing.T) {
	t.Parallel()
	for _, sets := range []int{1, 2} {
		_, b := oneStage(rand.New(rand.NewPCG(71, 73)))
		b.Sets = sets
		need := mm(sets)*(2*(drive.AxleLength(b)+cutting.Kerf)+drive.OutputAxleLength(b, nil, nil)+cutting.Kerf) - cutting.Kerf
		for _, short := range []mm{0, 0.1} {
			rod := parts.AxleStock{Item: parts.Item{Name: "rod", Count: 1}, Diameter: 5, Length: need - short, Material: parts.Wood}
			cup := &parts.Cupboard{Axles: []parts.AxleStock{rod}}
			s := &space{cup: cup, brief: b, axles: parts.AxleKinds(cup.Axles), sawn: map[sawing]bool{}}
			r := &row{space: s, hd: &head{stages: 3, output: -1}}
			for i := range 3 {
				r.rods[i] = &axleWay{}
			}
			assert.Equal(t, short == 0, r.enoughLength(), "%d sets, %v mm short", sets, short)
		}
	}
}

// Bands that lie two side by side are taken twice, in every stage and all sets.
func TestEnoughBandsOfTwoStages(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		uses  [2]drive.Use
		sets  int
		taken int
	}{
		{[2]drive.Use{drive.Paired, drive.Paired}, 1, 4},
		{[2]drive.Use{drive.Paired, drive.Single}, 1, 3},
		{[2]drive.Use{drive.LoopedTwice, drive.Single}, 3, 6},
		{[2]drive.Use{drive.Single, drive.Paired}, 2, 6},
	} {
		for _, there := range []int{c.taken - 1, c.taken} {
			s := &space{brief: &brief.Brief{Sets: c.sets}, bands: []parts.Kind[parts.Band]{{Count: there}}}
			r := &row{space: s, hd: &head{stages: 2}}
			for i, use := range c.uses {
				r.states[i] = &state{way: &way{use: use}}
			}
			assert.Equal(t, there == c.taken, r.enoughBands(), "%v for %d sets of %d", c.uses, c.sets, there)
		}
	}
}
