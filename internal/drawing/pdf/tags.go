package pdf

import (
	"fmt"
	"strings"
	"unicode/utf16"

	"codeberg.org/go-pdf/fpdf"

	"findrive/internal/drawing"
)

// element is one node of the structure tree (ISO 32000-1, 14.7.2).
type element struct {
	kind, scope string // of ISO 32000-1, 14.8.4; the scope of a table's head
	alt         string
	parent      *element
	kids        []kid
	number      int // of its object
}

// kid is an element, or a piece of marked content.
type kid struct {
	element    *element
	page, mark int
}

// tags notes while pages are painted what each mark on them belongs to.
type tags struct {
	f        *fpdf.Fpdf
	document *element
	stack    []*element   // the innermost last; nil for what is not read out
	marks    [][]*element // by page and mark, what it belongs to
	// What is being marked: an element, or else furniture.
	open      bool
	current   *element
	picture   *element // the one that is painted
	pictureIn int      // groups that are open in it
	groups    []bool   // open ones, true for those in a picture
}

func newTags(f *fpdf.Fpdf) *tags { return &tags{f: f, document: &element{kind: "Document"}} }

// page begins another.
func (t *tags) page() { t.marks = append(t.marks, nil) }

// close ends the mark that is open.
func (t *tags) close() {
	if t.open {
		t.f.RawWriteStr("EMC")
		t.open, t.current = false, nil
	}
}

// pause ends the mark that is open; what follows goes on with another.
func (t *tags) pause() { t.close() }

// mark makes sure that what is painted next belongs to an element, nil for furniture.
func (t *tags) mark(e *element) {
	if t.open && t.current == e {
		return
	}
	t.close()
	t.open, t.current = true, e
	if e == nil {
		t.f.RawWriteStr("/Artifact BMC")
		return
	}
	page := len(t.marks) - 1
	n := len(t.marks[page])
	t.marks[page] = append(t.marks[page], e)
	e.kids = append(e.kids, kid{page: page, mark: n})
	t.f.RawWriteStr(fmt.Sprintf("/%s <</MCID %d>> BDC", e.kind, n))
}

// line is for what is painted that is no words: part of a picture, or furniture.
func (t *tags) line() { t.mark(t.picture) }

// words are part of a picture, of the innermost element, or a paragraph by themselves.
func (t *tags) words() {
	switch n := len(t.stack); {
	case t.picture != nil:
		t.mark(t.picture)
	case n > 0:
		t.mark(t.stack[n-1])
	default:
		t.mark(t.add(&element{kind: "P"}))
	}
}

// add puts an element under the innermost one.
func (t *tags) add(e *element) *element {
	e.parent = t.document
	if n := len(t.stack); n > 0 && t.stack[n-1] != nil {
		e.parent = t.stack[n-1]
	}
	e.parent.kids = append(e.parent.kids, kid{element: e})
	return e
}

// begin and end enclose a group; one with a description is a picture.
func (t *tags) begin(description string) {
	switch {
	case t.picture != nil:
		t.pictureIn++
	case description != "":
		t.close()
		t.picture = t.add(&element{kind: "Figure", alt: description})
	}
	t.groups = append(t.groups, t.picture != nil)
}

func (t *tags) end() {
	in := t.groups[len(t.groups)-1]
	t.groups = t.groups[:len(t.groups)-1]
	if !in {
		return
	}
	if t.pictureIn > 0 {
		t.pictureIn--
		return
	}
	t.close()
	t.picture = nil
}

func (t *tags) push(role drawing.Role) {
	t.close()
	if role == drawing.Furniture {
		t.stack = append(t.stack, nil)
		return
	}
	kind, scope, _ := strings.Cut(string(role), " ")
	e := t.add(&element{kind: kind, scope: scope})
	t.stack = append(t.stack, e)
	if role == drawing.ListItem { // what it says is its body
		t.stack[len(t.stack)-1] = t.add(&element{kind: "LBody"})
	}
}

func (t *tags) pop() {
	t.close()
	t.stack = t.stack[:len(t.stack)-1]
}

// elements are all of a tree, each before what is in it.
func (e *element) elements() []*element {
	out := []*element{e}
	for _, k := range e.kids {
		if k.element != nil {
			out = append(out, k.element.elements()...)
		}
	}
	return out
}

// object is an element as PDF, with the numbers of the pages' objects.
func (e *element) object(parent int, pages []int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<</Type /StructElem /S /%s /P %d 0 R", e.kind, parent)
	if e.alt != "" {
		fmt.Fprintf(&b, " /Alt %s", text(e.alt))
	}
	if e.scope != "" {
		fmt.Fprintf(&b, " /A <</O /Table /Scope /%s>>", strings.ToUpper(e.scope[:1])+e.scope[1:])
	}
	b.WriteString(" /K [")
	for _, k := range e.kids {
		if k.element != nil {
			fmt.Fprintf(&b, " %d 0 R", k.element.number)
		} else {
			fmt.Fprintf(&b, " <</Type /MCR /Pg %d 0 R /MCID %d>>", pages[k.page], k.mark)
		}
	}
	b.WriteString("]>>")
	return b.String()
}

// text is words as PDF text (ISO 32000-1, 7.9.2.2: UTF-16 with its mark).
func text(words string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(words)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteByte('>')
	return b.String()
}
