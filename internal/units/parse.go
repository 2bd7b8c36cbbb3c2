package units

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// quantity is a number, perhaps with a fraction, and what follows it.
var quantity = regexp.MustCompile(`^\s*(?:(\d+)\s+(\d+)/(\d+)|(\d+)/(\d+)|(\d*\.?\d+(?:[eE][-+]?\d+)?))\s*(.*?)\s*$`)

// split reads the number in front of a quantity: "2 1/2 in" is 2.5 and "in".
func split(text string) (float64, string, error) {
	m := quantity.FindStringSubmatch(text)
	if m == nil {
		return 0, "", fmt.Errorf("%q is not a quantity", text)
	}
	num := func(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
	var v float64
	switch {
	case m[1] != "":
		v = num(m[1]) + num(m[2])/num(m[3])
	case m[4] != "":
		v = num(m[4]) / num(m[5])
	default:
		v = num(m[6])
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, "", fmt.Errorf("%q is not a quantity that can be measured", text)
	}
	return v, m[7], nil
}

// read reads a quantity in one of the units of a table. first is the unit a bare
// number is likely to have been meant in.
func read(text, first string, scale map[string]float64) (float64, error) {
	v, unit, err := split(text)
	if err != nil {
		return 0, fmt.Errorf("%w: write for example %q", err, "20 "+first)
	}
	if unit == "" {
		return 0, fmt.Errorf("%q has no unit: write %q if that is what is meant", text, strings.TrimSpace(text)+" "+first)
	}
	f, ok := scale[unit]
	if !ok {
		f, ok = scale[strings.ToLower(unit)]
	}
	if !ok {
		return 0, fmt.Errorf("%q has the unit %q, which does not fit here: write for example %q", text, unit, "20 "+first)
	}
	return v * f, nil
}

// ParseLength reads "150 mm", "15 cm", "6 in" or "2 1/2 in".
func ParseLength(text string) (Millimetres, error) {
	v, err := read(text, "mm", map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": MillimetresPerInch, "inch": MillimetresPerInch, "inches": MillimetresPerInch, `"`: MillimetresPerInch})
	return Millimetres(v), err
}

// ParseMass reads "200 g" or "0.2 kg".
func ParseMass(text string) (Grams, error) {
	v, err := read(text, "g", map[string]float64{"g": 1, "kg": 1000})
	return Grams(v), err
}

// ParseTorque reads "2 mN.m", "20 g.cm" or "0.002 N.m".
func ParseTorque(text string) (NewtonMillimetres, error) {
	g := NewtonMillimetresPerGramCentimetre
	v, err := read(text, "mN.m", map[string]float64{
		"mN.m": 1, "mN·m": 1, "mNm": 1, "N.mm": 1, "Nmm": 1, "N.m": 1000, "Nm": 1000, "N·m": 1000, "g.cm": g, "gcm": g, "gf.cm": g, "g·cm": g,
	})
	return NewtonMillimetres(v), err
}

// ParseVoltage reads "1.5 V".
func ParseVoltage(text string) (Volts, error) {
	v, err := read(text, "V", map[string]float64{"V": 1, "v": 1, "mV": 0.001})
	return Volts(v), err
}

// ParseCurrent reads "70 mA" or "0.5 A".
func ParseCurrent(text string) (Amps, error) {
	v, err := read(text, "mA", map[string]float64{"A": 1, "mA": 0.001})
	return Amps(v), err
}

// ParseResistance reads "0.2 ohm".
func ParseResistance(text string) (Ohms, error) {
	v, err := read(text, "ohm", map[string]float64{"ohm": 1, "ohms": 1, "Ω": 1})
	return Ohms(v), err
}

// ParseCapacity reads "2000 mAh".
func ParseCapacity(text string) (MilliampHours, error) {
	v, err := read(text, "mAh", map[string]float64{"mAh": 1, "Ah": 1000})
	return MilliampHours(v), err
}

// ParseAngle reads "40 deg".
func ParseAngle(text string) (Radians, error) {
	v, err := read(text, "deg", map[string]float64{"deg": 1, "degrees": 1, "°": 1})
	return Degrees(v), err
}

// ParseShare reads "25 %" as 0.25.
func ParseShare(text string) (float64, error) {
	v, err := read(text, "%", map[string]float64{"%": 0.01, "percent": 0.01})
	return v, err
}

var (
	turnsIn  = regexp.MustCompile(`^\s*([\d./ ]+)\s*turns?\s+in\s+([\d.]+)\s*(?:s|seconds?)\s*$`)
	perTurn  = regexp.MustCompile(`^\s*([\d.]+)\s*(?:s|seconds?)\s+per\s+turn\s*$`)
	lengthIn = regexp.MustCompile(`^\s*(.+?)\s+in\s+([\d.]+)\s*(?:s|seconds?)\s*$`)
)

// ParseTurning reads a speed of turning: "20 rpm", "2 turns/s", "1 turn in 3 s",
// "3 s per turn".
func ParseTurning(text string) (RPM, error) {
	if m := turnsIn.FindStringSubmatch(text); m != nil {
		turns, rest, err := split(m[1])
		secs, err2 := strconv.ParseFloat(m[2], 64)
		if err == nil && err2 == nil && rest == "" && secs > 0 {
			return RPM(60 * turns / secs), nil
		}
	}
	if m := perTurn.FindStringSubmatch(text); m != nil {
		if secs, err := strconv.ParseFloat(m[1], 64); err == nil && secs > 0 {
			return RPM(60 / secs), nil
		}
	}
	v, err := read(text, "rpm", map[string]float64{"rpm": 1, "turns/min": 1, "turns/s": 60, "turn/s": 60, "turns per second": 60, "turns per minute": 1, "turns a minute": 1})
	return RPM(v), err
}

// ParseTravel reads a speed of travel: "0.3 m/s", "40 mm/s", "10 m in 25 s".
func ParseTravel(text string) (MetresPerSecond, error) {
	if m := lengthIn.FindStringSubmatch(text); m != nil {
		way, err := ParseLength(m[1])
		secs, err2 := strconv.ParseFloat(m[2], 64)
		if err == nil && err2 == nil && secs > 0 {
			return MetresPerSecond(float64(way) / 1000 / secs), nil
		}
	}
	v, err := read(text, "m/s", map[string]float64{"m/s": 1, "cm/s": 0.01, "mm/s": 0.001})
	return MetresPerSecond(v), err
}
