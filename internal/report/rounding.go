package report

import (
	"math"
	"strconv"

	"findrive/internal/score"
	"findrive/internal/units"
)

// ruler is the smallest step shown of a length: what a ruler can tell.
const ruler = 0.5

// mm rounds a length to the nearest half millimetre.
func mm(v units.Millimetres) string { return half(math.Round(float64(v) / ruler)) }

// mmUp and mmDown round the ends of a range inwards, so that what is shown is
// still within it.
func mmUp(v units.Millimetres) string   { return half(math.Ceil(float64(v)/ruler - 1e-6)) }
func mmDown(v units.Millimetres) string { return half(math.Floor(float64(v)/ruler + 1e-6)) }

func half(steps float64) string { return trimmed(steps*ruler, 1) }

// size writes a size as it is sold: to a tenth of a millimetre.
func size(v units.Millimetres) string { return trimmed(float64(v), 1) }

// significant rounds to n significant digits, without an exponent.
func significant(v float64, n int) string { return units.Significant(v, n) }

// rpm shows a speed of turning to two significant digits.
func rpm(n units.RPM) string { return significant(float64(n), 2) }

// percent shows a share in whole percent.
func percent(share float64) string { return trimmed(100*share, 0) + " %" }

// points shows a penalty in full, which is at most three decimals.
func points(p score.Points) string { return trimmed(p.Float(), 3) }

// trimmed writes a number with at most so many decimals and no idle zeros.
func trimmed(v float64, decimals int) string { return units.Decimals(v, decimals) }

// count writes a number of things: "1 stage", "2 stages".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
