package constraints

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

func TestJoints(t *testing.T) {
	all := brief.Making{DrillOut: true, Glue: true}
	tubes := []parts.Sleeve{
		{Item: parts.Item{Name: "tube-2-5"}, Inner: 2, Outer: 5},
		{Item: parts.Item{Name: "tube-4-6"}, Inner: 4, Outer: 6},
		{Item: parts.Item{Name: "tube-4.8-6"}, Inner: 4.8, Outer: 6},
		{Item: parts.Item{Name: "tube-5-6"}, Inner: 5, Outer: 6},
	}
	hub := Hub{Name: "disc-60", Room: 54, CanDrill: true}
	for _, c := range []struct {
		name        string
		bore, shaft units.Millimetres
		change      func(h *Hub, m *brief.Making)
		want        []drive.JointKind
		sleeve      string
		says        string
	}{
		{name: "exact", bore: 5, shaft: 5, want: []drive.JointKind{drive.PushFit}},
		{name: "pushed on", bore: 4.8, shaft: 5, want: []drive.JointKind{drive.PushFit}},
		{name: "inches come out a hair over", bore: 5 + 1e-7, shaft: 5, want: []drive.JointKind{drive.PushFit}},
		{name: "a little loose", bore: 5.2, shaft: 5, want: []drive.JointKind{drive.Glued}},
		{name: "a little loose, no glue", bore: 5.2, shaft: 5, change: func(_ *Hub, m *brief.Making) { m.Glue = false },
			says: "disc-60 has a 5.2 mm bore, loose on a 5 mm shaft, and the brief allows no glue"},
		{name: "packed out", bore: 5, shaft: 2, want: []drive.JointKind{drive.Sleeved}, sleeve: "tube-2-5"},
		{name: "the tube is stretched on", bore: 6, shaft: 5, want: []drive.JointKind{drive.Sleeved}, sleeve: "tube-4.8-6"},
		{name: "no tube so small", bore: 3, shaft: 2, says: "disc-60 has a 3 mm bore, too loose on a 2 mm shaft, and no sleeve packs it out"},
		{name: "drilled", bore: 4, shaft: 5, want: []drive.JointKind{drive.DrilledOut}},
		{name: "not to be drilled", bore: 4, shaft: 5, change: func(_ *Hub, m *brief.Making) { m.DrillOut = false },
			says: "disc-60 has a 4 mm bore, too small for a 5 mm shaft, and the brief allows no drilling out"},
		{name: "metal", bore: 4, shaft: 5, change: func(h *Hub, _ *brief.Making) { h.CanDrill = false },
			says: "disc-60 has a 4 mm bore, too small for a 5 mm shaft, and it cannot be drilled out"},
		{name: "just enough left", bore: 2, shaft: 5, change: func(h *Hub, _ *brief.Making) { h.Room = 9 }, want: []drive.JointKind{drive.DrilledOut}},
		{name: "too little left", bore: 2, shaft: 5, change: func(h *Hub, _ *brief.Making) { h.Room = 8.9 },
			says: "disc-60 has a 2 mm bore, too small for a 5 mm shaft, and drilled out it would keep less than 2 mm of material round the hole"},
	} {
		h, making := hub, all
		h.Bore = c.bore
		if c.change != nil {
			c.change(&h, &making)
		}
		joints, no := Joints(h, c.shaft, tubes, making)
		if c.says != "" {
			assert.Empty(t, joints, c.name)
		}
		requireSaid(t, Fit, []check{{c.name, no, c.says}})
		var kinds []drive.JointKind
		for _, j := range joints {
			kinds = append(kinds, j.Kind)
			assert.Equal(t, c.bore, j.Bore, c.name)
			assert.Equal(t, c.shaft, j.Shaft, c.name)
			if j.Kind == drive.Sleeved {
				assert.Equal(t, c.sleeve, j.Sleeve.Name, c.name)
			}
		}
		assert.Equal(t, c.want, kinds, c.name)
	}
}

// A bore a little over the shaft may be glued or packed out: both ways are listed,
// the easier first.
func TestJointsListsEveryWay(t *testing.T) {
	thin := []parts.Sleeve{{Item: parts.Item{Name: "paper"}, Inner: 4.9, Outer: 5.1}}
	joints, no := Joints(Hub{Name: "h", Bore: 5.1, Room: 20}, 5, thin, brief.Making{Glue: true})
	assert.Nil(t, no)
	assert.Len(t, joints, 2)
	assert.Equal(t, drive.Glued, joints[0].Kind)
	assert.Equal(t, drive.Sleeved, joints[1].Kind)
}

func TestHubs(t *testing.T) {
	name := parts.Item{Name: "x"}
	assert.Equal(t, Hub{"x", 4, 20, true}, PulleyHub(&parts.Pulley{Item: name, Bore: 4, GrooveFloor: 20, Outside: 24, CanDrill: true}), "the groove bounds the bore")
	assert.Equal(t, Hub{"x", 4, 50, false}, WheelHub(&parts.Wheel{Item: name, Bore: 4, Diameter: 50}))
	assert.Equal(t, Hub{"x", 4, 16, true}, DrumHub(&parts.Drum{Item: name, Bore: 4, Diameter: 16, CanDrill: true}))
}

func TestShaftReaches(t *testing.T) {
	motor := &parts.Motor{Item: parts.Item{Name: "hobby"}, ShaftDiameter: 2, ShaftLength: 4}
	pulley := func(width, groove units.Millimetres) *parts.Pulley {
		return &parts.Pulley{Item: parts.Item{Name: "disc-60"}, Width: width, GrooveWidth: groove}
	}
	requireSaid(t, Fit, []check{
		{"past the groove", ShaftReaches(motor, pulley(5, 3)), ""},
		{"58 % on, in the middle of the groove", ShaftReaches(motor, pulley(6.9, 3.1)), "the shaft of motor hobby is 4 mm long and must reach 5 mm into disc-60, past its groove"},
		{"all through a narrow one", ShaftReaches(motor, pulley(2, 2)), ""},
		{"less than the shaft needs", ShaftReaches(&parts.Motor{Item: parts.Item{Name: "thick"}, ShaftDiameter: 4, ShaftLength: 5}, pulley(8, 1)), "the shaft of motor thick is 5 mm long and must reach 6 mm into disc-60, past its groove"},
	})
}
