package stocktake

import (
	"strings"
	"unicode"
)

// field is what a column may hold. The names are those of the report.
type field string

// The fields of a stock list. A field that is also a key of a cupboard file has
// that key's name.
const (
	kindField     field = "kind"
	labelField    field = "name"
	idField       field = "item code"
	locationField field = "location"
	countField    field = "count"
	goodField     field = "good"
	damagedField  field = "damaged"
	sizeField     field = "size"
	diameterField field = "diameter"
	outsideField  field = "outside"
	floorField    field = "groove_floor"
	grooveField   field = "groove_width"
	boreField     field = "bore"
	widthField    field = "width"
	thickField    field = "thickness"
	flatField     field = "flat_length"
	lengthField   field = "length"
	innerField    field = "inner"
	outerField    field = "outer"
	numberField   field = "trade number"
	voltsField    field = "rated"
	freeField     field = "free_speed"
	freeAmpsField field = "free_current"
	torqueField   field = "stall_torque"
	stallField    field = "stall_current"
	shaftField    field = "shaft_diameter"
	shaftLong     field = "shaft_length"
	cellsField    field = "cells"
	chemField     field = "chemistry"
	materialField field = "material"
	priceField    field = "price"
	sheavesField  field = "sheaves"
	sheaveField   field = "sheave"
	unusedField   field = "not used"
)

// Fields of a kit list.
const (
	takeField     field = "to take"
	pickedField   field = "picked"
	returnedField field = "returned"
)

// words are the names by which columns are known, in small letters and without
// signs. The first of each is the one a count sheet uses.
type words map[field][]string

// stockWords are what technicians write over the columns of a stock list (common
// practice; trade words of several countries).
var stockWords = words{
	kindField:     {"kind", "type", "category", "part type", "item type", "type of part", "group", "class of part"},
	labelField:    {"name", "label", "item", "description", "part", "part name", "item name", "item description", "what", "tub", "product", "article", "which", "tub label"},
	idField:       {"item id", "item code", "code", "part no", "part number", "stock code", "ref", "reference", "sku", "no of item"},
	locationField: {"location", "where", "place", "kept", "kept in", "drawer", "tray", "shelf", "box", "bin", "storage", "cupboard", "where kept"},
	countField:    {"count", "qty", "quantity", "number", "how many", "amount", "stock", "in stock", "on hand", "pieces", "pcs", "counted", "total", "no", "total qty", "quantity in stock", "have", "number in stock", "stock level", "current stock"},
	goodField:     {"good", "working", "usable", "ok", "serviceable", "qty good", "good ones"},
	damagedField:  {"damaged", "broken", "faulty", "perished", "bad", "dead", "qty damaged", "of these damaged", "damaged or lost"},
	sizeField:     {"size", "sizes", "dimensions", "dims", "dimension", "measurement", "measurements", "spec"},
	diameterField: {"diameter", "dia", "diam", "ø", "across"},
	outsideField:  {"outside", "outside diameter", "outer diameter", "overall diameter", "od", "outside dia", "outer dia", "rim diameter"},
	floorField:    {"groove floor", "groove", "groove diameter", "groove dia", "groove floor diameter", "floor diameter", "bottom of groove"},
	grooveField:   {"groove width", "groove w"},
	boreField:     {"bore", "hole", "hole size", "hole diameter", "hole dia", "centre hole", "center hole", "bore diameter", "bore dia", "axle hole", "bore size"},
	widthField:    {"width", "wide", "band width"},
	thickField:    {"thickness", "thick"},
	flatField:     {"flat length", "band length", "flat", "laid flat", "length flat"},
	lengthField:   {"length", "long", "len"},
	innerField:    {"inner", "inner diameter", "inside diameter", "inside", "inner dia"},
	outerField:    {"outer"},
	numberField:   {"trade number", "trade size", "band no", "band number", "band size", "size number", "size no"},
	voltsField:    {"rated", "volts", "voltage", "rated voltage", "motor voltage", "v"},
	freeField:     {"free speed", "rpm free", "free rpm", "no load speed", "no load rpm", "rpm no load", "speed", "rpm", "motor speed"},
	freeAmpsField: {"free current", "no load current"},
	torqueField:   {"stall torque", "stall", "torque"},
	stallField:    {"stall current"},
	shaftField:    {"shaft diameter", "shaft", "spindle", "shaft dia", "spindle diameter", "shaft size"},
	shaftLong:     {"shaft length", "spindle length"},
	cellsField:    {"cells", "number of cells", "no of cells", "batteries", "cells held", "battery count"},
	chemField:     {"chemistry", "cell type", "battery type", "type of cell"},
	materialField: {"material", "made of"},
	priceField:    {"price", "unit price", "cost", "price each", "each", "unit cost", "cost each"},
	sheavesField:  {"sheaves", "number of sheaves"},
	sheaveField:   {"sheave", "sheave diameter"},
	unusedField: {"notes", "note", "comments", "comment", "remarks", "min level", "minimum", "min", "reorder level", "re order level", "supplier", "supplier ref", "pack size", "pack price",
		"counted on", "date", "date counted", "counted by", "status", "condition", "colour", "color", "rpm loaded", "loaded rpm", "budget code", "unit", "units", "checked", "initials", "last time", "last count", "design"},
}

// kitWords are the names of the columns of a kit list, as findrive sheet writes
// them, and what people call them.
var kitWords = words{
	kindField:     {"kind", "type"},
	labelField:    {"part", "name", "item", "label"},
	locationField: {"where", "location", "place"},
	sizeField:     {"size"},
	takeField:     {"take", "to take", "kit", "all trays and spare"},
	pickedField:   {"picked", "taken", "issued", "out", "taken out", "given out"},
	returnedField: {"returned", "back", "came back", "counted back", "count", "counted", "in", "given back", "qty", "quantity", "return"},
	damagedField:  {"damaged", "broken", "faulty", "perished", "of these damaged", "bad"},
	unusedField:   {"each tray", "trays", "all trays", "spare", "have", "short", "last time", "last count", "design", "notes", "note", "comments", "date"},
}

// kinds are the kinds of part of a cupboard file and the words for them. A word
// stands for itself and with an s.
var kinds = []struct {
	kind  string
	words []string
}{
	// The words of more than one word come first where one of them is a kind too.
	{"cells", []string{"battery holder", "cell holder", "battery box", "battery pack", "cell box", "battery case", "holder"}},
	{"band", []string{"rubber band", "elastic band", "drive band", "drive belt", "band", "elastic", "belt", "o ring", "oring"}},
	{"drum", []string{"winding drum", "cotton reel", "drum", "reel", "bobbin", "spool", "winch drum"}},
	{"block", []string{"pulley block", "block"}},
	{"pulley", []string{"pulley", "pully", "pulley wheel", "pulleys wheel", "grooved wheel"}},
	{"motor", []string{"motor"}},
	{"sleeve", []string{"sleeve", "tubing", "tube", "bush", "adaptor", "adapter"}},
	{"spacer", []string{"spacer", "washer", "bead"}},
	{"wheel", []string{"wheel", "tyre"}},
	{"axle", []string{"axle", "dowel", "rod", "shaft", "skewer", "dowel rod", "dowelling"}},
	{"cord", []string{"cord", "string", "twine"}},
}

// otherKinds are things that a cupboard file has no place for.
var otherKinds = []string{"switch", "wire", "clip", "strip", "triangle", "cell", "battery", "batteries", "bulb", "buzzer", "screw", "glue", "card", "straw", "gear", "crocodile", "lead", "scissors", "saw", "nail", "tape", "plywood", "sheet", "strip wood", "propeller", "magnet", "peg", "lolly", "paper"}

// plainWords is a text in small letters, with a space for each run of other signs.
func plainWords(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(text) {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != 'ø' {
			gap = true
			continue
		}
		if gap && b.Len() > 0 {
			b.WriteByte(' ')
		}
		gap = false
		b.WriteRune(r)
	}
	return b.String()
}

// kindIn is the kind that a text names: the kind whose words end last in it, since
// the last word is the thing and those before it say which ("motor pulley"); of two
// that end there, the longer. other says that it names something a cupboard file has
// no place for.
//
// What follows a comma, a bracket or "for" tells what it goes with, and is not
// looked at. The word cells by itself is the kind of that name, holders with cells
// in them; in other words cells are loose ones.
func kindIn(text string) (kind string, other bool) {
	for _, k := range kinds {
		if strings.EqualFold(text, k.kind) {
			return k.kind, false
		}
	}
	if i := strings.IndexAny(text, ",;:("); i > 0 {
		text = text[:i]
	}
	padded := " " + plainWords(text) + " "
	for _, w := range []string{" for ", " fits ", " to ", " with ", " takes ", " on "} {
		if i := strings.Index(padded, w); i > 0 {
			padded = padded[:i+1]
		}
	}
	end, long := -1, 0
	see := func(word, k string) {
		for _, form := range []string{word, word + "s", word + "es"} {
			if i := strings.LastIndex(padded, " "+form+" "); i >= 0 {
				if e := i + 1 + len(form); e > end || e == end && len(word) > long {
					end, long, kind, other = e, len(word), k, k == ""
				}
			}
		}
	}
	for _, k := range kinds {
		for _, w := range k.words {
			see(w, k.kind)
		}
	}
	for _, w := range otherKinds {
		see(w, "")
	}
	return kind, other
}

// totals are words that begin a row of sums.
var totals = []string{"total", "totals", "sub total", "subtotal", "grand total", "sum", "sum total", "all together", "altogether", "overall"}

func isTotal(text string) bool {
	text = plainWords(text)
	for _, t := range totals {
		if text == t || strings.HasPrefix(text, t+" ") {
			return true
		}
	}
	return false
}
