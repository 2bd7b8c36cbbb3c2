package layout

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

// sampled is a thing in a lane as a cloud of points along its outline, with how
// far apart the points may lie, and how thick it is about them.
type sampled struct {
	points []Point
	margin mm
	inside func(Point) bool // the part that is filled
}

const samples = 240

func ring(c Point, r mm) []Point {
	var out []Point
	for k := range samples {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / samples)
		out = append(out, Point{c.X + r*mm(cos), c.Y + r*mm(sin)})
	}
	return out
}

func disc(c Point, r mm) sampled {
	return sampled{ring(c, r), 0, func(p Point) bool { return math.Hypot(float64(p.X-c.X), float64(p.Y-c.Y)) < float64(r) }}
}

// loop samples a run. Its strands are found in another way than in the program:
// of all lines that touch the first circle from the right side, that which
// touches the second too is found by halving the angle.
func loop(r Run, from, to Point) sampled {
	out := sampled{points: append(ring(from, r.FromPitch), ring(to, r.ToPitch)...), margin: r.HalfBand,
		inside: func(p Point) bool {
			return disc(from, r.FromPitch).inside(p) || disc(to, r.ToPitch).inside(p)
		}}
	along := math.Atan2(float64(to.Y-from.Y), float64(to.X-from.X))
	c := math.Hypot(float64(to.X-from.X), float64(to.Y-from.Y))
	want := float64(r.ToPitch)
	if r.Crossed {
		want = -want
	}
	for _, side := range []float64{1, -1} {
		lo, hi := 0.0, math.Pi // between the centre line and the normal
		for range 80 {
			// How far the second centre is inside the line: falls as the normal
			// turns towards the centre line.
			if mid := (lo + hi) / 2; float64(r.FromPitch)-c*math.Cos(mid) > want {
				hi = mid
			} else {
				lo = mid
			}
		}
		sin, cos := math.Sincos(along + side*lo)
		a := Point{from.X + r.FromPitch*mm(cos), from.Y + r.FromPitch*mm(sin)}
		b := Point{to.X + mm(want*cos), to.Y + mm(want*sin)}
		for k := range samples + 1 {
			t := mm(k) / samples
			out.points = append(out.points, Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
		}
	}
	return out
}

func body(c Point, b Box) sampled {
	var out sampled
	for k := range samples + 1 {
		t := 2*mm(k)/samples - 1
		for _, s := range []mm{1, -1} {
			out.points = append(out.points, Point{c.X + t*b.HalfWidth, c.Y + s*b.HalfHeight}, Point{c.X + s*b.HalfWidth, c.Y + t*b.HalfHeight})
		}
	}
	out.inside = func(p Point) bool {
		return math.Abs(float64(p.X-c.X)) < float64(b.HalfWidth) && math.Abs(float64(p.Y-c.Y)) < float64(b.HalfHeight)
	}
	return out
}

// between is the measured space between two sampled things.
func between(a, b sampled) mm {
	least := math.Inf(1)
	for _, p := range a.points {
		if b.inside(p) {
			return 0
		}
		for _, q := range b.points {
			dx, dy := float64(p.X-q.X), float64(p.Y-q.Y)
			least = min(least, dx*dx+dy*dy)
		}
	}
	for _, q := range b.points {
		if a.inside(q) {
			return 0
		}
	}
	return mm(math.Sqrt(least)) - a.margin - b.margin
}

// TestCheckAgainstSampledOutlines: in one lane with no slack, the broken rules
// about things apart are those of which the sampled outlines come nearer than
// the clearance, save for what is too near the limit to measure so.
func TestCheckAgainstSampledOutlines(t *testing.T) {
	broken, kept := map[string]int{}, map[string]int{}
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 8))
		f := func(lo, hi float64) mm { return mm(lo + (hi-lo)*r.Float64()) }
		p := Problem{Outline: Rect{-1000, -1000, 1000, 1000}, Grid: Grid{Pitch: 1e-9}, Clearance: f(0, 3)}
		var at []Point
		for i := range 5 {
			s := Shaft{Radius: f(1, 4), Zone: p.Outline, Lanes: []int{0}}
			if i == 4 {
				s.Lanes = nil // only the motor's body is in the lane
			} else if i < 3 {
				s.Discs = []Disc{{f(4, 12), 0}}
			}
			p.Shafts = append(p.Shafts, s)
			at = append(at, Point{f(0, 90), f(0, 90)})
		}
		p.Runs = []Run{
			{0, 1, f(2, 11), f(2, 11), seed%2 == 0, 0, f(0.2, 1)},
			{2, 3, f(2, 11), f(2, 11), seed%3 == 0, 0, f(0.2, 1)},
		}
		p.Bodies = []Box{{4, f(3, 12), f(3, 12), []int{0}}}
		if distance(at[0], at[1]) <= p.Runs[0].leastCentre() || distance(at[2], at[3]) <= p.Runs[1].leastCentre() {
			require.NotEmpty(t, Check(p, at))
			continue
		}
		short := map[[3]any]bool{}
		for _, v := range Check(p, at) {
			short[[3]any{v.Rule, v.Shafts[0], v.Shafts[1]}] = true
		}
		expect := func(rule string, i, j int, space mm) {
			if math.Abs(float64(space-p.Clearance)) < 0.15 {
				return // the samples are up to half a millimetre apart
			}
			is := short[[3]any{rule, i, j}]
			assert.Equal(t, space < p.Clearance, is, "seed %d: %s, shafts %d and %d: %.3f for %.3f", seed, rule, i, j, float64(space), float64(p.Clearance))
			if is {
				broken[rule]++
			} else {
				kept[rule]++
			}
		}
		size := func(i int) mm {
			out := p.Shafts[i].Radius
			for _, d := range p.Shafts[i].Discs {
				out = max(out, d.Radius)
			}
			return out
		}
		motor := body(at[4], p.Bodies[0])
		var loops []sampled
		for _, r := range p.Runs {
			loops = append(loops, loop(r, at[r.From], at[r.To]))
		}
		for i := range 4 {
			for j := range i {
				expect(RuleApart, i, j, between(disc(at[i], size(i)), disc(at[j], size(j))))
			}
			expect(RuleBody, i, 4, between(disc(at[i], size(i)), motor))
			other := 1 - i/2 // the run that is not its own
			expect(RuleBandShaft, p.Runs[other].From, i, between(loops[other], disc(at[i], size(i))))
		}
		for k, r := range p.Runs {
			expect(RuleBandBody, r.From, 4, between(loops[k], motor))
		}
		expect(RuleBandBand, 2, 0, between(loops[0], loops[1]))
	}
	for _, rule := range []string{RuleApart, RuleBody, RuleBandShaft, RuleBandBody, RuleBandBand} {
		require.Greater(t, broken[rule], 3, rule)
		require.Greater(t, kept[rule], 3, rule)
	}
}

// TestCheckMeasures has each rule broken by a known amount.
func TestCheckMeasures(t *testing.T) {
	ground := mm(0)
	stands := Problem{
		Outline: Rect{0, -5, 100, 50}, Overhang: 2, Ground: &ground, Grid: Grid{Pitch: 5}, Clearance: 1, Slack: 0.5,
		Shafts: []Shaft{
			{Radius: 1, Zone: Rect{0, 0, 100, 50}, Discs: []Disc{{5, 0}}, Lanes: []int{0}},
			{Radius: 2, Zone: Rect{0, 0, 100, 50}, Discs: []Disc{{10, 0}}, Lanes: []int{0, 1}},
		},
		Runs:   []Run{{0, 1, 4, 9, false, 0, 0.5}},
		Bodies: []Box{{0, 6, 7, []int{1}}},
		Gaps:   []Gap{{0, 1, 20, 60, 0}},
		Rises:  []Rise{{1, 0, -10, 10}},
	}
	at := []Point{{20, 20}, {70, 20}}
	require.Empty(t, Check(stands, at))
	tests := []struct {
		name  string
		spoil func(*Problem, []Point)
		rule  string
		short mm
	}{
		{"off the columns", func(p *Problem, at []Point) { at[0].X = 21 }, RuleGrid, 1},
		{"off the rails", func(p *Problem, at []Point) { p.Grid.Heights = []mm{18, 23} }, RuleGrid, 2},
		{"outside the zone; slack does not count", func(p *Problem, at []Point) { p.Shafts[1].Zone.Y1 = 19 }, RuleZone, 1},
		{"over the edge: 70 + 10 + 0.5 of 78 + 2", func(p *Problem, at []Point) { p.Outline.X1 = 78 }, RuleOutline, 0.5},
		{"near the ground: 20 - 10 - 1 - 0.5", func(p *Problem, at []Point) { *p.Ground = 9 }, RuleGround, 0.5},
		{"body over the edge: 20 - 6 - 0.5", func(p *Problem, at []Point) { p.Outline.X0 = 14 }, RuleBodyFrame, 0.5},
		{"discs: 30 + 10 + 1 + 1 for 40", func(p *Problem, at []Point) { p.Shafts[0].Discs[0].Radius = 39 }, RuleApart, 1},
		{"window below: 50 + 1", func(p *Problem, at []Point) { p.Gaps[0].Min = 50 }, RuleGapMin, 1},
		{"window above: 50 - 1", func(p *Problem, at []Point) { p.Gaps[0].Max = 50 }, RuleGapMax, 1},
		{"not above; slack does not count", func(p *Problem, at []Point) { p.Rises[0].Min = 3 }, RuleRise, 3},
		{"body and axle: 50 - 6 - 2 - 1 - 1", func(p *Problem, at []Point) { p.Bodies[0].HalfWidth = 47 }, RuleBody, 1},
		{"crossed band", func(p *Problem, at []Point) { p.Runs[0].Crossed, p.Runs[0].ToPitch = true, 46 }, RuleBandRuns, 1},
		{"a hole missing", func(p *Problem, at []Point) { p.Shafts = p.Shafts[:1] }, RuleHolesGiven, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p, moved := stands, []Point{at[0], at[1]}
			level := ground
			p.Ground = &level
			p.Shafts = []Shaft{stands.Shafts[0], stands.Shafts[1]}
			p.Shafts[0].Discs = []Disc{stands.Shafts[0].Discs[0]}
			p.Runs, p.Bodies = []Run{stands.Runs[0]}, []Box{stands.Bodies[0]}
			p.Gaps, p.Rises = []Gap{stands.Gaps[0]}, []Rise{stands.Rises[0]}
			test.spoil(&p, moved)
			for _, v := range Check(p, moved) {
				if v.Rule == test.rule {
					assert.InDelta(t, float64(test.short), float64(v.Short), 1e-9)
					assert.Contains(t, v.String(), test.rule)
					return
				}
			}
			t.Fatalf("not found among %v", Check(p, moved))
		})
	}
}

// drilled are the rules about holes as drilled, not as drawn.
func drilled(broken []Violation) []Violation {
	var out []Violation
	for _, v := range broken {
		if v.Rule != RuleGrid && v.Rule != RuleZone && v.Rule != RuleRise && v.Rule != RuleTurn && v.Rule != RuleSteep {
			out = append(out, v)
		}
	}
	return out
}

// forgiveness is the largest Slack, in whole tenths of a millimetre up to limit, at which a
// placement passes Check; 0 if there is none.
func forgiveness(p Problem, at []Point, limit mm) mm {
	steps := int(math.Floor(float64(limit/0.1 + noise)))
	p.Slack = mm(steps) * 0.1
	for ; steps > 0 && len(Check(p, at)) > 0; p.Slack = mm(steps) * 0.1 {
		steps--
	}
	return p.Slack
}

// TestForgivenessHolds: with holes off by no more than the forgiveness, each in
// any direction, every rule about the drilled frame still holds.
func TestForgivenessHolds(t *testing.T) {
	forgiving := 0
	rapid.Check(t, func(t *rapid.T) {
		p := invent(rapid.Uint64Range(0, 100_000).Draw(t, "problem"))
		p.Slack = 0
		at, got := Place(p, 100_000)
		if got != Placed {
			t.Skip("no placement")
		}
		forgives := forgiveness(p, at, 5)
		if forgives > 0 {
			forgiving++
		}
		for p.Slack = 0; p.Slack < forgives; p.Slack += 0.5 { // no rule is easier with more
			require.Empty(t, Check(p, at), "forgives %v, but not %v", forgives, p.Slack)
		}
		p.Slack = 0
		seed := rapid.Uint64().Draw(t, "holes")
		r := rand.New(rand.NewPCG(seed, 1))
		off := make([]Point, len(at))
		for range 200 {
			for i := range at {
				size := forgives
				if r.IntN(3) == 0 {
					size *= mm(r.Float64())
				}
				sin, cos := math.Sincos(2 * math.Pi * r.Float64())
				off[i] = Point{at[i].X + size*mm(cos), at[i].Y + size*mm(sin)}
			}
			if broken := drilled(Check(p, off)); len(broken) > 0 {
				t.Fatalf("forgives %v, but at %v: %v", forgives, off, broken)
			}
		}
	})
	require.Greater(t, forgiving, 5)
}

func TestForgiveness(t *testing.T) {
	p := Problem{Outline: Rect{0, 0, 100, 100}, Grid: Grid{Pitch: 10}, Clearance: 2}
	for range 2 {
		p.Shafts = append(p.Shafts, Shaft{Zone: p.Outline, Discs: []Disc{{10, 0}}})
	}
	tests := []struct {
		name  string
		at    []Point
		limit units.Millimetres
		want  units.Millimetres
	}{
		{"half of what is left between the discs: 30 - 22", []Point{{30, 50}, {60, 50}}, 10, 4},
		{"all of what is left at the edge: 30 - 10", []Point{{30, 50}, {80, 50}}, 20, 10},
		{"up to the limit", []Point{{30, 50}, {80, 50}}, 2.5, 2.5},
		{"no limit, nothing", []Point{{30, 50}, {80, 50}}, 0, 0},
		{"nothing if it does not stand", []Point{{30, 50}, {40, 50}}, 10, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			assert.InDelta(t, float64(test.want), float64(forgiveness(p, test.at, test.limit)), 1e-9)
		})
	}
}
