package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"findrive/internal/tomledit"
	"findrive/internal/tomlfile"
)

// fileOf parts what an act is about into the file and the path in it.
func fileOf(on string) (file string, path []string) {
	for _, f := range []string{cupboardName, briefName} {
		if rest, is := strings.CutPrefix(on, f); is {
			return f, pathIn(rest)
		}
	}
	return "", nil
}

// actSet puts a value into a field.
func (s *Session) actSet(d doing) {
	file, path := fileOf(d.On)
	if len(path) == 0 {
		return
	}
	f := s.fieldOf(file, path)
	if f == nil {
		return
	}
	value := literal(*f, d.Value)
	what := strings.ReplaceAll(strings.Join(path[1:], ", "), "_", " ")
	if file == briefName || what == "" {
		what = strings.ReplaceAll(path[len(path)-1], "_", " ")
	}
	s.alter(what, func(to *files) {
		if file == briefName {
			s.setBrief(to, path, value)
		} else {
			to.Cupboard = set(to.Cupboard, value, path...)
			if !value.IsZero() && f.Key != "count" {
				to.Cupboard = said(to.Cupboard, path[0], path[1], f)
			}
		}
	})
	r := s.read()
	if say := r.at(file, path...); len(say) > 0 {
		d.reply.Say = strings.Join(say, " ")
	}
}

func (s *Session) fieldOf(file string, path []string) *field {
	if file == briefName {
		return questionField(path)
	}
	if len(path) == 1 && path[0] == "name" {
		return &field{Key: "name", Sort: words}
	}
	if len(path) != 3 {
		return nil
	}
	k := kindOf(path[0])
	if k == nil {
		return nil
	}
	return k.field(path[2])
}

// said takes out of a part's list of guesses those about a field that the user has
// filled in since.
func said(text, kind, name string, f *field) string {
	doc, err := tomlfile.Open(cupboardName, []byte(text))
	if err != nil {
		return text
	}
	list, is := table(doc.Values(), kind, name)["assumed"].([]any)
	if !is {
		return text
	}
	about := strings.ReplaceAll(f.Key, "_", " ")
	var left []tomledit.Value
	for _, fact := range list {
		if fact, is := fact.(string); is && !strings.Contains(strings.ToLower(fact), about) {
			left = append(left, tomledit.Text(fact))
		}
	}
	switch len(left) {
	case len(list):
		return text
	case 0:
		return edited(text, tomledit.Remove(kind, name, "assumed"))
	}
	return set(text, tomledit.List(left...), kind, name, "assumed")
}

// actRight says that what was guessed of a part is right: it is written down.
func (s *Session) actRight(d doing) {
	path := pathIn(d.On)
	sh := s.shelf()
	if len(path) != 2 || sh.parts == nil {
		return
	}
	values := table(sh.values, path[0], path[1])
	s.alter("what was guessed of "+path[1], func(f *files) {
		all := taken(sh.parts, path[0], path[1])
		for _, key := range sortedKeys(all) {
			if _, there := values[key]; !there {
				f.Cupboard = set(f.Cupboard, tomledit.Text(all[key]), path[0], path[1], key)
			}
		}
		f.Cupboard = edited(f.Cupboard, tomledit.Remove(path[0], path[1], "assumed"))
	})
	s.said = path[1] + " is ready."
	d.reply.Focus = id(cupboardName, append(path, "count")...)
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// actMore shows all fields of a part.
func (s *Session) actMore(d doing) {
	path := pathIn(d.On)
	k := (*kind)(nil)
	if len(path) == 2 {
		k = kindOf(path[0])
	}
	if k == nil {
		return
	}
	if s.opened == nil {
		s.opened = map[string]bool{}
	}
	key := path[0] + "." + path[1]
	if s.opened[key] = !s.opened[key]; s.opened[key] {
		d.reply.Focus = id("name", path...)
	}
}

// actRemove takes a part out of the cupboard.
func (s *Session) actRemove(d doing) {
	path := pathIn(d.On)
	if len(path) != 2 {
		return
	}
	s.alter("taking out "+path[1], func(f *files) { f.Cupboard = edited(f.Cupboard, tomledit.Remove(path...)) })
	s.said = path[1] + " is taken out. Undo brings it back."
	d.reply.Focus = "kind-" + path[0] + "-head"
	if len(table(s.shelf().values, path[0])) == 0 { // it was the last of its kind
		d.reply.Focus = "add-kind"
	}
}

// adding is a part that was to be added and was refused, and why: what was typed stays.
type adding struct{ kind, name, wrong string }

// actAdd adds a part without sizes, which are then asked for at its fields.
func (s *Session) actAdd(d doing) {
	k := kindOf(d.Form["kind"])
	name := strings.TrimSpace(d.Form["name"])
	if k == nil {
		return
	}
	s.adding = adding{}
	if name == "" {
		there := table(s.shelf().values, k.Key)
		for n := 1 + len(there); name == "" || there[name] != nil; n++ {
			name = fmt.Sprintf("%s-%d", k.Key, n)
		}
	}
	if why := s.badName(k, name); why != "" {
		s.adding = adding{k.Key, d.Form["name"], why}
		d.reply.Say, d.reply.Focus = why, "add-name"
		return
	}
	s.alter("adding "+name, func(f *files) { f.Cupboard = set(f.Cupboard, tomledit.Whole(1), k.Key, name, "count") })
	d.reply.Focus = id(cupboardName, k.Key, name, k.Main[0].Key)
}

// actText takes a file as it was typed.
func (s *Session) actText(d doing) {
	text := strings.ReplaceAll(d.Form["text"], "\r\n", "\n")
	if len(text) > tomlfile.MaxBytes {
		s.said = "This is too large for such a file."
		return
	}
	s.alter("the file "+d.On, func(f *files) {
		if d.On == briefName {
			f.Brief = text
		} else {
			f.Cupboard = text
		}
	})
	r := s.read()
	if s.asked = len(r.problems[d.On]) > 0; s.asked {
		d.reply.Focus = "mistakes"
	}
}

// added is a cupboard with the parts of another file besides its own, those that have a
// name which is there already under another one.
func added(cupboard string, more []byte) string {
	all := valuesOf(string(more))
	for _, k := range kinds {
		for _, name := range slices.Sorted(maps.Keys(table(all, k.Key))) {
			free := name
			for n := 2; table(valuesOf(cupboard), k.Key, free) != nil; n++ {
				free = fmt.Sprintf("%s-%d", name, n)
			}
			values := table(all, k.Key, name)
			var edits []tomledit.Edit
			for _, key := range slices.Sorted(maps.Keys(values)) {
				edits = append(edits, tomledit.Set(valueOf(values[key]), k.Key, free, key))
			}
			cupboard = edited(cupboard, edits...)
		}
	}
	return cupboard
}

// valueOf is a value that was read, to be written.
func valueOf(v any) tomledit.Value {
	switch v := v.(type) {
	case int64:
		return tomledit.Whole(int(v))
	case float64:
		return tomledit.Number(v)
	case bool:
		return tomledit.Yes(v)
	case []any:
		var all []tomledit.Value
		for _, e := range v {
			all = append(all, valueOf(e))
		}
		return tomledit.List(all...)
	case string:
		return tomledit.Text(v)
	}
	return tomledit.Value{}
}

func valuesOf(text string) map[string]any {
	doc, err := tomlfile.Open("", []byte(text))
	if err != nil {
		return nil
	}
	return doc.Values()
}
