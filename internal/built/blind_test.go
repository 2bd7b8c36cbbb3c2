package built_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/classroom"
	"findrive/internal/demo"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// blindFault is one of the lists in testdata/blind.
type blindFault struct {
	Drive, Says string
	Right       []string
	// Of the hidden ones: what is wrong and how much, which model of the many that could be
	// built it is, how long is counted or how far a vehicle or a load goes, and what that gives.
	Fault    string
	Size     float64
	Part     string
	Seed     uint64
	Over, Go float64
	Counted  string
}

func blindList(t *testing.T, file string) []blindFault {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "blind", file))
	require.NoError(t, err)
	var list struct{ Fault []blindFault }
	require.NoError(t, toml.Unmarshal(data, &list))
	return list.Fault
}

// blindDrive is a drive of the lists, with its own cupboard or else the example's.
func blindDrive(t *testing.T, name string) *built.Build {
	t.Helper()
	stock, err := os.ReadFile(filepath.Join("testdata", "blind", name+"-cupboard.toml"))
	if err != nil {
		stock = demo.Cupboard()
	}
	cup, err := parts.Read("cupboard.toml", stock)
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join("testdata", "blind", name+".toml"))
	require.NoError(t, err)
	b, err := built.Read(name+".toml", data, cup)
	require.NoError(t, err)
	return b
}

// planted is the model with its fault in it, as the classroom's own mechanics builds it, and
// the share of its output's speed that still arrives where it is counted or timed.
func (f *blindFault) planted(t *testing.T, b *built.Build) (d classroom.Drive, arrives float64) {
	t.Helper()
	from := b.Drive
	r := *b.Brief
	d = classroom.Drive{Brief: &r, Motor: from.Motor, Holder: from.Holder, Axles: from.Axles, Wheel: from.Wheel, Drum: from.Drum, Turns: from.MotorTurns, Binds: make([]float64, len(from.Stages))}
	for i := range from.Stages {
		s := &from.Stages[i]
		d.Stages = append(d.Stages, classroom.Stage{Driver: s.Driver, Driven: s.Driven, Band: s.Band, Use: s.Use.String(), Crossed: s.Crossed})
	}
	for _, p := range from.Positions {
		d.Places = append(d.Places, classroom.Place{X: float64(p.X), Y: float64(p.Y)})
	}
	motor, holder := *from.Motor, *from.Holder
	d.Motor, d.Holder = &motor, &holder
	last := &d.Stages[len(d.Stages)-1]
	pulley := func() *parts.Pulley {
		for i := range b.Cupboard.Pulleys {
			if p := &b.Cupboard.Pulleys[i]; p.Name == f.Part {
				return p
			}
		}
		t.Fatalf("no pulley %s", f.Part)
		return nil
	}
	arrives = 1
	switch f.Fault {
	case "cells-tired": // share of the open voltage left; a used cell's resistance is higher too
		holder.OpenVoltage, holder.Measured = units.Volts(1.45*f.Size), true
		holder.CellResistance *= 1.5
	case "cell-reversed":
		holder.OpenVoltage, holder.Measured = units.Volts(1.45*float64(holder.Cells-2)/float64(holder.Cells)), true
	case "cells-other": // the holder of so many cells
		holder.Cells = int(f.Size)
	case "axle-stiff", "axle-bent": // mN·m, on the axle of a stage
		i := len(d.Stages) - 1
		if f.Part == "first" {
			i = 0
		}
		d.Binds[i] = f.Size
	case "loose": // the share that is lost: a pulley on its axle, wheels on the floor, a cord on its drum
		arrives = 1 - f.Size
	case "swap-in-stage":
		s := &d.Stages[int(f.Size)-1]
		s.Driver, s.Driven = s.Driven, s.Driver
	case "swap-driven": // of the first stage and the last
		d.Stages[0].Driven, last.Driven = last.Driven, d.Stages[0].Driven
	case "swap-on-axle": // the first axle carries them the wrong way about
		d.Stages[0].Driven, d.Stages[1].Driver = d.Stages[1].Driver, d.Stages[0].Driven
	case "driver-other":
		d.Stages[int(f.Size)-1].Driver = pulley()
	case "driven-other":
		d.Stages[int(f.Size)-1].Driven = pulley()
	case "wheel-other":
		w := *d.Wheel
		w.Diameter = units.Millimetres(f.Size)
		arrives = f.Size / float64(d.Wheel.Diameter)
		d.Wheel = &w
	case "drum-other":
		w := *d.Drum
		w.Diameter = units.Millimetres(f.Size)
		arrives = f.Size / float64(d.Drum.Diameter)
		d.Drum = &w
	case "motor-other": // free speed, times; the stall torque of a faster one is less
		motor.FreeSpeed *= units.RPM(f.Size)
		motor.StallTorque /= units.NewtonMillimetres(math.Sqrt(f.Size))
	case "band-other": // flat length in mm, of the first stage
		band := *d.Stages[0].Band
		band.FlatLength = units.Millimetres(f.Size)
		d.Stages[0].Band = &band
	case "band-aged":
		for i := range d.Stages {
			band := *d.Stages[i].Band
			band.PullFactor *= f.Size
			d.Stages[i].Band = &band
		}
	case "load-heavy":
		r.Load.Mass *= units.Grams(f.Size)
		r.Load.Torque *= units.NewtonMillimetres(f.Size)
	default:
		t.Fatalf("no fault %s", f.Fault)
	}
	return d, arrives
}

// count is what children count of a model that turns so fast: whole turns in a time, or whole
// seconds for a way, one in seven of them one out.
func (f *blindFault) count(b *built.Build, rpm float64) (turns, over float64) {
	r := rand.New(rand.NewPCG(f.Seed, 0x636f756e74))
	out := 0.0
	switch u := r.Float64(); {
	case u < 0.07:
		out = -1
	case u < 0.14:
		out = 1
	}
	if rpm == 0 {
		return 0, f.Over
	}
	if f.Go == 0 {
		return max(0, math.Floor(rpm/60*f.Over+r.Float64())+out), f.Over
	}
	across := 0.0
	switch b.Brief.Model {
	case brief.Vehicle:
		across = float64(b.Drive.Wheel.Diameter)
	case brief.Lift:
		across = float64(b.Drive.Drum.Diameter+b.Brief.Load.CordDiameter) / float64(b.Brief.Load.TackleParts)
	}
	turns = f.Go * 1000 / (math.Pi * across)
	return turns, max(1, math.Round(60*turns/rpm)+out)
}

// TestBlindCounts holds the counts that stand in the hidden lists to what the faulted models do.
func TestBlindCounts(t *testing.T) {
	for _, file := range []string{"hidden-tuning.toml", "hidden-unseen.toml", "hidden-other.toml", "hidden-other-unseen.toml"} {
		for _, f := range blindList(t, file) {
			b := blindDrive(t, f.Drive)
			d, arrives := f.planted(t, b)
			turns, over := f.count(b, classroom.Speeds(d, 1, f.Seed)[0]*arrives)
			said := fmt.Sprintf("%.0f turns in %.0f s", turns, over)
			switch {
			case turns == 0:
				said = "0 turns in 30 s"
			case f.Go > 0:
				said = fmt.Sprintf("%g m in %.0f s", f.Go, over)
			}
			assert.Equal(t, said, f.Counted, "%s: %s, %s", file, f.Drive, f.Fault)
		}
	}
}

// diagnosed is what is said of a fault that is told as the lists tell it, by the way of the
// command: counts in the words, signs in what is left of them, and the count beside them.
func (f *blindFault) diagnosed(t *testing.T) (*built.Build, *built.Diagnosis) {
	t.Helper()
	b := blindDrive(t, f.Drive)
	readings, rest := measure.FromWords(f.Says)
	heard := built.Hear(rest, b.Brief.Model)
	if f.Counted != "" && !strings.HasPrefix(f.Counted, "0 ") { // none is said to stand, not counted
		read := measure.ReadTurns
		if f.Go > 0 {
			read = measure.ReadTravel
		}
		r, err := read(f.Counted)
		require.NoError(t, err)
		readings = append(readings, r)
	}
	if len(heard)+len(readings) == 0 {
		return b, nil
	}
	var counts []built.Count
	for _, r := range readings {
		c, err := measure.CountOf(r, b)
		require.NoError(t, err)
		counts = append(counts, c)
	}
	alone, stop := context.WithCancel(context.Background())
	stop()
	d, err := built.Diagnose(alone, b, heard, counts)
	require.NoError(t, err)
	return b, d
}

// score is how many faults of a list were named, in three senses.
type score struct {
	alone  int // first or second of the suspects
	looked int // so, or told by one of the first two checks
	of     int
}

// blindly is how a list fares.
func blindly(t *testing.T, file string) score {
	t.Helper()
	list := blindList(t, file)
	out := score{of: len(list)}
	for i, f := range list {
		_, d := f.diagnosed(t)
		if d == nil {
			t.Logf("%d not understood: %q", i, f.Says)
			continue
		}
		right := func(l string) bool { return slices.Contains(f.Right, l) }
		got := leading(d)
		var told []string
		for _, c := range d.Checks[:min(2, len(d.Checks))] {
			for _, x := range c.Tells {
				told = append(told, string(x.Fault))
			}
		}
		switch {
		case slices.ContainsFunc(got, right):
			out.alone++
			out.looked++
			continue
		case slices.ContainsFunc(told, right):
			out.looked++
		}
		var signs []built.Symptom
		for _, h := range d.Heard {
			signs = append(signs, h.Sign)
		}
		t.Logf("%d missed: %s, %q and %q, heard as %q: named %v, told by looks %v, right were %v", i, f.Drive, f.Says, f.Counted, signs, got, told, f.Right)
	}
	t.Logf("%s: %d of %d named first or second, %d with what the first two looks tell", file, out.alone, out.of, out.looked)
	return out
}

// TestBlindLists holds the rates that were reached on the halves that are for tuning by, and on
// the lists that were written for it since.
func TestBlindLists(t *testing.T) {
	for file, least := range map[string]score{
		"described-tuning.toml":   {alone: 20, looked: 20},
		"described-later.toml":    {alone: 49, looked: 49},
		"described-last.toml":     {alone: 43, looked: 43},
		"described-third.toml":    {alone: 35, looked: 35},
		"described-ways.toml":     {alone: 65, looked: 65},
		"described-other.toml":    {alone: 60, looked: 60},
		"described-subjects.toml": {alone: 43, looked: 43},
		"described-before.toml":   {alone: 45, looked: 45},
		"described-figures.toml":  {alone: 19, looked: 19},
		"hidden-tuning.toml":      {alone: 13, looked: 18},
		"hidden-other.toml":       {alone: 30, looked: 30},
		// By another hand, and blind at its only run, 54 of 60; what it missed was then mended.
		"described-final.toml": {alone: 60, looked: 60},
		// These two served to choose weights by, later, and are not unseen any more.
		"described-unseen.toml": {alone: 19, looked: 19},
		"hidden-unseen.toml":    {alone: 16, looked: 18},
	} {
		got := blindly(t, file)
		assert.GreaterOrEqual(t, got.alone, least.alone, file)
		assert.GreaterOrEqual(t, got.looked, least.looked, file)
	}
}

// TestUnseenLists holds the rates of lists by another hand, who did not know the program, that
// were run once, when all was done, and that nothing was tuned by.
func TestUnseenLists(t *testing.T) {
	for file, least := range map[string]score{
		"described-other-unseen.toml": {alone: 37, looked: 38},
		"described-third-hand.toml":   {alone: 57, looked: 59},
		"hidden-other-unseen.toml":    {alone: 27, looked: 28},
	} {
		got := blindly(t, file)
		assert.GreaterOrEqual(t, got.alone, least.alone, file)
		assert.GreaterOrEqual(t, got.looked, least.looked, file)
	}
}

// TestChecks holds that checks are few, each worth its minute, the likeliest first, and that
// each tells only faults that are suspected, by one sentence.
func TestChecks(t *testing.T) {
	for _, file := range []string{"hidden-tuning.toml", "described-tuning.toml"} {
		for _, f := range blindList(t, file) {
			_, d := f.diagnosed(t)
			require.NotNil(t, d)
			assert.LessOrEqual(t, len(d.Checks), 10)
			for i, c := range d.Checks {
				if i > 0 {
					assert.LessOrEqual(t, c.Share, d.Checks[i-1].Share)
				}
				assert.NotEmpty(t, c.Tells, c.Do)
				assert.LessOrEqual(t, len(c.Tells), 3, c.Do)
				for _, x := range c.Tells {
					assert.True(t, slices.ContainsFunc(d.Suspects, func(s built.Suspect) bool { return s.Fault == x.Fault && s.Share > 0 }), "%s: %s", c.Do, x.Fault)
				}
				assert.NotRegexp(t, `[.!]$`, c.Words())
			}
		}
	}
}
