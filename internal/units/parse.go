package units

import (
	"math"
	"strings"
)

// How each quantity is written. These never change. The sizes of the units are
// exact by definition (SI; the inch and standard gravity as said above).
var (
	// Lengths reads "150 mm", "15 cm", "0.15 m", "6 in" and "2 1/2 in".
	Lengths = Notation[Millimetres]{kind: "a length", unit: "mm", example: "150 mm", scale: map[string]float64{
		"mm": 1, "cm": 10, "m": 1000, "in": MillimetresPerInch, "inch": MillimetresPerInch, "inches": MillimetresPerInch, `"`: MillimetresPerInch,
	}}
	// Masses reads "150 g" and "0.15 kg".
	Masses = Notation[Grams]{kind: "a mass", unit: "g", example: "150 g", scale: map[string]float64{"g": 1, "kg": 1000}}
	// Forces reads "1.5 N" and "1500 mN".
	Forces = Notation[Newtons]{kind: "a force", unit: "N", example: "1.5 N", scale: map[string]float64{"N": 1, "mN": 0.001}}
	// Torques reads "2 mN.m", "2 mNm", "2 N.mm", "0.002 N.m" and "20 g.cm".
	Torques = Notation[NewtonMillimetres]{kind: "a torque", unit: "mN.m", example: "2 mN.m", scale: torqueScale()}
	// Voltages reads "1.5 V".
	Voltages = Notation[Volts]{kind: "a voltage", unit: "V", example: "1.5 V", scale: map[string]float64{"V": 1, "mV": 0.001}}
	// Currents reads "70 mA" and "0.07 A".
	Currents = Notation[Amps]{kind: "a current", unit: "mA", example: "70 mA", scale: map[string]float64{"mA": 0.001, "A": 1}}
	// Resistances reads "0.2 ohm" and "0.2 Ω".
	Resistances = Notation[Ohms]{kind: "a resistance", unit: "ohm", example: "0.2 ohm", scale: map[string]float64{
		"ohm": 1, "ohms": 1, "mohm": 0.001,
		"\u03a9": 1, "\u2126": 1, // the Greek letter, and the sign some keyboards give
	}}
	// Capacities reads "900 mAh" and "0.9 Ah".
	Capacities = Notation[MilliampHours]{kind: "a capacity", unit: "mAh", example: "900 mAh", scale: map[string]float64{"mAh": 1, "Ah": 1000}}
	// Angles reads "40 deg" and "40°".
	Angles = Notation[Radians]{kind: "an angle", unit: "deg", example: "40 deg", scale: map[string]float64{
		"deg": math.Pi / 180, "degree": math.Pi / 180, "degrees": math.Pi / 180, "°": math.Pi / 180,
	}}
	// Shares reads "25 %" as 0.25.
	Shares = Notation[float64]{kind: "a share", unit: "%", example: "25 %", scale: map[string]float64{"%": 0.01, "percent": 0.01, "per cent": 0.01}}
	// Times reads "3 s" and "2 min".
	Times = Notation[Seconds]{kind: "a time", unit: "s", example: "3 s", scale: map[string]float64{
		"s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "minute": 60, "minutes": 60,
	}}
	// Turnings reads speeds of turning: "20 rpm", "2 turns/s", "1 turn in 3 s",
	// "34 turns in 30 s" and "3 s per turn".
	Turnings = Notation[RPM]{kind: "a speed of turning", unit: "rpm", example: "20 rpm", scale: turningScale(), phrase: turningPhrase}
	// Travels reads speeds of travel: "0.3 m/s", "300 mm/s" and "10 m in 25 s".
	Travels = Notation[MetresPerSecond]{kind: "a speed of travel", unit: "m/s", example: "0.3 m/s", scale: map[string]float64{
		"m/s": 1, "cm/s": 0.01, "mm/s": 0.001,
	}, phrase: travelPhrase}
)

func torqueScale() map[string]float64 {
	scale := map[string]float64{}
	for _, dot := range []string{"", ".", "·", " "} {
		scale["mN"+dot+"m"] = 1
		scale["N"+dot+"mm"] = 1
		scale["N"+dot+"cm"] = 10
		scale["N"+dot+"m"] = 1000
		for _, gram := range []string{"g", "gf"} {
			scale[gram+dot+"cm"] = NewtonMillimetresPerGramCentimetre
			scale["k"+gram+dot+"cm"] = 1000 * NewtonMillimetresPerGramCentimetre
		}
	}
	return scale
}

func turningScale() map[string]float64 {
	scale := map[string]float64{"rpm": 1}
	for _, turn := range []string{"turn", "turns", "rev", "revs"} {
		for _, per := range []string{"/", " per ", " a "} {
			for _, second := range []string{"s", "sec", "second"} {
				scale[turn+per+second] = 60
			}
			for _, minute := range []string{"min", "minute"} {
				scale[turn+per+minute] = 1
			}
		}
	}
	return scale
}

// turningPhrase reads "34 turns in 30 s" and "3 s per turn".
func turningPhrase(text string) (rpm float64, understood bool, err error) {
	if before, after, ok := cutLast(text, " in "); ok {
		turns, unit, err := splitNumber(before)
		if err != nil || (unit != "turn" && unit != "turns") {
			return 0, true, Unclear("%s is not a speed of turning: write for example %q", text, "1 turn in 3 s")
		}
		time, err := duration(text, after)
		return 60 * turns / time, true, err
	}
	for _, per := range []string{" per turn", " a turn", "/turn"} {
		if before, ok := strings.CutSuffix(strings.TrimSpace(text), per); ok {
			time, err := duration(text, before)
			return 60 / time, true, err
		}
	}
	return 0, false, nil
}

// travelPhrase reads "10 m in 25 s". The last "in" is the one that counts, so
// that inches may be used as well.
func travelPhrase(text string) (metresPerSecond float64, understood bool, err error) {
	before, after, ok := cutLast(text, " in ")
	if !ok {
		return 0, false, nil
	}
	way, err := Lengths.Parse(before)
	if err != nil {
		return 0, true, Unclear("%s is not a speed of travel: write for example %q", text, "10 m in 25 s")
	}
	time, err := duration(text, after)
	return float64(way) / 1000 / time, true, err
}

// duration is the time a phrase names, in seconds and above 0.
func duration(phrase, text string) (float64, error) {
	time, err := Times.Parse(text)
	if err != nil || !(time > 0) {
		return 1, Unclear("the time in %s is not clear: write for example %q", phrase, "3 s")
	}
	return float64(time), nil
}

func cutLast(text, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return "", "", false
	}
	return text[:i], text[i+len(sep):], true
}
