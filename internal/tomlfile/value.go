package tomlfile

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

var assignment = pattern.Must(`^\s*([A-Za-z0-9_-]+)[ \t]*=[ \t]*(.*?)[ \t\r]*$`)

// wrongByItself reports whether a line is "key = something" that would be wrong
// anywhere, and its key.
func wrongByItself(line string) (key string, wrong bool) {
	m := assignment.FindStringSubmatch(line)
	if m == nil {
		return "", false
	}
	// Three quotes may be closed on a later line, an opening bracket is looked at elsewhere.
	opens := strings.Contains(m[2], `"""`) || strings.Contains(m[2], `'''`)
	return m[1], !readable(line) && !opens
}

// curlyQuotes are what word processors make of plain ones.
const curlyQuotes = "“”„‘’‚«»"

var (
	unquotedValue = pattern.Must(`^[^"'\[\]{}=#]+$`)
	openQuote     = pattern.Must(`^["']([^"'=]*?),?$`)
	lateQuote     = pattern.Must(`^([^"'=\[\]{}]+)["']$`)
	moreBehind    = pattern.Must(`^("[^"\\]*"|'[^']*')\s*(.+)$`)
)

// wrongValue says of a line "key = something" what is wrong with the value and what
// would be right. If the value is one plain word or number, it gives that as well: then
// whoever reads the key knows better what would be right.
func wrongValue(line string) (plainValue, say string) {
	m := assignment.FindStringSubmatch(line)
	key := m[1]
	value, _, _ := strings.Cut(m[2], "#")
	value = strings.TrimSpace(value)
	write := func(text string) string { return fmt.Sprintf("write %s = %s", key, units.Quoted(text)) }
	switch {
	case value == "":
		return "", fmt.Sprintf("%s has no value: write one behind the =, or leave the line out", key)
	case len(value) > MaxText || strings.ContainsFunc(value, unprintable):
		return "", ""
	}
	if inner := strings.Trim(value, curlyQuotes); inner != value && unquotedValue.MatchString(inner) && len(inner) <= MaxName {
		return "", "the quotes must be plain ones: " + write(inner)
	}
	if q := openQuote.FindStringSubmatch(value); q != nil {
		return "", "the quote mark at the end is missing: " + write(strings.TrimSpace(q[1]))
	}
	if q := lateQuote.FindStringSubmatch(value); q != nil {
		return "", "the quote mark at the beginning is missing: " + write(strings.TrimSpace(q[1]))
	}
	if q := moreBehind.FindStringSubmatch(value); q != nil {
		return "", fmt.Sprintf("nothing may stand behind the value but a remark after #: write %s = %s", key, q[1])
	}
	if list := commas(value); list != "" {
		return "", fmt.Sprintf("the values of a list have a comma between each two: write %s = %s", key, list)
	}
	if strings.HasPrefix(value, `"`) && strings.Contains(value, `\`) {
		return "", `\ has a meaning of its own in quotes: write / or \\ in its place`
	}
	if unquotedValue.MatchString(value) && utf8.RuneCountInString(value) <= MaxName {
		return value, fmt.Sprintf("%s must stand in quotes: %s", value, write(value))
	}
	return "", fmt.Sprintf("found %s, which is no value: write a text in quotes, a number or true or false without, a list in [ ]", units.Quoted(value))
}

// commas is a list on one line with the commas it lacks, or "" if that does not put it right.
func commas(list string) string {
	inner, found := strings.CutPrefix(strings.TrimSpace(list), "[")
	inner, closed := strings.CutSuffix(inner, "]")
	if !found || !closed || len(inner) > MaxText || strings.ContainsAny(inner, "[]{}#") {
		return ""
	}
	var values []string
	for _, v := range valuesIn.FindAllString(inner, -1) {
		if !readable("x = " + v) {
			return ""
		}
		values = append(values, v)
	}
	if rest := strings.Trim(valuesIn.ReplaceAllString(inner, ""), " \t\r\n,;"); rest != "" || len(values) == 0 {
		return ""
	}
	return "[" + strings.Join(values, ", ") + "]"
}

var valuesIn = pattern.Must(`"[^"\\\n]*"|'[^']*'|[^\s,;"']+`)

var statement = pattern.Must(`^\s*([A-Za-z0-9_-]+[ \t]*=|\[[ \t]*[A-Za-z][A-Za-z0-9_-]*[ \t]*(\.[^\],]*)?\][ \t\r]*(#.*)?$)`)

// openList is where the list or inline table begins that a mistake on the line from
// start to end is in, and where it ends; last is -1 if it is not closed before the next
// statement, and first if the mistake is in none, or in one that is closed on its line.
func openList(data []byte, start, end int) (first, last int) {
	begin, depth := -1, 0
	for i := 0; i < len(data) && (i < end || depth > 0); i++ {
		switch data[i] {
		case '#':
			n := bytes.IndexByte(data[i:], '\n')
			if n < 0 {
				n = len(data) - i
			}
			i += n - 1
		case '"', '\'':
			i = stringEnd(data, i) - 1
		case '\n':
			if depth == 0 {
				continue
			}
			next, _, _ := bytes.Cut(data[i+1:], []byte("\n"))
			switch {
			case isHeader(data, begin):
				depth = 0
			case statement.Match(next):
				if i+1 >= start {
					return begin, -1
				}
				depth = 0
			}
		case '[', '{':
			if depth++; depth == 1 {
				begin = i
			}
		case ']', '}':
			if depth == 0 {
				continue
			}
			if depth--; depth == 0 && begin < start && i >= start {
				return begin, i + 1
			}
		}
	}
	if depth > 0 && begin < end && !isHeader(data, begin) {
		return begin, -1
	}
	return -1, -1
}

// isHeader reports whether a bracket is the first sign on its line.
func isHeader(data []byte, at int) bool {
	before := data[bytes.LastIndexByte(data[:at], '\n')+1 : at]
	return len(bytes.TrimSpace(before)) == 0
}
