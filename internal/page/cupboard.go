package page

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// shelf is a cupboard file as it is shown: also one with mistakes.
type shelf struct {
	values map[string]any  // by kind, name and key; nil if it cannot be made out
	parts  *parts.Cupboard // what is taken for what is not said
}

func (s *Session) shelf() shelf {
	doc, err := tomlfile.Open(cupboardName, []byte(s.Cupboard))
	if err != nil {
		return shelf{}
	}
	values := doc.Values()
	return shelf{values, parts.ReadTables(doc.Root())}
}

func table(values map[string]any, path ...string) map[string]any {
	for _, p := range path {
		next, is := values[p].(map[string]any)
		if !is {
			return nil
		}
		values = next
	}
	return values
}

func (sh *shelf) names(kind string) []string { return slices.Sorted(maps.Keys(table(sh.values, kind))) }

// value is a value as it is shown in a field.
func value(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return units.Decimals(v, 6)
	case bool:
		return map[bool]string{true: "yes", false: "no"}[v]
	case []any:
		var all []string
		for _, e := range v {
			all = append(all, value(e))
		}
		return strings.Join(all, ", ")
	}
	return ""
}

// The states of a row.
const (
	ready   = "ready"
	guessed = "guessed"
	toMend  = "to mend"
)

func (sh *shelf) state(r *read, kind, name string) (state string, facts []string) {
	if r.under(cupboardName, kind, name) {
		return toMend, nil
	}
	if it := sh.parts.Item(kind, name); it != nil && len(it.Assumed) > 0 {
		return guessed, it.Assumed
	}
	return ready, nil
}

// cupboardLine is the cupboard in a line.
func (s *Session) cupboardLine(r read) string {
	sh := s.shelf()
	if sh.values == nil {
		return "The file cannot be made out."
	}
	n, pieces, unsure, broken := 0, 0, 0, 0
	for _, k := range kinds {
		for _, name := range sh.names(k.Key) {
			n++
			if it := sh.parts.Item(k.Key, name); it != nil {
				pieces += it.Count
			}
			switch state, _ := sh.state(&r, k.Key, name); state {
			case guessed:
				unsure++
			case toMend:
				broken++
			}
		}
	}
	line := fmt.Sprintf("%s: %d kinds of part, %d pieces.", s.cupboardTitle(sh), n, pieces)
	if unsure > 0 {
		line += fmt.Sprintf(" %d with something guessed.", unsure)
	}
	if broken > 0 {
		line += fmt.Sprintf(" %d to mend.", broken)
	}
	return line
}

func (s *Session) cupboardTitle(sh shelf) string {
	if name, is := sh.values["name"].(string); is && name != "" {
		return units.Capital(name)
	}
	return "Your cupboard"
}

// cupboardStep is the first step, open.
func (s *Session) cupboardStep(r read) g.Node {
	switch s.Step {
	case stepList:
		return s.listDoor()
	case stepTubs:
		return s.tubsDoor()
	}
	sh := s.shelf()
	nodes := []g.Node{}
	if s.asked {
		nodes = append(nodes, s.summary(r))
	}
	if sh.values == nil {
		nodes = append(nodes, h.P(h.Class("warn"), g.Text("This file cannot be made out. Put it right below, or undo.")), s.asText(r, cupboardName, true))
		return g.Group(nodes)
	}
	nodes = append(nodes, s.read0(), s.leftRows(), h.P(g.Text("Put right what is marked. What is guessed can stay; each drive that rests on a guess says so. A name can be changed under More.")))
	nodes = append(nodes, s.lacks(r))
	for i := range kinds {
		nodes = append(nodes, s.kindTable(&kinds[i], sh, &r, i == 0))
	}
	nodes = append(nodes, s.addPart(), h.P(h.Class("links"), button("to-list", "door", stepList, "quiet", "Read a list instead"), button("to-tubs", "door", stepTubs, "quiet", "Count parts by drawings")),
		s.asText(r, cupboardName, false), s.onward(stepCupboard))
	return g.Group(nodes)
}

// lacks says what every drive needs and the cupboard has none of.
func (s *Session) lacks(r read) g.Node {
	if !r.sound() {
		return nil
	}
	all := design.Lacking(r.cup.InStock(), r.brief)
	if len(all) == 0 {
		return nil
	}
	return h.Div(h.ID("lacks"), h.Class("note"), h.P(g.Text("For a drive there is still missing: "+strings.Join(all, ", ")+".")), h.P(h.Class("links"), s.mendRows("lacks-rows"), button("lacks-tubs", "door", stepTubs, "", "Count them by drawings")))
}

// kindTable are the parts of a kind.
func (s *Session) kindTable(k *kind, sh shelf, r *read, first bool) g.Node {
	names := sh.names(k.Key)
	if len(names) == 0 {
		return nil
	}
	var rows []g.Node
	unsure, broken := 0, 0
	for _, name := range names {
		state, facts := sh.state(r, k.Key, name)
		switch state {
		case guessed:
			unsure++
		case toMend:
			broken++
		}
		rows = append(rows, s.partRow(k, name, sh, r, state, facts)...)
	}
	marks := ""
	if unsure > 0 {
		marks += fmt.Sprintf(", %d guessed", unsure)
	}
	if broken > 0 {
		marks += fmt.Sprintf(", %d to mend", broken)
	}
	heads := []g.Node{head("Name")}
	for _, f := range k.Main {
		heads = append(heads, head(f.Head))
	}
	heads = append(heads, head("State"))
	return h.Details(h.ID("kind-"+k.Key), h.Class("kind"), g.If(marks != "" || first, g.Attr("open")),
		h.Summary(h.ID("kind-"+k.Key+"-head"), g.Text(fmt.Sprintf("%s (%d)%s", k.Words, len(names), marks))),
		h.Table(h.Class("cards-when-narrow parts"), h.Caption(h.Class("unseen"), g.Text(k.Words)), h.THead(h.Tr(heads...)), h.TBody(rows...)))
}

// partRow is a part: its fields, its state, and on asking all else.
func (s *Session) partRow(k *kind, name string, sh shelf, r *read, state string, facts []string) []g.Node {
	values := table(sh.values, k.Key, name)
	key := k.Key + "." + name
	instead := map[string]string{}
	if state == guessed {
		instead = taken(sh.parts, k.Key, name)
	}
	row := []g.Node{h.ID(id(cupboardName, k.Key, name)), h.Class("state-" + strings.ReplaceAll(state, " ", "-")),
		h.Th(h.Scope("row"), g.Text(name))}
	counted := values["counted_speed"] != nil && values["free_speed"] == nil // which takes its place
	for _, f := range k.Main {
		if f.Key == "free_speed" && counted {
			f = *k.field("counted_speed")
		}
		row = append(row, cell(f.Head, control(cupboardName, f, value(values[f.Key]), instead[f.Key], r, name+below, k.Key, name, f.Key)))
	}
	row = append(row, cell("State", s.stateCell(k, name, r, state, facts)))
	out := []g.Node{h.Tr(row...)}
	if rows := wrongRow(k, name, r); rows != nil {
		out = append(out, rows)
	}
	if !s.opened[key] && !r.moreWrong(k, name) {
		return out
	}
	var more []g.Node
	for _, f := range k.More {
		if f.Key == "counted_speed" && counted {
			f = *k.field("free_speed")
		}
		fid := id(cupboardName, k.Key, name, f.Key)
		more = append(more, labelled(fid, f.Head, control(cupboardName, f, value(values[f.Key]), instead[f.Key], r, "", k.Key, name, f.Key)))
	}
	more = append(more, h.P(button(id("remove", k.Key, name), "remove", pathOf(k.Key, name), "quiet", "Take "+name+" out of the cupboard")))
	return append(out, h.Tr(h.Class("more"), h.ID(id("more", k.Key, name)), h.Td(h.ColSpan(fmt.Sprint(len(k.Main)+2)), s.nameForm(k, name), h.Div(h.Class("fields"), g.Group(more)))))
}

// wrongRow has what is wrong with the fields of a part, below them.
func wrongRow(k *kind, name string, r *read) g.Node {
	var all []g.Node
	for _, f := range k.Main {
		fid := id(cupboardName, k.Key, name, f.Key)
		if say := r.at(cupboardName, k.Key, name, f.Key); len(say) > 0 {
			all = append(all, h.P(h.Class("wrong"), h.ID(fid+"-wrong"), g.Text(f.Head+": "+strings.Join(say, " "))))
		}
	}
	if len(all) == 0 {
		return nil
	}
	return h.Tr(h.Class("wrongs"), h.ID(id("wrongs", k.Key, name)), h.Td(h.ColSpan(fmt.Sprint(len(k.Main)+2)), g.Group(all)))
}

// moreWrong is whether a field that is only seen on asking is wrong.
func (r *read) moreWrong(k *kind, name string) bool {
	for _, f := range k.More {
		if len(r.at(cupboardName, k.Key, name, f.Key)) > 0 {
			return true
		}
	}
	return false
}

// stateCell is the state of a part in a sign, a word and a colour, and what to do about it.
func (s *Session) stateCell(k *kind, name string, r *read, state string, facts []string) g.Node {
	sign := map[string]string{ready: "✓", guessed: "≈", toMend: "!"}[state]
	nodes := []g.Node{h.Span(h.Class("state"), h.Span(h.Class("sign"), h.Aria("hidden", "true"), g.Text(sign)), g.Text(" "+state))}
	fid := id(cupboardName, k.Key, name)
	if say := r.at(cupboardName, k.Key, name); len(say) > 0 {
		nodes = append(nodes, h.Span(h.Class("wrong"), h.ID(fid+"-wrong"), g.Text(strings.Join(say, " "))))
	}
	if state == guessed {
		var list []g.Node
		for _, f := range facts {
			list = append(list, h.Li(g.Text(f)))
		}
		nodes = append(nodes, h.Details(h.ID(id("guess", k.Key, name)), h.Summary(h.ID(id("guess", k.Key, name, "head")), g.Text("what was taken"), h.Span(h.Class("unseen"), g.Text(" of "+name))), h.Ul(list...)))
		if canSay[k.Key] {
			nodes = append(nodes, h.Button(h.Type("button"), h.ID(id("right", k.Key, name)), h.Class("quiet"), h.Data("act", "right"), h.Data("on", pathOf(k.Key, name)), g.Text("That is right"), h.Span(h.Class("unseen"), g.Text(": "+name))))
		}
	}
	if !r.moreWrong(k, name) {
		words := "More"
		if s.opened[k.Key+"."+name] {
			words = "Less"
		}
		nodes = append(nodes, h.Button(h.Type("button"), h.ID(id("open", k.Key, name)), h.Class("quiet"), h.Data("act", "more"), h.Data("on", pathOf(k.Key, name)), g.Text(words), h.Span(h.Class("unseen"), g.Text(" of "+name))))
	}
	return h.Div(nodes...)
}

// below, behind a label, says that what is wrong is told in a row of its own.
const below = "\x00"

// control is a field of a file, with what is wrong with it. Without a label of its own
// beside it, label names what it is of. instead is what is taken while it is empty.
func control(file string, f field, v, instead string, r *read, label string, path ...string) g.Node {
	fid := id(file, path...)
	attrs, words := wrong(fid, r.at(file, path...))
	label, under := strings.CutSuffix(label, below)
	if under {
		words = nil
	}
	common := g.Group{h.ID(fid), h.Data("act", "set"), h.Data("on", file+pathOf(path...)), attrs}
	if label != "" {
		common = append(common, h.Aria("label", f.Head+" of "+label))
	}
	switch f.Sort {
	case yes, choice:
		all := f.Choices
		if f.Sort == yes {
			all = []string{"yes", "no"}
		}
		if v != "" && !slices.Contains(all, v) {
			all = append(slices.Clone(all), v)
		}
		not := "not said"
		if instead != "" {
			not = "≈ " + instead
		}
		options := []g.Node{option("", not, v == "")}
		for _, c := range all {
			options = append(options, option(c, c, v == c))
		}
		return g.Group{h.Select(common, g.Group(options)), words}
	}
	kind := g.Group{h.Type("text"), h.AutoComplete("off"), g.If(f.Sort == whole, g.Attr("inputmode", "numeric"))}
	if instead != "" && v == "" {
		kind = append(kind, h.Placeholder("≈ "+instead))
	}
	return g.Group{h.Input(common, kind, h.Value(v)), words}
}

// pathOf is a path as an act has it.
func pathOf(path ...string) string {
	data, _ := json.Marshal(path) // strings can always be written
	return string(data)
}

func pathIn(text string) []string {
	var path []string
	if json.Unmarshal([]byte(text), &path) != nil {
		return nil
	}
	return path
}

// addPart is the form for a part that is not there yet.
func (s *Session) addPart() g.Node {
	var options []g.Node
	for _, k := range kinds {
		options = append(options, option(k.Key, k.One, k.Key == s.adding.kind))
	}
	var why []string
	if s.adding.wrong != "" {
		why = []string{s.adding.wrong}
	}
	attrs, words := wrong("add-name", why)
	return h.Form(h.ID("add"), h.Class("add"), h.Data("act", "add"), h.Aria("label", "Another part"),
		labelled("add-kind", "Another", h.Select(h.ID("add-kind"), h.Name("kind"), g.Group(options))),
		labelled("add-name", "Name it, for example big-red", typed("add-name", "name", attrs, h.Value(s.adding.name)), words),
		h.P(h.Button(h.Type("submit"), h.ID("add-go"), g.Text("Add it"))))
}

// asText is a file as it is, to be changed as a text.
func (s *Session) asText(r read, file string, open bool) g.Node {
	text := s.Cupboard
	if file == briefName {
		text = s.Brief
	}
	fid := "text-" + file[:1]
	return h.Details(h.ID("file-"+file[:1]), g.If(open, g.Attr("open")), h.Summary(h.ID("file-"+file[:1]+"-head"), g.Text("The file itself, "+file)),
		h.Form(h.ID("form-"+file[:1]), h.Data("act", "text"), h.Data("on", file),
			labelled(fid, "As the command line reads it", textArea(fid, "16", g.Text(text))),
			h.P(h.Button(h.Type("submit"), h.ID("text-go-"+file[:1]), g.Text("Take it as it is here")))))
}
