package goals

import (
	"math"

	"findrive/internal/design"
	"findrive/internal/units"
)

// slowest is the longest time over a distance without stopping, in steps of a
// twentieth of the speed. It has to start by itself: every drive keeps the starting
// rule of the brief. A slow vehicle is at its speed at once, so its steady speed is
// all that counts.
//
// Bound and brief are one: no faster than a speed, and not so slow that the judges
// go home.
//
// Nested: what is no faster than a speed is no faster than any higher one.
type slowest struct{ *Challenge }

const slowStep = 0.05

// crawl is the slowest that counts.
func (s slowest) crawl() float64 { return float64(s.Distance) / 1000 / float64(s.Within) }

func (s slowest) last() int {
	return int(math.Ceil(math.Log(float64(fastestThought)/s.crawl()) / math.Log1p(slowStep)))
}

func (s slowest) asks(step int) asked {
	most := s.crawl() * math.Pow(1+slowStep, float64(step+1))
	return asked{brief: travelling(s.Challenge, units.Interval[units.MetresPerSecond]{
		Lo: units.MetresPerSecond(s.crawl()), Hi: units.MetresPerSecond(most)})}
}

func (s slowest) measure(p *design.Proposal, step int) (Score, int) {
	v := float64(p.Linear.Likely)
	at := int(math.Floor(math.Log(v/s.crawl())/math.Log1p(slowStep) + 1e-9))
	return Score{Takes: units.Seconds(float64(s.Distance) / 1000 / v), Asked: s.asks(step).brief}, min(step, max(0, at))
}

func (s slowest) best(step int) Score {
	return Score{Takes: units.Seconds(float64(s.Within) / math.Pow(1+slowStep, float64(step)))}
}
