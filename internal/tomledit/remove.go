package tomledit

import (
	"bytes"
	"slices"
)

// remove takes away a key with its line, and if it is a table all its lines. Remarks
// on lines of their own stay, but for those between the lines of a table.
func (o *outline) remove(key []string) []byte {
	var cuts []span
	gone := map[*section]bool{}
	for i, s := range o.sections {
		if len(s.key) > 0 && under(s.key, key) {
			gone[s] = true
			cuts = append(cuts, o.withBlank(span{o.headerStart(i), o.sectionEnd(s)}))
		}
	}
	for _, e := range o.entries {
		if under(e.key, key) && !gone[e.home] && !(e.within != nil && under(e.within.key, key)) {
			if e.within != nil {
				cuts = append(cuts, o.outOfBraces(e, key))
			} else {
				cuts = append(cuts, span{lineStart(o.text, e.all.from), lineEnd(o.text, e.all.to)})
			}
		}
	}
	slices.SortFunc(cuts, func(a, b span) int { return a.from - b.from })
	out, at := []byte{}, 0
	for _, c := range cuts {
		if c.from > at {
			out = append(out, o.text[at:c.from]...)
		}
		at = max(at, c.to)
	}
	return append(out, o.text[at:]...)
}

// headerStart is where the line of a header begins.
func (o *outline) headerStart(i int) int {
	// Its end is known: it stands on one line.
	return lineStart(o.text, o.sections[i].end-1)
}

// withBlank takes the blank line below a table as well, so that one is left between
// its neighbours.
func (o *outline) withBlank(cut span) span {
	end := lineEnd(o.text, cut.to)
	if cut.to < len(o.text) && len(bytes.TrimSpace(o.text[cut.to:end])) == 0 {
		cut.to = end
	}
	return cut
}

// outOfBraces is a key of an inline table with the comma that goes with it. key is what
// is taken away, which may be several keys of it.
func (o *outline) outOfBraces(e *entry, key []string) span {
	all := e.within.inside
	i := slices.Index(all, e)
	stays := func(e *entry) bool { return !under(e.key, key) }
	switch {
	case slices.ContainsFunc(all[:i], stays): // the comma before it
		return span{all[i-1].all.to, e.all.to}
	case i+1 < len(all): // the comma behind it
		return span{e.all.from, all[i+1].all.from}
	}
	end := e.all.to
	if rest := bytes.TrimLeft(o.text[end:], " \t\r\n"); len(rest) > 0 && rest[0] == ',' {
		end = len(o.text) - len(rest) + 1
	}
	return span{e.all.from, end}
}
