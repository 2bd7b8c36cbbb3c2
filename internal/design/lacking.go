package design

import (
	"findrive/internal/brief"
	"findrive/internal/parts"
)

// Lacking names the kinds of part that every drive for the brief needs and of
// which the cupboard has none.
func Lacking(c *parts.Cupboard, b *brief.Brief) []string {
	c = c.InStock()
	type stock struct {
		name string
		have int
	}
	kinds := []stock{
		{"motor", len(c.Motors)}, {"cell holder", len(c.Holders)}, {"pulley", len(c.Pulleys)},
		{"rubber band", len(c.Bands)}, {"rod or dowel for axles", len(c.Axles)},
	}
	switch b.Model {
	case brief.Vehicle:
		kinds = append(kinds, stock{"wheel", len(c.Wheels)})
	case brief.Lift:
		kinds = append(kinds, stock{"drum", len(c.Drums)})
	}
	var out []string
	for _, kind := range kinds {
		if kind.have == 0 {
			out = append(out, kind.name)
		}
	}
	return out
}
