package goals

import (
	"context"
	"math"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// TradeOff is speed against climb: for slopes from level up, the fastest drive of
// the cupboard that is known to climb it with every rule kept, and how the best drives
// of the challenge do on each. What is proved is of designs, with axles at the marks of a ruler: none
// is faster by a step of uphill. With its holes as they are drawn a drive of the list may be.
type TradeOff struct {
	Slopes  []units.Radians
	Fastest []Uphill   // one for each slope; fewer if the steeper ones cannot be climbed
	Entries [][]Uphill // of each entry, one for each slope that it climbs
	Proved  bool       // every one of Fastest is
}

// Uphill is a drive on a slope.
type Uphill struct {
	Slope   units.Radians
	Speed   units.MetresPerSecond
	Ratio   float64
	Pulleys string
}

// tradeSlopes are the slopes looked at, in degrees.
func tradeSlopes() []float64 { return []float64{0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 25, 30} }

// uphill is the greatest steady speed up a slope, in steps of a tenth; see steepest
// and slowest for why steps are nested.
type uphill struct {
	*Challenge
	slope units.Radians
}

const (
	uphillStep = 0.10
	uphillMost = 10.0 // metres a second
)

func (u uphill) last() int { return 70 } // to about 1 cm a second

func (u uphill) asks(step int) asked {
	least := uphillMost * math.Pow(1+uphillStep, -float64(step+1))
	b := travelling(u.Challenge, units.Interval[units.MetresPerSecond]{Lo: units.MetresPerSecond(least), Hi: fastestThought})
	b.Load.Slope = u.slope
	return asked{brief: b}
}

func (u uphill) measure(p *design.Proposal, step int) (Score, int) {
	at := int(math.Floor(math.Log(uphillMost/float64(p.Linear.Likely))/math.Log1p(uphillStep) + 1e-9))
	return Score{Asked: u.asks(step).brief}, min(step, max(0, at))
}

func (u uphill) best(int) Score { return Score{} }

// Trade works out speed against climb for a vehicle's challenge, under the rules of
// its contest; nil for other models.
func Trade(ctx context.Context, cup *parts.Cupboard, r *Result, opt Options) (*TradeOff, error) {
	if len(r.Entries) == 0 || r.Entries[0].Proposal.Drive.Wheel == nil {
		return nil, nil
	}
	out := &TradeOff{Proved: true}
	// up looks for the fastest drive up a slope, and reports whether there is one.
	up := func(degrees float64) (bool, error) {
		slope := units.Degrees(degrees)
		s := &seeker{cup: cup, goal: uphill{r.Challenge, slope}, rules: r.Challenge.Rules, opt: opt, known: map[string]bool{}}
		found, err := s.next(ctx, 0, 1)
		if err != nil {
			return false, err
		}
		out.Proved = out.Proved && found.proved
		if len(found.entries) == 0 {
			return false, nil
		}
		out.Slopes = append(out.Slopes, slope)
		p := found.entries[0].Proposal
		out.Fastest = append(out.Fastest, Uphill{Slope: slope, Speed: p.Linear.Likely, Ratio: p.Ratio, Pulleys: pulleysOf(p.Drive)})
		return true, nil
	}
	last := -1.0
	for _, degrees := range tradeSlopes() {
		ok, err := up(degrees)
		if err != nil {
			return nil, err
		}
		if ok {
			last = degrees
			continue
		}
		// To the last whole degree that anything climbs.
		for d := last + 1; out.Proved && d < degrees; d++ {
			if ok, err = up(d); err != nil || !ok {
				break
			}
		}
		if err != nil {
			return nil, err
		}
		break
	}
	for i := range r.Entries {
		us := climbs(cup, &r.Entries[i], r.Challenge, out.Slopes)
		out.Entries = append(out.Entries, us)
		for k, u := range us { // it may be faster within the step, and with its holes as they are
			if u.Speed > out.Fastest[k].Speed {
				out.Fastest[k] = u
			}
		}
	}
	return out, nil
}

// climbs is a drive of the list on each slope, as far as it keeps every rule on it with its holes
// as they are.
func climbs(cup *parts.Cupboard, e *Entry, c *Challenge, slopes []units.Radians) []Uphill {
	d := e.Proposal.Drive
	var out []Uphill
	for _, slope := range slopes {
		b := *c.Brief
		b.Load.Slope = slope
		n := design.SpeedRangeOf(d, &b).Likely
		if n <= 0 || !built.FromProposal(e.Proposal, cup, &b).Sound(constraints.Speed) {
			break
		}
		out = append(out, Uphill{Slope: slope, Speed: n.RimSpeed(d.Wheel.Diameter / 2), Ratio: e.Proposal.Ratio, Pulleys: pulleysOf(d)})
	}
	return out
}

func pulleysOf(d *drive.Drive) string {
	out := ""
	for i := range d.Stages {
		if i > 0 {
			out += ", "
		}
		out += d.Stages[i].Driver.Name + " -> " + d.Stages[i].Driven.Name
	}
	return out
}
