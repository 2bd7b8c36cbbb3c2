package built_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/parts"
)

// withHolders is a sound drive in a cupboard that has holders for up to six cells too.
func withHolders(t *testing.T, drive string, from, to string) *built.Build {
	text := sound[drive]
	require.Contains(t, text, from)
	b := read(t, strings.Replace(text, from, to, 1))
	for n := 3; n <= 6; n++ {
		h := *b.Drive.Holder
		h.Item = parts.Item{Name: []string{"three", "four", "five", "six"}[n-3], Count: 10}
		h.Cells = n
		b.Cupboard.Holders = append(b.Cupboard.Holders, h)
	}
	return b
}

// A crane whose load is too heavy hums. More volts would only make it hotter.
func TestAHummingMotorGetsNoMoreVolts(t *testing.T) {
	b := withHolders(t, "crane", `mass = "50 g"`, `mass = "600 g"`)
	a, err := built.Advise(context.Background(), b, built.NoGo)
	require.NoError(t, err)
	for _, c := range []*built.Change{a.One, a.Two} {
		if c != nil {
			assert.NotContains(t, strings.Join(c.Steps, "; "), "use holder", "%v", c.Steps)
		}
	}
}

// One that is slow may get another cell, but never more than the motor bears.
func TestNoAdviceIsMoreThanTheMotorBears(t *testing.T) {
	for _, s := range built.Symptoms() {
		b := withHolders(t, "buggy", `speed = "3 m in 11.3 s"`, `speed = "1.2 m/s"`)
		a, err := built.Advise(context.Background(), b, s)
		require.NoError(t, err)
		for _, c := range []*built.Change{a.One, a.Two} {
			if c == nil {
				continue
			}
			for _, name := range []string{"four", "five", "six"} {
				assert.NotContains(t, strings.Join(c.Steps, "; "), "use holder "+name, "%s: %v", s, c.Steps)
			}
		}
	}
}

// A wheel out of balance stretches its bands most at the heaviest moment of every turn.
func TestLevelRideIsJudgedAtItsHeaviest(t *testing.T) {
	stretch := func(off string) float64 {
		b := read(t, strings.Replace(sound["big wheel"], `out_of_balance = "5 g"`, `out_of_balance = "`+off+`"`, 1))
		w, err := built.Work(b)
		require.NoError(t, err)
		return w.Stages[1].TightStretch
	}
	assert.Greater(t, stretch("5 g"), 1.02*stretch("0.1 g"))
}

// A drive that stands on six cells breaks a rule, and says which.
func TestTooManyVoltsIsAFinding(t *testing.T) {
	b := withHolders(t, "carousel", `cells = "one"`, `cells = "two"`)
	b.Drive.Holder = &b.Cupboard.Holders[len(b.Cupboard.Holders)-1]
	w, err := built.Work(b)
	require.NoError(t, err)
	found := false
	for _, f := range w.Findings {
		if f.Rule == constraints.TooManyVolts {
			found = true
			assert.True(t, f.Broken, f.Says)
			assert.Contains(t, f.Says, "9 V")
		}
	}
	assert.True(t, found)
}

// Whatever else is told of it: a motor that stands, by its numbers or by what is said, gets no
// more volts.
func TestAStandingMotorGetsNoMoreVolts(t *testing.T) {
	none := func(b *built.Build, changes ...*built.Change) {
		for _, c := range changes {
			if c != nil {
				assert.LessOrEqual(t, c.After.Build.Drive.Holder.Cells, b.Drive.Holder.Cells, "%v", c.Steps)
			}
		}
	}
	b := withHolders(t, "crane", `mass = "50 g"`, `mass = "600 g"`)
	for _, s := range built.Symptoms() {
		a, err := built.Advise(context.Background(), b, s)
		require.NoError(t, err)
		none(b, a.One, a.Two)
	}
	b = withHolders(t, "buggy", `speed = "3 m in 11.3 s"`, `speed = "1.2 m/s"`)
	d, err := built.Diagnose(context.Background(), b, []built.Hearing{built.Exactly(built.NoGo), built.Exactly(built.Slower), built.Exactly(built.Slips)}, nil)
	require.NoError(t, err)
	require.Len(t, d.Advice, 3)
	for _, a := range d.Advice {
		none(b, a.One, a.Two)
	}
}
