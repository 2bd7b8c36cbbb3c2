package layout

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLanePlans(t *testing.T) {
	tests := []struct {
		name       string
		widths     []mm
		motor      MotorAlong
		gap, depth mm
		want       []LanePlan
	}{
		{"one stage behind the body", []mm{6}, MotorAlong{25, 5, 1}, 2, 31, []LanePlan{
			{Lane: []int{0}, Centre: []mm{28}, BodyFront: 0, Depth: 31}}},
		{"too shallow", []mm{6}, MotorAlong{25, 5, 1}, 2, 30, nil},
		{"deep enough for all behind: nothing else is worth trying", []mm{6, 8, 6}, MotorAlong{25, 5, 1}, 2, 49, []LanePlan{
			{Lane: []int{0, 1, 2}, Centre: []mm{28, 37, 46}, BodyFront: 0, Depth: 49}}},
		{"one millimetre less: stages 1 and 3 share, or one stands beside the body", []mm{6, 8, 6}, MotorAlong{25, 5, 1}, 2, 48, []LanePlan{
			{Lane: []int{1, 0, 2}, Centre: []mm{28, 19, 36}, BodyLanes: []int{0}, BodyFront: 0, Depth: 39},
			{Lane: []int{1, 2, 0}, Centre: []mm{28, 37, 20}, BodyLanes: []int{0}, BodyFront: 0, Depth: 41},
			{Lane: []int{0, 1, 0}, Centre: []mm{28, 37, 28}, BodyFront: 0, Depth: 41}}},
		{"a lane in front longer than the body", []mm{6, 20}, MotorAlong{10, 5, 1}, 2, 28, []LanePlan{
			{Lane: []int{0, 1}, Centre: []mm{13, 28}, BodyFront: 0, Depth: 38}}},
		{"no body", []mm{6, 8}, MotorAlong{0, 5, 1}, 2, 16, []LanePlan{
			{Lane: []int{0, 1}, Centre: []mm{3, 12}, BodyFront: 0, Depth: 16}}},
		{"no stages", nil, MotorAlong{25, 5, 1}, 2, 100, nil},
		{"the shaft longer than the last lane is wide", []mm{6}, MotorAlong{25, 8, 1}, 2, 33, []LanePlan{
			{Lane: []int{0}, Centre: []mm{30}, BodyFront: 0, Depth: 33}}},
		{"no room for the shaft's tip", []mm{6}, MotorAlong{25, 8, 1}, 2, 32, nil},
		{"the shaft stays half a gap before the next lane", []mm{6, 6}, MotorAlong{25, 9, 1}, 2, 41, []LanePlan{
			{Lane: []int{0, 1}, Centre: []mm{30, 38}, BodyFront: 0, Depth: 41}}},
		{"or reaches into it where the frame is shallower", []mm{6, 6}, MotorAlong{25, 9, 1}, 2, 40, []LanePlan{
			{Lane: []int{0, 1}, Centre: []mm{28, 36}, ShaftLanes: []int{1}, BodyFront: 0, Depth: 39},
			{Lane: []int{1, 0}, Centre: []mm{31, 23}, BodyLanes: []int{0}, BodyFront: 0, Depth: 34}}},
		{"or a pulley stands beside the body", []mm{6, 6}, MotorAlong{25, 9, 1}, 2, 38, []LanePlan{
			{Lane: []int{1, 0}, Centre: []mm{31, 23}, BodyLanes: []int{0}, BodyFront: 0, Depth: 34}}},
		{"a driven pulley so wide that the body stands beside it", []mm{30}, MotorAlong{25, 10, 1}, 2, 50, []LanePlan{
			{Lane: []int{0}, Centre: []mm{34}, BodyLanes: []int{0}, BodyFront: 0, Depth: 49}}},
	}
	tests[4].want = []LanePlan{{Lane: []int{1, 0}, Centre: []mm{25, 10}, BodyLanes: []int{0}, BodyFront: 12, Depth: 28}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := LanePlans(len(test.widths), test.widths, test.motor, test.gap, test.depth)
			require.Len(t, got, len(test.want))
			for i := range got {
				assert.Equal(t, test.want[i], got[i])
			}
		})
	}
}

// TestLanePlansKeepApart: lanes do not overlap each other or stand out of the
// depth, neighbours do not share, the body is in front of the driver and its shaft reaches
// that, and lanes are named that it overlaps or into which the shaft reaches.
func TestLanePlansKeepApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stages := rapid.IntRange(1, 5).Draw(t, "stages")
		size := func(lo, hi int, name string) mm { return mm(rapid.IntRange(lo, hi).Draw(t, name)) }
		widths := make([]mm, stages)
		for i := range widths {
			widths[i] = size(2, 20, "width")
		}
		driver := size(2, int(widths[0]), "width of the driver")
		seat := driver * mm(rapid.IntRange(1, 4).Draw(t, "groove")) / 8
		motor := MotorAlong{Body: size(0, 40, "body"), Seat: seat, Shaft: driver/2 + seat + size(0, 12, "shaft")}
		gap, depth := size(0, 4, "gap"), size(5, 120, "depth")
		for _, plan := range LanePlans(stages, widths, motor, gap, depth) {
			front, back := plan.BodyFront, plan.BodyFront+motor.Body
			tip := back + motor.Shaft
			require.GreaterOrEqual(t, front, mm(0))
			require.LessOrEqual(t, tip, plan.Depth)
			require.LessOrEqual(t, back, plan.Centre[0]-driver/2)
			require.GreaterOrEqual(t, tip, plan.Centre[0]+seat)
			require.LessOrEqual(t, plan.Depth, depth)
			for i := range stages {
				lo, hi := plan.Centre[i]-widths[i]/2, plan.Centre[i]+widths[i]/2
				require.GreaterOrEqual(t, lo, mm(0))
				require.LessOrEqual(t, hi, plan.Depth)
				if i > 0 {
					require.NotEqual(t, plan.Lane[i-1], plan.Lane[i])
				}
				if motor.Body > 0 && lo < back && hi > front {
					require.Contains(t, plan.BodyLanes, plan.Lane[i])
				}
				if plan.Lane[i] > plan.Lane[0] && lo-gap/2 < tip {
					require.Contains(t, plan.ShaftLanes, plan.Lane[i])
				}
				for j := range i {
					apart := max(lo-plan.Centre[j]-widths[j]/2, plan.Centre[j]-widths[j]/2-hi)
					require.True(t, plan.Lane[i] == plan.Lane[j] || apart >= gap)
					require.Equal(t, plan.Lane[i] == plan.Lane[j], plan.Centre[i] == plan.Centre[j])
				}
			}
			require.True(t, slices.IsSorted(plan.BodyLanes))
			require.True(t, slices.IsSorted(plan.ShaftLanes))
		}
	})
}
