package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

// Of all ways to fit a pulley on the motor's shaft the cheapest counts of which there is
// enough, whichever the brief's weights make that.
func TestTheCheapestMotorJointCounts(t *testing.T) {
	for _, c := range []struct {
		name    string
		glue    float64
		sleeves int
		want    drive.JointKind
	}{
		{"glue is cheaper", 0.5, 2, drive.Glued},
		{"a sleeve is cheaper", 30, 2, drive.Sleeved},
		{"a sleeve is cheaper, but there are too few", 30, 1, drive.Glued},
		{"no sleeve", 30, 0, drive.Glued},
	} {
		t.Run(c.name, func(t *testing.T) {
			cup, b := motorJoint(c.glue, c.sleeves)
			r, err := Find(context.Background(), cup, b, Options{Keep: 1})
			require.NoError(t, err)
			require.Equal(t, ProvedBest, r.Status)
			assert.Equal(t, c.want, r.Proposals[0].Drive.Stages[0].DriverJoint.Kind)
		})
	}
}

// motorJoint is a small case for two sets whose motor's pulley may be glued on or packed out
// with a tube, of which there are so many.
func motorJoint(glue float64, sleeves int) (*parts.Cupboard, *brief.Brief) {
	cup, b := smallCase(sleeved)
	for i := range cup.Pulleys {
		cup.Pulleys[i].Count, cup.Pulleys[i].Bore = 9, 5
	}
	cup.Pulleys[0].Bore = 2.2 // fits no axle
	for i := range cup.Bands {
		cup.Bands[i].Count = 9
	}
	cup.Sleeves = nil
	if sleeves > 0 {
		cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "tube", Count: sleeves}, Inner: 2, Outer: 2.2, Length: 8}}
	}
	b.Sets, b.Making.Glue, b.Making.DrillOut, b.Weights.Glue = 2, true, false, glue
	return cup, b
}
