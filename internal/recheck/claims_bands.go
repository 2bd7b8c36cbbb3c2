package recheck

import "math"

// bands checks each band at rest: geometry, stretch and the rules about them.
func (r *report) bands(c *certificate, p *proposal, m *machine) {
	l := &c.Brief.Limits
	ratio := 1.0
	where := r.where
	defer func() { r.where = where }()
	for i := range p.Stages {
		s, b := &p.Stages[i], &m.belts[i]
		r.where = where + stageName(i)
		r.same("centre distance", s.Centre, distance(m.places[i], m.places[i+1]))
		r.same("rest loop", s.RestLoop, b.rest)
		r.same("strands", s.Strands*s.Band.Width*s.Band.Thickness*s.Band.PullFactor, b.force)
		f, ok := b.fit(distance(m.places[i], m.places[i+1]))
		if !ok {
			r.fail("the band does not go round at this centre distance")
			continue
		}
		r.same("stretch", s.Stretch, f.stretch)
		r.same("path length", s.Length, f.length)
		r.same("free strand", s.Span, f.span)
		r.same("driver pitch diameter", s.Driver.Pitch, 2*f.r1)
		r.same("driven pitch diameter", s.Driven.Pitch, 2*f.r2)
		r.same("driver arc", s.Driver.Arc, degrees(f.arc1))
		r.same("driven arc", s.Driven.Arc, degrees(f.arc2))
		r.same("velocity ratio", s.Ratio, f.r2/f.r1)
		r.same("idle pull", s.IdlePull, b.force*b.rubber.stress(f.stretch))
		ratio *= f.r2 / f.r1

		r.keepsBandRules(c, s, &f)
		r.hold(s.CentreAllowed.From <= s.Centre+1e-6 && s.Centre <= s.CentreAllowed.To+1e-6, "the centre distance is outside the range given for it")
		for _, end := range []float64{s.CentreAllowed.From, s.CentreAllowed.To} {
			if f, ok := b.fit(end); !ok || len(brokenAtRest(c, s, &f)) > 0 {
				r.fail("a rule does not hold at %.6g mm, an end of the range given for the centre distance", end)
			}
		}
		width := s.Band.Width * s.Strands
		for _, pulley := range []*pulley{&s.Driver, &s.Driven} {
			r.hold(width <= pulley.GrooveWidth+1e-6, "the band is wider than the groove of %s", pulley.Name)
			r.hold(pulley.Floor >= l.SectionRatio*s.Band.Thickness-1e-6, "the groove of %s is too small for so thick a band", pulley.Name)
		}
	}
	r.where = where
	r.same("ratio", p.Ratio, ratio)
}

// keepsBandRules checks the rules about a band at rest.
func (r *report) keepsBandRules(c *certificate, s *stage, f *fitted) {
	for _, broken := range brokenAtRest(c, s, f) {
		r.fail("%s", broken)
	}
}

// slackRule forgives the last figures of a limit.
const slackRule = 1e-6

func brokenAtRest(c *certificate, s *stage, f *fitted) []string {
	var out []string
	l := &c.Brief.Limits
	most := math.Min(l.FittedMax, runningLimit(c, s))
	if f.stretch < l.FittedMin-slackRule || f.stretch > most+slackRule {
		out = append(out, "the fitted stretch is outside the limits")
	}
	if degrees(math.Min(f.arc1, f.arc2)) < l.ArcMin-1e-4 {
		out = append(out, "the arc of contact is below the limit")
	}
	if s.Crossed && f.centre < 2*(f.r1+f.r2)-slackRule*f.centre {
		out = append(out, "the crossed band's axles are too near each other")
	}
	return out
}

func runningLimit(c *certificate, s *stage) float64 {
	if s.Band.StretchLimit != nil {
		return math.Min(*s.Band.StretchLimit, c.Brief.Limits.RunningMax)
	}
	return c.Brief.Limits.RunningMax
}
