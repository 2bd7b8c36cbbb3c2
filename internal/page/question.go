package page

import (
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/brief"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// model is a kind of model: its words, and what is asked of its load.
type model struct {
	Is    brief.Model
	Name  string
	Words string
	More  string
	Speed string // what is taken where the speed of another model means nothing
	Load  []field
}

var loadMass = field{Key: "mass", Head: "Mass of all that turns", Sort: mass}

func massOf(head string) field { return field{Key: "mass", Head: head, Sort: mass} }

var models = []model{
	{brief.UprightRide, "Carousel", "Carousel", "turns on an upright axle", "1 turn in 3 s", []field{loadMass, sized("radius", "Where the mass sits, from the middle"), sized("pivot_radius", "How far from the middle it rubs where it stands")}},
	{brief.LevelRide, "Big wheel", "Big wheel", "turns on a level axle", "1 turn in 6 s", []field{loadMass, sized("radius", "Where the mass sits, from the middle"), {Key: "out_of_balance", Head: "How much heavier one side is", Sort: mass}}},
	{brief.Vehicle, "Buggy", "Buggy", "drives on wheels", "0.3 m/s", []field{massOf("Mass of all of it"), {Key: "surface", Head: "It drives on a", Sort: choice, Choices: []string{"table", "carpet"}}, {Key: "slope", Head: "How steep", Sort: words}}},
	{brief.Lift, "Crane", "Crane or lift", "winds up a cord", "4 cm/s", []field{massOf("Mass of what is lifted"), sized("cord", "Thickness of the cord"), {Key: "cord_leaves", Head: "The cord leaves the drum", Sort: choice, Choices: []string{"down", "up", "left", "right"}}}},
	{brief.PlainShaft, "Axle", "Just an axle", "whatever you put on it", "20 rpm", []field{{Key: "torque", Head: "Torque needed there", Sort: torque}}},
}

func modelOf(words string) *model {
	for i := range models {
		if string(models[i].Is) == words {
			return &models[i]
		}
	}
	return nil
}

var (
	speedField  = field{Key: "speed", Head: "How fast", Sort: words}
	setsField   = field{Key: "sets", Head: "How many groups build one at the same time", Sort: whole}
	frameFields = []field{sized("length", "Across"), sized("height", "High"), sized("depth", "Deep")}
	makeFields  = []field{
		{Key: "drill_frame", Head: "Drill holes in the frame", Sort: yes},
		{Key: "drill_out", Head: "Drill holes of pulleys larger", Sort: yes},
		{Key: "glue", Head: "Glue", Sort: yes},
		{Key: "discs", Head: "Make pulleys of discs cut from sheet", Sort: yes},
	}
	moreFields = []struct {
		Table string
		field
	}{
		{"", field{Key: "tolerance", Head: "How far off the speed may be", Sort: share}},
		{"", field{Key: "max_stages", Head: "Bands one behind the other, at most", Sort: whole}},
		{"direction", field{Key: "turns", Head: "Which way it should turn", Sort: choice, Choices: []string{"clockwise", "anticlockwise", "either"}}},
		{"direction", field{Key: "seen_from", Head: "Seen from", Sort: choice, Choices: []string{"front", "back", "above", "below"}}},
		{"frame", sized("sheet", "Sides are sheet of this thickness")},
		{"frame", field{Key: "motor_zone", Head: "Where the motor may be", Sort: choice, Choices: []string{"anywhere", "left third", "middle third", "right third", "left half", "right half", "top half", "bottom half"}}},
		{"frame", sized("overhang", "How far a pulley may stick out")},
	}
)

// questionField is the field at a path of the brief; nil for one that the page has not.
func questionField(path []string) *field {
	of, key := "", path[len(path)-1]
	if len(path) == 2 {
		of = path[0]
	} else if len(path) != 1 {
		return nil
	}
	find := func(all []field) *field {
		for i := range all {
			if all[i].Key == key {
				return &all[i]
			}
		}
		return nil
	}
	for i := range moreFields {
		if moreFields[i].Table == of && moreFields[i].Key == key {
			return &moreFields[i].field
		}
	}
	switch of {
	case "":
		return find([]field{{Key: "name", Sort: words}, {Key: "model", Sort: words}, speedField, setsField})
	case "frame":
		return find(frameFields)
	case "making":
		return find(makeFields)
	case "load":
		for _, m := range models {
			if f := find(m.Load); f != nil {
				return f
			}
		}
	}
	return nil
}

// setBrief puts a value into the brief. Another model brings what belongs to it: keys of
// the load that mean nothing for it go, and a speed that it cannot have is another.
func (s *Session) setBrief(f *files, path []string, value tomledit.Value) {
	if len(path) == 1 && path[0] == "speed" {
		value = plainSpeed(value)
	}
	is, _ := valuesOf(f.Brief)["model"].(string)
	if m := modelOf(is); m != nil && len(path) == 1 && path[0] == "name" && value.IsZero() { // else the file's name would be on all papers
		value = tomledit.Text("our " + strings.ToLower(m.Name))
	}
	f.Brief = set(f.Brief, value, path...)
	if len(path) != 1 || path[0] != "model" {
		return
	}
	m := modelOf(strings.Trim(value.String(), `"`))
	if m == nil {
		return
	}
	was := modelOf(is)
	if was == nil {
		was = m
	}
	if name, is := valuesOf(f.Brief)["name"].(string); is {
		f.Brief = set(f.Brief, tomledit.Text(renamed(name, was, m)), "name")
	}
	belongs := map[string]bool{"mass": true}
	for _, l := range m.Load {
		belongs[l.Key] = true
	}
	for _, other := range models {
		for _, l := range other.Load {
			if !belongs[l.Key] {
				f.Brief = edited(f.Brief, tomledit.Remove("load", l.Key))
			}
		}
	}
	for _, key := range []string{"pivot_radius", "out_of_balance_radius", "wheel", "driven_share", "drum", "tackle_parts", "tackle_efficiency"} {
		if !belongs[key] {
			f.Brief = edited(f.Brief, tomledit.Remove("load", key))
		}
	}
	if m.Is == brief.PlainShaft && table(valuesOf(f.Brief), "load")["torque"] == nil {
		f.Brief = set(f.Brief, tomledit.Text("2 mN.m"), "load", "torque")
	}
	now, _ := valuesOf(f.Brief)["speed"].(string)
	travels := m.Is == brief.Vehicle || m.Is == brief.Lift
	if _, err := units.Travels.Parse(now); (err == nil) != travels || travels && now == was.Speed {
		f.Brief = set(f.Brief, tomledit.Text(m.Speed), "speed")
	}
}

// renamed is the name of a model that is another now: "Carousel for eight groups" is the
// "Buggy for eight groups".
func renamed(name string, was, is *model) string {
	at := strings.Index(strings.ToLower(name), strings.ToLower(was.Name))
	if at < 0 || len(name) != len(strings.ToLower(name)) {
		return name
	}
	now := is.Name
	if first := name[at : at+1]; first == strings.ToLower(first) {
		now = strings.ToLower(now)
	}
	return name[:at] + now + name[at+len(was.Name):]
}

// name is what the model is called.
func (s *Session) name() string {
	if name, is := valuesOf(s.Brief)["name"].(string); is && name != "" {
		return name
	}
	return "our model"
}

// questionLine is the brief in a line.
func (s *Session) questionLine(r read) string {
	if len(r.problems[briefName]) > 0 || r.brief == nil {
		return units.Capital(s.name()) + ": something is to be put right."
	}
	b := r.brief
	words := string(b.Model)
	if m := modelOf(words); m != nil {
		words = strings.ToLower(m.Words)
	}
	return fmt.Sprintf("%s: %s, %s, for %s; frame %s by %s by %s mm.", units.Capital(s.name()), words, b.Speed.Words, numberOfGroups(b.Sets),
		short(float64(b.Frame.Length)), short(float64(b.Frame.Height)), short(float64(b.Frame.Depth)))
}

func numberOfGroups(n int) string {
	if n == 1 {
		return "1 group"
	}
	return fmt.Sprintf("%d groups", n)
}

// questionStep is the second step, open.
func (s *Session) questionStep(r read) g.Node {
	values := valuesOf(s.Brief)
	if values == nil {
		return g.Group{s.summaryIf(r), h.P(h.Class("warn"), g.Text("This file cannot be made out. Put it right below, or undo.")), s.asText(r, briefName, true)}
	}
	is, _ := values["model"].(string)
	meant := takenOfBrief(r.brief)
	in := func(f field, path ...string) g.Node {
		at := values
		if len(path) == 2 {
			at = table(values, path[0])
		}
		fid := id(briefName, path...)
		return labelled(fid, f.Head, control(briefName, f, value(at[f.Key]), meant[pathOf(path...)], &r, "", path...))
	}
	under := func(of string, all []field) g.Group {
		var out g.Group
		for _, f := range all {
			out = append(out, in(f, of, f.Key))
		}
		return out
	}
	nodes := g.Group{s.summaryIf(r),
		in(field{Key: "name", Head: "Name it", Sort: words}, "name"),
		s.modelPictures(is, &r),
		h.Div(h.Class("speed-field"), in(speedField, "speed"), h.P(h.ID("understood"), h.Class("small"), g.Text(understood(values, is)))),
		in(setsField, "sets"),
		fieldset("The frame, inside, in mm", "frame", tableMistakes(&r, "frame"), under("frame", frameFields)),
	}
	if m := modelOf(is); m != nil {
		nodes = append(nodes, fieldset("What it carries", "load", tableMistakes(&r, "load"), under("load", m.Load)))
	}
	nodes = append(nodes, s.adults(values, &r), s.cellsAllowed(values, &r), s.moreAsked(values, &r),
		s.asText(r, briefName, false), s.onward(stepQuestion))
	return nodes
}

func (s *Session) summaryIf(r read) g.Node {
	if !s.asked {
		return nil
	}
	return s.summary(r)
}

func fieldset(legend, name string, children ...g.Node) g.Node {
	return h.FieldSet(h.ID("set-"+name), h.Legend(g.Text(legend)), g.Group(children))
}

// tableMistakes are mistakes of a table of the brief as a whole, such as a key that is
// missing.
func tableMistakes(r *read, of string) g.Node {
	say := r.at(briefName, of)
	if len(say) == 0 {
		return nil
	}
	return h.P(h.Class("wrong"), h.ID(id(briefName, of)), g.Text(strings.Join(say, " ")))
}

// modelPictures are the models as pictures, one of which is chosen.
func (s *Session) modelPictures(is string, r *read) g.Node {
	var all []g.Node
	for i, m := range models {
		mid := fmt.Sprintf("model-%d", i)
		all = append(all, h.Label(h.Class("picture"), h.For(mid),
			h.Input(h.Type("radio"), h.ID(mid), h.Name("model"), h.Value(string(m.Is)), h.Data("act", "set"), h.Data("on", briefName+pathOf("model")), g.If(is == string(m.Is), h.Checked())),
			modelDrawing(m.Is), h.Strong(g.Text(m.Words)), h.Span(h.Class("small"), g.Text(m.More))))
	}
	var wrongWords g.Node
	if say := append(r.at(briefName, "model"), r.at(briefName)...); len(say) > 0 {
		wrongWords = h.P(h.Class("wrong"), h.ID(id(briefName, "model")), g.Text(strings.Join(say, " ")))
	}
	return h.FieldSet(h.ID("set-model"), h.Legend(g.Text("What should move")), h.Div(h.Class("pictures"), g.Group(all)), wrongWords)
}

// adults are what adults may do; all of it but discs unless the brief says otherwise.
func (s *Session) adults(values map[string]any, r *read) g.Node {
	var all []g.Node
	_, ofStrip := table(values, "frame")["rails"]
	for _, f := range makeFields {
		fid := id(briefName, "making", f.Key)
		on := f.Key != "discs" // which is only done if the brief says so
		if b, is := table(values, "making")[f.Key].(bool); is {
			on = b
		}
		if f.Key == "drill_frame" && on && !ofStrip { // no axle gets through sides of sheet without
			continue
		}
		_, words := wrong(fid, r.at(briefName, "making", f.Key))
		all = append(all, h.P(h.Class("tick"), h.Input(h.Type("checkbox"), h.ID(fid), h.Data("act", "set"), h.Data("on", briefName+pathOf("making", f.Key)), g.If(on, h.Checked())), h.Label(h.For(fid), g.Text(f.Head)), words))
	}
	return fieldset("What adults may do", "making", g.Group(all))
}

// cellsAllowed are the numbers of cells that may be used; any if none is ticked.
func (s *Session) cellsAllowed(values map[string]any, r *read) g.Node {
	list, _ := values["cells"].([]any)
	var all []g.Node
	for n := 1; n <= 4; n++ {
		on := false
		for _, v := range list {
			on = on || v == int64(n)
		}
		fid := fmt.Sprintf("cells-%d", n)
		all = append(all, h.Span(h.Class("tick"), h.Input(h.Type("checkbox"), h.ID(fid), h.Data("act", "cells"), h.Data("on", fmt.Sprint(n)), g.If(on, h.Checked())), h.Label(h.For(fid), g.Text(fmt.Sprint(n)))))
	}
	var words g.Node
	if say := r.at(briefName, "cells"); len(say) > 0 {
		words = h.P(h.Class("wrong"), h.ID(id(briefName, "cells")), g.Text(strings.Join(say, " ")))
	}
	return fieldset("Cells in a model; tick none for any number", "cells", h.P(h.Class("ticks"), g.Group(all)), words)
}

// moreAsked is what few want to say.
func (s *Session) moreAsked(values map[string]any, r *read) g.Node {
	var all []g.Node
	open, meant := false, takenOfBrief(r.brief)
	for _, f := range moreFields {
		path := []string{f.Key}
		at := values
		if f.Table != "" {
			path, at = []string{f.Table, f.Key}, table(values, f.Table)
		}
		fid := id(briefName, path...)
		open = open || len(r.at(briefName, path...)) > 0
		all = append(all, labelled(fid, f.Head, control(briefName, f.field, value(at[f.Key]), meant[pathOf(path...)], r, "", path...)))
	}
	return h.Details(h.ID("more-asked"), g.If(open, g.Attr("open")), h.Summary(h.ID("more-asked-head"), g.Text("More")), h.Div(h.Class("fields"), g.Group(all)))
}

// actCells ticks a number of cells.
func (s *Session) actCells(d doing) {
	list, _ := valuesOf(s.Brief)["cells"].([]any)
	var left []tomledit.Value
	for n := 1; n <= 8; n++ {
		on := false
		for _, v := range list {
			on = on || v == int64(n)
		}
		if d.On == fmt.Sprint(n) {
			on = d.Value == "yes"
		}
		if on {
			left = append(left, tomledit.Whole(n))
		}
	}
	value := tomledit.Value{}
	if len(left) > 0 {
		value = tomledit.List(left...)
	}
	s.alter("the cells allowed", func(f *files) { f.Brief = set(f.Brief, value, "cells") })
}
