package page

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// left is a row of a list that could not be used, and what of it need not be typed again.
type left struct {
	No                int    // its own, which stays as others are dealt with
	Words             string // what it says
	Why               string
	Name              string
	Kind, Size, Count string            `json:",omitempty"`
	Others            []stocktake.Other `json:",omitempty"` // what the row says of its part besides
	NoPart            bool              `json:",omitempty"` // no drive has such a thing
}

// unused are the rows that could not be used and that say something. Of a tub that is listed again
// the count is put right at its part.
func (l *reading) unused() []left {
	var out []left
	cells := l.cells()
	for _, list := range l.result.Lists {
		for _, row := range list.Rows {
			if row.Verdict != stocktake.Ignored || row.Bare || row.Again {
				continue
			}
			var why []string
			for _, m := range row.Remarks {
				why = append(why, plain(m.Text))
			}
			words := row.Words
			if c := cells[row.Number]; c != "" && len(l.result.Lists) == 1 {
				words = c
			}
			one := left{Words: words, Why: strings.Join(why, "; "), Name: row.Words, Kind: row.Kind, Size: row.Size, Others: row.Others, NoPart: row.NoPart}
			if _, err := strconv.Atoi(row.Count); err == nil {
				one.Count = row.Count
			}
			out = append(out, one)
		}
	}
	slices.SortStableFunc(out, func(a, b left) int { // what may be mended stands first, and stays in its place
		return map[bool]int{true: 1}[a.NoPart] - map[bool]int{true: 1}[b.NoPart]
	})
	for i := range out {
		out[i].No = i + 1
	}
	return out
}

// mendable is how many rows of the list may be parts of a drive once they are mended.
func (s *Session) mendable() int {
	n := 0
	for _, row := range s.Left {
		if !row.NoPart {
			n++
		}
	}
	return n
}

// mendRows leads to the rows that may be mended; nil if there are none.
func (s *Session) mendRows(id string) g.Node {
	n := s.mendable()
	if n == 0 {
		return nil
	}
	words := "Mend the row of the list that is not used"
	if n > 1 {
		words = fmt.Sprintf("Mend the %d rows of the list that are not used", n)
	}
	return button(id, "to rows", "", "", words)
}

// cells are the rows of a single list as they stand in it, by number.
func (l *reading) cells() map[int]string {
	if len(l.sheets) != 1 {
		return nil
	}
	rows, err := stocktake.Cells(l.sheets[0].Data, func([]string) int { return 0 })
	if err != nil {
		return nil
	}
	out := map[int]string{}
	for _, r := range rows {
		var full []string
		for _, c := range r.Cells {
			if strings.TrimSpace(c) != "" {
				full = append(full, c)
			}
		}
		out[r.Number] = strings.Join(full, " | ")
	}
	return out
}

// leftRows are rows that could not be used, to be mended; and, folded, those of things that
// no drive has.
func (s *Session) leftRows() g.Node {
	var items, others []g.Node
	var names []string
	for _, row := range s.Left {
		if row.NoPart {
			others, names = append(others, s.leftRow(row, false)), append(names, row.Name)
			continue
		}
		items = append(items, s.leftRow(row, len(items) == 0))
	}
	return g.Group{
		g.If(len(items) > 0, h.Section(h.ID("left"), h.Class("left"), h.Aria("labelledby", "left-head"),
			h.H3(h.ID("left-head"), g.Text(fmt.Sprintf("Rows of the list that could not be used (%d)", len(items)))),
			h.P(g.Text("Mend what a drive may need. The rest can stay as it is: it is not used.")),
			h.Ol(items...))),
		g.If(len(others) > 0, h.Details(h.ID("left-others"), h.Class("left-others"), h.Summary(h.ID("left-others-head"), g.Text("Not for drives, and left out: "+strings.Join(names, ", "))),
			h.P(g.Text("Is one of them a pulley, a band or another part of a drive? Say so here.")), h.Ol(others...))),
	}
}

// sizeHints say what sizes a kind of part is told by, where one is not enough.
var sizeHints = map[string]string{
	"band": "Number, such as no. 16", "axle": "Across and long, such as 5 x 300 mm", "cells": "Cells in it", "motor": "Volts, such as 3 V",
	"spacer": "Hole, across and thick, such as 5 x 10 x 1 mm", "sleeve": "Inside and outside, such as 2 x 5 mm", "cord": "Across and long, such as 1 mm x 2 m",
}

func (s *Session) leftRow(row left, open bool) g.Node {
	n := fmt.Sprint(row.No)
	options := []g.Node{h.Option(h.Value(""), g.Text("as its words say"))}
	for _, k := range kinds {
		options = append(options, option(k.Key, k.One, row.Kind == k.Key))
	}
	field := func(name, words, v string) g.Node {
		fid := "left-" + n + "-" + name
		return labelled(fid, words, typed(fid, name, h.Value(v)))
	}
	var others []g.Node
	for k, o := range row.Others {
		others = append(others, field(otherField(k), units.Capital(partWords.Replace(o.Heading)), o.Says))
	}
	hint := sizeHints[row.Kind]
	if hint == "" {
		hint = "Size, such as 40 mm"
	}
	var why g.Node
	if !row.NoPart {
		why = h.Span(h.Class("wrong"), g.Text(units.Capital(partWords.Replace(row.Why))+"."))
	}
	return h.Li(h.ID("left-"+n), h.P(h.Q(g.Text(row.Words)), g.Text(" "), why),
		h.Div(h.Details(h.ID("left-"+n+"-mend"), g.If(open, g.Attr("open")), h.Summary(h.ID("left-"+n+"-head"), g.Text("Mend it"), h.Span(h.Class("unseen"), g.Text(": "+row.Name))),
			h.Form(h.ID("left-"+n+"-form"), h.Class("fields"), h.Data("act", "mend row"), h.Data("on", n),
				labelled("left-"+n+"-kind", "It is a", h.Select(h.ID("left-"+n+"-kind"), h.Name("kind"), g.Group(options))),
				field("name", "Name", row.Name), field("size", hint, row.Size), g.Group(others), field("count", "How many", row.Count),
				h.P(h.Button(h.Type("submit"), h.ID("left-"+n+"-go"), g.Text("Put it in the cupboard"))))),
			named("left-"+n+"-off", "leave row", n, "quiet", "Leave it out", row.Name)))
}

// partWords puts what a list's reader says into the words of the page.
var partWords = strings.NewReplacer(
	"no outside diameter", "how large it is over the rims is missing", "no diameter", "how large it is across is missing", "no bore", "how large its hole is, is missing",
	"no trade number", "its number is missing", "no length laid flat, or trade number", "how long it is laid flat, or its number, is missing", "no length", "how long it is, is missing", "no thickness", "how thick it is, is missing", "no free speed", "how fast it turns is missing",
	"the cupboard file has no place for", "no drive has", "outside diameter", "size over the rims", "inside diameter", "size inside", "a bore of", "a hole of", "groove floor of", "size in the groove of")

// otherField is the name of the field of a row's k-th other cell.
func otherField(k int) string { return fmt.Sprint("other-", k) }

// leftAt is where among the rows that are left one with a number is; -1 if it is not.
func (s *Session) leftAt(no string) int {
	n, err := strconv.Atoi(no)
	if err != nil {
		return -1
	}
	return slices.IndexFunc(s.Left, func(l left) bool { return l.No == n })
}

// actMendRow reads a row that was mended and puts it in the cupboard.
func (s *Session) actMendRow(d doing) {
	i := s.leftAt(d.On)
	if i < 0 {
		return
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	headings, cells := []string{"Kind", "Name", "Size", "Quantity"}, []string{d.Form["kind"], d.Form["name"], d.Form["size"], d.Form["count"]}
	others := append([]stocktake.Other(nil), s.Left[i].Others...)
	for k := range others {
		if said, is := d.Form[otherField(k)]; is {
			others[k].Says = said
		}
		headings, cells = append(headings, others[k].Heading), append(cells, others[k].Says)
	}
	_ = w.WriteAll([][]string{headings, cells})
	result, err := stocktake.Read("mended row", b.Bytes(), stocktake.Options{Usual: true})
	uncounted := strings.TrimSpace(d.Form["count"]) == "" // for which one would be taken
	if err != nil || result.Cupboard == nil || uncounted {
		why, field := "it cannot be read", "size"
		switch {
		case uncounted:
			why, field = "how many there are is missing: count them", "count"
		case result != nil:
			one := reading{result: result}
			if rows := one.unused(); len(rows) > 0 {
				why = rows[0].Why
			}
		}
		s.alter("mending a row", func(f *files) {
			f.Left = append([]left(nil), f.Left...)
			row := &f.Left[i]
			row.Why, row.NoPart = why, row.NoPart && d.Form["kind"] == ""
			row.Others = others
			row.Name, row.Kind, row.Size, row.Count = d.Form["name"], d.Form["kind"], d.Form["size"], d.Form["count"]
		})
		s.said = "Not yet: " + partWords.Replace(why) + "."
		d.reply.Focus = "left-" + d.On + "-" + field
		return
	}
	s.alter("mending "+s.Left[i].Name, func(f *files) {
		f.Cupboard = added(f.Cupboard, result.Cupboard)
		f.Left = append(append([]left(nil), f.Left[:i]...), f.Left[i+1:]...)
	})
	s.said = d.Form["name"] + " is in the cupboard."
	d.reply.Focus = s.leftFocus()
}

// actLeaveRow leaves a row out for good.
func (s *Session) actLeaveRow(d doing) {
	i := s.leftAt(d.On)
	if i < 0 {
		return
	}
	s.alter("leaving out "+s.Left[i].Name, func(f *files) { f.Left = append(append([]left(nil), f.Left[:i]...), f.Left[i+1:]...) })
	d.reply.Focus = s.leftFocus()
}

// leftFocus is where to go on once a row is dealt with.
func (s *Session) leftFocus() string {
	if s.mendable() > 0 {
		return "left-head"
	}
	return "step-" + stepCupboard
}
