package stocktake

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
)

// Change is a part of a cupboard with another count.
type Change struct {
	Kind, Name    string
	Before, After int
}

// recount is a cupboard file with other counts and nothing else changed: comments,
// order and sizes stay. A part of which none is left is turned into comments. note
// is a comment for its first line. What was made is read and compared with what it
// should be; if the file is written in some other way than with a table for each
// part, the error says which counts to change by hand.
func recount(name string, data []byte, changes []Change, note string) ([]byte, error) {
	cup, err := parts.Read(name, data)
	if err != nil {
		return nil, err
	}
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	body := bytes.TrimPrefix(data, []byte("\ufeff"))
	var edits []edit
	for _, c := range changes {
		if c.Before == c.After {
			continue
		}
		if it := cup.Item(c.Kind, c.Name); it == nil || it.Count != c.Before {
			return nil, fmt.Errorf("%s: there is no %s %s with a count of %d", name, c.Kind, c.Name, c.Before)
		}
		e, ok := editOf(doc, body, c)
		if !ok {
			return nil, byHand(name, changes)
		}
		edits = append(edits, e...)
	}
	slices.SortFunc(edits, func(a, b edit) int { return b.at - a.at })
	for i, e := range edits {
		if i > 0 && e.at+e.length > edits[i-1].at {
			return nil, byHand(name, changes)
		}
	}
	for _, e := range edits {
		body = slices.Concat(body[:e.at], []byte(e.instead), body[e.at+e.length:])
	}
	out := slices.Concat([]byte("# "+note+"\n"), body)
	got, err := parts.Read(name, out)
	want := cup.Recounted(func(kind string, it *parts.Item) int {
		for _, c := range changes {
			if c.Kind == kind && c.Name == it.Name {
				return c.After
			}
		}
		return it.Count
	})
	if err != nil || !reflect.DeepEqual(got.InStock(), want) {
		return nil, byHand(name, changes)
	}
	return out, nil
}

// edit puts a text in place of so many bytes.
type edit struct {
	at, length int
	instead    string
}

// editOf is what to change for one part; not ok if its table is not one with a
// header of its own.
func editOf(doc *tomlfile.Document, body []byte, c Change) ([]edit, bool) {
	if c.After > 0 {
		if _, value, there := doc.Place(c.Kind, c.Name, "count"); there {
			length := 0
			for value+length < len(body) && strings.IndexByte("0123456789_+xXoObBaAcCdDeEfF", body[value+length]) >= 0 {
				length++
			}
			return []edit{{value, length, fmt.Sprint(c.After)}}, length > 0
		}
	}
	header, _, there := doc.Place(c.Kind, c.Name)
	start := bytes.LastIndexByte(body[:min(header, len(body))], '\n') + 1
	if !there || !bytes.HasPrefix(bytes.TrimSpace(body[start:]), []byte("[")) {
		return nil, false
	}
	if c.After > 0 {
		end := bytes.IndexByte(body[start:], '\n')
		if end < 0 {
			return []edit{{len(body), 0, fmt.Sprintf("\ncount = %d\n", c.After)}}, true
		}
		return []edit{{start + end + 1, 0, fmt.Sprintf("count = %d\n", c.After)}}, true
	}
	edits := []edit{{start, 0, "# None left:\n# "}}
	for at := start; ; {
		end := bytes.IndexByte(body[at:], '\n')
		if end < 0 {
			return edits, true
		}
		at += end + 1
		line, _, _ := bytes.Cut(body[at:], []byte("\n"))
		line = bytes.TrimSpace(line)
		switch {
		case len(line) == 0, line[0] == '#':
			continue
		case line[0] == '[':
			return edits, true
		}
		edits = append(edits, edit{at, 0, "# "})
	}
}

// byHand says which counts to change.
func byHand(name string, changes []Change) error {
	var list []string
	for _, c := range changes {
		if c.Before != c.After {
			list = append(list, fmt.Sprintf("%s %s from %d to %d", c.Kind, c.Name, c.Before, c.After))
		}
	}
	return fmt.Errorf("%s: it is written in a way that findrive cannot change safely; change these counts yourself: %s", name, strings.Join(list, ", "))
}
