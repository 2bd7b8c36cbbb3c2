package proof

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// end is a stage fitted at one centre distance.
type end struct {
	mechanics.Fitted
	stage *mechanics.Stage
	grip  float64 // effective pull at which it slips, N
	cos   float64 // of the strands' lean from the line of centres
	tan   float64

	answers *remembered
	number  uint64 // of all ends
}

// at is the way fitted at a centre distance; nil if the band does not go round
// there.
func (w *way) at(c mm) *end {
	if e, known := w.ends[c]; known {
		return e
	}
	var e *end
	if f, err := w.stage.Fit(c); err == nil {
		g, _ := w.stage.Grip(f)
		sine := float64(f.DrivenPitch-f.DriverPitch) / (2 * float64(c))
		if w.crossed {
			sine = float64(f.DrivenPitch+f.DriverPitch) / (2 * float64(c))
		}
		sine = min(1, max(-1, sine))
		cos := math.Sqrt(1 - sine*sine)
		e = &end{Fitted: f, stage: &w.stage, grip: float64(g), cos: cos, tan: math.Abs(sine) / max(cos, 1e-9), answers: w.answers, number: w.answers.ends}
		w.answers.ends++
	}
	w.ends[c] = e
	return e
}

// answer is what a stage does at an effective pull.
type answer struct {
	share   float64 // speed left by creep
	stretch float64 // of the tight run
	hub     float64 // size of the pull on either axle, N
	tilt    float64 // of that pull from the line of centres, radians
}

// carrying is the stage carrying an effective pull, or as much of it as it can.
func (e *end) carrying(effective float64) answer { return e.answers.carrying(e, effective) }

// loaded works carrying out.
func (e *end) loaded(effective float64) answer {
	most := e.grip * (1 - 1e-9)
	l, ok := e.stage.Load(e.Fitted, units.Newtons(max(0, min(effective, most))))
	if !ok {
		l = mechanics.Loaded{Tight: e.Pull, Slack: e.Pull, TightStretch: e.Stretch, SlackStretch: e.Stretch, SpeedFactor: 1}
	}
	sum, across := float64(l.Tight+l.Slack), float64(l.Tight-l.Slack)*e.tan
	return answer{share: l.SpeedFactor, stretch: l.TightStretch, hub: e.cos * math.Hypot(sum, across), tilt: math.Atan2(across, sum)}
}

// pair is a stage somewhere in a window of centre distances, known by its two
// ends. As the centre distance grows the band is stretched further, and everything
// else follows one way: it gets thinner, so that the pitch diameters shrink; its
// pull, its grip and the creep at a given load grow; the lean of its strands
// falls. As the effective pull grows, the creep, the tight run's stretch and the
// tilt of its pull grow. So what the corners do bounds what lies between. Only the
// pull on the axles may fall back a little close to slip, and arcs and spans shift
// the shares of the two runs a little: pad covers both. Tests hold the bounds to
// stages drawn at random.
type pair struct{ near, far *end }

// pad is the share by which bounds are eased, for windows of that width and that
// range of effective pulls.
func (p pair) pad(pull span) float64 {
	const exact, perWidth, perLoad = 1e-7, 0.05, 0.08
	width := float64(p.far.Centre/p.near.Centre) - 1
	load := 0.0
	if pull.Hi > 0 {
		load = (pull.Hi - pull.Lo) / pull.Hi
	}
	return exact + min(0.02, perWidth*width) + perLoad*load
}

func hull(a, b float64) span { return span{Lo: min(a, b), Hi: max(a, b)} }

func (p pair) ratio() span {
	r := hull(p.near.Ratio, p.far.Ratio)
	return eased(r, 1e-9)
}
func (p pair) drivenRadius() span {
	return eased(hull(float64(p.near.DrivenPitch/2), float64(p.far.DrivenPitch/2)), 1e-9)
}
func (p pair) driverRadius() span {
	return eased(hull(float64(p.near.DriverPitch/2), float64(p.far.DriverPitch/2)), 1e-9)
}

// grip is the most the band carries anywhere in the window.
func (p pair) grip() float64 {
	most := max(p.near.grip, p.far.grip)
	return most * (1 + p.pad(span{}))
}

// eased is a range of something above 0, wider by a share.
func eased(r span, by float64) span { return span{Lo: r.Lo * (1 - by), Hi: r.Hi * (1 + by)} }

// bounds is what a stage does in a window and a range of effective pulls.
type bounds struct {
	share, stretch, hub span
	tilt                float64 // at most
}

func (p pair) bounds(pull span) bounds {
	a, b := p.near.carrying(pull.Lo), p.near.carrying(pull.Hi)
	c, d := p.far.carrying(pull.Lo), p.far.carrying(pull.Hi)
	pad := p.pad(pull)
	out := bounds{
		// Creep is what is lost, so the pad is on the loss.
		share:   span{Lo: 1 - (1-min(b.share, d.share))*(1+pad) - 1e-9, Hi: 1 - (1-max(a.share, c.share))*(1-pad) + 1e-9},
		stretch: eased(span{Lo: min(a.stretch, c.stretch), Hi: max(b.stretch, d.stretch)}, pad),
		hub:     eased(span{Lo: min(a.hub, b.hub, c.hub, d.hub), Hi: max(a.hub, b.hub, c.hub, d.hub)}, pad),
		tilt:    max(b.tilt, d.tilt) * (1 + pad),
	}
	out.share.Hi = min(1, out.share.Hi)
	return out
}
