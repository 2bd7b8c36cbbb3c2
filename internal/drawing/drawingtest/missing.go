package drawingtest

import (
	"slices"

	"findrive/internal/drawing"
)

// Missing lists the characters of a text that the fonts lack, each once.
// Drawings show them as boxes.
func Missing(words string) []rune {
	var out []rune
	for _, r := range words {
		if (!drawing.FaceOf(false).Has(r) || !drawing.FaceOf(true).Has(r)) && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	return out
}
