package tomledit

import (
	"bytes"
	"fmt"
	"slices"
)

// set puts a value in the place of another, or adds it.
func (o *outline) set(key []string, v Value) ([]byte, error) {
	if e := o.find(key); e != nil {
		return spliced(o.text, e.value, v.String()), nil
	}
	if o.isTable(key) {
		return nil, fmt.Errorf("%s is a table", shown(key))
	}
	// The deepest table there is on the way to the key says how the rest is written.
	table := key[:len(key)-1]
	for !o.isTable(table) {
		if o.find(table) != nil {
			return nil, fmt.Errorf("%s is no table, so that nothing can be put into it", shown(table))
		}
		table = table[:len(table)-1]
	}
	if e := o.find(table); e != nil {
		return o.intoBraces(e, key, v), nil
	}
	if beside := o.beside(table); beside != nil {
		if beside.within != nil {
			return o.intoBraces(beside.within, key, v), nil
		}
		return o.below(beside.home, beside, key, v), nil
	}
	if s := o.section(table); s != nil && len(table) == len(key)-1 {
		return o.below(s, s.last, key, v), nil
	}
	return o.newSection(table, key, v), nil
}

// isTable reports whether there is a table of this key, however it is written.
func (o *outline) isTable(key []string) bool {
	if e := o.find(key); e != nil {
		return e.inline
	}
	return len(key) == 0 ||
		slices.ContainsFunc(o.sections, func(s *section) bool { return under(s.key, key) }) ||
		slices.ContainsFunc(o.entries, func(e *entry) bool { return under(e.key, key) })
}

// beside is the last key of a table that is there only by keys with dots in them, such
// as a.b = 1 for the table a; nil for other tables.
func (o *outline) beside(table []string) *entry {
	if len(table) == 0 || o.section(table) != nil {
		return nil
	}
	var last *entry
	for _, e := range o.entries {
		// A key that begins before the table it is in has dots.
		if under(e.key, table) && len(e.key)-len(e.at) < len(table) {
			last = e
		}
	}
	return last
}

// intoBraces adds a key to an inline table.
func (o *outline) intoBraces(table *entry, key []string, v Value) []byte {
	line := written(key[len(table.key):]) + " = " + v.String()
	if n := len(table.inside); n > 0 {
		behind := table.inside[n-1].all.to
		return spliced(o.text, span{behind, behind}, ", "+line)
	}
	return spliced(o.text, span{table.braceOpen, table.braceOpen}, " "+line+" ")
}

// below adds a line to a section: below one of its keys, or if that is nil below its
// header.
func (o *outline) below(s *section, above *entry, key []string, v Value) []byte {
	line := written(key[len(s.key):]) + " = " + v.String()
	at := s.end
	switch {
	case above != nil:
		at = lineEnd(o.text, above.all.to)
		start := lineStart(o.text, above.all.from)
		line = string(o.text[start:above.all.from]) + line // as far in as the line above
	case len(s.key) == 0:
		return o.atTop(line)
	}
	return o.lineAt(at, line)
}

// lineAt puts in a line at the beginning of a line, or at the end of the text.
func (o *outline) lineAt(at int, line string) []byte {
	nl := o.lineFeed()
	if at > 0 && o.text[at-1] != '\n' { // the last line is not ended; it still is not
		return spliced(o.text, span{at, at}, nl+line)
	}
	return spliced(o.text, span{at, at}, line+nl)
}

// lineFeed is how lines end in the text.
func (o *outline) lineFeed() string {
	if i := bytes.IndexByte(o.text, '\n'); i > 0 && o.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// atTop adds the first key of the root: below the remarks that head the text, if a
// blank line divides them from what follows.
func (o *outline) atTop(line string) []byte {
	at := 0
	for at < len(o.text) && o.text[at] == '#' {
		at = lineEnd(o.text, at)
	}
	if next := bytes.TrimLeft(o.text[at:], " \t"); at > 0 && len(next) > 0 && next[0] != '\n' && next[0] != '\r' {
		at = 0
	}
	nl := o.lineFeed()
	if rest := bytes.TrimLeft(o.text[at:], " \t"); len(rest) > 0 && rest[0] != '\n' && rest[0] != '\r' {
		line += nl // a blank line before the table that follows
	}
	return o.lineAt(at, line)
}

// newSection adds a table with one key below the last table of its kind, or at the end.
func (o *outline) newSection(table, key []string, v Value) []byte {
	at, nl := len(o.text), o.lineFeed()
	if len(table) > 0 {
		for _, s := range o.sections {
			if under(s.key, table) {
				at = o.behindRemarks(o.sectionEnd(s))
			}
		}
	}
	lines := "[" + written(o.withoutNumbers(key[:len(key)-1])) + "]" + nl + written(key[len(key)-1:]) + " = " + v.String()
	if at > 0 {
		if before := o.text[:at]; before[at-1] != '\n' {
			lines = nl + nl + lines
		} else {
			if !blankLast(before) {
				lines = nl + lines
			}
			lines += nl
		}
	} else {
		lines += nl
	}
	return spliced(o.text, span{at, at}, lines)
}

// sectionEnd is behind the last line of a section that has a key, or its header.
func (o *outline) sectionEnd(s *section) int {
	if s.last != nil {
		return lineEnd(o.text, s.last.all.to)
	}
	return s.end
}

// behindRemarks is behind the remarks that stand on the lines from i on, unless they
// belong to what follows them without a blank line.
func (o *outline) behindRemarks(i int) int {
	end := i
	for end < len(o.text) {
		line := bytes.TrimSpace(o.text[end:lineEnd(o.text, end)])
		switch {
		case len(line) == 0:
			return end
		case line[0] != '#':
			return i
		}
		end = lineEnd(o.text, end)
	}
	return end
}

// withoutNumbers is a key as headers name it.
func (o *outline) withoutNumbers(key []string) []string {
	var out []string
	for i, part := range key {
		if o.arrays[joined(key[:i])] == 0 {
			out = append(out, part)
		}
	}
	return out
}

// blankLast reports whether a text of whole lines ends with a blank one.
func blankLast(text []byte) bool {
	return len(bytes.TrimSpace(text[lineStart(text, len(text)-1):])) == 0
}
