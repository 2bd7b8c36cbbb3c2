package measure

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/built"
	"findrive/internal/parts"
	"findrive/internal/pattern"
	"findrive/internal/units"
)

// CountOf is a count of turns or a timed way as evidence of what is wrong with a drive.
// The error is for the user.
func CountOf(r Reading, b *built.Build) (built.Count, error) {
	if r.Kind != Turns && r.Kind != Travel {
		return built.Count{}, fmt.Errorf("%s is neither a count nor a run", units.Quoted(r.Words))
	}
	value, sigma, err := r.value(b)
	if err != nil {
		return built.Count{}, err
	}
	return built.Count{Words: r.Words, Turns: units.RPM(math.Exp(value)), Timed: r.Kind == Travel, Sigma: sigma}, nil
}

// Diagnose is what may be wrong with the model, by its counts and runs; nil if they are what
// was to be expected, or there are none. The context ends the search early.
func (r *Result) Diagnose(ctx context.Context) (*built.Diagnosis, error) {
	var counts []built.Count
	slow, due := 0, true
	for i := range r.Readings {
		j := &r.Readings[i]
		if j.Kind != Turns && j.Kind != Travel {
			continue
		}
		c, err := CountOf(j.Reading, r.Build)
		if err != nil {
			return nil, err
		}
		if counts = append(counts, c); j.Read < j.Foretold.Likely {
			slow++
		}
		due = due && j.Read >= j.Foretold.Low() && j.Read <= j.Foretold.High()
	}
	if len(counts) == 0 || due {
		return nil, nil
	}
	sign := built.TooFast
	if 2*slow > len(counts) {
		sign = built.TooSlow
	}
	d, err := built.Diagnose(ctx, r.Build, []built.Hearing{built.Exactly(sign)}, counts)
	if err != nil || d.Fits {
		return nil, err
	}
	return d, nil
}

// numbers are those that people write out, up to a minute's seconds.
var numbers = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
	"twenty", "thirty", "forty", "fifty", "sixty"}

// saidNumbers matches them, from two on, and such as "thirty-three".
var saidNumbers = `(?:twenty|thirty|forty|fifty)[ -](?:` + strings.Join(numbers[1:10], "|") + ")|" + strings.Join(numbers[2:], "|")

// figures is a number in figures, with a point.
func figures(number string) string {
	number = strings.ToLower(number)
	if tens, ones, both := strings.Cut(strings.ReplaceAll(number, "-", " "), " "); both {
		return figures(tens)[:1] + figures(ones)
	}
	i := slices.Index(numbers, number)
	switch {
	case i > 20:
		return strconv.Itoa(10 * (i - 18))
	case i >= 0:
		return strconv.Itoa(i)
	}
	return point(number)
}

// saidTurns is a count as it stands in a sentence, such as "9 turns in 30 s".
var saidTurns = pattern.Must(`(?i)\b(\d+(?:[.,]\d+)?|` + saidNumbers + `)\s*(?:turns?|times|rounds?|goes|revolutions?)?\s+(?:in|every|per|a|an|each)\s+(?:an?\s+|one\s+)?(?:(\d+(?:[.,]\d+)?|` + saidNumbers + `)\s*)?(half a minute|minutes?|mins?|seconds?|secs?|s)\b`)

// saidPeriod is the time of one turn as it stands in a sentence, such as "a turn every 1.6 s".
var saidPeriod = pattern.Must(`(?i)\b(?:(?:an?|one|each|every)\s+(?:turn|round|go|revolution|time round)|once)\s+(?:every|each|in|takes|took|per)\s+(?:about\s+)?(\d+(?:[.,]\d+)?)\s*(minutes?|mins?|seconds?|secs?|s)\b`)

// periods is over how many turns the time of one is taken to have been found (judgement).
const periods = 10

// saidTravel is a timed way as it stands in a sentence, such as "3 m in 12 s", "half a metre in
// twenty seconds" or "a metre and a half in 20".
var saidTravel = pattern.Must(`(?i)\b(\d+(?:[.,]\d+)?|(?:half an?|an?|one|` + saidNumbers + `)\b)( and a half\b)?\s*(m|metres?|meters?|cm|centimetres?|centimeters?|mm|millimetres?|millimeters?)( and a half)?` +
	`\s+(?:in|takes|took)\s+(?:about\s+)?(\d+(?:[.,]\d+)?|` + saidNumbers + `)( and a half\b)?(?:\s*(seconds?|secs?|s|minutes?|mins?)\b|\b)( from (?:rest|a standstill|standing))?`)

// endsThere is what may come behind a time without a unit, which then is of seconds: a way "in 3
// goes" is no timed one.
var endsThere = pattern.Must(`(?i)^\s*(?:$|[.,;:!?)]|(?:and|but|instead|not|when|which)\b)`)

// saidTime is one whose time stands first, such as "17 seconds to go up half a metre".
var saidTime = pattern.Must(`(?i)\b((?:\d+(?:[.,]\d+)?|` + saidNumbers + `)(?: and a half)?\s*(?:seconds?|secs?|s))\s+(?:to|for)\s+(?:(?:go|get|do|come|travel|climb|rise|drive|lift|raise|pull|cover)\s+(?:it\s+|up\s+|along\s+|through\s+|across\s+)*)?` +
	`((?:\d+(?:[.,]\d+)?|half an?|an?|one|` + saidNumbers + `)\s*(?:and a half\s+)?(?:m|metres?|meters?|cm|centimetres?|centimeters?))\b`)

// travels are the timed ways in a sentence, and the sentence without them.
func travels(text string) (readings []Reading, rest string) {
	text = saidTime.ReplaceAllString(text, "$2 in $1")
	last := 0
	for _, at := range saidTravel.FindAllStringSubmatchIndex(text, -1) {
		m := make([]string, len(at)/2)
		for i := range m {
			if at[2*i] >= 0 {
				m[i] = text[at[2*i]:at[2*i+1]]
			}
		}
		if anothers(text, at[0], at[1]) || m[7] == "" && !endsThere.MatchString(text[at[1]:]) {
			continue
		}
		r, err := ReadTravel(saidWay(m[1], m[2]+m[4] != "") + " " + wayUnit(m[3]) + " in " + withHalf(m[5], m[6] != "") + " " + timeUnit(m[7]) + map[bool]string{true: fromRest}[m[8] != ""])
		if err != nil {
			continue
		}
		r.Words = m[0]
		readings = append(readings, r)
		rest += text[last:at[0]] + " "
		last = at[1]
	}
	return readings, rest + text[last:]
}

// saidWay is how many of a unit a way is, in figures.
func saidWay(number string, andHalf bool) string {
	switch number = strings.ToLower(number); {
	case strings.HasPrefix(number, "half"):
		return "0.5"
	case number == "a" || number == "an":
		number = "1"
	}
	return withHalf(number, andHalf)
}

// withHalf is a number in figures, and a half more.
func withHalf(number string, andHalf bool) string {
	number = figures(number)
	if n, err := strconv.ParseFloat(number, 64); err == nil && andHalf {
		return strconv.FormatFloat(n+0.5, 'f', -1, 64)
	}
	return number
}

// wayUnit is a unit of length by its sign.
func wayUnit(word string) string {
	switch word = strings.ToLower(word); {
	case word == "mm" || strings.HasPrefix(word, "milli"):
		return "mm"
	case word[0] == 'c':
		return "cm"
	}
	return "m"
}

// FromWords are the counts and runs that stand in a sentence of somebody's own, and the
// sentence without them.
func FromWords(text string) (readings []Reading, rest string) {
	readings, rest = travels(text)
	rest = saidPeriod.ReplaceAllStringFunc(rest, func(found string) string {
		m := saidPeriod.FindStringSubmatch(found)
		time, err := strconv.ParseFloat(point(m[1]), 64)
		if err != nil {
			return found
		}
		r, err := ReadTurns(fmt.Sprintf("%d turns in %g %s", periods, periods*time, timeUnit(m[2])))
		if err != nil {
			return found
		}
		r.Words = found
		readings = append(readings, r)
		return " "
	})
	turns, rest := turnsIn(rest)
	return append(readings, turns...), rest
}

// turnsIn are the counts of turns in a sentence, and the sentence without them. One of before, of
// the plan or of another model is left in it: the figure of now beside it is the count, over the
// same time.
func turnsIn(text string) (readings []Reading, rest string) {
	last := 0
	for _, at := range saidTurns.FindAllStringSubmatchIndex(text, -1) {
		m := make([]string, len(at)/2)
		for i := range m {
			if at[2*i] >= 0 {
				m[i] = text[at[2*i]:at[2*i+1]]
			}
		}
		count, others := m[1], anothers(text, at[0], at[1])
		if others {
			figure, is := bareFigure(text, at[0], at[1])
			if !is {
				continue
			}
			count = figure
		}
		time := figures(m[2])
		if time == "" {
			time = "1"
		}
		if strings.EqualFold(m[3], "half a minute") {
			time, m[3] = "30", "s"
		}
		r, err := ReadTurns(figures(count) + " turns in " + time + " " + timeUnit(m[3]))
		if errors.Is(err, ErrStands) && !others {
			rest += text[last:at[0]] + " " + Stands + " "
			last = at[1]
		}
		if err != nil {
			continue
		}
		r.Words = m[0]
		if others {
			r.Words = strings.Replace(m[0], m[1], count, 1)
		} else {
			rest += text[last:at[0]] + " "
			last = at[1]
		}
		readings = append(readings, r)
	}
	return readings, rest + text[last:]
}

// aPull is a pull of a force meter as people write it, such as "slips at 0.4 N".
var aPull = pattern.Must(`(?i)^(slip(?:s|ped|ping)?|drag(?:s|ged|ging)?)\b\s*(?:at|of|with|:)?\s*(\d.*)$`)

// FromField are the counts and runs, the tests of bands of a cupboard, and the pulls at which
// a band slips or the output drags, that somebody typed where only they are asked for, several
// divided by semicolons. The error is for the user.
func FromField(text string, bands []parts.Band) ([]Reading, error) {
	var out []Reading
	for piece := range strings.SplitSeq(text, ";") {
		piece = strings.TrimSpace(piece)
		if piece == "" {
			continue
		}
		if m := aPull.FindStringSubmatch(piece); m != nil {
			read := ReadDrag
			if strings.HasPrefix(strings.ToLower(m[1]), "slip") {
				read = ReadSlip
			}
			r, err := read(point(m[2]))
			if err != nil {
				return nil, err
			}
			out = append(out, r)
			continue
		}
		r, err := ReadTurns(piece)
		said, _ := FromWords(piece)
		if travelled, other := ReadTravel(piece); other == nil {
			r, err = travelled, nil
		} else if strings.Contains(piece, ":") {
			if r, err = ReadHung(piece, bands); err != nil {
				if pulled, other := ReadPulled(piece, bands); other == nil {
					r, err = pulled, nil
				}
			}
		} else if err != nil && len(said) > 0 {
			out = append(out, said...)
			continue
		}
		if err != nil {
			return nil, err
		}
		out = append(out, r)
	}
	return out, nil
}

func point(number string) string { return strings.ReplaceAll(number, ",", ".") }

func timeUnit(word string) string {
	if strings.HasPrefix(strings.ToLower(word), "m") {
		return "min"
	}
	return "s"
}
