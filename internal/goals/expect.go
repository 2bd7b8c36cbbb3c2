package goals

import (
	"math"

	"findrive/internal/design"
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

// How many standard deviations a range reaches either way: those of this program, and that
// of nine classrooms in ten.
const rangeEnds, roomsEnds = 2, 1.645

// expect is by how much a drive should be off on average, in seconds or turns: what the club
// will see, against which a drive that is likely to be near, but little is known of, may lose
// to one that is further off and surer. The logarithm of the time is taken as normal on
// either side of the likely one, the range as so
// many standard deviations as it stands for. 0 for goals that are
// not to be hit; below 0 if it may not get away at all.
func expect(c *Challenge, e *Entry) float64 {
	var low, likely, high, aim float64
	ends := float64(rangeEnds)
	switch {
	case c.Kind == ExactTime && e.Score.Run != nil:
		r := e.Score.Run
		if r.Late == 0 {
			return -1
		}
		low, likely, high, aim = float64(r.Early), float64(r.Likely), float64(r.Late), float64(c.Time)
	case c.Kind == Turns:
		n := e.Speeds()
		minutes := float64(c.Time) / 60
		if n.Low <= 0 {
			return -1
		}
		if e.Counted == nil {
			ends = roomsEnds
		}
		low, likely, high, aim = float64(n.Low)*minutes, float64(n.Likely)*minutes, float64(n.High)*minutes, c.Turns
	default:
		return 0
	}
	const points = 400
	sum := 0.0
	for i := range points {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/points-1)
		side := math.Log(high / likely)
		if z < 0 {
			side = math.Log(likely / low)
		}
		sum += math.Abs(likely*math.Exp(z*side/ends) - aim)
	}
	return sum / points
}

// Speeds is the range of the output's speed: of the very model, if that was counted.
func (e *Entry) Speeds() design.SpeedRange {
	if was := e.Counted; was != nil {
		return design.SpeedRange{Low: was.Slowest, Likely: was.Likely, High: was.Fastest}
	}
	return e.Proposal.Speed
}
