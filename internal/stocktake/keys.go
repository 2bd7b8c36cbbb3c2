package stocktake

import (
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/pattern"
	"findrive/internal/units"
)

// keys are what the fields of a sheet are called in the cupboard's table of each
// kind. What is not here says nothing about that kind.
var keys = map[string]map[field]string{
	"pulley": {outsideField: "outside", diameterField: "outside", outerField: "outside", floorField: "groove_floor", grooveField: "groove_width", boreField: "bore", innerField: "bore",
		widthField: "width", thickField: "width", materialField: "material"},
	"band":   {numberField: "size", flatField: "flat_length", lengthField: "flat_length", widthField: "width", thickField: "thickness"},
	"motor":  {voltsField: "rated", freeField: "free_speed", freeAmpsField: "free_current", torqueField: "stall_torque", stallField: "stall_current", shaftField: "shaft_diameter", shaftLong: "shaft_length"},
	"cells":  {cellsField: "cells", chemField: "chemistry"},
	"axle":   {diameterField: "diameter", outsideField: "diameter", outerField: "diameter", thickField: "diameter", lengthField: "length", materialField: "material"},
	"sleeve": {innerField: "inner", boreField: "inner", outerField: "outer", outsideField: "outer", diameterField: "outer", lengthField: "length"},
	"spacer": {boreField: "bore", innerField: "bore", outsideField: "outside", diameterField: "outside", outerField: "outside", thickField: "thickness", widthField: "thickness"},
	"wheel": {diameterField: "diameter", outsideField: "diameter", outerField: "diameter", boreField: "bore", innerField: "bore", widthField: "width", thickField: "width",
		materialField: "material"},
	"drum": {diameterField: "diameter", outsideField: "diameter", outerField: "diameter", boreField: "bore", innerField: "bore", widthField: "width", thickField: "width", lengthField: "width",
		materialField: "material"},
	"block": {sheavesField: "sheaves", sheaveField: "sheave", diameterField: "sheave", outsideField: "sheave", floorField: "groove_floor", grooveField: "groove_width"},
	"cord":  {diameterField: "diameter", thickField: "diameter", lengthField: "length"},
	"sheet": {thickField: "thickness", lengthField: "length", widthField: "width", materialField: "kind"},
}

// needs are the keys without which a part cannot be reckoned with, with what to
// call them.
var needs = map[string][][2]string{
	"pulley": {{"outside", "outside diameter"}, {"bore", "bore"}},
	"motor":  {{"rated", "voltage"}, {"free_speed", "free speed (rpm with nothing on the shaft)"}},
	"cells":  {{"cells", "number of cells in the holder"}},
	"axle":   {{"diameter", "diameter"}, {"length", "length of one piece"}},
	"sleeve": {{"inner", "inside diameter"}, {"outer", "outside diameter"}},
	"spacer": {{"bore", "bore"}, {"outside", "outside diameter"}, {"thickness", "thickness"}},
	"wheel":  {{"diameter", "diameter"}, {"bore", "bore"}},
	"drum":   {{"diameter", "diameter"}, {"bore", "bore"}},
	"block":  {{"sheaves", "number of sheaves"}, {"sheave", "diameter of a sheave"}},
	"cord":   {{"diameter", "diameter"}, {"length", "length of one piece"}},
	"sheet":  {{"thickness", "thickness"}, {"length", "length of one piece"}, {"width", "width of one piece"}, {"kind", "kind of sheet"}},
}

// spans tell a decimal comma from one that parts thousands; mm but for the speed.
var spans = map[string]span{
	"length": {10, 5000}, "free_speed": {500, 50_000}, "outside": {2, 600}, "diameter": {0.5, 600}, "bore": {0.5, 100}, "flat_length": {5, 1000},
}

// value reads a cell for a key of a kind. The amount's text is as TOML has it.
func value(kind, key, cell, unit string) (amount, error) {
	within, ok := spans[key]
	if !ok {
		within = span{0.1, 100}
	}
	if kind == "sheet" && key == "width" {
		within = spans["length"]
	}
	var a amount
	var err error
	switch key {
	case "size":
		return tradeNumber(cell)
	case "cells", "sheaves":
		if m := holds.FindStringSubmatch(cell); m != nil && key == "cells" { // 2 x AA
			cell = m[1] + m[2]
		}
		c, err := readCount(cell, 0)
		if err == nil && c.none {
			err = fmt.Errorf("%s says that there are none", units.Quoted(cell))
		}
		if err != nil {
			return a, err
		}
		if c.assumed != "" {
			a.note("%s", c.assumed)
		}
		a.text = strconv.Itoa(c.n)
		return a, nil
	case "chemistry":
		a.text = quoted(chemistry(cell))
		return a, nil
	case "material":
		word, sure := material(cell)
		if word == "" {
			return a, fmt.Errorf("%s is not a material known here", units.Quoted(cell))
		}
		if !sure {
			a.note("%s taken as %s", units.Quoted(cell), word)
		}
		a.text = quoted(word)
		return a, nil
	case "kind":
		word := sheetKind(cell)
		if word == "" {
			return a, fmt.Errorf("%s is no sheet known here: write card, corrugated card, plywood, MDF or corrugated plastic", units.Quoted(cell))
		}
		a.text = quoted(word)
		return a, nil
	case "rated":
		a, err = readAmount(direct.ReplaceAllString(cell, ""), &units.Voltages, within, unit, "V")
	case "free_speed":
		a, err = readAmount(cell, &units.Turnings, within, unit, "rpm")
	case "free_current", "stall_current":
		a, err = readAmount(cell, &units.Currents, within, unit, "")
	case "stall_torque":
		a, err = readAmount(cell, &units.Torques, within, unit, "")
	default:
		if long := manyOrAcross(kind, cell); long != nil && key == "diameter" {
			many := twoIn.FindStringSubmatch(cell)[1]
			if unit == "" {
				return a, fmt.Errorf("%s may be %s pieces, or %s mm across: write each size with its unit, and the pieces in a column of their own", units.Quoted(cell), many, many)
			}
			cell = many
		}
		if key == "flat_length" && notFlat.MatchString(cell) {
			return a, fmt.Errorf("%s is not its length laid flat: measure that", units.Quoted(cell))
		}
		a, err = readAmount(cell, &units.Lengths, within, unit, "mm")
	}
	a.text = quoted(a.text)
	return a, err
}

// usualSpans are sizes that parts of a school mostly have (common practice), mm. They tell
// only a figure that is in mm though the heading has another unit.
var usualSpans = map[string]span{
	"outside": {4, 200}, "diameter": {15, 350}, "axle diameter": {1.5, 13}, "cord diameter": {0.2, 5}, "bore": {1, 16}, "flat_length": {15, 300}, "axle length": {40, 2500}, "width": {1, 60}, "sheet width": {80, 1500},
}

// usualSpan is the span of a key of a kind.
func usualSpan(kind, key string) (span, bool) {
	if s, is := usualSpans[kind+" "+key]; is {
		return s, true
	}
	s, is := usualSpans[key]
	return s, is
}

// farOut reports whether a size is far from what parts of a school have: half of the least,
// or twice the most.
func farOut(kind, key string, v units.Millimetres) bool {
	usual, is := usualSpan(kind, key)
	return is && v > 0 && (float64(v) <= usual.least/2 || float64(v) >= usual.most*2)
}

// otherUnit reports whether a bare figure is a usual size in mm and none in the unit of its
// heading.
func otherUnit(kind, key, text, unit string, a amount) bool {
	usual, is := usualSpan(kind, key)
	if !is || unit == "" || unit == "mm" || !isBare(text) {
		return false
	}
	v, err := units.Lengths.Parse(strings.Trim(a.text, `"`))
	bare := figure(text)
	in := func(mm float64) bool { return mm >= usual.least && mm <= usual.most }
	return err == nil && in(bare) && !in(float64(v))
}

var direct = pattern.Must(`(?i)\s*\b(?:d\.?c\.?|rated)$`)

var digitsOnly = pattern.Must(`(?i)^(?:no\.?|nr\.?|number|#|size)?\s*#?\s*(\d{1,3})$`)

func tradeNumber(cell string) (amount, error) {
	m := digitsOnly.FindStringSubmatch(cell)
	if m == nil {
		return amount{}, fmt.Errorf("%s is not a band's trade number", units.Quoted(cell))
	}
	return amount{text: quoted(strings.TrimLeft(m[1], "0"))}, nil
}

// notForPupils are words for cells that the cupboard's reader refuses, and the word
// it refuses them by.
var notForPupils = []struct{ word, as string }{
	{"rechargeable", "rechargeable"}, {"nimh", "nimh"}, {"ni mh", "nimh"}, {"nicd", "nicd"}, {"ni cd", "nicd"}, {"nicad", "nicd"}, {"lead acid", "lead-acid"},
	{"lithium", "lithium"}, {"li ion", "li-ion"}, {"lipo", "lipo"}, {"li po", "lipo"}, {"button", "button"}, {"coin", "coin"}, {"cr2032", "button"}, {"18650", "li-ion"},
}

// unsafe is the word for cells that are not for pupils' models, if a text names any.
func unsafe(text string) string {
	padded := " " + plainWords(text) + " "
	for _, w := range notForPupils {
		if strings.Contains(padded, " "+w.word+" ") {
			return w.as
		}
	}
	return ""
}

func chemistry(cell string) string {
	if w := unsafe(cell); w != "" {
		return w
	}
	plain := plainWords(cell)
	switch {
	case strings.Contains(plain, "alkal"):
		return "alkaline"
	case strings.Contains(plain, "chlor"):
		return "zinc-chloride"
	case strings.Contains(plain, "zinc"), strings.Contains(plain, "carbon"):
		return "zinc-carbon"
	}
	return cell
}

// material is what a word for a material means; not sure if it could be another.
func material(cell string) (word string, sure bool) {
	plain := plainWords(cell)
	for _, m := range []struct {
		has, is string
		sure    bool
	}{
		{"plywood", "wood", true}, {"wood", "wood", true}, {"mdf", "wood", true}, {"ply", "wood", true}, {"ramin", "wood", true}, {"pine", "wood", true}, {"beech", "wood", true}, {"bamboo", "wood", true},
		{"card", "card", true}, {"plastic", "plastic", true}, {"nylon", "plastic", true}, {"acrylic", "plastic", true}, {"rubber", "rubber", true},
		{"brass", "brass", true}, {"alumin", "aluminium", true}, {"alloy", "aluminium", false}, {"steel", "steel", true}, {"metal", "steel", false},
	} {
		if strings.Contains(plain, m.has) {
			return m.is, m.sure
		}
	}
	return "", false
}

// materialIn is the word of a name that says what a thing is made of; empty if none does, or
// two differ.
func materialIn(name string) string {
	if m := goesWith.FindStringIndex(name); m != nil {
		name = name[:m[0]]
	}
	found := ""
	for _, w := range strings.Fields(plainWords(name)) {
		switch w {
		case "wood", "wooden", "plywood", "mdf", "ramin", "pine", "beech", "bamboo", "plastic", "nylon", "acrylic", "brass", "aluminium", "aluminum", "steel", "metal", "alloy", "cardboard", "card":
			is, _ := material(w)
			if was, _ := material(found); found != "" && was != is {
				return ""
			}
			found = w
		}
	}
	return found
}

// sheetKind is what a word for sheet means; empty if it is not known.
func sheetKind(cell string) string {
	plain := " " + plainWords(cell) + " "
	fluted := strings.Contains(plain, " corrugated ") || strings.Contains(plain, " fluted ")
	switch {
	case strings.Contains(plain, " mdf "):
		return string(parts.Fibreboard)
	case strings.Contains(plain, " ply"):
		return string(parts.Plywood)
	case fluted && strings.Contains(plain, "plastic"):
		return string(parts.FlutedPlastic)
	case fluted:
		return string(parts.FlutedCard)
	case strings.Contains(plain, " card "), strings.Contains(plain, " cardboard "), strings.Contains(plain, " greyboard "):
		return string(parts.PlainCard)
	}
	return ""
}

// quoted is a text as TOML has it. Cells hold nothing that does not print.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}
