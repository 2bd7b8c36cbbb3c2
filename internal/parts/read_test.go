package parts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

func TestReadDemo(t *testing.T) {
	c, err := Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	assert.Len(t, c.Pulleys, 9)
	assert.Equal(t, "axle-10", c.Pulleys[0].Name, "sorted by name")
}

// TestReadReportsEveryMistakeAtItsPlace has its messages written out by hand.
func TestReadReportsEveryMistakeAtItsPlace(t *testing.T) {
	_, err := Read("c.toml", []byte(`[pulley.big]
outside = 50
bore = "5 mm"
colour = "red"

[band.thin]
flat_length = "63 kg"
width = "1.5 mm"
count = 0
`))
	require.Error(t, err)
	assert.Equal(t, `c.toml:2:1: pulley.big.outside: "50" has no unit: write "50 mm" if that is what is meant
c.toml:3:1: pulley.big.bore: the bore, 5 mm, leaves nothing of a groove floor of 0.6 mm
c.toml:4:1: pulley.big.colour: this is not known here
c.toml:7:1: band.thin.flat_length: "63 kg" has the unit "kg", which does not fit here: write for example "20 mm"
c.toml:9:1: band.thin.count: found 0, and it must be from 1 to 1000000`, err.Error())
}

func TestReadNotesWhatItAssumes(t *testing.T) {
	c, err := Read("c.toml", []byte("[pulley.p]\noutside = \"20 mm\"\nbore = \"5 mm\"\n"))
	require.NoError(t, err)
	assert.Equal(t, []string{"groove floor taken as 16 mm", "groove width taken as 3 mm", "width along the axle taken as 6 mm"}, c.Pulleys[0].Assumed)
}

func FuzzRead(f *testing.F) {
	f.Add(demo.Cupboard())
	f.Add([]byte("[pulley.p]\noutside = \"20 mm\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read("c.toml", data)
		if (c == nil) == (err == nil) {
			t.Fatal("either a cupboard or an error")
		}
	})
}
