package stocktake

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"findrive/internal/pattern"
)

// The OpenDocument names of the XML that is read (OASIS Open Document Format 1.3, part 3).
const (
	odTable  = "urn:oasis:names:tc:opendocument:xmlns:table:1.0"
	odOffice = "urn:oasis:names:tc:opendocument:xmlns:office:1.0"
	odText   = "urn:oasis:names:tc:opendocument:xmlns:text:1.0"
	odStyle  = "urn:oasis:names:tc:opendocument:xmlns:style:1.0"
)

// openDocument is a spreadsheet on its way to grids. No well-kept library reads these
// files, so this reads just what a list has: sheets, rows, cells and their values.
type openDocument struct {
	grids   []*grid
	style   string          // the one being read
	hidden  map[string]bool // styles of sheets that are not shown
	struck  map[string]bool // styles of cells and words that are crossed out
	inTable int             // tables may be within tables; only the outer ones are sheets
	row     []string
	out     []int    // columns of the row that are crossed out
	tall    []merged // of the sheet
	number  int      // of the row being read
	repeat  int      // how many rows it stands for
}

// readOpenDocument reads the sheets of a spreadsheet.
func readOpenDocument(content *zip.File) ([]*grid, error) {
	in, err := content.Open()
	if err != nil {
		return nil, errWorkbook
	}
	defer in.Close()
	d := openDocument{hidden: map[string]bool{}, struck: map[string]bool{}}
	dec := xml.NewDecoder(in)
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, errWorkbook
		}
		switch el := token.(type) {
		case xml.StartElement:
			err = d.start(dec, el)
		case xml.EndElement:
			err = d.end(el)
		}
		if err != nil {
			return nil, err
		}
	}
	if len(d.grids) == 0 {
		return nil, errors.New("this is an office program's file, but no spreadsheet: save the table in it as a spreadsheet")
	}
	return d.grids, nil
}

// attribute is that of an element, or "".
func attribute(el xml.StartElement, space, name string) string {
	for _, a := range el.Attr {
		if a.Name.Space == space && a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// repeated is how often an element stands for itself.
func repeated(el xml.StartElement, name string) int {
	n, err := strconv.Atoi(attribute(el, odTable, name))
	if err != nil || n < 1 {
		return 1
	}
	return n
}

func (d *openDocument) start(dec *xml.Decoder, el xml.StartElement) error {
	switch {
	case el.Name.Space == odStyle && el.Name.Local == "style":
		d.style = attribute(el, odStyle, "name")
	case el.Name.Space == odStyle && el.Name.Local == "table-properties":
		if attribute(el, odTable, "display") == "false" {
			d.hidden[d.style] = true
		}
	case el.Name.Space == odStyle && el.Name.Local == "text-properties":
		if line := attribute(el, odStyle, "text-line-through-style"); line != "" && line != "none" {
			d.struck[d.style] = true
		}
	case el.Name.Space != odTable:
	case el.Name.Local == "table":
		if d.inTable++; d.inTable > 1 {
			break
		}
		if len(d.grids) == mostSheets {
			return fmt.Errorf("there are over %d sheets: delete those that are not needed", mostSheets)
		}
		d.grids = append(d.grids, &grid{sheet: attribute(el, odTable, "name"), hidden: d.hidden[attribute(el, odTable, "style-name")], workbook: true})
		d.number, d.tall = 1, nil
	case d.inTable != 1:
	case el.Name.Local == "table-row":
		d.row, d.out, d.repeat = nil, nil, repeated(el, "number-rows-repeated")
	case el.Name.Local == "table-cell", el.Name.Local == "covered-table-cell":
		words, gone, err := openDocumentCell(dec, el, d.struck)
		if err != nil {
			return errWorkbook
		}
		if more := repeated(el, "number-rows-spanned") - 1; more > 0 {
			d.tall = append(d.tall, merged{d.number, len(d.row), more})
		}
		gone = gone || d.struck[attribute(el, odTable, "style-name")]
		// Empty cells run on to the last column there can be.
		for range min(repeated(el, "number-columns-repeated"), MaxColumns+1) {
			if len(d.row) > MaxColumns {
				break
			}
			if gone {
				d.out = append(d.out, len(d.row))
			}
			d.row = append(d.row, words)
		}
	}
	return nil
}

func (d *openDocument) end(el xml.EndElement) error {
	switch {
	case el.Name.Space != odTable:
	case el.Name.Local == "table":
		if d.inTable--; d.inTable == 0 {
			d.grids[len(d.grids)-1].spread(d.tall)
		}
	case el.Name.Local == "table-row" && d.inTable == 1:
		g := d.grids[len(d.grids)-1]
		if cleaned(d.row) != nil {
			for i := range d.repeat {
				if err := g.put(d.number+i, d.row, d.out); err != nil {
					return err
				}
			}
		}
		d.number += d.repeat
	}
	return nil
}

// openDocumentCell reads a cell up to its end. What is written in comments is left out, and
// what is crossed out, unless it is all there is; gone says that. struck are the styles of
// words that are crossed out.
func openDocumentCell(dec *xml.Decoder, el xml.StartElement, struck map[string]bool) (words string, gone bool, err error) {
	var shown, out strings.Builder
	crossed := 0 // how deep within what is crossed out; 0 for not at all
	for depth := 1; depth > 0; {
		token, err := dec.Token()
		if err != nil {
			return "", false, err
		}
		switch t := token.(type) {
		case xml.StartElement:
			if t.Name.Space == odOffice && t.Name.Local == "annotation" || t.Name.Space == odTable {
				if err := dec.Skip(); err != nil {
					return "", false, err
				}
				continue
			}
			depth++
			if crossed > 0 || t.Name.Space == odText && t.Name.Local == "span" && struck[attribute(t, odText, "style-name")] {
				crossed++
			}
			if t.Name.Space == odText {
				switch t.Name.Local {
				case "p", "s", "tab", "line-break":
					shown.WriteByte(' ')
				}
			}
		case xml.EndElement:
			depth--
			crossed = max(0, crossed-1)
		case xml.CharData:
			switch {
			case crossed > 0:
				out.Write(t)
			case depth > 1:
				shown.Write(t)
			}
		}
	}
	if out.Len() > 0 {
		if left := strings.TrimSpace(shown.String()); left != "" {
			return left, false, nil
		}
		return strings.TrimSpace(out.String()), true, nil
	}
	words = strings.TrimSpace(shown.String())
	switch attribute(el, odOffice, "value-type") {
	case "float", "currency":
		v, err := strconv.ParseFloat(attribute(el, odOffice, "value"), 64)
		if err != nil || strings.HasPrefix(words, "#") { // a formula gone wrong
			return words, false, nil
		}
		return likeShown(words, v), false, nil
	case "percentage":
		v, err := strconv.ParseFloat(attribute(el, odOffice, "value"), 64)
		if err != nil {
			return words, false, nil
		}
		return plainFigure(v*100) + " %", false, nil
	case "date":
		day, hour, _ := strings.Cut(attribute(el, odOffice, "date-value"), "T")
		return strings.TrimSpace(day + " " + hour), false, nil
	case "boolean":
		return truth(attribute(el, odOffice, "boolean-value") == "true"), false, nil
	}
	return words, false, nil
}

var shownFigure = pattern.Must(`^(\D*?)-?\d(?:[\d.,’'\s\x{a0}\x{202f}]*\d)?(?:[eE][+-]?\d+)?(\D*)$`)

// likeShown is a stored figure with the words that stand round it where it is shown.
// How many digits are shown is left aside: 4.9 may be shown as 5.
func likeShown(shown string, v float64) string {
	if shown != "" && !strings.ContainsAny(shown, "0123456789") {
		return truth(!strings.EqualFold(shown, "false")) // shown as TRUE, which is no figure
	}
	m := shownFigure.FindStringSubmatch(shown)
	if m == nil {
		return plainFigure(v)
	}
	return strings.TrimRight(m[1], "-−") + plainFigure(v) + m[2]
}
