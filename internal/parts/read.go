package parts

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// mostCount is far more of one part than a school has.
const mostCount = 1_000_000

// Read reads a cupboard. name is the file's name in messages. The error is
// tomlfile.Problems: every problem in the document, each at its line and
// column. Without an error every part is whole and sound: sizes lie in the
// ranges of this package and fit one another, and what the file left out has
// been filled in and is listed in the part's Assumed.
//
// The order of the tables in the file changes nothing.
func Read(name string, data []byte) (*Cupboard, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	root.Whole("schema", 1, 1, 1)
	c := ReadTables(root)
	c.Name = root.Text("name", name)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return c, nil
}

// ReadTables reads the tables of parts, [pulley.NAME] and so on, of a document
// that may hold other things as well, such as a drive that is built. Mistakes are
// noted in the document.
func ReadTables(root *tomlfile.Table) *Cupboard {
	c := &Cupboard{}
	c.Pulleys = each(root, "pulley", readPulley)
	c.Bands = each(root, "band", readBand)
	c.Motors = each(root, "motor", readMotor)
	c.Holders = each(root, "cells", readHolder)
	c.Axles = each(root, "axle", readAxle)
	c.Sleeves = each(root, "sleeve", readSleeve)
	c.Spacers = each(root, "spacer", readSpacer)
	c.Wheels = each(root, "wheel", readWheel)
	c.Drums = each(root, "drum", readDrum)
	c.Blocks = each(root, "block", readBlock)
	c.Cords = each(root, "cord", readCord)
	c.Sheets = each(root, "sheet", readSheet)
	c.Cutters = each(root, "cutter", readCutter)
	if discs := readDiscs(root.Table("discs")); len(c.Sheets)+len(c.Cutters) > 0 {
		c.Discs = &discs
	}
	return c
}

// each reads the tables of one kind in the order of their names.
func each[P any](root *tomlfile.Table, kind string, read func(Item, *tomlfile.Table) P) []P {
	names, tables := root.Named(kind)
	out := make([]P, 0, len(names))
	for i, t := range tables {
		out = append(out, read(readItem(names[i], t), t))
		t.Close()
	}
	return out
}

func readItem(name string, t *tomlfile.Table) Item {
	it := Item{Name: name, Location: t.Text("location", ""), PricePence: readPrice(t)}
	it.Count = t.Whole("count", 1, 0, mostCount)
	it.Assumed = readAssumed(t)
	return it
}

// MostAssumed is how many facts a table may list under assumed.
const MostAssumed = 10

// readAssumed reads assumed = ["bore taken as 5 mm"]: facts that the file gives but
// that nobody measured, such as those of a list in which they were not plain.
func readAssumed(t *tomlfile.Table) []string {
	var facts []string
	for _, v := range t.List("assumed", `["bore taken as 5 mm"]`, MostAssumed) {
		fact, is := v.(string)
		if !is || fact == "" || utf8.RuneCountInString(fact) > tomlfile.MaxText || strings.ContainsFunc(fact, func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Fail("assumed", "found %s, a text in quotes is needed, at most %d letters on one line", tomlfile.Shown(v), tomlfile.MaxText)
			return nil
		}
		facts = append(facts, fact)
	}
	return facts
}

// readPrice reads "0.45" exactly, as 45 of the smaller coin; 0 if there is none.
// Binary fractions cannot hold 0.45, so it must be a text.
func readPrice(t *tomlfile.Table) int64 {
	const most = 1_000_000_00
	text := t.Text("price", "")
	if text == "" || !t.Good("price") {
		return 0
	}
	whole, part, point := strings.Cut(text, ".")
	coins, err := strconv.ParseUint(whole+(part + "00")[:2], 10, 63)
	if err != nil || len(part) > 2 || point && part == "" || whole == "" || coins > most {
		t.Fail("price", "found %s, an amount such as \"0.45\" is needed, without a currency sign", units.Quoted(text))
		return 0
	}
	return int64(coins)
}

// sizes is the range of a length, in millimetres.
type sizes = tomlfile.Range[units.Millimetres]

// The ranges of lengths of parts: beyond them something else is meant.
var (
	anySize   = sizes{Least: 0.1, Most: 2000}
	discSize  = sizes{Least: 2, Most: 600}
	boreSize  = sizes{Least: 0.5, Most: 100}
	shaftSize = sizes{Least: 0.5, Most: 50}
)

// needed is a length that the file must give.
func needed(t *tomlfile.Table, key string, within sizes) units.Millimetres {
	t.Need(key, fmt.Sprintf("%q", "20 mm"))
	return tomlfile.Quantity(t, key, &units.Lengths, within.Least, within)
}

// assumed is a length that may be left out. What is taken instead is noted,
// with the reason if there is one.
func assumed(t *tomlfile.Table, it *Item, key, called string, within sizes, instead units.Millimetres, reason string) units.Millimetres {
	if !t.Has(key) {
		note := fmt.Sprintf("%s taken as %s", called, units.Lengths.Format(instead))
		if reason != "" {
			note += " (" + reason + ")"
		}
		it.Assumed = append(it.Assumed, note)
	}
	return tomlfile.Quantity(t, key, &units.Lengths, instead, within)
}

func readMaterial(t *tomlfile.Table, key string, usual Material) Material {
	names := make([]string, len(materials))
	for i, m := range materials {
		names[i] = string(m)
	}
	return Material(t.Choice(key, string(usual), names...))
}

// drillable is whether a classroom can open a bore in a material.
func drillable(m Material) bool { return m == Wood || m == Card || m == Plastic }

// boreFits notes a bore that leaves nothing of the disc round it.
func boreFits(t *tomlfile.Table, bore units.Millimetres, key, called string, disc units.Millimetres) {
	if t.Good("bore", key) && bore >= disc {
		t.Fail("bore", "a bore of %s leaves nothing of %s of %s: measure both again", units.Lengths.Format(bore), called, units.Lengths.Format(disc))
	}
}
