package page

import (
	g "maragu.dev/gomponents"

	"findrive/internal/brief"
)

// modelDrawing is a line drawing of a kind of model.
func modelDrawing(m brief.Model) g.Node {
	var d []string
	switch m {
	case brief.UprightRide: // a roof over a round floor on an upright axle
		d = []string{"M10 26L40 12L70 26Z", "M40 12V48", "M14 48H66", "M20 26V44M60 26V44M30 26V40M50 26V40", "M17 44h6v4h-6zM57 44h6v4h-6zM27 40h6v4h-6zM47 40h6v4h-6z", "M34 48V54H46V48"}
	case brief.LevelRide: // a rim with spokes on a stand
		d = []string{"M40 6a21 21 0 1 1 0 42a21 21 0 1 1 0-42", "M40 27L40 6M40 27L58 16M40 27L58 38M40 27L40 48M40 27L22 38M40 27L22 16", "M40 27L28 55M40 27L52 55M24 55H56"}
	case brief.Vehicle: // a box on two wheels
		d = []string{"M12 18H60L68 34V40H12Z", "M24 40m-9 0a9 9 0 1 0 18 0a9 9 0 1 0-18 0", "M58 40m-9 0a9 9 0 1 0 18 0a9 9 0 1 0-18 0", "M4 50H76", "M60 18V34H68"}
	case brief.Lift: // a jib, a cord, a load
		d = []string{"M20 54V10H62", "M20 24L34 10", "M58 10V34", "M52 34h12v10h-12z", "M12 54H34", "M24 40a4 4 0 1 0-8 0a4 4 0 1 0 8 0", "M20 36L58 10"}
	default: // an axle with a disc in two posts
		d = []string{"M10 30H70", "M22 18V52M58 18V52", "M16 52H28M52 52H64", "M36 14h8v32h-8z"}
	}
	var paths []g.Node
	for _, p := range d {
		paths = append(paths, g.El("path", g.Attr("d", p)))
	}
	return g.El("svg", g.Attr("class", "model"), g.Attr("viewBox", "0 0 80 58"), g.Attr("aria-hidden", "true"), g.Group(paths))
}
