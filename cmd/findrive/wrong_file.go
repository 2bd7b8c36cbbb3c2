package main

import (
	"bytes"
	"fmt"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/pattern"
	"findrive/internal/plan"
)

// kinds of file that a person may give, in words.
const (
	aCupboard    = "cupboard"
	aBrief       = "brief"
	aPriceList   = "price list"
	aDrive       = "drive"
	aHoist       = "hoist brief"
	aCalibration = "calibration"
	aCertificate = "certificate"
	aProof       = "proof"
	aPlan        = "plan"
	otherwise    = "other"
)

// wantedAs is the kind of file that has a name such as the built-in ones have.
func wantedAs(name string) string {
	switch strings.TrimPrefix(name, "built-in ") {
	case "cupboard.toml":
		return aCupboard
	case "prices.toml":
		return aPriceList
	case "drive.toml":
		return aDrive
	case "hoist.toml":
		return aHoist
	case "calibration.toml":
		return aCalibration
	case "counts.csv":
		return ""
	}
	return aBrief
}

// traits tell what a TOML file is from its lines, without reading it: the first that has
// one of its own lines. certain are those whose lines no other file can have.
var traits = []struct {
	what, say string
	certain   bool
	lines     *pattern.Pattern
}{
	{aPriceList, "this is a price list, which belongs behind -p of findrive shop", true, tables(`offer|supplier`)},
	{aCalibration, sayCalibration, true, pattern.Must(`(?m)^[ \t]*\[?counted[ \t]*\.`)},
	{aDrive, "this is a drive that was built: findrive try reads it, with no flag before it", true, pattern.Must(`(?m)^[ \t]*\[{0,2}(stage[ \t]*[.\]]|drive[ \t]*[\]=.])`)},
	{aCupboard, sayCupboard, false, tables(`pulley|cells|axle|sleeve|spacer|wheel|drum|block|cord`)},
	{aBrief, "this is a brief, which belongs behind -b", false, pattern.Must(`(?m)^[ \t]*(model[ \t]*=|\[?(frame|load)[ \t]*[\]=.])`)},
	{aCalibration, sayCalibration, false, pattern.Must(`(?m)^[ \t]*(counted_speed|speed_known_to|pull_factor)[ \t]*=`)},
	{bandsOrMotors, sayCupboard, false, tables(`band|motor`)},
	{aHoist, "this is a brief of a hoist, which belongs behind -b of findrive hoist", false, pattern.Must(`(?m)^[ \t]*(lift|beam|hook)[ \t]*=`)},
}

// tables are lines of tables of these names: [pulley.big], or pulley.big and an = somewhere
// behind it. A row of a list may begin with pulley.big too.
func tables(names string) *pattern.Pattern {
	return pattern.Must(`(?m)^[ \t]*(?:\[[ \t]*(?:` + names + `)[ \t]*\.|(?:` + names + `)[ \t]*\.[^\n;,]*=)`)
}

// described are lines of parts that are described, and not only learned of.
var described = pattern.Must(`(?m)^[ \t]*(rated|size|flat_length|width|thickness)[ \t]*=`)

const (
	sayCupboard    = "this is a cupboard, which belongs behind -c"
	sayCalibration = "this is what findrive measure learned, which belongs behind --calibration"
	bandsOrMotors  = "cupboard of bands or motors, or a calibration"
)

// beginnings tell what a file is that is no TOML.
var beginnings = []struct{ begins, what, say string }{
	{"PK\x03\x04", otherwise, "this is a workbook: findrive stock reads it and writes a cupboard"},
	{"\xd0\xcf\x11\xe0", otherwise, "this is an old workbook: save it as XLSX or CSV, which findrive stock reads"},
	{"%PDF-", otherwise, "this is a PDF, from which nothing can be read"},
	{"\x1f\x8b", aProof, "this is a proof, which findrive verify reads"},
	{"findrive proof", aProof, "this is a proof, which findrive verify reads"},
}

// savedAs tells a certificate from other JSON.
var savedAs = pattern.Must(`"kind"\s*:\s*"findrive certificate"`)

// kindOf says what a file is, by name and in a sentence with where it belongs; nothing if
// it may be anything.
func kindOf(data []byte, wanted string) (what, say string) {
	for _, b := range beginnings {
		if bytes.HasPrefix(data, []byte(b.begins)) {
			if b.what == otherwise && wanted == aPriceList {
				return b.what, strings.Replace(b.say, "findrive stock reads it and writes a cupboard", "save its sheet as CSV", 1)
			}
			return b.what, b.say
		}
	}
	text := bytes.TrimSpace(certificate.PlainText(data))
	if bytes.HasPrefix(text, []byte("{")) {
		if plan.Is(text) {
			return aPlan, "this is a plan, which findrive sheet --plan reads"
		}
		if savedAs.Match(text[:min(len(text), 2000)]) {
			return aCertificate, "this is a certificate: name it with --from, and which of its drives with --rank"
		}
		return otherwise, "this is JSON, and no certificate"
	}
	for _, t := range traits {
		if t.lines.Match(text) && (t.what != aCalibration || !described.Match(text)) {
			return t.what, t.say
		}
	}
	if spreadsheet(text) {
		if wanted == aCupboard {
			return otherwise, "this is a spreadsheet: findrive stock reads it and writes a cupboard"
		}
		return otherwise, "this is a spreadsheet: findrive stock reads a list of stock, and findrive shop -p a list of prices"
	}
	return "", ""
}

// mistaken says of a file what it is instead, if it is plainly some other file than is
// wanted.
func mistaken(data []byte, wanted string) string {
	what, say := kindOf(data, wanted)
	switch {
	case what == "" || what == wanted || wanted == "":
		return ""
	case what == bandsOrMotors && (wanted == aCupboard || wanted == aCalibration):
		return ""
	case wanted == aPriceList && what == otherwise && spreadsheet(bytes.TrimSpace(data)):
		return ""
	}
	return needed(data, what, say, wanted)
}

// needed is what a file is and what it should be, but for one that has lines of both: its
// reader says what does not belong in it.
func needed(data []byte, what, say, wanted string) string {
	certain := what == otherwise || wanted == aCalibration || what == aCertificate || what == aProof || what == aPlan
	text := certificate.PlainText(data)
	for _, t := range traits {
		certain = certain || t.what == what && t.certain
	}
	for _, t := range traits {
		if t.what == wanted && !certain && t.lines.Match(text) {
			return ""
		}
	}
	return fmt.Sprintf("%s; here a %s is needed", say, wanted)
}

// spreadsheet reports whether the first two lines are rows of as many cells.
func spreadsheet(text []byte) bool {
	first, rest, _ := strings.Cut(string(text), "\n")
	second, _, _ := strings.Cut(rest, "\n")
	for _, between := range []string{",", ";", "\t"} {
		n := strings.Count(first, between)
		if n >= 1 && n == strings.Count(second, between) && !strings.ContainsAny(first, "=[#") {
			return true
		}
	}
	return false
}
