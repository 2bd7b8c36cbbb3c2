package design

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
)

// TestFloor checks, in a vehicle of one stage with 50 mm wheels, that its pulleys
// and its frame stay 2 mm above the floor, whether the brief says where that is
// or the wheels do. All other rules are kept by every case.
func TestFloor(t *testing.T) {
	b := &brief.Brief{Model: brief.Vehicle, Limits: brief.DefaultLimits(), Making: brief.Making{DrillFrame: true},
		Frame: brief.Frame{Length: 300, Height: 200, Depth: 60, Pitch: 1, Overhang: 100,
			MotorZone: brief.Rect{X1: 300, Y1: 200}, OutputZone: brief.Rect{X1: 300, Y1: 200}}}
	plan := layout.LanePlan{Lane: []int{0}}
	for _, c := range []struct {
		name           string
		motorY, outY   mm
		driver, driven mm  // over the rims
		ground         *mm // of the brief
		off            mm  // by which every hole may be off
		breaks         []string
	}{
		{"all well", 40, 20, 20, 40, nil, 0, nil},
		{"frame just clear", 40, 23, 20, 40, nil, 0, nil},
		{"frame too low", 40, 24, 20, 40, nil, 0, []string{layout.RuleZone}},
		{"driven pulley just clear", 40, 20, 20, 46, nil, 0, nil},
		{"driven pulley larger than its wheel allows", 40, 20, 20, 47, nil, 0, []string{layout.RuleZone}},
		{"motor pulley just clear", 7, 20, 20, 40, nil, 0, nil},
		{"motor pulley too low", 6, 20, 20, 40, nil, 0, []string{layout.RuleRise}},
		{"motor pulley too low if both holes are off", 7, 20, 20, 40, nil, 0.25, []string{layout.RuleRise}},
		{"and just clear", 7.5, 20, 20, 40, nil, 0.25, []string{layout.RuleGrid}},
		{"the brief's floor", 40, 20, 20, 40, new(mm(-5)), 0, nil},
		{"wheels off the brief's floor", 40, 22, 20, 40, new(mm(-5)), 0, []string{layout.RuleZone}},
		{"motor pulley too near the brief's floor", 6, 20, 20, 40, new(mm(-5)), 0, []string{layout.RuleGround}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := *b
			if b.Frame.HasGround = c.ground != nil; b.Frame.HasGround {
				b.Frame.Ground = *c.ground
			}
			d := &drive.Drive{Motor: &parts.Motor{ShaftDiameter: 2}, Wheel: &parts.Wheel{Diameter: 50}, Axles: []*parts.AxleStock{{Diameter: 5}},
				Stages: []drive.Stage{{Driver: &parts.Pulley{Outside: c.driver}, Driven: &parts.Pulley{Outside: c.driven}, Band: &parts.Band{}}}}
			var broken []string
			for _, v := range layout.Check(LayoutProblem(d, &b, plan, c.off), []layout.Point{{X: 60, Y: c.motorY}, {X: 200, Y: c.outY}}) {
				broken = append(broken, v.Rule)
			}
			require.Equal(t, c.breaks, broken)
		})
	}
}
