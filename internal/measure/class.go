package measure

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/built"
	"findrive/internal/units"
)

// Class is what the counts of all groups of a class teach, each of whom built the same
// drive.
type Class struct {
	Build  *built.Build
	Due    Value   // turns a minute of the output, foretold before any count
	Groups []Group // in the order in which they were given
	// Middle is the speed that lies in the middle of the groups', and Scatter by how much
	// models differ from it: one standard deviation of the logarithm, without those apart.
	Middle  units.RPM
	Scatter float64
	// Learned is what the middle teaches of the motors of this kind; its range is that of
	// one motor of the bag and not only of their mean. Nil if nothing was learned.
	Learned *Result
	// Enough is whether there are enough groups to tell which stands apart by the others,
	// and not by the forecast alone.
	Enough bool
}

// Group is one group of a class.
type Group struct {
	Name   string
	Counts []Reading
	Turns  units.RPM // turns a minute of the output, of all counts together
	Sigma  float64   // how well they were counted: standard deviation of the logarithm
	// Apart is how many standard deviations it is off the others, if that is more than
	// chance explains; below 0 it is slower, and 0 it is not apart.
	Apart float64
	// Doubt is what its counts contradict each other in; empty if they do not.
	Doubt string
	// Found is what may be wrong with its model; nil if it is not apart.
	Found *built.Diagnosis
}

const (
	fewGroups = 4
	// leastScatter is what models that are alike differ by at least, as a standard
	// deviation: motors of one bag (judgement: a quarter of the maker's tolerance).
	leastScatter = 0.05
	// standsApart is how many standard deviations stand apart: one honest model in about a
	// hundred does.
	standsApart = 2.6
	// fromMAD makes the median of the distances from the median a standard deviation, for a
	// normal law (Rousseeuw and Croux, J. Am. Stat. Assoc. 88, 1993).
	fromMAD = 1.4826
)

// LearnClass compares the groups of a class. The context ends the search for faults early.
// The error is for the user.
func LearnClass(ctx context.Context, b *built.Build, counts []GroupCount) (*Class, error) {
	c := &Class{Build: b}
	e, err := newEstimate(b, nil)
	if err != nil {
		return nil, err
	}
	c.Due = e.output()
	if c.Groups, err = groupsOf(b, counts); err != nil {
		return nil, err
	}
	if len(c.Groups) == 0 {
		return c, nil
	}
	c.Enough = len(c.Groups) >= fewGroups
	c.compare()
	if err := c.learn(); err != nil {
		return nil, err
	}
	return c, c.find(ctx)
}

// groupsOf are the groups, each with its counts taken together by how well they were
// counted.
func groupsOf(b *built.Build, counts []GroupCount) ([]Group, error) {
	var out []Group
	for i := range counts {
		k := slices.IndexFunc(out, func(g Group) bool { return g.Name == counts[i].Group })
		if k < 0 {
			k = len(out)
			out = append(out, Group{Name: counts[i].Group})
		}
		out[k].Counts = append(out[k].Counts, counts[i].Reading)
	}
	for k := range out {
		g := &out[k]
		sum, weights := 0.0, 0.0
		var values, sigmas []float64
		for i := range g.Counts {
			v, sigma, err := g.Counts[i].value(b)
			if err != nil {
				return nil, err
			}
			values, sigmas = append(values, v), append(sigmas, sigma)
			sum, weights = sum+v/(sigma*sigma), weights+1/(sigma*sigma)
		}
		g.Turns, g.Sigma = units.RPM(math.Exp(sum/weights)), 1/math.Sqrt(weights)
		for i, v := range values {
			if math.Abs(v-sum/weights) > odd*math.Hypot(sigmas[i], g.Sigma) {
				g.Doubt = "its counts differ by more than counting explains: count once more"
			}
		}
	}
	return out, nil
}

// compare finds the middle, the scatter and who stands apart.
func (c *Class) compare() {
	var logs []float64
	for i := range c.Groups {
		logs = append(logs, math.Log(float64(c.Groups[i].Turns)))
	}
	middle := median(logs)
	var off []float64
	for _, v := range logs {
		off = append(off, math.Abs(v-middle))
	}
	scatter := leastScatter
	if c.Enough {
		scatter = max(leastScatter, fromMAD*median(off))
	} else if c.Due.Likely > 0 {
		// Too few to tell by each other: by what was foretold.
		middle, scatter = math.Log(c.Due.Likely), max(leastScatter, c.Due.Share/perRange)
	}
	c.Middle = units.RPM(math.Exp(middle))
	var near []float64
	for i := range c.Groups {
		g := &c.Groups[i]
		if off := (logs[i] - middle) / math.Hypot(scatter, g.Sigma); math.Abs(off) > standsApart {
			g.Apart = off
		} else {
			near = append(near, logs[i])
		}
	}
	c.Scatter = scatter
	if c.Enough && len(near) > 1 {
		mean, sum := average(near), 0.0
		for _, v := range near {
			sum += (v - mean) * (v - mean)
		}
		c.Scatter = max(0.01, math.Sqrt(sum/float64(len(near)-1)))
		c.Middle = units.RPM(math.Exp(median(near)))
	}
}

func median(list []float64) float64 {
	s := slices.Sorted(slices.Values(list))
	if n := len(s); n%2 == 0 {
		return (s[n/2-1] + s[n/2]) / 2
	}
	return s[len(s)/2]
}

func average(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}

// learn takes the middle of those that do not stand apart as one count, as good as it is.
func (c *Class) learn() error {
	var logs []float64
	counting := 0.0
	for i := range c.Groups {
		if g := &c.Groups[i]; g.Apart == 0 {
			logs = append(logs, math.Log(float64(g.Turns)))
			counting += g.Sigma * g.Sigma
		}
	}
	if len(logs) == 0 {
		return nil
	}
	n := float64(len(logs))
	mean := Reading{Kind: Turns, Words: "the class", Count: math.Exp(average(logs)), Time: 60, Spread: math.Hypot(c.Scatter, leastScatter/2) / math.Sqrt(n)}
	r, err := Learn(c.Build, []Reading{mean})
	if err != nil {
		return err
	}
	// What is known is the mean of the bag; the next motor out of it differs from that. A
	// scatter out of few models is itself known roughly: Student's factor for nineteen in
	// twenty over two, to within a hundredth from five models on.
	student := 1 + 1.25/max(n-1, 1)
	r.Motor.After.Share = math.Hypot(r.Motor.After.Share, perRange*student*c.ofMotors(counting/n))
	r.Output.After.Share = math.Hypot(r.Output.After.Share, perRange*student*c.Scatter)
	r.ofClass, r.Longer = true, false
	c.Learned = r
	return nil
}

// ofMotors is how much of the scatter may be the motors': without what counting adds, given
// as its variance, and by how much the output's speed follows the motor's.
func (c *Class) ofMotors(counting float64) float64 {
	e, err := newEstimate(c.Build, nil)
	if err != nil {
		return c.Scatter
	}
	_, slope, ok := e.foretell(&seen{of: ofSpeed})
	if !ok || slope[0] < 1 {
		slope = []float64{1}
	}
	return math.Sqrt(max(c.Scatter*c.Scatter-counting, 0)) / slope[0]
}

// find looks for what is wrong with the models that stand apart, against a drive that does
// as the middle of the class does.
func (c *Class) find(ctx context.Context) error {
	usual := c.usual()
	for i := range c.Groups {
		g := &c.Groups[i]
		if g.Apart == 0 {
			continue
		}
		sign := built.TooFast
		if g.Apart < 0 {
			sign = built.Odd
		}
		count := built.Count{Words: g.Name, Turns: g.Turns, Timed: g.Counts[0].Kind == Travel, Sigma: math.Hypot(g.Sigma, c.Scatter)}
		d, err := built.Diagnose(ctx, usual, []built.Hearing{built.Exactly(sign)}, []built.Count{count})
		if err != nil {
			return err
		}
		g.Found = d
	}
	return nil
}

// usual is the drive with a motor so fast that it does as the middle of the class.
func (c *Class) usual() *built.Build {
	out := c.Build
	if !c.Enough {
		return out
	}
	for range 6 {
		w, err := built.Work(out)
		if err != nil || !(w.Speed.Likely > 0) {
			return out
		}
		times := c.Middle / w.Speed.Likely
		if math.Abs(math.Log(float64(times))) < 1e-4 {
			break
		}
		out = out.Faster(float64(times))
	}
	return out
}

// Scale is in what the speeds of a class are told: as travel where every group timed a way.
func (c *Class) Scale() (unit string, perRPM float64) {
	travel := len(c.Groups) > 0
	for i := range c.Groups {
		for k := range c.Groups[i].Counts {
			travel = travel && c.Groups[i].Counts[k].Kind == Travel
		}
	}
	if unit, perRPM = Scale(c.Build, travel); unit == "m a second" {
		return "cm a second", 100 * perRPM // whole numbers, for pupils
	}
	return unit, perRPM
}

// Slowest are the groups from the slowest to the fastest.
func (c *Class) Slowest() []*Group {
	var out []*Group
	for i := range c.Groups {
		out = append(out, &c.Groups[i])
	}
	slices.SortStableFunc(out, func(a, b *Group) int { return cmp.Compare(a.Turns, b.Turns) })
	return out
}
