package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// StockOptions say how a stock list's page is made.
type StockOptions struct {
	Width  int // in columns; 0 for 80
	Colour bool
}

// StockText writes what became of every row of lists of stock: what is asked, which rows
// were used, what was assumed, and what was ignored, by row and column. The error is from
// w.
func StockText(w io.Writer, r *stocktake.Result, opt StockOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.heading(stockSummary(r))
	for i := range r.Lists {
		p.say(0, stockHow(r, &r.Lists[i]))
	}
	if len(r.Asks) > 0 {
		p.blank()
		p.heading("Please say: much depends on it")
		for i, ask := range r.Asks {
			p.hang(2, 5, fmt.Sprintf("%d. %s", i+1, clean(ask)))
		}
	}
	if no := unusedStock(r); len(no) > 0 {
		p.blank()
		p.heading("Not used: put these right if they matter")
		p.table(2, []column{{head: "Row", right: len(r.Lists) == 1, fixed: true}, {head: "What"}, {head: "Why not"}}, no)
	}
	if a := remarked(r, func(m stocktake.Remark) bool { return m.Assumes }); len(a) > 0 {
		p.blank()
		p.heading("Assumed: measure and count where it matters")
		p.table(2, []column{{head: "What"}, {head: "In rows"}}, a)
	}
	if left := remarked(r, func(m stocktake.Remark) bool { return !m.Assumes }); len(left) > 0 {
		p.blank()
		p.heading("Left out of rows that are used")
		p.table(2, []column{{head: "What"}, {head: "In rows"}}, left)
	}
	p.blank()
	p.heading("All rows")
	for _, v := range []struct {
		words string
		is    func(*stocktake.Row) bool
	}{
		{"Used as they stand", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Used }},
		{"Used with something assumed", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Assumed }},
		{"Not used", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Ignored && !r.Bare }},
	} {
		if rows := stockRows(r, v.is); len(rows) > 0 {
			p.hang(2, 4, v.words+": "+rowsIn(r, rows)+".")
		}
	}
	for _, bare := range bareRows(r) {
		p.hang(2, 4, "No stock in them: "+bare+".")
	}
	stockColumns(p, r)
	if len(r.Parts) > 0 {
		p.blank()
		p.heading("In the cupboard")
		p.table(2, []column{{head: "Kind"}, {head: "Different ones", right: true}, {head: "Pieces", right: true}}, stockKinds(r))
		p.blank()
		p.heading("For a drive")
		p.hang(2, 2, StockLacks(r))
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// stockHow says how a list was read.
func stockHow(r *stocktake.Result, l *stocktake.List) string {
	name := ""
	if len(r.Lists) > 1 {
		name = stockList(r, l) + ": "
	}
	if l.Unread != "" {
		return units.Capital(name + "not read, for " + unreadWhy(l.Unread) + ".")
	}
	how := slices.Clone(l.How)
	var at []string
	for _, t := range l.Tables {
		if t.Heading > 0 {
			at = append(at, fmt.Sprint(t.Heading))
		}
	}
	switch last := len(at) - 1; {
	case last == 0:
		how = append(how, "headings in row "+at[0])
	case last > 0:
		how = append(how, "headings in rows "+strings.Join(at[:last], ", ")+" and "+at[last])
	}
	return units.Capital(name + strings.Join(how, "; ") + ".")
}

func unreadWhy(why string) string {
	switch why {
	case "empty":
		return "it is empty"
	case "no row of headings":
		return "it has no row of headings"
	}
	return why
}

// stockList is a list as it is known: by its sheet, if all are of one file.
func stockList(r *stocktake.Result, l *stocktake.List) string {
	for i := range r.Lists {
		if r.Lists[i].File != l.File {
			return clean(l.Name())
		}
	}
	return clean(l.Sheet)
}

// stockColumns says what each column was taken for.
func stockColumns(p *page, r *stocktake.Result) {
	for k := range r.Lists {
		l := &r.Lists[k]
		if l.Lines {
			continue
		}
		for n, t := range l.Tables {
			p.blank()
			title := "Columns"
			if len(r.Lists) > 1 {
				title += " of " + stockList(r, l)
			}
			if len(l.Tables) > 1 {
				title += fmt.Sprintf(", headings in row %d", t.Heading)
			}
			p.heading(title)
			var columns [][]string
			for i, c := range t.Columns {
				taken := c.Field
				if taken == "" {
					taken = "not used"
					if rows := rowsTold(l, n, i); len(rows) > 0 {
						taken = "used only for what it says of the parts in row"
						if len(rows) > 1 {
							taken += "s"
						}
						taken += " " + rowRanges(rows)
					}
				}
				if c.Note != "" {
					taken += " (" + c.Note + ")"
				}
				columns = append(columns, []string{stocktake.Letter(i), c.Heading, taken})
			}
			p.table(2, []column{{head: "", fixed: true}, {head: "Heading"}, {head: "Taken for"}}, columns)
		}
	}
}

// kindWords are the kinds that every drive needs, as people call them.
var kindWords = map[string]string{"pulley": "pulleys", "band": "rubber bands", "motor": "motors", "cells": "battery holders", "axle": "axles or dowel"}

// StockLacks says whether a cupboard has what every drive needs, and what is missing.
func StockLacks(r *stocktake.Result) string {
	if len(r.Lacks) == 0 && len(r.Misfits) == 0 {
		return "All that every drive needs is there: pulleys, bands, motors, battery holders and axles."
	}
	var out []string
	if len(r.Lacks) > 0 {
		var words []string
		for _, kind := range r.Lacks {
			words = append(words, kindWords[kind])
		}
		said := words[0]
		if len(words) > 1 {
			said = strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
		}
		out = append(out, fmt.Sprintf("Still missing: %s. Put rows for them into the list, or their own tables into the cupboard file; without them propose finds no drive.", said))
	}
	return strings.Join(append(out, r.Misfits...), " ")
}

// stockSummary says in a sentence whether the lists could be used.
func stockSummary(r *stocktake.Result) string {
	used, assumed := r.Count(stocktake.Used), r.Count(stocktake.Assumed)
	all := 0
	for i := range r.Lists {
		for j := range r.Lists[i].Rows {
			if !r.Lists[i].Rows[j].Bare {
				all++
			}
		}
	}
	s := fmt.Sprintf("%s: %d of %s of stock can be used", clean(r.Name), used+assumed, count(all, "row"))
	if all == 0 {
		return clean(r.Name) + ": there are no rows of stock under the headings."
	}
	if assumed > 0 {
		s += fmt.Sprintf(", %d of them with something assumed", assumed)
	}
	return s + "."
}

// StockCSV writes a row for each question, each remark on each row of lists of stock, and one for each
// row without any. The error is from w.
func StockCSV(w io.Writer, r *stocktake.Result) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"row", "verdict", "what", "part", "column", "heading", "remark", "file", "sheet"}}
	for _, ask := range r.Asks {
		rows = append(rows, []string{"", "asked", "", "", "", "", safe(ask), "", ""})
	}
	for i := range r.Lists {
		l := &r.Lists[i]
		for j := range l.Rows {
			row := &l.Rows[j]
			base := []string{fmt.Sprint(row.Number), row.Verdict.String(), safe(row.Words), safe(row.Part)}
			from := []string{safe(l.File), safe(l.Sheet)}
			for _, m := range row.Remarks {
				letter := ""
				if m.Column >= 0 {
					letter = stocktake.Letter(m.Column)
				}
				rows = append(rows, slices.Concat(base, []string{letter, safe(stockHeading(l, row, m)), safe(m.Text)}, from))
			}
			if len(row.Remarks) == 0 {
				rows = append(rows, slices.Concat(base, []string{"", "", ""}, from))
			}
		}
	}
	return out.WriteAll(rows)
}
