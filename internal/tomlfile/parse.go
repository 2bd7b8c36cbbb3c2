package tomlfile

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

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
	mistakes []mistake
}

// parse reads TOML. A line "key = value" whose value is no TOML by itself, such
// as outside = 20 mm, is noted and mended, so that the rest can be read as
// well. Anything else leaves root nil, because what follows could not be told
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
		key, wrong := wrongByItself(text)
		wrong = wrong && !p.mended[line]
		if wrong {
			if say := unquoted(text); say != "" {
				m.offset, m.text = valueStart(p.data, start+strings.Index(text, "=")), say
			}
		}
		m.line, m.column = l.place(m.offset)
		p.mistakes = append(p.mistakes, m)
		if !wrong || len(p.mended) == mostMended {
			return p
		}
		p.mend(line, start, end, key)
	}
}

// mend puts a line that can be read in place of one that cannot. Offsets of
// mistakes noted so far, by which they are sorted, move along.
func (p *parsed) mend(line, start, end int, key string) {
	instead := key + " = false"
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
	p.data, p.mended[line] = data, true
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
