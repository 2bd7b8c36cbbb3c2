package design_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/proof"
)

// enoughCaught is in how many cases a planted fault has to be caught; then no more are
// tried.
const enoughCaught = 3

// TestPlantedFaults runs the search with a fault in it on small cases, whose cells
// hold one placement each and so can hide nothing. Whenever that makes the answer
// wrong, its proof must be rejected, naming a drive that was missed.
func TestPlantedFaults(t *testing.T) {
	t.Parallel()
	caught := map[string]int{}
	for seed := uint64(0); seed < 40; seed++ {
		cup, b := campaignCase(seed)
		if b.MaxStages > 1 || len(b.Load.Tackles) > 1 {
			continue
		}
		all := find(t, cup, b, design.Options{Keep: 1000, Threads: 1})
		for _, fault := range design.Faults {
			if caught[fault.Name] < enoughCaught && requireFaultSeen(t, fault, all) {
				caught[fault.Name]++
			}
		}
	}
	t.Log(caught)
	for _, fault := range design.Faults {
		require.Positive(t, caught[fault.Name], "%s: a fault that changes no answer tests nothing", fault.Name)
	}
}

// requireFaultSeen searches with a fault and reports whether the answer was wrong. It
// is given all drives there are.
func requireFaultSeen(t *testing.T, fault design.Fault, all *design.Result) bool {
	t.Helper()
	ctx, opt := context.Background(), design.Options{Keep: 3, Threads: 1}
	answer, err := design.FindWith(ctx, fault, all.Cupboard, all.Brief, opt)
	require.NoError(t, err, fault.Name)
	right := priced(all)
	if slices.Equal(priced(answer), right[:min(opt.Keep, len(right))]) {
		return false
	}
	data, err := proof.Record(ctx, all.Cupboard, all.Brief, opt.Keep, certificateOf(t, answer))
	if !errors.Is(err, proof.ErrMissed) {
		require.ErrorContains(t, err, "in the wrong order", fault.Name) // and no proof is written at all
		return true
	}
	_, err = proof.Check(ctx, data, all.Cupboard, all.Brief)
	require.ErrorContains(t, err, "a better drive is not ranked: ", fault.Name)
	require.True(t, slices.ContainsFunc(right, func(r string) bool {
		words, _, _ := strings.Cut(r, " at ")
		return strings.Contains(err.Error(), words)
	}), "%s: a drive is named that there is: %v", fault.Name, err)
	return true
}

// priced are the ranked arrangements with their penalties, in the words of a proof.
func priced(r *design.Result) []string {
	var out []string
	for i := range r.Proposals {
		p := &r.Proposals[i]
		words := fmt.Sprintf("motor %s, cells %s", p.Drive.Motor.Name, p.Drive.Holder.Name)
		for _, s := range p.Stages {
			words += fmt.Sprintf(", %s to %s by", s.Driver, s.Driven)
		}
		out = append(out, fmt.Sprintf("%s at %d", words, p.Total))
	}
	return out
}

// TestPlantedFaultsAmongCells has drives of two stages on a fine grid, where a cell
// holds many placements, and a fault that the proof sees.
func TestPlantedFaultsAmongCells(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		fault  string
		keep   int
		missed string // as a rejection names it
	}{
		{"bound: a first stage is taken to slow less than it can", 2, "motor slow, cells one, motor-6 to disc-80 by no-24, axle-10 to odd-30 by no-24, at 4 points"},
	} {
		t.Run(tt.fault, func(t *testing.T) {
			t.Parallel()
			cup, b := fewParts(t)
			at := slices.IndexFunc(design.Faults, func(f design.Fault) bool { return f.Name == tt.fault })
			ctx, opt := context.Background(), design.Options{Keep: tt.keep, Threads: 1}
			answer, err := design.FindWith(ctx, design.Faults[at], cup, b, opt)
			require.NoError(t, err)
			require.NotEqual(t, priced(find(t, cup, b, opt)), priced(answer))
			data, err := proof.Record(ctx, cup, b, tt.keep, certificateOf(t, answer))
			require.ErrorIs(t, err, proof.ErrMissed)
			_, err = proof.Check(ctx, data, cup, b)
			require.ErrorContains(t, err, "of the tree: a better drive is not ranked: "+tt.missed)
		})
	}
}

// fewParts is the built-in example with five kinds of pulley, two of band and a grid
// of 10 mm.
func fewParts(t *testing.T) (*parts.Cupboard, *brief.Brief) {
	t.Helper()
	cup, b := exampleCupboard(t), exampleBriefs(t)["built-in"]
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool {
		return !slices.Contains([]string{"motor-6", "motor-8", "axle-10", "odd-30", "disc-80"}, p.Name)
	})
	cup.Bands = slices.DeleteFunc(cup.Bands, func(p parts.Band) bool { return !slices.Contains([]string{"no-16", "no-24"}, p.Name) })
	cup.Motors = slices.DeleteFunc(cup.Motors, func(p parts.Motor) bool { return p.Name != "slow" })
	cup.Holders = cup.Holders[:1]
	b.MaxStages, b.Frame.Pitch = 2, 10
	return cup, b
}
