package swap

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/search"
)

// Answer is what to put in the place of a broken part.
type Answer struct {
	Model *Model
	// Cupboard is what replacements were looked for in: what is left, with the model's
	// own parts but for the broken one. Nil if there is a spare.
	Cupboard *parts.Cupboard
	Broken   Slot
	// Spare is the entry of the same part among what is left: nothing else need be
	// changed. Nil if there is none.
	Spare *parts.Item
	// Cut is the broken pulley where it was made of discs, and the sheets and cutters that are
	// left make another: nothing else need be changed. Nil if not.
	Cut *parts.Pulley
	// Replacements are the nearest first: by holes to drill, then those whose motor stays,
	// then by parts changed, then by penalty. They are looked for only if there is no spare.
	Replacements []Replacement
	// Open is how many searches were stopped before they had settled everything.
	Open int
}

// Replacement is one way to mend a model.
type Replacement struct {
	Drive *design.Proposal
	Steps []Step
	Parts int // places filled with something else
	Holes int // to drill anew, or to another size
	// MotorMoved is set where the motor, which has no hole, is set elsewhere.
	MotorMoved bool
	// OtherSpeed is set where the model's own tolerance is not kept; Rebuilt where the
	// whole drive is another.
	OtherSpeed, Rebuilt bool
}

// Options steer Find.
type Options struct {
	NoneLeft bool // what is left has no part like the broken one, whatever its list says
	Threads  int
	Watch    func(search.Progress)
	Build    func(*design.Proposal) *assembly.Build                      // with tubes and washers; nil where that is not known
	Each     func(context.Context) (context.Context, context.CancelFunc) // bounds one search; nil bounds none
}

const (
	perSearch = 2 // drives that are kept of each search
	most      = 5 // replacements told
	enough    = 3 // with which nothing further from the model is looked for
)

// anySpeed is how far off the speed may be in the end where nothing keeps the model's own
// tolerance: a million times as fast, which nothing is.
const anySpeed = 1e6

// Find looks for replacements from what is left in the cupboard, the parts of the
// model itself not among it. The error is design's: the program contradicts itself.
func Find(ctx context.Context, m *Model, left *parts.Cupboard, broken Slot, opt Options) (*Answer, error) {
	a := &Answer{Model: m, Broken: broken}
	if it := left.Item(broken.Kind, broken.Name); it != nil && it.Count > 0 && !opt.NoneLeft {
		a.Spare = it
		return a, nil
	}
	if made := m.Made[broken.Name]; broken.Kind == "pulley" && made != nil && cuts(left, made) {
		a.Cut = made
	}
	f := &finder{m: m, a: a, opt: opt, cup: pooled(left, own(m.Drive, m.Brief), broken, true)}
	a.Cupboard = f.cup
	near := f.open(asBuilt(m.Drive))
	bands := f.bands(near)
	any := f.anyBands(near)
	for _, p := range []design.Pins{near, bands, any} {
		f.try(ctx, p, m.Brief.Tolerance, false)
	}
	for i := range m.Drive.Positions {
		p := bands
		if i > 0 {
			p = loose(p, i-1)
		}
		if i < len(m.Drive.Stages) {
			p = loose(p, i)
		} else {
			p.FreeAxle = nil // it stands as high as the output axle
		}
		p.Holes = slices.Clone(p.Holes)
		p.Holes[i] = nil
		f.try(ctx, p, m.Brief.Tolerance, false)
	}
	if len(a.Replacements) < enough {
		any.Holes, any.FreeAxle = make([]*layout.Point, len(any.Holes)), nil
		f.try(ctx, any, m.Brief.Tolerance, false)
	}
	if len(a.Replacements) == 0 {
		for _, p := range []design.Pins{f.anyBands(near), any} {
			for _, off := range []float64{0.9, 3, 10, anySpeed} { // the nearest speed first
				if len(a.Replacements) == 0 && off > m.Brief.Tolerance {
					f.try(ctx, p, off, false)
				}
			}
		}
		f.try(ctx, design.Pins{}, m.Brief.Tolerance, true)
	}
	slices.SortStableFunc(a.Replacements, func(x, y Replacement) int {
		return cmp.Or(parts.CompareBool(x.Rebuilt, y.Rebuilt), parts.CompareBool(x.OtherSpeed, y.OtherSpeed), cmp.Compare(x.Holes, y.Holes), parts.CompareBool(x.MotorMoved, y.MotorMoved), cmp.Compare(x.Parts, y.Parts),
			cmp.Compare(x.Drive.Total, y.Drive.Total))
	})
	a.Replacements = a.Replacements[:min(most, len(a.Replacements))]
	return a, f.err
}

// cuts reports whether what is left makes one more of a made pulley: of the same sheets, cut in the
// same way.
func cuts(left *parts.Cupboard, made *parts.Pulley) bool {
	for _, d := range made.Made.Pieces() {
		if !slices.ContainsFunc(left.Cutters, func(c parts.Cutter) bool { return c.Name == d.Cutter }) {
			return false
		}
	}
	return left.Discs != nil && making.Enough(left, []*parts.Pulley{made}, 1) == nil
}

// finder gathers replacements.
type finder struct {
	m   *Model
	a   *Answer
	opt Options
	cup *parts.Cupboard
	err error
}

// open leaves open what broke.
func (f *finder) open(p design.Pins) design.Pins {
	b := f.a.Broken
	p.Each = slices.Clone(p.Each)
	switch b.Role {
	case "motor":
		p.Motor = ""
	case "cells":
		p.Holder = ""
	case "driver":
		p.Each[b.Stage-1].Driver = ""
	case "driven":
		p.Each[b.Stage-1].Driven = ""
	case "band":
		p.Each[b.Stage-1].Band, p.Each[b.Stage-1].Use = "", nil
	case "axle":
		p.Each[b.Stage-1].Axle = ""
	}
	return p
}

// loose leaves the band of a stage, from 0, open.
func loose(p design.Pins, stage int) design.Pins {
	p.Each = slices.Clone(p.Each)
	p.Each[stage].Band, p.Each[stage].Use = "", nil
	return p
}

// bands leaves open the bands next to what broke as well; and for a motor the pulley
// on its shaft, which may not fit another.
func (f *finder) bands(p design.Pins) design.Pins {
	switch b := f.a.Broken; {
	case b.Stage > 0:
		return loose(p, b.Stage-1)
	case b.Kind == "motor":
		p = loose(p, 0)
		p.Each[0].Driver = ""
		return p
	}
	return p
}

// anyBands leaves open every band and the cells.
func (f *finder) anyBands(p design.Pins) design.Pins {
	p = f.bands(p)
	for i := range p.Each {
		p = loose(p, i)
	}
	p.Holder = ""
	return p
}

// try searches with some of the model pinned.
func (f *finder) try(ctx context.Context, p design.Pins, tolerance float64, rebuilt bool) {
	if f.err != nil {
		return
	}
	if f.opt.Each != nil {
		var stop context.CancelFunc
		ctx, stop = f.opt.Each(ctx)
		defer stop()
	}
	b := *f.m.Brief
	b.Tolerance = tolerance
	if f.a.Broken.Kind == "wheel" {
		b.Load.Wheel = ""
	}
	if f.a.Broken.Kind == "drum" {
		b.Load.Drum = ""
	}
	opt := design.Options{Keep: perSearch, Threads: f.opt.Threads, Watch: f.opt.Watch, Pins: &p}
	r, err := design.Find(ctx, f.cup, &b, opt)
	if err != nil {
		f.err = err
		return
	}
	if r.Status == design.StoppedEarly {
		f.a.Open++
	}
	for i := range r.Proposals {
		f.keep(&r.Proposals[i], tolerance > f.m.Brief.Tolerance, rebuilt)
	}
}

// keep adds a drive to the replacements, unless the same is there with fewer holes to
// drill.
func (f *finder) keep(q *design.Proposal, otherSpeed, rebuilt bool) {
	r := Replacement{Drive: q, OtherSpeed: otherSpeed, Rebuilt: rebuilt}
	r.Steps = append(f.m.freed(q.Drive, f.a.Broken), f.m.changes(q.Drive)...)
	if !rebuilt && len(f.m.Drive.Stages) == len(q.Drive.Stages) {
		r.Steps = append(r.Steps, f.between(q)...)
	}
	for _, s := range r.Steps {
		r.Parts += s.Parts
		r.Holes += s.Holes
		r.MotorMoved = r.MotorMoved || s.Motor
	}
	for i := range f.a.Replacements {
		if old := &f.a.Replacements[i]; alike(old.Drive.Drive, q.Drive) {
			if cmp.Or(cmp.Compare(r.Holes, old.Holes), parts.CompareBool(r.MotorMoved, old.MotorMoved)) < 0 {
				*old = r
			}
			return
		}
	}
	f.a.Replacements = append(f.a.Replacements, r)
}

// between is what changes between the pulleys.
func (f *finder) between(q *design.Proposal) []Step {
	if f.m.Stands == nil || f.opt.Build == nil {
		return widths(f.m.Drive, q.Drive)
	}
	return tubes(f.m.Stands, f.opt.Build(q))
}

// alike tells whether two drives have the same parts, put on in the same way.
func alike(a, b *drive.Drive) bool {
	if a.Motor.Name != b.Motor.Name || a.Holder.Name != b.Holder.Name || len(a.Stages) != len(b.Stages) {
		return false
	}
	for i := range a.Stages {
		x, y := &a.Stages[i], &b.Stages[i]
		if x.Driver.Name != y.Driver.Name || x.Driven.Name != y.Driven.Name || x.Band.Name != y.Band.Name || x.Use != y.Use || x.Crossed != y.Crossed ||
			a.Axles[i].Name != b.Axles[i].Name {
			return false
		}
	}
	return (a.Wheel == nil || a.Wheel.Name == b.Wheel.Name) && (a.Drum == nil || a.Drum.Name == b.Drum.Name)
}
