package sheet

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/drawing/svg"
)

//go:embed page.html
var pageHTML string

var pageTemplate = template.Must(template.New("page").Parse(pageHTML))

// HTML writes a page as one file that needs nothing else, for screens and for
// screen readers: the same blocks, with each picture's facts in a table.
func (p *Page) HTML(w io.Writer) error {
	v, heading := htmlPage{Page: p}, ""
	for _, b := range flat(p.Blocks) {
		block, err := p.htmlBlockOf(b)
		if err != nil {
			return err
		}
		if block.Heading != "" {
			heading = block.Heading
		}
		if block.Table != nil {
			block.Table.Said = block.Table.Caption == heading
		}
		v.Parts = append(v.Parts, block)
	}
	var out bytes.Buffer
	if err := pageTemplate.Execute(&out, v); err != nil {
		return err
	}
	_, err := out.WriteTo(w)
	return err
}

type htmlPage struct {
	*Page
	Parts []htmlBlock
}

// htmlBlock has exactly one part set.
type htmlBlock struct {
	Heading string
	Text    *Text
	Steps   *Steps
	Table   *htmlTable
	Boxes   *Boxes
	Picture *htmlPicture
}

type htmlTable struct {
	*Table
	Cells [][]htmlCell
	Heads []htmlCell
	Said  bool // the heading above has the same words: the caption is for screen readers only
}

type htmlCell struct {
	Words       string
	Name, Right bool
	Empty       bool
}

type htmlPicture struct {
	SVG         template.HTML
	Description string
	Facts       *htmlTable
}

func (p *Page) htmlBlockOf(b Block) (htmlBlock, error) {
	switch b := b.(type) {
	case Heading:
		return htmlBlock{Heading: string(b)}, nil
	case Text:
		return htmlBlock{Text: &b}, nil
	case Steps:
		return htmlBlock{Steps: &b}, nil
	case Boxes:
		return htmlBlock{Boxes: &b}, nil
	case Table:
		return htmlBlock{Table: htmlTableOf(&b)}, nil
	case Picture:
		page := drawing.NewPage(b.Size, b.Title)
		page.Description = b.Description
		b.Draw(&page.Canvas, b.Size.Bounds())
		var out bytes.Buffer
		if err := svg.Write(&out, page); err != nil {
			return htmlBlock{}, err
		}
		// The SVG writer escapes all words itself.
		pic := &htmlPicture{SVG: template.HTML(out.String()), Description: b.Description}
		if b.Facts != nil && !hasTable(p.Blocks, b.Facts.Caption) {
			pic.Facts = htmlTableOf(b.Facts)
		}
		return htmlBlock{Picture: pic}, nil
	}
	return htmlBlock{}, nil
}

func htmlTableOf(t *Table) *htmlTable {
	out := &htmlTable{Table: t}
	cells := func(row []string) []htmlCell {
		var line []htmlCell
		for i, c := range row {
			line = append(line, htmlCell{Words: c, Name: t.Names && i == 0, Right: slices.Contains(t.Right, i), Empty: c == ""})
		}
		return line
	}
	out.Heads = cells(t.Head)
	for _, r := range t.Rows {
		out.Cells = append(out.Cells, cells(r))
	}
	return out
}
