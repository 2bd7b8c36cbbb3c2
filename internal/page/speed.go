package page

import (
	"fmt"
	"regexp"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// Other words for what a brief has: people say "once every 3 seconds".
var sayings = []struct {
	from *regexp.Regexp
	to   string
}{
	{regexp.MustCompile(`(?i)\bonce\b`), "1 turn"},
	{regexp.MustCompile(`(?i)\b(one|a) (turn|rev|revolution|rotation)\b`), "1 turn"},
	{regexp.MustCompile(`(?i)\b(revolutions?|rotations?|times|rounds?|goes)\b`), "turns"},
	{regexp.MustCompile(`(?i)\bevery\b`), "in"},
	{regexp.MustCompile(`(?i)\bin a (second|minute)\b`), "in 1 $1"},
	{regexp.MustCompile(`(?i)\bin (second|minute)\b`), "in 1 $1"},
	{regexp.MustCompile(`(?i)\btwo\b`), "2"}, {regexp.MustCompile(`(?i)\bthree\b`), "3"}, {regexp.MustCompile(`(?i)\bfour\b`), "4"},
	{regexp.MustCompile(`(?i)\bfive\b`), "5"}, {regexp.MustCompile(`(?i)\bsix\b`), "6"}, {regexp.MustCompile(`(?i)\bten\b`), "10"},
	{regexp.MustCompile(`(?i)\btwenty\b`), "20"}, {regexp.MustCompile(`(?i)\bthirty\b`), "30"},
	{regexp.MustCompile(`(?i)\b(metres?|meters?)\b`), "m"}, {regexp.MustCompile(`(?i)\b(centimetres?|centimeters?)\b`), "cm"},
	{regexp.MustCompile(`(?i)\bm (a|per) (s|sec|second)\b`), "m/s"}, {regexp.MustCompile(`(?i)\bcm (a|per) (s|sec|second)\b`), "cm/s"},
	{regexp.MustCompile(`(?i)\br\.?p\.?m\.?\b|\bturns? (a|per|/) ?min(ute)?s?\b`), "rpm"},
	{regexp.MustCompile(`^\s*(\d+(?:[.,]\d+)?)\s*$`), "$1 rpm"},
	{regexp.MustCompile(`\s+`), " "},
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
