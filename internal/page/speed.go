package page

import (
	"fmt"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/pattern"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// Other words for what a brief has, in the order in which they are put into its words: people say
// "once every 3 seconds", "about half a turn a second" and "a turn takes 3 secs".
var sayings = []struct {
	from *pattern.Pattern
	to   string
}{
	{roughly, ""}, {pattern.Must(`(\d),(\d)`), "$1.$2"},
	{pattern.Must(`(?i)\bonce\b`), "1 turn"}, {pattern.Must(`(?i)\btwice\b`), "2 turns"},
	{pattern.Must(`(?i)\brev(s?)\b`), "turn$1"}, {pattern.Must(`(?i)\b(?:revolution|rotation|time|round|go)(e?s)?\b`), "turn$1"}, {pattern.Must(`(?i)\bturnes\b`), "turns"},
	{pattern.Must(`(?i)\b(?:a )?half (?:of )?a turn\b`), "0.5 turns"}, {pattern.Must(`(?i)\b(?:a )?quarter (?:of a )?turn\b`), "0.25 turns"},
	{pattern.Must(`(?i)\b(?:one|a|each|every) turn\b`), "1 turn"},
	{pattern.Must(`(?i)\b(turns?) (?:turn|about|around)\b`), "$1"},
	{pattern.Must(`(?i)\btwo\b`), "2"}, {pattern.Must(`(?i)\bthree\b`), "3"}, {pattern.Must(`(?i)\bfour\b`), "4"},
	{pattern.Must(`(?i)\bfive\b`), "5"}, {pattern.Must(`(?i)\bsix\b`), "6"}, {pattern.Must(`(?i)\bten\b`), "10"},
	{pattern.Must(`(?i)\btwenty\b`), "20"}, {pattern.Must(`(?i)\bthirty\b`), "30"},
	{pattern.Must(`(?i)\b(sec|min)s\b`), "$1"},
	{pattern.Must(`(?i)\b(?:every|takes?|lasts?)\b|\s*/\s*(\d)`), " in $1"},
	{pattern.Must(`(?i)\bin (?:(?:a|one|every|each) )?(second|minute|sec|min)\b`), "in 1 $1"},
	{pattern.Must(`(?i)\b(metres?|meters?)\b`), "m"}, {pattern.Must(`(?i)\b(centimetres?|centimeters?)\b`), "cm"},
	{pattern.Must(`(?i)\bm (a|per) (s|sec|second)\b`), "m/s"}, {pattern.Must(`(?i)\bcm (a|per) (s|sec|second)\b`), "cm/s"},
	{pattern.Must(`(?i)\br\.?p\.?m\.?(?:\s|$)`), "rpm"},
	{pattern.Must(`^\s*(\d+(?:\.\d+)?)\s*$`), "$1 rpm"},
	{pattern.Must(`\s+`), " "},
}

// plainSpeed is a speed, a text of TOML, in the words that a brief has, if what was said
// can be put into them.
func plainSpeed(v tomledit.Value) tomledit.Value {
	text := strings.Trim(v.String(), `"`)
	if isSpeed(text) {
		return v
	}
	said := text
	for _, w := range sayings {
		said = w.from.ReplaceAllString(said, w.to)
	}
	if said = strings.TrimSpace(said); isSpeed(said) {
		return tomledit.Text(said)
	}
	return v
}

func isSpeed(text string) bool {
	_, turns := units.Turnings.Parse(text)
	_, travels := units.Travels.Parse(text)
	return turns == nil || travels == nil
}

// understood says a speed otherwise, so that a slip is seen.
func understood(values map[string]any, is string) string {
	text, _ := values["speed"].(string)
	if rpm, err := units.Turnings.Parse(text); err == nil && rpm > 0 {
		return fmt.Sprintf("Understood: one turn in %s seconds, %s turns a minute.", units.Significant(60/float64(rpm), 3), units.Significant(float64(rpm), 3))
	}
	if v, err := units.Travels.Parse(text); err == nil && v > 0 {
		return fmt.Sprintf("Understood: %s cm a second, 1 metre in %s seconds.", units.Significant(100*float64(v), 3), units.Significant(1/float64(v), 3))
	}
	if m := modelOf(is); m != nil && (m.Is == brief.Vehicle || m.Is == brief.Lift) {
		return `Say it like "10 m in 25 s" or "0.3 m/s".`
	}
	return `Say it like "1 turn in 3 s" or "20 turns a minute".`
}
