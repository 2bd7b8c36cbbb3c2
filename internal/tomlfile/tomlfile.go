// Package tomlfile reads a TOML document key by key and collects every problem
// in it, each with its line and column. It reads bytes, never files.
package tomlfile

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// Limits on a document, so that one that cannot be meant is refused at once.
const (
	MaxBytes  = 1 << 20
	MaxTables = 2000
	MaxName   = 60 // runes of a part's name
	MaxDepth  = 8
)

// Problem is one mistake in a document.
type Problem struct {
	File         string
	Line, Column int // 0 if not known
	Key          string
	Text         string // what was found and what would be right
}

func (p Problem) Error() string {
	at := p.File
	if p.Line > 0 {
		at += fmt.Sprintf(":%d:%d", p.Line, max(1, p.Column))
	}
	if p.Key != "" {
		return at + ": " + p.Key + ": " + p.Text
	}
	return at + ": " + p.Text
}

// Problems are all the mistakes of a document, in the order of its lines.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Document is a document being read.
type Document struct {
	file     string
	root     map[string]any
	at       map[string]position
	problems Problems
}

// Open reads the syntax of a document. Its error is Problems.
func Open(file string, data []byte) (*Document, error) {
	d := &Document{file: file}
	one := func(format string, args ...any) (*Document, error) {
		return nil, Problems{{File: file, Text: fmt.Sprintf(format, args...)}}
	}
	switch {
	case len(data) > MaxBytes:
		return one("the file is over %d MB, which no cupboard or brief needs", MaxBytes>>20)
	case !utf8.Valid(data):
		line := 1 + strings.Count(string(data[:firstInvalid(data)]), "\n")
		return nil, Problems{{File: file, Line: line, Column: 1, Text: "this line is not UTF-8 text: save the file as plain text, UTF-8"}}
	case strings.Count(string(data), "[") > 4*MaxTables:
		return one("there are more than %d tables, which no cupboard or brief needs", MaxTables)
	}
	if _, err := toml.Decode(string(data), &d.root); err != nil {
		var syntax toml.ParseError
		if errors.As(err, &syntax) {
			return nil, Problems{{File: file, Line: syntax.Position.Line, Column: syntax.Position.Col, Text: syntax.Message}}
		}
		return one("%v", err)
	}
	d.at = positions(data)
	return d, nil
}

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// Fail notes a problem at a dotted key.
func (d *Document) Fail(key, format string, args ...any) {
	p := Problem{File: d.file, Key: key, Text: fmt.Sprintf(format, args...)}
	for k := key; ; {
		if at, ok := d.at[k]; ok {
			p.Line, p.Column = at.line, at.column
			break
		}
		dot := strings.LastIndexByte(k, '.')
		if dot < 0 {
			break
		}
		k = k[:dot]
	}
	d.problems = append(d.problems, p)
}

// Err is all the problems so far, by line, or nil.
func (d *Document) Err() error {
	if len(d.problems) == 0 {
		return nil
	}
	slices.SortStableFunc(d.problems, func(a, b Problem) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return d.problems
}

// Root is the document's top table.
func (d *Document) Root() *Table { return &Table{doc: d, values: d.root, used: map[string]bool{}} }

// Table is one table being read. Close it to refuse what has not been asked for.
type Table struct {
	doc    *Document
	path   string
	values map[string]any
	used   map[string]bool
	names  []string
}

func (t *Table) key(name string) string {
	if t.path == "" {
		return name
	}
	return t.path + "." + name
}

func (t *Table) take(name string) (any, bool) {
	t.used[name] = true
	t.names = append(t.names, name)
	v, ok := t.values[name]
	return v, ok
}

// Fail notes a problem at a key of the table, or at the table itself for "".
func (t *Table) Fail(name, format string, args ...any) {
	key := t.path
	if name != "" {
		key = t.key(name)
	}
	t.doc.Fail(key, format, args...)
}

// Has reports whether a key is there.
func (t *Table) Has(name string) bool { _, ok := t.values[name]; return ok }

// Table is a table within; empty if it is not there.
func (t *Table) Table(name string) *Table {
	sub := &Table{doc: t.doc, path: t.key(name), used: map[string]bool{}}
	if v, ok := t.take(name); ok {
		m, is := v.(map[string]any)
		if !is {
			t.Fail(name, "this must be a table: write [%s]", t.key(name))
		}
		sub.values = m
	}
	return sub
}

// Tables are the named tables within, sorted by name: [pulley.NAME] and so on.
func (t *Table) Tables(kind string) (names []string, tables []*Table) {
	all := t.Table(kind)
	for _, name := range slices.Sorted(maps.Keys(all.values)) {
		m, is := all.values[name].(map[string]any)
		switch {
		case !is:
			t.doc.Fail(all.key(name), "a %s needs a name: write [%s.some-name] above its lines", kind, kind)
			continue
		case name == "" || utf8.RuneCountInString(name) > MaxName:
			t.doc.Fail(all.path, "a name must have 1 to %d letters", MaxName)
			continue
		}
		names = append(names, name)
		tables = append(tables, &Table{doc: t.doc, path: all.key(name), values: m, used: map[string]bool{}})
	}
	if len(names) > MaxTables {
		t.Fail(kind, "there are more than %d of these, which no cupboard has", MaxTables)
		return nil, nil
	}
	return names, tables
}

// Text is a string; fallback if it is not there.
func (t *Table) Text(name, fallback string) string {
	v, ok := t.take(name)
	if !ok {
		return fallback
	}
	s, is := v.(string)
	if !is {
		t.Fail(name, "found %v, and words in quotes are needed", v)
		return fallback
	}
	return s
}

// Choice is a string that must be one of a few.
func (t *Table) Choice(name, fallback string, allowed ...string) string {
	s := t.Text(name, fallback)
	if s == fallback || slices.Contains(allowed, s) {
		return s
	}
	t.Fail(name, "found %q, which is not known%s; it can be %s", s, meant(s, allowed), strings.Join(allowed, ", "))
	return fallback
}

// Whole is a whole number in a range.
func (t *Table) Whole(name string, fallback, least, most int) int {
	v, ok := t.take(name)
	if !ok {
		return fallback
	}
	n, is := v.(int64)
	switch {
	case !is:
		t.Fail(name, "found %s, and a whole number is needed", show(v))
	case n < int64(least) || n > int64(most):
		t.Fail(name, "found %d, and it must be from %d to %d", n, least, most)
	default:
		return int(n)
	}
	return fallback
}

// Number is a plain number in a range.
func (t *Table) Number(name string, fallback, least, most float64) float64 {
	v, ok := t.take(name)
	if !ok {
		return fallback
	}
	var n float64
	switch v := v.(type) {
	case int64:
		n = float64(v)
	case float64:
		n = v
	default:
		t.Fail(name, "found %s, and a plain number is needed", show(v))
		return fallback
	}
	if !(n >= least && n <= most) {
		t.Fail(name, "found %v, and it must be from %g to %g", n, least, most)
		return fallback
	}
	return n
}

// Yes is a true or false.
func (t *Table) Yes(name string, fallback bool) bool {
	v, ok := t.take(name)
	if !ok {
		return fallback
	}
	b, is := v.(bool)
	if !is {
		t.Fail(name, "found %s, and true or false is needed", show(v))
		return fallback
	}
	return b
}

// List is a list.
func (t *Table) List(name string) ([]any, bool) {
	v, ok := t.take(name)
	if !ok {
		return nil, false
	}
	l, is := v.([]any)
	if !is {
		t.Fail(name, "found %s, and a list in square brackets is needed", show(v))
	}
	return l, is
}

// Quantity reads a quantity in its own unit and range. It must be a text with a
// unit; a bare number is refused with what to write instead.
func Quantity[Q ~float64](t *Table, name string, parse func(string) (Q, error), fallback, least, most Q, unit string) Q {
	v, ok := t.take(name)
	if !ok {
		return fallback
	}
	q, err := ParseValue(v, parse)
	switch {
	case err != nil:
		t.Fail(name, "%v", err)
	case !(q >= least && q <= most):
		t.Fail(name, "found %s, and it must be from %g to %g %s", show(v), float64(least), float64(most), unit)
	default:
		return q
	}
	return fallback
}

// ParseValue reads a quantity from a TOML value.
func ParseValue[Q any](v any, parse func(string) (Q, error)) (Q, error) {
	s, is := v.(string)
	if !is {
		s = fmt.Sprint(v)
	}
	q, err := parse(s)
	if err == nil && !is {
		return q, fmt.Errorf("%v needs quotes and a unit", v)
	}
	return q, err
}

// Needed notes a problem if a key that must be there is not.
func (t *Table) Needed(names ...string) {
	for _, n := range names {
		if !t.Has(n) {
			t.Fail("", "%s is missing", n)
		}
	}
}

// Close refuses every key that was not asked for.
func (t *Table) Close() {
	for _, name := range slices.Sorted(maps.Keys(t.values)) {
		if !t.used[name] {
			t.Fail(name, "this is not known here%s", meant(name, t.names))
		}
	}
}

func show(v any) string {
	if s, is := v.(string); is {
		return fmt.Sprintf("%q", s)
	}
	return fmt.Sprint(v)
}

// IsList reports whether a key holds a list.
func (t *Table) IsList(name string) bool { _, is := t.values[name].([]any); return is }
