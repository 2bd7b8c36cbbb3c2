// Package drawingtest looks at finished PDFs in tests with poppler's tools
// (pdftoppm, pdfinfo, pdffonts) and with qpdf, which share no code with this program or
// with one another. Where they are not installed the test is skipped, but under CI it fails.
package drawingtest

import (
	"bytes"
	"image"
	"image/color"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// tool is the path of one of these programs.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is needed: install poppler-utils and qpdf", name)
		}
		t.Skipf("%s is not installed (poppler-utils, qpdf)", name)
	}
	return path
}

// Render is the pages of a PDF as pictures in greys.
func Render(t *testing.T, file []byte, dpi string) []Picture {
	t.Helper()
	dir := t.TempDir()
	in := filepath.Join(dir, "in.pdf")
	require.NoError(t, os.WriteFile(in, file, 0o600))
	out, err := exec.Command(tool(t, "pdftoppm"), "-gray", "-png", "-r", dpi, in, filepath.Join(dir, "page")).CombinedOutput()
	require.NoError(t, err, string(out))
	require.Empty(t, string(out), "poppler complains")
	names, err := filepath.Glob(filepath.Join(dir, "page*.png"))
	require.NoError(t, err)
	var pages []Picture
	for _, name := range names { // sorted; poppler pads the numbers
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		img, _, err := image.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		pages = append(pages, Picture{img})
	}
	require.NotEmpty(t, pages)
	return pages
}

// Info is what pdfinfo says of a PDF.
func Info(t *testing.T, file []byte) string { return run(t, "pdfinfo", file) }

// Check has qpdf look through the whole of a PDF, its cross-references and every stream.
func Check(t *testing.T, file []byte) {
	t.Helper()
	in := filepath.Join(t.TempDir(), "in.pdf")
	require.NoError(t, os.WriteFile(in, file, 0o600))
	out, err := exec.Command(tool(t, "qpdf"), "--check", in).CombinedOutput()
	require.NoError(t, err, string(out))
	require.Contains(t, string(out), "No syntax or stream encoding errors found")
}

// Structure is what pdfinfo makes of the tags of a PDF, with the words in them.
func Structure(t *testing.T, file []byte) string { return run(t, "pdfinfo", file, "-struct-text") }

// Fonts is what pdffonts says of a PDF.
func Fonts(t *testing.T, file []byte) string { return run(t, "pdffonts", file) }

// Words is the text of a PDF.
func Words(t *testing.T, file []byte) string { return run(t, "pdftotext", file, "-layout") }

func run(t *testing.T, name string, file []byte, args ...string) string {
	t.Helper()
	in := filepath.Join(t.TempDir(), "in.pdf")
	require.NoError(t, os.WriteFile(in, file, 0o600))
	args = append(args, in)
	if name == "pdftotext" {
		args = append(args, "-")
	}
	out, err := exec.Command(tool(t, name), args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// Picture is a rendered page.
type Picture struct{ image.Image }

// Dark is how much ink a dot has, 0 to 1.
func (p Picture) Dark(x, y int) float64 {
	return 1 - float64(color.GrayModel.Convert(p.At(x, y)).(color.Gray).Y)/255
}

// Across finds the middles of the lines that a row of dots crosses from x0 to
// x1, in dots, weighing each dot by its ink.
func (p Picture) Across(y, x0, x1 int) []float64 {
	return middles(x0, x1, func(x int) float64 { return p.Dark(x, y) })
}

// Down finds the middles of the lines that a column of dots crosses.
func (p Picture) Down(x, y0, y1 int) []float64 {
	return middles(y0, y1, func(y int) float64 { return p.Dark(x, y) })
}

func middles(from, to int, dark func(int) float64) []float64 {
	var out []float64
	sum, weight := 0.0, 0.0
	for at := from; at <= to; at++ {
		d := 0.0
		if at < to {
			d = dark(at)
		}
		if d > 0.1 {
			sum, weight = sum+d*(float64(at)+0.5), weight+d
		} else if weight > 0 {
			out, sum, weight = append(out, sum/weight), 0, 0
		}
	}
	return out
}
