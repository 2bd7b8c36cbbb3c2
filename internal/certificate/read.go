package certificate

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
)

// Read reads a saved certificate. The error says, in words for the person who
// saved it, why the file is not one or what in it does not hang together: each
// proposal must have as many of everything as it has stages and lengths that
// could be those of a thing on a table, so that whoever reads on need not check.
// Whether its claims are true is another matter.
func Read(data []byte) (*Certificate, error) {
	if len(data) > 2*MaxBytes {
		return nil, overLimit(data)
	}
	data = plainText(data)
	if err := overLimit(data); err != nil {
		return nil, err
	}
	var c Certificate
	if err := json.Unmarshal(data, &c); err != nil {
		return nil, inWords(data, err)
	}
	if c.Kind != "findrive certificate" {
		return nil, errors.New("this is not a findrive certificate")
	}
	if c.Schema == 1 {
		return nil, errors.New("this certificate is of schema 1, which was written before drives were designed for a hundred classrooms; it is not read any more: search again and save the new one")
	}
	if c.Schema != SchemaVersion {
		return nil, fmt.Errorf("this certificate is of schema %d, and only %d is known", c.Schema, SchemaVersion)
	}
	for i := range c.Proposals {
		if err := c.Proposals[i].check(); err != nil {
			return nil, fmt.Errorf("proposal %d: %w", i+1, err)
		}
	}
	if c.Discs != nil {
		if err := c.Discs.check(); err != nil {
			return nil, err
		}
	}
	f := &c.Brief.Frame
	if !sizes(f.Length, f.Height, f.Depth) || !lengths(f.Sheet, f.Strip) || !lengths(f.Rails...) {
		return nil, errors.New("the frame has no size that could be built")
	}
	if c.Brief.Sets < 1 || c.Brief.Sets > mostSets {
		return nil, fmt.Errorf("%d sets are not between 1 and %d", c.Brief.Sets, mostSets)
	}
	return &c, nil
}

const (
	mostStages = 16
	mostSets   = 1000
	longest    = 10_000 // mm
)

func (p *Proposal) check() error {
	n := len(p.Stages)
	if n == 0 || n > mostStages || len(p.Axles) != n || len(p.Positions) != n+1 || len(p.Lanes.Lane) != n || len(p.Lanes.Centre) != n {
		return errors.New("its lists of stages, axles, positions and lanes do not belong together")
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		for _, q := range []*Pulley{&s.Driver, &s.Driven} {
			if !sizes(q.Outside, q.GrooveFloor, q.Pitch, q.Width, q.Joint.Shaft) || !lengths(q.Bore) {
				return fmt.Errorf("a pulley of stage %d has no size", i+1)
			}
			if q.Made != nil {
				if err := q.Made.check(); err != nil {
					return err
				}
			}
		}
		if !sizes(s.Band.FlatLength, s.Band.Width, s.Band.Thickness, s.Centre, s.RestLoop, s.Stretch, s.Ratio) || !lengths(s.Lane) {
			return fmt.Errorf("the band of stage %d has no size", i+1)
		}
		if a := &p.Axles[i]; !sizes(a.Diameter, a.Length, a.RodSize) {
			return fmt.Errorf("axle %d has no size", i+1)
		}
	}
	for _, at := range p.Positions {
		if !lengths(at.X, at.Y) {
			return errors.New("a hole is nowhere near the frame")
		}
	}
	for _, r := range []*Round{p.Wheel, p.Drum} {
		if r != nil && !sizes(r.Diameter, r.Width) {
			return errors.New("the wheel or drum has no size")
		}
	}
	if !(p.Speed.Likely > 0) || !(p.Ratio > 0) || math.IsInf(float64(p.Speed.Likely), 1) {
		return errors.New("it has no speed")
	}
	if o := p.Overload; o != nil && o.Stage != nil && (*o.Stage < 1 || *o.Stage > n) {
		return fmt.Errorf("the band that slips first is that of stage %d, and there are %d", *o.Stage, n)
	}
	for _, u := range p.Uses {
		if u.Each < 1 || u.Each > mostSets {
			return fmt.Errorf("a set takes %d of %s", u.Each, u.Name)
		}
	}
	return nil
}

// sizes reports whether each could be a size in millimetres.
func sizes(list ...Number) bool {
	for _, v := range list {
		if !(v > 0) || v > longest {
			return false
		}
	}
	return true
}

// lengths reports whether each could be a place or a length, which may be 0 or,
// for a place, to the left of or below the datum.
func lengths(list ...Number) bool {
	for _, v := range list {
		if !(v >= -longest && v <= longest) {
			return false
		}
	}
	return true
}
