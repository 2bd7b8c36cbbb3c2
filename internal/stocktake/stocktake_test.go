package stocktake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

// read reads a list that must be one.
func read(t testing.TB, list string, opt stocktake.Options) *stocktake.Result {
	r, err := stocktake.Read("list.csv", []byte(list), opt)
	require.NoError(t, err)
	return r
}

// row is the row of a number.
func row(t testing.TB, r *stocktake.Result, number int) stocktake.Row {
	rows := r.Lists[0].Rows
	require.Less(t, number-1, len(rows))
	require.Equal(t, number, rows[number-1].Number)
	return rows[number-1]
}

// remarks are what is said of a row, with the columns.
func remarks(r stocktake.Row) []string {
	var out []string
	for _, m := range r.Remarks {
		at := ""
		if m.Column >= 0 {
			at = stocktake.Letter(m.Column) + ": "
		}
		out = append(out, at+m.Text)
	}
	return out
}

// usual are the facts that the cupboard's reader takes of a pulley of which nothing
// but outside and bore is known.
const usual = "groove floor taken as 36 mm (outside less 4 mm)|groove width taken as 3 mm|width along the axle taken as 6 mm"

// Each kind of mess on one row: the verdict, what is said, and lines that the cupboard
// must hold, written out by hand.
func TestMess(t *testing.T) {
	const head = "kind,name,outside mm,bore mm,qty,damaged,location,price\n"
	for _, c := range []struct {
		name, list, verdict, says string
		opt                       stocktake.Options
		lines                     string // of the cupboard, parted by |
	}{
		{name: "all plain", list: head + "pulley,red,40,5,8,,tray A,0.45", verdict: "assumed", says: usual,
			lines: `[pulley.red]|outside = "40 mm"|bore = "5 mm"|count = 8|location = "tray A"|price = "0.45"`},
		{name: "nothing assumed", list: "kind,name,diameter mm,length mm,qty\ndowel,thin,5,300,8", verdict: "used", lines: `[axle.thin]|diameter = "5 mm"|length = "300 mm"|count = 8`},
		{name: "another unit in the cell", list: head + "pulley,red,4 cm,5mm,8,,,", verdict: "assumed", says: usual, lines: `outside = "40 mm"`},
		{name: "a fraction of an inch", list: head + `pulley,red,40,"3/16""",8,,,`, verdict: "assumed", says: usual, lines: `bore = "4.7625 mm"`},
		{name: "a fraction without a unit", list: head + `pulley,red,40,3/16,8,,,`, verdict: "assumed", says: "D: \"3/16\" is a fraction without a unit: taken as inches|" + usual, lines: `bore = "4.7625 mm"|assumed = ["bore: \"3/16\" is a fraction without a unit: taken as inches"]`},
		{name: "a stray quote mark", list: head + `pulley,red,1 1/2",3/16",8,,,`, verdict: "assumed", says: "groove floor taken as 34.1 mm (outside less 4 mm)|groove width taken as 3 mm|width along the axle taken as 6 mm", lines: `outside = "38.1 mm"`},
		{name: "whole and part with a hyphen", list: head + `pulley,red,1-1/2 in,5,8,,,`, verdict: "assumed", lines: `outside = "38.1 mm"`},
		{name: "a sign for the fraction", list: head + `pulley,red,1½ in,5,8,,,`, verdict: "assumed", lines: `outside = "38.1 mm"`},
		{name: "a decimal comma", list: head + `pulley,red,40,"4,9",8,,,`, verdict: "assumed", says: usual, lines: `bore = "4.9 mm"`},
		{name: "a comma for thousands", list: "kind,name,diameter,length,qty\ndowel,long,5 mm,\"1,000 mm\",4", verdict: "assumed", says: `D: "1,000 mm" taken as 1000 mm`, lines: `length = "1000 mm"`},
		{name: "no unit anywhere", list: "kind,name,diameter,length,qty\ndowel,long,5,300,4", verdict: "assumed", says: "C: no unit: taken as mm|D: no unit: taken as mm", lines: `diameter = "5 mm"`},
		{name: "a rough size", list: head + "pulley,red,40ish,c. 5,8,,,", verdict: "assumed", says: `C: "40ish" taken as 40|D: "c. 5" taken as 5|` + usual, lines: `outside = "40 mm"|assumed = ["outside: \"40ish\" taken as 40", "bore: \"c. 5\" taken as 5"]`},
		{name: "a range of sizes", list: head + "pulley,red,40,4-5,8,,,", verdict: "ignored", says: `D: "4-5" is a range, and one size is needed: measure one`},
		{name: "no bore", list: head + "pulley,red,40,,8,,,", verdict: "ignored", says: "D: no bore: measure it, or say --bore 5mm to take 5 mm for all without one"},
		{name: "a bore in the name without a unit", list: "what,qty\n\"Pulley, 1.5 cm, bore 5\",4", verdict: "ignored", says: "no bore: the 5 of its name has no unit: write 5 mm, if that is so"},
		{name: "a tube in words", list: "what,size,hole,qty\nplastic tube sleeve,2 mm inside 4 mm outside 12 mm long,,15", verdict: "assumed", lines: `[sleeve.plastic-tube-sleeve]|inner = "2 mm"|outer = "4 mm"|length = "12 mm"`},
		{name: "a tube in words, its length usual", list: "what,size,hole,qty\ntube sleeve,outside 6 mm inside 4 mm,,15", verdict: "assumed", lines: `inner = "4 mm"|outer = "6 mm"`},
		{name: "a washer in words", list: "what,size,hole,qty\nwashers,\"4.3 mm hole, 9 mm outside, 1 mm thick\",,80", verdict: "used", lines: `bore = "4.3 mm"|outside = "9 mm"|thickness = "1 mm"`},
		{name: "a tube with a size of which nobody knows what", list: "what,size,hole,qty\ntube sleeve,\"4 mm inside, 6 mm outside, 20 mm\",,15", verdict: "ignored"},
		{name: "no bore, but told", list: head + "pulley,red,40,?,8,,,", verdict: "assumed", opt: stocktake.Options{Bore: 5}, says: "D: no bore: taken as 5 mm, as --bore says|" + usual, lines: `bore = "5 mm"|assumed = ["bore taken as 5 mm"]`},
		{name: "a colour for a size", list: head + "pulley,,the red one,5,8,,,", verdict: "ignored", says: `C: "the red one" does not begin with a number: a length is written like "150 mm"`},
		{name: "a size that cannot be", list: head + "pulley,red,40,60,8,,,", verdict: "ignored", says: "D: a bore of 60 mm leaves nothing of a groove floor of 36 mm: measure both again"},
		{name: "no count", list: head + "pulley,red,40,5,,,,", verdict: "assumed", says: "E: no count: taken as 1|" + usual, lines: `count = 1|assumed = ["count taken as 1"]`},
		{name: "none", list: head + "pulley,red,40,5,0,,,", verdict: "ignored", says: "E: there are none"},
		{name: "some damaged", list: head + "pulley,red,40,5,10,3,,", verdict: "assumed", says: usual, lines: "count = 7"},
		{name: "all damaged", list: head + "pulley,red,40,5,3,3,,", verdict: "ignored", says: "E: all of them are damaged"},
		{name: "more damaged than there are", list: head + "pulley,red,40,5,3,4,,", verdict: "ignored", says: "F: 4 damaged are more than there are, 3"},
		{name: "lots", list: head + "pulley,red,40,5,lots,,,", verdict: "ignored", says: `E: "lots" is no number: count them, or say --lots 20 to take 20 for such words`},
		{name: "lots, and told", list: head + "pulley,red,40,5,Plenty!,,,", verdict: "assumed", opt: stocktake.Options{Lots: 20}, says: `E: "Plenty!" taken as 20, as --lots says|` + usual, lines: "count = 20"},
		{name: "a box of them", list: head + "pulley,red,40,5,1 box,,,", verdict: "ignored", says: `E: "1 box" is no number: count them, or say --lots 20 to take 20 for such words`},
		{name: "a pack of ten", list: head + "pulley,red,40,5,pack of 10,,,", verdict: "assumed", says: `E: "pack of 10" taken as 10|` + usual, lines: "count = 10"},
		{name: "price in pence", list: head + "pulley,red,40,5,8,,,45p", verdict: "assumed", says: usual, lines: `price = "0.45"`},
		{name: "price with a comma and a sign", list: head + `pulley,red,40,5,8,,,"£1,20"`, verdict: "assumed", says: usual, lines: `price = "1.20"`},
		{name: "no price", list: head + "pulley,red,40,5,8,,,cheap", verdict: "assumed", says: `H: "cheap" is not a price: not used|` + usual},
		{name: "kind by the name", list: "item,bore,outside,qty\nRed pulleys for 5 mm axle,5 mm,40 mm,8", verdict: "assumed", says: usual, lines: `[pulley.red-pulleys-for-5-mm-axle]`},
		{name: "no kind", list: "item,bore,outside,qty\nred ones,5 mm,40 mm,8", verdict: "ignored", says: "it does not say what kind of part it is"},
		{name: "a kind not known", list: head + "gizmo,red,40,5,8,,,", verdict: "ignored", says: `A: "gizmo" is no kind of part known here: write pulley, band, motor, cells, axle, sleeve, spacer, wheel, drum, block, cord or sheet`},
		{name: "a kind without a place", list: head + "switch,slide,,,8,,,", verdict: "ignored", says: "A: the cupboard file has no place for such things"},
		{name: "a band by its number", list: "what,size,qty\nrubber bands,No. 16,50", verdict: "assumed",
			says: "flat length taken as 63.5 mm (trade size 16; makers differ: measure one)|band width taken as 1.6 mm (trade size 16; makers differ: measure one)|band thickness taken as 0.9 mm", lines: `size = "16"`},
		{name: "a band that lies round", list: "what,size,qty\nelastic bands,Ø 50 x 1.5 mm,50", verdict: "ignored", says: `B: "dia 50" is not its length laid flat: measure that`},
		{name: "a band that lies round, its sign behind", list: "what,size,qty\nelastic bands,50 mm ø x 1.5 mm,50", verdict: "ignored", says: `B: "50 mm dia" is not its length laid flat: measure that`},
		{name: "a band with a sign for its thickness", list: "what,size,qty\nelastic bands,63 mm x Ø 2 mm,50", verdict: "assumed", lines: `flat_length = "63 mm"|width = "2 mm"`},
		{name: "a groove in the size", list: "kind,size,bore mm,qty\npulley,40mm (groove 35),5,8", verdict: "assumed", lines: `outside = "40 mm"|groove_floor = "35 mm"`},
		{name: "a groove behind the size", list: "kind,size,bore mm,qty\npulley,\"40 mm, 34 mm groove\",5,8", verdict: "assumed", lines: `outside = "40 mm"|groove_floor = "34 mm"`},
		{name: "how wide a groove is", list: "kind,size,bore mm,qty\npulley,40 mm (groove 4),5,8", verdict: "assumed", lines: `outside = "40 mm"`},
		{name: "a groove in the name", list: "description,qty\n\"Pulley 40 mm, groove 35 mm, 5 mm bore\",9", verdict: "assumed", lines: `outside = "40 mm"|groove_floor = "35 mm"|bore = "5 mm"`},
		{name: "a motor's turns in a note", list: "kind,volts,notes,qty\nmotor,3 V,packet says 5000rpm,4", verdict: "assumed", lines: `rated = "3 V"|free_speed = "5000 rpm"`},
		{name: "turns that are not free", list: "kind,volts,notes,qty\nmotor,3 V,4000 rpm under load,4", verdict: "ignored"},
		{name: "a motor pulley, the thing first", list: "item,outside mm,bore mm,qty\npulley motor,10,2,6", verdict: "assumed", lines: `[pulley.pulley-motor]|outside = "10 mm"|bore = "2 mm"|assumed = ["kind: \"pulley motor\" taken to be pulley"]`},
		{name: "a motor that says its volts", list: "item,qty\n\"pulley motor 3V 6200 rpm\",4", verdict: "assumed", lines: `[motor.pulley-motor-3v-6200-rpm]`},
		{name: "so many rods, or so many mm", list: "what,size,qty\ndowel,3 x 30cm,1", verdict: "ignored", opt: stocktake.Options{Usual: true}, says: `B: "3 x 30cm" may be 3 pieces, or 3 mm across: write each size with its unit, and the pieces in a column of their own`},
		{name: "so many rods in the name", list: "what,qty\ndowel 3x1m,2", verdict: "ignored", opt: stocktake.Options{Usual: true}, says: `A: "3x1m" may be 3 pieces, or 3 mm across: write each size with its unit, and the pieces in a column of their own`},
		{name: "rods whose diameter is said", list: "what,size,diameter,qty\ndowel,3 x 30cm,5 mm,4", verdict: "assumed", lines: `diameter = "5 mm"|length = "300 mm"|count = 4`},
		{name: "rods in mm by the heading", list: "what,size mm,qty\ndowel,3 x 30cm,4", verdict: "used", lines: `diameter = "3 mm"|length = "300 mm"`},
		{name: "card that is no sheet", list: "item,qty\ngrey card,9", verdict: "ignored", says: "no part as it stands; if discs are cut of it, write sheet as its kind, and its thickness, length and width"},
		{name: "what cuts discs", list: "item,qty\nscissors,9", verdict: "ignored", says: "no part; if discs are cut with it, write it into the cupboard file, as [cutter.NAME]"},
		{name: "sheets of card", list: "item,size,qty\nSheets of grey card,297 x 210 x 2 mm,9", verdict: "assumed", lines: `[sheet.sheets-of-grey-card]|thickness = "2 mm"|length = "297 mm"|width = "210 mm"|kind = "card"`},
		{name: "sheet of what its name says", list: "kind,name,size,qty\nsheet,grey card,297 x 210 x 2,9", verdict: "assumed", says: "C: no unit: taken as mm|C: no unit: taken as mm|C: no unit: taken as mm|B: kind taken from the name", lines: `kind = "card"|thickness = "2 mm"`},
		{name: "sheet of what its column says", list: "kind,name,size,material,qty\nsheet,grey card,297 x 210 x 2,MDF,9", verdict: "assumed", lines: `kind = "MDF"|thickness = "2 mm"`},
		{name: "a band by its sizes", list: "what,size,qty\nelastic bands,63 x 1.5mm,50", verdict: "assumed", says: "band thickness taken as 0.9 mm", lines: `flat_length = "63 mm"|width = "1.5 mm"`},
		{name: "rods either way round", list: "what,size,qty\ndowel,300 x 5 mm,9", verdict: "used", lines: `diameter = "5 mm"|length = "300 mm"`},
		{name: "sizes in the name", list: "description,qty\n\"Pulley 40 mm, 5 mm bore\",9", verdict: "assumed", says: "A: sizes taken from the name|" + usual, lines: `outside = "40 mm"|bore = "5 mm"`},
		{name: "size and column differ", list: "kind,size,outside,bore,qty\npulley,50 mm,40 mm,5 mm,2", verdict: "assumed", says: "B: says 50 mm for the outside, which is 40 mm by its own column: not used|" + usual, lines: `outside = "40 mm"`},
		{name: "a motor", list: "kind,volts,rpm,stall g cm,qty\nmotor,3,6000,25,4", verdict: "assumed", says: "B: no unit: taken as V|C: no unit: taken as rpm|free current taken as 140 mA|shaft diameter taken as 2 mm|shaft length taken as 8 mm|taken as usual: body length 27.5 mm, body width 20 mm, body height 15 mm", lines: `rated = "3 V"|free_speed = "6000 rpm"|stall_torque = "2.45166 mN.m"`},
		{name: "a motor without a speed", list: "kind,volts,qty\nmotor,3 V,4", verdict: "ignored", says: "no free speed (rpm with nothing on the shaft): count it, look on the packet, or say --free-speed 6000rpm to take that for all without one"},
		{name: "a motor by its name", list: "item,qty\n\"Motor, 3V, 6200 rpm\",4", verdict: "assumed", lines: `rated = "3 V"|free_speed = "6200 rpm"`},
		{name: "what a motor's name says of it", list: "item,qty\n\"Motor (6 V, 9000 rpm, 3 mN.m, stall 0.9 A, free 80 mA)\",11", verdict: "assumed", lines: `rated = "6 V"|free_speed = "9000 rpm"|stall_torque = "3 mN.m"|stall_current = "900 mA"|free_current = "80 mA"`},
		{name: "what holds a motor in grams", list: "item,qty\n\"Motor 3V, 6200 rpm, 30 g.cm, 0,7 A stalled\",4", verdict: "assumed", lines: `stall_torque = "2.94199 mN.m"|stall_current = "700 mA"`},
		{name: "a torque under load is not that", list: "item,qty\n\"Motor 3V, 6200 rpm, rated torque 1 mN.m\",4", verdict: "assumed", says: "A: sizes taken from the name|free current taken as 140 mA|stall current taken as 1000 mA|shaft diameter taken as 2 mm|shaft length taken as 8 mm|taken as usual: body length 27.5 mm, body width 20 mm, body height 15 mm", lines: `rated = "3 V"`},
		{name: "a motor for a range of volts", list: "item,qty\n\"Motor 1.5-3V, 6200 rpm\",4", verdict: "ignored", says: "no voltage"},
		{name: "the same, and told", list: "kind,volts,qty\nmotor,3 V,4", verdict: "assumed", opt: stocktake.Options{FreeSpeed: 6000}, lines: `free_speed = "6000 rpm"|assumed = ["free speed taken as 6000 rpm"]`},
		{name: "a motor with a gearbox, and told of others", list: "kind,name,volts,qty\nmotor,Geared motor 60rpm,3 V,4", verdict: "ignored", opt: stocktake.Options{FreeSpeed: 6000}, says: "no free speed (rpm with nothing on the shaft): it has a gearbox, so count how fast the shaft that comes out of that turns, and write it in a column free speed, and in a column stall torque what holds that shaft still"},
		{name: "a motor with a gearbox that was counted", list: "kind,name,volts,free speed,stall torque,qty\nmotor,Geared motor,3 V,60 rpm,90 mN.m,4", verdict: "assumed", lines: `free_speed = "60 rpm"|stall_torque = "90 mN.m"`},
		{name: "a motor's shaft in its name", list: "item,qty\n\"Motor, 3V, 6200 rpm, 1.5mm shaft\",4", verdict: "assumed", lines: `shaft_diameter = "1.5 mm"`},
		{name: "a motor's shaft in a note", list: "kind,volts,rpm,notes,qty\nmotor,3 V,6200,shaft dia 3 mm,4", verdict: "assumed", lines: `shaft_diameter = "3 mm"`},
		{name: "how long a shaft is", list: "item,qty\n\"Motor, 3V, 6200 rpm, 10mm shaft length\",4", verdict: "assumed", says: "A: sizes taken from the name|free current taken as 140 mA|stall current taken as 1000 mA|shaft diameter taken as 2 mm|shaft length taken as 8 mm|taken as usual: body length 27.5 mm, body width 20 mm, body height 15 mm", lines: `rated = "3 V"`},
		{name: "a hole in a note", list: "kind,size,notes,qty\npulley,40 mm,4mm hole,5", verdict: "assumed", says: "C: bore taken from the note|" + usual, lines: `outside = "40 mm"|bore = "4 mm"`},
		{name: "a hole in a note, and in a column", list: "kind,size,bore,notes,qty\npulley,40 mm,5 mm,really 4mm hole,5", verdict: "assumed", lines: `bore = "5 mm"|assumed = ["bore: the note says \"really 4mm hole\""]`},
		{name: "holes of several sizes in a note", list: "kind,size,notes,qty\npulley,40 mm,4mm hole or 5mm hole,5", verdict: "ignored", says: "no bore: measure it, or say --bore 5mm to take 5 mm for all without one"},
		{name: "holes of some in a note", list: "kind,size,notes,qty\npulley,40 mm,some have a 4mm hole,5", verdict: "ignored", says: "no bore: measure it, or say --bore 5mm to take 5 mm for all without one"},
		{name: "what a hole is for in a note", list: "kind,size,notes,qty\npulley,40 mm,for rods with a 4mm hole,5", verdict: "ignored"},
		{name: "counts of two places", list: "kind,size,bore,qty\npulley,40 mm,5 mm,18 + 4", verdict: "assumed", says: "D: \"18 + 4\" taken as 22, for there are so many in all|" + usual, lines: `count = 22|assumed = ["count taken as 22 (the list says \"18 + 4\")"]`},
		{name: "counts of two places, some broken", list: "kind,size,bore,qty\npulley,40 mm,5 mm,18 + 4 broken", verdict: "ignored", says: "D: \"18 + 4 broken\" is not a number: count them"},
		{name: "a holder", list: "kind,size,type of cell,qty\nbattery box,2 x AA,Alkaline,4", verdict: "assumed", says: "resistance of a cell taken as 0.2 ohm", lines: `cells = 2|chemistry = "alkaline"`},
		{name: "cells that are not for pupils", list: "kind,size,notes,qty\nbattery box,2 x AA,NiMH rechargeable,4", verdict: "ignored", says: "rechargeable cells give so much current that a short circuit burns: use zinc-carbon, zinc-chloride or alkaline"},
		{name: "a sleeve", list: "kind,size,qty\ntubing,2 x 5 mm,30", verdict: "assumed", says: "sleeve length taken as 10 mm", lines: `inner = "2 mm"|outer = "5 mm"`},
		{name: "a washer", list: "kind,size,qty\nwasher,5 x 10 x 1 mm,30", verdict: "used", lines: `bore = "5 mm"|outside = "10 mm"|thickness = "1 mm"`},
		{name: "a wheel of plywood", list: "kind,dia mm,hole mm,material,qty\nwheel,50,5,3mm plywood,12", verdict: "assumed", says: "wheel width taken as 8 mm", lines: `material = "wood"`},
		{name: "a formula gone wrong", list: head + "pulley,red,40,#REF!,8,,,", verdict: "ignored", says: `D: "#REF!" is a formula that went wrong: write the size`},
		{name: "a line break in a cell", list: head + "pulley,\"red,\nscratched\",40,5,8,,,", verdict: "assumed", says: usual, lines: `# row 2: red, scratched`},
		{name: "a misspelt heading", list: "kidn,name,outside mm,bore,quantty\npulley,red,40,5 mm,3", verdict: "assumed", says: `E: the heading "quantty" taken for count|` + usual, lines: `outside = "40 mm"|assumed = ["count: the heading \"quantty\" taken for count"]`},
		{name: "a misspelt size", list: "kind,name,outsid mm,bore,qty\npulley,red,40,5 mm,3", verdict: "ignored", says: "no outside diameter"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := read(t, c.list, c.opt)
			got := row(t, r, 2)
			assert.Equal(t, c.verdict, got.Verdict.String(), "%v", remarks(got))
			if c.says != "" {
				assert.Equal(t, strings.Split(c.says, "|"), remarks(got))
			}
			if c.verdict == "ignored" {
				assert.Nil(t, r.Cupboard)
				return
			}
			for _, line := range strings.Split(c.lines, "|") {
				assert.Contains(t, string(r.Cupboard), line)
			}
			_, err := parts.Read("c.toml", r.Cupboard)
			require.NoError(t, err)
		})
	}
}

func TestRowsThatAreNoStock(t *testing.T) {
	r := read(t, `Heron Lane Primary,,,,
,,,,
kind,name,outside,bore,qty
,,mm,mm,pcs
Pulleys,,,,
,red,40,5,8
kind,name,outside,bore,qty
,blue,50,5,8

Total,,,,16
`, stocktake.Options{})
	var got []string
	for _, row := range r.Lists[0].Rows {
		got = append(got, fmt.Sprintf("%d %v %v %s", row.Number, row.Verdict, row.Bare, remarks(row)[0]))
	}
	assert.Equal(t, []string{
		"1 ignored true above the headings", "2 ignored true blank", "3 ignored true the headings", "4 ignored true units of the columns", "5 ignored true a title",
		"6 assumed false its kind is that of the title above it", "7 ignored true the headings again", "8 assumed false its kind is that of the title above it",
		"9 ignored true blank", "10 ignored true a total"}, got)
	assert.Equal(t, 3, r.Lists[0].Tables[0].Heading)
}

// Under a title a name may be no more than a size.
func TestSizesForNames(t *testing.T) {
	r := read(t, "what,how many,notes\nBands,,\n80 x 1.5,60,\nRods,,\n5 x 300 mm,9,\nPulleys,,\n40 x 5,4,\n", stocktake.Options{})
	assert.Equal(t, []string{"its kind is that of the title above it", "A: sizes taken from the name", "A: no unit: taken as mm", "A: no unit: taken as mm", "band thickness taken as 0.9 mm"}, remarks(row(t, r, 3)))
	assert.Equal(t, stocktake.Assumed, row(t, r, 5).Verdict)
	assert.Equal(t, []string{"no bore: measure it, or say --bore 5mm to take 5 mm for all without one"}, remarks(row(t, r, 7)))
	for _, line := range []string{`flat_length = "80 mm"`, `width = "1.5 mm"`, `diameter = "5 mm"`, `length = "300 mm"`} {
		assert.Contains(t, string(r.Cupboard), line)
	}
}

// Merged cells leave the kind in the first of the rows only.
func TestMergedKinds(t *testing.T) {
	r := read(t, "kind,name,outside mm,bore mm,qty\npulley,red,40,5,8\n,blue,50,5,8\n", stocktake.Options{})
	assert.Equal(t, "pulley.blue", row(t, r, 3).Part)
	assert.Equal(t, "A: no kind: taken to be pulley, as in row 2", remarks(row(t, r, 3))[0])
}

// A quote mark that is not closed swallows no rows.
func TestStrayQuotes(t *testing.T) {
	r := read(t, "kind,name,diameter mm,length mm,qty\ndowel,\"thin,5,300,8\ndowel,thick,6,300,9\ndowel,fat,8,300,7\n", stocktake.Options{})
	require.Len(t, r.Lists[0].Rows, 4)
	assert.Equal(t, []string{"a quote mark is not closed: read without it"}, remarks(row(t, r, 2)))
	assert.Equal(t, stocktake.Assumed, row(t, r, 2).Verdict)
	assert.Equal(t, stocktake.Used, row(t, r, 3).Verdict)
	assert.Len(t, r.Parts, 3)
}

func TestSameTub(t *testing.T) {
	const list = "kind,name,diameter mm,length mm,qty,where\ndowel,thin,5,300,8,shelf\ndowel,thin,5,300,6,shelf\ndowel,thin,5,300,4,drawer\ndowel,thin,6,300,4,shelf\ndowel,Thin,6,300,4,shelf\n"
	count := func(r *stocktake.Result) map[string]int {
		out := map[string]int{}
		for _, p := range r.Parts {
			out[p.Name] = p.Count
		}
		return out
	}
	r := read(t, list, stocktake.Options{})
	assert.Equal(t, map[string]int{"thin": 6, "thin-drawer": 4, "thin-6-mm-300-mm": 4}, count(r))
	assert.Equal(t, []string{"row 3 is the same tub with another count: the smaller, 6, is taken"}, remarks(row(t, r, 2)))
	assert.Equal(t, []string{"the same tub as row 2, with another count: the smaller, 6, is taken (--add-tubs adds up)"}, remarks(row(t, r, 3)))
	assert.Equal(t, []string{"the same tub as row 5, with the same count: counted once (--add-tubs adds up)"}, remarks(row(t, r, 6)))

	r = read(t, list, stocktake.Options{AddTubs: true})
	assert.Equal(t, map[string]int{"thin": 14, "thin-drawer": 4, "thin-6-mm-300-mm": 8}, count(r))
	assert.Equal(t, stocktake.Assumed, row(t, r, 3).Verdict)
	assert.Equal(t, []stocktake.Place{{List: 0, Row: 1}, {List: 0, Row: 2}}, r.Parts[0].Rows)
}

// A count beside which it stands that they may be of no use is a guess, and asked about.
func TestCountsOfOldOnes(t *testing.T) {
	r := read(t, "kind,name,flat length,width,qty\nband,thin,100 mm,2 mm,15 (old and perished)\nband,wide,120 mm,6 mm,12 (blue)\n", stocktake.Options{})
	require.Len(t, r.Parts, 2)
	assert.Equal(t, 15, r.Parts[0].Count)
	assert.Equal(t, []string{`Row 2, thin: how many are good? "15 (old and perished)" is taken as 15, a guess: look at them, and write the good ones in column E, qty.`}, r.Asks)
}

// One list in every form in which office programs save it gives the same parts.
func TestForms(t *testing.T) {
	const plain = "kind,name,diameter mm,length mm,qty\ndowel,Größe ½,5,300,8\ndowel,café,6,300,9\n"
	want := read(t, plain, stocktake.Options{}).Parts
	require.Len(t, want, 2)
	as := func(s string, err error) string { require.NoError(t, err); return s }
	with := func(comma string) string { return strings.ReplaceAll(plain, ",", comma) }
	for name, list := range map[string]string{
		"byte order mark":  "\ufeff" + plain,
		"Windows-1252":     as(charmap.Windows1252.NewEncoder().String(plain)),
		"UTF-16 LE":        as(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(plain)),
		"UTF-16 BE":        as(unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder().String(plain)),
		"semicolons":       with(";"),
		"tabs":             with("\t"),
		"strokes":          with("|"),
		"CRLF":             strings.ReplaceAll(plain, "\n", "\r\n"),
		"CR":               strings.ReplaceAll(plain, "\n", "\r"),
		"no last line end": strings.TrimSuffix(plain, "\n"),
		"quoted":           `"` + strings.ReplaceAll(strings.ReplaceAll(strings.TrimSuffix(plain, "\n"), ",", `","`), "\n", "\"\n\"") + `"`,
		"spaces about":     with(" , "),
		"empty columns":    strings.ReplaceAll(plain, "\n", ",,,\n"),
	} {
		assert.Equal(t, want, read(t, list, stocktake.Options{}).Parts, name)
	}
	r := read(t, "sep=;\n"+with(";"), stocktake.Options{})
	assert.Len(t, r.Parts, 2)
	assert.Equal(t, []string{"it names what parts the columns"}, remarks(row(t, r, 1)))
}

// Files that are no lists, and hostile ones, are refused in plain words.
func TestRefused(t *testing.T) {
	const head = "kind,name,outside,bore,qty\n"
	many := func(n int, line func(i int) string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := range n {
			b.WriteString(line(i))
		}
		return b.String()
	}
	for _, c := range []struct{ name, list, want string }{
		{"empty", "", "list.csv: the file is empty"},
		{"blank", " \n,,,\n\n", "list.csv: the file is empty"},
		{"no headings", "red,40,5\nblue,50,5\n", "list.csv: no row of headings was found in the first 40 rows: write one above the list, with words such as kind, name, size, bore, qty, location"},
		{"a workbook", "PK\x03\x04rest", "list.csv: this workbook is damaged, or locked with a password: open it, and save it again as .xlsx, .ods or .csv"},
		{"binary", "kind,qty\n\x00\x01", "list.csv: this is not a text file: save the spreadsheet as XLSX, ODS or CSV"},
		{"a hundred thousand rows", many(100_000, func(int) string { return "p,,1,1,1\n" }), "list.csv: there are 100001 rows, the most is 5000: delete empty rows below the list, or split it"},
		{"a name of a megabyte", many(1, func(int) string { return "pulley," + strings.Repeat("x", 1_000_000) + ",40 mm,5 mm,8\n" }), "list.csv: line 2, column B: the cell has 1000000 letters, the most is 5000: is a quote mark missing?"},
		{"over a megabyte", many(1, func(int) string { return strings.Repeat("x", 2<<20) }), "list.csv: the file has over 1 MB, which no stock list needs: is it the right one?"},
		{"columns without end", head + strings.Repeat(",", 200_000), "list.csv: line 2 has 200001 columns, the most is 60"},
		{"quote marks without end", many(4000, func(i int) string { return fmt.Sprintf("pulley,\"red %d,40,5,8\n", i) }), "list.csv: over 40 rows have a quote mark that is not closed: take the quote marks out of the list"},
		{"too many kinds of part", many(1501, func(i int) string { return fmt.Sprintf("pulley,n%d,40 mm,5 mm,8\n", i) }), "list.csv: there are 1501 kinds of part, the most is 1500: split the list"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := stocktake.Read("list.csv", []byte(c.list), stocktake.Options{})
			assert.EqualError(t, err, c.want)
		})
	}
	_, err := stocktake.Read("list.csv", []byte(many(1500, func(i int) string {
		return fmt.Sprintf("pulley,%s %d,%dish mm,c. 5 mm,%dish\n", strings.Repeat("ä", 150), i, 20+i%500, i+1)
	})), stocktake.Options{})
	require.NoError(t, err, "the most there may be, with much to say of each")
}
