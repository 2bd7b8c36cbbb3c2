package goals

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/design"
	"findrive/internal/forecast"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// asCounted gives an entry the time or the turns of the very model, where a calibration
// file remembers it. What the start costs is not told by a count of turns: it is taken as
// worked out, to a fifth either way (judgement).
func asCounted(cup *parts.Cupboard, c *Challenge, e *Entry) {
	was := remembered.Find(cup, e.Proposal.Drive, c.Brief)
	if was == nil {
		return
	}
	switch s := &e.Score; {
	case s.Run != nil:
		run := *s.Run
		steady := float64(run.Likely-run.Start) * float64(e.Proposal.Speed.Likely)
		run.Likely = run.Start + units.Seconds(steady/float64(was.Likely))
		const ofStart = 0.2
		run.Early = (1-ofStart)*run.Start + units.Seconds(steady/float64(was.Fastest))
		run.Late = (1+ofStart)*run.Start + units.Seconds(steady/float64(was.Slowest))
		s.Run, s.Off = &run, run.Likely-c.Time
	case c.Kind == Turns:
		s.Turns = float64(was.Likely) * float64(c.Time) / 60
	default:
		return
	}
	e.Counted = was
}

// rangeEnds is how many standard deviations a range of a model that was counted reaches
// either way.
const rangeEnds = 2

// expect is what the club should see of a drive on average, by which drives are ranked: one
// that is likely to be near, but little is known of, may lose to one that is further off and
// surer. For goals that are to be hit it is by how much it should be off, in seconds or
// turns, over the hundred classrooms; where it stands it is off by all that was asked. For
// the others it is the score times the share of classrooms in which it gets there: the time
// of a race is divided by that share, for it is a speed that counts. Of a model that was
// counted only its own range is in doubt. Forgiving: its score, for holes do not depend on
// the day. Infinite where it cannot be said.
func expect(c *Challenge, e *Entry) float64 {
	aim, likely := float64(c.Time), 0.0
	switch {
	case c.Kind == Turns:
		aim, likely = c.Turns, e.Score.Turns
	case e.Score.Run != nil:
		likely = float64(e.Score.Run.Likely)
	}
	hit := c.Kind == ExactTime || c.Kind == Turns
	switch {
	case hit && e.Counted != nil:
		return expectCounted(c, e, likely, aim)
	case hit:
		sum := 0.0
		for _, off := range offInRooms(c, e, aim) {
			sum += off
		}
		return sum / forecast.Rooms
	}
	share := e.getsThere()
	switch c.Kind {
	case Fastest:
		return likely / share
	case Slowest:
		return float64(e.Score.Takes) * share
	case Steepest:
		return e.Score.Climbs.Degrees() * share
	case Heaviest:
		return float64(e.Score.Lifts) * share
	}
	return float64(e.Score.Holes)
}

// getsThere is in what share of the classrooms a drive does what its score says: of a climb
// or a lift, in how many it does so in the time; of the others, in how many it does not
// stand.
func (e *Entry) getsThere() float64 {
	if e.Score.Climbs > 0 || e.Score.Lifts > 0 {
		return float64(e.Proposal.Works) / forecast.Rooms
	}
	return 1 - float64(e.Proposal.Stands)/forecast.Rooms
}

// GetsThere is the same of a hundred.
func (e *Entry) GetsThere() int { return int(math.Round(100 * e.getsThere())) }

// offInRooms is by how much a drive is off in each classroom, its holes as they are drawn.
// What the start of a run costs is taken to be that of the likely day.
func offInRooms(c *Challenge, e *Entry, aim float64) [forecast.Rooms]float64 {
	var out [forecast.Rooms]float64
	d, likely := e.Proposal.Drive, e.Proposal.AtHoles
	speeds, err := design.InClassrooms(d, e.Score.Asked)
	start := units.Seconds(0)
	if c.Kind == ExactTime {
		start = StartCosts(d, e.Score.Asked, c.Distance)
	}
	for i, n := range speeds {
		switch out[i] = aim; {
		case err != nil || n <= 0 || c.Kind == ExactTime && e.AtHoles <= 0:
		case c.Kind == Turns:
			out[i] = math.Abs(float64(n)*float64(c.Time)/60 - aim)
		default:
			out[i] = math.Abs(float64(start+(e.AtHoles-start)*units.Seconds(likely/n)) - aim)
		}
	}
	return out
}

// expectCounted is by how much a model that was counted should be off. The logarithm of its
// time is taken as normal on either side of the likely one.
func expectCounted(c *Challenge, e *Entry, likely, aim float64) float64 {
	var low, high float64
	if c.Kind == ExactTime {
		low, high = float64(e.Score.Run.Early), float64(e.Score.Run.Late)
	} else {
		minutes := float64(c.Time) / 60
		low, high = float64(e.Speeds().Low)*minutes, float64(e.Speeds().High)*minutes
	}
	const points = 400
	sum := 0.0
	for i := range points {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/points-1)
		side := math.Log(high / likely)
		if z < 0 {
			side = math.Log(likely / low)
		}
		sum += math.Abs(likely*math.Exp(z*side/rangeEnds) - aim)
	}
	return sum / points
}

// sameBet is how much of what is expected tells two drives apart that are not to hit
// anything (judgement).
const sameBet = 0.05

// bet is what is expected of a drive in steps that a club can tell apart, the best least.
func bet(c *Challenge, e *Entry) float64 {
	switch c.Kind {
	case ExactTime:
		return math.Round(e.Expect / float64(exactTime{c, false}.step()))
	case Turns:
		return math.Round(e.Expect / turns{c}.step())
	case Fastest:
		return math.Round(math.Log(e.Expect) / sameBet)
	case Forgiving:
		return float64(e.step)
	}
	return math.Round(-math.Log(e.Expect) / sameBet)
}

// rank puts the drives in the order of what the club will see, those whose place by the
// score is proved before the others; what ties stays in the order of the score.
func (r *Result) rank() {
	for i := range r.Entries {
		r.Entries[i].ByScore = i + 1
	}
	by := func(x, y Entry) int { return cmp.Compare(bet(r.Challenge, &x), bet(r.Challenge, &y)) }
	slices.SortStableFunc(r.Entries[:r.Proved], by)
	slices.SortStableFunc(r.Entries[r.Proved:], by)
	for i := range r.Entries {
		r.Entries[i].Rank = i + 1
	}
}

// Speeds is the range of the output's speed: of the very model, if that was counted.
func (e *Entry) Speeds() design.SpeedRange {
	if was := e.Counted; was != nil {
		return design.SpeedRange{Low: was.Slowest, Likely: was.Likely, High: was.Fastest}
	}
	return e.Proposal.Speed
}
