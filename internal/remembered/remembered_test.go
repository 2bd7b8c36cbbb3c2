package remembered_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

func model() (*drive.Drive, *brief.Brief) {
	pulley := func(n string) *parts.Pulley { return &parts.Pulley{Item: parts.Item{Name: n}} }
	d := &drive.Drive{
		Motor: &parts.Motor{Item: parts.Item{Name: "m"}}, Holder: &parts.CellHolder{Item: parts.Item{Name: "two"}},
		Stages:    []drive.Stage{{Driver: pulley("small"), Driven: pulley("big"), Band: &parts.Band{Item: parts.Item{Name: "b"}}}},
		Positions: []layout.Point{{}, {X: 60}},
	}
	return d, &brief.Brief{Load: brief.Load{Mass: 100}}
}

// TestFind has what makes a drive the one that was counted, and what makes it another.
func TestFind(t *testing.T) {
	d, b := model()
	was := remembered.Of(d, b)
	was.Slowest, was.Likely, was.Fastest = 19, 20, 21
	cup := &parts.Cupboard{Remembered: []parts.CountedDrive{was}}
	for name, c := range map[string]struct {
		change      func(d *drive.Drive, b *brief.Brief)
		same, alike bool
	}{
		"nothing":          {func(*drive.Drive, *brief.Brief) {}, true, true},
		"half a mm":        {func(d *drive.Drive, _ *brief.Brief) { d.Positions[1].X += 0.5 }, true, true},
		"two mm":           {func(d *drive.Drive, _ *brief.Brief) { d.Positions[1].X += 2 }, false, true},
		"crossed":          {func(d *drive.Drive, _ *brief.Brief) { d.Stages[0].Crossed = true }, false, true},
		"put on otherwise": {func(d *drive.Drive, _ *brief.Brief) { d.Stages[0].Use = drive.Paired }, false, true},
		"another motor":    {func(d *drive.Drive, _ *brief.Brief) { d.Motor = &parts.Motor{} }, false, false},
		"a heavier load":   {func(_ *drive.Drive, b *brief.Brief) { b.Load.Mass *= 1.2 }, false, false},
		"a gram more":      {func(_ *drive.Drive, b *brief.Brief) { b.Load.Mass++ }, true, true},
		"a stage more": {func(d *drive.Drive, _ *brief.Brief) {
			d.Stages, d.Positions = append(d.Stages, d.Stages[0]), append(d.Positions, layout.Point{X: 120})
		}, false, false},
	} {
		d, b := model()
		c.change(d, b)
		found := remembered.Find(cup, d, b)
		assert.Equal(t, c.same, found != nil, name)
		assert.Equal(t, c.alike, remembered.Alike(cup, d, b) != nil, name)
		if found != nil {
			assert.Equal(t, units.RPM(20), found.Likely)
		}
	}
	assert.Nil(t, remembered.Find(nil, d, b))
}
