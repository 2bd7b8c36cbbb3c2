package cases

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
)

func TestCasesAreWhatTheySay(t *testing.T) {
	for _, size := range []Size{Cupboard(), Service(), Catalogue()} {
		for _, family := range Families() {
			cup, b := Make(size, family, 1)
			require.Len(t, cup.Pulleys, size.Pulleys, family)
			require.Len(t, cup.Bands, size.Bands, family)
			require.LessOrEqual(t, b.MaxStages, size.Stages)
			names := map[string]bool{}
			alike := map[[2]float64]int{}
			for _, p := range cup.Pulleys {
				require.False(t, names[p.Name], "%s: two pulleys are called %s", family, p.Name)
				names[p.Name] = true
				require.Greater(t, p.Outside, p.GrooveFloor)
				require.Greater(t, p.GrooveFloor, p.Bore, "%s: %s", family, p.Name)
				alike[[2]float64{float64(p.GrooveFloor), float64(p.Bore)}]++
			}
			require.IsIncreasing(t, pulleyNames(cup.Pulleys), "in the order a cupboard has")
			if family == Varied && size == Service() {
				require.Greater(t, len(alike), 50, "hardly any two are alike")
			}
			if family == Clones {
				require.LessOrEqual(t, len(alike), size.Pulleys/4)
			}

			again, briefAgain := Make(size, family, 1)
			require.Equal(t, cup, again)
			require.Equal(t, b, briefAgain)
			other, _ := Make(size, family, 2)
			require.NotEqual(t, cup.Pulleys, other.Pulleys)
		}
	}
}

func pulleyNames(list []parts.Pulley) []string {
	out := make([]string, len(list))
	for i, p := range list {
		out[i] = p.Name
	}
	return out
}
