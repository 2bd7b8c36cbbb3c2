package page

import (
	"bytes"
	"context"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/classdrawing"
	"findrive/internal/drawing"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/svg"
	"findrive/internal/measure"
	"findrive/internal/pattern"
	"findrive/internal/pause"
	"findrive/internal/report"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// classWords stand before how many groups of a class were learned from.
const classWords = "the class of "

// classCounts is what the counts of all groups teach, as the command line's measure --class
// does it.
type classCounts struct {
	of     counted // which model it is about
	text   string  // the counts that it is of
	told   *report.ToldClass
	plot   *drawing.Drawing
	learnt []byte // the calibration; nil if nothing was learned
	model  []byte // the model as a file, if it is a drive of the list
	groups int
	failed string
}

// counted tells one model that was counted from another, as long as nothing was learned since.
type counted struct {
	question
	model string
	rank  int
}

func (s *Session) countedNow() counted { return counted{s.question(), s.Model, s.Rank} }

// toldOfClass is whether there is a result for the counts and the model as they are.
func (s *Session) toldOfClass() bool {
	c := &s.classTold
	return c.told != nil && c.text == s.Class && (s.classKept() || c.of == s.countedNow())
}

// classKept is whether all answers reckon with what the class taught.
func (s *Session) classKept() bool {
	return s.classTold.learnt != nil && s.Learned == string(s.classTold.learnt)
}

// classCountsPart is where the counts of all groups are put in, on the step Built.
func (s *Session) classCountsPart() g.Node {
	c := &s.classTold
	nodes := []g.Node{h.ID("class-counts"), g.If(s.Class != "" || c.failed != "", g.Attr("open")),
		h.Summary(h.ID("class-counts-head"), g.Text("What every group of the class counted")),
		h.P(g.Text("A line for each group: its name, and what it counted. Rows of a spreadsheet will do: group, turns, seconds.")),
		h.Form(h.ID("counts"), h.Data("act", "class counts"), h.Aria("label", "What every group counted"),
			labelledWide("counts-text", "The counts", textArea("counts-text", "8", h.Placeholder("Table 1: 9 turns in 30 s\nTable 2: 10 turns in 30 s"), g.Text(s.Class))),
			g.If(c.failed != "", h.P(h.Class("wrong"), h.ID("counts-wrong"), g.Text(c.failed))),
			h.P(h.Class("links"), h.Button(h.Type("submit"), h.ID("counts-go"), g.Text("What the class says")), button("plot-empty", "plot", "empty", "quiet", "Empty plot to fill in, as PDF")))}
	if s.toldOfClass() {
		nodes = append(nodes, s.classSays())
	}
	return h.Details(nodes...)
}

// classSays is what the counts teach.
func (s *Session) classSays() g.Node {
	c := &s.classTold
	t := c.told
	nodes := []g.Node{h.ID("class-says"), h.Class("trouble"), h.Aria("labelledby", "class-says-head"), h.H3(h.ID("class-says-head"), g.Text(t.Head)),
		picture("plot", c.plot), h.P(h.Class("links"), button("plot-pdf", "plot", "class", "quiet", "The plot, as PDF")),
		list(t.Groups), h.H3(g.Text("What the class as a whole says"))}
	for _, words := range t.Teaches {
		nodes = append(nodes, h.P(g.Text(words)))
	}
	for _, a := range t.Apart {
		nodes = append(nodes, h.H3(g.Text(a.Head)), h.P(g.Text(a.Against)))
		if len(a.Suspects) > 0 {
			nodes = append(nodes, list(a.Look), h.P(g.Text("What it may come from, likeliest first, each worked out:")), suspects(a.Suspects))
		}
	}
	nodes = append(nodes, h.P(h.Class("small"), g.Text(t.Note)))
	switch {
	case s.classKept():
		nodes = append(nodes, h.P(g.Text("It is kept, and all answers reckon with it.")))
	case c.learnt != nil:
		nodes = append(nodes, h.P(button("class-learn", "learn class", "", "", "Learn from the class")))
	}
	return h.Section(nodes...)
}

// picture is a drawing of one page as a picture.
func picture(id string, d *drawing.Drawing) g.Node {
	var b bytes.Buffer
	if err := svg.Write(&b, d.Pages[0]); err != nil {
		return nil
	}
	return h.Img(h.ID(id), h.Class("plot"), h.Alt(d.Description), h.Src("data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString(b.Bytes())))
}

// countsName stands for the counts where they are read, and is not said.
const countsName = "counts"

var countsLine = pattern.Must(`(?m)^` + countsName + `(:(\d+))?: `)

// actClassCounts says what the counts of all groups teach.
func (s *Session) actClassCounts(d doing) {
	text := strings.ReplaceAll(d.Form["text"], "\r\n", "\n")
	s.classTold = classCounts{}
	c := &s.classTold
	fail := func(words string) {
		var all []string
		for line := range strings.SplitSeq(words, "\n") { // a mistake each
			all = append(all, units.Capital(strings.TrimSuffix(line, "."))+".")
		}
		c.failed = strings.Join(all, " ")
		d.reply.Focus = "counts-text"
	}
	if len(text) > tomlfile.MaxBytes {
		fail("this is too long for the counts of a class")
		return
	}
	s.alter("the counts of the class", func(f *files) { f.Class = text })
	r := s.read()
	if !s.stands(r) {
		return
	}
	counts, err := measure.ReadClass(countsName, []byte(text))
	if err != nil {
		fail(countsLine.ReplaceAllStringFunc(err.Error(), func(at string) string {
			if m := countsLine.FindStringSubmatch(at); m[2] != "" {
				return "line " + m[2] + ": "
			}
			return ""
		}))
		return
	}
	b, err := s.model(r)
	if err != nil {
		fail(plain(err.Error()))
		return
	}
	ctx, end := bounded(d.ctx, s.limits.Find)
	defer end()
	class, err := measure.LearnClass(ctx, b, counts)
	switch {
	case errors.Is(context.Cause(d.ctx), ErrOvertaken):
		return
	case err != nil && pause.Err(ctx) != nil:
		fail("stopped before all was worked out: press again")
		return
	case err != nil:
		fail(plain(err.Error()))
		return
	}
	c.of, c.text, c.told, c.plot, c.groups = s.countedNow(), text, report.TellClass(class), classdrawing.Plot(class), len(class.Groups)
	if class.Learned != nil {
		c.learnt = class.Learned.Calibration()
	}
	if s.Model == "" {
		c.model = b.WriteListed(s.chosen().Drive.Rank)
	}
	d.reply.Focus = "class-says-head"
}

// actLearnClass keeps what the class taught, as measure --class -o writes it.
func (s *Session) actLearnClass(d doing) {
	c := &s.classTold
	if !s.toldOfClass() || c.learnt == nil || s.classKept() {
		return
	}
	words := fmt.Sprintf("%s%s", classWords, numberOfGroups(c.groups))
	s.alter("what was learned from "+words, func(f *files) {
		if c.model != nil {
			f.Model = string(c.model)
		}
		f.Learned = string(c.learnt)
		f.Counts = append(append([]string(nil), f.Counts...), words)
	})
	d.reply.Focus = "learned-head"
}

// actPlot hands out the plot of the class, or the empty one to fill in.
func (s *Session) actPlot(d doing) {
	plot, name := s.classTold.plot, "class.pdf"
	if d.On == "empty" {
		r := s.read()
		if !s.stands(r) {
			return
		}
		b, err := s.model(r)
		var class *measure.Class
		if err == nil {
			class, err = measure.LearnClass(d.ctx, b, nil)
		}
		if err != nil {
			s.said = "The plot cannot be made: " + plain(err.Error()) + "."
			return
		}
		plot, name = classdrawing.Plot(class), "class-empty.pdf"
	}
	var b bytes.Buffer
	if plot == nil || pdf.Write(&b, plot) != nil {
		return
	}
	d.reply.Files = []File{{name, "application/pdf", b.Bytes()}}
	s.said = "Saved where this browser saves files: " + name + "."
}
