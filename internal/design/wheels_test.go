package design

import (
	"context"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

// buggy is the example's cupboard with so many wheels, and the brief of its buggy.
func buggy(t *testing.T, wheels int) (*parts.Cupboard, *brief.Brief) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	text, err := os.ReadFile("../../testdata/briefs/buggy.toml")
	require.NoError(t, err)
	b, err := brief.ReadFor("buggy.toml", text, cup)
	require.NoError(t, err)
	for i := range cup.Wheels {
		cup.Wheels[i].Count = wheels
	}
	return cup, b
}

// A vehicle stands on two axles with two wheels each, so that wheels for the driven axles
// of all sets are not enough.
func TestVehiclesTakeFourWheels(t *testing.T) {
	cup, b := buggy(t, 2*b8)
	r, err := Find(context.Background(), cup, b, Options{Keep: 1})
	require.NoError(t, err)
	assert.Equal(t, NonePossible, r.Status)
	var said string
	for _, no := range r.Refused {
		if no.Rule == constraints.Stock {
			said = no.Nearest
		}
	}
	assert.Contains(t, said, "4 for each of 8 sets makes 32")

	cup, b = buggy(t, 4*b8)
	r, err = Find(context.Background(), cup, b, Options{Keep: 1})
	require.NoError(t, err)
	require.Equal(t, ProvedBest, r.Status)
	use := taken(r, "wheel")
	require.NotNil(t, use)
	assert.Equal(t, []int{drive.VehicleWheels, 4 * b8}, []int{use.Each, use.Have})
}

// b8 is how many sets the buggy's brief builds.
const b8 = 8

// All four wheels are charged for how they sit, and take a sleeve each where they are
// packed out.
func TestFourWheelsAreFitted(t *testing.T) {
	cup, b := buggy(t, 4*b8)
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool {
		return !slices.Contains([]string{"motor-6", "axle-15", "axle-40"}, p.Name)
	})
	for i := range cup.Wheels {
		cup.Wheels[i].Bore = 7
		cup.Wheels[i].CanDrill = false
	}
	for _, c := range []struct{ sleeves, each int }{{4*b8 - 1, 0}, {4 * b8, 4}} {
		cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "tube", Count: c.sleeves}, Inner: 5, Outer: 7, Length: 10}}
		r, err := Find(context.Background(), cup, b, Options{Keep: 1})
		require.NoError(t, err)
		use := taken(r, "sleeve")
		if c.each == 0 {
			assert.Equal(t, NonePossible, r.Status)
			continue
		}
		require.NotNil(t, use, "%v", r.Refused)
		assert.Equal(t, c.each, use.Each)
		for _, term := range r.Proposals[0].Penalty {
			if term.Name == "joints" {
				assert.Contains(t, term.Why, "4 sleeves")
			}
		}
	}
}
