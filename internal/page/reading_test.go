package page

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/net/html"

	"findrive/internal/brief"
	"findrive/internal/built"
	level "findrive/internal/reading"
)

// prose are the sentences of the page as it stands, in the elements of the ids given, or of
// all of it; what is typed, and the user's own files as texts, is not among them.
func (u *user) prose(ids ...string) []string {
	u.t.Helper()
	var out []string
	own := map[string]bool{"p": true, "li": true, "h1": true, "h2": true, "h3": true, "label": true, "button": true, "summary": true, "legend": true, "figcaption": true, "th": true, "td": true, "strong": true, "div": true}
	var text func(n *html.Node, to *strings.Builder)
	var visit func(n *html.Node)
	text = func(n *html.Node, to *strings.Builder) {
		for c := range n.ChildNodes() {
			switch {
			case c.Type == html.TextNode:
				to.WriteString(c.Data)
			case c.Type != html.ElementNode || c.Data == "textarea" || c.Data == "pre" || c.Data == "option" || c.Data == "svg":
			case own[c.Data]:
				visit(c)
			default:
				text(c, to)
			}
		}
	}
	visit = func(n *html.Node) {
		var b strings.Builder
		text(n, &b)
		if words := strings.TrimSpace(b.String()); words != "" && strings.ContainsAny(words[len(words)-1:], ".?!") { // labels are no sentences
			out = append(out, level.Sentences(strings.Join(strings.Fields(words), " "))...)
		}
	}
	for _, id := range ids { // which may not be there
		if n := u.byID(id); n != nil {
			visit(n)
		}
	}
	return out
}

// The page is plain to any adult: by the formula of Kincaid and others (see package reading)
// its sentences are below the fourth grade, and none has more than twenty-five words. What
// pupils read of it, about the model that they built, is held to the grade of their own page.
func TestThePageCanBeRead(t *testing.T) {
	u := newUser(t)
	hold := func(name string, all []string, grade float64, most int) {
		t.Helper()
		assert.Less(t, level.Grade(all), grade, name)
		for _, s := range all {
			assert.LessOrEqual(t, len(level.Words(s)), most, "%s: %q", name, s)
		}
	}
	for _, step := range []string{stepAnswer, stepHow, stepList, stepTubs, stepCupboard, stepQuestion, stepPaper, stepBuy} {
		u.do(Event{Act: "door", On: step})
		hold(step, u.prose("main"), 4, 25)
	}
	u.do(Event{Act: "door", On: stepBuilt})
	for _, sign := range built.SignsOn(brief.UprightRide) {
		u.do(Event{Act: "trouble", Form: map[string]string{"seen": string(sign)}})
		hold(string(sign), append(u.prose("trouble"), u.prose("built-of")...), 2.5, 20)
	}
	u.do(countsOf(classLines)) // what it says is for the teacher
	hold("the class", append(u.prose("class-says"), u.prose("class-counts")...), 5, 40)
	u.do(Event{Act: "undo"})
	u.do(learnFrom("11 turns in 30 s"))
	hold("learned", append(u.prose("taught"), u.prose("learned")...), 4, 25)
}
