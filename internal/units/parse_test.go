package units_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

// reader is any notation, reading plain numbers in the unit of its type.
type reader func(text string) (float64, error)

func reads[Q ~float64](n *units.Notation[Q]) reader {
	return func(text string) (float64, error) {
		q, err := n.Parse(text)
		return float64(q), err
	}
}

func readers() map[string]reader {
	return map[string]reader{
		"length": reads(&units.Lengths), "mass": reads(&units.Masses), "force": reads(&units.Forces),
		"torque": reads(&units.Torques), "voltage": reads(&units.Voltages), "current": reads(&units.Currents),
		"resistance": reads(&units.Resistances), "capacity": reads(&units.Capacities), "angle": reads(&units.Angles),
		"share": reads(&units.Shares), "time": reads(&units.Times), "turning": reads(&units.Turnings), "travel": reads(&units.Travels),
	}
}

func TestParse(t *testing.T) {
	// Exact by definition: the inch 25.4 mm (NBS AMS 55, table 2.4), gf·cm
	// 0.0980665 mN·m (standard gravity, 3rd CGPM 1901).
	for _, c := range []struct {
		kind, text string
		want       float64
	}{
		{"length", "150 mm", 150}, {"length", "15 cm", 150}, {"length", "0.15 m", 150}, {"length", ".5 mm", 0.5}, {"length", "5. mm", 5},
		{"length", "6 in", 152.4}, {"length", "1/8 in", 3.175}, {"length", "2 1/2 in", 63.5}, {"length", "2 1/2\"", 63.5},
		{"length", " 150mm ", 150}, {"length", "1.5e2 mm", 150}, {"length", "150 MM", 150}, {"length", "0 mm", 0}, {"length", "-0 mm", 0},
		{"mass", "200 g", 200}, {"mass", "0.2 kg", 200},
		{"force", "1.5 N", 1.5}, {"force", "1500 mN", 1.5},
		{"torque", "2 mN.m", 2}, {"torque", "2 mNm", 2}, {"torque", "2 mN·m", 2}, {"torque", "0.002 N.m", 2}, {"torque", "20 g.cm", 1.96133}, {"torque", "20 gf.cm", 1.96133},
		{"voltage", "1.5 V", 1.5}, {"voltage", "1500 mV", 1.5},
		{"current", "70 mA", 0.07}, {"current", "0.5 A", 0.5},
		{"resistance", "0.2 ohm", 0.2}, {"resistance", "0.2 Ω", 0.2},
		{"capacity", "900 mAh", 900}, {"capacity", "0.9 Ah", 900},
		{"angle", "180 deg", math.Pi}, {"angle", "180°", math.Pi},
		{"share", "25 %", 0.25}, {"share", "25%", 0.25},
		{"time", "3 s", 3}, {"time", "2 minutes", 120},
		{"turning", "20 rpm", 20}, {"turning", "2 turns/s", 120}, {"turning", "2 turns per second", 120}, {"turning", "90 turns a minute", 90},
		{"turning", "1 turn in 3 s", 20}, {"turning", "34 turns in 30 s", 68}, {"turning", "1 1/2 turns in 3 seconds", 30}, {"turning", "5 s per turn", 12}, {"turning", "30 turns in 2 min", 15},
		{"travel", "0.3 m/s", 0.3}, {"travel", "300 mm/s", 0.3}, {"travel", "10 m in 25 s", 0.4}, {"travel", "10 in in 5 s", 0.0508},
	} {
		got, err := readers()[c.kind](c.text)
		require.NoError(t, err, c.text)
		assert.InEpsilon(t, 1+c.want, 1+got, 1e-12, c.text)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ kind, text, want string }{
		{"length", "150", `150 has no unit: write "150 mm"`},
		{"mass", "1.5", `1.5 has no unit: write "1.5 g"`},
		{"turning", "20", `20 has no unit: write "20 rpm"`},
		{"share", "25", `25 has no unit: write "25 %"`},
		{"length", "", `"" does not begin with a number: a length is written like "150 mm"`},
		{"length", "about 20 mm", `"about 20 mm" does not begin with a number: a length is written like "150 mm"`},
		{"length", "20 foo", `"20 foo" is not a length: write for example "150 mm"`},
		{"length", "20 g", `"20 g" is not a length: write for example "150 mm"`},
		{"length", "60,5 mm", `"60,5 mm" has a comma in its number, where a point belongs: a length is written like "150 mm"`},
		{"length", "-5 mm", `"-5 mm" is below zero: a length is written like "150 mm"`},
		{"length", "NaN mm", `"NaN mm" does not begin with a number: a length is written like "150 mm"`},
		{"length", "Inf mm", `"Inf mm" does not begin with a number: a length is written like "150 mm"`},
		{"length", "1e999 mm", `"1e999 mm" is not a number that can be measured: a length is written like "150 mm"`},
		{"length", "1e308 m", `"1e308 m" is not a number that can be measured: a length is written like "150 mm"`},
		{"length", "1/0 mm", `"1/0 mm" is not a number that can be measured: a length is written like "150 mm"`},
		{"length", "0/0 mm", `"0/0 mm" is not a number that can be measured: a length is written like "150 mm"`},
		{"length", "1.5/2 mm", `"1.5/2 mm" is not a length: write for example "150 mm"`},
		{"angle", "40", `40 has no unit: write "40 deg"`},
		{"turning", "1 turn in 0 s", `the time in "1 turn in 0 s" is not clear: write for example "3 s"`},
		{"turning", "0 s per turn", `the time in "0 s per turn" is not clear: write for example "3 s"`},
		{"turning", "1 m in 3 s", `"1 m in 3 s" is not a speed of turning: write for example "1 turn in 3 s"`},
		{"turning", "11,5 turns in 30 s", `"11,5 turns in 30 s" has a comma in its number, where a point belongs`},
		{"turning", "1 turn in 2,5 s", `"1 turn in 2,5 s" has a comma in its number, where a point belongs`},
		{"turning", "2,5 s per turn", `"2,5 s per turn" has a comma in its number, where a point belongs`},
		{"travel", "1,5 m in 4 s", `"1,5 m in 4 s" has a comma in its number, where a point belongs`},
		{"turning", "0.3 m/s", `"0.3 m/s" is not a speed of turning: write for example "20 rpm"`},
		{"travel", "20 rpm", `"20 rpm" is not a speed of travel: write for example "0.3 m/s"`},
		{"travel", "10 m in 25", `the time in "10 m in 25" is not clear: write for example "3 s"`},
	} {
		_, err := readers()[c.kind](c.text)
		assert.EqualError(t, err, c.want)
	}
	_, err := units.Lengths.Parse(strings.Repeat("x", 1<<20))
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 300, "a long text is cut short in its message")
}

func TestFormat(t *testing.T) {
	assert.Equal(t, "2000 mm", units.Lengths.Format(2000))
	assert.Equal(t, "0.1 mm", units.Lengths.Format(0.1))
	assert.Equal(t, "70 mA", units.Currents.Format(0.07))
	assert.Equal(t, "45 deg", units.Angles.Format(units.Degrees(45)))
	assert.Equal(t, "33.3333 %", units.Shares.Format(1.0/3))
}

// What Format shows, Parse reads as the same quantity to six figures.
func TestFormatThenParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(0, 1e6).Draw(t, "value")
		got, err := units.Currents.Parse(units.Currents.Format(units.Amps(want)))
		require.NoError(t, err)
		assert.InDelta(t, want, float64(got), 1e-5*want)
	})
}

// A fraction is the same length as its decimal.
func TestExactIsReadAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long := units.Millimetres(rapid.Float64Range(0, 5000).Draw(t, "length"))
		is, err := units.Lengths.Parse(units.Lengths.Exact(long))
		require.NoError(t, err)
		assert.Equal(t, long, is)
		for _, share := range []float64{float64(rapid.IntRange(1, 99).Draw(t, "percent")) * 0.01, rapid.Float64Range(0, 1).Draw(t, "share")} {
			round := units.Shares.Rounded(share)
			assert.InEpsilon(t, 1+share, 1+round, 1e-5)
			is, err := units.Shares.Parse(units.Shares.Exact(round))
			require.NoError(t, err)
			assert.Equal(t, round, is)
			assert.LessOrEqual(t, round, units.Shares.Rounded(share*1.0001))
		}
	})
	assert.Equal(t, "280 mm", units.Lengths.Exact(280))
	assert.Equal(t, "86.66666666666667 mm", units.Lengths.Exact(260./3))
}

func TestFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole, above, below := rapid.IntRange(0, 100).Draw(t, "whole"), rapid.IntRange(0, 100).Draw(t, "above"), rapid.IntRange(1, 100).Draw(t, "below")
		n := strconv.Itoa
		mixed, err := units.Lengths.Parse(n(whole) + " " + n(above) + "/" + n(below) + " in")
		require.NoError(t, err)
		assert.InDelta(t, 25.4*(float64(whole)+float64(above)/float64(below)), float64(mixed), 1e-9)
	})
}

// FuzzParse: every notation gives a finite number from 0 up or a sentence on
// one short line.
func FuzzParse(f *testing.F) {
	for _, text := range []string{"150 mm", "2 1/2 in", "1 turn in 3 s", "10 in in 5 s", "5 s per turn", "20 g.cm", "-1e-9 mm", "1/0 in", "60,5 mm", "25 %", "\xff mm", " per turn"} {
		f.Add(text)
	}
	all := readers()
	f.Fuzz(func(t *testing.T, text string) {
		for kind, read := range all {
			v, err := read(text)
			if err != nil {
				if v != 0 || strings.ContainsAny(err.Error(), "\n\r\x1b") || len(err.Error()) > 2000 {
					t.Fatalf("%s %q: %v, %v", kind, text, v, err)
				}
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%s %q: %v", kind, text, v)
			}
		}
	})
}
