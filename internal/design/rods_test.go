package design

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

func rod(name string, length mm, count int) parts.AxleStock {
	return parts.AxleStock{Item: parts.Item{Name: name, Count: count, Location: "shelf " + name}, Diameter: 5, Length: length, Material: parts.Wood}
}

// A ride's inner axle is 138 mm and its output axle 153 mm; a saw takes 1 mm.
func TestSetsFromRods(t *testing.T) {
	for _, c := range []struct {
		name          string
		rods          []parts.AxleStock
		inner, output int
		want          int
	}{
		{"138 and 153 from 300 mm", []parts.AxleStock{rod("dowel", 300, 1)}, 1, 1, 1},
		{"not two of 153", []parts.AxleStock{rod("dowel", 300, 1)}, 0, 2, 0},
		{"rods of two lengths are both used", []parts.AxleStock{rod("dowel-a", 140, 2), rod("dowel-b", 160, 2)}, 1, 1, 2},
		{"axles of three sets from two rods", []parts.AxleStock{rod("dowel", 446, 2)}, 1, 1, 3},
		{"none", nil, 1, 1, 0},
	} {
		cup, b := smallCase(1)
		b.Model, b.Frame.Depth = brief.LevelRide, 120
		cup.Axles = append(c.rods, parts.AxleStock{Item: parts.Item{Name: "steel", Count: 9}, Diameter: 5, Length: 900, Material: parts.Steel})
		task := newTask(cup, b)
		require.Len(t, task.axles, 1+min(1, len(c.rods)), c.name)
		kind := 0
		if task.axles[0].Part.Material != parts.Wood {
			kind = len(task.axles) - 1
		}
		if len(c.rods) == 0 {
			continue
		}
		require.Equal(t, mm(138), drive.AxleLength(b))
		require.Equal(t, mm(153), drive.OutputAxleLength(b, nil, nil))
		assert.Equal(t, c.want, task.setsFrom(sawing{kind: kind, inner: c.inner, output: c.output, length: 153}), c.name)
	}
}

// A vehicle's free axle is cut from the rod of its output axle, and as long.
func TestFreeAxleIsCut(t *testing.T) {
	cup, b := smallCase(1)
	b.Model = brief.Vehicle
	wheel := &parts.Wheel{Item: parts.Item{Name: "w", Count: 4}, Diameter: 40, Width: 8, Bore: 5}
	length := drive.OutputAxleLength(b, wheel, nil)
	assert.Equal(t, []sawing{{kind: 0, inner: 1, output: 2, length: length}}, newTask(cup, b).sawingsOf([]int{0, 0}, wheel, nil))
	assert.Equal(t, []sawing{{kind: 1, inner: 1, length: length}, {kind: 0, output: 2, length: length}}, newTask(cup, b).sawingsOf([]int{1, 0}, wheel, nil))
}

// A drum that no drive takes does not make axles longer.
func TestUnusedWideDrumChangesNoCount(t *testing.T) {
	cup, b := smallCase(1)
	b.Model = brief.Lift
	narrow := parts.Drum{Item: parts.Item{Name: "narrow", Count: 9}, Diameter: 20, Width: 10, Bore: 5, Material: parts.Wood}
	wide := narrow
	wide.Name, wide.Width = "wide", 200
	counted := func(drums ...parts.Drum) int {
		cup.Drums = drums
		task := newTask(cup, b)
		return task.setsFrom(task.sawingsOf([]int{0, 0}, nil, &narrow)[0])
	}
	assert.Equal(t, counted(narrow), counted(narrow, wide))
	assert.Positive(t, counted(narrow))
}

func TestRodsOfTwoLengthsAreBothUsed(t *testing.T) {
	r := shared(t, func(c *parts.Cupboard) { c.Axles = []parts.AxleStock{rod("b", 120, 1), rod("a", 110, 1)} })
	use := taken(r, "axle")
	require.NotNil(t, use)
	assert.Equal(t, Use{Kind: "axle", Name: "a", Also: []string{"b"}, Each: 1, Sets: 2, Have: 2,
		Places: []Place{{"a", "shelf a", 110, 1}, {"b", "shelf b", 120, 1}}}, *use)
}
