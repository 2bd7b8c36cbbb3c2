package page

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the readers say for the command line is whole without its flags.
func TestPlainWords(t *testing.T) {
	for said, want := range map[string]string{
		"Write Qty over it, or say --count and its letter.":                                   "Write Qty over it.",
		"Put tables one below the other, or say --count and the letter.":                      "Put tables one below the other.",
		"Until you say so, with --count B for example, the smaller one of each row is taken.": "Until you say so, with for example, the smaller one of each row is taken.",
		"the same tub as row 2, with the same count: counted once (--add-tubs adds up)":       "the same tub as row 2, with the same count: counted once",
		"this is what findrive plan answered, not a list of stock":                            "this is a saved plan, not a list of stock",
	} {
		assert.Equal(t, want, plain(said))
	}
}

// Where there is no drive and rows of the list wait to be mended, that is said first.
func TestNoDriveTellsOfRowsThatWait(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": box}})
	u.quiet(Event{Act: "text", On: briefName, Form: map[string]string{"text": "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"100 rpm\"\ntolerance = \"10 %\"\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"120 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n"}})
	u.do(Event{Act: "answer"})
	assert.Nil(t, u.byID("none-rows"), "no row waits")
	u.Left = []left{{No: 1, Words: "motor pulley | a few", Name: "motor pulley"}}
	require.NotNil(t, u.byID("answer-none"))
	assert.Contains(t, u.says("none-waits"), "a row of your list")
	require.NotNil(t, u.byID("none-rows"))
}

// A price list in an older coding is kept as it is read.
func TestPricesAreKeptAsText(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "prices file", Files: []File{{Name: "p.csv", Data: []byte("Supplier;Item;Pack;Price\nHill;disc-60;10;\xa32,80\n")}}})
	assert.Contains(t, u.Prices, "£2,80")
	u.quiet(Event{Act: "prices file", Files: []File{{Name: "p.xlsx", Data: []byte("PK\x03\x04 broken")}}})
	assert.Contains(t, u.Prices, "£2,80", "what cannot be read changes nothing")
	assert.NotEmpty(t, u.buy.failed)
}
