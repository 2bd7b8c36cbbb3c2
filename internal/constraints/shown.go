package constraints

import "math"

// over is how a figure above its limit is shown, and under one below it: rounded
// away from the limit, to a tenth, so that it never looks as if it met it.
func over(v float64) float64  { return math.Ceil(10*v-1e-6) / 10 }
func under(v float64) float64 { return math.Floor(10*v+1e-6) / 10 }
