package page

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"findrive/internal/design"
)

// The door "I have tubs of parts", from counts to paper.
func TestTubsFromCountsToPaper(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepTubs})
	form := map[string]string{"dowel": "4"}
	u.do(Event{Act: "tubs", Form: form})
	assert.Contains(t, u.says("tubs-wrong"), "Nothing is counted")
	for _, key := range []string{"pulley.motor-pulley-9", "pulley.pulley-13", "pulley.pulley-50", "pulley.disc-80", "band.no-16", "band.no-18", "band.no-19", "band.no-24", "motor.small-3v", "cells.one-cell", "cells.two-cells", "axle.dowel", "spacer.washer"} {
		form[key+" n"] = "24"
	}
	form["motor.small-3v n"] = "some"
	r := u.do(Event{Act: "tubs", Form: form})
	assert.Equal(t, id("tub", "motor", "small-3v")+"-n", r.Focus)
	form["motor.small-3v n"] = "9"
	u.do(Event{Act: "tubs", Form: form})
	assert.Equal(t, stepCupboard, u.Step)
	assert.Contains(t, u.Cupboard, `bore = "3.9 mm"`)
	assert.Contains(t, u.says(id(cupboardName, "motor", "small-3v")), "guessed")
	u.do(Event{Act: "onward", On: stepQuestion})
	u.do(Event{Act: "onward", On: stepAnswer})
	require.NotNil(t, u.chosen(), u.says("outcome"))
	u.do(Event{Act: "onward", On: stepPaper})
	r = u.do(Event{Act: "pdf", On: "all"})
	assert.Len(t, r.Files, len(papers)-1, "no discs")
	for _, f := range r.Files {
		assert.True(t, strings.HasPrefix(string(f.Data), "%PDF-"), f.Name)
	}
}

// Who comes back to the tubs sees what was counted, also after a reload, and what is put otherwise
// is otherwise in the cupboard: another count, none any more, another dowel. What was measured
// since stays.
func TestTubsCountedAgain(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepTubs})
	u.quiet(Event{Act: "tubs", Form: map[string]string{"dowel": "5", "band.no-16 n": "0", "pulley.pulley-13 n": "8", "pulley.pulley-20 n": "9", "pulley.disc-80 n": "10", "pulley.motor-pulley-9 n": "7", "axle.dowel n": "20", "spacer.washer n": "3"}})
	u.quiet(Event{Act: "set", On: cupboardName + pathOf("pulley", "pulley-20", "bore"), Value: "4.6 mm"})
	u.quiet(Event{Act: "set", On: cupboardName + pathOf("pulley", "pulley-13", "count"), Value: "11"})
	kept := u.kept()
	u = newUser(t)
	u.quiet(Event{Act: "restore", Value: kept})
	u.quiet(Event{Act: "door", On: stepTubs})
	assert.Equal(t, "5", u.chosenIn("tub-dowel"))
	form := map[string]string{}
	for _, n := range u.nodes() {
		if n.Data == "input" && strings.HasSuffix(attr(n, "name"), " n") {
			form[attr(n, "name")] = attr(n, "value")
		}
	}
	assert.Equal(t, "11", form["pulley.pulley-13 n"])
	assert.Equal(t, "10", form["pulley.disc-80 n"])
	form["dowel"], form["pulley.disc-80 n"], form["spacer.washer n"], form["axle.dowel n"] = "4", "", "0", "some"
	u.quiet(Event{Act: "tubs", Form: form})
	assert.Equal(t, "4", u.chosenIn("tub-dowel"), "a form that is refused stays as it was typed")
	assert.Contains(t, u.Cupboard, "disc-80")
	form["axle.dowel n"], form["band.no-16 n"] = "21", "0"
	u.quiet(Event{Act: "tubs", Form: form})
	in := valuesOf(u.Cupboard)
	assert.Nil(t, table(in, "pulley", "disc-80"))
	assert.Nil(t, table(in, "spacer", "washer"))
	assert.Nil(t, table(in, "band", "no-16"), "it never was there")
	assert.Equal(t, "3.9 mm", table(in, "pulley", "pulley-13")["bore"])
	assert.Equal(t, int64(11), table(in, "pulley", "pulley-13")["count"])
	assert.Equal(t, "4.6 mm", table(in, "pulley", "pulley-20")["bore"], "it was measured")
	assert.Equal(t, "2 mm", table(in, "pulley", "motor-pulley-9")["bore"])
	assert.Equal(t, "4 mm", table(in, "axle", "dowel")["diameter"])
	assert.Equal(t, int64(21), table(in, "axle", "dowel")["count"])
	u.quiet(Event{Act: "door", On: stepTubs})
	assert.Equal(t, "4", u.chosenIn("tub-dowel"))
	u.quiet(Event{Act: "undo"})
	assert.NotNil(t, table(valuesOf(u.Cupboard), "pulley", "disc-80"))
}

func TestTheMeasuringSheetIsOnePage(t *testing.T) {
	u := newUser(t)
	r := u.do(Event{Act: "measuring sheet"})
	require.Len(t, r.Files, 1)
	assert.Equal(t, 1, strings.Count(string(r.Files[0].Data), "/Type /Page\n"))
}

// Where there is no drive, every change that is offered makes one when it is made in the
// files and they are read anew.
func TestEveryChangeThatIsOfferedMakesADrive(t *testing.T) {
	for name, brief := range map[string][]string{
		"many groups":  {"11", "sets"},
		"a single one": {"1", "max_stages"},
	} {
		t.Run(name, func(t *testing.T) {
			u := &user{t: t, Session: New(WithLimits(time.Minute))}
			act := func(e Event) {
				require.NotContains(t, u.Do(context.Background(), e, nil).Say, "does not know")
			}
			act(Event{Act: "set", On: briefName + pathOf(brief[1:]...), Value: brief[0]})
			act(Event{Act: "answer"})
			require.Zero(t, len(u.answer.result.Proposals))
			require.NotEmpty(t, u.answer.changes)
			t.Log(u.says("obstacle"))
			was, answer := u.files, u.answer
			for i, c := range answer.changes {
				u.files, u.answer = was, answer
				act(Event{Act: "make change", On: string(rune('0' + i))})
				assert.False(t, was.same(u.files), c.Words)
				r := u.read()
				require.True(t, r.sound(), "%s: %v", c.Words, r.problems)
				found, err := design.Exists(context.Background(), r.cup.InStock(), r.brief, design.Options{Threads: 1})
				require.NoError(t, err)
				assert.Positive(t, len(found.Proposals), c.Words)
				t.Log(c.Words)
			}
		})
	}
}

// A row that could not be used is mended with what is wrong alone put in: its kind, size and
// count stand there. What no drive has is left out, and can still be said to be a part.
func TestARowIsMendedByWhatIsWrongAlone(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepList})
	u.do(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": "Item\tSize / dims\tNo. of\nmotor pulley\t9 mm\t9\nred pulley\t3,5 / 5mm\t22\nlolly sticks\t\t500\nrubber bands No 16\t\tone bag\n"}})
	require.Len(t, u.Left, 3)
	assert.Contains(t, u.says("left-head"), "(2)")
	assert.Contains(t, u.says("left-others-head"), "lolly sticks")
	assert.NotNil(t, u.byID("lacks-rows"), "what is missing may be among them")
	for fid, want := range map[string]string{"left-1-size": "3,5 / 5mm", "left-1-count": "22", "left-2-count": "", "left-2-name": "rubber bands No 16"} {
		assert.Equal(t, want, attr(u.byID(fid), "value"), fid)
	}
	for _, count := range []string{"many", "", " "} {
		u.do(Event{Act: "mend row", On: "2", Form: map[string]string{"kind": "band", "name": "rubber bands No 16", "count": count}})
		assert.Contains(t, u.says("last"), "Not yet")
		assert.Equal(t, count, attr(u.byID("left-2-count"), "value"))
		require.Len(t, u.Left, 3, "a count is never guessed")
	}
	u.do(Event{Act: "mend row", On: "2", Form: map[string]string{"kind": "band", "name": "rubber bands No 16", "count": "90"}})
	u.do(Event{Act: "to rows"})
	assert.NotNil(t, u.byID("left-1"), "rows keep their numbers")
	u.do(Event{Act: "mend row", On: "1", Form: map[string]string{"kind": "pulley", "name": "red pulley", "size": "35 mm", "count": "22"}})
	assert.Contains(t, u.Cupboard, "[band.rubber-bands-no-16]")
	assert.Contains(t, u.Cupboard, "[pulley.red-pulley]")
	require.Len(t, u.Left, 1)
	assert.NotNil(t, u.byID("left-3"))
	u.do(Event{Act: "mend row", On: "3", Form: map[string]string{"kind": "axle", "name": "sticks", "size": "5 x 300 mm", "count": "50"}})
	assert.Contains(t, u.Cupboard, "[axle.sticks]")
	assert.Empty(t, u.Left)
}

// What is wrong with the model on the table is found by what is seen and counted.
func TestTroubleIsFoundByWhatIsSeenAndCounted(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuilt})
	for _, c := range []struct{ seen, counted, id, want string }{
		{"", "", "built-wrong", "Say what you see"},
		{"", "many", "built-wrong", "turns"},
		{"xyzzy", "", "built-wrong", "not understood"},
		{"the band slips", "", "trouble", "slips"},
		{"", "2 turns in 30 s", "trouble", "not what this drive should do"},
		{"", "11 turns in 30 s", "trouble", "nothing need be wrong"},
		{"it hums and will not start", "", "trouble", "Cure"},
		{"band looks too tight and it squeaks", "", "trouble", `as "band looks too tight" and "band slips"`},
		{"band looks too tight and it squeaks", "", "trouble", `These do not show as "band slips". That alone may come from`},
	} {
		r := u.do(Event{Act: "trouble", Form: map[string]string{"seen": c.seen, "counted": c.counted}})
		assert.NotEmpty(t, r.Focus)
		assert.Contains(t, u.says(c.id), c.want, "%q %q", c.seen, c.counted)
	}
}

// The least to buy is found from prices that were pasted.
func TestTheLeastToBuyIsFound(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "door", On: stepBuy})
	assert.Contains(t, u.says("prices-text"), "[supplier.")
	u.do(Event{Act: "prices", Form: map[string]string{"text": "not a list"}})
	assert.NotEmpty(t, u.says("prices-wrong"))
	u.do(Event{Act: "undo"})
	for _, motor := range []string{"slow", "hobby"} {
		u.Do(context.Background(), Event{Act: "set", On: cupboardName + pathOf("motor", motor, "count"), Value: "1"}, nil)
	}
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("sets"), Value: "3"}, nil)
	text := "schema = 1\ncurrency = \"GBP\"\n[supplier.hill]\n[offer.slow]\npart = \"motor.slow\"\nsupplier = \"hill\"\npack = 1\nprice = \"1.40\"\n[offer.discs]\npart = \"pulley.disc-80\"\nsupplier = \"hill\"\npack = 5\nprice = \"3.00\"\n"
	u.Session.limits = WithLimits(8 * time.Second)
	u.do(Event{Act: "prices", Form: map[string]string{"text": text}})
	require.True(t, u.bought(), u.says("prices-wrong"))
	assert.Contains(t, u.says("order"), "all 3 groups build")
	assert.Contains(t, u.says("order"), "motor slow")
	r := u.do(Event{Act: "save", On: "prices"})
	require.Len(t, r.Files, 1)
	assert.Equal(t, text, string(r.Files[0].Data))
}

// Where pulleys are made of discs, their discs are among the papers.
func TestDiscsAreAmongThePapers(t *testing.T) {
	u := newUser(t)
	act := func(e Event) { u.Do(context.Background(), e, nil) }
	for _, name := range []string{"disc-60", "disc-80", "axle-50", "axle-40", "axle-30"} {
		act(Event{Act: "remove", On: pathOf("pulley", name)})
	}
	act(Event{Act: "text", On: cupboardName, Form: map[string]string{"text": u.Cupboard + "\n[sheet.ply]\nkind = \"plywood\"\nthickness = \"4 mm\"\nlength = \"600 mm\"\nwidth = \"300 mm\"\ncount = 10\n[cutter.laser]\nway = \"laser\"\n[sheet.card]\nthickness = \"1 mm\"\nlength = \"600 mm\"\nwidth = \"300 mm\"\ncount = 10\n"}})
	act(Event{Act: "set", On: briefName + pathOf("making", "discs"), Value: "yes"})
	act(Event{Act: "door", On: stepPaper})
	u.limits = WithLimits(20 * time.Second)
	act(Event{Act: "answer"})
	require.NotNil(t, u.chosen(), u.says("outcome"))
	assert.NotNil(t, u.byID("pdf-discs"))
	r := u.Do(context.Background(), Event{Act: "pdf", On: "discs"}, nil)
	assert.Len(t, r.Files, 1)
}

// Of a list without headings, or with none that are known, it is asked what each column is.
func TestColumnsOfAListAreAskedFor(t *testing.T) {
	for text, want := range map[string]string{
		"red pulley\t35 mm\t22\nmotor pulley\t9 mm\t9\n":                                                                             "Item, Size, How many",
		"red pulley 35 mm;22\nmotor pulley 9 mm;9\n":                                                                                 "Item, How many",
		"red pulley,35 mm,22,tin\nsmall motor 3V,,9,box":                                                                             "Item, Size, How many, Where",
		"once upon a time there was a cupboard":                                                                                      "",
		"Teil;Größe;Anzahl\nred pulley;35 mm;22\nmotor pulley;9 mm;9\n":                                                              "Item, Size, How many",
		"Nr;Teil;Größe;Anzahl;Ort\n1;red pulley;35 mm;22;tin\n2;motor pulley;9 mm;9;box\n":                                           "Notes, Item, Size, How many, Where",
		"Art;Farbe;Item;Maß;Loch;Stück;Ort;wer\npulley;rot;red pulley;35 mm;5 mm;22;tin;Jo\nband;blau;No 16;63 x 1.5 mm;;9;box;Al\n": "Kind, Notes, , Size, Hole, How many, Where, Notes",
	} {
		u := newUser(t)
		u.quiet(Event{Act: "door", On: stepList})
		u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": text}})
		if want == "" {
			assert.Nil(t, u.byID("headings"), text)
			continue
		}
		var is []string
		form := map[string]string{}
		for i := 1; u.byID(fmt.Sprint("column-", i)) != nil; i++ {
			form[fmt.Sprint("column-", i)] = u.chosenIn(fmt.Sprint("column-", i))
			is = append(is, form[fmt.Sprint("column-", i)])
		}
		assert.Equal(t, want, strings.Join(is, ", "), text)
		for _, a := range u.byID("headings-first").Attr {
			if a.Key == "checked" {
				form["headed"] = "yes"
			}
		}
		u.quiet(Event{Act: "headings", Form: form})
		require.Contains(t, u.Cupboard, "[pulley.red-pulley", text)
		assert.Contains(t, u.Cupboard, "count = 22", text)
		for _, row := range u.Left {
			assert.NotContains(t, row.Words, "Teil", "headings are no part")
		}
	}
}

// What was said of the columns stays when the list cannot be read so, and goes with the list.
func TestWhatWasSaidOfColumnsStays(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepList})
	text := "Teil;Größe;Anzahl\nred pulley;35 mm;22\n"
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": text}})
	assert.Contains(t, u.says("column-2-has"), "35 mm")
	assert.NotContains(t, u.says("column-2-has"), "Größe")
	u.quiet(Event{Act: "headings", Form: map[string]string{"column-1": "Notes", "column-2": "Notes", "column-3": "How many"}})
	require.NotEmpty(t, u.says("list-failed"))
	assert.Equal(t, "Notes", u.chosenIn("column-1"))
	u.quiet(Event{Act: "headings", Form: map[string]string{"column-1": "Item", "column-2": "Size", "column-3": "How many", "headed": "yes"}})
	require.Contains(t, u.Cupboard, "[pulley.red-pulley]")
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": text}})
	assert.Empty(t, u.says("list-failed"), "the same list is read in the same way")
	u.quiet(Event{Act: "door", On: stepList})
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": "blue pulley;9\nred pulley;8\n"}})
	assert.Equal(t, "How many", u.chosenIn("column-2"), "of another list nothing was said yet")
	assert.Nil(t, u.byID("column-3"))
	u.quiet(Event{Act: "headings", Form: map[string]string{"usual": "yes", "text": text, "column-1": "How many", "column-2": "Item"}})
	assert.Contains(t, u.says("column-1-has"), "red pulley", "who has pasted another list meanwhile means that one")
	assert.Equal(t, "Item", u.chosenIn("column-1"))
}

// Of a list of which something can be used, a heading that is not known is told of where its column
// may have what is missing, and it is asked what is in it.
func TestAColumnThatIsNotReadIsToldOfAndAskedFor(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepList})
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": "Item\tGirth\tQty\nred pulley\t35 mm\t22\ndowel\t4 x 250\t9\n"}})
	require.Equal(t, stepCupboard, u.Step)
	assert.Contains(t, u.says("from-list"), "under Girth")
	u.quiet(Event{Act: "door", On: stepList})
	assert.Equal(t, "Size", u.chosenIn("column-2"))
	u.quiet(Event{Act: "headings", Form: map[string]string{"column-1": "", "column-2": "Size", "column-3": "", "headed": "yes"}})
	require.Equal(t, stepCupboard, u.Step)
	assert.Contains(t, u.Cupboard, "[pulley.red-pulley]")
	assert.Equal(t, "4 mm", table(valuesOf(u.Cupboard), "axle", "dowel")["diameter"])
	assert.NotContains(t, u.says("from-list"), "Girth")
	u.quiet(Event{Act: "door", On: stepList})
	assert.Equal(t, "Size", u.chosenIn("column-2"), "it can be said otherwise")

	for _, known := range []string{"Item\tSize\tQty\tNotes\nred pulley\t35 mm\t22\told\n", "Item\tHow big\tQty\nred pulley\t35 mm\t22\n"} {
		u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": known}})
		require.Contains(t, u.Cupboard, "red-pulley")
		assert.NotContains(t, u.says("from-list"), "Nothing was read")
		u.quiet(Event{Act: "door", On: stepList})
		assert.Nil(t, u.byID("headings"), known)
	}
}

// chosenIn is the option of a field that is chosen.
func (u *user) chosenIn(id string) string {
	u.t.Helper()
	for n := range u.byID(id).Descendants() {
		for _, a := range n.Attr {
			if a.Key == "selected" {
				return attr(n, "value")
			}
		}
	}
	return "none"
}

// Another model takes its own name and speed, and leaves what the user made of them.
func TestAnotherModelHasItsOwnName(t *testing.T) {
	u := newUser(t)
	for _, c := range []struct{ model, name, speed string }{
		{"vehicle", "Buggy for eight groups", "0.3 m/s"},
		{"lift", "Crane for eight groups", "4 cm/s"},
		{"ride on a level axle", "Big wheel for eight groups", "1 turn in 6 s"},
	} {
		u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("model"), Value: c.model}, nil)
		assert.Equal(t, c.name, u.name())
		assert.Equal(t, c.speed, valuesOf(u.Brief)["speed"])
	}
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("name"), Value: "Miss Brown's"}, nil)
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("model"), Value: "vehicle"}, nil)
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("speed"), Value: "0.2 m/s"}, nil)
	u.Do(context.Background(), Event{Act: "set", On: briefName + pathOf("model"), Value: "lift"}, nil)
	assert.Equal(t, "Miss Brown's", u.name())
	assert.Equal(t, "0.2 m/s", valuesOf(u.Brief)["speed"])
}

// The price list that is shown as an example is one.
func TestTheExampleOfAPriceListIsOne(t *testing.T) {
	u := newUser(t)
	u.do(Event{Act: "prices", Form: map[string]string{"text": priceExample}})
	assert.Empty(t, u.says("prices-wrong"))
	assert.True(t, u.bought())
}

// A tub that is listed again is no row to be mended: put into the cupboard it would be there twice.
// Its count is put right at its part.
func TestATubListedAgainIsNotMended(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepList})
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": "Item;Size;Qty\npulley small;13 mm;10\npulley small;13 mm;14\nrubber bands 100 mm round;;20\n"}})
	require.Equal(t, stepCupboard, u.Step)
	require.Len(t, u.Left, 1)
	assert.Contains(t, u.Left[0].Words, "rubber bands")
	assert.Contains(t, u.says("left-1"), "How long it is laid flat, or its number, is missing.")
	assert.Contains(t, u.says("from-list"), "1 names a tub again: it is counted once")
	assert.Contains(t, u.Cupboard, "count taken as 10, the smaller of two")
}

// A row that is mended keeps what the list says besides.
func TestAMendedRowKeepsItsOtherCells(t *testing.T) {
	u := newUser(t)
	u.quiet(Event{Act: "door", On: stepList})
	u.quiet(Event{Act: "read list", Form: map[string]string{"usual": "yes", "text": "Item\tDia\tBore (cm)\tRPM\tNo\npulley red\t30 mm\t0.39\t\ta few\nmotor fast\t\t\t12000\tlots\npulley green\t50\t0.39\t\t12\n"}})
	require.Len(t, u.Left, 2)
	for id, want := range map[string]string{"left-1-other-0": "30 mm", "left-1-other-1": "0.39"} {
		assert.True(t, slices.ContainsFunc(u.byID(id).Attr, func(a html.Attribute) bool { return a.Key == "value" && a.Val == want }), id)
	}
	u.quiet(Event{Act: "mend row", On: "1", Form: map[string]string{"kind": "pulley", "name": "pulley red", "size": "", "count": "6", "other-0": "30 mm", "other-1": "0.39"}})
	red := table(valuesOf(u.Cupboard), "pulley", "pulley-red")
	assert.Equal(t, "30 mm", red["outside"])
	assert.Equal(t, "3.9 mm", red["bore"])
	u.quiet(Event{Act: "mend row", On: "2", Form: map[string]string{"kind": "motor", "name": "motor fast", "size": "3 V", "count": "7"}})
	assert.Equal(t, "12000 rpm", table(valuesOf(u.Cupboard), "motor", "motor-fast")["free_speed"])
}
