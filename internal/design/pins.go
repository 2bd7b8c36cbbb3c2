package design

import (
	"math"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// Pins hold a search to what somebody wants, or has built already: only drives that
// are so are looked for. Parts are meant by their names in the cupboard; what is
// empty or nil is left open, and a nil *Pins leaves everything open.
type Pins struct {
	Motor, Holder string
	Stages        int // exactly so many; 0 for any number
	// Output is the pulley on the output axle.
	Output string
	// Each holds the stages one by one, the motor's first. A drive has at least as
	// many stages as the last of which something is asked.
	Each []StagePins
	// Holes are where the shafts are, the motor's first. A drive has no more shafts
	// than are listed unless the list is empty.
	Holes []*layout.Point
	// FreeAxle is where a vehicle's axle is that is not driven.
	FreeAxle *layout.Point
}

// StagePins hold one stage.
type StagePins struct {
	Driver, Driven, Band string
	Use                  *drive.Use
	Crossed              *bool
	Axle                 string // that carries the driven pulley
}

// pin drops the heads that are not as wanted and keeps the rest for later.
func (t *task) pin(p *Pins) {
	if p == nil {
		return
	}
	t.pins = p
	t.heads = slices.DeleteFunc(t.heads, func(h head) bool {
		return !is(p.Motor, t.motors[h.motor].Names) || !is(p.Holder, t.holders[h.holder].Names) ||
			p.Stages > 0 && h.stages != p.Stages || h.stages < p.stages() ||
			len(p.Holes) > 0 && h.stages >= len(p.Holes)
	})
	for i := range p.Each {
		if !t.canBand(i) {
			t.heads = nil
			return
		}
	}
	// The motor's stage is chosen last, so its reach is worth knowing beforehand.
	for m := range t.motors {
		r := units.Interval[float64]{Lo: math.Inf(1), Hi: math.Inf(-1)}
		for driver, joint := range t.onMotor[m] {
			for _, driven := range t.axlePulleys {
				if joint != nil && t.wantsPair(0, driver, driven) {
					ratio := t.pairRatio(driver, driven)
					r.Lo, r.Hi = min(r.Lo, ratio.Lo), max(r.Hi, ratio.Hi)
				}
			}
		}
		t.motorReach[m] = r
	}
}

// canBand tells whether any band goes round any pulleys as a stage is to have them.
func (t *task) canBand(stage int) bool {
	if p := &t.pins.Each[stage]; p.Driver == "" && p.Driven == "" && p.Band == "" {
		return true
	}
	for driver := range t.pulleys {
		for _, driven := range t.axlePulleys {
			if t.wantsPair(stage, driver, driven) && (len(t.options(&onStage{index: stage, driver: driver, driven: driven, far: t.longestCentre()}, unsettled)) > 0 || t.stopped()) {
				return true
			}
		}
	}
	return false
}

// wantsPair tells whether a stage may have this driver and this driven pulley.
func (t *task) wantsPair(stage, driver, driven int) bool {
	p := t.stagePins(stage)
	return p == nil || is(p.Driver, t.pulleys[driver].Names) && is(p.Driven, t.pulleys[driven].Names)
}

// stages is how many stages there must be for everything that is asked of one.
func (p *Pins) stages() int {
	n := len(p.Each)
	for n > 0 && p.Each[n-1] == (StagePins{}) {
		n--
	}
	return n
}

// is tells whether one of the names is the one wanted, or none is.
func is(wanted string, names []string) bool { return wanted == "" || slices.Contains(names, wanted) }

// stagePins are those of a stage, if there are any.
func (t *task) stagePins(stage int) *StagePins {
	if t.pins == nil || stage >= len(t.pins.Each) {
		return nil
	}
	return &t.pins.Each[stage]
}

// wantsPulley tells whether a pulley may be the next that is chosen for n.
func (t *task) wantsPulley(n *node, pulley int) bool {
	if t.pins == nil {
		return true
	}
	names := t.pulleys[pulley].Names
	if n.chosen == 0 && !is(t.pins.Output, names) {
		return false
	}
	p := t.stagePins(t.heads[n.head].stages - 1 - int(n.chosen)/2)
	switch {
	case p == nil:
		return true
	case n.chosen%2 == 0:
		return is(p.Driven, names)
	}
	return is(p.Driver, names)
}

// wantsBand tells whether a stage may be banded so.
func (t *task) wantsBand(stage int, w way) bool {
	p := t.stagePins(stage)
	return p == nil || is(p.Band, t.bands[w.band].Names) &&
		(p.Use == nil || *p.Use == w.use) && (p.Crossed == nil || *p.Crossed == w.crossed)
}

// wantsAxle tells whether a stage's driven pulley may sit on an axle of that stock.
func (t *task) wantsAxle(stage, axle int) bool {
	p := t.stagePins(stage)
	return p == nil || is(p.Axle, t.axles[axle].Names)
}

// pinHoles leaves the shafts that are pinned only the hole where they are.
func (t *task) pinHoles(p *layout.Problem) {
	if t.pins == nil {
		return
	}
	for i, at := range t.pins.Holes {
		if at == nil || i >= len(p.Shafts) {
			continue
		}
		z := &p.Shafts[i].Zone
		*z = meet(*z, justAt(at))
	}
	if at := t.pins.FreeAxle; at != nil && p.Mate != nil {
		p.Mate.Zone = meet(p.Mate.Zone, justAt(at))
	}
}
