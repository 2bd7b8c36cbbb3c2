package explain

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/reading"
)

// The data file has no mistakes; quotes are only given where they were compared, and
// what is from memory says so.
func TestCurriculum(t *testing.T) {
	data := readCurriculum()
	require.NoError(t, data.err)
	topics := []string{"pulleys", "electric", "test", "make", "lift", "vehicle"}
	for _, l := range data.lines {
		assert.NotEqual(t, l.Quote == "", l.Says == "", "%v: either a quote or our words", l)
		assert.Equal(t, l.Checked == ByCopy, l.Quote != "", "%v: what was compared is quoted", l)
		assert.NotEmpty(t, l.Document)
		assert.NotEmpty(t, l.Date)
		assert.NotEmpty(t, l.Ages)
		assert.Less(t, len(l.Quote), 200, "a short quote")
		for _, a := range l.About {
			assert.Contains(t, topics, a)
		}
	}
	for _, p := range Places() {
		d := sample(t)
		assert.NotEmpty(t, linesFor(d, p.Key), p.Key)
	}
}

const described = `
name = "Carousel"
model = "ride on an upright axle"
load = {mass = "150 g"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-16", centre = "48 mm", axle = "dowel-5"}`

func sample(t testing.TB) *Drive {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(described), cup)
	require.NoError(t, err)
	w, err := built.Work(b)
	require.NoError(t, err)
	d, err := FromBuilt(w)
	require.NoError(t, err)
	return d
}

// Whatever the drive, a child of seven or eight can read the pupil's story, and each
// pulley is told.
func TestPupilsCanReadIt(t *testing.T) {
	models := []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft}
	rapid.Check(t, func(rt *rapid.T) {
		d := *sample(t)
		d.Model = rapid.SampledFrom(models).Draw(rt, "model")
		n := rapid.IntRange(1, 4).Draw(rt, "stages")
		stage := d.Stages[0]
		d.Stages, d.Ratio = nil, 1
		for i := range n {
			s := stage
			s.Ratio = math.Exp(rapid.Float64Range(-1.5, 2.5).Draw(rt, "ratio"))
			s.Crossed = rapid.Bool().Draw(rt, "crossed")
			s.Driver.Letter, s.Driven.Letter = letter(2*i), letter(2*i+1)
			d.Stages = append(d.Stages, s)
			d.Ratio *= s.Ratio
		}
		d.Speed.Likely = rapid.Float64Range(1, 400).Draw(rt, "speed")
		if d.Model == brief.Vehicle || d.Model == brief.Lift {
			d.Travel = Range{0.1, 0.2, 0.3}
		}
		d.Turns = rapid.Bool().Draw(rt, "turns")
		s := Tell(&d, Pupil, "england")
		assert.Empty(rt, s.Curriculum)
		var all []string
		for _, x := range s.Sections {
			all = append(all, reading.Sentences(x.Heading)...)
			for _, l := range x.Lines {
				all = append(all, reading.Sentences(l)...)
			}
		}
		for _, c := range s.Cautions {
			all = append(all, reading.Sentences(c.Young)...)
		}
		for _, l := range all {
			assert.Less(rt, len(reading.Words(l)), 12, l)
		}
		assert.Less(rt, reading.Grade(all), 2.5)
		text := strings.Join(all, " ")
		for i := range 2 * n {
			assert.Contains(rt, text, letter(i)+" ")
		}
	})
}

// The teacher's sum can be done again from what it says: ratios multiply, and the
// motor's speed over the ratio, less the loss, is the speed.
func TestTheSum(t *testing.T) {
	d := sample(t)
	assert.InDelta(t, d.Ratio, d.Stages[0].Ratio*d.Stages[1].Ratio, 1e-9)
	assert.InDelta(t, float64(d.Stages[0].Driven.Pitch/d.Stages[0].Driver.Pitch), d.Stages[0].Ratio, 1e-9)
	kept := 1.0
	for _, s := range d.Stages {
		kept *= 1 - s.Creep
	}
	assert.InDelta(t, float64(d.Motor.Speed)/d.Ratio*kept, d.Speed.Likely, 1e-6*d.Speed.Likely)
	assert.Less(t, float64(d.OutputTorque/d.MotorTorque), d.Ratio, "no more force than the ratio gives")
	_, err := FromCertificate(&certificate.Certificate{}, 1)
	assert.ErrorContains(t, err, "the list has 0")
}

// Cautions go with the steps that the drive has.
func TestCautions(t *testing.T) {
	steps := func(d *Drive) (out []string) {
		for _, c := range Tell(d, Teacher, "").Cautions {
			out = append(out, c.Step)
		}
		return out
	}
	d := sample(t)
	assert.NotContains(t, steps(d), "Opening a bore")
	assert.NotContains(t, steps(d), "Lifting")
	d.Drilled, d.Glued, d.Model, d.FrameDrilled = true, true, brief.Lift, false
	d.Stages = slices.Clone(d.Stages)
	d.Stages[0].Stretch = 1.6
	got := steps(d)
	for _, want := range []string{"Opening a bore", "Gluing", "Lifting", "A tight band"} {
		assert.Contains(t, got, want)
	}
	assert.NotContains(t, got, "Drilling the frame")
}

// A big pulley that drives a small one is told the other way round.
func TestStepUp(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(`
model = "plain shaft"
load = {torque = "0.1 mN.m"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "axle-30", driven = "axle-15", band = "no-16", centre = "50 mm", axle = "dowel-5"}`), cup)
	require.NoError(t, err)
	w, err := built.Work(b)
	require.NoError(t, err)
	d, err := FromBuilt(w)
	require.NoError(t, err)
	text := func(to Reader) string {
		var out []string
		for _, s := range Tell(d, to, "").Sections {
			assert.NotEmpty(t, s.Lines, s.Heading)
			out = append(out, s.Heading)
			out = append(out, s.Lines...)
		}
		return strings.Join(out, "\n")
	}
	assert.Contains(t, text(Teacher), "B turns 1.8 times while A turns once: 1.8 times faster, and weaker")
	assert.Contains(t, text(Teacher), "Weaker: the output")
	assert.NotContains(t, text(Teacher), "small-to-big")
	assert.Contains(t, text(Pupil), "So B is faster. But it is weaker!")
	assert.NotContains(t, text(Pupil), "slow but strong")
	assert.Contains(t, text(Technician), "= 0.57 : 1")
}

// driveOf is a drive that a file describes, of parts of the built-in cupboard.
func driveOf(t *testing.T, file string) *Drive {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(file), cup)
	require.NoError(t, err)
	w, err := built.Work(b)
	require.NoError(t, err)
	d, err := FromBuilt(w)
	require.NoError(t, err)
	return d
}

// storyOf is a drive told to a reader, in one text.
func storyOf(t *testing.T, file string, to Reader) string {
	t.Helper()
	var out []string
	for _, s := range Tell(driveOf(t, file), to, "").Sections {
		out = append(out, s.Heading)
		out = append(out, s.Lines...)
	}
	return strings.Join(out, "\n")
}

// Why the slow one is stronger is told with the drive's own numbers, which multiply.
func TestWhyStronger(t *testing.T) {
	teacher := storyOf(t, described, Teacher)
	assert.Contains(t, teacher, "Why stronger: the band pulls as hard on B as on A")
	assert.Contains(t, teacher, "what is lost in turns is won in pull")
	assert.Contains(t, teacher, "10.82 x 2.48 = 26.8")
	pupil := storyOf(t, described, Pupil)
	assert.Contains(t, pupil, "11 x 2½ = 27½.")
	assert.Contains(t, pupil, "The motor turns about 27½ times.")
	assert.Contains(t, pupil, "That edge is further from the middle.")
	d := sample(t)
	total, sums := d.product()
	assert.Len(t, sums, 1)
	assert.InDelta(t, d.Ratio, float64(total.over)/float64(total.under), 0.13*d.Ratio, "two stages of at most 6 % off each")
}

// A drive that stands still is neither slow nor strong.
func TestStandsStill(t *testing.T) {
	const heavy = `
model = "lift"
load = {mass = "900 g", drum = "spool-16"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-60", band = "no-19", centre = "67 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-18", centre = "74 mm", axle = "dowel-5"}`
	pupil := storyOf(t, heavy, Pupil)
	assert.Contains(t, pupil, "But your crane does not turn yet.")
	assert.NotContains(t, pupil, "slow but strong")
	teacher := storyOf(t, heavy, Teacher)
	assert.Contains(t, teacher, "It stands still")
	assert.NotContains(t, teacher, "The sum with your numbers")
	assert.NotContains(t, teacher, "Questions to ask", "nor is there a speed to ask about")
	technician := storyOf(t, heavy, Technician)
	for _, never := range []string{"rpm", "At work it", "grips", "mA", "arrives"} {
		assert.NotContains(t, technician, never)
	}
	assert.Contains(t, technician, "It does not turn as it is")
}

// A run that may never end is told to take so long or more.
func TestRunThatMayStall(t *testing.T) {
	d := Drive{Model: brief.Vehicle, Turns: true, Travel: Range{0.1, 0.2, 0.3}}
	assert.Contains(t, d.counting()[0], "about 15 s (10 to 30 s). Take")
	d.Travel.Low = 0
	assert.Contains(t, d.counting()[0], "about 15 s (10 s or more). Take")
}

// A drive that slows, and whose friction takes all that it wins, is not told as strong.
func TestNoStronger(t *testing.T) {
	const rubs = `
model = "ride on an upright axle"
load = {mass = "30 g"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "axle-10", driven = "axle-15", band = "no-16", centre = "55 mm", axle = "dowel-5"}`
	d := driveOf(t, rubs)
	require.Less(t, d.gain(), strongFrom, "the case must be worth testing")
	require.True(t, d.Turns)
	pupil := storyOf(t, rubs, Pupil)
	assert.Contains(t, pupil, "But rubbing eats it all up.")
	assert.NotContains(t, pupil, "slow but strong")
	assert.NotContains(t, storyOf(t, rubs, Teacher), "Stronger: the output")
}

// A drive of two stages that both speed up is told by how often its output turns, and not by
// a motor that turns about 0 times.
func TestSpeedsUpTwice(t *testing.T) {
	const fast = `
model = "plain shaft"
load = {torque = "0.01 mN.m"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "axle-20", driven = "axle-10", band = "no-16", centre = "48 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-30", driven = "axle-15", band = "no-16", centre = "50 mm", axle = "dowel-5"}`
	d := driveOf(t, fast)
	total, sums := d.product()
	assert.InEpsilon(t, 1/d.Ratio, float64(total.over)/float64(total.under), 0.13)
	require.Len(t, sums, 1)
	pupil := storyOf(t, fast, Pupil)
	assert.Contains(t, pupil, "The motor turns 1 time. D turns about "+total.String()+" times.")
	assert.NotContains(t, pupil, "about 0 times")
	assert.NotContains(t, storyOf(t, fast, Teacher), "as many as the turns that are given up")
}

// A stage that speeds up is not told as one that slows, though the drive as a whole slows.
func TestMixedStages(t *testing.T) {
	const mixed = `
model = "ride on an upright axle"
load = {mass = "30 g"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-30", driven = "axle-15", band = "no-16", centre = "50 mm", axle = "dowel-5"}`
	teacher := storyOf(t, mixed, Teacher)
	assert.Contains(t, teacher, "What each stage does")
	assert.Contains(t, teacher, "Why weaker: the band pulls as hard on D as on C")
	assert.NotContains(t, teacher, "each stage does it again")
	pupil := storyOf(t, mixed, Pupil)
	assert.Contains(t, pupil, "So D is faster. But it is weaker!")
	assert.Contains(t, pupil, "÷")
	assert.NotContains(t, pupil, "Each pair does it again.")
	assert.Contains(t, storyOf(t, mixed, Technician), "The smallest pulley matters most to the ratio: 0.5 mm on the groove of A")
}

// The whole numbers are near each stage's ratio and, multiplied, near that of the
// whole drive, so that a pupil who multiplies gets what is claimed.
func TestWholesMultiplyToTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratios := rapid.SliceOfN(rapid.Float64Range(0.2, 15), 1, 4).Draw(t, "ratios")
		got, product, want := Wholes(ratios), 1.0, 1.0
		require.Len(t, got, len(ratios))
		for i, w := range got {
			share := float64(w.Driver) / float64(w.Driven)
			require.InDelta(t, 1, share/ratios[i], 0.11, "%v as %v", ratios[i], w)
			require.LessOrEqual(t, min(w.Driver, w.Driven), mostDriven)
			product, want = product*share, want*ratios[i]
		}
		near := func(r float64) bool { return r > 0.5 && r < 2 } // there are few small numbers near one
		if len(ratios) > 1 && !slices.ContainsFunc(ratios, near) {
			require.InDelta(t, 1, product/want, 0.05, "%v as %v: usually 0.03, as far as there are small numbers", ratios, got)
		}
	})
	assert.Equal(t, []WholeStage{{17, 2}, {7, 1}}, Wholes([]float64{8.5, 7}), "not 8 and 7 for 60")
	assert.Equal(t, []WholeStage{{4, 1}}, Wholes([]float64{4}))
	assert.Equal(t, []WholeStage{{1, 3}}, Wholes([]float64{1.0 / 3}))
}

func TestHalves(t *testing.T) {
	for v, want := range map[float64]string{8.5: "8 and a half", 0.5: "half", 0.4: "0.4", 2.0 / 3: "0.67", 4.0 / 3: "1.3", 0.99: "1", 7.1: "7", 8.8: "9", 59.5: "60", 19.5: "19 and a half", 3: "3"} {
		assert.Equal(t, want, Halves(v))
	}
}

// Sums in quarters and fifths are written as they are, and what has no sign is not said to
// be exact.
func TestSumsOfStages(t *testing.T) {
	for _, test := range []struct {
		ratios []float64
		total  string
		sums   []string
	}{
		{[]float64{10.82, 2.48}, "27½", []string{"11 x 2½ = 27½."}},
		{[]float64{1.25, 3}, "3¾", []string{"1¼ x 3 = 3¾."}},
		{[]float64{6, 1.0 / 3}, "2", []string{"6 ÷ 3 = 2."}},
		{[]float64{7.0 / 3, 8.0 / 3}, "6", []string{"2⅓ x 2⅔ = about 6."}},
	} {
		d := &Drive{}
		for _, r := range test.ratios {
			d.Stages = append(d.Stages, Stage{Ratio: r})
		}
		total, sums := d.product()
		assert.Equal(t, test.total, total.String(), "%v", test.ratios)
		assert.Equal(t, test.sums, sums, "%v", test.ratios)
	}
}

// Pupils and teachers are told how often the motor turns at work, where what the bands lose makes
// that another figure than the pulleys give; speeds are rounded as on the sheets.
func TestTurnsAtWork(t *testing.T) {
	d := sample(t)
	d.Stages[0].Creep, d.Stages[1].Creep = 0.0807, 0.289
	real := d.Ratio / (1 - 0.0807) / (1 - 0.289)
	all := strings.Join(pupilAll(d), " ")
	assert.Contains(t, all, "But bands stretch. So D loses turns. D turns 1 time. The motor really turns about "+turns(real)+" times.")
	assert.Contains(t, strings.Join(d.counting(), " "), "times "+turns(real)+" ("+ratioWords(d.Ratio)+" by the pulleys, the bands lose the rest).")
	told := d.Ratio
	total, _ := d.product()
	d.Ratio = 0.97 * float64(total.over) / float64(total.under)
	d.Stages[0].Creep, d.Stages[1].Creep = 0.02, 0.015 // and so the same figure
	assert.True(t, d.loses())
	assert.NotContains(t, strings.Join(pupilAll(d), " "), "really")
	d.Ratio = 10.9999
	assert.Contains(t, strings.Join(d.counting(), " "), "times 11.")
	d.Ratio = told
	d.Stages[0].Creep, d.Stages[1].Creep = 0.01, 0.015
	assert.NotContains(t, strings.Join(pupilAll(d), " "), "really")
	assert.Contains(t, strings.Join(d.counting(), " "), "times "+ratioWords(d.Ratio)+".")
	d.Speed, d.AtHoles = Range{72, 104.9, 128}, 111.04
	assert.Contains(t, speedSum(d), "about 111 turns a minute with the holes just where they are drawn. As classes build it: about 105 (72 to 128).")
}

// The motor's speed is that at which the output turns as fast as is said: under a load that
// swings in a turn, its mean of the turn, from which the bands take no more than their creep.
func TestMotorSpeedOfALoadThatSwings(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	lopsided := strings.NewReplacer("ride on an upright axle", "ride on a level axle", `load = {mass = "150 g"}`, `load = {mass = "150 g", radius = "80 mm", out_of_balance = "3 g"}`).Replace(described)
	b, err := built.Read("drive.toml", []byte(lopsided), cup)
	require.NoError(t, err)
	w, err := built.Work(b)
	require.NoError(t, err)
	d, err := FromBuilt(w)
	require.NoError(t, err)
	require.True(t, d.Turns)
	require.Greater(t, float64(w.Motor.Speed), 1.01*float64(d.Motor.Speed), "at the mean torque it is another")
	assert.InEpsilon(t, d.AtHoles*d.atWork(), float64(d.Motor.Speed), 1e-9)
	assert.Contains(t, speedSum(d), "lose "+percent(1-d.Ratio/d.atWork())+" of it")
}

// The sum from the motor to the output is right for who does it again with the figures that
// are shown, and the speed that classes get is told apart from it.
func TestSpeedSum(t *testing.T) {
	d := &Drive{Ratio: 57.1738, AtHoles: 45.4, Speed: Range{34, 46, 56}, Motor: Motor{Speed: 3666.6}}
	assert.Equal(t, "The motor at work: about 3670 turns a minute. Divided by 57.2 that is 64.2; the bands stretch a little as they pull and lose 29 % of it: about 45.4 turns a minute with the holes just where they are drawn. As classes build it: about 46 (34 to 56).", speedSum(d))
	d.Speed.Likely = 45
	assert.Contains(t, speedSum(d), "about 45.4 turns a minute (34 to 56).")
}
