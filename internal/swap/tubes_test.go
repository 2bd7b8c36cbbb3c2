package swap

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/assembly"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

func shaftWith(kinds string, long ...mm) *assembly.Build {
	b := &assembly.Build{Shafts: []assembly.Shaft{{Name: "motor shaft"}, {Name: "axle 1"}}}
	for i, k := range kinds {
		p := assembly.Part{Kind: map[rune]assembly.Kind{'t': assembly.Tube, 'w': assembly.Washer, 'p': assembly.Pulley}[k], Length: long[i]}
		b.Parts = append(b.Parts, p)
		b.Shafts[1].Along = append(b.Shafts[1].Along, i)
	}
	return b
}

// A wider pulley does not fit between the tubes that were cut for the old one.
func TestTubesCutAnew(t *testing.T) {
	was := shaftWith("tpwt", 65, 6, 1, 20)
	for _, c := range []struct {
		now  *assembly.Build
		want []Step
	}{
		{shaftWith("tpwt", 65, 9, 1, 20), nil},
		{nil, nil},
		{shaftWith("tpwt", 63.5, 9, 1, 20), []Step{{Words: "axle 1: cut anew a tube of 63.5 mm in place of a tube of 65 mm", Parts: 1}}},
		{shaftWith("tpt", 63, 9, 19), []Step{{Words: "axle 1: cut anew tubes of 63 and 19 mm in place of tubes of 65 and 20 mm, and put on 0 washers where there were 1", Parts: 2}}},
		{shaftWith("tpw", 65, 9, 1), []Step{{Words: "axle 1: leave out a tube of 20 mm", Parts: 1}}},
	} {
		assert.Equal(t, c.want, tubes(was, c.now))
	}
}

// Where no tubes are known, it is said by how much a pulley is wider.
func TestWiderPulleyWithoutTubes(t *testing.T) {
	of := func(driver, driven mm) *drive.Drive {
		return &drive.Drive{Stages: []drive.Stage{{Driver: &parts.Pulley{Width: driver}, Driven: &parts.Pulley{Width: driven}}}}
	}
	assert.Empty(t, widths(of(6, 6), of(9, 6)), "the motor's shaft has no tubes")
	assert.Equal(t, []Step{{Words: "axle 1: tubes or washers beside the new pulley must be 2.5 mm shorter together", Parts: 1}}, widths(of(6, 6), of(6, 8.5)))
	assert.Equal(t, []Step{{Words: "axle 1: tubes or washers beside the new pulley must be 1 mm longer together", Parts: 1}}, widths(of(6, 6), of(6, 5)))
}
