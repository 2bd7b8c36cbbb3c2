package built_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
)

// TestAdviceCures works out again what is advised against every planted fault: either it
// cures, in range, and breaks no rule; or it is said to be not enough, and what would be is
// said. It never asks for more volts for a motor that stands, nor leaves the drive further
// from its speed.
func TestAdviceCures(t *testing.T) {
	cured, enough := 0, 0
	for _, p := range planted {
		b := p.build(t)
		a, err := built.Advise(context.Background(), b, p.symptom)
		require.NoError(t, err)
		if c := a.Cure(); c != nil {
			cured++
			assert.Zero(t, c.After.Broken(), "%s: %s", p.drive, c.Steps)
			assert.Equal(t, built.Turns, c.After.Stops)
			assert.Positive(t, float64(c.After.Speed.Low))
			again, err := built.Advise(context.Background(), c.After.Build, p.symptom)
			require.NoError(t, err)
			assert.False(t, again.Shows() && p.symptom != built.TooFast, "%s, %s: %s", p.drive, p.symptom, c.Steps)
		} else if len(a.Enough) > 0 {
			enough++
		} else {
			t.Logf("nothing cures %q in the %s (%s)", p.symptom, p.drive, p.cause)
		}
		for _, c := range []*built.Change{a.One, a.Two} {
			if c == nil {
				continue
			}
			for _, s := range c.Steps {
				if p.symptom == built.NoGo {
					assert.False(t, strings.Contains(s, "use holder two") && strings.Contains(s, "in place of one"), s)
				}
			}
			before := missOf(b, t)
			if p.symptom != built.TooFast {
				assert.LessOrEqual(t, missOf(c.After.Build, t), before+1e-9, "%s: %s", p.drive, c.Steps)
			}
		}
	}
	t.Logf("of %d, %d are cured from the cupboard, and for %d more it is said what would be enough", len(planted), cured, enough)
	assert.GreaterOrEqual(t, cured+enough, len(planted)-1)
}

// missOf is how far the wanted speed is missed.
func missOf(b *built.Build, t *testing.T) float64 {
	w, err := built.Work(b)
	require.NoError(t, err)
	for _, f := range w.Findings {
		if f.Rule == constraints.Speed && f.Broken {
			return f.Miss
		}
	}
	return 0
}

// TestEnough has what would be enough where nothing in the cupboard is.
func TestEnough(t *testing.T) {
	for _, c := range []struct {
		drive   string
		changes []string
		symptom built.Symptom
		says    string
	}{
		{"crane", []string{`mass = "50 g"`, `mass = "900 g"`}, built.NoGo, "lift at most"},
		{"big wheel", []string{`out_of_balance = "5 g"`, `out_of_balance = "150 g"`}, built.NoGo, "balance it to within"},
		{"buggy", []string{`driven_share`, `slope = "40 deg", driven_share`}, built.NoGo, "a ramp of at most"},
		{"big wheel", []string{`speed = "6.1 s per turn"`, `speed = "30 s per turn"`}, built.TooFast, "another stage after the last, from"},
	} {
		a, err := built.Advise(context.Background(), fault{drive: c.drive, changes: c.changes}.build(t), c.symptom)
		require.NoError(t, err)
		if a.Cure() == nil {
			assert.Contains(t, strings.Join(a.Enough, "; "), c.says, "%s", c.drive)
		}
		t.Log(c.drive, a.Cure() != nil, a.Enough)
	}
}
