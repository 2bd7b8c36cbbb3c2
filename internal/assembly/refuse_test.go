package assembly_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
)

func example(t testing.TB, name string) *Build {
	t.Helper()
	c := examples(t)[name+".json"]
	require.NotNil(t, c)
	b, err := Of(&c.Brief, &c.Proposals[0])
	require.NoError(t, err)
	return b
}

// altered is a build of an example whose certificate has been changed first.
func altered(t testing.TB, name string, change func(*certificate.Brief, *certificate.Proposal)) *Build {
	t.Helper()
	c := examples(t)[name+".json"]
	change(&c.Brief, &c.Proposals[0])
	b, err := Of(&c.Brief, &c.Proposals[0])
	require.NoError(t, err)
	return b
}

// frameUp is a frame that stands, dry.
var frameUp = []Action{{Verb: Saw}, {Verb: MakeSides}, {Verb: Dry}, {Verb: Clamp}, {Verb: Drill}, {Verb: Unclamp}, {Verb: Join}, {Verb: Dry}}

// fails does all actions but the last, and says why the last cannot be done.
func fails(t *testing.T, b *Build, why string, actions ...Action) {
	t.Helper()
	s := Start(b)
	for i, a := range actions {
		err := s.Do(a)
		if i < len(actions)-1 {
			require.NoError(t, err, "%v", a)
			continue
		}
		require.ErrorContains(t, err, why)
	}
}

func TestWhatCannotBeDone(t *testing.T) {
	b := example(t, "big-wheel")
	after := func(more ...Action) []Action { return append(slices.Clone(frameUp), more...) }
	// axle puts axle i in bare, without its bands.
	axle := func(i int) []Action {
		out := []Action{{Verb: Enter, Shaft: i}}
		for _, k := range b.Shafts[i].Along {
			out = append(out, Action{Verb: Thread, Shaft: i, Part: k})
		}
		return append(out, Action{Verb: Through, Shaft: i})
	}
	loop := b.Bands[1].Loops[0]
	hang := func(shaft int) Action { return Action{Verb: Hang, Shaft: shaft, Part: loop, Turns: 1} }

	// As sheets used to say it: both axles in, and then the band put on.
	fails(t, b, "held at both ends", append(after(append(axle(2), axle(1)...)...), hang(2))...)
	// The sides joined and then drilled together.
	fails(t, b, "once joined they cannot be drilled", Action{Verb: Saw}, Action{Verb: MakeSides}, Action{Verb: Join})
	fails(t, b, "clamped together", append(after(), Action{Verb: Drill})...)
	// An axle with something on it does not go through the hole, nor twice.
	fails(t, b, "not on the table", after(Action{Verb: Enter, Shaft: 1}, Action{Verb: Enter, Shaft: 1})...)
	fails(t, b, "joined", Action{Verb: Saw}, Action{Verb: MakeSides}, Action{Verb: Enter, Shaft: 1})
	// Nothing before the frame is dry.
	fails(t, b, "wet", append(slices.Clone(frameUp[:7]), Action{Verb: Enter, Shaft: 1})...)
	// A band over the motor's shaft before there is a motor; a motor before its mount.
	fails(t, b, "not fixed", after(Action{Verb: Hang, Shaft: 0, Part: b.Bands[0].Loops[0], Turns: 1})...)
	fails(t, b, "motor mount", after(Action{Verb: Attach, Part: b.Motor})...)
	// Wires before the motor.
	fails(t, b, "must be in its place first", after(Action{Verb: Attach, Part: b.Electric[0]})...)
	// Onto a rod that is not in the frame; a part twice; a ride on the table's axle.
	pulley := b.Bands[1].Driven
	fails(t, b, "not in the frame yet", after(Action{Verb: Thread, Shaft: 2, Part: pulley})...)
	fails(t, b, "not on the table", after(Action{Verb: Enter, Shaft: 2}, Action{Verb: Thread, Shaft: 2, Part: pulley}, Action{Verb: Thread, Shaft: 2, Part: pulley})...)
	fails(t, b, "not in both sides", after(Action{Verb: Enter, Shaft: 2}, Action{Verb: Cap, Shaft: 2, Part: pulley})...)
	// A band round one shaft alone cannot be lifted on; nor one behind another part.
	fails(t, b, "not round axle 1", append(after(Action{Verb: Enter, Shaft: 2}, hang(2), Action{Verb: Thread, Shaft: 2, Part: pulley}, Action{Verb: Through, Shaft: 2}), Action{Verb: Seat, Part: loop})...)
	// Off a shaft that is held: neither a band nor a part.
	fails(t, b, "held at both ends", append(after(axle(2)...), Action{Verb: Unthread, Shaft: 2, Part: b.Shafts[2].Along[len(b.Shafts[2].Along)-1]})...)
	fails(t, b, "no such part", Action{Verb: Thread, Part: 9999})
	fails(t, b, "nobody knows", Action{Verb: "sing"})
}

// Every action of a plan is needed, and most cannot wait: left out, the model is not
// finished or a later step cannot be done.
func TestEveryActionIsNeeded(t *testing.T) {
	for _, name := range []string{"big-wheel", "buggy", "crane", "three-stages"} {
		b := example(t, name)
		p, err := PlanOf(b)
		require.NoError(t, err)
		for i := range p.Steps {
			for k := range p.Steps[i].Actions {
				steps := slices.Clone(p.Steps)
				steps[i].Actions = slices.Delete(slices.Clone(steps[i].Actions), k, k+1)
				s, err := Carry(b, steps)
				if err == nil {
					err = s.Finished()
				}
				if verb := p.Steps[i].Actions[k].Verb; verb == Dry && p.Steps[i].Kind == SidesStep {
					continue // it dries with the rest if nothing is done before
				}
				assert.Error(t, err, "%s, step %d without: %v", name, i+1, p.Steps[i].Actions[k])
			}
		}
	}
}

// Steps in another order are refused wherever an axle would have to be open again.
func TestStepsSwappedAreRefused(t *testing.T) {
	b := example(t, "three-stages")
	p, err := PlanOf(b)
	require.NoError(t, err)
	at := func(kind StepKind) int {
		return slices.IndexFunc(p.Steps, func(s Step) bool { return s.Kind == kind })
	}
	for _, swap := range [][2]int{{at(DrillStep), at(JoinStep)}, {at(AxleStep), at(BandStep)}, {at(MotorStep), at(BandStep) + 2}, {at(JoinStep), at(AxleStep)}, {at(SawStep), at(SidesStep)}} {
		steps := slices.Clone(p.Steps)
		steps[swap[0]], steps[swap[1]] = steps[swap[1]], steps[swap[0]]
		_, err := Carry(b, steps)
		assert.Error(t, err, "%v", swap)
	}
}

// A crossed band must be crossed when it goes over its second shaft, a doubled one
// wound twice over both; neither can be mended later.
func TestCrossedAndDoubled(t *testing.T) {
	b := altered(t, "big-wheel", func(_ *certificate.Brief, p *certificate.Proposal) {
		p.Stages[0].Crossed, p.Stages[1].Use = true, "looped twice"
	})
	p, err := PlanOf(b)
	require.NoError(t, err)
	for _, change := range []struct {
		why string
		do  func(*Action)
	}{
		{"without crossing", func(a *Action) { a.Crossed = false }},
		{"times round the other shaft", func(a *Action) {
			if a.Turns == 2 && a.Shaft == 1 {
				a.Turns = 1
			}
		}},
		{"should be 2 times", func(a *Action) {
			if a.Turns == 2 {
				a.Turns = 1
			}
		}},
	} {
		steps := slices.Clone(p.Steps)
		for i := range steps {
			steps[i].Actions = slices.Clone(steps[i].Actions)
			for k := range steps[i].Actions {
				if a := &steps[i].Actions[k]; a.Verb == Hang {
					change.do(a)
				}
			}
		}
		_, err := Carry(b, steps)
		assert.ErrorContains(t, err, change.why)
	}
}

// Glue needs time: bands go onto a glued pulley when it is dry.
func TestGlueNeedsTime(t *testing.T) {
	b := altered(t, "big-wheel", func(_ *certificate.Brief, p *certificate.Proposal) {
		p.Stages[1].Driven.Joint.Kind = "drop of glue"
	})
	p, err := PlanOf(b)
	require.NoError(t, err)
	at := slices.IndexFunc(p.Steps, func(s Step) bool { return s.Kind == GlueStep })
	require.GreaterOrEqual(t, at, 0)
	steps := slices.Clone(p.Steps)
	steps[at].Actions = steps[at].Actions[:len(steps[at].Actions)-1]
	_, err = Carry(b, steps)
	assert.ErrorContains(t, err, "wet")
	assert.NotEmpty(t, p.Stays, "what is glued is said to stay")
}

// Tubes and washers with the pulleys fill an axle between the sides but for the play
// it turns with, and bring each groove to its lane.
func TestSpacersFillTheAxle(t *testing.T) {
	for seed := range uint64(2000) {
		brief, prop := assemblytest.Drive(seed)
		b, err := Of(brief, prop)
		require.NoError(t, err)
		for i := 1; i <= b.Stages; i++ {
			at := 0.0
			for _, k := range b.Shafts[i].Along {
				p := &b.Parts[k]
				if p.Kind == Pulley {
					assert.InDelta(t, float64(p.From), at, 2, "seed %d: %s", seed, p.Letter)
				}
				at += float64(p.Length)
			}
			assert.LessOrEqual(t, at, float64(b.Depth)+1e-6, "seed %d", seed)
			assert.Greater(t, at, float64(b.Depth)-5, "seed %d: axle %d rattles", seed, i)
		}
	}
}

// A vehicle's free axle is as high as the driven one, its wheels clear of the driven
// ones, and its rod clear of everything between the sides.
func TestFreeAxle(t *testing.T) {
	b := example(t, "buggy")
	require.Len(t, b.Shafts, 4)
	free, driven := b.Shafts[3], b.Shafts[2]
	assert.True(t, free.Free)
	assert.Equal(t, driven.At.Y, free.At.Y)
	assert.Greater(t, float64(free.At.X-driven.At.X), 52.0)
	wheels := 0
	for _, p := range b.Parts {
		if p.Kind == Wheel {
			wheels++
		}
	}
	assert.Equal(t, 4, wheels)
}

// The free axle is where the certificate has it, wherever else there is room. A file from before
// it did has it looked for, and without room there is nothing to build.
func TestFreeAxleOfTheCertificate(t *testing.T) {
	c := examples(t)["buggy.json"]
	p := &c.Proposals[0]
	place := func() Point {
		b, err := Of(&c.Brief, p)
		require.NoError(t, err)
		free := b.Shafts[len(b.Shafts)-1]
		require.True(t, free.Free)
		return free.At
	}
	p.FreeAxle = nil
	require.Equal(t, Point{195, 20}, place())
	p.FreeAxle = &certificate.Hole{Shaft: "free axle", X: 180, Y: 20}
	require.Equal(t, Point{180, 20}, place())
	p.FreeAxle, p.Wheel.Diameter = nil, 170
	_, err := Of(&c.Brief, p)
	require.ErrorContains(t, err, "no room for the second axle")
}
