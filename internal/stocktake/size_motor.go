package stocktake

import (
	"strings"

	"findrive/internal/pattern"
)

const (
	figureIn  = `(\d+(?:[.,]\d+)?)\s*`
	currentIn = figureIn + `(mA|A|amps?)\b`
)

var (
	torqueIn = pattern.Must(`(?i)(?:^|[\s(,:=])` + figureIn + `(mN|kgf?|gf?|N)\s?[-.*·⋅ ]?\s?(mm|cm|m)\b`)
	// lessTorque are words for a torque that is not the one that holds the shaft still.
	lessTorque = pattern.Must(`(?i)\b(?:rated|running|working|loaded|load|efficiency|eff)\b`)
	stalled    = pattern.Must(`(?i)\bstall`)
	stallAmps  = pattern.Must(`(?i)\bstall(?:ed|s|ing)?(?:\s+current)?(?:\s+(?:at|of|is))?\s*[:=]?\s*` + currentIn + `|` + currentIn + `\s*(?:at |when |if )?stall`)
	shaftIn    = pattern.Must(`(?i)` + lengthIn + `\s*(?:dia(?:meter|m)?\.?\s*)?(?:shaft|spindle)\b|\b(?:shaft|spindle)\s*(?:dia(?:meter|m)?\.?\s*)?(?:of|:|=|is)?\s*` + lengthIn)
	aboutLong  = pattern.Must(`(?i)\b(?:shaft|spindle)\s+length|\blong\b`)
	freeAmps   = pattern.Must(`(?i)\b(?:free|no[- ]load|unloaded)(?:\s+current)?(?:\s+(?:at|of|is))?\s*[:=]?\s*` + currentIn + `|` + currentIn + `\s*(?:free|no[- ]load|unloaded)\b`)
)

// motorSizes is what the name of a motor says besides its volts and turns: how thick its shaft is,
// what holds it still, and the currents that it says are those of a stalled and of a free motor.
func motorSizes(name string) []piece {
	var out []piece
	if all := torqueIn.FindAllStringSubmatch(name, -1); len(all) == 1 && (stalled.MatchString(name) || !lessTorque.MatchString(name)) {
		out = append(out, piece{field: torqueField, text: all[0][1] + " " + all[0][2] + "." + all[0][3]})
	}
	if all := shaftIn.FindAllStringSubmatch(name, -1); len(all) == 1 && !aboutLong.MatchString(name) {
		out = append(out, piece{field: shaftField, text: all[0][1] + all[0][2]})
	}
	for _, c := range []struct {
		at *pattern.Pattern
		of field
	}{{stallAmps, stallField}, {freeAmps, freeAmpsField}} {
		if m := c.at.FindStringSubmatch(name); m != nil {
			unit := "A"
			if strings.EqualFold(m[2]+m[4], "mA") {
				unit = "mA"
			}
			out = append(out, piece{field: c.of, text: m[1] + m[3] + " " + unit})
		}
	}
	return out
}
