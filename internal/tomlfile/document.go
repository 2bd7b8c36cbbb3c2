// Package tomlfile reads a TOML document key by key and collects every problem
// in it, each with its line and column. It reads bytes, never files.
//
// A value with a problem is replaced by a fallback and reading goes on, so that
// one mistake never hides another. The caller asks Document.Err at the end, and
// uses what was read only if that is nil.
package tomlfile

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/pattern"
)

// Document is a document being read.
type Document struct {
	file       string
	lines      lines
	root       map[string]any
	at         map[path]position
	unreadable map[path]bare // reported already: what stood there was no TOML
	mistakes   []mistake
}

// mistake is a problem whose place and hint are still to be worked out.
type mistake struct {
	offset       int // -1 for the whole document
	line, column int // 0 if they follow from the offset
	key          path
	text         string
	found        string   // a mistyped name, and
	among        []string // the names it could have been
}

// Open reads the syntax of a document. file is its name in messages. The error,
// if any, is Problems: a document over a limit or one whose structure cannot be
// made out. Lines that are wrong only in themselves are noted and passed over.
func Open(file string, data []byte) (*Document, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // some editors begin a file with this mark
	if r := overLimit(data); r != nil {
		line, column := 0, 0
		if len(data) <= MaxBytes {
			line, column = linesOf(data).place(r.offset)
		}
		return nil, Problems{{File: file, Line: line, Column: column, Text: r.text}}
	}
	p := parse(data)
	d := &Document{file: file, lines: linesOf(p.data), root: p.root, unreadable: map[path]bare{}}
	d.mistakes = p.mistakes
	if p.root == nil {
		return nil, d.Err()
	}
	d.at = positionsOf(p.data)
	found := map[int]bool{}
	for k, at := range d.at {
		line := d.lines.line(at.key)
		if b, is := p.mended[line]; is {
			d.unreadable[k], found[line] = b, true
		}
	}
	if len(found) < len(p.mended) { // a mended line was part of a long text
		return nil, d.Err()
	}
	return d, nil
}

// fail notes a problem with the value of a key, or with the key itself.
func (d *Document) fail(m mistake, atValue bool) {
	for k := m.key; ; k = k.parent() {
		if at, ok := d.at[k]; ok {
			m.offset = at.key
			if atValue && k == m.key {
				m.offset = at.value
			}
			break
		}
		if k == "" {
			m.offset = -1
			break
		}
	}
	d.mistakes = append(d.mistakes, m)
}

// Err is all the problems found so far, as Problems, or nil if there are none.
func (d *Document) Err() error {
	if len(d.mistakes) == 0 {
		return nil
	}
	sorted := slices.Clone(d.mistakes)
	slices.SortStableFunc(sorted, func(a, b mistake) int { return cmp.Compare(a.offset, b.offset) })
	problems := make(Problems, 0, min(len(sorted), MaxProblems+1))
	compared := 0
	for i, m := range sorted {
		if i == MaxProblems {
			problems = append(problems, Problem{File: d.file, Text: fmt.Sprintf("there are %d problems more", len(sorted)-i)})
			break
		}
		if compared += len(m.among); compared > mostCompared {
			m.among = nil
		}
		problems = append(problems, d.problem(m))
	}
	return problems
}

func (d *Document) problem(m mistake) Problem {
	p := Problem{File: d.file, Line: m.line, Column: m.column, Key: asWritten(m.key).String(), Text: m.text}
	if m.line == 0 && m.offset >= 0 {
		p.Line, p.Column = d.lines.place(m.offset)
	}
	if len(m.among) > 0 {
		p.Hint = Nearest(m.found, m.among)
		if p.Hint == "" {
			p.Text += "; it can be " + oneOf(m.among)
		}
	}
	return p
}

// mostCompared is how many names are looked through for what was meant by others,
// all mistakes together: far more than honest mistakes take.
const mostCompared = 20_000

// mostListed is how many names a message lists.
const mostListed = 30

// oneOf lists names as "a, b or c", the first of them if there are many.
func oneOf(names []string) string {
	if len(names) > mostListed {
		return fmt.Sprintf("%s or %d others", strings.Join(names[:mostListed], ", "), len(names)-mostListed)
	}
	if len(names) == 1 {
		return names[0]
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// renamed ends the name that a table has while it is read whose own is there already.
var renamed = pattern.Must(` \(line \d+\)(` + pathJoint + `|$)`)

// asWritten is a path without the names that tables have only while they are read.
func asWritten(p path) path { return path(renamed.ReplaceAllString(string(p), "$1")) }
