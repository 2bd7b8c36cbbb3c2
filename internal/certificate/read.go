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
	data = PlainText(data)
	if err := overLimit(data); err != nil {
		return nil, err
	}
	var c Certificate
	if err := json.Unmarshal(data, &c); err != nil {
		return nil, inWords(data, err)
	}
	if m := c.check(); m != nil {
		return nil, m.in(data)
	}
	return &c, nil
}

const (
	mostStages = 16
	mostSets   = 1000
	longest    = 10_000 // mm
)

// mistake is what does not hang together, and the path to it.
type mistake struct {
	path []any // keys and, from 0, places in lists
	text string
}

func wrong(text string, path ...any) *mistake { return &mistake{path, text} }

// in is the mistake with its line and its key.
func (m *mistake) in(data []byte) error {
	if len(m.path) == 0 {
		return errors.New(m.text + "; " + again)
	}
	key := ""
	for _, p := range m.path {
		switch p := p.(type) {
		case int:
			key += fmt.Sprintf("[%d]", p+1)
		default:
			key += fmt.Sprintf(".%s", p)
		}
	}
	return fmt.Errorf("line %d: %s: %s; %s", lineOf(data, m.path), key[1:], m.text, again)
}

func (c *Certificate) check() *mistake {
	switch {
	case c.Kind != "findrive certificate":
		return wrong("this is not a findrive certificate")
	case c.Schema == 1:
		return wrong("this certificate is of schema 1, which was written before drives were designed for a hundred classrooms and is not read any more", "schema")
	case c.Schema != SchemaVersion:
		return wrong(fmt.Sprintf("this certificate is of schema %d, and only %d is known", c.Schema, SchemaVersion), "schema")
	}
	for i := range c.Proposals {
		if m := c.Proposals[i].check(); m != nil {
			return wrong(m.text, append([]any{"proposals", i}, m.path...)...)
		}
	}
	if c.Discs != nil {
		if m := c.Discs.check(); m != nil {
			return wrong(m.text, append([]any{"discs"}, m.path...)...)
		}
	}
	for i := range c.Spacers {
		if s := &c.Spacers[i]; !sizes(s.Bore, s.Outside, s.Thickness) || s.Count < 0 || s.Count > mostSheets {
			return wrong("the spacer has no size", "spacers", i)
		}
	}
	f := &c.Brief.Frame
	if !sizes(f.Length, f.Height, f.Depth) || !lengths(f.Sheet, f.Strip) || !lengths(f.Rails...) {
		return wrong("the frame has no size that could be built", "brief", "frame")
	}
	if c.Brief.Sets < 1 || c.Brief.Sets > mostSets {
		return wrong(fmt.Sprintf("%d sets are not between 1 and %d", c.Brief.Sets, mostSets), "brief", "sets")
	}
	return nil
}

func (p *Proposal) check() *mistake {
	n := len(p.Stages)
	if n == 0 || n > mostStages || len(p.Axles) != n || len(p.Positions) != n+1 || len(p.Lanes.Lane) != n || len(p.Lanes.Centre) != n {
		return wrong("its lists of stages, axles, positions and lanes do not belong together")
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		for k, q := range []*Pulley{&s.Driver, &s.Driven} {
			if !sizes(q.Outside, q.GrooveFloor, q.Pitch, q.Width, q.Joint.Shaft) || !lengths(q.Bore) {
				return wrong("the pulley has no size", "stages", i, []string{"driver", "driven"}[k])
			}
			if q.Made != nil {
				if m := q.Made.check(); m != nil {
					return wrong(m.text, "stages", i, []string{"driver", "driven"}[k], "made")
				}
			}
		}
		if !sizes(s.Band.FlatLength, s.Band.Width, s.Band.Thickness) {
			return wrong("the band has no size", "stages", i, "band")
		}
		if !sizes(s.Centre, s.RestLoop, s.Stretch, s.Ratio) || !lengths(s.Lane) {
			return wrong("the band's place has no size", "stages", i)
		}
		if a := &p.Axles[i]; !sizes(a.Diameter, a.Length, a.RodSize) {
			return wrong("the axle has no size", "axles", i)
		}
	}
	for i, at := range p.Positions {
		if !lengths(at.X, at.Y) {
			return wrong("the hole is nowhere near the frame", "positions", i)
		}
	}
	if at := p.FreeAxle; at != nil && !lengths(at.X, at.Y) {
		return wrong("the hole is nowhere near the frame", "free_axle")
	}
	if r := p.Wheel; r != nil && !sizes(r.Diameter, r.Width) {
		return wrong("the wheel has no size", "wheel")
	}
	if r := p.Drum; r != nil && !sizes(r.Diameter, r.Width) {
		return wrong("the drum has no size", "drum")
	}
	if !(p.Speed.Likely > 0) || !(p.Ratio > 0) || math.IsInf(float64(p.Speed.Likely), 1) {
		return wrong("it has no speed", "speed_rpm")
	}
	if o := p.Overload; o != nil && o.Stage != nil && (*o.Stage < 1 || *o.Stage > n) {
		return wrong(fmt.Sprintf("the band that slips first is that of stage %d, and there are %d", *o.Stage, n), "overload")
	}
	for i, u := range p.Uses {
		if u.Each < 1 || u.Each > mostSets {
			return wrong(fmt.Sprintf("a set takes %d of it", u.Each), "uses", i)
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
