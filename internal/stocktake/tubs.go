package stocktake

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// tubs deals with rows of one tub: the same kind, name, sizes and place. It may have
// been listed twice or counted twice, which cannot be told apart, so it is counted
// once, with the smaller count, and that is said; or its counts are added up, if the
// user says so.
func (c *collecting) tubs() {
	place := map[string]int{}
	var kept []entry
	var shared []sharing
	for _, e := range c.entries {
		id := strings.Join([]string{e.kind, slug(e.label), e.words, strings.ToLower(e.location), e.lines()}, "\x00")
		at, is := place[id]
		if !is {
			place[id] = len(kept)
			kept = append(kept, e)
			continue
		}
		had := &kept[at]
		r, later := c.row(had.at), c.row(e.at)
		shared = note(shared, had.at.List, e.at.List)
		first, again := c.result.Where(had.at, e.at.List), c.result.Where(e.at, had.at.List)
		switch {
		case c.opt.AddTubs:
			had.count = min(had.count+e.count, mostCount)
			had.also = append(had.also, e.at)
			later.assume(Nowhere, false, fmt.Sprintf("the same tub as %s: added to it", first))
			later.Verdict = Assumed
			had.facts = append(had.facts, e.facts...)
			continue
		case had.count == e.count:
			r.assume(Nowhere, false, fmt.Sprintf("%s is the same tub again: counted once", again))
			if fact := fmt.Sprintf("count taken as %d, for the tub is listed again", had.count); !slices.Contains(had.facts, fact) {
				had.facts = append(had.facts, fact)
			}
			later.Remarks = []Remark{{Column: Nowhere, Text: fmt.Sprintf("the same tub as %s, with the same count: counted once (--add-tubs adds up)", first)}}
		default:
			least := min(had.count, e.count)
			r.assume(Nowhere, false, fmt.Sprintf("%s is the same tub with another count: the smaller, %d, is taken", again, least))
			later.Remarks = []Remark{{Column: Nowhere, Text: fmt.Sprintf("the same tub as %s, with another count: the smaller, %d, is taken (--add-tubs adds up)", first, least)}}
			had.count = least
			had.facts = slices.DeleteFunc(had.facts, func(f string) bool {
				return strings.HasPrefix(f, "count taken as") || strings.HasPrefix(f, "count: taken as")
			})
			had.facts = append(had.facts, fmt.Sprintf("count taken as %d, the smaller of two", least))
		}
		r.Verdict, later.Verdict, later.Again = Assumed, Ignored, true
	}
	c.entries = kept
	c.askShared(shared)
}

// sharing is how many tubs two lists both have.
type sharing struct{ a, b, tubs int }

// note counts a tub that two lists share.
func note(all []sharing, a, b int) []sharing {
	for i := range all {
		if all[i].a == a && all[i].b == b {
			all[i].tubs++
			return all
		}
	}
	return append(all, sharing{a, b, 1})
}

// askShared asks of two lists with the same tubs whether one is an older count.
func (c *collecting) askShared(all []sharing) {
	for _, s := range all {
		if s.a == s.b || s.tubs < 2 || c.opt.AddTubs {
			continue
		}
		c.result.Asks = append(c.result.Asks, fmt.Sprintf("Is one of %s and %s an older count? %d tubs are on both, and of each the smaller count is taken. Take the old one out; or say --add-tubs if there are that many more.",
			c.result.nameOf(s.a), c.result.nameOf(s.b), s.tubs))
	}
}

// mostName keeps names short enough for a table.
const mostName = 36

// names gives every part a name of its own: what the tub says, or else its sizes; where that
// is taken, with its sizes, and then with its place.
func (c *collecting) names() {
	taken := map[string]bool{}
	first := map[string]string{} // the sizes of the first part of a name
	for i := range c.entries {
		e := &c.entries[i]
		name := slug(e.label)
		var sizes []string
		for _, s := range e.settings[:min(2, len(e.settings))] {
			sizes = append(sizes, s.value)
		}
		if name == "" || name == slug(e.kind) || name == slug(e.kind)+"s" {
			name, sizes = slug(strings.Join(sizes, " ")), nil
		}
		if name == "" {
			name = e.kind
		}
		base, place, sized := name, slug(e.location), strings.Join(sizes, " ")
		if had, is := first[e.kind+"."+base]; !is {
			first[e.kind+"."+base] = sized
		} else if had == sized {
			sized = "" // they do not tell them apart
		}
		for n := 1; taken[e.kind+"."+name]; n++ {
			switch {
			case n == 1 && sized != "":
				name = slug(base + " " + sized)
			case n <= 2 && place != "":
				name = slug(base + " " + place)
			default:
				name = fmt.Sprintf("%s-%d", base, n+1)
			}
		}
		taken[e.kind+"."+name] = true
		e.name = name
		for _, at := range append(slices.Clone(e.also), e.at) {
			c.row(at).Part = e.kind + "." + name
		}
	}
}

// slug is words as a name: letters and figures in small letters, anything else a
// hyphen.
func slug(words string) string {
	var b strings.Builder
	letters := 0
	for _, r := range strings.ToLower(words) {
		switch {
		case letters >= mostName:
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
			letters++
		case r == '.' && b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
			letters++
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
			letters++
		}
	}
	name := strings.Trim(b.String(), "-")
	if !utf8.ValidString(name) {
		return ""
	}
	return name
}
