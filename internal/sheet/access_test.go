package sheet

import (
	"math"

	"github.com/stretchr/testify/assert"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
)

// straightIn asserts that every pulley gets to its axle from outside the frame, in its
// own lane and in a straight line, past the axles that are in already, what is on them
// in that lane, and the strips that join the sides. It returns how many there were.
func straightIn(t assert.TestingT, b *certificate.Brief, p *certificate.Proposal) int {
	o, err := assembly.Of(b, p)
	if !assert.NoError(t, err) {
		return 0
	}
	plan, err := assembly.PlanOf(o)
	if !assert.NoError(t, err) {
		return 0
	}
	count := 0
	var in []int
	for i := range plan.Steps {
		step := &plan.Steps[i]
		if step.Kind != assembly.AxleStep {
			continue
		}
		for _, k := range o.Shafts[step.Shaft].Along {
			if o.Parts[k].Kind == assembly.Pulley {
				count++
				assert.True(t, hasWay(o, step.Shaft, k, in), "%s: pulley %s does not get into the frame", b.Name, o.Parts[k].Letter)
			}
		}
		in = append(in, step.Shaft)
	}
	return count
}

func hasWay(o *assembly.Build, shaft, pulley int, in []int) bool {
	q, at := &o.Parts[pulley], o.Shafts[shaft].At
	for n := range 72 {
		sin, cos := math.Sincos(float64(n) * math.Pi / 36)
		clear := func(x, y, r float64) bool {
			rx, ry := x-float64(at.X), y-float64(at.Y)
			ahead := math.Max(0, rx*cos+ry*sin)
			return math.Hypot(rx-ahead*cos, ry-ahead*sin) >= float64(q.Radius)+r
		}
		good := true
		for _, i := range in {
			s := &o.Shafts[i]
			r := float64(s.Diameter) / 2
			for _, k := range s.Along {
				if w := &o.Parts[k]; w.Kind == assembly.Pulley && w.From < q.To && w.To > q.From {
					r = math.Max(r, float64(w.Radius))
				}
			}
			good = good && clear(float64(s.At.X), float64(s.At.Y), r)
		}
		for _, j := range o.Frame.Joiners {
			good = good && clear(float64(j.X), float64(j.Y), float64(o.Frame.Strip)/math.Sqrt2)
		}
		if good {
			return true
		}
	}
	return false
}
