package sheet

import (
	"cmp"
	"fmt"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// CountPage is the short name of the count sheet.
const CountPage = "count"

// countRow is the height of a row with boxes to write in.
const countRow = boxLeast + 2*boxHead

// Count is a sheet to count the stock on: of a cupboard, by place, or blank for one
// that is not known yet. date is printed on it; it may be empty.
func Count(cup *parts.Cupboard, date string) Page {
	if cup == nil {
		return blankCount(date)
	}
	p := Page{Name: CountPage, Title: "Count sheet: " + cup.Name, Identity: Identity{Name: cup.Name, Date: date}}
	p.Blocks = append(p.Blocks, Boxes{Labels: []string{"Counted by", "On"}, Height: 9})
	t := Table{Caption: "What is in the cupboard", Head: []string{"Where", "Part", "Size", "Last time", "Count", "Of these damaged"}, Right: []int{3}, Least: countRow}
	for _, c := range stocktake.CountRows(cup) {
		t.Rows = append(t.Rows, []string{cmp.Or(c.Where, "-"), c.Kind + " " + c.Name, c.Size, fmt.Sprint(c.Last), "", ""})
	}
	t.Note = "Count what is there, damaged ones too, and then say how many of these are damaged. Leave a box empty if you have not counted."
	p.Blocks = append(p.Blocks, t)
	more := Table{Caption: "Not on the list", Head: []string{"Where", "What", "Sizes", "Count"}, Least: countRow}
	for range 5 {
		more.Rows = append(more.Rows, make([]string, 4))
	}
	p.Blocks = append(p.Blocks, more, countCare())
	return p
}

// blankTitles are the kinds as a sheet names them.
var blankTitles = map[string]string{
	"pulley": "Pulleys", "band": "Rubber bands", "motor": "Motors", "cells": "Battery holders", "axle": "Dowel and rod for axles", "wheel": "Wheels", "sleeve": "Sleeves (tube)", "spacer": "Spacers and washers",
}

// blankNotes say how to measure.
var blankNotes = map[string]string{
	"pulley": "The band sits at the bottom of the groove: measure across there if you can. The bore is the hole.",
	"band":   "A trade number is enough. Otherwise lay the band flat: its length is half of the way round.",
	"motor":  "From the packet. The free speed is that with nothing on the shaft.",
	"cells":  "Chemistry: zinc-carbon, zinc-chloride or alkaline. No rechargeable, lithium or button cells for pupils' models.",
}

func blankCount(date string) Page {
	p := Page{Name: CountPage, Title: "Count sheet", Identity: Identity{Name: "Count sheet", Date: date}}
	p.Blocks = append(p.Blocks, Boxes{Labels: []string{"Counted by", "On"}, Height: 9})
	for _, k := range stocktake.BlankKinds() {
		t := Table{Caption: blankTitles[k.Kind], Head: []string{"On the tub"}, Note: blankNotes[k.Kind], Least: countRow}
		for _, c := range k.Columns {
			t.Head = append(t.Head, units.Capital(c))
		}
		t.Head = append(t.Head, "Count", "Damaged", "Where")
		for range k.Rows {
			t.Rows = append(t.Rows, make([]string, len(t.Head)))
		}
		p.Blocks = append(p.Blocks, t)
	}
	p.Blocks = append(p.Blocks, countCare())
	return p
}

// countCare is what to look for while counting.
func countCare() Block {
	return Steps{Ticks: true, Items: list(
		"Pull each sort of band once: one that is sticky, cracked or does not spring back is perished, and goes in the bin.",
		"Cells out of the holders. A leaking cell is taken out by an adult with gloves, and the holder is thrown away.",
		"Pulleys with split hubs, bent rods and motors that do not turn count as damaged.")}
}
