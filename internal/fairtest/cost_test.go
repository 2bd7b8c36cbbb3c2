package fairtest

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// three are drives at 10, 20 and 40 turns a minute.
func three() [3]Variant {
	var out [3]Variant
	for i, n := range []units.RPM{10, 20, 40} {
		out[i] = Variant{Working: &built.Working{Build: &built.Build{Brief: &brief.Brief{}}, Speed: design.SpeedRange{Low: n / 2, Likely: n, High: n}}}
	}
	return out
}

// TestFitsAndFitted has push fits and what is fitted already cost nothing, and all else
// more.
func TestFitsAndFitted(t *testing.T) {
	at := func(change func(v *[3]Variant)) float64 {
		v := three()
		change(&v)
		points, ok := cost(DrivenPulley, v)
		assert.True(t, ok)
		return points
	}
	as := at(func(v *[3]Variant) { v[1].fitted = true })
	assert.InDelta(t, as+notFitted, at(func(*[3]Variant) {}), 1e-9)
	last := as
	for _, k := range []drive.JointKind{drive.Sleeved, drive.Glued, drive.DrilledOut} {
		now := at(func(v *[3]Variant) { v[1].fitted, v[0].joint = true, k })
		assert.Greater(t, now, last, "%s", k)
		last = now
	}
}
