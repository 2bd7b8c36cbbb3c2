package views

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
)

// Tidy and Datum are for the tests that look at the package from outside.
func Tidy(t require.TestingT, c *drawing.Canvas, page drawing.Rect) { tidy(t, c, page) }

func Datum(t *testing.T, page *drawing.Page, pic drawingtest.Picture, back bool) (x, y float64) {
	return datumIn(t, page, pic, 0, back)
}

// Words are the texts of a page, in the order in which they were written.
func Words(p *drawing.Page) []string {
	var w words
	p.Paint(&w)
	var out []string
	for _, x := range w.texts {
		out = append(out, x.Words)
	}
	return out
}
