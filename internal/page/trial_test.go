package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/units"
)

const oddName = "gummi.bänder"

// Names that are not of bare letters keep them, and a mistake in one leads to its field, from
// another step too.
func TestOddNamesAreFollowed(t *testing.T) {
	assert.Equal(t, "Été à l'école", units.Capital("été à l'école"))
	assert.Equal(t, "£3.20", units.Capital("£3.20"))
	assert.Empty(t, units.Capital(""))
	u := newUser(t)
	u.do(Event{Act: "add", Form: map[string]string{"kind": "band", "name": oddName}})
	u.put(cupboardName, "long", "band", oddName, "flat_length")
	u.do(Event{Act: "door", On: stepCupboard})
	u.do(Event{Act: "onward"})
	require.NotNil(t, u.byID("mistake-1"))
	to := attr(u.byID("mistake-1"), "data-on")
	require.NotNil(t, u.byID(to), to)
	u.do(Event{Act: "door", On: stepQuestion})
	u.do(Event{Act: "onward"})
	there := u.byID("mistake-1")
	require.NotNil(t, there)
	r := u.do(Event{Act: attr(there, "data-act"), On: attr(there, "data-on"), Value: attr(there, "data-value")})
	assert.Equal(t, to, r.Focus)
	assert.NotNil(t, u.byID(r.Focus))
}

func TestAButtonSaysWhatItDoes(t *testing.T) {
	for words, want := range map[string]string{
		"ask for 28 turns a minute instead, the nearest speed found, or let the speed be 41 % off":   "ask for 28 turns a minute instead, the nearest speed found",
		"put up with bands stretched 3 to 60 % (fitted_stretch_min and _max in [limits])":            "put up with bands stretched 3 to 60 %",
		"put up with 100 degrees of contact (arc_min in [limits]): watch for slip":                   "put up with 100 degrees of contact: watch for slip",
		"leave the height of the floor to the wheels (take ground out of [frame])":                   "leave the height of the floor to the wheels",
		"make 8 pulleys from 2 mm card (compass and scissors), 8 of 80 mm: discs = true in [making]": "make 8 pulleys from 2 mm card (compass and scissors), 8 of 80 mm",
		"build 5 sets at once, not 8": "build 5 sets at once, not 8",
	} {
		assert.Equal(t, want, asButton(words))
	}
}

// Where the groups build different drives, one of those can be put on the table.
func TestADriveOfAPlanIsPutOnTheTable(t *testing.T) {
	u := newUser(t)
	u.put(briefName, "16", "sets")
	u.do(Event{Act: "door", On: stepPaper})
	u.do(Event{Act: "share"})
	require.True(t, u.sharedOut())
	require.NotNil(t, u.shared.plan)
	u.do(Event{Act: "door", On: stepBuilt})
	if u.chosen() == nil {
		require.NotNil(t, u.byID("table-0"))
	}
	r := u.do(Event{Act: "on table", On: "0"})
	assert.Equal(t, "step-"+stepBuilt, r.Focus)
	require.NotEmpty(t, u.Model)
	assert.Contains(t, u.says("built-of"), "For the model on the table")
	u.do(Event{Act: "on table", On: "99"})
	u.do(countsOf("Owls, 10, 30\nLarks, 11, 30\n"))
	assert.NotNil(t, u.byID("class-says"), u.says("counts-wrong"))
}

// A file that is no list is said to be what it is, under its own name, and sent to where the page
// takes it: no command is told of, nor half of one.
func TestAWrongFileIsSentToWhereItGoes(t *testing.T) {
	u := newUser(t)
	_, answer, err := answered().certificate()
	require.NoError(t, err)
	for _, c := range []struct {
		name, text, goes string
	}{
		{"drives.json", string(answer), "drives.json: this is a saved answer, not a list of stock: it is for the command line."},
		{"photo.png", "\x89PNG\r\n\x1a\n", "photo.png: this is a picture, not a spreadsheet: type the list in, or count parts by drawings."},
		{"list", string(demo.Cupboard()), "list: this is a cupboard file already: Open, at the top of the page, takes it."},
		{"list", string(demo.Brief()), "list: this is a brief, not a list of stock: Open, at the top of the page, takes it."},
		{"list", string(demo.Prices()), "list: this is a price list, not a list of stock: it goes under Buy."},
		{"list", "findrive proof 1\n", "list: this is a proof, not a list of stock: it is for the command line."},
		{"film.csv", strings.Repeat("film,", 1<<20), "is it the right one?"},
	} {
		u.quiet(Event{Act: "list files", Files: []File{{Name: c.name, Data: []byte(c.text)}}})
		assert.True(t, strings.HasSuffix(u.list.failed, c.goes), u.list.failed)
		assert.True(t, strings.HasPrefix(u.list.failed, c.name), u.list.failed)
	}
	u.quiet(Event{Act: "read list", Form: map[string]string{"text": string(demo.Brief())}})
	assert.True(t, strings.HasPrefix(u.list.failed, "Pasted list: this is a brief"), u.list.failed)
	u.quiet(Event{Act: "read list", Form: map[string]string{"text": "Item\tQty\nred pulley\t8\n"}})
	assert.Equal(t, "No row of it can be used. The first row: how large it is over the rims is missing.", u.list.failed)
}

// What is wrong with a field is said in the words of the page: its own name, and no quotes that
// nobody typed.
func TestMistakesAreToldInTheWordsOfThePage(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepCupboard})
	u.quiet(Event{Act: "add", Form: map[string]string{"kind": "pulley", "name": "red"}})
	assert.Contains(t, u.says(id(cupboardName, "pulley", "red")), "Over the rims is missing: write for example \"20 mm\".")
	u.quiet(Event{Act: "set", On: cupboardName + pathOf("pulley", "red", "bore"), Value: "wide"})
	u.quiet(Event{Act: "set", On: briefName + pathOf("sets"), Value: "ten"})
	u.quiet(Event{Act: "set", On: briefName + pathOf("frame", "length"), Value: ""})
	u.quiet(Event{Act: "door", On: stepAnswer})
	for _, words := range []string{"pulley, red: Over the rims is missing", "pulley, red, Hole: \"wide\"", "How many groups build one at the same time: Found \"ten\", a whole number is needed.", "frame: Across is missing"} {
		assert.Contains(t, u.says("mistakes-box"), words)
	}
	assert.NotContains(t, u.says("mistakes-box"), "quotes")
}

// A mistake in a price list is told with its row, and of none that it is none.
func TestMistakesInPricesAreToldWithTheirRows(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepBuy})
	u.quiet(Event{Act: "prices", Form: map[string]string{"text": "Supplier\tKind\tPart\tPack\tPrice\tCarriage\nNorth\tpulley\tdisc-80\t5\t3.50\t4.95\nNorth\tcells\tnone\t1 bag\t3.50\t\n"}})
	assert.Contains(t, u.says("prices-wrong"), `Row 3, column C, Part: There is no cells "none" in the cupboard`)
	assert.NotContains(t, u.says("prices-wrong"), "?.")
	assert.Contains(t, u.says("prices-wrong"), "Row 3, column D, Pack: Found \"1 bag\"")
	u.quiet(Event{Act: "prices", Form: map[string]string{"text": " \n"}})
	assert.Equal(t, "There are no prices yet: paste them, or open a price list.", u.says("prices-wrong"))
}

// A name with a comma in it is one name.
func TestANameWithACommaStaysWhole(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": strings.ReplaceAll(box, "pulley.large", `pulley."red, large > small"`)}})
	u.quiet(Event{Act: "text", On: briefName, Form: map[string]string{"text": "model = \"ride on an upright axle\"\nspeed = \"160 rpm\"\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"120 mm\"\ndepth = \"100 mm\"\n"}})
	u.do(Event{Act: "door", On: stepAnswer})
	assert.Contains(t, u.says("answer-found"), "small drives red, large > small")
}

// A model whose name is taken away is not called by the name of its file.
func TestAModelHasAlwaysAName(t *testing.T) {
	u := newUser(t)
	u.put(briefName, "", "name")
	assert.Equal(t, "our carousel", u.name())
	u.do(Event{Act: "door", On: stepAnswer})
	assert.Contains(t, u.says("outcome"), "Best of all for our carousel: ")
}
