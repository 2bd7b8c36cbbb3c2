package stocktake

import (
	"fmt"
	"regexp"
	"strings"

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

var voltsRange = regexp.MustCompile(`(?i)\d\s*v?\s*(?:-|–|to|/)\s*\d+(?:[.,]\d+)?\s*v`)

// fill takes what the user says for what the list does not, and what is usual if the user
// says so. What the list says and cannot be read is never filled in.
func (t *taking) fill(r *Row, e *entry, failed map[string]refused) {
	take := func(key string, f field, value, how string) {
		if _, tried := failed[key]; tried || e.has(key) {
			return
		}
		words := strings.ReplaceAll(key, "_", " ")
		shown := strings.Trim(value, `"`)
		e.settings = append(e.settings, setting{key, value})
		r.assume(t.heading.column(f), false, fmt.Sprintf("no %s: taken as %s, as %s", words, shown, how))
		fact := fmt.Sprintf("%s taken as %s", words, shown)
		if strings.HasPrefix(how, "is usual") {
			fact += ", as is usual"
		}
		e.facts = append(e.facts, fact)
	}
	mm := func(v units.Millimetres) string { return quoted(units.Lengths.Format(v)) }
	if t.opt.FreeSpeed > 0 && e.kind == "motor" {
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
	axle := t.axle
	if axle == 0 {
		axle = usualAxle
	}
	switch {
	case hub && strings.Contains(" "+plainWords(e.label)+" ", " motor "):
		take("bore", boreField, mm(usualSpindle), "is usual for the spindle of a motor")
	case hub && t.axle > 0:
		take("bore", boreField, mm(axle), fmt.Sprintf("is usual on the %s dowel of the list", units.Lengths.Format(axle)))
	case hub:
		take("bore", boreField, mm(axle), usual)
	case e.kind == "axle":
		take("diameter", diameterField, mm(usualAxle), usual)
		take("length", lengthField, mm(usualRod), usual)
	case e.kind == "band" && !e.has("size") && e.has("flat_length"):
		take("width", widthField, mm(usualBandWidth), usual)
	case e.kind == "cells":
		take("cells", cellsField, fmt.Sprint(usualCells), usual)
	case e.kind == "cord":
		take("diameter", diameterField, mm(usualCord), usual)
		take("length", lengthField, mm(usualCordLength), usual)
	case e.kind == "motor":
		t.fillMotor(e, take, usual)
	}
}

// fillMotor fills in a motor. One with a gearbox, and one for a range of voltages, is
// none of the usual ones.
func (t *taking) fillMotor(e *entry, take func(key string, f field, value, how string), usual string) {
	if strings.Contains(plainWords(e.label), "gear") || voltsRange.MatchString(e.label) {
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

// dowelOf is the diameter of the rods in lists, if all have one; 0 if there are several,
// or none.
func dowelOf(all []entry) units.Millimetres {
	var found units.Millimetres
	for i := range all {
		if all[i].kind != "axle" {
			continue
		}
		for _, s := range all[i].settings {
			if s.key != "diameter" {
				continue
			}
			d, err := units.Lengths.Parse(strings.Trim(s.value, `"`))
			if err != nil || found != 0 && d != found {
				return 0
			}
			found = d
		}
	}
	return found
}
