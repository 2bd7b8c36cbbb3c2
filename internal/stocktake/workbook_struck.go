package stocktake

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strconv"
	"strings"

	"github.com/tealeg/xlsx/v3"
)

// What is crossed out in a workbook is gone from the shelf. The library that reads XLSX
// keeps it of words within a cell, but not of whole cells, so that is read here (ISO/IEC
// 29500-1, 18.3 and 18.8).

// struckCells are the cells that are crossed out, "B8", by the name of their sheet.
func struckCells(has map[string]*zip.File) map[string]map[string]bool {
	styles := struckStyles(has["xl/styles.xml"])
	if len(styles) == 0 {
		return nil
	}
	target := map[string]string{}
	eachElement(has["xl/_rels/workbook.xml.rels"], func(el xml.StartElement) {
		if el.Name.Local == "Relationship" {
			target[plainAttribute(el, "Id")] = plainAttribute(el, "Target")
		}
	})
	out := map[string]map[string]bool{}
	eachElement(has["xl/workbook.xml"], func(el xml.StartElement) {
		if el.Name.Local != "sheet" {
			return
		}
		file := target[relation(el)]
		if !strings.HasPrefix(file, "/") {
			file = path.Join("xl", file)
		}
		struck := map[string]bool{}
		eachElement(has[strings.TrimPrefix(file, "/")], func(c xml.StartElement) {
			if c.Name.Local == "c" && styles[plainAttribute(c, "s")] {
				struck[plainAttribute(c, "r")] = true
			}
		})
		out[plainAttribute(el, "name")] = struck
	})
	return out
}

// struckStyles are the styles of cells, by their number, whose font is crossed out.
func struckStyles(styles *zip.File) map[string]bool {
	var fonts []bool
	out := map[string]bool{}
	within, formats := "", 0
	eachElement(styles, func(el xml.StartElement) {
		switch el.Name.Local {
		case "fonts", "cellXfs", "cellStyleXfs", "dxfs", "fills":
			within = el.Name.Local
		case "font":
			if within == "fonts" {
				fonts = append(fonts, false)
			}
		case "strike":
			if v := plainAttribute(el, "val"); within == "fonts" && len(fonts) > 0 && v != "0" && v != "false" {
				fonts[len(fonts)-1] = true
			}
		case "xf":
			if within != "cellXfs" {
				return
			}
			font, err := strconv.Atoi(plainAttribute(el, "fontId"))
			if err == nil && font >= 0 && font < len(fonts) && fonts[font] {
				out[strconv.Itoa(formats)] = true
			}
			formats++
		}
	})
	return out
}

// eachElement goes through the elements of a file of the archive, as far as it is sound.
func eachElement(f *zip.File, see func(xml.StartElement)) {
	if f == nil {
		return
	}
	in, err := f.Open()
	if err != nil {
		return
	}
	defer in.Close()
	dec := xml.NewDecoder(io.LimitReader(in, mostUnpacked))
	for {
		token, err := dec.Token()
		if err != nil {
			return
		}
		if el, is := token.(xml.StartElement); is {
			see(el)
		}
	}
}

func plainAttribute(el xml.StartElement, name string) string { return attribute(el, "", name) }

// relation is the file that a sheet is in, by its relation.
func relation(el xml.StartElement) string {
	for _, a := range el.Attr {
		if a.Name.Local == "id" && a.Name.Space != "" {
			return a.Value
		}
	}
	return ""
}

// standing are the words of a cell that are not crossed out; all says that none stands.
func standing(runs []xlsx.RichTextRun) (words string, all bool) {
	var b strings.Builder
	for _, r := range runs {
		if r.Font == nil || !r.Font.Strike {
			b.WriteString(r.Text)
		}
	}
	words = b.String()
	return words, strings.TrimSpace(words) == ""
}

var errMerged = errors.New("its cell is merged with others below or above, and it cannot be told how many of each there are: write one for each row")

// merged are cells that are one from a row down.
type merged struct{ row, column, more int }

// spread gives each row that a merged cell goes over its words. What is counted together
// cannot be told apart, so which cells are merged is kept.
func (g *grid) spread(all []merged) {
	byNumber := map[int]*gridRow{}
	for i := range g.rows {
		byNumber[g.rows[i].number] = &g.rows[i]
	}
	for _, m := range all {
		first := byNumber[m.row]
		if first == nil || m.column >= len(first.cells) || first.cells[m.column] == "" {
			continue
		}
		for n := m.row; n <= m.row+m.more; n++ {
			r := byNumber[n]
			if r == nil || r.blank() {
				continue
			}
			for len(r.cells) <= m.column {
				r.cells = append(r.cells, "")
			}
			if n > m.row && r.cells[m.column] == "" {
				r.cells[m.column] = first.cells[m.column]
			}
			r.width = max(r.width, len(r.cells))
			r.merged = append(r.merged, m.column)
		}
	}
}
