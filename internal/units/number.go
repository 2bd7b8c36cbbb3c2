package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// splitNumber cuts a text such as "2 1/2 in" into its number, 2.5, and what
// follows, "in". Numbers are written 2, 2.5, .5, 2e3, 1/2 or 2 1/2; a minus
// sign, a decimal comma and anything beyond what can be held are refused with
// a sentence about it.
func splitNumber(text string) (value float64, rest string, err error) {
	text = strings.TrimSpace(text)
	negative, body := false, text
	for _, minus := range []string{"-", "\u2212"} {
		if after, ok := strings.CutPrefix(body, minus); ok {
			negative, body = true, after
			break
		}
	}
	if !negative {
		body = strings.TrimPrefix(body, "+")
	}
	number, rest := leadingDecimal(body)
	if number == "" {
		return 0, "", fmt.Errorf("%s does not begin with a number", Quoted(text))
	}
	if after, ok := strings.CutPrefix(rest, ","); ok && digits(after, 0) > 0 {
		return 0, "", withComma(text)
	}
	value, parseErr := strconv.ParseFloat(number, 64)
	value, rest = withFraction(value, number, rest)
	switch {
	case parseErr != nil || math.IsInf(value, 0) || math.IsNaN(value):
		return 0, "", fmt.Errorf("%s is not a number that can be measured", Quoted(text))
	case negative && value != 0:
		return 0, "", fmt.Errorf("%s is below zero", Quoted(text))
	}
	return value, strings.TrimSpace(rest), nil
}

// Unclear says that a text cannot be read, with an example of what can, in the words of
// format; or else that a number in it has a comma, if one has.
func Unclear(format, text, example string) error {
	for i := 1; i < len(text); i++ {
		if text[i] == ',' && digits(text[i-1:i], 0) > 0 && digits(text, i+1) > i+1 {
			return withComma(text)
		}
	}
	return fmt.Errorf(format, Quoted(text), example)
}

func withComma(text string) error {
	return fmt.Errorf("%s has a comma in its number, where a point belongs", Quoted(text))
}

// leadingDecimal is the decimal number a text begins with, and the rest. The
// number is empty if there is none.
func leadingDecimal(text string) (number, rest string) {
	i := digits(text, 0)
	whole := i
	if i < len(text) && text[i] == '.' {
		if j := digits(text, i+1); j > i+1 || whole > 0 {
			i = j
		}
	}
	if i == 0 {
		return "", text
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		j := i + 1
		if j < len(text) && (text[j] == '+' || text[j] == '-') {
			j++
		}
		if k := digits(text, j); k > j {
			i = k
		}
	}
	return text[:i], text[i:]
}

// withFraction adds the fraction after a whole number, as in "2 1/2", or
// divides by what follows a stroke, as in "1/8". A zero below the stroke gives
// an infinity or no number, which the caller refuses.
func withFraction(value float64, number, rest string) (float64, string) {
	if digits(number, 0) != len(number) {
		return value, rest
	}
	if below, after, ok := stroke(rest); ok {
		return value / below, after
	}
	trimmed := strings.TrimLeft(rest, " ")
	n := digits(trimmed, 0)
	if n == 0 || trimmed == rest {
		return value, rest
	}
	above, err := strconv.ParseFloat(trimmed[:n], 64)
	if below, after, ok := stroke(trimmed[n:]); ok && err == nil {
		return value + above/below, after
	}
	return value, rest
}

// stroke reads "/8" and what follows.
func stroke(text string) (below float64, rest string, ok bool) {
	after, ok := strings.CutPrefix(text, "/")
	n := digits(after, 0)
	if !ok || n == 0 {
		return 0, text, false
	}
	below, err := strconv.ParseFloat(after[:n], 64)
	return below, after[n:], err == nil
}

// digits is the index behind the digits that start at i.
func digits(text string, i int) int {
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	return i
}

// longestQuote is how much of a text is shown in a message, in runes.
const longestQuote = 60

// Quoted is a text as shown in messages: in quotes, with everything that does
// not print escaped, and cut short if it is long.
func Quoted(text string) string {
	n := 0
	for i := range text {
		if n == longestQuote {
			return strconv.Quote(text[:i] + "…")
		}
		n++
	}
	return strconv.Quote(text)
}
