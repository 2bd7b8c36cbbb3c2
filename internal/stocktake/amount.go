package stocktake

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// amount is a quantity as a cupboard file has it, and what was assumed to read it.
type amount struct {
	text    string // "6.35 mm"
	assumed []string
	unit    string // taken, where neither the cell nor its heading has one; else empty
}

// span is the range a quantity may lie in, in its own unit. It only serves to tell
// a decimal comma from one that parts thousands; the cupboard's reader decides.
type span struct{ least, most float64 }

var (
	fractions = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3", "⁄", "/",
		"″", `"`, "”", `"`, "“", `"`, "''", `"`, "ø", "", "Ø", "", "∅", "", "⌀", "", "−", "-")
	hyphened    = pattern.Must(`^(\d+)\s*-\s*(\d+/\d+.*)$`)
	wordBefore  = pattern.Must(`(?i)^(?:dia\.?|diam\.?|diameter|d=|length|bore)\s*:?\s*`)
	wordBehind  = pattern.Must(`(?i)\s*(?:dia\.?|diam\.?|diameter|long|wide|thick|across|outside|outer|inside|inner|bore|hole|od|o\.d\.|id|i\.d\.)$`)
	roughAmount = pattern.Must(`(?i)^(?:~|≈|c\.?|ca\.?|circa|about|approx\.?|approximately|around|roughly)\s*(\d.*)$`)
	ishAmount   = pattern.Must(`(?i)^(\d+(?:[.,]\d+)?)\s*(?:-?ish|\?+)\s*(.*)$`)
	ishBehind   = pattern.Must(`(?i)^(.*\d.*?)\s*(?:-?ish|\?+|approx\.?|or so)$`)
	slashed     = pattern.Must(`^\d+/(\d+)\s*(?:mm|cm)?$`)
	tolerance   = pattern.Must(`^(.*\d.*?)\s*(?:\+\s*/?\s*-|±)\s*[\d.,]+\s*(?:%|mm|rpm)?$`)
	oneComma    = pattern.Must(`^(\d+),(\d+)(.*)$`)
	bareHere    = pattern.Must(`^\d*\.?\d+$`)
	bareParted  = pattern.Must(`^(?:\d+ )?\d+/(?:2|4|8|16|32|64)$`)
	inBrackets  = pattern.Must(`^([^()]*\d[^()]*?)\s*\(([^()]*)\)$`)
	rangeHere   = pattern.Must(`^\d+(?:[.,]\d+)?\s*[a-zA-Z"]*\s*(?:-|–|—|to)\s*\d`)
)

// readAmount reads a quantity of one kind. unit is that of the column's heading, and
// usual the one taken if neither the cell nor the heading has any; with usual empty
// such a cell is refused.
func readAmount[Q ~float64](cell string, n *units.Notation[Q], within span, unit, usual string) (amount, error) {
	var a amount
	text := strings.Join(strings.Fields(fractions.Replace(cell)), " ")
	if m := inBrackets.FindStringSubmatch(text); m != nil {
		text = m[1]
		a.note("%s in brackets is not looked at", units.Quoted(m[2]))
	}
	text = tolerance.ReplaceAllString(text, "$1")
	for _, re := range []*pattern.Pattern{roughAmount, ishBehind} {
		if m := re.FindStringSubmatch(text); m != nil {
			text = m[1]
			a.note("%s taken as %s", units.Quoted(cell), text)
		}
	}
	if m := ishAmount.FindStringSubmatch(text); m != nil {
		text = strings.TrimSpace(m[1] + " " + m[2])
		a.note("%s taken as %s", units.Quoted(cell), text)
	}
	text = strings.TrimSpace(wordBehind.ReplaceAllString(wordBefore.ReplaceAllString(text, ""), ""))
	if m := hyphened.FindStringSubmatch(text); m != nil {
		text = m[1] + " " + m[2]
	} else if rangeHere.MatchString(text) || twoSizes(text) {
		return a, fmt.Errorf("%s is a range, and one size is needed: measure one", units.Quoted(cell))
	}
	text, err := a.points(cell, text, within)
	if err != nil {
		return a, err
	}
	switch {
	case bareParted.MatchString(text) && isLength(n) && unit != "in":
		text += " in"
		a.note("%s is a fraction without a unit: taken as inches", units.Quoted(cell))
	case !bareHere.MatchString(text) && !bareParted.MatchString(text):
	case unit != "":
		text += " " + unit
	case usual != "":
		text += " " + usual
		a.unit = usual
	default:
		return a, fmt.Errorf("%s has no unit: write for example %q", units.Quoted(cell), n.Example())
	}
	q, err := n.Parse(strings.TrimSuffix(text, "."))
	if err != nil {
		return a, errors.New(strings.TrimSpace(err.Error()))
	}
	a.text = n.Format(q)
	return a, nil
}

// twoSizes reports whether 5/6 mm is two sizes, for it is no part of an inch.
func twoSizes(text string) bool {
	m := slashed.FindStringSubmatch(text)
	if m == nil {
		return false
	}
	switch m[1] {
	case "2", "4", "8", "16", "32", "64":
		return false
	}
	return true
}

func (a *amount) note(format string, args ...any) {
	a.assumed = append(a.assumed, fmt.Sprintf(format, args...))
}

func isLength[Q ~float64](n *units.Notation[Q]) bool { return n.Kind() == units.Lengths.Kind() }

// points puts a point in place of a decimal comma. With three figures behind it, it
// could part thousands as well: then only one of the two may be a size there is.
func (a *amount) points(cell, text string, within span) (string, error) {
	m := oneComma.FindStringSubmatch(text)
	if m == nil {
		return text, nil
	}
	decimal, joined := m[1]+"."+m[2]+m[3], m[1]+m[2]+m[3]
	if len(m[2]) != 3 || len(m[1]) > 3 || m[1] == "0" {
		return decimal, nil
	}
	small, large := figure(m[1]+"."+m[2]), figure(m[1]+m[2])
	smallFits, largeFits := small >= within.least && small <= within.most, large >= within.least && large <= within.most
	switch {
	case smallFits && largeFits:
		return "", fmt.Errorf("%s could be %s or %s: write it without the comma", units.Quoted(cell), m[1]+"."+m[2], m[1]+m[2])
	case largeFits:
		a.note("%s taken as %s", units.Quoted(cell), joined)
		return joined, nil
	}
	a.note("%s taken as %s", units.Quoted(cell), decimal)
	return decimal, nil
}

// figure is the number of a text of figures and a point.
func figure(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0
	}
	return v
}
