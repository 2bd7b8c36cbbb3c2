package tomlfile

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"findrive/internal/units"
)

// position is where a key and its value begin, as offsets into the document.
// For a table both are its header.
type position struct{ key, value int }

// path is the parts of a key joined so that quoted names with dots in them
// cannot be mixed up.
type path string

const pathJoint = "\x00"

func (p path) join(name string) path {
	if p == "" {
		return path(name)
	}
	return p + pathJoint + path(name)
}

func (p path) parent() path {
	i := strings.LastIndex(string(p), pathJoint)
	if i < 0 {
		return ""
	}
	return p[:i]
}

// String is the path with dots, odd names in quotes and long ones cut short.
func (p path) String() string {
	if p == "" {
		return ""
	}
	parts := strings.Split(string(p), pathJoint)
	for i, part := range parts {
		if len(part) > MaxName || !Bare(part) {
			parts[i] = units.Quoted(part)
		}
	}
	return strings.Join(parts, ".")
}

// Bare reports whether a name stands in a key without quotes.
func Bare(name string) bool {
	for _, r := range name {
		if !(r == '-' || r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z') {
			return false
		}
	}
	return name != ""
}

// positionsOf finds where every key of a document stands. It is given only
// documents whose syntax has been found right; whatever this second parser does
// not understand is left out, and its problems are reported at the table it is
// in.
func positionsOf(data []byte) map[path]position {
	at := map[path]position{}
	var p unstable.Parser
	p.Reset(data)
	var table path
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			table = notePath(at, "", e, func(offset, _ int) position {
				return position{offset, offset}
			})
		case unstable.KeyValue:
			noteValue(at, table, e, data)
		}
	}
	return at
}

// noteValue notes a key and its value, and what is in an inline table.
func noteValue(at map[path]position, table path, e *unstable.Node, data []byte) {
	key := notePath(at, table, e, func(first, behind int) position {
		return position{first, valueStart(data, behind)}
	})
	if v := e.Value(); v.Kind == unstable.InlineTable {
		for it := v.Children(); it.Next(); {
			if n := it.Node(); n.Kind == unstable.KeyValue {
				noteValue(at, key, n, data)
			}
		}
	}
}

// notePath notes the parts of a dotted key that have not been met yet.
func notePath(at map[path]position, p path, e *unstable.Node, where func(first, behind int) position) path {
	first, behind := -1, 0
	var parts []path
	for it := e.Key(); it.Next(); {
		n := it.Node()
		if first < 0 {
			first = int(n.Raw.Offset)
		}
		behind = int(n.Raw.Offset + n.Raw.Length)
		p = p.join(string(n.Data))
		parts = append(parts, p)
	}
	for _, part := range parts {
		if _, met := at[part]; !met {
			at[part] = where(first, behind)
		}
	}
	// A table's own header says more than a deeper one met before it.
	if e.Kind == unstable.Table {
		at[p] = where(first, behind)
	}
	return p
}

// valueStart is where the value behind a key begins.
func valueStart(data []byte, i int) int {
	for i < len(data) && (data[i] == ' ' || data[i] == '\t' || data[i] == '=') {
		i++
	}
	return i
}
