// Package amend makes a change of a cupboard or a brief in the text that it was read
// from: as few keys as say it, all else left as it is (package tomledit). What was
// written is read again, and is what the change made in memory, or nothing is written.
package amend

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
)

// Amended is a text after a change.
type Amended struct {
	Text  []byte
	Edits []tomledit.Edit // what was changed in it, in order; none if the text is as it was
}

// Brief makes in the text of a brief the change from one brief to another. file is the
// text's name in messages. The brief before it may differ from the text where the
// change does nothing, as by a flag that took the place of a line. The error says which
// mistakes are in the text, or that the change cannot be written.
func Brief(file string, text []byte, before, after *brief.Brief) (Amended, error) {
	return amend(file, text, before.Facts(), after.Facts(), func(text []byte) ([]tomledit.Edit, error) {
		b, err := brief.Read(file, text)
		if err != nil {
			return nil, err
		}
		return b.Facts(), nil
	})
}

// Cupboard is Brief for a cupboard. The order of parts says nothing. A part that is no
// longer there is taken out.
func Cupboard(file string, text []byte, before, after *parts.Cupboard) (Amended, error) {
	return amend(file, text, before.Facts(), after.Facts(), func(text []byte) ([]tomledit.Edit, error) {
		c, err := parts.Read(file, text)
		if err != nil {
			return nil, err
		}
		return c.Facts(), nil
	})
}

// rounds is how often what is read again is set right. Once is enough but where a key
// that is not there is taken to be what another key says.
const rounds = 3

func amend(file string, text []byte, before, after []tomledit.Edit, read func([]byte) ([]tomledit.Edit, error)) (Amended, error) {
	now, err := read(text)
	if err != nil {
		return Amended{}, err
	}
	change := between(before, after)
	want := with(now, change)
	out := Amended{Text: text}
	for range rounds {
		todo := without(change, out.Edits)
		if todo = append(todo, without(between(now, want), todo)...); len(todo) == 0 {
			return out, nil
		}
		out.Edits = append(out.Edits, todo...)
		if out.Text, err = tomledit.Apply(file, out.Text, todo...); err != nil {
			return Amended{}, err
		}
		if now, err = read(out.Text); err != nil {
			return Amended{}, fmt.Errorf("%s: the change cannot be written: %w", file, err)
		}
	}
	if left := between(now, want); len(left) > 0 {
		return Amended{}, fmt.Errorf("%s: the change cannot be written: %s would not be read so", file, left[0])
	}
	return out, nil
}

// facts are values by their keys.
func facts(list []tomledit.Edit) map[string]tomledit.Value {
	out := map[string]tomledit.Value{}
	for _, f := range list {
		out[id(f.Key)] = f.Value
	}
	return out
}

func id(key []string) string { return strings.Join(key, "\x00") }

// between are the edits that make facts others, in the order of the facts they become.
// A table of which there are no facts any more is taken away whole.
func between(before, after []tomledit.Edit) []tomledit.Edit {
	was, is := facts(before), facts(after)
	var out []tomledit.Edit
	for _, f := range after {
		if v, there := was[id(f.Key)]; v != f.Value && (there || !f.Value.IsZero()) {
			out = append(out, f)
		}
	}
	gone := map[string]bool{}
	for _, f := range before {
		if _, there := is[id(f.Key)]; there || f.Value.IsZero() {
			continue
		}
		key := f.Key
		if table := key[:len(key)-1]; !slices.ContainsFunc(after, func(f tomledit.Edit) bool { return len(f.Key) == len(key) && id(f.Key[:len(table)]) == id(table) }) {
			key = table
		}
		if !gone[id(key)] {
			gone[id(key)] = true
			out = append(out, tomledit.Remove(key...))
		}
	}
	return out
}

// with are facts after edits.
func with(list, edits []tomledit.Edit) []tomledit.Edit {
	out := slices.Clone(list)
	for _, e := range edits {
		i := slices.IndexFunc(out, func(f tomledit.Edit) bool { return id(f.Key) == id(e.Key) })
		switch {
		case i >= 0:
			out[i] = e
		case e.Value.IsZero():
			out = slices.DeleteFunc(out, func(f tomledit.Edit) bool { return strings.HasPrefix(id(f.Key), id(e.Key)+"\x00") })
		default:
			out = append(out, e)
		}
	}
	return out
}

// without are the edits but for those that have been made.
func without(edits, made []tomledit.Edit) []tomledit.Edit {
	return slices.DeleteFunc(slices.Clone(edits), func(e tomledit.Edit) bool {
		return slices.ContainsFunc(made, func(m tomledit.Edit) bool { return id(m.Key) == id(e.Key) && m.Value == e.Value })
	})
}
