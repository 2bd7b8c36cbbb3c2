package page

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

//go:embed tubs.toml
var tubsFile []byte

// usual are the parts of the door "I have tubs of parts".
func usual() *parts.Cupboard {
	c, err := parts.Read("tubs.toml", tubsFile)
	if err != nil {
		panic(err) // it is part of the program
	}
	return c
}

// dowels are what axles are made of, across, in mm; the first is the usual one.
var dowels = []string{"5", "4", "3", "6"}

// fitted are the kinds of part that sit on the dowel, so that their bore follows it.
var fitted = map[string]bool{"pulley": true, "wheel": true, "drum": true}

// push is how much less a bore is than the dowel it is pushed on (common practice).
const push units.Millimetres = 0.1

// tubsDoor is where parts are counted by drawings.
func (s *Session) tubsDoor() g.Node {
	c := usual()
	var nodes g.Group
	nodes = append(nodes, h.P(g.Text("Count how many you have of each, and leave the others empty. The drawings are in proportion to one another. If you are not sure of a size, print the measuring sheet and lay the part on it.")),
		h.P(h.Class("links"), button("measuring", "measuring sheet", "", "", "Measuring sheet, as PDF"), button("back-cupboard", "door", stepCupboard, "quiet", "Back to the cupboard")))
	if len(s.tubsWrong) > 0 {
		nodes = append(nodes, h.P(h.Class("wrong"), h.ID("tubs-wrong"), g.Text(s.tubsWrong["all"])))
	}
	var form g.Group
	var options []g.Node
	values := valuesOf(s.Cupboard)
	dowel := s.tubs["dowel"]
	if len(s.tubsWrong) == 0 {
		dowel = dowelIn(values)
	}
	for _, d := range dowels {
		options = append(options, option(d, d+" mm", dowel == d))
	}
	form = append(form, labelled("tub-dowel", "Your axles are dowel or rod of", h.Select(h.ID("tub-dowel"), h.Name("dowel"), g.Group(options))))
	var rest []g.Node
	for _, k := range kinds {
		names := c.Names(k.Key)
		slices.SortStableFunc(names, func(a, b string) int { return int(sizeOf(c, k.Key, a) - sizeOf(c, k.Key, b)) })
		var tubs []g.Node
		for _, name := range names {
			n := s.tubs[k.Key+"."+name+" n"]
			if len(s.tubsWrong) == 0 {
				n = drawnCount(values, k.Key, name)
			}
			tubs = append(tubs, s.tub(c, k.Key, name, n))
		}
		if k.Key != "pulley" && k.Key != "band" {
			rest = append(rest, tubs...)
			continue
		}
		form = append(form, fieldset(k.Words, "tubs-"+k.Key, h.Div(h.Class("tubs"), g.Group(tubs))))
	}
	form = append(form, fieldset("Motors, cells, dowel and small things", "tubs-rest", h.Div(h.Class("tubs"), g.Group(rest))))
	form = append(form, h.P(h.Class("onward links"), h.Button(h.Type("submit"), h.ID("tubs-go"), h.Class("main"), g.Text("Put them in the cupboard"))))
	return append(nodes, h.Form(h.ID("tubs"), h.Data("act", "tubs"), h.Aria("label", "Your tubs"), form))
}

// sizeOf is what parts of a kind are put in order by.
func sizeOf(c *parts.Cupboard, kind, name string) float64 {
	for _, p := range c.Pulleys {
		if kind == "pulley" && p.Name == name {
			return 100 * float64(p.Bore+p.Outside/100)
		}
	}
	for _, b := range c.Bands {
		if kind == "band" && b.Name == name {
			return 1000*float64(b.Width) + float64(b.FlatLength)
		}
	}
	return 0
}

// tub is one part: its drawing and a count.
func (s *Session) tub(c *parts.Cupboard, kind, name, n string) g.Node {
	key := kind + "." + name
	fid := id("tub", kind, name)
	picture, words := partDrawing(c, kind, name)
	_, wrongWords := wrong(fid+"-n", nonEmpty(s.tubsWrong[key]))
	return h.Div(h.Class("tub"), picture,
		h.P(h.Class("how-many"), h.Label(h.For(fid+"-n"), g.Text(units.Capital(words)), h.Span(h.Class("unseen"), g.Text(": how many"))), h.Input(h.Type("text"), h.ID(fid+"-n"), h.Name(key+" n"), g.Attr("inputmode", "numeric"), h.AutoComplete("off"), h.Placeholder("0"), h.Value(n))), wrongWords)
}

func nonEmpty(words string) []string {
	if words == "" {
		return nil
	}
	return []string{words}
}

// actTubs puts what was counted into the cupboard.
func (s *Session) actTubs(d doing) {
	s.tubs, s.tubsWrong = d.Form, map[string]string{}
	c := usual()
	type took struct {
		kind, name string
		n          int
	}
	var all, none []took
	first := ""
	values := valuesOf(s.Cupboard)
	if s.Example { // which is not the user's
		values = nil
	}
	for _, k := range kinds {
		for _, name := range c.Names(k.Key) {
			key := k.Key + "." + name
			said := strings.TrimSpace(d.Form[key+" n"])
			drawn := drawnCount(values, k.Key, name) != ""
			if said == "" && !drawn || said == "0" && table(values, k.Key, name) == nil {
				continue
			}
			if said == "" || said == "0" { // it was there
				none = append(none, took{k.Key, name, 0})
				continue
			}
			n, err := strconv.Atoi(said)
			if err != nil || n < 1 || n > 10_000 {
				s.tubsWrong[key] = "Write a whole number, from 1 to 10000."
				if first == "" {
					first = id("tub", k.Key, name) + "-n"
				}
				continue
			}
			all = append(all, took{k.Key, name, n})
		}
	}
	switch {
	case len(s.tubsWrong) > 0:
		s.tubsWrong["all"] = "Some counts are no numbers: see the marked ones."
		d.reply.Focus = first
		return
	case len(all) == 0:
		s.tubsWrong["all"] = "Nothing is counted yet. Write a number beside what you have."
		d.reply.Focus = "tub-dowel"
		return
	}
	dowel := d.Form["dowel"]
	if !slices.Contains(dowels, dowel) {
		dowel = dowels[0]
	}
	s.alter("the tubs", func(f *files) {
		if f.Example {
			f.Cupboard, f.Brief, f.Left = "schema = 1\nname = \"our tubs\"\n", string(demo.StarterBrief()), nil
		}
		for _, t := range all {
			f.Cupboard = withTub(f.Cupboard, t.kind, t.name, t.n, dowel)
		}
		for _, t := range none {
			f.Cupboard = withoutTub(f.Cupboard, t.kind, t.name)
		}
	})
	s.Step, s.opened = stepCupboard, nil
	d.reply.Focus = "step-" + stepCupboard
}

// fromDrawing is what a part that was counted by its drawing says is assumed of it.
const fromDrawing = "sizes taken from the drawing, not measured"

// drawnCount is how many there are of a part that was counted by its drawing; empty if it was not.
func drawnCount(values map[string]any, kind, name string) string {
	part := table(values, kind, name)
	if list, is := part["assumed"].([]any); is && slices.Contains(list, any(fromDrawing)) {
		return value(part["count"])
	}
	return ""
}

// dowelIn is the dowel that the parts counted by drawings fit; the usual one if there is none.
func dowelIn(values map[string]any) string {
	drawn := valuesOf(string(tubsFile))
	for _, k := range kinds {
		for _, name := range sortedKeys(table(drawn, k.Key)) {
			if drawnCount(values, k.Key, name) == "" {
				continue
			}
			is := table(values, k.Key, name)
			for key, v := range table(drawn, k.Key, name) {
				usual := value(v)
				if i := slices.IndexFunc(dowels, func(d string) bool { return sizeFor(k.Key, key, usual, d) == value(is[key]) }); i >= 0 && follows(k.Key, key, usual) {
					return dowels[i]
				}
			}
		}
	}
	return dowels[0]
}

// follows is whether a size of a usual part is another for another dowel.
func follows(kind, key, usual string) bool {
	return kind == "axle" && key == "diameter" || fitted[kind] && key == "bore" && usual != "2 mm" || kind == "spacer" && key == "bore" || kind == "sleeve" && key == "outer"
}

// sizeFor is a size of a usual part with a dowel of so many mm.
func sizeFor(kind, key, usual, dowel string) string {
	if !follows(kind, key, usual) {
		return usual
	}
	across, _ := strconv.ParseFloat(dowel, 64)
	switch {
	case fitted[kind]:
		return units.Lengths.Format(units.Millimetres(across) - push)
	case kind == "spacer":
		return units.Lengths.Format(units.Millimetres(across) + 2*push)
	}
	return dowel + " mm"
}

// withTub is a cupboard with a usual part in it; where it is there already its count is
// another, and what was taken from the drawing for another dowel.
func withTub(cupboard, kind, name string, n int, dowel string) string {
	k := kindOf(kind)
	values := table(valuesOf(string(tubsFile)), kind, name)
	is := table(valuesOf(cupboard), kind, name)
	drawn := drawnCount(valuesOf(cupboard), kind, name) != ""
	for _, f := range slices.Concat(k.Main, k.More) {
		v, there := values[f.Key]
		if !there {
			continue
		}
		usual := value(v)
		text := sizeFor(kind, f.Key, usual, dowel)
		if is != nil && (!drawn || !follows(kind, f.Key, usual) || !slices.ContainsFunc(dowels, func(d string) bool { return sizeFor(kind, f.Key, usual, d) == value(is[f.Key]) })) {
			continue // it is as the user has it
		}
		to := valueOf(v)
		if _, is := v.(string); is {
			to = tomledit.Text(text)
		}
		cupboard = set(cupboard, to, kind, name, f.Key)
	}
	cupboard = set(cupboard, tomledit.Whole(n), kind, name, "count")
	if is != nil {
		return cupboard
	}
	return set(cupboard, tomledit.List(tomledit.Text(fromDrawing)), kind, name, "assumed")
}

// withoutTub is a cupboard without a usual part: one that was counted by its drawing is taken out,
// and of any other of that name there is none left.
func withoutTub(cupboard, kind, name string) string {
	if drawnCount(valuesOf(cupboard), kind, name) != "" {
		return edited(cupboard, tomledit.Remove(kind, name))
	}
	return set(cupboard, tomledit.Whole(0), kind, name, "count")
}

// actMeasuring hands out the measuring sheet.
func (s *Session) actMeasuring(d doing) {
	data, err := measuringSheet(s.size())
	if err != nil {
		s.said = "The measuring sheet cannot be made: " + err.Error() + "."
		return
	}
	d.reply.Files = []File{{"measuring-sheet.pdf", "application/pdf", data}}
	s.said = "measuring-sheet.pdf is saved where this browser saves files. Print it at 100 %."
}
