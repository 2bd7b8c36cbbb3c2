package stocktake

import (
	"slices"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// piece is one fact that a size or a name holds: a field and the words for it.
type piece struct {
	field field
	text  string
	bare  bool // a number alone, which may mean something else
	// whence is what is to be known of where it is from; empty if it says so itself.
	whence string
}

var (
	byX       = pattern.Must(`(?i)\s*(?:x|×|\*|\bby\b)\s*`)
	tradeSize = pattern.Must(`(?i)(?:^|\s)(?:no\.?|nr\.?|number|#|size)\s*#?\s*(\d{1,2})(?:\s|$|[,;)])`)
	bareSize  = pattern.Must(`^#?\d{1,2}$`)
	holds     = pattern.Must(`(?i)(?:^|[^\d.])(\d)\s*(?:x|×|-)?\s*(?:aaa?|c|d|cells?)\b|\baaa?\s*(?:x|×)\s*(\d)\b`)
	volts     = pattern.Must(`(?i)(?:^|[\s(])(\d+(?:[.,]\d+)?)\s*v(?:olts?)?\b`)
	turns     = pattern.Must(`(?i)(?:^|[\s(,@])(\d{3,5})\s*(?:rpm|r\.p\.m|r/min|rev/min|revs? (?:per|a) min)`)
	parted    = pattern.Must(`(\d),(\d{3}\s*(?:rpm|r\.p\.m|r/min|rev/min|revs? ))`)
	// notFree are words for turns that are not those of a shaft by itself.
	notFree = pattern.Must(`(?i)\b(?:loaded|under load|on load|load|geared|gearbox|out|output)\b`)
	// upTo are words that make of a length no one length.
	upTo = pattern.Must(`(?i)\b(?:up to|max|maximum|under|less than|min|minimum|at least|from \d|over)\b|[<>≤≥]`)
	// keptAt is where a thing is kept, which may have a size in it.
	keptAt = pattern.Must(`(?i)\b(?:shelf|drawer|tray|rack|bin|cupboard|hook)\s*:?\s*#?\d\S*(?:\s*(?:mm|cm)\b)?|\b\d\S*\s*(?:mm|cm)?\s*(?:drawer|shelf|tray|rack|bin)\b`)
	// notFlat are words for a length of a band that is not that of its loop laid flat.
	notFlat = pattern.Must(`(?i)(?:\d|mm|cm)\s*(?:all )?(?:the way )?(?:round|around)\b|\bround the\b|\b(?:circumference|loop|stretched|stretches|stretching|diameter|dia|diam|across)\b`)
	// roundSign stands before or behind how far it is across a band that lies round.
	roundSign = pattern.Must(`\s*[Øø∅⌀]\s*`)
	// aGroove is how far it is across a pulley where the band runs.
	aGroove   = pattern.Must(`(?i)[\s,;/(]+(?:groove(?: floor)?\s*(?:of|:|=)?\s*(` + numberIn + `(?:\s*` + unitIn + `)?)|` + lengthIn + `\s*groove\b)\s*\)?`)
	aLong     = pattern.Must(`(?i)\b(?:l|long|length|lengths)\s*[=:]?\s*(\d)`)
	numberIn  = `\d+(?:[.,]\d+)?(?:\s+\d+/\d+|/\d+)?`
	unitIn    = `(?:mm\b|cm\b|m\b|"|inch(?:es)?\b|in\b)`
	lengthIn  = `(` + numberIn + `\s*` + unitIn + `)`
	aLength   = pattern.Must(`(?i)` + lengthIn)
	boreIn    = pattern.Must(`(?i)(?:bore|hole)\s*(?:of|:|=)?\s*` + lengthIn + `|` + lengthIn + `\s*(?:bore|hole)`)
	rangeIn   = pattern.Must(`(?i)\d\s*(?:-|–|—|&|\b(?:to|or|and)\b)\s*\d+(?:[.,]\d+)?\s*(?:` + unitIn + `|v\b|volts?\b)|\d/(?:[35679]|\d\d)\s*(?:mm|cm)\b`)
	aTrade    = pattern.Must(`(?i)(?:\b(?:no|nr|number|size)\b\.?|#)\s*#?\s*(\d{1,2})\b`)
	byNumbers = pattern.Must(`(?i)\d\s*(?:x|×|\*|by)\s*\d`)
	twoIn     = pattern.Must(`(?i)(` + numberIn + `)\s*(` + unitIn + `)?\s*(?:x|×)\s*(` + numberIn + `)\s*(` + unitIn + `)`)
)

// signAsWord puts a word for the sign that says how far it is across a band that lies round.
func signAsWord(text string) string {
	return strings.TrimSpace(roundSign.ReplaceAllString(text, " dia "))
}

// fromSize is what a cell with a size says of a part of a kind. What it does not say
// plainly is left out.
func fromSize(kind, text string) []piece {
	if kind == "band" {
		text = signAsWord(text)
	}
	text = strings.TrimSpace(fractions.Replace(text))
	if m := aGroove.FindStringSubmatchIndex(text); kind == "pulley" && m != nil && m[0] > 0 {
		floor := aGroove.FindStringSubmatch(text)
		if rest := fromSize(kind, text[:m[0]]+text[m[1]:]); floorOf(rest, floor[1]+floor[2]) {
			return append(rest, piece{field: floorField, text: floor[1] + floor[2], whence: fromGroove})
		}
	}
	if kind == "cells" {
		if m := holds.FindStringSubmatch(text); m != nil {
			return []piece{{field: cellsField, text: m[1] + m[2]}}
		}
		return []piece{{field: cellsField, text: text}}
	}
	if kind == "band" {
		if m := tradeSize.FindStringSubmatch(text); m != nil && !severalTrades(text) {
			return []piece{{field: numberField, text: m[1]}}
		}
		if bareSize.MatchString(text) {
			return []piece{{field: numberField, text: strings.TrimPrefix(text, "#"), bare: !strings.HasPrefix(text, "#")}}
		}
	}
	text = parted.ReplaceAllString(text, "$1$2")
	if kind == "motor" && (turns.MatchString(text) || strings.ContainsAny(text, ",;")) {
		return fromName(kind, text)
	}
	if kind == "motor" {
		return []piece{{field: voltsField, text: text}}
	}
	if hubKind(kind) {
		if rest, hole := holeBehind(text); hole != nil {
			return append(fromSize(kind, rest), *hole)
		}
	}
	if hubKind(kind) && hubLabel.MatchString(text) {
		if said := hubSizes(kind, text); len(said) > 1 || len(said) == 1 && len(aLength.FindAllString(text, -1)) == 1 && byX.FindString(text) == "" {
			return said
		}
	}
	if said := ringSizes(kind, text); said != nil {
		return said
	}
	var bore []piece
	if m := boreIn.FindStringSubmatchIndex(text); m != nil && (m[0] > 0 || hubKind(kind)) {
		if one := boreIn.FindStringSubmatch(text); hubKind(kind) {
			bore = []piece{{field: boreField, text: one[1] + one[2]}}
		}
		text = strings.Trim(text[:m[0]]+text[m[1]:], " ,;/()")
		text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(text, " with"), " and"))
	}
	if kind == "axle" || kind == "cord" {
		text = aLong.ReplaceAllString(text, "x $1")
	}
	if text == "" {
		return bore
	}
	if long := manyOrAcross(kind, text); long != nil {
		return long
	}
	sides := withUnits(byX.Split(withoutX(text), -1))
	if two := aLength.FindAllString(text, -1); !upTo.MatchString(text) && len(sides) == 1 && len(two) == 2 && (kind == "axle" || kind == "cord") {
		sides = two // 5 mm dia 1 m
	}
	return append(sized(kind, sides), bore...)
}

// withoutX is a size with other words for those that have an x in them, which parts nothing.
func withoutX(text string) string {
	text = approxBefore.ReplaceAllString(text, "about $1")
	text = approxBehind.ReplaceAllString(text, " or so")
	return mostWord.ReplaceAllString(text, "up to ")
}

var (
	approxBefore = pattern.Must(`(?i)\bapprox(?:imately)?\b\.?\s*(\d)`)
	approxBehind = pattern.Must(`(?i)\s*\bapprox(?:imately)?\b\.?$`)
	mostWord     = pattern.Must(`(?i)\bmax(?:imum)?\b\.?\s*`)
)

// manyOrAcross is what 3 x 30 cm says of rods: how long they are, and that the 3 before it, if
// it is no number of pieces, is not in centimetres. Nil for other words.
func manyOrAcross(kind, text string) []piece {
	m := twoIn.FindStringSubmatch(text)
	if kind != "axle" && kind != "cord" || m == nil || m[2] != "" || strings.EqualFold(m[4], "mm") || strings.Trim(m[1], "0123456789") != "" {
		return nil
	}
	return []piece{{field: diameterField, text: strings.TrimSpace(m[0])}, {field: lengthField, text: m[3] + " " + m[4]}}
}

// withUnits gives sides without a unit that of the last one: "5 x 300 mm".
func withUnits(sides []string) []string {
	last := sides[len(sides)-1]
	unit := strings.TrimLeft(last, "0123456789.,/ ")
	if len(sides) == 1 || unit == "" || unit == last {
		return sides
	}
	for i, s := range sides {
		if s != "" && strings.Trim(s, "0123456789.,/ ") == "" {
			sides[i] = s + " " + unit
		}
	}
	return sides
}

// sized puts sides to their fields.
func sized(kind string, sides []string) []piece {
	var fields []field
	switch kind {
	case "pulley":
		fields = []field{outsideField}
		sides = widestFirst(sides)
	case "wheel":
		fields = []field{diameterField}
		sides = widestFirst(sides)
	case "drum":
		fields = []field{diameterField}
	case "band":
		fields = []field{flatField, widthField, thickField}
		if widest := largest(sides); widest != "" && widest != sides[0] { // thick, wide, long
			slices.Reverse(sides)
		}
	case "axle", "cord":
		fields = []field{diameterField, lengthField}
		if len(sides) == 1 && onlyLong(sides[0]) {
			fields = fields[1:]
		}
		sides = ascending(sides)
	case "sheet":
		if len(sides) == 3 {
			fields = []field{lengthField, widthField, thickField}
		}
	case "sleeve":
		if len(sides) > 1 {
			fields = []field{innerField, outerField, lengthField}
		} else {
			fields = []field{outerField}
		}
	case "spacer":
		if len(sides) == 3 {
			fields = []field{boreField, outsideField, thickField}
		} else {
			fields = []field{boreField}
		}
	case "block":
		fields = []field{sheaveField}
	}
	var out []piece
	for i := range min(len(fields), len(sides)) {
		if sides[i] != "" {
			out = append(out, piece{field: fields[i], text: sides[i]})
		}
	}
	return out
}

// severalTrades reports whether words name several trade numbers.
func severalTrades(words string) bool {
	all := aTrade.FindAllStringSubmatch(words, -1)
	return slices.ContainsFunc(all, func(m []string) bool { return m[1] != all[0][1] })
}

// severalVolts reports whether words name several voltages.
func severalVolts(words string) bool {
	all := anyVolts.FindAllStringSubmatch(words, -1)
	return slices.ContainsFunc(all, func(m []string) bool { return m[1] != all[0][1] })
}

var anyVolts = pattern.Must(`(?i)(\d+(?:[.,]\d+)?)\s*v(?:olts?)?\b`)

// onlyLong reports whether the one size of a rod or of cord is its length: nothing is so
// thick.
func onlyLong(side string) bool {
	const thickest units.Millimetres = 50
	return inMillimetres(side) > thickest
}

// widestFirst puts the largest of sides that can all be read first: 5 x 40 is 40 across.
func widestFirst(sides []string) []string {
	if widest := largest(sides); len(sides) > 1 && widest != "" {
		return []string{widest}
	}
	return sides
}

// ascending puts the smaller of two sides first, as far as both can be read: a rod
// is longer than it is thick.
func ascending(sides []string) []string {
	if len(sides) != 2 {
		return sides
	}
	if largest(sides) == sides[0] {
		out := slices.Clone(sides)
		slices.Reverse(out)
		return out
	}
	return sides
}

// fromName is what a name says of a part of a kind: only what is written with its
// unit, for a name may hold other numbers.
func fromName(kind, name string) []piece {
	if kind == "band" {
		name = signAsWord(name)
	}
	name = keptAt.ReplaceAllString(fractions.Replace(name), " ")
	if rangeIn.MatchString(name) || kind != "motor" && upTo.MatchString(name) {
		return nil // 5-6 mm is neither
	}
	switch kind {
	case "cells":
		if m := holds.FindStringSubmatch(name); m != nil {
			return []piece{{field: cellsField, text: m[1] + m[2]}}
		}
		return nil
	case "motor":
		name = parted.ReplaceAllString(name, "$1$2")
		var out []piece
		if voltsRange.MatchString(name) || severalVolts(name) {
			return nil // and whose the turns are is not plain
		}
		if m := volts.FindStringSubmatch(name); m != nil {
			out = append(out, piece{field: voltsField, text: m[1] + " V"})
		}
		if m := turns.FindStringSubmatch(name); m != nil && !notFree.MatchString(name) {
			out = append(out, piece{field: freeField, text: m[1] + " rpm"})
		}
		return append(out, motorSizes(name)...)
	case "band":
		if severalTrades(name) {
			return nil
		}
		if m := tradeSize.FindStringSubmatch(name); m != nil {
			return []piece{{field: numberField, text: m[1]}}
		}
		if notFlat.MatchString(name) {
			return nil
		}
	}
	if said := ringSizes(kind, name); said != nil {
		return said
	}
	var out []piece
	if hubKind(kind) && !twoIn.MatchString(name) {
		return hubSizes(kind, name)
	}
	if m := boreIn.FindStringSubmatchIndex(name); m != nil {
		switch one := boreIn.FindStringSubmatch(name); {
		case hubKind(kind):
			out = append(out, piece{field: boreField, text: one[1] + one[2]})
		case kind == "axle" || kind == "cord":
			return nil // it has none, and which length is meant is not plain
		}
		name = name[:m[0]] + " " + name[m[1]:]
	}
	if long := manyOrAcross(kind, name); long != nil {
		return append(out, long...)
	}
	if m := twoIn.FindStringSubmatch(name); m != nil {
		first := m[2]
		if first == "" {
			first = m[4]
		}
		return append(out, sized(kind, []string{m[1] + " " + first, m[3] + " " + m[4]})...)
	}
	all := aLength.FindAllString(name, -1)
	switch {
	case len(all) == 2 && (kind == "axle" || kind == "cord"):
		out = append(out, sized(kind, all)...)
	case len(all) > 0:
		out = append(out, sized(kind, all[:1])...)
	}
	return out
}
