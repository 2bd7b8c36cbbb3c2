package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/demo"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Each message is written out by hand.
func TestReadReportsEveryProblemAtItsPlace(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"pulley", `[pulley.big]
outside = 50
bore = "5 mm"
colour = "red"

[pulley.small]
outsid = "20 mm"
bore = "0 mm"
groove = "40"
material = "woood"
can_drill = "yes"
count = -1
price = "1.234"
`, `c.toml:2:11: pulley.big.outside: 50 has no unit: write "50 mm"
c.toml:4:1: pulley.big.colour: this key is not known here; it can be location, price, count, assumed, outside, bore, groove_floor, width, groove_width, groove, material or can_drill
c.toml:6:2: pulley.small: outside is missing: write for example outside = "20 mm"
c.toml:7:1: pulley.small.outsid: this key is not known here, did you mean "outside"?
c.toml:8:8: pulley.small.bore: "0 mm" is out of range: it must be from 0.5 mm to 100 mm
c.toml:9:10: pulley.small.groove: found "40", it must be flat, round or the full angle of a V from "10 deg" to "170 deg"
c.toml:10:12: pulley.small.material: found "woood", which is not known here, did you mean "wood"?
c.toml:11:13: pulley.small.can_drill: found "yes", true or false without quotes is needed
c.toml:12:9: pulley.small.count: -1 is out of range: it must be from 0 to 1000000
c.toml:13:9: pulley.small.price: found "1.234", an amount such as "0.45" is needed, without a currency sign`},
		{"a pulley that does not go together", `[pulley.a]
outside = "20 mm"
groove_floor = "21 mm"
bore = "21 mm"
width = "3 mm"
groove_width = "4 mm"
[pulley.b]
outside = "8 mm"
bore = "5 mm"
`, `c.toml:3:16: pulley.a.groove_floor: a groove floor of 21 mm cannot be larger than the outside, 20 mm: measure both again
c.toml:6:16: pulley.a.groove_width: a groove of 4 mm cannot be wider than the pulley, 3 mm: measure both again
c.toml:9:8: pulley.b.bore: a bore of 5 mm leaves nothing of a groove floor of 4.8 mm: measure both again`},
		{"band", `[band.thin]
flat_length = "63 kg"
width = "1.5 mm"
stretch_limit = 4
[band.none]
[band.odd]
size = 17
[band.short]
size = 16
hung_mass = "100 g"
reached = "64 mm"
[band.long]
size = 16
hung_mass = "1 g"
reached = "120 mm"
[band.half]
size = "16"
reached = "120 mm"
`, `c.toml:2:15: band.thin.flat_length: "63 kg" is not a length: write for example "150 mm"
c.toml:4:17: band.thin.stretch_limit: 4 is out of range: it must be from 1.05 to 2
c.toml:5:2: band.none: flat_length is missing: write for example flat_length = "63 mm"
c.toml:5:2: band.none: width is missing: write for example width = "1.5 mm"
c.toml:7:8: band.odd.size: trade size "17" is not known here (known are 8, 10, 12, 14, 16, 18, 19, 24, 30, 31, 32, 33, 61, 62, 63 or 64): give flat_length and width as well
c.toml:11:11: band.short.reached: a band of these sizes should then reach about 92 mm: measure again, inside the loop from its top to its bottom, and the band lying flat (flat length 63.5 mm, reached 64 mm)
c.toml:15:11: band.long.reached: this band would pull 0.0068 times as hard as rubber does: measure the mass, the length, the width and the thickness again
c.toml:16:2: band.half: hung_mass is missing: write for example hung_mass = "100 g"`},
		{"motor", `[motor.a]
free_speed = "0.3 m/s"
[motor.b]
rated = "3 V"
free_speed = "6000 rpm"
free_current = "900 mA"
stall_current = "0.5 A"
[motor.c]
rated = "230 V"
`, `c.toml:1:2: motor.a: rated is missing: write for example rated = "3 V"
c.toml:2:14: motor.a.free_speed: "0.3 m/s" is not a speed of turning: write for example "20 rpm"
c.toml:3:2: motor.b: the figures of this motor do not go together: the stall current must be above the free current
c.toml:8:2: motor.c: free_speed is missing: write for example free_speed = "6000 rpm"
c.toml:9:9: motor.c.rated: "230 V" is out of range: it must be from 0.5 V to 24 V`},
		{"volts on the packet", `[motor.a]
rated = "3 V"
free_speed = "6000 rpm"
volts = "1.5 V to 4.5 V"
[motor.b]
rated = "3 V"
free_speed = "6000 rpm"
volts = ["1.5 V", "4.5"]
[motor.c]
rated = "3 V"
free_speed = "6000 rpm"
volts = ["4.5 V", "1.5 V"]
[motor.d]
rated = "6 V"
free_speed = "6000 rpm"
volts = ["1.5 V", "4.5 V"]
[motor.e]
rated = "3 V"
free_speed = "6000 rpm"
volts = ["4.5 V"]
[motor.f]
rated = "3 V"
free_speed = "6000 rpm"
volts = ["1.5 V", "3 V", "4.5 V"]
`, `c.toml:4:9: motor.a.volts: found "1.5 V to 4.5 V", a list is needed: write for example volts = ["1.5 V", "4.5 V"]
c.toml:8:9: motor.b.volts: 4.5 has no unit: write "4.5 V"
c.toml:12:9: motor.c.volts: the least comes first: write volts = ["1.5 V", "4.5 V"]
c.toml:16:9: motor.d.volts: the rated voltage, 6 V, is not between 1.5 V and 4.5 V
c.toml:20:9: motor.e.volts: found 1 of the two values that are needed, the least and the most: write for example volts = ["1.5 V", "4.5 V"]
c.toml:24:9: motor.f.volts: the list has 3 values, the most is 2`},
		{"condition of cells", `[cells.a]
cells = 2
condition = "freshly"
`, `c.toml:3:13: cells.a.condition: found "freshly", which is not known here, did you mean "fresh"?`},
		{"cells", `[cells.a]
chemistry = "lithium"
[cells.b]
cells = 9
chemistry = "button"
[cells.c]
cells = 1
chemistry = "rechargeable"
open_voltage = "3 V"
[cells.d]
cells = 1
chemistry = "alcaline"
`, `c.toml:1:2: cells.a: cells is missing: write for example cells = 2
c.toml:2:13: cells.a.chemistry: lithium cells can catch fire when shorted or crushed: use zinc-carbon, zinc-chloride or alkaline
c.toml:4:9: cells.b.cells: 9 is out of range: it must be from 1 to 8
c.toml:5:13: cells.b.chemistry: button cells kill children who swallow them: use zinc-carbon, zinc-chloride or alkaline
c.toml:8:13: cells.c.chemistry: rechargeable cells give so much current that a short circuit burns: use zinc-carbon, zinc-chloride or alkaline
c.toml:9:16: cells.c.open_voltage: "3 V" is out of range: it must be from 0.8 V to 1.8 V
c.toml:12:13: cells.d.chemistry: found "alcaline", which is not known here, did you mean "alkaline"?`},
		{"small things", `[sleeve.a]
inner = "5 mm"
outer = "4 mm"
[spacer.a]
bore = "10 mm"
outside = "10 mm"
thickness = "1 mm"
[wheel.a]
diameter = "50 mm"
bore = "60 mm"
[drum.a]
diameter = "-3 mm"
bore = "5 mm"
[axle.a]
diameter = "5 mm"
length = "300 mm"
count = 1000001
`, `c.toml:3:9: sleeve.a.outer: an outer diameter of 4 mm must be larger than the inner, 5 mm
c.toml:5:8: spacer.a.bore: a bore of 10 mm leaves nothing of an outside of 10 mm: measure both again
c.toml:10:8: wheel.a.bore: a bore of 60 mm leaves nothing of a diameter of 50 mm: measure both again
c.toml:12:12: drum.a.diameter: "-3 mm" is below zero: a length is written like "150 mm"
c.toml:17:9: axle.a.count: 1000001 is out of range: it must be from 0 to 1000000`},
		{"kinds", `schema = 2
[pully.a]
[wheel]
diameter = "30 mm"
[[drum]]
diameter = "16 mm"
`, `c.toml:1:10: schema: 2 is out of range: it must be 1
c.toml:2:2: pully: this table is not known here, did you mean "pulley"?
c.toml:4:1: wheel.diameter: each wheel needs a name of its own: write [wheel.NAME] above its keys
c.toml:5:3: drum: each drum needs a name of its own: write [drum.NAME], and its keys on the lines below`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := parts.Read("c.toml", []byte(c.data))
			assert.Nil(t, got)
			assert.EqualError(t, err, c.want)
		})
	}
}

func TestReadFillsInAndSaysSo(t *testing.T) {
	c, err := parts.Read("c.toml", []byte(`
[pulley.p]
outside = "20 mm"
bore = "5 mm"
[pulley.narrow]
outside = "9 mm"
bore = "2 mm"
width = "2.5 mm"
material = "brass"
[pulley.wide]
outside = "50 mm"
groove_floor = "46 mm"
groove_width = "6 mm"
bore = "5 mm"
groove = "40 deg"
[band.b]
size = 16
[motor.m]
rated = "3 V"
free_speed = "6000 rpm"
[cells.c]
cells = 2
[sleeve.s]
inner = "2 mm"
outer = "5 mm"
`))
	require.NoError(t, err)
	assert.Equal(t, "c.toml", c.Name)
	pulleys := map[string]parts.Pulley{}
	for _, p := range c.Pulleys {
		pulleys[p.Name] = p
	}
	p := pulleys["p"]
	assert.Equal(t, []string{"groove floor taken as 16 mm (outside less 4 mm)", "groove width taken as 3 mm", "width along the axle taken as 6 mm"}, p.Assumed)
	assert.Equal(t, parts.Pulley{Item: p.Item, Outside: 20, GrooveFloor: 16, GrooveWidth: 3, Width: 6, Bore: 5, Material: parts.Plastic, CanDrill: true}, p)
	assert.Equal(t, 1, p.Count)
	narrow := pulleys["narrow"]
	assert.InDelta(t, 5.4, float64(narrow.GrooveFloor), 1e-12)
	assert.Equal(t, units.Millimetres(2.5), narrow.GrooveWidth)
	assert.False(t, narrow.CanDrill)
	assert.Equal(t, units.Millimetres(8), pulleys["wide"].Width)
	assert.InDelta(t, 40, pulleys["wide"].GrooveAngle.Degrees(), 1e-12)

	b := c.Bands[0]
	assert.Equal(t, []string{
		"flat length taken as 63.5 mm (trade size 16; makers differ: measure one)",
		"band width taken as 1.6 mm (trade size 16; makers differ: measure one)",
		"band thickness taken as 0.9 mm",
	}, b.Assumed)
	assert.Equal(t, parts.Band{Item: b.Item, Size: "16", FlatLength: 63.5, Width: 1.6, Thickness: 0.9, PullFactor: 1}, b)

	m := c.Motors[0]
	assert.Equal(t, []string{
		"free current taken as 140 mA", "stall current taken as 1000 mA", "shaft diameter taken as 2 mm", "shaft length taken as 8 mm",
		"taken as usual: body length 27.5 mm, body width 20 mm, body height 15 mm",
	}, m.Assumed)
	assert.Equal(t, parts.Motor{Item: m.Item, Rated: 3, FreeSpeed: 6000, FreeCurrent: 0.14, StallCurrent: 1, ShaftDiameter: 2, ShaftLength: 8, BodyLength: 27.5, BodyWidth: 20, BodyHeight: 15, Mass: 17.5}, m)

	h := c.Holders[0]
	assert.Equal(t, []string{"chemistry taken as zinc-carbon", "resistance of a cell taken as 0.4 ohm"}, h.Assumed)
	assert.Equal(t, parts.CellHolder{Item: h.Item, Cells: 2, Chemistry: "zinc-carbon", OpenVoltage: 1.5, CellResistance: 0.4}, h)
	assert.Equal(t, []string{"sleeve length taken as 10 mm"}, c.Sleeves[0].Assumed)
}

// One published sheet of a 130-size motor at its own rating: with nothing but
// its voltage and free speed given, its currents are what the sheet says.
func TestUsualMotorIsTheSheet(t *testing.T) {
	c, err := parts.Read("c.toml", []byte("[motor.m]\nrated = \"6 V\"\nfree_speed = \"9100 rpm\"\n"))
	require.NoError(t, err)
	assert.Equal(t, units.Amps(0.07), c.Motors[0].FreeCurrent)
	assert.Equal(t, units.Amps(0.5), c.Motors[0].StallCurrent)
}

func TestReadVoltsAndCondition(t *testing.T) {
	c, err := parts.Read("c.toml", []byte(`[motor.m]
rated = "3 V"
volts = ["1.5 V", "4.5 V"]
free_speed = "6000 rpm"
[cells.a]
cells = 2
condition = "fresh"
open_voltage = "1.5 V"
[cells.b]
cells = 2
open_voltage = "1.58 V"
`))
	require.NoError(t, err)
	assert.Equal(t, units.Volts(1.5), c.Motors[0].VoltsLeast)
	assert.Equal(t, units.Volts(4.5), c.Motors[0].VoltsMost)
	assert.Equal(t, parts.Fresh, c.Holders[0].Condition)
	assert.False(t, c.Holders[0].Measured, "it is what is printed on every cell")
	assert.True(t, c.Holders[1].Measured)
	assert.Empty(t, c.Holders[1].Condition)
}

func TestReadPrices(t *testing.T) {
	for text, want := range map[string]int64{"0.45": 45, "12": 1200, "12.5": 1250, "0": 0, "1000000": 1_000_000_00} {
		c, err := parts.Read("c.toml", []byte("[axle.a]\ndiameter = \"5 mm\"\nlength = \"300 mm\"\nprice = \""+text+"\"\n"))
		require.NoError(t, err, text)
		assert.Equal(t, want, c.Axles[0].PricePence, text)
	}
	for _, text := range []string{"-1", "0.455", "£1", ".5", "5.", "1e3", "1000000.01", "1,50", "0. 5"} {
		_, err := parts.Read("c.toml", []byte("[axle.a]\ndiameter = \"5 mm\"\nlength = \"300 mm\"\nprice = \""+text+"\"\n"))
		assert.ErrorContains(t, err, "an amount such as", text)
	}
}

// A band calibrated with a mass pulls that mass's weight at the length it was
// stretched to: with the factor applied, two runs carry the whole weight.
func TestCalibratedBandCarriesItsMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mass := units.Grams(rapid.IntRange(80, 150).Draw(t, "mass"))
		reached := units.Millimetres(rapid.IntRange(90, 120).Draw(t, "reached"))
		c, err := parts.Read("c.toml", []byte("[band.b]\nflat_length = \"63 mm\"\nwidth = \"1.5 mm\"\nthickness = \"0.9 mm\"\nhung_mass = \""+
			units.Masses.Format(mass)+"\"\nreached = \""+units.Lengths.Format(reached)+"\"\n"))
		require.NoError(t, err)
		b := c.Bands[0]
		assert.True(t, b.Calibrated)
		loop := mechanics.Loop{Rest: 2 * b.FlatLength, Width: b.Width, Thickness: b.Thickness, Strands: 1, PullFactor: b.PullFactor, Rubber: mechanics.DefaultRubber()}
		assert.InEpsilon(t, float64(mass)/1000*9.80665, 2*float64(loop.Pull(float64(reached/b.FlatLength))), 1e-9)
	})
}

func TestCountedMotorSpeed(t *testing.T) {
	c, err := parts.Read("c.toml", []byte("[motor.m]\nrated = \"3 V\"\nfree_speed = \"9000 rpm\"\ncounted_speed = \"340 turns in 3 s\"\n"))
	require.NoError(t, err)
	assert.Equal(t, units.RPM(6800), c.Motors[0].FreeSpeed)
	assert.True(t, c.Motors[0].Calibrated)
}

// blocks cuts a cupboard into its tables; what stands before the first is kept
// apart.
func blocks(data []byte) (top string, tables []string) {
	parts := strings.Split("\n"+string(data), "\n[")
	return parts[0], parts[1:]
}

// The order of the tables changes nothing.
func TestOrderOfTheFileChangesNothing(t *testing.T) {
	for _, data := range [][]byte{demo.StarterCupboard(), demo.Cupboard()} {
		want, err := parts.Read("c.toml", data)
		require.NoError(t, err)
		rapid.Check(t, func(t *rapid.T) {
			top, tables := blocks(data)
			got, err := parts.Read("c.toml", []byte(top+"\n["+strings.Join(rapid.Permutation(tables).Draw(t, "order"), "\n[")))
			require.NoError(t, err)
			assert.Equal(t, want, got)
		})
	}
}

func TestExampleCupboardIsMeasuredInFull(t *testing.T) {
	c, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	assert.Len(t, c.Pulleys, 12)
	assert.Len(t, c.Bands, 10)
	assert.Len(t, c.Motors, 2)
	for _, p := range c.Pulleys {
		assert.Empty(t, p.Assumed, p.Name)
	}
	for _, b := range c.Bands {
		assert.Empty(t, b.Assumed, b.Name)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(demo.Cupboard())
	f.Add(demo.StarterCupboard())
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := parts.Read("c.toml", data)
		if (c == nil) == (err == nil) {
			t.Fatal("either a cupboard or an error")
		}
		if err != nil {
			return
		}
		for _, p := range c.Pulleys {
			if !(p.Bore > 0 && p.Bore < p.GrooveFloor && p.GrooveFloor <= p.Outside && p.GrooveWidth > 0 && p.GrooveWidth <= p.Width && p.Count > 0) {
				t.Fatalf("%+v", p)
			}
		}
		for _, b := range c.Bands {
			if !(b.FlatLength > 0 && b.Width > 0 && b.Thickness > 0 && b.PullFactor > 0 && b.Count > 0) {
				t.Fatalf("%+v", b)
			}
		}
		for _, m := range c.Motors {
			if _, err := mechanics.NewMotor(m.Rated, m.FreeSpeed, m.FreeCurrent, m.StallTorque, m.StallCurrent); err != nil {
				t.Fatalf("%+v: %v", m, err)
			}
		}
	})
}

// TestSpeedKnown reads how well a free speed is known that was not fully counted.
func TestSpeedKnown(t *testing.T) {
	cup, err := parts.Read("c.toml", []byte("[motor.m]\nrated = \"3 V\"\nfree_speed = \"5000 rpm\"\nstall_torque = \"2 mN.m\"\n"))
	require.NoError(t, err)
	got, err := cup.Calibrate("l.toml", []byte("[motor.m]\nfree_speed = \"5300 rpm\"\nspeed_known_to = \"9 %\"\n"))
	require.NoError(t, err)
	assert.InDelta(t, 0.09, got.Motors[0].SpeedKnown, 1e-12)
	assert.False(t, got.Motors[0].Calibrated)
	for text, says := range map[string]string{
		"[motor.m]\ncounted_speed = \"5300 rpm\"\nspeed_known_to = \"9 %\"\n": "leave this line out",
		"[motor.m]\nspeed_known_to = \"50 %\"\n":                              "speed_known_to",
	} {
		_, err := cup.Calibrate("l.toml", []byte(text))
		assert.ErrorContains(t, err, says)
	}
}
