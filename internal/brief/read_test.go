package brief_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/units"
)

// frame and load are the rest of a brief where a test is about something else.
const (
	frame = "\n[frame]\nlength = \"250 mm\"\nheight = \"120 mm\"\ndepth = \"100 mm\"\n"
	load  = "\n[load]\nmass = \"150 g\"\n"
)

// Each message is written out by hand.
func TestReadReportsEveryProblemAtItsPlace(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"nothing", "", `b.toml: model is missing: write for example model = "ride on an upright axle"
b.toml: speed is missing: write for example speed = "20 rpm" or "1 turn in 3 s"
b.toml: frame: length is missing: write for example length = "250 mm"
b.toml: frame: height is missing: write for example height = "120 mm"
b.toml: frame: depth is missing: write for example depth = "120 mm"`},
		{"a mistyped model hides nothing that does not rest on it", `model = "ride on an upright axel"
speed = "0.3 m/s"
tolerance = 25
sets = 0
max_stages = 5
cells = [1, 9]
[frame]
length = "20 cm"
heigth = "100 mm"
depth = "90 mm"
[load]
mass = "7 kg"
drum = "x"
`, `b.toml:1:9: model: found "ride on an upright axel", which is not known here, did you mean "ride on an upright axle"?
b.toml:3:13: tolerance: 25 has no unit: write "25 %"
b.toml:4:8: sets: 0 is out of range: it must be from 1 to 1000
b.toml:5:14: max_stages: 5 is out of range: it must be from 1 to 4
b.toml:6:9: cells: found 9 in the list, it must be of whole numbers from 1 to 8, such as [1, 2]
b.toml:7:2: frame: height is missing: write for example height = "120 mm"
b.toml:9:1: frame.heigth: this key is not known here, did you mean "height"?
b.toml:12:8: load.mass: 7000 g is too heavy for a rubber-band drive near children: it must be at most 5000 g`},
		{"a ride does not travel", "model = \"ride on a level axle\"\nspeed = \"0.3 m/s\"" + load + frame,
			`b.toml:2:9: speed: "0.3 m/s" is a speed of travel, and a ride on a level axle turns: write for example "20 rpm" or "1 turn in 3 s"`},
		{"no speed of turning", "model = \"plain shaft\"\nspeed = \"fast\"\n[load]\ntorque = \"1 mN.m\"" + frame,
			`b.toml:2:9: speed: "fast" is not a speed of turning: write for example "20 rpm" or "1 turn in 3 s"`},
		{"no speed", "model = \"vehicle\"\nspeed = \"fast\"" + load + frame,
			`b.toml:2:9: speed: "fast" is not a speed: write for example "0.3 m/s" or "10 m in 25 s"`},
		{"a comma in a speed", "model = \"vehicle\"\nspeed = \"0,25 m/s\"" + load + frame,
			`b.toml:2:9: speed: "0,25 m/s" has a comma in its number, where a point belongs`},
		{"a comma in a speed of turning", "model = \"plain shaft\"\nspeed = \"11,5 rpm\"\n[load]\ntorque = \"1 mN.m\"" + frame,
			`b.toml:2:9: speed: "11,5 rpm" has a comma in its number, where a point belongs`},
		{"too fast", "model = \"vehicle\"\nspeed = \"100 m in 5 s\"" + load + frame,
			`b.toml:2:9: speed: "100 m in 5 s" is 20 m/s, out of range: it must be from 0.001 m/s to 5 m/s`},
		{"standing still", "model = \"plain shaft\"\nspeed = \"0 rpm\"\n[load]\ntorque = \"1 mN.m\"" + frame,
			`b.toml:2:9: speed: "0 rpm" is out of range: it must be from 0.1 rpm to 20000 rpm`},
		{"a bare speed", "model = \"plain shaft\"\nspeed = 20\n[load]\ntorque = \"1 mN.m\"" + frame,
			`b.toml:2:9: speed: 20 has no unit: write "20 rpm"`},
		{"too heavy to lift", "model = \"lift\"\nspeed = \"30 mm/s\"\n[load]\nmass = \"1.5 kg\"" + frame,
			`b.toml:4:8: load.mass: 1500 g is too heavy to lift in a classroom: it must be at most 1000 g, for a hand or foot may be under it when the band slips`},
		{"keys of another model", "model = \"vehicle\"\nspeed = \"0.3 m/s\"\n[load]\nmass = \"200 g\"\ndrum = \"spool\"\nradius = \"3 mm\"\nwheal = \"a\"\nsurface = \"ice\"" + frame,
			`b.toml:5:1: load.drum: this belongs to the model "lift", and the model of this brief is "vehicle"
b.toml:6:1: load.radius: this belongs to the model "ride on an upright axle" or "ride on a level axle", and the model of this brief is "vehicle"
b.toml:7:1: load.wheal: this key is not known here, did you mean "wheel"?
b.toml:8:11: load.surface: found "ice", which is not known here; it can be table or carpet`},
		{"no load", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + frame,
			`b.toml: load: mass is missing: write for example mass = "200 g"`},
		{"no torque", "model = \"plain shaft\"\nspeed = \"20 rpm\"\n[load]" + frame,
			`b.toml:3:2: load: torque is missing: write for example torque = "2 mN.m"`},
		{"frame", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + load + `[frame]
length = "200 mm"
height = "100 mm"
depth = "100 mm"
rails = ["10 mm", 20]
motor_zone = ["0 mm", "0 mm", "300 mm"]
output_zone = "left thrid"
overhang = "-1 mm"
`, `b.toml:9:9: frame.rails: 20 has no unit: write "20 mm"
b.toml:10:14: frame.motor_zone: found 3 lengths, four are needed (left, bottom, right, top): write for example motor_zone = ["0 mm", "0 mm", "60 mm", "100 mm"]
b.toml:11:15: frame.output_zone: found "left thrid", which is not known here, did you mean "left third"?
b.toml:12:12: frame.overhang: "-1 mm" is below zero: a length is written like "150 mm"`},
		{"outside the frame", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + load + `[frame]
length = "200 mm"
height = "100 mm"
depth = "100 mm"
rails = ["110 mm"]
motor_zone = ["0 mm", "0 mm", "201 mm", "100 mm"]
output_zone = ["50 mm", "0 mm", "20 mm", "100 mm"]
`, `b.toml:9:9: frame.rails: a rail at 110 mm is above the frame, which is 100 mm high
b.toml:10:14: frame.motor_zone: its right, 201 mm, is outside the frame, which is 200 mm long
b.toml:11:15: frame.output_zone: its left, 50 mm, is right of its right, 20 mm: the order is left, bottom, right, top`},
		{"strip without rails", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + load + frame + "strip = \"10 mm\"\n",
			`b.toml:10:9: frame.strip: sides of strip have wood only where the strips are, so it must be said how high those with the holes are, counted from the frame's lower inside edge: write for example rails = ["30 mm", "90 mm"], or leave strip out for sides of sheet`},
		{"ways", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + load + frame + "[direction]\nturns = \"clockwize\"\nseen_from = \"left\"\nmotor_turn = \"either\"\n[making]\nglue = \"no\"\n",
			`b.toml:11:9: direction.turns: found "clockwize", which is not known here, did you mean "clockwise"?
b.toml:12:13: direction.seen_from: found "left", which is not known here; it can be front, back, above or below
b.toml:13:1: direction.motor_turn: this key is not known here, did you mean "motor_turns"?
b.toml:15:8: making.glue: found "no", true or false without quotes is needed`},
		{"limits", "model = \"ride on an upright axle\"\nspeed = \"20 rpm\"" + load + frame + "[limits]\nideal_stretch = 1.6\ngrip_min = 0.5\narc_min = \"140 deg\"\narc_warn = \"130 deg\"\nclearance = 3\n[weights]\nstage = -1\nspeed_step = 0\n",
			`b.toml:11:17: limits.ideal_stretch: 1.6 is above comfort_stretch_max, 1.35
b.toml:12:12: limits.grip_min: 0.5 is out of range: it must be from 1 to 10
b.toml:14:12: limits.arc_warn: 130 is below arc_min, 140
b.toml:15:13: limits.clearance: 3 has no unit: write "3 mm"
b.toml:17:9: weights.stage: -1 is out of range: it must be from 0 to 1000
b.toml:18:14: weights.speed_step: 0 is out of range: it must be from 0.1 to 50`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := brief.Read("b.toml", []byte(c.data))
			assert.Nil(t, got)
			assert.EqualError(t, err, c.want)
		})
	}
}

func TestReadFillsIn(t *testing.T) {
	b, err := brief.Read("b.toml", []byte("model = \"ride on an upright axle\"\nspeed = \"1 turn in 3 s\""+load+frame))
	require.NoError(t, err)
	whole := brief.Rect{X1: 250, Y1: 120}
	assert.Equal(t, &brief.Brief{
		Name: "b.toml", Model: brief.UprightRide, Speed: brief.Speed{Turning: 20, Words: "1 turn in 3 s"}, Tolerance: 0.25,
		Direction: brief.Direction{Sense: brief.Either, SeenFrom: "front", MotorTurns: brief.Either},
		Load:      brief.Load{Mass: 150, PivotRadius: 2.5, LoadRadius: 60, TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: 250, Height: 120, Depth: 100, Sheet: 4, Pitch: 1, MotorZone: whole, OutputZone: whole},
		Making:    brief.Making{DrillFrame: true, DrillOut: true, Glue: true},
		Sets:      1, MaxStages: 3, Limits: brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}, b)
}

func TestReadModels(t *testing.T) {
	for _, c := range []struct {
		name, speed, load string
		want              brief.Load
	}{
		{"ride on a level axle", "12 rpm", `mass = "200 g"`, brief.Load{Mass: 200, LoadRadius: 80, OutOfBalance: 10, OutOfBalanceRadius: 80, TackleParts: 1, TackleEfficiency: 1}},
		{"ride on a level axle", "12 rpm", "mass = \"200 g\"\nradius = \"9 cm\"\nout_of_balance = \"0 g\"", brief.Load{Mass: 200, LoadRadius: 90, OutOfBalanceRadius: 90, TackleParts: 1, TackleEfficiency: 1}},
		{"vehicle", "3 m in 10 s", "mass = \"0.25 kg\"\nwheel = \"w\"\nsurface = \"carpet\"\nslope = \"180 deg\"", brief.Load{}},
		{"vehicle", "3 m in 10 s", "mass = \"0.25 kg\"\nwheel = \"w\"\nsurface = \"carpet\"", brief.Load{Mass: 250, Wheel: "w", Surface: "carpet", DrivenShare: 0.5, TackleParts: 1, TackleEfficiency: 1}},
		{"vehicle", "200 rpm", "mass = \"250 g\"\ndriven_share = \"60 %\"", brief.Load{Mass: 250, Surface: "table", DrivenShare: 0.6, TackleParts: 1, TackleEfficiency: 1}},
		{"lift", "30 mm/s", "mass = \"100 g\"\ndrum = \"d\"\ntackle_parts = 2\ntackle_efficiency = \"81 %\"", brief.Load{Mass: 100, Drum: "d", CordDiameter: 1, CordLeaves: brief.Down, Tackles: []brief.Tackle{{Parts: 2, Efficiency: 0.81}}, TackleParts: 2, TackleEfficiency: 0.81}},
		{"lift", "30 mm/s", "mass = \"100 g\"", brief.Load{Mass: 100, CordDiameter: 1, CordLeaves: brief.Down, Tackles: []brief.Tackle{{Parts: 1, Efficiency: 1}}, TackleParts: 1, TackleEfficiency: 1}},
		{"lift", "30 mm/s", "mass = \"100 g\"\ntackle_parts = [3, 1, 3]\ntackle_efficiency = \"50 %\"", brief.Load{Mass: 100, CordDiameter: 1, CordLeaves: brief.Down, Tackles: []brief.Tackle{{Parts: 1, Efficiency: 0.5}, {Parts: 3, Efficiency: 0.5}}, TackleParts: 1, TackleEfficiency: 0.5}},
		{"plain shaft", "60 rpm", `torque = "20 g.cm"`, brief.Load{Torque: 20 * units.NewtonMillimetresPerGramCentimetre, TackleParts: 1, TackleEfficiency: 1}},
	} {
		b, err := brief.Read("b.toml", []byte("model = \""+c.name+"\"\nspeed = \""+c.speed+"\"\n[load]\n"+c.load+frame))
		if c.want.TackleParts == 0 {
			assert.ErrorContains(t, err, `load.slope: "180 deg" is out of range: it must be from 0 deg to 45 deg`)
			continue
		}
		require.NoError(t, err)
		assert.Equal(t, c.want, b.Load)
		assert.Positive(t, float64(b.Speed.Turning)+float64(b.Speed.Linear))
	}
}

func TestReadFrames(t *testing.T) {
	b, err := brief.Read("b.toml", []byte("model = \"ride on an upright axle\"\nspeed = \"20 rpm\"\ncells = [2, 1, 2]"+load+frame+`
rails = ["90 mm", "10 mm"]
motor_zone = "right half"
output_zone = ["10 mm", "0 mm", "60 mm", "120 mm"]
ground = "20 mm"
`))
	require.NoError(t, err)
	assert.Equal(t, []int{1, 2}, b.Cells)
	assert.Equal(t, brief.Frame{
		Length: 250, Height: 120, Depth: 100, Strip: 10, Rails: []units.Millimetres{10, 90}, Pitch: 1, HasGround: true, Ground: -20,
		MotorZone: brief.Rect{X0: 125, X1: 250, Y1: 120}, OutputZone: brief.Rect{X0: 10, X1: 60, Y1: 120},
	}, b.Frame)
}

// The order of the tables, and of the keys in each, changes nothing.
func TestOrderOfTheFileChangesNothing(t *testing.T) {
	comment := regexp.MustCompile(`(?m)#.*$|^\s*\n`)
	files, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		want, err := brief.Read("b.toml", data)
		require.NoError(t, err, file)
		blocks := strings.Split(comment.ReplaceAllString(string(data), ""), "\n[")
		rapid.Check(t, func(t *rapid.T) {
			top := rapid.Permutation(strings.Split(blocks[0], "\n")).Draw(t, "top")
			doc := strings.Join(top, "\n")
			for _, b := range rapid.Permutation(blocks[1:]).Draw(t, "tables") {
				lines := strings.Split(strings.TrimSpace(b), "\n")
				doc += "\n[" + lines[0] + "\n" + strings.Join(rapid.Permutation(lines[1:]).Draw(t, "keys"), "\n")
			}
			got, err := brief.Read("b.toml", []byte(doc))
			require.NoError(t, err)
			assert.Equal(t, want, got)
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add(demo.Brief())
	f.Add(demo.StarterBrief())
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := brief.Read("b.toml", data)
		if (b == nil) == (err == nil) {
			t.Fatal("either a brief or an error")
		}
		if err != nil {
			return
		}
		whole := brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
		for _, z := range []brief.Rect{b.Frame.MotorZone, b.Frame.OutputZone} {
			if !(z.X0 >= 0 && z.X0 <= z.X1 && z.X1 <= whole.X1 && z.Y0 >= 0 && z.Y0 <= z.Y1 && z.Y1 <= whole.Y1) {
				t.Fatalf("%+v in %+v", z, whole)
			}
		}
		if (b.Speed.Turning > 0) == (b.Speed.Linear > 0) || b.Sets < 1 || b.MaxStages < 1 || b.MaxStages > 4 {
			t.Fatalf("%+v", b)
		}
	})
}

func TestDiscsNeedGlue(t *testing.T) {
	text := "model = \"plain shaft\"\nspeed = \"20 rpm\"\n[load]\ntorque = \"2 mN.m\"\n[frame]\nlength = \"250 mm\"\nheight = \"120 mm\"\ndepth = \"120 mm\"\n[making]\ndiscs = true\n"
	b, err := brief.Read("b.toml", []byte(text))
	require.NoError(t, err)
	assert.True(t, b.Making.Discs)
	assert.InDelta(t, 3, b.Weights.MadePulley, 0)
	_, err = brief.Read("b.toml", []byte(text+"glue = false\n"))
	require.ErrorContains(t, err, "b.toml:10:9: making.discs: discs are glued on one another")
}

// An axle gets through a side of sheet by a hole only; between strips it lies in clips.
func TestSidesOfSheetAreDrilled(t *testing.T) {
	text := "model = \"plain shaft\"\nspeed = \"20 rpm\"\n[load]\ntorque = \"2 mN.m\"\n[making]\ndrill_frame = false\n[frame]\nlength = \"250 mm\"\nheight = \"120 mm\"\ndepth = \"120 mm\"\n"
	_, err := brief.Read("b.toml", []byte(text))
	require.ErrorContains(t, err, "b.toml:6:15: making.drill_frame: an axle gets through sides of sheet by a hole only")
	b, err := brief.Read("b.toml", []byte(text+"rails = [\"20 mm\", \"90 mm\"]\n"))
	require.NoError(t, err)
	assert.False(t, b.Making.DrillFrame)
}
