package stocktake_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/stocktake"
)

// Lists as people keep them: lines that the cupboard must hold and must not, parted by |,
// words of the questions, and words of the remarks on all rows.
func TestLists(t *testing.T) {
	for _, c := range []struct {
		name, file, list   string
		opt                stocktake.Options
		lines, not         string
		asks, says, misfit string
	}{
		{name: "a count in boxes", list: "kind,name,diameter,length,qty,unit\ndowel,a,5 mm,300 mm,2,boxes of 10\ndowel,b,6 mm,300 mm,3,bags\ndowel,c,8 mm,300 mm,4,each",
			lines: `count = 20|assumed = ["count: 2 with \"boxes of 10\" taken as 20"]|count = 4`, not: "[axle.b]", says: "3 bags is no count of pieces: count them"},
		{name: "a column of units of the sizes", list: "kind,name,diameter,length,unit,qty\ndowel,a,0.5,30,cm,2", lines: `diameter = "5 mm"|length = "300 mm"|count = 2`},
		{name: "in and out are no inches", list: "item,in,out,balance\nPulley 40mm 5mm bore,20,5,15", lines: `outside = "40 mm"|count = 15`},
		{name: "a name that differs", list: "item,size,bore,qty\nPulley 40 mm,30 mm,5 mm,15", lines: `outside = "30 mm"|assumed = ["outside: the name says 40 mm, and the outside of the list is 30 mm"]`},
		{name: "what it goes with is no size", list: "item,size,bore,qty\nPulley for 5 mm dowel,30 mm,5 mm,15", lines: `outside = "30 mm"`, not: "assumed"},
		{name: "several sorts of damage", list: "kind,name,outside,bore,qty,broken,lent out\npulley,red,40 mm,5 mm,12,1,3", lines: `count = 8|assumed = ["count: less 1, for broken", "count: less 3, for lent out"]`},
		{name: "a least stock is no count", list: "item,outside,bore,min stock,in stock\nPulley red,40 mm,5 mm,5,10", lines: "count = 10", not: "assumed"},
		{name: "a dash is none", list: "item,outside,bore,in stock\nPulley red,40 mm,5 mm,-\nPulley blue,40 mm,5 mm,?", lines: `[pulley.pulley-blue]|count = 1|assumed = ["count taken as 1"]`, not: "pulley-red"},
		{name: "kinds by a heading", list: "Dowel,Diameter,Length,Qty\nthin,5 mm,300 mm,12", lines: `[axle.thin]|count = 12`},
		{name: "kinds by the name of the file", file: "rubber_bands.csv", list: "Name,Length,Width,Qty\nshort,63 mm,1.5 mm,12", lines: `[band.short]|assumed = ["kind: its kind is that of the name of the file, \"rubber bands\""]`, says: "its kind is that of the name of the file"},
		{name: "names without a heading", list: ",Diameter,Length,Qty\nDowel thin,5 mm,300 mm,12", lines: `[axle.dowel-thin]`},
		{name: "a count by its letter", opt: stocktake.Options{CountColumn: "c"}, list: "item,size,here,there\nDowel,5 x 300 mm,12,13", lines: "count = 12"},
		{name: "a count by its heading", opt: stocktake.Options{CountColumn: "There"}, list: "item,size,here,there\nDowel,5 x 300 mm,12,13", lines: "count = 13"},
		{name: "no count at all", list: "item,size,here,there\nDowel,5 x 300 mm,12,13", lines: "count = 1", asks: "Which column says how many there are?"},
		{name: "numbers that do not run on", list: "number,item,size,qty\n8,Dowel,5 x 300 mm,12\n3,Dowel,6 x 300 mm,5", lines: `count = 8|count = 3|assumed = ["count: taken as \"3\", for number has 3, qty has 5"]`, asks: "It may be A, number; or D, qty"},
		{name: "cells under no heading of a workbook's text", list: "item,size,qty\nDowel,5 x 300 mm,12,new", not: "axle", says: `"new" stands beyond the headings`},
		{name: "with semicolons a comma is no reason", list: "item;size;qty\nDowel;5 x 300 mm;12;new\nDowel;6 x 300 mm;3", lines: `diameter = "6 mm"`, not: `"5 mm"`, says: "put it under a heading, or take it out"},
		{name: "a row of words that may be headings", list: "kind,name,diameter,length,qty,where\nshaft,long,,,,box\ndowel,thin,5 mm,300 mm,12,box", lines: "count = 12"},
		{name: "headings of plain words, and others below", list: "Item,Number,Stock\n\"Dowel 5 mm x 300 mm\",7,12\n,,\nItem,Size,Qty\nDowel,6 x 300 mm,4", lines: `diameter = "5 mm"|diameter = "6 mm"|count = 4`, asks: "It may be B, Number; or C, Stock"},
		{name: "what it is made of, by the name", list: "item,diameter,length,bore,qty\nSteel rod,3 mm,300 mm,,12\nWooden wheel for steel axle,50 mm,,5 mm,8\nPlastic or wooden wheel,40 mm,,5 mm,8", lines: "length = \"300 mm\"\nmaterial = \"steel\"|bore = \"5 mm\"\nmaterial = \"wood\"|diameter = \"40 mm\"\nbore = \"5 mm\"\ncount", says: "material taken from the name"},
		{name: "notes about broken ones", list: "equipment,quantity,condition,notes\n\"Dowel a, 5 mm x 300 mm\",18,3 dead,\n\"Dowel b, 5 mm x 310 mm\",18,,some are split\n\"Dowel c, 5 mm x 320 mm\",18,Broken,\n\"Dowel d, 5 mm x 330 mm\",18,good,none broken\n\"Dowel e, 5 mm x 340 mm\",18,,20 missing",
			lines: `count = 15|assumed = ["count: less 3, for it says \"3 dead\""]|assumed = ["count: taken as 18, but it says \"some are split\""]|[axle.dowel-d-5-mm-x-330-mm]`, not: "dowel-c|dowel-e", says: `it says "Broken": count the good ones`},
		{name: "metal may be steel", list: "item,qty\n\"Axles metal 4 mm x 150 mm\",30", lines: `material = "steel"|assumed = ["material: \"metal\" taken as steel"]`},
		{name: "packs beside pieces", list: "kind,name,size,bore,packs,pack size,qty\npulley,red,40 mm,5 mm,2,10,20\npulley,blue,30 mm,5 mm,3,10,", lines: `count = 20|count = 30|assumed = ["count: 3 packs of 10 taken as 30"]`},
		{name: "a range in the name", list: "item,qty\n5-6 mm x 300 mm dowel,12\nDowel 5 to 6 mm x 300 mm,12", not: "axle"},
		{name: "two lengths in the name", list: "item,qty\n5 mm dowel 1 m lengths,12\n\"Dowel, 300 mm lengths of 6 mm\",3", lines: `length = "1000 mm"|diameter = "6 mm"`},
		{name: "usual is not taken beside figures in the name", opt: stocktake.Options{Usual: true}, list: "item,qty\nDowel 6x300,12", not: "axle"},
		{name: "usual cells by their voltage", opt: stocktake.Options{Usual: true}, list: "item,qty\nBattery box 4.5V,7\nBattery box 9V,3", lines: `cells = 3|assumed = ["cells taken as 3, as is usual"]`, not: "count = 3"},
		{name: "nothing usual beside figures that were not read", opt: stocktake.Options{Usual: true}, list: "item,size,qty\nDowel 6,,12\nPulley,40 x 8 x 5,12\nMotor,\"geared, 3-6 V\",5\nDowel 5 or 6 mm,,3", not: "axle|pulley|motor"},
		{name: "usual cells by a word for one", opt: stocktake.Options{Usual: true}, list: "item,qty\nbattery box single AA,7\ndouble AA battery holder,3", lines: `[cells.battery-box-single-aa]|cells = 1|count = 7|[cells.double-aa-battery-holder]|cells = 2|count = 3`},
		{name: "a title rules only until another kind comes", opt: stocktake.Options{Usual: true}, list: "What,Size,hole,Qty\nMotors,,,\n\"hobby 3V, 4500 rpm\",,,9\ndowel 4mm,4 x 600 mm,,6\nwiggly eyes,,,200", lines: `count = 9|count = 6`, not: "wiggly", says: "from row 4 on not all is what the title \"Motors\" says"},
		{name: "a wheel under a title of pulleys", list: "What,Size,hole,Qty\nPulleys,,,\nred wheels small,10 mm,2 mm,12\nblue,20 mm,2 mm,5", lines: `[pulley.red-wheels-small]|[pulley.blue]`, not: "[wheel.", says: `a wheel under the title "Pulleys": taken to be a pulley`},
		{name: "a wheel with a groove is a pulley", opt: stocktake.Options{Usual: true}, list: "item,size,qty\nWooden wheel w. groove,60 mm,14", lines: `[pulley.wooden-wheel-w-groove]|outside = "60 mm"`},
		{name: "a heading of two words for one thing", opt: stocktake.Options{Usual: true}, list: "item,Size / dims,qty\npulley red,35 mm,14", lines: `[pulley.pulley-red]|outside = "35 mm"`},
		{name: "a hole at the end of a size", list: "item,size,qty\nred pulley,\"Ø 60 x 8, hole 4,9\",14\nblue pulley,\"3,5 cm, 5mm axle\",22\ngrey pulley,40 mm (for 4 mm dowel),5", lines: `[pulley.red-pulley]|outside = "60 mm"|bore = "4.9 mm"|[pulley.blue-pulley]|outside = "35 mm"|bore = "5 mm"|assumed = ["bore: taken from the axle that its size names"]|[pulley.grey-pulley]|outside = "40 mm"|bore = "4 mm"`},
		{name: "usual bores go on the dowel there is", opt: stocktake.Options{Usual: true}, list: "item,qty\nPulley 40 mm,5\nDowel 4 mm,12\nDowel 6 mm,3", lines: `bore = "4 mm"|assumed = ["bore taken as 4 mm, as is usual"]`},
		{name: "usual is never taken for what cannot be read", opt: stocktake.Options{Usual: true}, list: "item,bore,length,qty\nPulley 40 mm,the big one,,5\nDowel 4 mm,,long,12", not: "bore|length"},
		{name: "pulleys that fit nothing", list: "item,size,bore,volts,rpm,qty\nPulley,40 mm,8 mm,,,5\nMotor,,,3,6000,5", misfit: "No pulley goes on the shaft of a motor of 2 mm, for the bores there are 8 mm"},
		{name: "notes that doubt a size", list: "item,size,bore,qty,notes\nPulley,40 mm,5 mm,4,home-made; check bore\nPulley,30 mm,5 mm,6,\"5 mm bore, checked\"", lines: `assumed = ["count: taken as 4, but it says \"home-made; check bore\"", "bore: the note says \"home-made; check bore\""]|count = 6`},
		{name: "headings of two rows", list: "item,size,,stock,\n,Ø,length,Sept,July\nDowel,5 mm,300 mm,12,14", lines: `count = 12|assumed = ["count: taken as \"12\", for stock Sept has 12, stock July has 14"]`, asks: "It may be D, stock Sept; or E, stock July"},
		{name: "packs in the heading of the count", list: "item,diameter,length,qty (bags of 10)\nDowel,5 mm,300 mm,2", lines: `count = 20|assumed = ["count: 2 packs of 10 taken as 20"]`},
		{name: "a count under a heading that is not known", list: "item,diameter,length,ready\nDowel,5 mm,300 mm,2\nDowel,6 mm,300 mm,7", lines: `count = 7|assumed = ["count: the heading \"ready\" taken for count"]`, asks: "Is column D, ready, the count?"},
		{name: "a heading that only looks like good", list: "item,wood,diameter,length,qty\nDowel,oak,5 mm,300 mm,2", lines: "count = 2", not: "assumed"},
		{name: "rows above headings that are not known for such", list: "thing,girth,reach,plenty\nDowel,5,300,2\n,,,\nitem,diameter,length,qty\nDowel,6 mm,300 mm,7", lines: "count = 7", not: `"5 mm"`, says: "it stands above the first row of headings"},
		{name: "titles that please and tell", list: "Please tell Ms Vole if anything is broken\nitem,diameter,length,qty\nDowel,5 mm,300 mm,2", lines: "count = 2", not: "assumed"},
		{name: "below a title of what is lent another title", list: "item,diameter,length,qty\nLent out,,,\nDowel,5 mm,300 mm,2\nLong ones,,,\nDowel,6 mm,300 mm,3\nIn the cupboard,,,\nDowel,8 mm,300 mm,4", lines: `count = 3|assumed = ["count: taken to be in the cupboard, but \"Lent out\" stands further above"]|count = 4`, not: `"5 mm"`, says: `it stands under "Lent out", and so is not in the cupboard`},
		{name: "a heading that is a guess gives way", list: "item,size,court,count\nDowel,5 x 300 mm,9,12", lines: "count = 12", not: "assumed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.file == "" {
				c.file = "list.csv"
			}
			r, err := stocktake.Read(c.file, []byte(c.list), c.opt)
			require.NoError(t, err)
			for _, line := range strings.Split(c.lines, "|") {
				assert.Contains(t, string(r.Cupboard), line)
			}
			for _, line := range strings.Split(c.not, "|") {
				if line != "" {
					assert.NotContains(t, withoutComments(r.Cupboard), line)
				}
			}
			var said []string
			for _, row := range r.Lists[0].Rows {
				said = append(said, remarks(row)...)
			}
			assert.Contains(t, strings.Join(said, "\n"), c.says)
			assert.Contains(t, strings.Join(r.Asks, "\n"), c.asks)
			assert.Contains(t, strings.Join(r.Misfits, "\n"), c.misfit)
			if c.asks == "" {
				assert.Empty(t, r.Asks)
			}
		})
	}
}

// However much is assumed, the cupboard marks everything that rests on it.
func TestManyFacts(t *testing.T) {
	list := "kind,name,diameter,length,qty\n"
	for i := range 30 {
		list += fmt.Sprintf("dowel,thin,c. 5 mm,300 mm,%dish\n", i+1)
	}
	r, err := stocktake.Read("list.csv", []byte(list), stocktake.Options{AddTubs: true})
	require.NoError(t, err)
	assert.Contains(t, string(r.Cupboard), "count = 465\n")
	assert.Contains(t, string(r.Cupboard), `assumed = ["count taken as 1 (the list says \"1ish\")", "diameter: \"c. 5 mm\" taken as 5 mm", "count taken as 2`)
}

// A column of counts that is in no list is not passed over.
func TestNoSuchCountColumn(t *testing.T) {
	for _, column := range []string{"Z", "B", "Sept"} {
		_, err := stocktake.Read("list.csv", []byte("item,size,qty\nDowel,5 x 300 mm,12\n"), stocktake.Options{CountColumn: column})
		require.ErrorContains(t, err, "--count "+column+": no list has a column of that heading")
	}
}

func withoutComments(cupboard []byte) string {
	var out []string
	for line := range strings.Lines(string(cupboard)) {
		if !strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	return strings.Join(out, "")
}

// A tub that is in two files is counted once, and both say so.
func TestSameTubInTwoFiles(t *testing.T) {
	one := "kind,name,diameter mm,length mm,qty\ndowel,thin,5,300,8\n"
	two := "kind,name,diameter mm,length mm,qty\ndowel,fat,8,300,2\ndowel,thin,5,300,6\n"
	r, err := stocktake.ReadAll([]stocktake.Sheet{{Name: "one.csv", Data: []byte(one)}, {Name: "two.csv", Data: []byte(two)}}, stocktake.Options{})
	require.NoError(t, err)
	require.Len(t, r.Parts, 2)
	assert.Equal(t, 6, r.Parts[0].Count)
	assert.Equal(t, []string{"two.csv, row 3 is the same tub with another count: the smaller, 6, is taken"}, remarks(r.Lists[0].Rows[1]))
	assert.Equal(t, []string{"the same tub as one.csv, row 2, with another count: the smaller, 6, is taken (--add-tubs adds up)"}, remarks(r.Lists[1].Rows[2]))
	assert.Contains(t, string(r.Cupboard), "# one.csv, row 2: thin\n")

	r, err = stocktake.ReadAll([]stocktake.Sheet{{Name: "one.csv", Data: []byte(one)}, {Name: "two.csv", Data: []byte(two)}}, stocktake.Options{AddTubs: true})
	require.NoError(t, err)
	assert.Contains(t, string(r.Cupboard), "# one.csv, row 2; two.csv, row 3: thin\n")
}

// What is no list of stock is said to be what it is.
func TestWrongSort(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"a drive", "schema = 1\nmodel = \"vehicle\"\n[drive]\nmotor = \"slow\"\n[stage.1]\n", "this is a drive that was built, not a list of stock: it goes to findrive try"},
		{"a brief", "schema = 1\nname = \"Ride\"\nmodel = \"ride on an upright axle\"\n", "this is a brief, not a list of stock: it goes to findrive propose, with -b"},
		{"a brief with a comment", "# ours\r\n[frame]\r\nlength = \"200 mm\"\r\n", "this is a brief"},
		{"a cupboard", "schema = 1\n[pulley.red]\noutside = \"40 mm\"\n", "this is a cupboard file already"},
		{"a price list in TOML", "currency = \"GBP\"\n[supplier.hill]\n[offer.a]\npart = \"pulley.red\"\n", "this is a price list"},
		{"another TOML file", "title = \"x\"\n", "this is a TOML file"},
		{"a certificate", `{"schema": 3, "kind": "findrive certificate"}`, "this is a certificate, not a list of stock: it goes to findrive sheet, with --from"},
		{"another answer", `{"schema": 3, "kind": "findrive shop"}`, "this is what findrive shop answered, not a list of stock"},
		{"other JSON", `{"a": [1, 2`, "this is a JSON file"},
		{"a proof", "findrive proof 1\n", "this is a proof"},
		{"a price list as a sheet", "Supplier;Item;Pack qty;Price inc VAT\nhill;Pulley;10;2.80\n", "this is a price list, for no column says how many there are"},
		{"a kit list", "where,kind,part,size,each tray,trays,take,picked,returned\nA,pulley,red,40 mm,1,8,8,,\n", "this is a kit list, not a list of stock: it goes to findrive stock back"},
		{"a web page", "\n<!DOCTYPE html><table>", "this is a web page"},
		{"a PDF", "%PDF-1.7", "this is a PDF"},
		{"a picture", "\x89PNG\r\n", "this is a picture"},
		{"an old workbook", "\xd0\xcf\x11\xe0", "this is an old workbook, or one with a password"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := stocktake.Read("x", []byte(c.data), stocktake.Options{})
			require.ErrorContains(t, err, c.want)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
	// What only begins like one is a list.
	for _, list := range []string{"sep=,\nkind,diameter,length,qty\ndowel,5 mm,300 mm,2\n", "name = ours,,,\nkind,diameter,length,qty\ndowel,5 mm,300 mm,2\n"} {
		r, err := stocktake.Read("x.csv", []byte(list), stocktake.Options{})
		require.NoError(t, err)
		assert.Len(t, r.Parts, 1)
	}
}
