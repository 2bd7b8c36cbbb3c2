//go:build !js

package sheet_test

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/browsertest"
	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/sheet"
	"findrive/internal/units"
)

// printing is a page as a browser prints it, as a PDF.
func printing(t *testing.T, browser context.Context, p *sheet.Page) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, p.HTML(&out))
	path := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
	require.NoError(t, chromedp.Do(browser, chromedp.Navigate("file://"+path)))
	printed, err := chromedp.Run(browser, chromedp.PrintToPDF(func(q *page.PrintToPDFParams) { q.PreferCSSPageSize = new(true) }))
	require.NoError(t, err)
	return printed
}

// sides are the words on each side of a PDF, in alphabetical order.
func sides(t *testing.T, file []byte) [][]string {
	var out [][]string
	for _, side := range strings.Split(strings.TrimSuffix(drawingtest.Words(t, file), "\f"), "\f") {
		out = append(out, slices.Sorted(slices.Values(strings.Fields(side))))
	}
	return out
}

// Web pages print on the paper that was chosen, on as many sides as the PDF, with the
// same words on each.
func TestWebPagesPrintAsThePDF(t *testing.T) {
	browser := browsertest.Start(t, 4*time.Minute)
	all := fourStageDrives(t)
	maps.Copy(all, drawnDrives(t, 1))
	for _, name := range sheet.Every {
		all[name] = sheet.Saved(t, name)
	}
	n := 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		s, err := sheet.New(all[name], 1, sheet.DefaultOptions())
		require.NoError(t, err, name)
		pages := []string{sheet.BuildPage, sheet.PupilsPage}
		if slices.Contains(sheet.Every, name) {
			pages = []string{sheet.BuildPage, sheet.DrawingPage, sheet.StepsPage, sheet.PupilsPage, sheet.AnswersPage, sheet.KitPage}
		}
		for _, which := range pages {
			p, _, err := s.Page(which)
			require.NoError(t, err)
			points := "594.96|595"
			if n++; n%3 == 0 {
				p.Print, points = drawing.Letter, "612"
			}
			size := drawing.A4
			if p.Print.Width > 0 {
				size = p.Print
			}
			var want bytes.Buffer
			require.NoError(t, pdf.Write(&want, p.Paper(size)))
			got := printing(t, browser, &p)
			assert.Regexp(t, "Page size: +("+points+")", drawingtest.Info(t, got), "%s, %s", name, which)
			assert.Equal(t, sides(t, want.Bytes()), sides(t, got), "%s, %s", name, which)
		}
	}
}

// What is in true size on paper is so when the web page is printed.
func TestWebPagesPrintInTrueSize(t *testing.T) {
	const long, dpi = 100.0, 300
	at := drawing.Point{}
	bars := sheet.Picture{Title: "Bars", Size: drawing.Size{Width: 120, Height: 120}, Draw: func(c *drawing.Canvas, room drawing.Rect) {
		at = drawing.Point{X: room.X0, Y: room.Y0}
		for _, far := range []units.Millimetres{5, 5 + long} {
			c.Line(at.Plus(far, 5), at.Plus(far, 15), drawing.Outline)
			c.Line(at.Plus(110, far+8), at.Plus(118, far+8), drawing.Outline)
		}
	}}
	browser := browsertest.Start(t, 4*time.Minute)
	for _, size := range []drawing.Size{drawing.A4, drawing.Letter} {
		p := sheet.Page{Title: "Bars", Print: size, Blocks: []sheet.Block{bars}}
		file := printing(t, browser, &p)
		at = drawing.Point{}
		p.Paper(size) // says where the picture is
		sides := drawingtest.Render(t, file, fmt.Sprint(dpi))
		require.Len(t, sides, 1)
		dots := func(mm float64) int { return int(math.Round(mm / 25.4 * dpi)) }
		x, y := float64(at.X), float64(at.Y)
		across := sides[0].Across(dots(y+10), dots(x+1), dots(x+109))
		down := sides[0].Down(dots(x+114), dots(y+9), dots(y+119))
		for _, found := range [][]float64{across, down} {
			require.Len(t, found, 2)
			assert.InDelta(t, long, (found[1]-found[0])/dpi*25.4, 0.1)
		}
	}
}
