package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"findrive/internal/stocktake"
)

// ReturnText writes what a count says: what is missing, what is damaged, what was not
// counted, and the stock that is left. The error is from w.
func ReturnText(w io.Writer, r *stocktake.Return, opt StockOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.heading(returnSummary(r))
	var missing, damaged, more, used [][]string
	var uncounted, whole []string
	for i := range r.Lines {
		l := &r.Lines[i]
		name := strings.TrimSpace(l.Kind + " " + l.Name)
		at := []string{name, orNotSaid(l.Where), fmt.Sprint(l.Taken), fmt.Sprint(l.Back)}
		switch m := l.Missing(); {
		case !l.Counted:
			uncounted = append(uncounted, name)
			continue
		case m > 0:
			missing = append(missing, append(at, fmt.Sprint(m)))
		case m < 0:
			more = append(more, append(at, fmt.Sprint(-m)))
		case l.Consumed && l.Back < l.Taken:
			used = append(used, append(at, fmt.Sprint(l.Taken-l.Back)))
		case l.Damaged == 0:
			whole = append(whole, name)
		}
		if l.Damaged > 0 {
			damaged = append(damaged, append(at, fmt.Sprint(l.Damaged)))
		}
	}
	taken, back, gone, extra := "Taken", "Back", "Missing: look in trays, pockets and models first", "More back than were taken"
	if !r.Kit {
		taken, back, gone, extra = "In the file", "Counted", "Fewer than the cupboard file says", "More than the cupboard file says"
	}
	section := func(title, last string, rows [][]string) {
		if len(rows) > 0 {
			p.blank()
			p.heading(title)
			p.table(2, []column{{head: "Part"}, {head: "Where"}, {head: taken, right: true, fixed: true}, {head: back, right: true, fixed: true}, {head: last, right: true, fixed: true}}, rows)
		}
	}
	section(gone, "Missing", missing)
	section("Damaged: out of the stock", "Damaged", damaged)
	section(extra, "More", more)
	cut := "Rods sawn up"
	if slices.ContainsFunc(r.Lines, func(l stocktake.Line) bool { return l.Consumed && l.Kind == "sheet" }) {
		cut = "Rods and sheets cut up"
	}
	section(cut, "Used", used)
	list := func(title string, names []string) {
		if len(names) > 0 {
			p.blank()
			p.heading(title)
			p.hang(2, 2, strings.Join(names, "; ")+".")
		}
	}
	list("Not counted: nothing is written for these, and their stock stays as it was", uncounted)
	list("All there and whole", whole)
	list("Not in the cupboard file: nothing is changed for these", r.Strange)
	list("Made of discs, and not in the cupboard file: write those you keep into it, as pulleys", r.Made)
	list("More taken out than the file has (bought since?): count what else there is", r.Over)
	returnRows(p, r)
	if len(r.Changes) > 0 {
		p.blank()
		p.heading("The stock")
		var rows [][]string
		for _, c := range r.Changes {
			now := fmt.Sprint(c.After)
			if c.After == 0 {
				now = "none left"
			}
			rows = append(rows, []string{c.Kind + " " + c.Name, fmt.Sprint(c.Before), now})
		}
		p.table(2, []column{{head: "Part"}, {head: "Before", right: true, fixed: true}, {head: "Now", right: true, fixed: true}}, rows)
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// returnRows lists the rows that could not be used, and what was assumed.
func returnRows(p *page, r *stocktake.Return) {
	var no, assumed [][]string
	for i := range r.Rows {
		row := &r.Rows[i]
		if row.Bare {
			continue
		}
		var words []string
		for _, m := range row.Remarks {
			words = append(words, m.Text)
		}
		line := []string{fmt.Sprint(row.Number), row.Words, strings.Join(words, "; ")}
		switch {
		case row.Verdict == stocktake.Ignored:
			no = append(no, line)
		case row.Verdict == stocktake.Assumed:
			assumed = append(assumed, line)
		}
	}
	for _, s := range []struct {
		title, last string
		rows        [][]string
	}{{"Rows not used: put these right and run it again", "Why not", no}, {"Assumed", "What", assumed}} {
		if len(s.rows) > 0 {
			p.blank()
			p.heading(s.title)
			p.table(2, []column{{head: "Row", right: true, fixed: true}, {head: "What"}, {head: s.last}}, s.rows)
		}
	}
}

// returnSummary says in a sentence how the count went.
func returnSummary(r *stocktake.Return) string {
	missing, damaged, counted := 0, 0, 0
	for i := range r.Lines {
		l := &r.Lines[i]
		missing += max(0, l.Missing())
		damaged += l.Damaged
		if l.Counted {
			counted++
		}
	}
	s := clean(r.Name) + ": "
	if counted == 0 {
		return s + "nothing has been counted yet."
	}
	words := "missing"
	if !r.Kit {
		words = "fewer than before"
	}
	switch {
	case missing == 0 && damaged == 0 && counted == len(r.Lines):
		s += "everything is there and whole"
	case missing == 0 && damaged == 0:
		s += "all that was counted is there and whole"
	default:
		s += fmt.Sprintf("%s %s, %d damaged", count(missing, "piece"), words, damaged)
	}
	if counted < len(r.Lines) {
		s += fmt.Sprintf("; %d of %s counted", counted, count(len(r.Lines), "part"))
	}
	return s + "."
}

func orNotSaid(place string) string {
	if place == "" {
		return "not said"
	}
	return place
}

// ReturnCSV writes a row for each part that was counted. The error is from w.
func ReturnCSV(w io.Writer, r *stocktake.Return) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"row", "kind", "part", "where", "taken", "counted", "back", "damaged", "missing"}}
	for i := range r.Lines {
		l := &r.Lines[i]
		counted := "no"
		if l.Counted {
			counted = "yes"
		}
		rows = append(rows, []string{fmt.Sprint(l.Row), safe(l.Kind), safe(l.Name), safe(l.Where), fmt.Sprint(l.Taken), counted, fmt.Sprint(l.Back), fmt.Sprint(l.Damaged), fmt.Sprint(l.Missing())})
	}
	return out.WriteAll(rows)
}
