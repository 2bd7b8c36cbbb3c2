package page

import (
	"fmt"
	"slices"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/pattern"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// id is the id of a field of a file: letters and figures, and the codes of others.
func id(file string, path ...string) string {
	var b strings.Builder
	b.WriteString(strings.TrimSuffix(file, ".toml"))
	for _, p := range path {
		b.WriteByte('-')
		for _, r := range p {
			if r < 128 && (r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
				b.WriteRune(r)
			} else {
				fmt.Fprintf(&b, ".%x.", r)
			}
		}
	}
	return b.String()
}

// at are the mistakes of one key of a file, or of a table itself.
func (r *read) at(file string, path ...string) []string {
	key := tomlfile.Dotted(path...)
	var out []string
	for _, p := range r.problems[file] {
		if p.Key == key {
			out = append(out, sentence(p))
		}
	}
	return out
}

// under reports whether anything is wrong in a table.
func (r *read) under(file string, path ...string) bool {
	key := tomlfile.Dotted(path...)
	for _, p := range r.problems[file] {
		if p.Key == key || strings.HasPrefix(p.Key, key+".") {
			return true
		}
	}
	return false
}

var (
	toWrite    = pattern.Must(`: write for example [a-z_]+ = (.*)$`)
	keyMissing = pattern.Must(`^([a-z_]+) is missing`)
)

// headOf is what the page calls a key of a file; empty if it has no field for it.
func headOf(file string, path []string) string {
	if len(path) == 0 || file == cupboardName && len(path) != 3 {
		return ""
	}
	f := (*field)(nil)
	switch k := kindOf(path[0]); {
	case file == briefName:
		f = questionField(path)
	case file == cupboardName && k != nil:
		f = k.field(path[2])
	}
	if f == nil {
		return ""
	}
	return f.Head
}

// sentence is a mistake as it stands at a field: without the words of the file.
func sentence(p tomlfile.Problem) string {
	text := toWrite.ReplaceAllString(p.Text, ": write for example $1")
	if p.Key != "" { // else the file itself is to be mended
		text = strings.Replace(text, " without quotes", "", 1)
	}
	if m := keyMissing.FindStringSubmatch(text); m != nil {
		var path []string
		if p.Key != "" {
			path = tomlfile.Parts(p.Key)
		}
		if is := headOf(p.File, append(path, m[1])); is != "" {
			text = is + strings.TrimPrefix(text, m[1])
		}
	}
	if p.Hint != "" {
		text += fmt.Sprintf(", did you mean %q?", p.Hint)
	}
	if strings.HasSuffix(text, "?") {
		return units.Capital(text)
	}
	return units.Capital(strings.TrimSuffix(text, ".")) + "."
}

// wrong are the mistakes at a field, and the attributes that tie them to it.
func wrong(fieldID string, say []string) (attrs, words g.Node) {
	if len(say) == 0 {
		return nil, nil
	}
	return g.Group{h.Aria("invalid", "true"), h.Aria("describedby", fieldID+"-wrong")},
		h.Span(h.Class("wrong"), h.ID(fieldID+"-wrong"), g.Text(strings.Join(say, " ")))
}

// summary is what is to be put right, over the steps, when the user asked to go on.
func (s *Session) summary(r read) g.Node {
	var items []g.Node
	n := 0
	for _, file := range []string{cupboardName, briefName, learnedName} {
		step := map[string]string{cupboardName: stepCupboard, briefName: stepQuestion, learnedName: stepBuilt}[file]
		for _, p := range r.problems[file] {
			if n++; n > 12 {
				continue
			}
			to := place(file, p)
			if s.Step == step && step == stepBuilt { // forgotten or changed outside
				items = append(items, h.Li(g.Text(about(p)+sentence(p))))
				continue
			}
			if s.Step == step {
				items = append(items, h.Li(h.A(h.Href("#"+to), h.ID(fmt.Sprintf("mistake-%d", n)), h.Data("act", "go"), h.Data("on", to), g.Text(about(p)+sentence(p)))))
				continue
			}
			items = append(items, h.Li(g.Text(about(p)+sentence(p)+" "),
				h.Button(h.Type("button"), h.ID(fmt.Sprintf("mistake-%d", n)), h.Class("quiet"), h.Data("act", "door"), h.Data("on", step), h.Data("value", to), g.Text("Go there"))))
		}
	}
	if n == 0 {
		return nil
	}
	words := "One thing is to be put right first"
	if n > 1 {
		words = fmt.Sprintf("%d things are to be put right first", n)
	}
	return h.Section(h.ID("mistakes-box"), h.Class("mistakes"), h.Aria("labelledby", "mistakes"), h.H3(h.ID("mistakes"), g.Text(words)), h.Ul(items...))
}

// about is the part or the key that a mistake is about.
func about(p tomlfile.Problem) string {
	if p.Key == "" {
		if p.Line > 0 {
			return fmt.Sprintf("%s, line %d: ", p.File, p.Line)
		}
		return p.File + ": "
	}
	path := tomlfile.Parts(p.Key)
	words := strings.ReplaceAll(strings.Join(path, ", "), "_", " ")
	if is := headOf(p.File, path); is != "" {
		words = strings.Join(append(slices.Clone(path[:len(path)-1]), is), ", ")
	}
	return words + ": "
}

// place is the id of the field where a mistake is mended: the file as a text if it has
// none.
func place(file string, p tomlfile.Problem) string {
	if p.Key == "" {
		return "text-" + file[:1]
	}
	return id(file, tomlfile.Parts(p.Key)...)
}
