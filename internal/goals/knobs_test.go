package goals

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// TestKnobs has every change that is offered keep the rules of drives at the holes as they
// are, and alter the score by less than half.
func TestKnobs(t *testing.T) {
	offered, wheels := 0, 0
	for _, kind := range []Kind{ExactTime, Turns} {
		for seed := range uint64(8) {
			cup, c := small(t, seed, kind)
			for _, across := range []units.Millimetres{50, 32} { // the pulleys of some drives reach below the smaller
				w := cup.Wheels[0]
				w.Name, w.Diameter = fmt.Sprintf("w-%.0f", across), across
				cup.Wheels = append(cup.Wheels, w)
			}
			r, err := Find(context.Background(), cup, c, Options{Keep: 2})
			require.NoError(t, err)
			for i := range r.Entries {
				e := &r.Entries[i]
				was := built.FromProposal(e.Proposal, cup, e.Score.Asked)
				m, err := JudgeBuilt(c, was)
				require.NoError(t, err)
				if kind == ExactTime { // a model on the table is told what the list says of it
					assert.InEpsilon(t, float64(e.AtHoles), m.Likely, 1e-9)
				}
				for _, k := range e.Knobs {
					offered++
					if k.Wheel != "" {
						wheels++
					}
					now := was.With(func(d *drive.Drive) {
						switch {
						case k.Stage > 0:
							d.Stages[k.Stage-1].Band, d.Stages[k.Stage-1].Use = named(cup.Bands, k.Band), k.Use
						case k.Wheel != "":
							d.Wheel = named(cup.Wheels, k.Wheel)
						default:
							d.Holder = &cup.Holders[k.Cells-1]
						}
					})
					assert.True(t, now.Sound(constraints.Speed), "%+v", k)
					m, err := JudgeBuilt(c, now)
					require.NoError(t, err)
					assert.InEpsilon(t, m.Likely, float64(k.Time)+k.Turns, 1e-9, "%+v", k)
					likely := e.Score.Turns
					if kind == ExactTime {
						likely = float64(e.Score.Run.Likely)
					}
					assert.InEpsilon(t, likely, float64(k.Time)+k.Turns, 1)
				}
			}
		}
	}
	assert.Positive(t, offered)
	assert.Positive(t, wheels)
}

func named[T interface{ parts.Band | parts.Wheel }](list []T, name string) *T {
	for i := range list {
		switch v := any(&list[i]).(type) {
		case *parts.Band:
			if v.Name == name {
				return &list[i]
			}
		case *parts.Wheel:
			if v.Name == name {
				return &list[i]
			}
		}
	}
	return nil
}
