// Package recheck checks a certificate of a search by the certificate alone: it
// recomputes what the certificate claims from the parts, places and constants
// written in it, by its own formulas and its own numerical methods. It shares no
// code with the program that wrote the certificate.
//
//	certificate.go  the keys that are read
//	rubber.go       the rubber law, quadrature and a root finder
//	belt.go         geometry, tensions and grip of one band
//	work.go         a whole drive carrying a torque
//	claims_*.go     the claims, group by group
//	rods.go         for how many sets axles can be cut
package recheck

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
)

// How closely a claim must agree. Figures are written with nine digits; the
// rest is room for two different numerical methods.
const (
	relative = 2e-6
	absolute = 2e-7
)

// report collects the claims that do not hold.
type report struct {
	where string
	found []string
}

func (r *report) fail(format string, args ...any) {
	r.found = append(r.found, r.where+fmt.Sprintf(format, args...))
}

// same claims that a figure is what it should be.
func (r *report) same(what string, claimed, should float64) {
	if !near(claimed, should) {
		r.fail("%s is given as %.9g and comes out as %.9g", what, claimed, should)
	}
}

// hold claims that a statement is true.
func (r *report) hold(ok bool, format string, args ...any) {
	if !ok {
		r.fail(format, args...)
	}
}

func near(a, b float64) bool {
	return math.Abs(a-b) <= absolute+relative*math.Max(math.Abs(a), math.Abs(b))
}

// Recheck returns the claims of a certificate that do not hold, each as a
// sentence; none if all do. It can not show that there is no better drive, only
// that each proposal is what it is said to be.
func Recheck(data []byte) []string {
	var c certificate
	r := &report{}
	if err := json.Unmarshal(data, &c); err != nil {
		return []string{"not a certificate: " + err.Error()}
	}
	switch {
	case c.Schema == 1:
		return []string{"this certificate is of schema 1, as findrive wrote it before drives were designed for a hundred classrooms; only schema 2 is rechecked: search again"}
	case c.Schema != 2:
		return []string{fmt.Sprintf("schema %d is not known here", c.Schema)}
	case c.Kind != "findrive certificate":
		return []string{fmt.Sprintf("not a certificate: it says that it is %q", c.Kind)}
	}
	r.outcome(&c)
	if len(c.Proposals) > 0 && !r.roomsComplete(&c) {
		return r.found
	}
	for i := range c.Proposals {
		p := &c.Proposals[i]
		r.where = fmt.Sprintf("proposal %d: ", i+1)
		if !p.whole() {
			r.fail("its lists of stages, axles, positions and lanes do not belong together")
			continue
		}
		m := c.machineOf(p, day{})
		r.bands(&c, p, &m)
		r.forces(&c, p, &m)
		r.design(&c, p, &m)
		r.speeds(&c, p, &m)
		r.directions(&c, p)
		r.given(&c, p)
		r.places(&c, p)
		r.frame(&c, p)
		r.stock(&c, p)
		r.joints(&c, p)
		r.discs(&c, p)
		r.penalties(&c, p)
		r.assumptions(p)
		r.forgiveness(&c, p, &m)
		r.oneCellLess(&c, p)
		r.overload(&c, p)
	}
	return r.found
}

// whole reports whether a proposal has as many of everything as it has stages.
func (p *proposal) whole() bool {
	n := len(p.Stages)
	if n == 0 || len(p.Axles) != n || len(p.Positions) != n+1 || len(p.Lanes.Stage) != n || len(p.Lanes.Centre) != n {
		return false
	}
	for i := range n {
		if p.Positions[i] == p.Positions[i+1] {
			return false
		}
	}
	return true
}

// outcome checks the status against what was found, and the order.
func (r *report) outcome(c *certificate) {
	n := len(c.Proposals)
	switch c.Status {
	case "proved best":
		r.hold(n > 0, "proved best of nothing")
		r.hold(c.BoundPoints == nil, "proved best, and yet something unseen could be better")
	case "none possible":
		r.hold(n == 0, "none possible, and yet there are proposals")
		r.hold(c.BoundPoints == nil, "none possible, and yet something unseen could be")
	case "stopped early":
	default:
		r.fail("the status %q is not one of the three", c.Status)
	}
	for i, p := range c.Proposals {
		r.hold(p.Rank == i+1, "the proposal in place %d has rank %d", i+1, p.Rank)
		r.hold(i == 0 || p.Total >= c.Proposals[i-1].Total, "proposal %d has fewer points than the one before it", i+1)
	}
}

// stock counts the parts again.
func (r *report) stock(c *certificate, p *proposal) {
	need := map[string]int{}
	need["motor "+p.Motor.Name]++
	need["cells "+p.Cells.Name]++
	sleeve := func(j *joint) {
		if j.Sleeve != nil {
			need["sleeve "+j.Sleeve.Name]++
		}
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		need["pulley "+s.Driver.Name]++
		need["pulley "+s.Driven.Name]++
		need["band "+s.Band.Name]++
		if s.Use == "two side by side" {
			need["band "+s.Band.Name]++
		}
		need["axle "+p.Axles[i].Stock]++
		sleeve(&s.Driver.Joint)
		sleeve(&s.Driven.Joint)
	}
	if p.OutputJoint != nil {
		for range int(p.outputs()) {
			sleeve(p.OutputJoint)
		}
	}
	if p.Wheel != nil {
		need["wheel "+p.Wheel.Name] += int(p.outputs())
		need["axle "+p.Axles[len(p.Stages)-1].Stock]++ // the free axle, of the same rod
	}
	if p.Drum != nil {
		need["drum "+p.Drum.Name]++
	}
	made := p.made()
	for _, u := range p.Uses {
		there := 0
		for _, at := range u.Places {
			there += at.Count
		}
		r.hold(u.Kind == "axle" || made[u.Name] > 0 || there == u.Have, "%d of %s are kept in places and there are %d", there, u.Name, u.Have)
		key := u.Kind + " " + u.Name
		r.hold(u.Each == need[key], "%s: %d taken by one set and listed as %d", key, need[key], u.Each)
		r.hold(u.Sets == c.Brief.Sets && u.Total == u.Each*u.Sets, "%s: %d in each of %d sets is listed as %d", key, u.Each, c.Brief.Sets, u.Total)
		r.hold(u.Total <= u.Have, "%s: %d are taken and there are %d", key, u.Total, u.Have)
		delete(need, key)
		if u.Kind == "axle" {
			r.hold(u.Each > 0 && u.Have == u.Each*p.mostSets(&u), "%s: %d are to be had, and the rods can be cut for %d sets", key, u.Have, p.mostSets(&u))
		}
	}
	missing := make([]string, 0, len(need))
	for key := range need {
		missing = append(missing, key)
	}
	slices.Sort(missing)
	for _, key := range missing {
		r.fail("%s is used and not listed among what is taken", key)
	}
}
