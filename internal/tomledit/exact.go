package tomledit

import (
	"slices"
	"strconv"

	"findrive/internal/tomlfile"
)

// readable is an error if a text cannot be read by the parser that all files are read
// with, which is not the one that finds its way about in them here.
func readable(file string, text []byte) error {
	doc, err := tomlfile.Open(file, text)
	if err != nil {
		return err
	}
	return doc.Err()
}

// said is a value as it is written, or the header of a table, with its key from the
// root.
type said struct {
	key   []string
	value string // empty for a header
	none  bool   // a table in braces with nothing in it
}

func alike(a, b said) bool { return a.value == b.value && slices.Equal(a.key, b.key) }

// says is all that a text says, in its order: values first, then the headers.
func (o *outline) says() []said {
	var out []said
	for _, e := range o.entries {
		if len(e.inside) == 0 {
			out = append(out, said{e.key, e.written(o), e.inline})
		}
	}
	for _, s := range o.sections[1:] {
		out = append(out, said{key: s.key})
	}
	return out
}

// exact reports whether a text says after an edit of a key just what it said before,
// word for word and in the same order, but for that key. Tables with nothing in them on
// the way to the key may come and go.
func exact(before, after *outline, key []string, v Value) bool {
	others := func(all []said) []said {
		return slices.DeleteFunc(all, func(s said) bool {
			return under(s.key, key) || (s.none || s.value == "") && under(key, s.key)
		})
	}
	was, is := before.says(), after.says()
	if v.IsZero() {
		if array := key[:len(key)-1]; before.arrays[joined(array)] > 0 {
			// Those behind the one that is taken away move up.
			gone, _ := strconv.Atoi(key[len(array)])
			return slices.EqualFunc(movedUp(others(was), array, gone), is, alike)
		}
		return !after.isTable(key) && after.find(key) == nil && slices.EqualFunc(others(was), others(is), alike)
	}
	e := after.find(key)
	return e != nil && e.written(after) == v.String() && slices.EqualFunc(others(was), others(is), alike)
}

// movedUp has the numbers of an array's tables from one on less by one.
func movedUp(all []said, array []string, from int) []said {
	for i, s := range all {
		if len(s.key) > len(array) && under(s.key, array) {
			if n, _ := strconv.Atoi(s.key[len(array)]); n > from {
				all[i].key = slices.Clone(s.key)
				all[i].key[len(array)] = strconv.Itoa(n - 1)
			}
		}
	}
	return all
}
