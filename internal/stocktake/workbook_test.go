package stocktake_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/stocktake"
)

// zipped packs files into an archive.
func zipped(t testing.TB, files ...string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := z.Create(files[i])
		require.NoError(t, err)
		_, err = io.WriteString(f, files[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// replaced is an archive with one of its files replaced.
func replaced(t testing.TB, archive []byte, name, text string) []byte {
	z, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	require.NoError(t, err)
	var files []string
	for _, f := range z.File {
		in, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(in)
		require.NoError(t, err)
		if f.Name == name {
			data = []byte(text)
		}
		files = append(files, f.Name, string(data))
	}
	return zipped(t, files...)
}

func heldFile(t testing.TB, name string) []byte {
	data, err := os.ReadFile("testdata/held/" + name)
	require.NoError(t, err)
	return data
}

const (
	odBegin = `<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"><office:body><office:spreadsheet><table:table table:name="Axles">`
	odEnd   = `</table:table></office:spreadsheet></office:body></office:document-content>`
	odHead  = `<table:table-row><table:table-cell><text:p>Label</text:p></table:table-cell><table:table-cell><text:p>Diameter</text:p></table:table-cell><table:table-cell><text:p>Length</text:p></table:table-cell><table:table-cell><text:p>Qty</text:p></table:table-cell></table:table-row>`
)

// Each sort of cell of an OpenDocument sheet: what the diameter of a rod comes to, or why
// not.
func TestOpenDocumentCells(t *testing.T) {
	for _, c := range []struct{ name, cell, want string }{
		{"a figure", `office:value-type="float" office:value="5"><text:p>5</text:p>`, `diameter = "5 mm"`},
		{"shown rounded", `office:value-type="float" office:value="4.9"><text:p>5</text:p>`, `diameter = "4.9 mm"`},
		{"with what binary fractions leave", `office:value-type="float" office:value="4.9000000000000004"><text:p>4.9</text:p>`, `diameter = "4.9 mm"`},
		{"shown with a unit", `office:value-type="float" office:value="0.5"><text:p>0.50 cm</text:p>`, `diameter = "5 mm"`},
		{"shown with a decimal comma", `office:value-type="float" office:value="4.9"><text:p>4,90</text:p>`, `diameter = "4.9 mm"`},
		{"shown as a fraction", `office:value-type="float" office:value="4.5"><text:p>4 1/2</text:p>`, `diameter = "4.5 mm"`},
		{"shown with thousands parted", `office:value-type="float" office:value="5"><text:p>0 005</text:p>`, `diameter = "5 mm"`},
		{"words", `office:value-type="string"><text:p>6 mm</text:p>`, `diameter = "6 mm"`},
		{"words in pieces", `office:value-type="string"><text:p>6<text:s/><text:span>mm</text:span></text:p>`, `diameter = "6 mm"`},
		{"a comment", `office:value-type="string"><office:annotation><text:p>or 8?</text:p></office:annotation><text:p>6 mm</text:p>`, `diameter = "6 mm"`},
		{"per cent", `office:value-type="percentage" office:value="0.05"><text:p>5%</text:p>`, `"5 %" is not a length`},
		{"a date", `office:value-type="date" office:date-value="2026-08-05"><text:p>05/08</text:p>`, `"2026-08-05" is a date`},
		{"a formula gone wrong", `office:value-type="float" office:value="0"><text:p>#REF!</text:p>`, `"#REF!" is a formula that went wrong: write the size`},
		{"yes", `office:value-type="boolean" office:boolean-value="true"><text:p>TRUE</text:p>`, `"yes" does not begin with a number`},
		{"not a number", `office:value-type="float" office:value="five"><text:p>5 mm</text:p>`, `diameter = "5 mm"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			body := odHead + `<table:table-row><table:table-cell><text:p>thin</text:p></table:table-cell><table:table-cell ` + c.cell + `</table:table-cell><table:table-cell><text:p>300 mm</text:p></table:table-cell><table:table-cell office:value-type="float" office:value="8"><text:p>8</text:p></table:table-cell></table:table-row>`
			r, err := stocktake.Read("list.ods", zipped(t, "content.xml", odBegin+body+odEnd), stocktake.Options{})
			require.NoError(t, err)
			said := string(r.Cupboard)
			for _, row := range r.Lists[0].Rows {
				said += strings.Join(remarks(row), "\n")
			}
			assert.Contains(t, said, c.want)
		})
	}
}

// Number formats of XLSX: what a stored 4.9 comes to.
func TestOfficeOpenFormats(t *testing.T) {
	for _, c := range []struct{ code, want string }{
		{"General", `outside = "4.9 mm"`}, {"0", `outside = "4.9 mm"`}, {"0.0", `outside = "4.9 mm"`}, {`0.0&quot; cm&quot;`, `outside = "49 mm"`}, {`0.0\ \m\m`, `outside = "4.9 mm"`},
		{`#,##0.00`, `outside = "4.9 mm"`}, {`0.0&quot; in&quot;;\-0.0&quot; cm&quot;`, `outside = "124.46 mm"`}, {"0%", `"490 %" is not a length`}, {"d-mmm", `"1900-01-03 21:36" is a date`},
		{`[Red]0.0`, `outside = "4.9 mm"`}, {`# ?/?`, `outside = "4.9 mm"`}, {`General&quot; cm&quot;`, `outside = "49 mm"`}, {`_-* 0.0_-`, `outside = "4.9 mm"`},
	} {
		t.Run(c.code, func(t *testing.T) {
			book := heldFile(t, "21-term.xlsx")
			book = replaced(t, book, "xl/styles.xml", strings.Replace(partOf(t, book, "xl/styles.xml"), `formatCode="0.0&quot; cm&quot;"`, `formatCode="`+c.code+`"`, 1))
			sheet := strings.Replace(partOf(t, book, "xl/worksheets/sheet1.xml"), `t="n"><v>4</v>`, `t="n"><v>4.9000000000000004</v>`, 1)
			sheet = strings.Replace(sheet, `<v>4.9</v>`, `<v>2</v>`, 1) // the bore
			r, err := stocktake.Read("list.xlsx", replaced(t, book, "xl/worksheets/sheet1.xml", sheet), stocktake.Options{})
			require.NoError(t, err)
			said := string(r.Cupboard) + strings.Join(remarks(r.Lists[0].Rows[3]), "\n")
			assert.Contains(t, said, c.want)
		})
	}
}

func partOf(t testing.TB, archive []byte, name string) string {
	z, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	require.NoError(t, err)
	f, err := z.Open(name)
	require.NoError(t, err)
	data, err := io.ReadAll(f)
	require.NoError(t, err)
	return string(data)
}

// Workbooks that are damaged, too large or none are refused in plain words.
func TestWorkbooksRefused(t *testing.T) {
	term := heldFile(t, "21-term.xlsx")
	row := func(n int) string {
		return fmt.Sprintf(`<table:table-row table:number-rows-repeated="%d"><table:table-cell><text:p>x</text:p></table:table-cell></table:table-row>`, n)
	}
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"cut off", term[:len(term)/2], "this workbook is damaged"},
		{"a sheet cut off", replaced(t, term, "xl/worksheets/sheet1.xml", partOf(t, term, "xl/worksheets/sheet1.xml")[:3000]), "this workbook is damaged"},
		{"words that are not there", replaced(t, term, "xl/worksheets/sheet1.xml", strings.Replace(partOf(t, term, "xl/worksheets/sheet1.xml"), "<v>0</v>", "<v>-5</v>", 1)), "this workbook is damaged"},
		{"no sheets", replaced(t, term, "xl/workbook.xml", "<workbook/>"), "w.xlsx: "},
		{"a zip of other things", zipped(t, "readme.txt", "hello"), "this is a zip archive and no workbook"},
		{"a letter", zipped(t, "word/document.xml", "<w/>"), "this is a word processor's file"},
		{"a letter in OpenDocument", zipped(t, "content.xml", "<office/>"), "no spreadsheet"},
		{"no XML", zipped(t, "content.xml", "kind,name"), "no spreadsheet"},
		{"broken XML", zipped(t, "content.xml", odBegin+"<a>"), "this workbook is damaged"},
		{"no headings", zipped(t, "content.xml", odBegin+row(3)+odEnd), "no row of headings was found"},
		{"rows without end", zipped(t, "content.xml", odBegin+odHead+row(1_000_000)+odEnd), `sheet "Axles" has a row 5001, the most is 5000`},
		{"columns without end", zipped(t, "content.xml", odBegin+`<table:table-row><table:table-cell table:number-columns-repeated="16000"><text:p>x</text:p></table:table-cell></table:table-row>`+odEnd), "the most is 60 columns"},
		{"larger than it looks", zipped(t, "content.xml", odBegin+strings.Repeat(" ", 50<<20)+odEnd), "over 48 MB unpacked"},
		{"a long cell", zipped(t, "content.xml", odBegin+`<table:table-row><table:table-cell><text:p>`+strings.Repeat("x", 6000)+`</text:p></table:table-cell></table:table-row>`+odEnd), "has over 5000 letters"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := stocktake.Read("w.xlsx", c.data, stocktake.Options{})
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// A kit list that was filled in as a workbook is checked in as it is.
func TestKitWorkbook(t *testing.T) {
	row := func(all ...string) string {
		out := "<table:table-row>"
		for _, c := range all {
			out += "<table:table-cell><text:p>" + c + "</text:p></table:table-cell>"
		}
		return out + "</table:table-row>"
	}
	kit := zipped(t, "content.xml", odBegin+row("notes")+`</table:table><table:table table:name="Kit">`+row("kind", "part", "take", "picked", "returned")+row("axle", "thin", "4", "4", "3")+odEnd)
	r, err := stocktake.Back(stocktake.Sheet{Name: "kit.ods", Data: kit}, nil, nil, "")
	require.NoError(t, err)
	require.Len(t, r.Lines, 1)
	assert.Equal(t, 1, r.Lines[0].Missing())
}

func FuzzOpenDocument(f *testing.F) {
	f.Add([]byte(odBegin + odHead + odEnd))
	for _, held := range []string{"22-drawers.ods", "52-annual.ods"} {
		f.Add([]byte(partOf(f, heldFile(f, held), "content.xml")))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		data := zipped(t, "content.xml", string(content))
		r, err := stocktake.Read("list.ods", data, stocktake.Options{Lots: 5, Usual: true})
		if (r == nil) == (err == nil) {
			t.Fatal("either a result or an error")
		}
	})
}

func FuzzOfficeOpen(f *testing.F) {
	term := heldFile(f, "21-term.xlsx")
	f.Add([]byte(partOf(f, term, "xl/worksheets/sheet1.xml")))
	f.Add([]byte(partOf(f, heldFile(f, "51-workshop.xlsx"), "xl/worksheets/sheet1.xml")))
	f.Add([]byte(`<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>99</v></c></row></sheetData></worksheet>`))
	f.Fuzz(func(t *testing.T, sheet []byte) {
		r, err := stocktake.Read("list.xlsx", replaced(t, term, "xl/worksheets/sheet1.xml", string(sheet)), stocktake.Options{})
		if (r == nil) == (err == nil) {
			t.Fatal("either a result or an error")
		}
	})
}

// One workbook, saved by an office program in both forms, comes to the same.
func TestBothForms(t *testing.T) {
	for _, c := range []struct{ held, other string }{{"21-term.xlsx", "21-term.ods"}, {"22-drawers.ods", "22-drawers.xlsx"}, {"23-beside.xlsx", "23-beside.ods"}, {"51-workshop.xlsx", "51-workshop.ods"}, {"52-annual.ods", "52-annual.xlsx"}, {"53-register.xlsx", "53-register.ods"}} {
		other, err := os.ReadFile("testdata/other/" + c.other)
		require.NoError(t, err)
		want, err := stocktake.Read("book", heldFile(t, c.held), stocktake.Options{})
		require.NoError(t, err)
		got, err := stocktake.Read("book", other, stocktake.Options{})
		require.NoError(t, err)
		assert.Equal(t, want, got, c.held)
	}
}
