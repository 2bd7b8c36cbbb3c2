package page

import (
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/tomledit"
)

// What people write with a measure: "12,5 mm", "about 18 mm".
var (
	decimalComma = pattern.Must(`^(\d+),(\d+)\b`)
	roughly      = pattern.Must(`(?i)^(?:about|approx(?:imately)?\.?|around|roughly|ca\.?|circa|~)\s*`)
)

// literal is what a user put into a field as a value of TOML; none for nothing. What is
// no value of the field's sort is written as it is, so that the reader says what is
// wrong with it.
func literal(f field, said string) tomledit.Value {
	said = strings.TrimSpace(said)
	if said == "" {
		return tomledit.Value{}
	}
	switch f.Sort {
	case whole:
		if n, err := strconv.Atoi(said); err == nil {
			return tomledit.Whole(n)
		}
	case decimal:
		if v, err := strconv.ParseFloat(said, 64); err == nil {
			return tomledit.Number(v)
		}
	case yes:
		return tomledit.Yes(said == "yes")
	}
	if unit := plainUnit[f.Sort]; unit != "" {
		said = decimalComma.ReplaceAllString(roughly.ReplaceAllString(said, ""), "$1.$2")
		if _, err := strconv.ParseFloat(said, 64); err == nil {
			said += " " + unit
		}
	}
	return tomledit.Text(said)
}

// edited is a file with changes made in it; as it was if they cannot be made, which the
// reader's mistakes tell.
func edited(text string, edits ...tomledit.Edit) string {
	out, err := tomledit.Apply("", []byte(text), edits...)
	if err != nil {
		return text
	}
	return string(out)
}

// set changes a key of a file, or takes it away if there is no value.
func set(text string, v tomledit.Value, path ...string) string {
	return edited(text, tomledit.Edit{Key: path, Value: v})
}
