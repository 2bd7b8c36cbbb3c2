package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
)

// A cupboard written fact by fact into an empty file is read as it was; facts set in
// the file that it was read from change nothing either.
func TestFactsAreReadBack(t *testing.T) {
	full := []byte(`name = "all kinds"
[pulley.v]
outside = "20.5 mm"
bore = "5 mm"
groove = "40 deg"
material = "brass"
can_drill = true
location = "shelf \"A\""
price = "0.05"
[band.b]
size = 16
[band.c]
flat_length = "3 in"
width = "1.5 mm"
stretch_limit = 1.7
[motor.m]
rated = "3 V"
volts = ["1.5 V", "4.5 V"]
counted_speed = "341 turns in 3 s"
stall_torque = "20 g.cm"
body_width = "21 mm"
count = 0
[cells.c]
cells = 2
condition = "used"
open_voltage = "1.41 V"
capacity = "900 mAh"
[axle.a]
diameter = "5 mm"
length = "1 m"
[sleeve.s]
inner = "2 mm"
outer = "5 mm"
[spacer.s]
bore = "5 mm"
outside = "12 mm"
thickness = "1.2 mm"
[wheel.w]
diameter = "45 mm"
bore = "4.9 mm"
[sheet.s]
kind = "plywood"
thickness = "4 mm"
length = "600 mm"
width = "300 mm"
count = 3
[cutter.hand]
step = "4 mm"
[cutter.saws]
way = "hole saw"
sizes = ["32 mm", "44.5 mm"]
[discs]
bores = ["4 mm", "5 mm"]
most = 6
[drum.d]
diameter = "15 mm"
bore = "4.9 mm"
width = "20 mm"
[cord.c]
diameter = "1 mm"
length = "10 m"
`)
	for _, data := range [][]byte{full, demo.Cupboard(), demo.StarterCupboard()} {
		want, err := parts.Read("c.toml", data)
		require.NoError(t, err)
		name := tomledit.Set(tomledit.Text(want.Name), "name")
		for _, from := range []string{"", string(data)} {
			text, err := tomledit.Apply("c.toml", []byte(from), append(want.Facts(), name)...)
			require.NoError(t, err)
			got, err := parts.Read("c.toml", text)
			require.NoError(t, err)
			for i := range got.Bands {
				if b := &want.Bands[i]; b.Calibrated && from == "" {
					got.Bands[i].PullFactor, got.Bands[i].Calibrated = b.PullFactor, true // measured
				}
			}
			assert.Equal(t, want, got)
		}
	}
}
