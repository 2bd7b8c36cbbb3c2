package parts_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
)

// FuzzCalibrate reads any bytes as a calibration file: told what is wrong with it, or
// a cupboard with motors and bands that could be, and all else as it was.
func FuzzCalibrate(f *testing.F) {
	f.Add([]byte("[motor.slow]\ncounted_speed = \"5000 rpm\"\n[band.no-16]\nhung_mass = \"120 g\"\nreached = \"90 mm\"\n"))
	f.Add([]byte("motor.hobby.free_speed = \"20 turns in 1 s\" # near\n"))
	f.Add([]byte("[band.\"no-16\"]\nhung_mas = \"1 g\"\n[motor.hobbi]\n"))
	cup, err := parts.Read("c.toml", demo.Cupboard())
	require.NoError(f, err)
	before, err := parts.Read("c.toml", demo.Cupboard())
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := cup.Calibrate("calibration.toml", data)
		if (c == nil) == (err == nil) {
			t.Fatal("either a cupboard or an error")
		}
		require.Equal(t, before, cup, "the cupboard itself stays as it was")
		if err != nil {
			return
		}
		for _, b := range c.Bands {
			if !(b.PullFactor > 0 && b.PullFactor < 100) {
				t.Fatalf("%+v", b)
			}
		}
		for _, m := range c.Motors {
			if _, err := mechanics.NewMotor(m.Rated, m.FreeSpeed, m.FreeCurrent, m.StallTorque, m.StallCurrent); err != nil {
				t.Fatalf("%+v: %v", m, err)
			}
		}
	})
}
