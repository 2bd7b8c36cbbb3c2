package goals

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// Built is a model on the table in a contest: what it should do, and what one change of it
// would.
type Built struct {
	Challenge *Challenge
	Working   *built.Working
	// Likely, Low and High are the score: seconds of the run or turns in the time; High is 0
	// where a run may not get away on a bad day.
	Likely, Low, High float64
	// Carries is the score of a lift or a climb, in place of the three; nil for other goals.
	Carries *Carries
	Against []string // rules of the contest or of drives that it breaks, in words
	Changes []Change // nearest to the aim first, the model itself left out
}

// Change is one change of a model that is built, its holes left where they are.
type Change struct {
	Stage   int    // whose band is changed, from 1; 0: something else
	Band    string // put on instead
	Use     drive.Use
	Cells   string // the holder used instead
	Wheel   string // put on instead
	Likely  float64
	Carries Carries // of a lift or a climb
}

// ErrNoBuilt is that a challenge is none of those for which a model on the table is judged.
var ErrNoBuilt = errors.New("no model that is built is judged for the goal forgiving: try it with findrive try")

// ErrNoRun is that a model does not get away at all, worked out.
var ErrNoRun = errors.New("worked out, this model does not get away: look it over with findrive try")

// mostChanges is how many changes are told.
const mostChanges = 6

// JudgeBuilt works out what a model that is built does in a contest: by its count, if its
// cupboard remembers one. The errors are ErrNoBuilt, ErrNoRun, and that the model is not
// of the kind that the contest is for.
func JudgeBuilt(c *Challenge, b *built.Build) (*Built, error) {
	if c.Kind == Forgiving {
		return nil, ErrNoBuilt
	}
	if b.Brief.Model != c.Brief.Model {
		return nil, errors.New("the challenge is for a " + string(c.Brief.Model) + ", and this model is a " + string(b.Brief.Model))
	}
	if c.loaded() {
		return c.judgeLoad(b)
	}
	w, err := built.Work(b)
	if err != nil {
		return nil, err
	}
	day := b.SpeedUnder(drive.Conditions{})
	if w.Stops != built.Turns || !(day > 0) {
		return nil, ErrNoRun
	}
	out := &Built{Challenge: c, Working: w}
	// How much faster than worked out it is, if it was counted.
	times, likely := 1.0, day
	if w.Counted != nil {
		times, likely = float64(w.Speed.Likely/day), w.Speed.Likely
	}
	start := units.Seconds(0)
	if c.Kind == ExactTime || c.Kind == Fastest {
		start = StartCosts(b.Drive, b.Brief, c.Distance)
	}
	out.Likely = c.scoreAt(b, likely, start)
	if w.Counted == nil && start > 0 { // the run as it is gone through for a drive of the list
		out.Likely = float64(atHoles(b.Drive, b.Brief, c.Distance))
	}
	if c.Kind == Turns {
		out.Low, out.High = c.scoreAt(b, w.Speed.Low, 0), c.scoreAt(b, w.Speed.High, 0)
	} else {
		out.Low = c.scoreAt(b, w.Speed.High, start*(1-startDoubt))
		if w.Speed.Low > 0 {
			out.High = c.scoreAt(b, w.Speed.Low, start*(1+startDoubt))
		}
	}
	rules := &contest{rules: c.Rules, brief: b.Brief}
	out.against(rules, b, w)
	out.Changes = c.changes(b, rules, times)
	return out, nil
}

// against notes what a model breaks: of the contest, and of drives but for the speed.
func (m *Built) against(rules *contest, b *built.Build, w *built.Working) {
	if no := rules.affords(b.Drive); no != nil {
		m.Against = append(m.Against, no.Say())
	}
	for _, f := range w.Findings {
		if f.Broken && f.Rule != constraints.Speed {
			m.Against = append(m.Against, f.Says)
		}
	}
}

// startDoubt is how well what getting away costs is known (judgement).
const startDoubt = 0.2

// scoreAt is the score of a model whose output turns so fast, and which loses so much at the
// start.
func (c *Challenge) scoreAt(b *built.Build, n units.RPM, start units.Seconds) float64 {
	if c.Kind == Turns {
		return float64(n) * float64(c.Time) / 60
	}
	return float64(c.Distance)/1000/float64(n.RimSpeed(b.Drive.Wheel.Diameter/2)) + float64(start)
}

// changes are the single changes that keep every rule, by how near they come to the aim: of
// a race, by how fast or slow they are.
func (c *Challenge) changes(b *built.Build, rules *contest, times float64) []Change {
	var out []Change
	for _, x := range c.singleChanges(b, rules) {
		if !x.model.Sound(constraints.Speed) {
			continue
		}
		n := x.model.SpeedUnder(drive.Conditions{})
		start := units.Seconds(0)
		if c.Kind == ExactTime || c.Kind == Fastest {
			if start = StartCosts(x.model.Drive, x.model.Brief, c.Distance); start == 0 {
				continue
			}
		}
		x.Likely = c.scoreAt(x.model, n*units.RPM(times), start)
		if times == 1 && start > 0 {
			x.Likely = float64(atHoles(x.model.Drive, x.model.Brief, c.Distance))
		}
		out = append(out, x.Change)
	}
	far := func(k Change) float64 {
		switch c.Kind {
		case ExactTime:
			return math.Abs(k.Likely - float64(c.Time))
		case Turns:
			return math.Abs(k.Likely - c.Turns)
		case Slowest:
			return -k.Likely
		}
		return k.Likely
	}
	slices.SortStableFunc(out, func(x, y Change) int { return cmp.Compare(far(x), far(y)) })
	return out[:min(len(out), mostChanges)]
}

// changed is a model after a single change.
type changed struct {
	Change
	model *built.Build
}

// singleChanges are the changes of one band, the cells or the wheels that the rules of the
// contest allow, sound or not.
func (c *Challenge) singleChanges(b *built.Build, rules *contest) []changed {
	var out []changed
	try := func(k Change, do func(d *drive.Drive)) {
		if x := b.With(do); rules.affords(x.Drive) == nil {
			out = append(out, changed{k, x})
		}
	}
	cup := b.Cupboard
	for i := range b.Drive.Stages {
		for k := range cup.Bands {
			for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
				s := &b.Drive.Stages[i]
				if band := &cup.Bands[k]; band.Name != s.Band.Name || use != s.Use {
					try(Change{Stage: i + 1, Band: band.Name, Use: use}, func(d *drive.Drive) { d.Stages[i].Band, d.Stages[i].Use = band, use })
				}
			}
		}
	}
	for k := range cup.Holders {
		if h := &cup.Holders[k]; h.Name != b.Drive.Holder.Name && constraints.Volts(b.Drive.Motor, h) == nil {
			try(Change{Cells: h.Name}, func(d *drive.Drive) { d.Holder = h })
		}
	}
	if b.Brief.Model == brief.Vehicle && c.Brief.Load.Wheel == "" {
		for k := range cup.Wheels {
			if w := &cup.Wheels[k]; w.Name != b.Drive.Wheel.Name {
				try(Change{Wheel: w.Name}, func(d *drive.Drive) { d.Wheel = w })
			}
		}
	}
	return out
}
