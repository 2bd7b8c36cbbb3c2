package stocktake

import (
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// Words beside a length in the name of a pulley, wheel or drum say what it is the length
// of: 5 mm bore, groove 36 mm, 8 mm wide. What stands without one is its diameter.
var (
	hubWords  = `(?:bore|hole|id|i\.d\.|inside|inner|outside|outer|od|o\.d\.|rim|dia|diam|diameter|across|wide|width|thick|thickness|deep|long|high|groove floor|groove|floor|hub|boss|tyre|shaft|spindle|axle|radius|rad|circumference)`
	hubBefore = pattern.Must(`(?i)\b(` + hubWords + `)\b\.?\s*(?:dia(?:meter)?\b\.?)?\s*(?:of|:|=)?\s*$`)
	hubBehind = pattern.Must(`(?i)^\s*(` + hubWords + `)\b`)
	hubLabel  = pattern.Must(`(?i)\b` + hubWords + `\b`)
)

// hubKind reports whether a part has a diameter and a bore.
func hubKind(kind string) bool { return kind == "pulley" || kind == "wheel" || kind == "drum" }

var (
	bareHole = pattern.Must(`(?i)^(.*\d.*?)[\s,;/(]+(?:bore|hole)\s*(?:of|:|=)?\s*(` + numberIn + `)\s*\)?$`)
	onAxle   = pattern.Must(`(?i)^(.*\d.*?)[\s,;/(]+(?:(?:to fit|for|fits?|on|takes)\s+)?(?:an?\s+)?` + lengthIn + `\s*(?:axles?|dowels?|rods?)\s*\)?$`)
)

// holeBehind parts a hole from the end of a size: one without a unit, which is that of the
// size, or one told by the axle that goes through it; nil if there is none.
func holeBehind(size string) (rest string, hole *piece) {
	if m := bareHole.FindStringSubmatch(size); m != nil {
		return m[1], &piece{field: boreField, text: m[2]}
	}
	if m := onAxle.FindStringSubmatch(size); m != nil {
		return m[1], &piece{field: boreField, text: m[2], whence: "taken from the axle that its size names"}
	}
	return "", nil
}

// hubSizes are the lengths that words say of a pulley, wheel or drum.
func hubSizes(kind, words string) []piece {
	across := diameterField
	if kind == "pulley" {
		across = outsideField
	}
	var out []piece
	var bare, grooves []string
	from := 0
	for _, m := range aLength.FindAllStringIndex(words, -1) {
		length := words[m[0]:m[1]]
		label := ""
		if b := hubBefore.FindStringSubmatch(words[from:m[0]]); b != nil {
			label = b[1]
		} else if b := hubBehind.FindStringSubmatchIndex(words[m[1]:]); b != nil {
			label = words[m[1]+b[2] : m[1]+b[3]]
			m[1] += b[3]
		}
		from = m[1]
		switch strings.ToLower(label) {
		case "":
			bare = append(bare, length)
		case "bore", "hole", "id", "i.d.", "inside", "inner":
			out = append(out, piece{field: boreField, text: length})
		case "outside", "outer", "od", "o.d.", "rim", "dia", "diam", "diameter", "across":
			out = append(out, piece{field: across, text: length})
		case "wide", "width", "thick", "thickness", "deep":
			out = append(out, piece{field: widthField, text: length})
		case "groove", "groove floor", "floor":
			grooves = append(grooves, length)
		}
	}
	if !hasField(out, across) && !strings.Contains(strings.ToLower(words), "radius") && !strings.Contains(strings.ToLower(words), "circumf") {
		// Of several the largest is across, but for reels, which may be longer.
		if widest := largest(bare); len(bare) == 1 || kind != "drum" && widest != "" {
			out = append(out, piece{field: across, text: widest})
		}
	}
	if kind == "pulley" && len(grooves) == 1 && floorOf(out, grooves[0]) {
		out = append(out, piece{field: floorField, text: grooves[0], whence: fromGroove})
	}
	return rightWay(out, across)
}

// ringSizes are the lengths that words say of a sleeve or a spacer, where each has a word that
// says what it is the length of, and no two the same: 2 mm inside 4 mm outside 12 mm long. It is
// nil for others.
func ringSizes(kind, words string) []piece {
	hole, across, long := innerField, outerField, lengthField
	switch kind {
	case "spacer":
		hole, across, long = boreField, outsideField, thickField
	case "sleeve":
	default:
		return nil
	}
	var out []piece
	from := 0
	for _, m := range aLength.FindAllStringIndex(words, -1) {
		length, label, end := words[m[0]:m[1]], "", m[1]
		if b := hubBefore.FindStringSubmatch(words[from:m[0]]); b != nil {
			label = b[1]
		} else if b := hubBehind.FindStringSubmatchIndex(words[m[1]:]); b != nil {
			label, end = words[m[1]+b[2]:m[1]+b[3]], m[1]+b[3]
		}
		from = end
		f := long
		switch strings.ToLower(label) {
		case "bore", "hole", "id", "i.d.", "inside", "inner":
			f = hole
		case "outside", "outer", "od", "o.d.", "across":
			f = across
		case "long", "wide", "width", "thick", "thickness", "deep", "high":
		default:
			return nil
		}
		if hasField(out, f) {
			return nil
		}
		out = append(out, piece{field: f, text: length})
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// fromGroove is said of a groove floor: it may have been measured over the band or the rims.
const fromGroove = "the groove that is named is taken for its floor"

// floorOf reports whether the length of a groove is how far it is across its floor, beside what
// else is said of a pulley: a groove is far less wide.
func floorOf(said []piece, groove string) bool {
	for _, p := range said {
		if p.field == outsideField {
			wide, floor := inMillimetres(p.text), inMillimetres(groove)
			return floor < wide && 2*floor > wide
		}
	}
	return false
}

// rightWay swaps a bore and a diameter that were told by the word between them: 40 mm bore
// 5 mm is no bore of 40 mm.
func rightWay(out []piece, across field) []piece {
	bore, wide := -1, -1
	for i := range out {
		switch out[i].field {
		case boreField:
			bore = i
		case across:
			wide = i
		}
	}
	if bore >= 0 && wide >= 0 && inMillimetres(out[bore].text) > inMillimetres(out[wide].text) {
		out[bore].text, out[wide].text = out[wide].text, out[bore].text
	}
	return out
}

func hasField(all []piece, f field) bool {
	for _, p := range all {
		if p.field == f {
			return true
		}
	}
	return false
}

// largest is the largest of lengths; empty if there is none, or one cannot be read.
func largest(all []string) string {
	best := ""
	for _, s := range all {
		v := inMillimetres(s)
		if v <= 0 {
			return ""
		}
		if best == "" || v > inMillimetres(best) {
			best = s
		}
	}
	return best
}

// inMillimetres is a length, in millimetres if it has no unit; 0 if it cannot be read.
func inMillimetres(text string) units.Millimetres {
	a, err := readAmount(text, &units.Lengths, span{}, "", "mm")
	if err != nil {
		return 0
	}
	v, err := units.Lengths.Parse(a.text)
	if err != nil {
		return 0
	}
	return v
}
