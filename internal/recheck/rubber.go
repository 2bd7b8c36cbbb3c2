package recheck

import "math"

// rubber is the Mooney-Rivlin law of simple tension: engineering stress
// 2 (s - 1/s²)(C1 + C2/s) in MPa at a stretch s.
type rubber struct{ c1, c2 float64 }

func (r rubber) stress(s float64) float64 { return 2 * (s - 1/(s*s)) * (r.c1 + r.c2/s) }

func (r rubber) slope(s float64) float64 {
	return 2*(1+2/(s*s*s))*(r.c1+r.c2/s) - 2*(s-1/(s*s))*r.c2/(s*s)
}

// stretchAt inverts stress for stretches of 1 and more. The law is concave, so
// Newton's steps from the tangent at rest climb to the root and never pass it.
func (r rubber) stretchAt(stress float64) float64 {
	if !(stress > 0) {
		return 1
	}
	s := 1 + stress/r.slope(1)
	for range 60 {
		step := (stress - r.stress(s)) / r.slope(s)
		s += step
		if math.Abs(step) < 1e-15*s {
			break
		}
	}
	return s
}

// restOnSlidingArc is the rest length held, for each unit of radius over
// friction, by the arc in which friction takes the band from stretch s2 to s1.
// Along it the pull grows by the capstan law, dP/P = m dtheta, and a length
// r dtheta of path holds r dtheta / s of rest length:
//
//	integral from s2 to s1 of P'(s) / (P(s) s) ds
//
// by Simpson's rule over ln(s-1), in which the integrand is smooth down to a
// limp band.
func (r rubber) restOnSlidingArc(s2, s1 float64) float64 {
	const parts = 64
	if !(s2 > 1) || !(s1 > s2) {
		return 0
	}
	from := math.Log(s2 - 1)
	h := (math.Log(s1-1) - from) / parts
	var sum float64
	for i := 0; i <= parts; i++ {
		e := math.Exp(from + float64(i)*h)
		weight := 2.0
		switch {
		case i == 0 || i == parts:
			weight = 1
		case i%2 == 1:
			weight = 4
		}
		s := 1 + e
		sum += weight * e * r.slope(s) / (r.stress(s) * s)
	}
	return sum * h / 3
}

// root finds where f, positive at lo and not at hi, crosses 0, by regula falsi
// with the Illinois change and bisection where that is slow.
func root(f func(float64) float64, lo, hi float64) float64 {
	flo, fhi := f(lo), f(hi)
	side := 0
	for i := range 120 {
		mid := (lo*fhi - hi*flo) / (fhi - flo)
		if i%4 == 3 || !(mid > math.Min(lo, hi)) || !(mid < math.Max(lo, hi)) {
			mid = lo + (hi-lo)/2
		}
		v := f(mid)
		if math.IsNaN(v) {
			return v
		}
		if v > 0 {
			lo, flo = mid, v
			if side == 1 {
				fhi /= 2
			}
			side = 1
		} else {
			hi, fhi = mid, v
			if side == -1 {
				flo /= 2
			}
			side = -1
		}
		if v == 0 || math.Abs(hi-lo) < 1e-14*math.Abs(hi+lo) {
			return mid
		}
	}
	return lo + (hi-lo)/2
}
