package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/demo"
	"findrive/internal/pattern"
	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// reading is a list on its way into the cupboard.
type reading struct {
	text   string // what was pasted
	sheets []stocktake.Sheet
	result *stocktake.Result
	failed string
	form   map[string]string

	headings []string // what was said of its columns
	headed   bool     // its first row has headings
}

// listDoor is where a list is put in.
func (s *Session) listDoor() g.Node {
	l := &s.list
	field := func(name, words, hint string) g.Node {
		return labelled("list-"+name, words, typed("list-"+name, name, h.Value(l.form[name])), h.Span(h.Class("small"), g.Text(hint)))
	}
	usual := l.form == nil || l.form["usual"] == "yes"
	var asks []g.Node
	if l.result != nil {
		for _, a := range l.result.Asks {
			asks = append(asks, h.Li(g.Text(plain(a))))
		}
	}
	return g.Group{
		h.P(g.Text("Paste the rows of your list with their headings, as you have them: mixed units, gaps and \"10ish\" will do. A part on each line will do too: \"12 pulleys 40 mm, 4 mm hole\". Or open a spreadsheet (XLSX, ODS, CSV), or drop it anywhere on this page.")),
		g.If(l.failed != "", h.P(h.Class("wrong"), h.ID("list-failed"), g.Text(l.failed))),
		l.askColumns(),
		g.If(len(asks) > 0, h.Div(h.ID("asks"), h.Class("note"), h.P(g.Text("To be settled:")), h.Ul(asks...))),
		h.Form(h.ID("list"), h.Data("act", "read list"), h.Aria("label", "Your list"),
			labelledWide("list-text", "Your list", textArea("list-text", "9", g.Text(l.text))),
			h.P(h.Class("links"), h.Button(h.Type("button"), h.ID("list-pick"), h.Data("act", "pick"), h.Data("on", "list-files"), g.Text("Open a spreadsheet")),
				h.Input(h.Type("file"), h.ID("list-files"), h.Class("unseen"), h.Aria("label", "A spreadsheet with your list"), h.TabIndex("-1"), h.Multiple(), h.Accept(".xlsx,.ods,.csv,.tsv,.txt"), h.Data("act", "list files")),
				button("back-cupboard", "door", stepCupboard, "quiet", "Back to the cupboard")),
			h.Details(h.ID("list-more"), g.If(len(asks) > 0, g.Attr("open")), h.Summary(h.ID("list-more-head"), g.Text("What the list does not say")),
				h.P(h.Class("tick"), h.Input(h.Type("checkbox"), h.ID("list-usual"), h.Name("usual"), h.Value("yes"), g.If(usual, h.Checked())), h.Label(h.For("list-usual"), g.Text("Take what is usual where it says nothing, and mark it"))),
				field("count", "Which column says how many", "its heading or its letter, if that is not plain"),
				field("lots", "How many \"lots\" or \"a bag\" is", "else such rows wait to be counted")),
			h.P(h.Class("onward links"), h.Button(h.Type("submit"), h.ID("list-go"), h.Class("main"), g.Text("Read it")))),
	}
}

// unknown are the headings that are not known, so that nothing below them was read.
func (l *reading) unknown() []string {
	var out []string
	for _, list := range l.result.Lists {
		for _, t := range list.Tables {
			for _, c := range t.Columns {
				if c.Unknown() && !slices.Contains(out, c.Heading) {
					out = append(out, c.Heading)
				}
			}
		}
	}
	return out
}

// askColumns asks what the columns of a list are that has no headings, or some that are not known.
func (l *reading) askColumns() g.Node {
	if len(l.sheets) != 1 || l.failed == "" && l.result == nil {
		return nil
	}
	columns, headed := stocktake.Ask(l.sheets[0].Data)
	var unknown []string
	if l.failed == "" {
		unknown = l.unknown()
	}
	if len(columns) < 2 || l.result != nil && !slices.ContainsFunc(columns, func(a stocktake.Asked) bool {
		return !a.Known && (l.failed != "" || l.headings != nil || slices.Contains(unknown, a.Heading))
	}) {
		return nil
	}
	said := l.headings
	if said != nil {
		headed = l.headed
	}
	var fields []g.Node
	for i, a := range columns {
		is := a.Guess
		if i < len(said) {
			is = said[i]
		}
		var options []g.Node
		if a.Known {
			options = append(options, option("", "as its heading says", is == ""))
		}
		for _, k := range stocktake.ColumnKinds() {
			words := k
			if k == stocktake.AskedNone {
				words = "not used"
			}
			options = append(options, option(k, words, is == k))
		}
		n := strconv.Itoa(i + 1)
		label := "Column " + n
		if a.Heading != "" {
			label += ", " + a.Heading
		}
		fields = append(fields, labelled("column-"+n, label, h.Select(h.ID("column-"+n), h.Name("column-"+n), h.Aria("describedby", "column-"+n+"-has"), g.Group(options)),
			h.Span(h.Class("small"), h.ID("column-"+n+"-has"), g.Text("It has: "+strings.Join(a.Samples, "; ")))))
	}
	return h.Form(h.ID("headings"), h.Class("note"), h.Data("act", "headings"), h.Data("with", "list"), h.Aria("labelledby", "headings-head"),
		h.P(h.ID("headings-head"), g.Text("What is in each column of your list?")),
		h.Div(h.Class("fields"), g.Group(fields)),
		h.P(h.Class("tick"), h.Input(h.Type("checkbox"), h.ID("headings-first"), h.Name("headed"), h.Value("yes"), g.If(headed, h.Checked())), h.Label(h.For("headings-first"), g.Text("The first row has headings, not a part"))),
		h.P(h.Button(h.Type("submit"), h.ID("list-headings"), g.Text("Read it so"))))
}

// actHeadings reads the list with what was said of its columns; what stands in the form of the list
// comes with it.
func (s *Session) actHeadings(d doing) {
	l := &s.list
	if text, sent := d.Form["text"]; sent {
		if l.form = d.Form; strings.TrimSpace(text) != "" && text != l.text {
			s.actList(d) // another list has been pasted, of which nobody was asked
			return
		}
	}
	if len(l.sheets) != 1 {
		return
	}
	l.headings, l.headed = nil, d.Form["headed"] == "yes"
	for i := range stocktake.MostAsked {
		is, there := d.Form["column-"+strconv.Itoa(i+1)]
		if !there {
			break
		}
		l.headings = append(l.headings, is)
	}
	s.takeList(d)
}

// actList reads a list that was pasted.
func (s *Session) actList(d doing) {
	s.list.form = d.Form
	if text := d.Form["text"]; strings.TrimSpace(text) != "" {
		if text != s.list.text {
			s.list.headings = nil // they were of another one
		}
		s.list.text = text
		s.list.sheets = []stocktake.Sheet{{Name: "pasted list", Data: []byte(text)}}
	}
	if len(s.list.sheets) == 0 {
		s.list.failed = "There is nothing to read yet: paste rows, or open a spreadsheet."
		d.reply.Focus = "list-text"
		return
	}
	s.takeList(d)
}

// actListFiles reads lists from files.
func (s *Session) actListFiles(d doing) {
	if d.Form != nil {
		s.list.form = d.Form
	}
	s.list.sheets, s.list.text, s.list.headings = nil, "", nil
	for _, f := range d.Files {
		s.list.sheets = append(s.list.sheets, stocktake.Sheet{Name: f.Name, Data: f.Data})
	}
	s.takeList(d)
}

// takeList makes the cupboard of the lists, if they can be read.
func (s *Session) takeList(d doing) {
	l := &s.list
	how := stocktake.Options{Usual: l.form == nil || l.form["usual"] == "yes", CountColumn: strings.TrimSpace(l.form["count"]), Headings: l.headings, Headed: l.headed}
	if n, err := strconv.Atoi(strings.TrimSpace(l.form["lots"])); err == nil && n > 0 && n <= 10_000 {
		how.Lots = n
	}
	l.failed = ""
	var err error
	l.result, err = stocktake.ReadAll(l.sheets, how)
	if err != nil {
		l.failed = plain(err.Error())
		if !slices.ContainsFunc(d.Files, func(f File) bool { return strings.HasPrefix(l.failed, f.Name) }) { // which is written so
			l.failed = units.Capital(l.failed)
		}
		if !strings.HasSuffix(l.failed, "?") {
			l.failed += "."
		}
		d.reply.Focus = "list-text"
		return
	}
	if l.result.Cupboard == nil {
		l.failed = "No row of it can be used."
		if n := l.unused(); len(n) > 0 {
			l.failed += " The first row: " + partWords.Replace(n[0].Why) + "."
		}
		d.reply.Focus = "list-text"
		return
	}
	s.alter("reading the list", func(f *files) {
		f.Cupboard = string(l.result.Cupboard)
		f.Left = l.unused()
		if f.Example {
			f.Brief = string(demo.StarterBrief())
		}
	})
	s.opened = nil
	s.Step = stepCupboard
	d.reply.Focus = "step-" + stepCupboard
}

// Flags are for the command line; here there are fields.
var flags = pattern.Must(`(, or say| or say|: say)? --[a-z-]+( and (its|the) letter|( [^ ;:,.]*)?( to take [^;.]*)?)| \(--add-tubs adds up\)`)

// elsewhere is where things go on the page that the command line has a command for.
var elsewhere = strings.NewReplacer(
	"count on the sheet that findrive stock blank prints", "count parts by drawings",
	"it goes to findrive shop, with -p", "it goes under Buy",
	"it goes to findrive propose, with -c", "Open, at the top of the page, takes it",
	"it goes to findrive propose, with -b", "Open, at the top of the page, takes it",
	"it goes to findrive try", "Open, at the top of the page, takes it",
	"it goes to findrive sheet, with --from", "it is for the command line",
	"it goes to findrive verify", "it is for the command line",
	"this is what findrive plan answered", "this is a saved plan",
	"it goes to findrive stock back", "it is for the command line",
	"this is a certificate", "this is a saved answer")

func plain(words string) string { return flags.ReplaceAllString(elsewhere.Replace(words), "") }

// again is how many rows name a tub that another has named.
func (l *reading) again() int {
	n := 0
	for _, list := range l.result.Lists {
		for _, row := range list.Rows {
			if row.Again {
				n++
			}
		}
	}
	return n
}

// read0 says what became of the list that was read last.
func (s *Session) read0() g.Node {
	if s.list.result == nil || s.Example || string(s.list.result.Cupboard) == "" {
		return nil
	}
	used, unsure := s.list.result.Count(stocktake.Used), s.list.result.Count(stocktake.Assumed)
	words := fmt.Sprintf("From the list: %d rows used as they stand, %d with something guessed.", used, unsure)
	if n := s.mendable(); n > 0 {
		words += fmt.Sprintf(" %d could not be used: see below.", n)
	}
	if n := len(s.Left) - s.mendable(); n > 0 {
		words += fmt.Sprintf(" %d not for drives.", n)
	}
	if n := s.list.again(); n == 1 {
		words += " 1 names a tub again: it is counted once, and said at its part."
	} else if n > 1 {
		words += fmt.Sprintf(" %d name a tub again: it is counted once, and said at its part.", n)
	}
	var asks []g.Node
	for _, a := range s.list.result.Asks {
		asks = append(asks, h.Li(g.Text(plain(a))))
	}
	var more []g.Node
	if s.Cupboard == string(s.list.result.Cupboard) { // else it may be mended
		for _, l := range s.list.result.Misfits {
			more = append(more, h.Li(g.Text(l)))
		}
	}
	if all := s.list.unknown(); len(all) > 0 && (unsure > 0 || s.mendable() > 0) {
		asks = append(asks, h.Li(g.Text("Nothing was read of what stands under "+strings.Join(all, ", ")+". Is a size or a count there? Say what it is, or write Size or Qty over it.")))
	}
	return h.Div(h.ID("from-list"), h.Class("note"), h.P(g.Text(words)),
		g.If(len(asks) > 0, g.Group{h.Ul(asks...), h.P(button("list-again", "door", stepList, "quiet", "Say it, and read the list again"))}),
		g.If(len(more) > 0, h.Ul(more...)))
}
