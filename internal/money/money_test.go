package money_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/money"
)

func currency(t *testing.T, code string) money.Currency {
	t.Helper()
	c, err := money.Of(code)
	require.NoError(t, err)
	return c
}

func TestAmounts(t *testing.T) {
	for _, c := range []struct {
		code, text string
		want       money.Amount
		shown      string
	}{
		{"GBP", "2.80", 280, "£2.80"},
		{"GBP", "£2.8", 280, "£2.80"},
		{"GBP", "GBP 3", 300, "£3.00"},
		{"EUR", "0.05 EUR", 5, "€0.05"},
		{"CHF", "0", 0, "0.00 CHF"},
		{"JPY", "120", 120, "120 JPY"},
		{"KWD", "1.5", 1500, "1.500 KWD"},
	} {
		cur := currency(t, c.code)
		got, err := cur.Parse(c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
		assert.Equal(t, c.shown, cur.Format(got))
	}
	assert.Equal(t, "-£0.05", currency(t, "GBP").Format(-5))
}

func TestBadAmounts(t *testing.T) {
	gbp := currency(t, "GBP")
	for text, want := range map[string]string{
		"":                       "an amount such as \"2.80\" is needed",
		"2,80":                   "an amount such as \"2.80\" is needed",
		"2.805":                  "an amount such as \"2.80\" is needed",
		".5":                     "an amount such as \"2.80\" is needed",
		"2.":                     "an amount such as \"2.80\" is needed",
		"-1.00":                  "cannot be below 0",
		"£-1.00":                 "cannot be below 0",
		"2.80 EUR":               "a list has one currency",
		"$2.80":                  "a list has one currency",
		"1000000.01":             "more than any school pays",
		"9999999999999999999999": "is needed",
	} {
		_, err := gbp.Parse(text)
		require.ErrorContains(t, err, want, text)
	}
	for _, code := range []string{"", "gbp", "POUND", "£"} {
		_, err := money.Of(code)
		require.Error(t, err, code)
	}
}

// What is shown is read back as the same amount.
func TestShownIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, err := money.Of(rapid.SampledFrom([]string{"GBP", "EUR", "USD", "CHF", "JPY", "KWD"}).Draw(t, "currency"))
		require.NoError(t, err)
		a := money.Amount(rapid.Int64Range(0, int64(money.Most)).Draw(t, "amount"))
		for _, text := range []string{c.Format(a), c.Plain(a)} {
			got, err := c.Parse(text)
			require.NoError(t, err)
			require.Equal(t, a, got)
		}
	})
}
