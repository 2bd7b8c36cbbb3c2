package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/drawing"
	"findrive/internal/drawing/pdf"
	"findrive/internal/groups"
	"findrive/internal/pause"
	"findrive/internal/plan"
	"findrive/internal/report"
	"findrive/internal/sheet"
)

// planName is the plan of a class as it is saved.
const planName = "plan.json"

// shared is the cupboard shared out among all groups, as the command line's class does it,
// and the plan's papers.
type shared struct {
	wanted bool     // a search is to be made
	to     question // which it answers
	told   *report.ToldGroups
	plan   *plan.Plan // nil if nobody can build
	file   []byte     // the plan as it is saved
	packed string     // and as it is kept
	class  *sheet.Class
	failed string
}

// classPapers are the papers for a class as a whole.
var classPapers = []struct{ Name, Words, For string }{
	{sheet.ClassPage, "For the whole class", "which tray builds which drive, what to do before, and what was counted"},
	{sheet.ClassKitPage, "Kit list by tray", "what to take out, what goes on each tray, and what comes back"},
}

// sharedOut is whether there is a plan for the files as they are.
func (s *Session) sharedOut() bool { return s.shared.told != nil && s.shared.to == s.question() }

// classPart is the class as a whole, on the step Paper.
func (s *Session) classPart(r read) g.Node {
	if r.brief.Sets < 2 {
		return nil
	}
	nodes := []g.Node{h.ID("class"), h.Class("trouble"), h.Aria("labelledby", "class-head"), h.H3(h.ID("class-head"), g.Text("For the whole class"))}
	sh := &s.shared
	switch {
	case sh.wanted:
		return h.Section(append(nodes, searching(everyWay))...)
	case !s.sharedOut():
		nodes = append(nodes, h.P(g.Text(fmt.Sprintf("The cupboard can be shared out among all %s, who may build different drives where that serves more of them.", numberOfGroups(r.brief.Sets)))),
			g.If(sh.failed != "", h.P(h.Class("warn"), h.ID("class-failed"), g.Text(sh.failed))),
			h.P(h.Class("links"), button("share", "share", "", "", "Share the cupboard out")))
		return h.Section(nodes...)
	}
	nodes = append(nodes, h.P(h.Class("outcome"), h.ID("class-outcome"), g.Text(sh.told.Outcome)), g.If(sh.told.Proof != "", h.P(g.Text(sh.told.Proof))))
	if sh.class == nil {
		return h.Section(nodes...)
	}
	var who, rows []g.Node
	for i := range sh.plan.Drives {
		d := &sh.plan.Drives[i]
		trays := fmt.Sprintf("Trays %d to %d", d.First, d.First+d.Groups-1)
		if d.Groups == 1 {
			trays = fmt.Sprintf("Tray %d", d.First)
		}
		who = append(who, h.Li(g.Text(fmt.Sprintf("%s, drive %s: %s.", trays, d.Letter, drivesIn(sh.told.Drives[i])))))
	}
	nodes = append(nodes, h.Ul(h.ID("class-who"), g.Group(who)), g.If(sh.told.Make != "", h.P(g.Text(sh.told.Make))), g.If(sh.told.Gone != "", h.P(g.Text(sh.told.Gone))))
	for _, p := range classPapers {
		rows = append(rows, h.Li(h.ID("paper-"+p.Name), h.P(h.Strong(g.Text(p.Words)), g.Text(" "+p.For)),
			h.P(h.Class("links"), named("look-"+p.Name, "look", p.Name, "quiet", "Look", p.Words), named("pdf-"+p.Name, "pdf", p.Name, "", "PDF", p.Words),
				g.If(p.Name == sheet.ClassKitPage, named("csv-"+p.Name, "csv", p.Name, "quiet", "For a spreadsheet", p.Words)))))
	}
	return h.Section(append(nodes, h.Ul(h.Class("papers"), g.Group(rows)),
		h.P(h.Class("links"), button("class-all", "class papers", "", "", "These and every drive's papers as PDF"), button("save-plan", "save", "plan", "quiet", "Save the plan for the command line")))...)
}

// actShare asks for the cupboard to be shared out.
func (s *Session) actShare(d doing) {
	if r := s.read(); !r.sound() {
		return
	}
	s.shared = shared{wanted: true}
	d.reply.Next, d.reply.Focus = "share out", "class-head"
}

// actShareOut shares the cupboard out.
func (s *Session) actShareOut(d doing) {
	if !s.shared.wanted {
		return
	}
	s.shared.wanted = false
	r := s.read()
	if !r.sound() {
		return
	}
	d.reply.Focus = "class-head"
	made, err := s.shareOut(d.ctx, r)
	switch {
	case errors.Is(context.Cause(d.ctx), ErrOvertaken):
		return
	case pause.Err(d.ctx) != nil:
		s.shared.failed = "Stopped before it was shared out."
	case err != nil:
		s.shared.failed = "It cannot be shared out: " + err.Error() + "."
	default:
		s.shared = *made
	}
}

func (s *Session) shareOut(ctx context.Context, r read) (*shared, error) {
	limited, end := bounded(ctx, s.limits.Find)
	defer end()
	late := func() (context.Context, context.CancelFunc) { return bounded(ctx, s.limits.One) }
	result, err := groups.Plan(limited, r.cup.InStock(), r.brief, groups.Options{Threads: 1, Limit: s.limits.First, Relax: s.limits.One, Rank: s.limits.One, Late: late})
	if err != nil {
		return nil, err
	}
	out := &shared{to: s.question()}
	if len(result.Shares) == 0 {
		out.told = report.TellGroups(result)
		return out, nil
	}
	if out.plan, err = plan.OfClass(ctx, result, 1); err != nil {
		return nil, err
	}
	out.told = report.TellGroups(out.plan.Class(result))
	var b bytes.Buffer
	if err := out.plan.Write(&b); err != nil {
		return nil, err
	}
	out.packed = packPlan(b.Bytes())
	return out, out.take(b.Bytes())
}

// ofClass is a paper of the class; nil if it is none, or there is no plan.
func (s *Session) ofClass(name string) (*drawing.Drawing, error) {
	if name != sheet.ClassPage && name != sheet.ClassKitPage || !s.sharedOut() || s.shared.class == nil {
		return nil, nil
	}
	page, err := s.shared.class.Page(name)
	if err != nil {
		return nil, err
	}
	return page.Paper(s.size()), nil
}

// actClassPapers hands out the papers of the class and of each of its drives, as the command
// line writes them for the plan.
func (s *Session) actClassPapers(d doing) {
	c := s.shared.class
	if !s.sharedOut() || c == nil {
		return
	}
	add := func(name string, paper *drawing.Drawing, err error) {
		var b bytes.Buffer
		if err == nil {
			err = pdf.Write(&b, paper)
		}
		if err != nil {
			s.said = name + " cannot be made: " + err.Error() + "."
			return
		}
		d.reply.Files = append(d.reply.Files, File{name + ".pdf", "application/pdf", b.Bytes()})
	}
	for _, p := range classPapers {
		paper, err := s.ofClass(p.Name)
		add(c.FileName(p.Name), paper, err)
	}
	var b bytes.Buffer
	if err := c.KitCSV(&b); err == nil {
		d.reply.Files = append(d.reply.Files, File{c.FileName(sheet.ClassKitPage) + ".csv", "text/csv", b.Bytes()})
	}
	for i := range c.Shares {
		for _, page := range c.Shares[i].Pages() {
			if page == sheet.KitPage {
				continue
			}
			paper, err := c.Shares[i].Paper(page, s.size())
			add(c.ShareName(i)+"-"+page, paper, err)
		}
	}
	if s.said == "" {
		s.said = fmt.Sprintf("%d files are saved where this browser saves files.", len(d.reply.Files))
	}
}
