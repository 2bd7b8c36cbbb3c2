package tomlfile

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"findrive/internal/utf16text"
)

// Limits on a document. They are far above what any cupboard or brief needs,
// and low enough that whatever is thrown at the reader is refused at once and
// in little memory.
const (
	MaxBytes    = 1 << 20 // of the whole document
	MaxTables   = 2000    // headers and inline tables together
	MaxDepth    = 8       // of brackets within brackets, and of dots in a key
	MaxKeys     = 40_000  // key = value pairs
	MaxName     = 60      // runes in a name or key
	MaxText     = 200     // runes in a text
	MaxProblems = 100     // reported at once
)

// refusal is a limit overstepped at a place in the document.
type refusal struct {
	offset int
	text   string
}

// overLimit looks a document through once, before any parser sees it, for
// whatever would cost a parser much time or memory. It is nil if all is well.
// It needs to know no more of TOML than strings, comments and brackets, and
// errs on the side of counting too much.
func overLimit(data []byte) *refusal {
	if len(data) > MaxBytes {
		return &refusal{0, fmt.Sprintf("the document has %d bytes, the most is %d", len(data), MaxBytes)}
	}
	if utf16text.Order(data) != nil { // told of line by line every sign would have one too many
		return &refusal{0, "this is not UTF-8 text: save the file as plain text in UTF-8"}
	}
	if !utf8.Valid(data) {
		return &refusal{firstInvalid(data), "this is not UTF-8 text: save the file as plain text in UTF-8"}
	}
	var depth, dots, tables, keys int
	fresh := true // whether the line has shown nothing but blanks so far
	for i := 0; i < len(data); i++ {
		switch c := data[i]; c {
		case '#':
			if end := bytes.IndexByte(data[i:], '\n'); end >= 0 {
				i += end - 1
			} else {
				i = len(data)
			}
			continue
		case '"', '\'':
			i = stringEnd(data, i) - 1
		case '\n':
			dots, fresh = 0, true
			continue
		case ' ', '\t', '\r':
			continue
		case '.':
			dots++
		case '=':
			dots = 0
			keys++
		case ',':
			dots = 0
		case '[', '{':
			depth++
			if c == '{' || fresh && depth == 1 {
				tables++
			}
		case ']', '}':
			depth = max(0, depth-1)
		}
		fresh = false
		switch {
		case depth > MaxDepth:
			return &refusal{i, fmt.Sprintf("brackets are nested more than %d deep", MaxDepth)}
		case dots >= MaxDepth:
			return &refusal{i, fmt.Sprintf("a key has more than %d parts", MaxDepth)}
		case tables > MaxTables:
			return &refusal{i, fmt.Sprintf("there are more than %d tables", MaxTables)}
		case keys > MaxKeys:
			return &refusal{i, fmt.Sprintf("there are more than %d keys", MaxKeys)}
		}
	}
	return nil
}

// stringEnd is the index behind the string that begins at i. A string that is
// not closed ends with its line, or with the document if it may span lines.
func stringEnd(data []byte, i int) int {
	quote := data[i]
	escapes := quote == '"'
	long := bytes.HasPrefix(data[i:], []byte{quote, quote, quote})
	if long {
		i += 2
	}
	for i++; i < len(data); i++ {
		switch {
		case data[i] == '\\' && escapes:
			i++
		case data[i] == '\n' && !long:
			return i
		case data[i] == quote && (!long || bytes.HasPrefix(data[i:], []byte{quote, quote, quote})):
			if !long {
				return i + 1
			}
			return i + 3
		}
	}
	return len(data)
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
