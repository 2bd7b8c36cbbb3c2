package tomlfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"findrive/internal/units"
)

// Table is one table being read. Every key is asked for once by name, which is
// also how the table knows the keys it may have; Close refuses the others.
type Table struct {
	doc    *Document
	path   path
	values map[string]any
	asked  []string        // keys asked for so far
	bad    map[string]bool // keys with a problem
}

// Root is the document's top table.
func (d *Document) Root() *Table { return d.table("", d.root) }

func (d *Document) table(at path, values map[string]any) *Table {
	return &Table{doc: d, path: at, values: values, bad: map[string]bool{}}
}

// Has reports whether a key is there, with whatever value.
func (t *Table) Has(key string) bool { _, ok := t.values[key]; return ok }

// Good reports whether no problem has been noted for any of the keys; a key
// that is not there is good. Only good keys are worth comparing.
func (t *Table) Good(keys ...string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { return t.bad[k] })
}

// Fail notes a problem with the value of a key, or, if the key is "" or not
// there, with the whole table.
func (t *Table) Fail(key, format string, args ...any) {
	t.fail(key, mistake{text: fmt.Sprintf(format, args...)}, true)
}

func (t *Table) fail(key string, m mistake, atValue bool) {
	m.key = t.path
	if key != "" {
		t.bad[key] = true
		m.key = t.path.join(key)
	}
	t.doc.fail(m, atValue)
}

// take is the value of a key; not there if it could not be read, which has been
// reported by then.
func (t *Table) take(key string) (any, bool) {
	if !slices.Contains(t.asked, key) {
		t.asked = append(t.asked, key)
	}
	v, ok := t.values[key]
	if _, no := t.doc.unreadable[t.path.join(key)]; ok && no {
		t.bad[key] = true
		return nil, false
	}
	return v, ok
}

// reword says of a value that was no TOML what is right for what is read: the
// syntax alone cannot tell whether quotes were forgotten or a word is wrong. right
// is told the value as it was written, and gives "" where what was said before
// holds.
func (t *Table) reword(key string, right func(value string) string) {
	if !t.Has(key) {
		return
	}
	b, no := t.doc.unreadable[t.path.join(key)]
	if !no || b.value == "" {
		return
	}
	if say := right(b.value); say != "" {
		m := &t.doc.mistakes[b.mistake]
		m.key, m.text = t.path.join(key), say
	}
}

// Offer makes keys known that are read only in some cases.
func (t *Table) Offer(keys ...string) {
	for _, key := range keys {
		t.take(key)
	}
}

// Need notes a problem if a key is not there, with an example of what to write.
func (t *Table) Need(key, example string) {
	if !t.Has(key) {
		t.bad[key] = true
		t.fail("", mistake{text: fmt.Sprintf("%s is missing: write for example %s = %s", key, key, example)}, false)
	}
}

// Refuse notes a problem if a key is there that belongs elsewhere.
func (t *Table) Refuse(key, format string, args ...any) {
	if t.Has(key) {
		t.take(key)
		t.fail(key, mistake{text: fmt.Sprintf(format, args...)}, false)
	}
}

// Close refuses every key that has not been asked for.
func (t *Table) Close() {
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if _, no := t.doc.unreadable[t.path.join(key)]; no || slices.Contains(t.asked, key) {
			continue
		}
		what := "key"
		switch t.values[key].(type) {
		case map[string]any, []map[string]any:
			what = "table"
		}
		t.fail(key, mistake{text: "this " + what + " is not known here", found: key, among: t.asked}, false)
	}
}

// Table is a table within this one; empty if it is not there.
func (t *Table) Table(key string) *Table {
	v, ok := t.take(key)
	values, is := v.(map[string]any)
	if ok && !is {
		t.fail(key, mistake{text: fmt.Sprintf("a table is needed: write [%s] once, and its keys on the lines below", t.path.join(key))}, false)
	}
	return t.doc.table(t.path.join(key), values)
}

// Named are the tables [kind.NAME] in the order of their names.
func (t *Table) Named(kind string) (names []string, tables []*Table) {
	v, ok := t.take(kind)
	if !ok {
		return nil, nil
	}
	all, is := v.(map[string]any)
	if !is || len(all) == 0 {
		t.fail(kind, mistake{text: fmt.Sprintf("each %s needs a name of its own: write [%s.NAME], and its keys on the lines below", kind, kind)}, false)
		return nil, nil
	}
	at := t.path.join(kind)
	nameless := false
	for _, name := range slices.Sorted(maps.Keys(all)) {
		m, is := all[name].(map[string]any)
		switch {
		case !is && !nameless:
			nameless = true
			t.doc.fail(mistake{key: at.join(name), text: fmt.Sprintf("each %s needs a name of its own: write [%s.NAME] above its keys", kind, kind)}, false)
		case !is:
		case name == "" || utf8.RuneCountInString(name) > MaxName || strings.ContainsFunc(name, unprintable):
			t.doc.fail(mistake{key: at, text: fmt.Sprintf("the name %s cannot be used: a name has 1 to %d letters, all on one line", units.Quoted(name), MaxName)}, false)
		default:
			names = append(names, name)
			tables = append(tables, t.doc.table(at.join(name), m))
		}
	}
	return names, tables
}

// Text is a text of one line and at most MaxText letters; fallback if it is not
// there.
func (t *Table) Text(key, fallback string) string {
	v, ok := t.take(key)
	if !ok {
		return fallback
	}
	s, is := v.(string)
	switch {
	case !is:
		t.Fail(key, "found %s, a text in quotes is needed", Shown(v))
	case utf8.RuneCountInString(s) > MaxText:
		t.Fail(key, "the text has more than %d letters", MaxText)
	case strings.ContainsFunc(s, unprintable):
		t.Fail(key, "the text %s has signs in it that cannot be printed on one line: type it again", units.Quoted(s))
	default:
		return s
	}
	return fallback
}

// Choice is one of a few words; fallback if it is not there.
func (t *Table) Choice(key, fallback string, allowed ...string) string {
	if !t.Has(key) {
		t.take(key)
		return fallback
	}
	t.reword(key, func(value string) string {
		if slices.Contains(allowed, value) {
			return ""
		}
		if near := Nearest(value, allowed); near != "" {
			return fmt.Sprintf("found %s, which is not known here: write %s = %q", value, key, near)
		}
		return fmt.Sprintf("found %s, which is not known here; it can be %s, in quotes", value, oneOf(allowed))
	})
	s := t.Text(key, fallback)
	if t.Good(key) && !slices.Contains(allowed, s) {
		t.fail(key, mistake{text: "found " + units.Quoted(s) + ", which is not known here", found: s, among: allowed}, true)
		return fallback
	}
	return s
}

// Known notes a problem if a name, read from a key, is not one of those there
// are.
func (t *Table) Known(key, name string, there []string) {
	if !slices.Contains(there, name) {
		t.fail(key, mistake{text: "found " + units.Quoted(name) + ", which is not in the cupboard", found: name, among: there}, true)
	}
}

// Stranger notes that a table's own name is not one of those there are.
func (t *Table) Stranger(name string, there []string, format string, args ...any) {
	t.fail("", mistake{text: fmt.Sprintf(format, args...), found: name, among: there}, true)
}

// Whole is a whole number in a range; fallback if it is not there.
func (t *Table) Whole(key string, fallback, least, most int) int {
	t.reword(key, func(value string) string {
		if n, err := strconv.Atoi(strings.TrimLeft(value, "0")); err == nil && n >= least && n <= most {
			return fmt.Sprintf("found %s, a whole number does not begin with 0: write %s = %d", value, key, n)
		}
		return fmt.Sprintf("found %s, a whole number from %d to %d is needed, in figures and without quotes", value, least, most)
	})
	v, ok := t.take(key)
	if !ok {
		return fallback
	}
	n, is := v.(int64)
	switch {
	case !is:
		t.Fail(key, "found %s, a whole number without quotes is needed", Shown(v))
	case least == most && n != int64(least):
		t.Fail(key, "%d is out of range: it must be %d", n, least)
	case n < int64(least) || n > int64(most):
		t.Fail(key, "%d is out of range: it must be from %d to %d", n, least, most)
	default:
		return int(n)
	}
	return fallback
}

// Number is a plain number in a range; fallback if it is not there.
func (t *Table) Number(key string, fallback, least, most float64) float64 {
	t.reword(key, func(value string) string {
		n, err := strconv.ParseFloat(strings.Replace(value, ",", ".", 1), 64)
		switch {
		case err == nil && n >= least && n <= most:
			return fmt.Sprintf("found %s, a number has figures on both sides of its point: write %s = %s", value, key, decimal(n))
		case err == nil && !math.IsNaN(n) && !math.IsInf(n, 0):
			return fmt.Sprintf("%s is out of range: it must be from %s to %s", value, decimal(least), decimal(most))
		}
		return fmt.Sprintf("found %s, a number from %s to %s is needed, in figures and without quotes", value, decimal(least), decimal(most))
	})
	v, ok := t.take(key)
	if !ok {
		return fallback
	}
	n, is := number(v)
	switch {
	case !is:
		t.Fail(key, "found %s, a number without quotes is needed", Shown(v))
	case !(n >= least && n <= most): // so that NaN fails
		t.Fail(key, "%s is out of range: it must be from %s to %s", decimal(n), decimal(least), decimal(most))
	default:
		return n
	}
	return fallback
}

// Yes is true or false; fallback if it is not there.
func (t *Table) Yes(key string, fallback bool) bool {
	t.reword(key, func(value string) string {
		switch strings.ToLower(value) {
		case "yes", "y", "on", "true":
			return fmt.Sprintf("found %s: write %s = true, without quotes", value, key)
		case "no", "n", "off", "false":
			return fmt.Sprintf("found %s: write %s = false, without quotes", value, key)
		}
		return fmt.Sprintf("found %s, true or false without quotes is needed", value)
	})
	v, ok := t.take(key)
	if !ok {
		return fallback
	}
	b, is := v.(bool)
	if !is {
		t.Fail(key, "found %s, true or false without quotes is needed", Shown(v))
		return fallback
	}
	return b
}

// IsText reports whether a key has a text for its value.
func (t *Table) IsText(key string) bool { _, is := t.values[key].(string); return is }

// IsWhole reports whether a key has a whole number for its value.
func (t *Table) IsWhole(key string) bool { _, is := t.values[key].(int64); return is }

// IsZero reports whether a key has the whole number 0 for its value.
func (t *Table) IsZero(key string) bool { return t.values[key] == int64(0) }

// IsList reports whether a key has a list for its value.
func (t *Table) IsList(key string) bool { _, is := t.values[key].([]any); return is }

// List is a list of at most a few values; nil if it is not there.
func (t *Table) List(key, example string, most int) []any {
	t.reword(key, func(value string) string {
		return fmt.Sprintf("found %s, a list is needed: write for example %s = %s", value, key, example)
	})
	v, ok := t.take(key)
	if !ok {
		return nil
	}
	l, is := v.([]any)
	switch {
	case !is:
		t.Fail(key, "found %s, a list is needed: write for example %s = %s", Shown(v), key, example)
	case len(l) > most:
		t.Fail(key, "the list has %d values, the most is %d", len(l), most)
	default:
		return l
	}
	return nil
}

// Range is what a quantity must lie in, its ends included.
type Range[Q ~float64] struct{ Least, Most Q }

// Quantity is a quantity with its unit, in quotes; fallback if it is not there.
// A bare number is refused with what to write instead.
func Quantity[Q ~float64](t *Table, key string, n *units.Notation[Q], fallback Q, within Range[Q]) Q {
	t.reword(key, func(value string) string {
		if _, err := Measure(value, n, within); err != nil {
			return err.Error()
		}
		return ""
	})
	v, ok := t.take(key)
	if !ok {
		return fallback
	}
	q, err := Measure(v, n, within)
	if err != nil {
		t.Fail(key, "%v", err)
		return fallback
	}
	return q
}

// Measure reads a quantity from any TOML value, such as one of a list. The
// error is a plain sentence.
func Measure[Q ~float64](v any, n *units.Notation[Q], within Range[Q]) (Q, error) {
	text, is := v.(string)
	if bare, isNumber := number(v); isNumber {
		text, is = decimal(bare), true
	}
	if !is {
		return 0, fmt.Errorf("found %s, %s in quotes is needed, such as %q", Shown(v), n.Kind(), n.Example())
	}
	q, err := n.Parse(text)
	if err != nil {
		return 0, err
	}
	if !(q >= within.Least && q <= within.Most) {
		return 0, fmt.Errorf("%s is out of range: it must be from %s to %s", units.Quoted(text), n.Format(within.Least), n.Format(within.Most))
	}
	return q, nil
}

// number is a TOML whole or decimal number.
func number(v any) (float64, bool) {
	switch v := v.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

func decimal(n float64) string { return strconv.FormatFloat(n, 'g', -1, 64) }

// Shown is a value as messages show it.
func Shown(v any) string {
	switch v := v.(type) {
	case string:
		return units.Quoted(v)
	case int64, float64, bool:
		return fmt.Sprint(v)
	case time.Time:
		return "a date or time"
	case []any, []map[string]any:
		return "a list"
	case map[string]any:
		return "a table"
	}
	return "something else"
}

// unprintable reports a rune that would not show on one line of a terminal.
func unprintable(r rune) bool { return !unicode.IsPrint(r) }
