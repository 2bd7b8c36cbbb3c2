// Package money holds amounts of money as whole numbers of the smallest coin, never
// as fractions, and reads and shows them.
package money

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/units"
)

// Amount is an amount in the smallest coin of a currency that is known from
// elsewhere: 280 is 2.80 pounds.
type Amount int64

// Most is far more than a school spends on rubber bands; amounts read are at most
// so much, so that sums never overflow.
const Most Amount = 100_000_000

// Currency is what amounts are counted in.
type Currency struct {
	Code   string // three capital letters: "GBP"
	Digits int    // of an amount behind the point
}

// Of is the currency of a code. The error is a plain sentence; amounts are then read as those of
// nearly all currencies are, so that one slip is not told as many.
func Of(code string) (Currency, error) {
	if len(code) != 3 || strings.ContainsFunc(code, func(r rune) bool { return r < 'A' || r > 'Z' }) {
		return Currency{Digits: 2}, fmt.Errorf("found %s, the three capital letters of a currency are needed, such as \"GBP\"", units.Quoted(code))
	}
	return Currency{code, digits(code)}, nil
}

// digits of a currency by ISO 4217 (from memory): 2 for nearly all.
func digits(code string) int {
	switch {
	case slices.Contains([]string{"CLP", "ISK", "JPY", "KRW", "PYG", "UGX", "VND", "XAF", "XOF", "XPF"}, code):
		return 0
	case slices.Contains([]string{"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"}, code):
		return 3
	}
	return 2
}

// signs are those that people write for their own money.
var signs = map[string]string{"GBP": "£", "EUR": "€", "USD": "$"}

// Format writes an amount for people: "£2.80", "-£0.05", "2.80 CHF".
func (c Currency) Format(a Amount) string {
	minus := ""
	if a < 0 {
		minus, a = "-", -a
	}
	if sign := signs[c.Code]; sign != "" {
		return minus + sign + c.Plain(a)
	}
	return minus + c.Plain(a) + " " + c.Code
}

// Plain writes an amount as a number alone: "2.80".
func (c Currency) Plain(a Amount) string {
	minus := ""
	if a < 0 {
		minus, a = "-", -a
	}
	text := strconv.FormatInt(int64(a), 10)
	if c.Digits == 0 {
		return minus + text
	}
	if short := c.Digits + 1 - len(text); short > 0 {
		text = strings.Repeat("0", short) + text
	}
	point := len(text) - c.Digits
	return minus + text[:point] + "." + text[point:]
}

// Parse reads an amount exactly, such as "2.80", "2.80 GBP" or "£2.80". The error is
// a plain sentence that says what was found and what would be right.
func (c Currency) Parse(text string) (Amount, error) {
	number, written := c.apart(text)
	if written != "" && written != c.Code {
		return 0, fmt.Errorf("found %s in a list whose currency is %s: a list has one currency", units.Quoted(text), c.Code)
	}
	whole, part, point := strings.Cut(number, ".")
	if strings.HasPrefix(number, "-") {
		return 0, fmt.Errorf("found %s, an amount cannot be below 0: write it without the -", units.Quoted(text))
	}
	n, err := strconv.ParseUint(whole+part+strings.Repeat("0", max(0, c.Digits-len(part))), 10, 62)
	if err != nil || whole == "" || point && part == "" || len(part) > c.Digits || len(number) > 20 {
		return 0, fmt.Errorf("found %s, an amount such as %q is needed", units.Quoted(text), c.Plain(280))
	}
	if n > uint64(Most) {
		return 0, fmt.Errorf("%s is more than any school pays: the most is %s", units.Quoted(text), c.Format(Most))
	}
	return Amount(n), nil
}

// apart takes the currency off an amount: its code before or after, or its sign
// before.
func (c Currency) apart(text string) (number, code string) {
	text = strings.TrimSpace(text)
	for of, sign := range signs {
		if rest, ok := strings.CutPrefix(text, sign); ok {
			return strings.TrimSpace(rest), of
		}
	}
	letters := func(r rune) bool { return r >= 'A' && r <= 'Z' }
	if rest := strings.TrimLeftFunc(text, letters); len(text)-len(rest) == 3 {
		return strings.TrimSpace(rest), text[:3]
	}
	if rest := strings.TrimRightFunc(text, letters); len(text)-len(rest) == 3 {
		return strings.TrimSpace(rest), text[len(rest):]
	}
	return text, ""
}
