package design

import "math"

const (
	// greatestStep is how near greatest comes.
	greatestStep = 4e-13
	mostProbes   = 200
)

// greatest is the greatest x from 0 to high for which a thing that fails from some
// x on is still so; 0 if it never is. Besides whether it is so at x, so tells how
// much room is left there, which falls to 0 where it begins to fail and means
// nothing beyond.
//
// The straight line through the last two x that were so tells where room will run
// out, better each time. We try a little before and a little beyond that point, by
// about as much as it moved last, and so close in on it from both sides. What is
// tried is halfway between the two sides if that does not come on.
func greatest(high float64, so func(x float64) (room float64, ok bool)) float64 {
	if _, ok := so(high); ok {
		return high
	}
	low := 0.0
	room, ok := so(low)
	if !ok {
		return low
	}
	// The load of the brief is 1, and most drives carry it.
	x := min(1, high/2)
	end, doubt := math.NaN(), math.NaN() // where room runs out, and how far that may be off
	width, slow := high, 0
	for range mostProbes {
		beyond := x > end
		left, ok := so(x)
		if ok {
			was := end
			end = x + left*(x-low)/(room-left)
			low, room = x, left
			if doubt = math.Abs(end - was); math.IsNaN(doubt) {
				doubt = (end - low) / 16
			}
		} else {
			high = x
		}
		if ok == beyond {
			doubt *= 8 // it was not as foreseen
		}
		if high-low <= greatestStep {
			break
		}
		if slow++; high-low <= width/2 {
			width, slow = high-low, 0
		}
		doubt = max(doubt, greatestStep/4)
		x = min(max(end, low), high)
		if high-x > 4*doubt {
			x += 2 * doubt
		} else {
			x -= 2 * doubt
		}
		if slow > 3 || !(x > low && x < high) {
			x = low + (high-low)/2
		}
	}
	return low
}
