package tomlfile

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"findrive/internal/pattern"
)

// mostMended is how many lines that are no TOML are reported at once.
const mostMended = 10

// parsed is a document as far as it could be made out.
type parsed struct {
	data     []byte // the document, mended lines changed
	root     map[string]any
	mended   map[int]bare // lines whose value is not known, and what stood there
	reworded map[int]int  // how often a line has been put right, its value known
	dropped  int          // lines left out
	mistakes []mistake
}

// bare is what stands behind a key and is no TOML.
type bare struct {
	mistake int    // its number among the mistakes
	value   string // as written, if it is one plain word or number; else empty
}

// parse reads TOML. A line "key = value" whose value is no TOML by itself, such
// as outside = 20 mm, is noted and mended, so that the rest can be read as
// well; so is a name or key that is there twice, and a line of which it is plain
// what was meant (see remedyOf). Anything else leaves root nil, because what
// follows could not be told apart from what the mistake caused.
func parse(data []byte) parsed {
	p := parsed{data: data, mended: map[int]bare{}, reworded: map[int]int{}}
	for {
		var root map[string]any
		_, err := toml.Decode(string(p.data), &root)
		if err == nil {
			if root == nil {
				root = map[string]any{}
			}
			p.root = root
			return p
		}
		var syntax toml.ParseError
		if !errors.As(err, &syntax) {
			p.mistakes = append(p.mistakes, mistake{offset: -1, text: plain(err.Error())})
			return p
		}
		l := linesOf(p.data)
		line := min(max(syntax.Position.Line, 1), len(l.starts))
		start, end := l.bounds(line)
		text := string(p.data[start:end])
		m := mistake{offset: min(max(syntax.Position.Start, start), end), text: plain(syntax.Message)}
		if m.offset == start && line > 1 && strings.Contains(syntax.Message, atLineEnd) {
			m.offset-- // the mistake is where the line before ends
		}
		if p.twice(syntax.Message, line, start, end, &m) {
			continue
		}
		if m.offset < start { // an open end is told on the line it is on
			line--
			start, end = l.bounds(line)
			text = string(p.data[start:end])
		}
		full := len(p.mended)+p.dropped+len(p.reworded) >= mostMended
		if first, last := openList(p.data, start, end); first >= 0 {
			if _, done := p.mended[l.line(first)]; !done && p.listMistake(l, first, last, m, full) {
				continue
			}
			return p
		}
		_, done := p.mended[line]
		if r := remedyOf(text); r.say != "" && !done && p.reworded[line] < 3 {
			m.offset, m.text = start+r.at, r.say
			m.line, m.column = l.place(m.offset)
			p.mistakes = append(p.mistakes, m)
			if full || r.instead == "" {
				return p
			}
			p.reworded[line]++
			p.replace(start, end, r.instead)
			continue
		}
		key, wrong := wrongByItself(text)
		wrong = wrong && !done
		b := bare{mistake: len(p.mistakes)}
		if wrong {
			at := valueStart(p.data, start+strings.Index(text, "="))
			if value, say := wrongValue(text); say != "" {
				m.offset, m.text, b.value = at, say, value
			}
		}
		m.line, m.column = l.place(m.offset)
		p.mistakes = append(p.mistakes, m)
		if !wrong || full {
			return p
		}
		p.mended[line] = b
		p.replace(start, end, key+" = false")
	}
}

// listMistake notes a list or inline table that is not closed or not rightly
// written, and mends it: its value is not known. It is false if no key stands
// before it, or if enough has been mended.
func (p *parsed) listMistake(l lines, first, last int, m mistake, full bool) bool {
	line := l.line(first)
	start, end := l.bounds(line)
	a := assignment.FindStringSubmatch(string(p.data[start:end]))
	closing := map[byte]string{'[': "]", '{': "}"}[p.data[first]]
	what := map[byte]string{'[': "list", '{': "table"}[p.data[first]]
	closed := last > 0
	if !closed {
		last = end
		m.offset, m.text = first, fmt.Sprintf("the %s that begins here is not closed: write %s at its end", what, closing)
	} else {
		m.text = fmt.Sprintf("this cannot stand in the %s that begins on line %d: its values are numbers, or texts in quotes, with a comma between each two", what, line)
		if what == "table" {
			m.text = fmt.Sprintf("this cannot stand in the table that begins on line %d: write key = value, with a comma between each two, or give it lines of its own below [NAME]", line)
		}
		if list := commas(string(p.data[first:last])); list != "" && what == "list" {
			m.text = "the values of a list have a comma between each two: write " + list
		}
	}
	m.line, m.column = l.place(m.offset)
	p.mistakes = append(p.mistakes, m)
	if a == nil || full {
		return false
	}
	if closed {
		_, last = l.bounds(l.line(last))
	}
	p.mended[line] = bare{mistake: len(p.mistakes) - 1}
	rows := strings.Count(string(p.data[start:last]), "\n")
	p.replace(start, last, a[1]+" = false"+strings.Repeat("\n", rows))
	return true
}

var header = pattern.Must(`^\s*\[\s*((?:[^\[\]"'#]*\.)?)\s*("?)([^\[\]"'#.]+?)("?)\s*\]\s*(?:#.*)?$`)

// twice notes a name or key that was there before, and mends it: a table gets
// another name, so that its keys can be read, and a key is left out.
func (p *parsed) twice(message string, line, start, end int, m *mistake) bool {
	text := string(p.data[start:end])
	_, isMended := p.mended[line]
	if !strings.Contains(message, "already been defined") || isMended || len(p.mended)+p.dropped >= mostMended {
		return false
	}
	l := linesOf(p.data)
	if h := header.FindStringSubmatchIndex(text); h != nil && (h[4] < h[5]) == (h[8] < h[9]) {
		before, name := text[h[2]:h[3]], text[h[6]:h[7]]
		m.text = fmt.Sprintf("the name %s%s is there already: every table needs a name of its own", before, name)
		m.offset = start + h[2]
		m.line, m.column = l.place(m.offset)
		p.mistakes = append(p.mistakes, *m)
		p.mended[line] = bare{mistake: len(p.mistakes) - 1}
		other := fmt.Sprintf("%s (line %d)", name, line)
		if utf8.RuneCountInString(other) > MaxName {
			other = fmt.Sprintf("line %d", line)
		}
		p.replace(start, end, fmt.Sprintf("[%s\"%s\"]", before, other))
		return true
	}
	key := assignment.FindStringSubmatchIndex(text)
	if key == nil || strings.ContainsAny(text, "[{") || strings.Contains(text, `"""`) || strings.Contains(text, `'''`) {
		return false
	}
	m.text = fmt.Sprintf("%s is there already, in the same table: leave one of the two out", text[key[2]:key[3]])
	m.offset = start + key[2]
	m.line, m.column = l.place(m.offset)
	p.mistakes = append(p.mistakes, *m)
	p.dropped++
	p.replace(start, end, "#")
	return true
}

// replace puts a line that can be read in place of one that cannot. Offsets of
// mistakes noted so far, by which they are sorted, move along.
func (p *parsed) replace(start, end int, instead string) {
	if room := end - start; len(instead) < room {
		instead += strings.Repeat(" ", room-len(instead))
	}
	grown := len(instead) - (end - start)
	data := make([]byte, 0, len(p.data)+grown)
	data = append(append(append(data, p.data[:start]...), instead...), p.data[end:]...)
	for i := range p.mistakes {
		if p.mistakes[i].offset > end {
			p.mistakes[i].offset += grown
		}
	}
	p.data = data
}

// atLineEnd is how the parser writes the end of a line.
const atLineEnd = `'\n'`

// notRead is what is said of a line that no other advice fits.
const notRead = "this cannot be read: write [kind.name], key = value, or # and a remark; a text in quotes, a number or true or false without, a list in [ ]"

// plain is what a parser's message means, in plain words and with advice.
func plain(message string) string {
	switch {
	case strings.Contains(message, "control characters"), strings.Contains(message, "NULL"):
		return "there is a sign here that cannot be seen: delete the line and type it again"
	case strings.Contains(message, `expected '"""'`), strings.Contains(message, "expected ''''"):
		return "a text that begins with three quote marks is not closed: write a text in one quote mark at each end"
	case strings.Contains(message, "top-level item to end with"):
		return "nothing may stand behind the value but a remark after #: delete the rest, or look for a quote mark too many"
	case strings.Contains(message, "to end table name"):
		return "a header is a line of its own and ends with ]: write [kind.NAME], and its keys on the lines below; or delete the [ if this is a key"
	case strings.Contains(message, "keys cannot start with"), strings.Contains(message, "unexpected '='"), strings.Contains(message, "expected '.' or '='"):
		return "this is neither [kind.name] nor key = value: a key has no signs but letters, figures, - and _, and one = behind it"
	case strings.Contains(message, "invalid escape"):
		return "\\ has a meaning of its own in quotes: write / or \\\\ in its place"
	case strings.Contains(message, "already been defined"):
		return "this name or key is there already: leave one of the two out"
	}
	return notRead
}
