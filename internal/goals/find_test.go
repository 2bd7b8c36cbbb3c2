package goals

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// small is a cupboard of a few parts, and a challenge in a frame with room for all
// of it, for drives of one stage.
func small(t *testing.T, seed uint64, kind Kind) (*parts.Cupboard, *Challenge) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 5))
	var cup strings.Builder
	cup.WriteString("schema = 1\n")
	pulley := func(name string, floor, bore float64) {
		fmt.Fprintf(&cup, "[pulley.%s]\noutside = \"%.1f mm\"\ngroove_floor = \"%.1f mm\"\ngroove_width = \"3.5 mm\"\nwidth = \"6 mm\"\nbore = \"%.1f mm\"\nmaterial = \"plastic\"\ncount = 1\n", name, floor+4, floor, bore)
	}
	for i := range 2 {
		pulley(fmt.Sprintf("m%d", i), 5+2*float64(i)+2*r.Float64(), 2)
	}
	for i := range 3 {
		pulley(fmt.Sprintf("a%d", i), 10+9*float64(i)+6*r.Float64(), 4.9)
	}
	for i := range 2 {
		fmt.Fprintf(&cup, "[band.b%d]\nflat_length = \"%.0f mm\"\nwidth = \"1.5 mm\"\nthickness = \"0.9 mm\"\ncount = 2\n", i, 60+15*float64(i)+8*r.Float64())
	}
	fmt.Fprintf(&cup, "[motor.m]\nrated = \"3 V\"\nfree_speed = \"%.0f rpm\"\nfree_current = \"90 mA\"\nstall_torque = \"%.1f mN.m\"\nshaft_diameter = \"2 mm\"\nshaft_length = \"8 mm\"\nbody_length = \"25 mm\"\nbody_width = \"20 mm\"\nbody_height = \"15 mm\"\ncount = 1\n", 4000+2000*r.Float64(), 2+r.Float64())
	for n := 1; n <= 2; n++ {
		fmt.Fprintf(&cup, "[cells.c%d]\ncells = %d\nchemistry = \"zinc-carbon\"\nresistance = \"0.4 ohm\"\ncount = 1\n", n, n)
	}
	cup.WriteString("[axle.d]\ndiameter = \"5 mm\"\nlength = \"300 mm\"\ncount = 4\n[wheel.w]\ndiameter = \"60 mm\"\nwidth = \"8 mm\"\nbore = \"4.9 mm\"\ncount = 4\n[drum.s]\ndiameter = \"12 mm\"\nwidth = \"20 mm\"\nbore = \"4.9 mm\"\ncount = 1\n")
	c, err := parts.Read("cupboard.toml", []byte(cup.String()))
	require.NoError(t, err)

	model, load, goal, speed := "vehicle", `mass = "120 g"`, "", ""
	switch kind {
	case Heaviest:
		model, load = "lift", `mass = "10 g"`
	case Turns:
		model, load, goal = "ride on an upright axle", `mass = "100 g"`, "turns = 300"
	case ExactTime:
		goal = "distance = \"10 m\"\ntime = \"10 s\""
	case Forgiving:
		model, load, speed = "ride on an upright axle", `mass = "100 g"`, `speed = "300 rpm"`
	}
	text := fmt.Sprintf("schema = 1\nname = \"Small\"\nmodel = %q\n%s\nmax_stages = 1\n[challenge]\ngoal = %q\n%s\n[load]\n%s\n[frame]\nlength = \"300 mm\"\nheight = \"200 mm\"\ndepth = \"100 mm\"\nsheet = \"4 mm\"\n[limits]\nhole_error = \"0.25 mm\"\n[challenge.rules]\nholes = \"0 mm\"\n", model, speed, kind, goal, load)
	challenge, err := Read("brief.toml", []byte(text), c)
	require.NoError(t, err)
	return c, challenge
}

// everyDrive tries every design of one stage: at every mark of its band's ruler, for the
// hole error of the challenge and for none, with every way that the load may lie. It
// knows the rules one by one and nothing of bounds, windows, penalties or halving. The
// axles are drawn side by side, where no load is in line with a band; the frame has room
// for all of them.
func everyDrive(cup *parts.Cupboard, c *Challenge, try func(*drive.Drive)) {
	lies := []drive.Lie{drive.Across, drive.Folded}
	if c.Brief.Model == brief.UprightRide { // nothing presses on its axle
		lies = lies[:1]
	}
	for h := range cup.Holders {
		for a := range cup.Pulleys {
			for b := range cup.Pulleys {
				if cup.Pulleys[a].Bore > 3 || cup.Pulleys[b].Bore < 3 {
					continue
				}
				for band := range cup.Bands {
					for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
						for _, crossed := range []bool{false, true} {
							stage := drive.Stage{Driver: &cup.Pulleys[a], Driven: &cup.Pulleys[b], Band: &cup.Bands[band], Use: use, Crossed: crossed}
							for _, at := range everyMark(&stage, c) {
								for _, lie := range lies {
									d := &drive.Drive{Motor: &cup.Motors[0], Holder: &cup.Holders[h], MotorTurns: -1,
										Stages: []drive.Stage{stage}, Axles: []*parts.AxleStock{&cup.Axles[0]},
										Positions: []layout.Point{{X: 70, Y: 100}, {X: 70 + at, Y: 100}},
										Spacings:  []units.Millimetres{at}, Lies: []drive.Lie{lie}}
									switch c.Brief.Model {
									case brief.Vehicle:
										d.Wheel = &cup.Wheels[0]
									case brief.Lift:
										d.Drum = &cup.Drums[0]
									}
									try(d)
								}
							}
						}
					}
				}
			}
		}
	}
}

// everyMark lists the spacings that a stage may be designed at.
func everyMark(s *drive.Stage, c *Challenge) []units.Millimetres {
	holds := func(at units.Millimetres) bool { return atRest(s, c.Brief.Limits, at) }
	inside := units.Millimetres(10)
	for ; !holds(inside); inside++ {
		if inside > 300 {
			return nil
		}
	}
	end := func(in, out units.Millimetres) units.Millimetres {
		for range 50 {
			if mid := (in + out) / 2; holds(mid) {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	beyond := inside
	for holds(beyond) {
		beyond++
	}
	least, most := end(inside, inside-1), end(beyond-1, beyond)
	errors := []units.Millimetres{c.Brief.Limits.HoleError, 0}
	if c.Kind == Forgiving {
		errors = nil
		for k := range holeMost + 1 {
			errors = append(errors, units.Millimetres(k)*holeStep)
		}
	}
	step := 4 * max(1, units.Millimetres(math.Round(float64(s.Loop().Rest)/20/4)))
	var out []units.Millimetres
	for _, e := range errors {
		lo, hi := least+2*e, most-2*e
		if lo > hi {
			continue
		}
		for k := math.Round(float64(lo / step)); k <= math.Round(float64(hi/step)); k++ {
			if at := max(lo, min(hi, step*units.Millimetres(k))); !slices.Contains(out, at) {
				out = append(out, at)
			}
		}
	}
	return out
}

// atRest holds a stage at a spacing to the rules about its band at rest.
func atRest(s *drive.Stage, l brief.Limits, at units.Millimetres) bool {
	if at < (s.Driver.Outside+s.Driven.Outside)/2+l.Clearance {
		return false
	}
	m := s.Mechanics(mechanics.BandGrip().Likely)
	f, err := m.Fit(at)
	if err != nil || constraints.FittedStretch(l, s.Band, f.Stretch) != nil || constraints.ArcOfContact(l, &f) != nil {
		return false
	}
	return !s.Crossed || constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre) == nil
}

// sound holds a design to the rules of a brief, and where a goal asks for it to those at
// rest with its holes as far off as the brief says either way.
func sound(d *drive.Drive, a asked) bool {
	b := a.brief
	s, l := &d.Stages[0], b.Limits
	if off := 2 * l.HoleError; a.mustForgive {
		const noise = 1e-6
		if !atRest(s, l, d.Spacings[0]-off+noise) || !atRest(s, l, d.Spacings[0]+off-noise) {
			return false
		}
	}
	m, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil || !atRest(s, l, d.Spacings[0]) {
		return false
	}
	g, err := drive.Designed(d, &m)
	if err != nil {
		return false
	}
	running, starting := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	if running.Slips >= 0 || starting.Slips >= 0 {
		return false
	}
	greatest, _ := m.Stages[0].Grip(g.Fits[0])
	stall, speed := m.Motor.StallTorque(m.Supply), m.OutputSpeed(&g, &running)
	tight := running.Stages[0].Loaded.TightStretch
	if m.Demand.Swing > 0 {
		tight = max(tight, starting.Stages[0].Loaded.TightStretch)
	}
	for _, no := range []*constraints.Refusal{
		constraints.BandInGroove(s.Driver, s.Band, s.Use), constraints.BandInGroove(s.Driven, s.Band, s.Use),
		constraints.BigEnoughGroove(l, s.Driver, s.Band), constraints.BigEnoughGroove(l, s.Driven, s.Band),
		constraints.RunningTight(l, s.Band, tight),
		constraints.GripRunning(l, s.Band, 0, constraints.GripMargin(greatest, running.Stages[0].Effective)),
		constraints.GripStarting(l, s.Band, 0, constraints.GripMargin(greatest, starting.Stages[0].Effective)),
		constraints.MotorStart(l, "m", stall, starting.MotorTorque), constraints.MotorRun(l, "m", stall, running.MotorTorque),
		constraints.SpeedKept(l, float64(speed)*g.Fits[0].Ratio/float64(m.Motor.FreeSpeed(m.Supply))),
		constraints.SpeedWithin(speed, m.Demand.Target, b.Tolerance),
	} {
		if no != nil {
			return false
		}
	}
	if d.Wheel != nil {
		t := drive.TractionOf(b, d.Wheel, m.Demand)
		if constraints.WheelTraction(t.Needed, t.Holds) != nil || constraints.ClearOfFloor(b, d.Wheel, s.Driven) != nil {
			return false
		}
	}
	return a.rule == nil || a.rule.works(d, &m, &g) == nil
}

// Every step's drives are among those of each worse step.
func TestStepsAreNested(t *testing.T) {
	for _, kind := range []Kind{Heaviest, Turns} {
		t.Run(string(kind), func(t *testing.T) {
			cup, c := small(t, 7, kind)
			g := goalOf(c)
			met := 0
			everyDrive(cup, c, func(d *drive.Drive) {
				was := false
				for step := 0; step <= g.last(); step += 1 + g.last()/40 {
					is := sound(d, g.asks(step))
					require.False(t, was && !is, "a drive meets a step and not a worse one")
					if was = is; is {
						met++
					}
				}
			})
			require.Positive(t, met)
		})
	}
}

// No run is faster than what is said of it in passing.
func TestNoRunIsFasterThanItsBound(t *testing.T) {
	cup, c := small(t, 3, Fastest)
	b := goalOf(c).asks(200).brief
	tried := 0
	everyDrive(cup, c, func(d *drive.Drive) {
		if sound(d, asked{brief: b}) {
			heldToBound(t, d, b, c.Distance)
			tried++
		}
	})
	require.Positive(t, tried)

	// And drives of two stages.
	c.Brief.MaxStages = 2
	b = goalOf(c).asks(200).brief
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 20})
	require.NoError(t, err)
	tried = 0
	for i := range r.Proposals {
		if d := r.Proposals[i].Drive; len(d.Stages) == 2 {
			heldToBound(t, d, b, c.Distance)
			tried++
		}
	}
	require.Positive(t, tried)
}

// heldToBound holds a design's run to its bounds.
func heldToBound(t *testing.T, d *drive.Drive, b *brief.Brief, distance units.Millimetres) {
	m, err := drive.Prepare(d, b, drive.Conditions{})
	require.NoError(t, err)
	g, err := drive.Designed(d, &m)
	require.NoError(t, err)
	v := vehicleOf(b, d, &m)
	run, ok := mechanics.FromRest(pushOf(v, &m, &g), v.resistance(&m), distance)
	require.True(t, ok)
	lossless, ok := mechanics.FromRest(pushLossless(v, d, b), v.resistance(&m), distance)
	require.True(t, ok)
	require.LessOrEqual(t, float64(lossless.Time), float64(run.Time)*(1+runPad))

	steady, ok := mechanics.FromRest(pushQuick(v, &m, &g), v.resistance(&m), distance)
	require.True(t, ok)
	require.LessOrEqual(t, float64(steady.Time)*(1-runPad), float64(run.Time))

	// Partly chosen with all that its steady running tells, it is not ruled out; and
	// is, with less time than the motor alone would take.
	flow := m.Carry(&g, m.Demand.Steady)
	ratio := 1.0
	for i := range d.Stages {
		ratio *= g.Fits[i].Ratio
	}
	partly := &design.Partly{Motor: m.Motor, Supply: m.Supply, Demand: m.Demand, Wheel: d.Wheel, Torque: flow.MotorTorque,
		Ratio: units.Interval[float64]{Lo: ratio, Hi: ratio},
		Share: float64(m.OutputSpeed(&g, &flow)/m.Motor.SpeedAt(m.Supply, flow.MotorTorque)) * ratio}
	rule := runRule{brief: b, distance: distance, times: units.Interval[units.Seconds]{Hi: run.Time}}
	require.True(t, rule.reaches(partly))
	partly.Ratio = units.Interval[float64]{Lo: ratio / 20, Hi: 20 * ratio}
	require.True(t, rule.reaches(partly))
	rule.times.Hi = run.Time / 20
	require.False(t, rule.reaches(partly))
}

func TestStoppedEarlyIsSaid(t *testing.T) {
	cup, c := small(t, 1, Heaviest)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := Find(ctx, cup, c, Options{})
	require.NoError(t, err)
	require.Equal(t, design.StoppedEarly, r.Status)
	require.Zero(t, r.Proved)
}
