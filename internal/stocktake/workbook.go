package stocktake

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/tealeg/xlsx/v3"
)

// A workbook is a zip archive; both sorts that are read here are.
const zipBegins = "PK\x03\x04"

// mostUnpacked is how large a workbook may be unpacked. Zip archives can be made that
// unpack to any size.
const mostUnpacked = 48 << 20

// mostSheets is how many sheets of a workbook are read.
const mostSheets = 40

var errWorkbook = errors.New("this workbook is damaged, or locked with a password: open it, and save it again as .xlsx, .ods or .csv")

// readWorkbook reads the sheets of a workbook.
func readWorkbook(data []byte) ([]*grid, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, errWorkbook
	}
	var all uint64
	has := map[string]*zip.File{}
	for _, f := range archive.File {
		if all += f.UncompressedSize64; all > mostUnpacked || f.UncompressedSize64 > mostUnpacked {
			return nil, fmt.Errorf("the workbook has over %d MB unpacked, which no stock list needs: is it the right one?", mostUnpacked>>20)
		}
		has[f.Name] = f
	}
	switch {
	case has["xl/workbook.xml"] != nil:
		return readOfficeOpen(data, struckCells(has))
	case has["content.xml"] != nil:
		return readOpenDocument(has["content.xml"])
	case has["word/document.xml"] != nil:
		return nil, errors.New("this is a word processor's file: copy its table into a spreadsheet and save that")
	case has["xl/workbook.bin"] != nil:
		return nil, errors.New("this is a binary workbook: open it, choose Save As, and the type XLSX or CSV")
	}
	return nil, errors.New("this is a zip archive and no workbook: unpack it and give the list in it")
}

// readOfficeOpen reads an XLSX workbook (ISO/IEC 29500). The library was chosen because it
// keeps number formats, in which units may stand, and adds 0.37 MB to what a browser loads,
// compressed; larger ones add 1.5 MB, and a smaller one has no formats. It panics on some
// damaged files, and on cells without a reference, which office programs always write.
func readOfficeOpen(data []byte, struck map[string]map[string]bool) (grids []*grid, err error) {
	defer func() {
		if recover() != nil {
			grids, err = nil, errWorkbook
		}
	}()
	book, err := xlsx.OpenBinary(data, xlsx.RowLimit(MaxRows+1))
	if err != nil {
		return nil, errWorkbook
	}
	for _, s := range book.Sheets {
		g := &grid{sheet: s.Name, hidden: s.Hidden, workbook: true}
		var tall []merged
		err := s.ForEachRow(func(row *xlsx.Row) error {
			var cells []string
			var out []int
			err := row.ForEachCell(func(c *xlsx.Cell) error {
				x, _ := c.GetCoordinates()
				for len(cells) <= x {
					cells = append(cells, "")
				}
				cells[x] = officeOpenCell(c, book.Date1904)
				if c.VMerge > 0 {
					tall = append(tall, merged{row.GetCoordinate() + 1, x, c.VMerge})
				}
				words, gone := standing(c.RichText)
				if gone = gone && len(c.RichText) > 0; gone {
					for _, r := range c.RichText {
						cells[x] += r.Text
					}
				} else if len(c.RichText) > 0 {
					cells[x] = words
				}
				if gone || struck[s.Name][xlsx.GetCellIDStringFromCoords(x, row.GetCoordinate())] {
					out = append(out, x)
				}
				return nil
			}, xlsx.SkipEmptyCells)
			if err != nil {
				return err
			}
			return g.put(row.GetCoordinate()+1, cells, out)
		}, xlsx.SkipEmptyRows)
		if err != nil {
			return nil, err
		}
		g.spread(tall)
		if grids = append(grids, g); len(grids) > mostSheets {
			return nil, fmt.Errorf("there are over %d sheets: delete those that are not needed", mostSheets)
		}
	}
	return grids, nil
}

// officeOpenCell is a cell as words. A figure keeps the digits that are stored, not
// those that are shown, and has the words that its number format puts round it.
func officeOpenCell(c *xlsx.Cell, from1904 bool) string {
	if c.Value == "" && c.Formula() != "" && c.Type() == xlsx.CellTypeNumeric {
		return formulaWithoutValue
	}
	switch c.Type() {
	case xlsx.CellTypeBool:
		return truth(c.Value == "1")
	case xlsx.CellTypeNumeric, xlsx.CellTypeDate:
	default:
		return c.Value
	}
	v, err := strconv.ParseFloat(c.Value, 64)
	if err != nil {
		return c.Value
	}
	f := formatOf(c.NumFmt)
	switch {
	case f.date:
		return dateWords(xlsx.TimeFromExcelTime(v, from1904))
	case f.percent:
		return plainFigure(v*100) + " %"
	}
	return f.before + plainFigure(v) + f.behind
}

// formulaWithoutValue stands where a formula has not been reckoned.
const formulaWithoutValue = "#N/A"

func truth(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// dateWords is a date as words, without the time of the day if there is none.
func dateWords(t time.Time) string {
	if t.Hour() == 0 && t.Minute() == 0 {
		return t.Format("2006-01-02")
	}
	return t.Format("2006-01-02 15:04")
}

// plainFigure is a number without what binary fractions leave behind its last digit:
// 4.9000000000000004 is 4.9.
func plainFigure(v float64) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		rounded = v
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// format is what a number format says besides how many digits are shown.
type format struct {
	date, percent  bool
	before, behind string
}

// formatOf reads a number format such as 0.0" cm" or [$£-809]#,##0.00: of its parts for
// numbers above 0, below 0 and 0, the first.
func formatOf(code string) format {
	var f format
	var plain strings.Builder
	words := [2]strings.Builder{}
	side := 0 // before the digits, or behind them
	runes := []rune(code)
scan:
	for i := 0; i < len(runes); i++ {
		switch r := runes[i]; r {
		case ';':
			break scan
		case '"':
			for i++; i < len(runes) && runes[i] != '"'; i++ {
				words[side].WriteRune(runes[i])
			}
		case '\\':
			if i++; i < len(runes) {
				words[side].WriteRune(runes[i])
			}
		case '_', '*':
			i++
		case '[':
			end := i
			for end < len(runes) && runes[end] != ']' {
				end++
			}
			inside := string(runes[i+1 : end])
			if sign, is := strings.CutPrefix(inside, "$"); is {
				sign, _, _ = strings.Cut(sign, "-")
				words[side].WriteString(sign)
			} else if strings.Trim(strings.ToLower(inside), "hms") == "" {
				f.date = true
			}
			i = end
		case '0', '#', '?', '.', ',':
			side = 1
		case '%':
			f.percent = true
		case '$', '£', '€', ' ':
			words[side].WriteRune(r)
		default:
			plain.WriteRune(r)
		}
	}
	left := strings.ToLower(plain.String())
	if left != "general" && left != "standard" && strings.ContainsAny(left, "dmyhs") {
		f.date = true
	}
	f.before, f.behind = strings.TrimLeft(words[0].String(), " "), strings.TrimRight(words[1].String(), " ")
	if left == "general" && f.behind == "" && f.before != "" { // General"mm"
		f.before, f.behind = "", " "+strings.TrimSpace(f.before)
	}
	return f
}

// put adds a row of a workbook at its number, with the columns that are crossed out. Rows
// between are blank.
func (g *grid) put(number int, cells []string, struck []int) error {
	cells = cleaned(cells)
	if cells == nil {
		return nil
	}
	if number > MaxRows {
		return fmt.Errorf("sheet %q has a row %d, the most is %d: delete rows below the list, or split it", g.sheet, number, MaxRows)
	}
	if len(cells) > MaxColumns {
		return fmt.Errorf("sheet %q, row %d has words in column %s, the most is %d columns", g.sheet, number, Letter(len(cells)-1), MaxColumns)
	}
	for i, c := range cells {
		if len(c) > MaxCell {
			return fmt.Errorf("sheet %q, row %d, column %s: the cell has over %d letters", g.sheet, number, Letter(i), MaxCell)
		}
	}
	for len(g.rows) < number {
		n := len(g.rows) + 1
		g.rows = append(g.rows, gridRow{number: n, first: n, last: n})
	}
	r := &g.rows[number-1]
	r.cells, r.width, r.struck = cells, len(cells), struck
	return nil
}
