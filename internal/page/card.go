package page

import (
	"fmt"
	"math"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/brief"
	"findrive/internal/report"
	"findrive/internal/units"
)

// taking is how one of the choices is taken.
func taking(d *report.ToldDrive, is bool) g.Node {
	if is {
		return h.P(h.Class("go"), h.Span(h.Class("taken"), g.Text("This one is taken")))
	}
	n := fmt.Sprint(d.Drive.Rank)
	return h.P(h.Class("go"), button("choose-"+n, "choose", n, "", "Take this one"))
}

// card is one of the drives of an answer; more stands below it.
func card(a *answer, d *report.ToldDrive, is bool, more g.Node) g.Node {
	id := fmt.Sprintf("choice-%d", d.Drive.Rank)
	name := d.Is
	if name == "" {
		name = "the best of all"
	}
	class := "card"
	if is {
		class += " is"
	}
	differs := d.Simple + "."
	if d.Unlike != "" {
		differs = "Unlike the first here: " + d.Unlike + "."
		if a.told.Lead.Drive.Rank != a.told.Choices[0].Drive.Rank {
			differs = fmt.Sprintf("Unlike number %d: %s.", a.told.Lead.Drive.Rank, d.Unlike)
		}
	}
	return h.Li(h.Class(class), h.ID(id),
		h.H3(h.ID(id+"-head"), g.Text(units.Capital(name))),
		h.Figure(turning(d.Drive, id+"-turns", turningWords(d)), h.FigCaption(g.Text(d.Pulleys))),
		h.P(h.Class("speed"), g.Text(units.Capital(d.Speed)+".")),
		speedBar(a.result.Brief, d),
		tenOf(d),
		g.If(d.May != "", h.P(h.Class("warn"), g.Text(d.May))),
		h.P(g.Text(differs)),
		h.P(g.Text(d.Groups+".")),
		g.If(len(d.LookOut) > 0, h.P(h.Class("warn"), g.Text("Look out: "+strings.Join(d.LookOut, "; ")+"."))),
		more)
}

func turningWords(d *report.ToldDrive) string {
	return fmt.Sprintf("The drive seen from the front, in proportion: %s. It %s.", d.Pulleys, d.Works)
}

// drivesIn puts the signs between pulleys into words, in a line with other things in it.
func drivesIn(line string) string { return strings.ReplaceAll(line, " > ", " drives ") }

func drivesList(lines []string) g.Node {
	var all []string
	for _, line := range lines {
		all = append(all, drivesIn(line))
	}
	return list(all)
}

// speedBar is the range of a drive's speed on a scale, with the band that was asked for on it.
func speedBar(b *brief.Brief, d *report.ToldDrive) g.Node {
	q := d.Drive
	low, likely, high, target := float64(q.Speed.Low), float64(q.Speed.Likely), float64(q.Speed.High), float64(q.Target)
	most := 1.1 * max(high, target*(1+b.Tolerance))
	if !(most > 0) || math.IsInf(most, 0) {
		return nil
	}
	pc := func(v float64) string { return short(100*max(0, v)/most) + "%" }
	from, to := target*(1-b.Tolerance), target*(1+b.Tolerance)
	per := 1.0 // in the unit of the range
	if q.Linear != nil {
		per = 100 * float64(q.Linear.Likely) / likely
	}
	words := fmt.Sprintf("Nine tables of ten get %s %s. Asked for: %s, give or take %s %%, which is %s to %s.", d.Range, d.Unit, wantedWords(b), short(100*b.Tolerance), units.Significant(from*per, 2), units.Significant(to*per, 2))
	return h.Div(h.Class("bar"),
		h.Div(h.Class("track"), g.Attr("aria-hidden", "true"),
			h.Div(h.Class("asked"), h.Style("left:"+pc(from)+";width:"+pc(to-from))),
			h.Div(h.Class("range"), h.Style("left:"+pc(low)+";width:"+pc(high-low))),
			h.Div(h.Class("likely"), h.Style("left:"+pc(likely)))),
		h.P(h.Class("small"), g.Text(words)))
}

func wantedWords(b *brief.Brief) string {
	if b.Speed.Words != "" {
		return b.Speed.Words
	}
	return "its speed"
}

// tenOf are ten classrooms, those filled in which the drive works.
func tenOf(d *report.ToldDrive) g.Node {
	var rooms []g.Node
	for i := range 10 {
		class := "room"
		if i < d.Tenths {
			class = "room works"
		}
		x := float64(i) * 11
		rooms = append(rooms, g.El("path", g.Attr("class", class), g.Attr("d", fmt.Sprintf("M%s 10V4L%s 0.7L%s 4V10Z", short(x+1), short(x+5), short(x+9)))))
	}
	return h.P(h.Class("rooms"), g.El("svg", g.Attr("viewBox", "0 0 110 11"), g.Attr("aria-hidden", "true"), g.Group(rooms)), h.Span(g.Text(units.Capital(d.Works)+".")))
}
