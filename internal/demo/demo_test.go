package demo_test

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/hoist"
	"findrive/internal/parts"
)

func TestExampleHasNoMistakes(t *testing.T) {
	c, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	for _, p := range c.Pulleys {
		assert.Empty(t, p.Assumed, p.Name)
	}
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	assert.Equal(t, brief.UprightRide, b.Model)
	assert.InDelta(t, 20, float64(b.Speed.Turning), 1e-12)
	assert.Equal(t, 8, b.Sets)
}

func TestStarterHasNoMistakes(t *testing.T) {
	c, err := parts.Read("cupboard.toml", demo.StarterCupboard())
	require.NoError(t, err)
	for kind, n := range map[string]int{
		"pulley": len(c.Pulleys), "band": len(c.Bands), "motor": len(c.Motors), "cells": len(c.Holders), "axle": len(c.Axles),
		"sleeve": len(c.Sleeves), "spacer": len(c.Spacers), "wheel": len(c.Wheels), "drum": len(c.Drums), "block": len(c.Blocks), "cord": len(c.Cords),
	} {
		assert.Positive(t, n, kind)
	}
	h, err := hoist.ReadBrief("hoist.toml", demo.StarterHoist(), c)
	require.NoError(t, err)
	assert.Equal(t, hoist.Ranked, hoist.Find(context.Background(), c, h, hoist.Options{}).Status)
	b, err := brief.Read("brief.toml", demo.StarterBrief())
	require.NoError(t, err)
	assert.Equal(t, brief.DefaultLimits(), b.Limits)
	assert.Equal(t, brief.DefaultWeights(), b.Weights)
}

// What a starter shows behind a # must be a key that exists, and, in the brief,
// the value that is taken if nothing is said.
func TestStarterSaysWhatIsTaken(t *testing.T) {
	option := regexp.MustCompile(`(?m)^# ([a-z_]+ = .*)$`)
	_, err := parts.Read("cupboard.toml", option.ReplaceAll(demo.StarterCupboard(), []byte("$1")))
	require.NoError(t, err)

	plain, err := hoist.ReadBrief("hoist.toml", demo.StarterHoist(), nil)
	require.NoError(t, err)
	full, err := hoist.ReadBrief("hoist.toml", option.ReplaceAll(demo.StarterHoist(), []byte("$1")), nil)
	require.NoError(t, err)
	assert.Equal(t, "string", full.Cord)
	full.Cord = ""
	assert.Equal(t, plain, full)

	silent, err := brief.Read("brief.toml", demo.StarterBrief())
	require.NoError(t, err)
	for _, table := range []string{"limits", "weights", "making", "direction"} {
		start := bytes.Index(demo.StarterBrief(), []byte("\n["+table+"]"))
		head, body := demo.StarterBrief()[:start+1], demo.StarterBrief()[start+1:]
		said, err := brief.Read("brief.toml", append(head, option.ReplaceAll(body, []byte("$1"))...))
		if table == "direction" {
			// What follows holds the load keys of every model.
			require.Error(t, err)
			assert.NotContains(t, err.Error(), "not known")
			continue
		}
		require.NoError(t, err)
		assert.InEpsilon(t, float64(silent.Limits.ArcMin), float64(said.Limits.ArcMin), 1e-12)
		said.Limits.ArcMin, said.Limits.ArcWarn = silent.Limits.ArcMin, silent.Limits.ArcWarn // through degrees and back
		assert.Equal(t, silent, said, table)
	}
	assert.NotContains(t, strings.ToLower(string(demo.StarterBrief())), "todo")
}

// Every limit and every weight can be seen in the starter's brief.
func TestStarterShowsEveryLimitAndWeight(t *testing.T) {
	b, err := brief.Read("brief.toml", demo.StarterBrief())
	require.NoError(t, err)
	seen := map[string]int{}
	for _, f := range b.Facts() {
		if f.Key[0] != "limits" && f.Key[0] != "weights" {
			continue
		}
		seen[f.Key[0]]++
		start := bytes.Index(demo.StarterBrief(), []byte("\n["+f.Key[0]+"]"))
		body, _, _ := strings.Cut(string(demo.StarterBrief()[start+1:]), "\n[")
		assert.Contains(t, body, "\n# "+f.Key[1]+" = ", f.Key[0])
	}
	assert.Greater(t, min(seen["limits"], seen["weights"]), 15)
}

func TestCallersGetTheirOwnCopy(t *testing.T) {
	demo.Cupboard()[0] = 'x'
	assert.NotEqual(t, byte('x'), demo.Cupboard()[0])
}
