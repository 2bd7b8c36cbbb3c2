package tomlfile

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"findrive/internal/units"
)

// mostMended is how many lines that are no TOML are reported at once.
const mostMended = 10

// parsed is a document as far as it could be made out.
type parsed struct {
	data     []byte // the document, mended lines changed
	root     map[string]any
	mended   map[int]bool // lines
	dropped  int          // lines left out
	mistakes []mistake
}

// parse reads TOML. A line "key = value" whose value is no TOML by itself, such
// as outside = 20 mm, is noted and mended, so that the rest can be read as
// well; so is a name or key that is there twice. Anything else leaves root nil, because what follows could not be told
// apart from what the mistake caused.
func parse(data []byte) parsed {
	p := parsed{data: data, mended: map[int]bool{}}
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
		key, wrong := wrongByItself(text)
		wrong = wrong && !p.mended[line]
		if wrong {
			if say := unquoted(text); say != "" {
				m.offset, m.text = valueStart(p.data, start+strings.Index(text, "=")), say
			}
		}
		m.line, m.column = l.place(m.offset)
		p.mistakes = append(p.mistakes, m)
		if !wrong || len(p.mended)+p.dropped >= mostMended {
			return p
		}
		p.mended[line] = true
		p.replace(start, end, key+" = false")
	}
}

var header = regexp.MustCompile(`^\s*\[\s*((?:[^\[\]"'#]*\.)?)\s*("?)([^\[\]"'#.]+?)("?)\s*\]\s*(?:#.*)?$`)

// twice notes a name or key that was there before, and mends it: a table gets
// another name, so that its keys can be read, and a key is left out.
func (p *parsed) twice(message string, line, start, end int, m *mistake) bool {
	text := string(p.data[start:end])
	if !strings.Contains(message, "already been defined") || p.mended[line] || len(p.mended)+p.dropped >= mostMended {
		return false
	}
	l := linesOf(p.data)
	if h := header.FindStringSubmatchIndex(text); h != nil && (h[4] < h[5]) == (h[8] < h[9]) {
		before, name := text[h[2]:h[3]], text[h[6]:h[7]]
		m.text = fmt.Sprintf("the name %s%s is there already: every table needs a name of its own", before, name)
		m.offset = start + h[2]
		m.line, m.column = l.place(m.offset)
		p.mistakes = append(p.mistakes, *m)
		p.mended[line] = true
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

var assignment = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)[ \t]*=[ \t]*(.*?)[ \t\r]*$`)

// wrongByItself reports whether a line is "key = something" that would be wrong
// anywhere, and its key.
func wrongByItself(line string) (key string, wrong bool) {
	m := assignment.FindStringSubmatch(line)
	if m == nil {
		return "", false
	}
	var alone map[string]any
	_, err := toml.Decode(line, &alone)
	// An opening bracket or three quotes may be closed on a later line.
	opens := strings.ContainsAny(m[2], "[{") || strings.Contains(m[2], `"""`) || strings.Contains(m[2], `'''`)
	return m[1], err != nil && !opens
}

// curlyQuotes are what word processors make of plain ones.
const curlyQuotes = "“”„‘’‚«»"

var unquotedValue = regexp.MustCompile(`^[^"'\[\]{}=#,]+$`)

// unquoted says how to write a value that only lacks its quotes.
func unquoted(line string) string {
	m := assignment.FindStringSubmatch(line)
	value, _, _ := strings.Cut(m[2], "#")
	value = strings.TrimSpace(value)
	if inner := strings.Trim(value, curlyQuotes); inner != value && unquotedValue.MatchString(inner) && len(inner) <= MaxName {
		return fmt.Sprintf("the quotes must be plain ones: write %s = %s", m[1], units.Quoted(inner))
	}
	if !unquotedValue.MatchString(value) || len(value) > MaxName || strings.ContainsFunc(value, unprintable) {
		return ""
	}
	return fmt.Sprintf("%s must stand in quotes: write %s = %s", value, m[1], units.Quoted(value))
}

// atLineEnd is how the parser writes the end of a line.
const atLineEnd = `'\n'`

// inWords are the parser's terms that a reader need not know.
var inWords = strings.NewReplacer(
	"unexpected EOF", "the file ends too soon", atLineEnd, "the end of the line", "EOF", "the end of the file", "a newline", "the end of the line",
	"a top-level item", "a value", "Key '", "the key '", "defined.", "defined",
)

// plain is a parser's message without its prefix and line feeds, cut short.
func plain(message string) string {
	message = inWords.Replace(strings.TrimPrefix(message, "toml: "))
	if len(message) > 3*MaxText || strings.ContainsFunc(message, unprintable) {
		message = units.Quoted(message)
	}
	return "this is not TOML: " + message
}
