package brief

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

func TestReadDemo(t *testing.T) {
	b, err := Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	assert.Equal(t, UprightRide, b.Model)
	assert.InDelta(t, 20, float64(b.Speed.Turning), 1e-9)
}

// TestReadReportsEveryMistakeAtItsPlace has its messages written out by hand.
func TestReadReportsEveryMistakeAtItsPlace(t *testing.T) {
	_, err := Read("b.toml", []byte(`model = "ride on an upright axel"
speed = "0.3 m/s"
[frame]
length = "20 cm"
heigth = "100 mm"
depth = "90 mm"
`))
	require.Error(t, err)
	assert.Equal(t, `b.toml:1:1: model: found "ride on an upright axel", which is not known; did you mean "ride on an upright axle"?; it can be ride on an upright axle, ride on a level axle, vehicle, lift, plain shaft
b.toml:2:1: speed: found "0.3 m/s", and a plain shaft turns: write for example "20 rpm" or "1 turn in 3 s"
b.toml:3:2: frame: height is missing
b.toml:5:1: frame.heigth: this is not known here; did you mean "height"?`, err.Error())
}

func FuzzRead(f *testing.F) {
	f.Add(demo.Brief())
	f.Add([]byte("model = \"lift\"\nspeed = \"40 mm/s\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := Read("b.toml", data)
		if (b == nil) == (err == nil) {
			t.Fatal("either a brief or an error")
		}
	})
}
