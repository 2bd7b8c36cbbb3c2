package stocktake

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// What --assume usual takes for what stock lists never say. All common practice in
// primary schools: dowel of 5 mm in pieces of 300 mm, and pulleys bored for it; motors of
// 3 V with a spindle of 2 mm, holders for two cells; bands 1.5 mm wide. Small motors turn
// 2000 to 10 000 rpm free; 2000 rpm for each volt is in the middle.
const (
	usualAxle       units.Millimetres = 5
	usualRod        units.Millimetres = 300
	usualSpindle    units.Millimetres = 2
	usualBandWidth  units.Millimetres = 1.5
	usualVolts      units.Volts       = 3
	usualRPMPerVolt units.RPM         = 2000
	usualCells                        = 2
	usualCord       units.Millimetres = 1
	usualCordLength units.Millimetres = 2000
)

var voltsRange = pattern.Must(`(?i)\d\s*v?\s*(?:-|–|to|/)\s*\d+(?:[.,]\d+)?\s*v`)

// fill takes what the user says for what the list does not, and what is usual if the user
// says so. What the list says and cannot be read is never filled in.
func (t *taking) fill(r *Row, e *entry, failed map[string]refused) {
	take := func(key string, f field, value, how string) {
		if _, tried := failed[key]; tried || e.has(key) {
			return
		}
		words := strings.ReplaceAll(key, "_", " ")
		called := words
		switch key {
		case "rated":
			called, words = "rated voltage", "rated voltage"
		case "cells":
			called = "number of cells"
		}
		shown := strings.Trim(value, `"`)
		e.settings = append(e.settings, setting{key, value})
		r.assume(t.heading.column(f), false, fmt.Sprintf("no %s: taken as %s, as %s", called, shown, how))
		fact := fmt.Sprintf("%s taken as %s", words, shown)
		if strings.HasPrefix(how, "is usual") {
			fact += ", as is usual"
		}
		e.facts = append(e.facts, fact)
	}
	mm := func(v units.Millimetres) string { return quoted(units.Lengths.Format(v)) }
	if t.opt.FreeSpeed > 0 && e.kind == "motor" && !e.geared() {
		take("free_speed", freeField, quoted(units.Turnings.Format(t.opt.FreeSpeed)), "--free-speed says")
	}
	hub := e.kind == "pulley" || e.kind == "wheel" || e.kind == "drum"
	if t.opt.Bore > 0 && hub {
		take("bore", boreField, mm(t.opt.Bore), "--bore says")
	}
	if !t.opt.Usual {
		return
	}
	const usual = "is usual"
	if e.kind != "cells" && e.kind != "motor" && (rangeIn.MatchString(e.label) || upTo.MatchString(e.label) || severalTrades(e.label)) {
		return // 5 or 6 mm is said, if not which
	}
	if byNumbers.MatchString(e.label) && e.kind != "cells" && len(e.settings) == 0 {
		return // 6x300 is said, if not in what units
	}
	if hubKind(e.kind) && byNumbers.MatchString(e.size) {
		return // 40 x 8 x 5 is said, if not what each is
	}
	if e.kind == "axle" && !e.has("diameter") && strings.ContainsAny(e.label, "0123456789") {
		return // dowel 6 is said, if not what 6 is
	}
	axle := t.axle
	if axle == 0 {
		axle = usualAxle
	}
	switch {
	case hub && strings.Contains(" "+plainWords(e.label)+" ", " motor "):
		take("bore", boreField, mm(usualSpindle), "is usual for the spindle of a motor")
	case hub && t.axle > 0:
		take("bore", boreField, mm(axle), fmt.Sprintf("is usual on the %s dowel of which there is most", units.Lengths.Format(axle)))
	case hub:
		take("bore", boreField, mm(axle), usual)
	case e.kind == "axle":
		take("diameter", diameterField, mm(usualAxle), usual)
		take("length", lengthField, mm(usualRod), usual)
	case e.kind == "band" && !e.has("size") && e.has("flat_length"):
		take("width", widthField, mm(usualBandWidth), usual)
	case e.kind == "cells":
		if n, how := e.cellsFor(); n > 0 {
			take("cells", cellsField, fmt.Sprint(n), how)
		}
	case e.kind == "cord":
		take("diameter", diameterField, mm(usualCord), usual)
		take("length", lengthField, mm(usualCordLength), usual)
	case e.kind == "motor":
		t.fillMotor(e, take, usual)
	}
}

// isUsual reports whether --assume usual may take something for a key of a kind.
func isUsual(kind, key string, e *entry) bool {
	switch kind + " " + key {
	case "axle diameter", "axle length", "cells cells", "cord diameter", "cord length":
		return true
	case "motor rated":
		return e.usualMotor()
	case "band width":
		return e.has("flat_length")
	}
	return false
}

// cellsFor is how many cells a holder has by its voltage, or else the usual number; 0 if the
// voltage is none of so many cells in series, or that of a block of its own.
func (e *entry) cellsFor() (n int, how string) {
	const cell, block = 1.5, 9.0
	m := anyVolts.FindStringSubmatch(e.label + " " + e.size)
	if m == nil {
		return cellsNamed(e.label)
	}
	v := figure(strings.Replace(m[1], ",", ".", 1))
	if n = int(v / cell); v == block || float64(n)*cell != v {
		return 0, ""
	}
	return n, "is usual for " + plainFigure(v) + " V"
}

// cellsNamed is how many cells a holder has by words such as single; the usual number
// without any, and 0 if they say several.
func cellsNamed(label string) (n int, how string) {
	for _, w := range strings.Fields(plainWords(label)) {
		m := map[string]int{"single": 1, "double": 2, "twin": 2, "triple": 3}[w]
		switch {
		case m == 0 || m == n:
		case n > 0:
			return 0, ""
		default:
			n = m
		}
	}
	if n == 0 {
		return usualCells, "is usual"
	}
	return n, "its name has it"
}

// usualMotor reports whether a motor may be one of the usual ones: not if it has a gearbox,
// or is for a range of voltages.
func (e *entry) usualMotor() bool {
	said := e.label + ", " + e.size
	return !e.geared() && !voltsRange.MatchString(said) && !severalVolts(said)
}

// geared reports whether a motor has a gearbox: what turns out of that turns far slower than motors
// of its size do.
func (e *entry) geared() bool { return strings.Contains(plainWords(e.label+", "+e.size), "gear") }

// fillMotor fills in a motor.
func (t *taking) fillMotor(e *entry, take func(key string, f field, value, how string), usual string) {
	if !e.usualMotor() {
		return
	}
	take("rated", voltsField, quoted(units.Voltages.Format(usualVolts)), usual)
	for _, s := range e.settings {
		if s.key != "rated" {
			continue
		}
		rated, err := units.Voltages.Parse(strings.Trim(s.value, `"`))
		if err == nil && rated <= 6 {
			take("free_speed", freeField, quoted(units.Turnings.Format(usualRPMPerVolt*units.RPM(rated))), usual)
		}
	}
}

// dowelOf is the diameter of rods of which there are most pieces in lists; of several, the
// smallest. 0 if there are none.
func dowelOf(all []entry) units.Millimetres {
	pieces := map[units.Millimetres]int{}
	for i := range all {
		if all[i].kind != "axle" {
			continue
		}
		for _, s := range all[i].settings {
			if d, err := units.Lengths.Parse(strings.Trim(s.value, `"`)); s.key == "diameter" && err == nil {
				pieces[d] += all[i].count
			}
		}
	}
	var most units.Millimetres
	for _, d := range slices.Sorted(maps.Keys(pieces)) {
		if pieces[d] > pieces[most] {
			most = d
		}
	}
	return most
}
