package tomlfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// Problem is one mistake in a document.
type Problem struct {
	File string
	// Line and Column say where, from 1, the column in characters; both are 0
	// where the whole document is meant.
	Line, Column int
	Cell         string // in a spreadsheet, where instead: row 3, column C; else empty
	Key          string // dotted path such as pulley.big.bore; may be empty
	Text         string // what was found and what would be right
	Hint         string // a name that was probably meant; may be empty
}

// Error is the problem on one line:
//
//	cupboard.toml:17:1: pulley.big.outsid: this key is not known here, did you mean "outside"?
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(Place(p.File))
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", p.Line, p.Column)
	}
	if p.Cell != "" {
		b.WriteString(": " + p.Cell)
	}
	if p.Key != "" {
		b.WriteString(": " + p.Key)
	}
	b.WriteString(": " + p.Text)
	if p.Hint != "" {
		fmt.Fprintf(&b, ", did you mean %q?", p.Hint)
	}
	return b.String()
}

// Place is a file's name as it begins a message: as it is, or in quotes if it has blanks or
// signs in it that do not show. What is no file, such as standard input, stays as it is.
func Place(file string) string {
	odd := func(r rune) bool { return unicode.IsSpace(r) || !unicode.IsPrint(r) || r == '"' }
	if file == "standard input" || strings.HasPrefix(file, "built-in ") || !strings.ContainsFunc(file, odd) {
		return file
	}
	return strconv.Quote(file)
}

// Problems are the mistakes of a document in the order of its lines, at most
// MaxProblems of them.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}
