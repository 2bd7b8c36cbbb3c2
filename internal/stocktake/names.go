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
	packField     field = "pieces in a pack"
	packsField    field = "packs"
	unitField     field = "unit of the count"
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
	labelField:    {"name", "label", "item", "description", "part", "part name", "item name", "item description", "what", "tub", "product", "article", "which", "tub label", "equipment", "asset", "thing", "object", "resource", "resources", "component", "components", "stock item", "part description", "items", "parts"},
	idField:       {"item id", "item code", "code", "part no", "part number", "item no", "item number", "stock code", "ref", "reference", "sku", "no of item", "row", "row no", "line", "line no"},
	locationField: {"location", "where", "place", "kept", "kept in", "drawer", "tray", "shelf", "box", "bin", "storage", "cupboard", "where kept", "rack", "room", "tray no", "drawer no", "shelf no", "box no", "bin no", "bay"},
	countField:    {"count", "qty", "quantity", "number", "how many", "amount", "stock", "in stock", "on hand", "pieces", "pcs", "counted", "total", "no", "total qty", "quantity in stock", "have", "number in stock", "stock level", "current stock", "balance", "left", "remaining"},
	goodField:     {"good", "working", "usable", "ok", "serviceable", "qty good", "good ones", "works", "in working order", "tested", "tested ok"},
	damagedField:  {"damaged", "broken", "faulty", "perished", "bad", "dead", "qty damaged", "of these damaged", "damaged or lost", "lost", "missing", "lent", "lent out", "on loan", "out on loan"},
	sizeField:     {"size", "sizes", "dimensions", "dims", "dimension", "measurement", "measurements", "spec", "specification", "details", "detail", "how big", "how large"},
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
	unitField:     {"unit", "units", "unit of issue", "uom", "per", "sold as", "counted in"},
	packField:     {"pack size", "pack qty", "pack quantity", "per pack", "qty per pack", "quantity per pack", "pieces per pack", "pcs per pack", "in a pack", "pack of", "packs of", "bag of", "bags of", "box of", "boxes of", "packets of"},
	packsField:    {"packs", "packets", "bags", "boxes", "number of packs", "no of packs", "number of bags", "number of boxes"},
	unusedField: {"notes", "note", "comments", "comment", "remarks", "min level", "minimum", "min", "reorder level", "re order level", "supplier", "supplier ref", "pack price", "price per pack", "per pack price", "last counted", "checked on",
		"min stock", "minimum stock", "max stock", "max level", "maximum", "order level", "to order", "on order", "ordered", "wanted", "needed", "required", "counted on", "date", "date counted", "counted by", "status", "condition", "colour", "color", "rpm loaded", "loaded rpm", "budget code", "checked", "initials", "last time", "last count", "design"},
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
