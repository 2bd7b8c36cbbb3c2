package tomledit

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"

	"github.com/pelletier/go-toml/v2/unstable"
)

// outline is where every key and table of a text stands.
type outline struct {
	text     []byte
	sections []*section // in the order of the text; the first is the root's
	entries  []*entry   // in the order of the text, what is in inline tables too
	arrays   map[string]int
}

// section is a header and what stands under it.
type section struct {
	key  []string // numbers stand for the tables of an array
	at   []span   // where each part of the key stands; that of a number is empty
	end  int      // behind the header's own line; 0 for the root
	last *entry   // the last key that stands under it, nil if there is none
}

// entry is a key with its value.
type entry struct {
	key       []string // from the root
	at        []span   // where those parts of the key are that stand at the value
	home      *section
	within    *entry // the inline table it is in, or nil
	all       span   // key and value
	value     span
	inline    bool     // the value is an inline table
	inside    []*entry // of an inline table
	braceOpen int      // behind its {
	text      string   // what the value says, if it is a text
}

func outlineOf(text []byte) (*outline, error) {
	o := &outline{text: text, arrays: map[string]int{}}
	home := &section{}
	o.sections = append(o.sections, home)
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			parts, at := keyOf(e)
			home = &section{end: lineEnd(text, at[len(at)-1].to)}
			home.key, home.at = o.header(parts, at, e.Kind == unstable.ArrayTable)
			o.sections = append(o.sections, home)
		case unstable.KeyValue:
			home.last = o.note(e, home, home.key, nil)
		}
	}
	if err := p.Error(); err != nil {
		return nil, fmt.Errorf("this cannot be read: %w", err)
	}
	return o, nil
}

// keyOf are the parts of a key and where they stand.
func keyOf(e *unstable.Node) (parts []string, at []span) {
	for it := e.Key(); it.Next(); {
		n := it.Node()
		parts = append(parts, string(n.Data))
		at = append(at, span{int(n.Raw.Offset), int(n.Raw.Offset + n.Raw.Length)})
	}
	return parts, at
}

// header is the key of a table with the numbers of the array tables it is in, and where its
// parts stand.
func (o *outline) header(parts []string, at []span, ofArray bool) (key []string, stands []span) {
	for i, part := range parts {
		key, stands = append(key, part), append(stands, at[i])
		id := joined(key)
		if ofArray && i == len(parts)-1 {
			o.arrays[id]++
		}
		if n := o.arrays[id]; n > 0 {
			key, stands = append(key, strconv.Itoa(n-1)), append(stands, span{})
		}
	}
	return key, stands
}

// joined is a key as one text that no other key has.
func joined(key []string) string {
	var out []byte
	for _, part := range key {
		out = strconv.AppendQuote(out, part)
	}
	return string(out)
}

// note notes a key and what is in its inline table.
func (o *outline) note(n *unstable.Node, home *section, table []string, within *entry) *entry {
	parts, at := keyOf(n)
	e := &entry{key: slices.Concat(table, parts), at: at, home: home, within: within}
	e.all = span{int(n.Raw.Offset), int(n.Raw.Offset + n.Raw.Length)}
	behind := at[len(at)-1].to
	from := behind + bytes.IndexByte(o.text[behind:], '=') + 1
	for o.text[from] == ' ' || o.text[from] == '\t' {
		from++
	}
	e.value = span{from, e.all.to}
	o.entries = append(o.entries, e)
	v := n.Value()
	if v.Kind == unstable.String {
		e.text = string(v.Data)
	}
	if v.Kind == unstable.InlineTable {
		e.inline, e.braceOpen = true, from+1
		for it := v.Children(); it.Next(); {
			if c := it.Node(); c.Kind == unstable.KeyValue {
				e.inside = append(e.inside, o.note(c, home, e.key, e))
			}
		}
	}
	return e
}

// resolve is a key with the names of array tables made numbers.
func (o *outline) resolve(key []string) ([]string, error) {
	if len(key) == 0 {
		return nil, fmt.Errorf("a key has at least one part")
	}
	var out []string
	for _, part := range key {
		if n := o.arrays[joined(out)]; n > 0 {
			i, err := o.element(out, n, part)
			if err != nil {
				return nil, err
			}
			part = strconv.Itoa(i)
		}
		out = append(out, part)
	}
	return out, nil
}

// element is the number of the table of an array that a part of a key means.
func (o *outline) element(array []string, n int, part string) (int, error) {
	if i, err := strconv.Atoi(part); err == nil && strconv.Itoa(i) == part {
		if i < 0 || i >= n {
			return 0, fmt.Errorf("there is no table %d of %s, they are 0 to %d", i, shown(array), n-1)
		}
		return i, nil
	}
	for i := range n {
		if e := o.find(append(slices.Clone(array), strconv.Itoa(i), "name")); e != nil && e.text == part {
			return i, nil
		}
	}
	return 0, fmt.Errorf("no table of %s has the name %s", shown(array), shown([]string{part}))
}

// written is the value as it is written.
func (e *entry) written(o *outline) string { return string(o.text[e.value.from:e.value.to]) }

// find is the entry of just this key, nil if there is none.
func (o *outline) find(key []string) *entry {
	for _, e := range o.entries {
		if slices.Equal(e.key, key) {
			return e
		}
	}
	return nil
}

// section is the header of just this table, nil if it has none.
func (o *outline) section(key []string) *section {
	for _, s := range o.sections {
		if slices.Equal(s.key, key) {
			return s
		}
	}
	return nil
}

// under reports whether a key is a table's or in it.
func under(key, table []string) bool {
	return len(key) >= len(table) && slices.Equal(key[:len(table)], table)
}

// lineEnd is behind the line that i is on, its line end included.
func lineEnd(text []byte, i int) int {
	if n := bytes.IndexByte(text[i:], '\n'); n >= 0 {
		return i + n + 1
	}
	return len(text)
}

// lineStart is where the line begins that i is on.
func lineStart(text []byte, i int) int { return bytes.LastIndexByte(text[:i], '\n') + 1 }
