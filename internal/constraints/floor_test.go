package constraints_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

func saying(t *testing.T, want string, no *constraints.Refusal) {
	t.Helper()
	if want == "" {
		require.Nil(t, no)
		return
	}
	require.NotNil(t, no)
	require.Equal(t, constraints.Floor, no.Rule)
	require.Positive(t, no.Miss)
	require.Equal(t, want, no.Say())
}

func wheel50() *parts.Wheel { return &parts.Wheel{Item: parts.Item{Name: "wooden"}, Diameter: 50} }

// A pulley on the axle of a 50 mm wheel, 2 mm clear of the floor, is at most
// 46 mm across; with holes to a whole millimetre a given floor may be half of
// one further down.
func TestClearOfFloor(t *testing.T) {
	for _, c := range []struct {
		outside units.Millimetres
		given   bool
		says    string
	}{
		{46, false, ""},
		{46.5, false, "big, 46.5 mm across, would drag on the floor: it is on the axle of wheel wooden, 50 mm across"},
		{47, true, ""},
		{47.5, true, "big, 47.5 mm across, would drag on the floor: it is on the axle of wheel wooden, 50 mm across"},
	} {
		b := &brief.Brief{Limits: brief.DefaultLimits(), Frame: brief.Frame{Pitch: 1, HasGround: c.given}}
		saying(t, c.says, constraints.ClearOfFloor(b, wheel50(), &parts.Pulley{Item: parts.Item{Name: "big"}, Outside: c.outside}))
	}
}

func TestWheelsStand(t *testing.T) {
	for _, c := range []struct {
		name    string
		given   bool
		below   units.Millimetres
		rails   []units.Millimetres
		zoneTop units.Millimetres
		says    string
	}{
		{"no floor given", false, 0, nil, 100, ""},
		{"within the frame", true, 5, nil, 100, ""},
		{"at its very bottom", true, 25.5, nil, 100, ""},
		{"below it", true, 50, nil, 100, "wheel wooden, 50 mm across, on a floor 50 mm below the frame, has its axle at a height of -25 mm, and its place is from 0 to 100 mm"},
		{"above the zone", true, 0, nil, 20, "wheel wooden, 50 mm across, on a floor 0 mm below the frame, has its axle at a height of 25 mm, and its place is from 0 to 20 mm"},
		{"on a rail", true, 5, []units.Millimetres{20, 60}, 100, ""},
		{"half a pitch off a rail", true, 4.5, []units.Millimetres{20, 60}, 100, ""},
		{"between rails", true, 10, []units.Millimetres{20, 60}, 100, "wheel wooden, 50 mm across, on a floor 10 mm below the frame, has its axle at a height of 15 mm, and its place is from 0 to 100 mm, on rails at 20, 60 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := &brief.Brief{Frame: brief.Frame{Pitch: 1, HasGround: c.given, Ground: -c.below, Rails: c.rails, OutputZone: brief.Rect{X1: 200, Y1: c.zoneTop}}}
			saying(t, c.says, constraints.WheelsStand(b, wheel50()))
		})
	}
}
