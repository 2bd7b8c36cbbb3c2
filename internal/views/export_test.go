package views

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
)

// Tidy and Datum are for the tests that look at the package from outside.
func Tidy(t require.TestingT, c *drawing.Canvas, page drawing.Rect) { tidy(t, c, page) }

func Datum(t *testing.T, pic drawingtest.Picture, length float64, back bool) (x, y float64) {
	return datumIn(t, pic, &scene{frame: frame{length: mm(length)}}, back)
}
