package parts

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/mechanics"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// What is taken of a motor whose sheet is not at hand: one published sheet of
// the commonest small size, "130" (rated 6 V: free 70 mA, stall 500 mA, body
// 27.5 x 20 x 15 mm, shaft 2 mm across and 8 mm long, 17.5 g). A motor of the
// same size wound for another voltage turns the same power at that voltage, so
// the currents go as 1 / rated voltage.
const (
	stallPower      = 6 * 0.5  // W at rated voltage
	freePower       = 6 * 0.07 // W at rated voltage
	usualShaft      = units.Millimetres(2)
	usualShaftLong  = units.Millimetres(8)
	usualBodyLong   = units.Millimetres(27.5)
	usualBodyWide   = units.Millimetres(20)
	usualBodyHigh   = units.Millimetres(15)
	usualMotorGrams = units.Grams(17.5)
)

// readMotor reads a [motor.NAME] table.
//
//	rated           voltage at which the other figures hold; needed
//	volts           the range on the packet, as ["1.5 V", "4.5 V"]; without it a motor
//	                may be given half as much again as its rated voltage
//	free_speed      with nothing on the shaft; needed without counted_speed
//	counted_speed   the same, counted on this motor: takes the place of
//	                free_speed and narrows the ranges of what is foretold
//	free_current    otherwise 0.42 W / rated
//	stall_torque    one of the two is enough; with neither the stall current is
//	stall_current   taken as 3 W / rated
//	shaft_diameter, shaft_length            otherwise 2 mm and 8 mm
//	body_length, body_width, body_height    otherwise 27.5, 20 and 15 mm
//	mass            otherwise 17.5 g; nothing rests on it
func readMotor(it Item, t *tomlfile.Table) Motor {
	amps := tomlfile.Range[units.Amps]{Least: 0, Most: 20}
	speeds := tomlfile.Range[units.RPM]{Least: 10, Most: 50_000}
	t.Need("rated", `"3 V"`)
	m := Motor{
		Rated:        tomlfile.Quantity(t, "rated", &units.Voltages, 3, tomlfile.Range[units.Volts]{Least: 0.5, Most: 24}),
		FreeSpeed:    tomlfile.Quantity(t, "free_speed", &units.Turnings, 6000, speeds),
		StallTorque:  tomlfile.Quantity(t, "stall_torque", &units.Torques, 0, tomlfile.Range[units.NewtonMillimetres]{Least: 0.01, Most: 1000}),
		StallCurrent: tomlfile.Quantity(t, "stall_current", &units.Currents, 0, tomlfile.Range[units.Amps]{Least: 0.01, Most: 20}),
		Mass:         tomlfile.Quantity(t, "mass", &units.Masses, usualMotorGrams, tomlfile.Range[units.Grams]{Least: 1, Most: 1000}),
	}
	m.VoltsLeast, m.VoltsMost = readVolts(t, m.Rated)
	if t.Has("counted_speed") {
		m.FreeSpeed, m.Calibrated = tomlfile.Quantity(t, "counted_speed", &units.Turnings, 6000, speeds), true
	} else {
		t.Offer("counted_speed")
		t.Need("free_speed", `"6000 rpm"`)
	}
	m.SpeedKnown = readSpeedKnown(t)
	m.FreeCurrent = milliamps(freePower / float64(m.Rated))
	if t.Has("free_current") {
		m.FreeCurrent = tomlfile.Quantity(t, "free_current", &units.Currents, m.FreeCurrent, amps)
	} else {
		t.Offer("free_current")
		it.Assumed = append(it.Assumed, fmt.Sprintf("free current taken as %s", units.Currents.Format(m.FreeCurrent)))
	}
	if !t.Has("stall_torque") && !t.Has("stall_current") {
		m.StallCurrent = milliamps(stallPower / float64(m.Rated))
		it.Assumed = append(it.Assumed, fmt.Sprintf("stall current taken as %s", units.Currents.Format(m.StallCurrent)))
	}
	m.ShaftDiameter = assumed(t, &it, "shaft_diameter", "shaft diameter", shaftSize, usualShaft, "")
	m.ShaftLength = assumed(t, &it, "shaft_length", "shaft length", anySize, usualShaftLong, "")
	readBody(t, &it, &m)
	if t.Good("rated", "free_speed", "counted_speed", "free_current", "stall_torque", "stall_current") {
		if _, err := mechanics.NewMotor(m.Rated, m.FreeSpeed, m.FreeCurrent, m.StallTorque, m.StallCurrent); err != nil {
			t.Fail("", "the figures of this motor do not go together: %v", err)
		}
	}
	m.Item = it
	return m
}

// readVolts reads the range of volts on a motor's packet, in which its rated voltage lies.
func readVolts(t *tomlfile.Table, rated units.Volts) (least, most units.Volts) {
	const example = `["1.5 V", "4.5 V"]`
	list := t.List("volts", example, 2)
	if list == nil {
		return 0, 0
	}
	var ends [2]units.Volts
	for i, v := range list {
		volts, err := tomlfile.Measure(v, &units.Voltages, tomlfile.Range[units.Volts]{Least: 0.5, Most: 24})
		if err != nil {
			t.Fail("volts", "%v", err)
			return 0, 0
		}
		ends[i] = volts
	}
	written := units.Voltages.Format
	switch {
	case len(list) != 2:
		t.Fail("volts", "found %d of the two values that are needed, the least and the most: write for example volts = %s", len(list), example)
	case ends[0] > ends[1]:
		t.Fail("volts", "the least comes first: write volts = [%q, %q]", written(ends[1]), written(ends[0]))
	case t.Good("rated") && (rated < ends[0] || rated > ends[1]):
		t.Fail("volts", "the rated voltage, %s, is not between %s and %s", written(rated), written(ends[0]), written(ends[1]))
	default:
		return ends[0], ends[1]
	}
	return 0, 0
}

// readBody notes at most one assumption, for it is one fact that nobody looked
// up.
func readBody(t *tomlfile.Table, it *Item, m *Motor) {
	var notes []string
	for _, side := range []struct {
		key   string
		to    *units.Millimetres
		usual units.Millimetres
	}{{"body_length", &m.BodyLength, usualBodyLong}, {"body_width", &m.BodyWidth, usualBodyWide}, {"body_height", &m.BodyHeight, usualBodyHigh}} {
		*side.to = tomlfile.Quantity(t, side.key, &units.Lengths, side.usual, discSize)
		if !t.Has(side.key) {
			notes = append(notes, strings.ReplaceAll(side.key, "_", " ")+" "+units.Lengths.Format(side.usual))
		}
	}
	if len(notes) > 0 {
		it.Assumed = append(it.Assumed, "taken as usual: "+strings.Join(notes, ", "))
	}
}

// milliamps rounds to whole milliamps, so that what is noted is what is used.
func milliamps(amps float64) units.Amps { return units.Amps(math.Round(amps*1000) / 1000) }

// readSpeedKnown is speed_known_to: how far off a free speed that was not fully counted may
// be, from what a counted one may be (5 %) to what a sheet may (20 %). 0 without.
func readSpeedKnown(t *tomlfile.Table) float64 {
	if !t.Has("speed_known_to") {
		t.Offer("speed_known_to")
		return 0
	}
	if t.Has("counted_speed") {
		t.Fail("speed_known_to", "a counted speed is known to 5 %% already: leave this line out")
		return 0
	}
	return tomlfile.Quantity(t, "speed_known_to", &units.Shares, 0.1, tomlfile.Range[float64]{Least: 0.05, Most: 0.2})
}
