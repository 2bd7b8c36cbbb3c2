package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/report"
	"findrive/internal/why"
)

// box is a cupboard so small that all of it is soon gone through.
const box = `
[pulley.small]
outside = "9 mm"
groove_floor = "6 mm"
bore = "2 mm"
count = 4
[pulley.large]
outside = "40 mm"
groove_floor = "36 mm"
bore = "4.9 mm"
count = 3
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 20
[motor.m]
rated = "3 V"
free_speed = "5200 rpm"
stall_torque = "2.4 mN.m"
count = 9
[cells.one]
cells = 1
count = 9
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 10
`

// A change's "Then" is what leads the answer once its button was pressed.
func TestThenIsWhatLeadsOnceTheButtonIsPressed(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": box}})
	u.quiet(Event{Act: "text", On: briefName, Form: map[string]string{"text": "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"100 rpm\"\ntolerance = \"10 %\"\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"120 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n"}})
	u.do(Event{Act: "answer"})
	require.NotEmpty(t, u.answer.changes)
	c := u.answer.changes[0]
	require.Contains(t, u.says("change-0"), "Then: "+drivesIn(c.Then))
	u.do(Event{Act: "make change", On: "0"})
	require.True(t, u.fresh())
	require.NotEmpty(t, u.answer.result.Proposals)
	lead := &u.answer.result.Proposals[0]
	assert.True(t, why.Same(c.Change.Then(), lead))
	for _, p := range lead.Stages {
		assert.Contains(t, strings.ReplaceAll(c.Then, " > ", " "), p.Driven)
	}
}

// That discs of card would do where pulleys are to be got is said as the command line says it, and
// that a change was made without the words of a file.
func TestCardIsNamedWherePulleysAreMissing(t *testing.T) {
	u := newUser(t)
	ask := func(speed string) {
		u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": strings.Replace(box, "count = 3", "count = 1", 1)}})
		u.quiet(Event{Act: "text", On: briefName, Form: map[string]string{"text": "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"" + speed + "\nmax_stages = 2\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"120 mm\"\ndepth = \"100 mm\"\n"}})
		u.do(Event{Act: "answer"})
		require.NotEmpty(t, u.answer.changes)
		var b strings.Builder
		require.NoError(t, report.Text(&b, u.answer.result, report.TextOptions{Width: 100, Instead: u.answer.instead}))
		assert.Equal(t, strings.Contains(strings.Join(strings.Fields(b.String()), " "), "made of discs of card"), u.byID("none-discs") != nil, speed)
	}
	ask(`60 rpm"`)
	ask("40 rpm\"\nsets = 3")
	require.NotNil(t, u.byID("none-discs"))
	u.answer.changes[0].Words = "put up with 100 degrees of contact (arc_min in [limits])"
	u.quiet(Event{Act: "make change", On: "0"})
	assert.Equal(t, "Done: put up with 100 degrees of contact. Undo takes it back.", u.says("last"))
}

// Of a shop's price list it is said which rows were not used and what was taken for granted, in
// the page's words; of a list of which all is used and said nothing is.
func TestRowsOfPricesThatAreNotUsedAreToldOf(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": strings.Replace(box, "count = 4", "count = 1", 1)}})
	u.quiet(Event{Act: "text", On: briefName, Form: map[string]string{"text": "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"300 rpm\"\ntolerance = \"60 %\"\nsets = 2\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"120 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n"}})
	u.do(Event{Act: "door", On: stepBuy})
	u.do(Event{Act: "prices", Form: map[string]string{"text": "Description,Pack size,Price inc VAT\nPulley small,1,0.30\nLolly sticks,100,1.00\nPulley large 40mm,1,on request\n"}})
	require.True(t, u.bought(), u.says("prices-wrong"))
	for _, want := range []string{"Of your prices:", "Row 3: names no part that drives are made of: not used", `found "on request", an amount such as "2.80" is needed: not used`, `Row 2: "Pulley small" is taken for pulley.small of the cupboard`, "Nothing says what money it is: taken as GBP"} {
		assert.Contains(t, u.says("prices-taken"), want)
	}
	assert.NotContains(t, u.says("prices-taken"), "--", "the command line's flags mean nothing here")
	u.do(Event{Act: "prices", Form: map[string]string{"text": "schema = 1\ncurrency = \"GBP\"\n[supplier.hill]\n[offer.a]\npart = \"pulley.small\"\nsupplier = \"hill\"\npack = 1\nprice = \"0.30\"\n"}})
	require.True(t, u.bought(), u.says("prices-wrong"))
	assert.NotNil(t, u.byID("order"))
	assert.Nil(t, u.byID("prices-taken"))
}
