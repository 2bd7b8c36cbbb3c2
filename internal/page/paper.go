package page

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"slices"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/drawing"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/svg"
	"findrive/internal/sheet"
	"findrive/internal/swap"
	"findrive/internal/units"
)

// papers are what can be printed, each for whom.
var papers = []struct{ Name, Words, For string }{
	{sheet.BuildPage, "Build sheet", "for the adult: parts, holes, steps, what may go wrong"},
	{sheet.TemplatePage, "Drilling template", "in true size, to stick on the sides and drill through"},
	{sheet.StepsPage, "Steps in pictures", "one for each step, and every rod in true size"},
	{sheet.PupilsPage, "Pupils' page", "guess, do the sum, build, test, tell why"},
	{sheet.AnswersPage, "Answers", "to the pupils' page"},
	{sheet.KitPage, "Kit list", "what goes in each tray, and what to cut"},
	{sheet.DiscsPage, "Discs to cut", "in true size, for the pulleys that are to be made"},
	{sheet.DrawingPage, "Drawing", "side view and view along the axles"},
}

func (s *Session) paperLine() string {
	if d := s.chosen(); d != nil {
		return fmt.Sprintf("Papers for drive number %d.", d.Drive.Rank)
	}
	return "When there is a drive to print."
}

// set is the chosen drive made ready for paper.
func (s *Session) set() (*sheet.Set, string, error) {
	d := s.chosen()
	c, _, err := s.answer.certificate()
	if err != nil {
		return nil, "", err
	}
	r := s.read()
	if r.cup != nil {
		c = swap.Remember(c, d.Drive.Rank, r.cup.Remembered)
	}
	set, err := sheet.New(c, d.Drive.Rank, sheet.DefaultOptions())
	return set, c.Brief.Name, err
}

func (s *Session) size() drawing.Size {
	if s.letter {
		return drawing.Letter
	}
	return drawing.A4
}

// paperStep is the fourth step, open.
func (s *Session) paperStep(r read) g.Node {
	switch {
	case !r.sound():
		return s.summary(r)
	case !s.fresh():
		return searching(everyWay)
	case s.chosen() == nil:
		return g.Group{h.P(g.Text("There is no drive that all groups can build alike. See what stands in the way under Answer.")), s.classPart(r), s.look()}
	}
	d := s.chosen()
	set, _, err := s.set()
	if err != nil {
		return h.P(h.Class("warn"), g.Text("Paper cannot be made for this drive: "+err.Error()+". Take another one."))
	}
	var rows []g.Node
	for _, p := range papers {
		if !slices.Contains(set.Pages(), p.Name) {
			continue
		}
		rows = append(rows, h.Li(h.ID("paper-"+p.Name), h.P(h.Strong(g.Text(p.Words)), g.Text(" "+p.For)),
			h.P(h.Class("links"), named("look-"+p.Name, "look", p.Name, "quiet", "Look", p.Words), named("pdf-"+p.Name, "pdf", p.Name, "", "PDF", p.Words),
				g.If(p.Name == sheet.KitPage, named("csv-"+p.Name, "csv", p.Name, "quiet", "For a spreadsheet", p.Words)))))
	}
	return g.Group{
		h.P(g.Text(fmt.Sprintf("For drive number %d: %s. %s.", d.Drive.Rank, d.Pulleys, units.Capital(d.Works)))),
		g.If(len(d.LookOut) > 0, h.P(h.Class("warn"), g.Text("Look out: "+joined(d.LookOut)+"."))),
		labelled("paper-size", "Paper", h.Select(h.ID("paper-size"), h.Data("act", "paper size"), option("a4", "A4", !s.letter), option("letter", "Letter", s.letter))),
		h.Ul(h.Class("papers"), g.Group(rows)),
		h.P(h.Class("links"), named("all-pdf", "pdf", "all", "main", "All of them as PDF", ""), button("save-answer", "save", "answer", "quiet", "Save the answer for the command line")),
		h.P(h.Class("small"), g.Text("Print PDFs at 100 %, not fitted to the page, and measure the bar of 100 mm on a template before you drill. All of them are several files: if the browser asks whether it may save them, allow it.")),
		s.classPart(r),
		s.look(),
		cautions(s.answer.told),
		s.onward(stepPaper),
	}
}

// named is a button whose words are told apart for who cannot see where it stands.
func named(bid, act, on, class, words, of string) g.Node {
	return h.Button(h.Type("button"), h.ID(bid), g.If(class != "", h.Class(class)), h.Data("act", act), h.Data("on", on), g.Text(words), g.If(of != "", h.Span(h.Class("unseen"), g.Text(" of "+of))))
}

func joined(all []string) string {
	out := ""
	for i, w := range all {
		if i > 0 {
			out += "; "
		}
		out += w
	}
	return out
}

// look is the paper that is looked at, as it prints.
func (s *Session) look() g.Node {
	if s.shown == "" {
		return nil
	}
	d, err := s.ofClass(s.shown)
	if err == nil && d == nil {
		if s.chosen() == nil {
			return nil
		}
		set, _, failed := s.set()
		if failed != nil {
			return nil
		}
		d, err = set.Paper(s.shown, s.size())
	}
	if err != nil || d == nil {
		return h.P(h.Class("warn"), h.ID("look-head"), g.Text("This page cannot be made."))
	}
	nodes := []g.Node{h.ID("look"), h.Class("look"), h.Aria("labelledby", "look-head"),
		h.H3(h.ID("look-head"), g.Text(d.Title)), h.P(h.Class("links"), button("print", "print", s.shown, "", "Print as shown, in true size"), button("look-end", "look", "", "quiet", "Put it away"))}
	for i, p := range d.Pages {
		var b bytes.Buffer
		if err := svg.Write(&b, p); err != nil {
			continue
		}
		words := fmt.Sprintf("Sheet %d of %d of %s.", i+1, len(d.Pages), d.Title)
		if p.Description != "" {
			words += " " + p.Description
		}
		class := "sheet"
		if p.Size.Width > p.Size.Height {
			class = "sheet lying"
		}
		nodes = append(nodes, h.Img(h.Class(class), h.Alt(words), h.Style(fmt.Sprintf("--w:%smm;--h:%smm", units.Decimals(float64(p.Size.Width), 2), units.Decimals(float64(p.Size.Height), 2))),
			h.Src("data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString(b.Bytes()))))
	}
	if s.letter {
		nodes = append(nodes, h.StyleEl(g.Raw("@page{size:letter;margin:0}@page lying{size:letter landscape;margin:0}")))
	}
	return h.Section(nodes...)
}

// actPDF hands out a paper, or all of them.
func (s *Session) actPDF(d doing) {
	if paper, err := s.ofClass(d.On); err != nil || paper != nil {
		var b bytes.Buffer
		if err == nil {
			err = pdf.Write(&b, paper)
		}
		if err != nil {
			s.said = "It cannot be made: " + err.Error() + "."
			return
		}
		d.reply.Files = []File{{s.shared.class.FileName(d.On) + ".pdf", "application/pdf", b.Bytes()}}
		s.said = fmt.Sprintf("Saved where this browser saves files: %s.", d.reply.Files[0].Name)
		return
	}
	if s.chosen() == nil {
		return
	}
	set, name, err := s.set()
	if err != nil {
		return
	}
	for _, p := range papers {
		if d.On != p.Name && d.On != "all" || !slices.Contains(set.Pages(), p.Name) {
			continue
		}
		paper, err := set.Paper(p.Name, s.size())
		var b bytes.Buffer
		if err == nil {
			err = pdf.Write(&b, paper)
		}
		if err != nil {
			s.said = p.Words + " cannot be made: " + err.Error() + "."
			continue
		}
		d.reply.Files = append(d.reply.Files, File{sheet.FileName(name, s.chosen().Drive.Rank, p.Name) + ".pdf", "application/pdf", b.Bytes()})
	}
	if len(d.reply.Files) > 0 && s.said == "" {
		s.said = fmt.Sprintf("Saved where this browser saves files: %s.", d.reply.Files[0].Name)
		if n := len(d.reply.Files); n > 1 {
			s.said = fmt.Sprintf("%d PDFs are saved where this browser saves files.", n)
		}
	}
}

// actCSV hands out the kit list for a spreadsheet.
func (s *Session) actCSV(d doing) {
	if d.On == sheet.ClassKitPage {
		var b bytes.Buffer
		if !s.sharedOut() || s.shared.class == nil || s.shared.class.KitCSV(&b) != nil {
			return
		}
		d.reply.Files = []File{{s.shared.class.FileName(d.On) + ".csv", "text/csv", b.Bytes()}}
		return
	}
	if s.chosen() == nil {
		return
	}
	set, name, err := s.set()
	var b bytes.Buffer
	if err == nil {
		err = set.KitCSV(&b)
	}
	if err != nil {
		s.said = "The kit list cannot be made: " + err.Error() + "."
		return
	}
	d.reply.Files = []File{{sheet.FileName(name, s.chosen().Drive.Rank, sheet.KitPage) + ".csv", "text/csv", b.Bytes()}}
}

// actLook shows a paper, or puts it away.
func (s *Session) actLook(d doing) {
	was := s.shown
	s.shown = d.On
	if d.On != "" {
		d.reply.Focus = "look-head"
	} else {
		d.reply.Focus = "look-" + was
	}
}
