package sheet

import "findrive/internal/drawing"

// sketch is a plain picture of the pulleys and bands for the children: no
// figures, only letters and which goes where.
func (s *Set) sketch() Picture {
	return Picture{
		Title:       "The pulleys and bands",
		Description: "A sketch of the drive with a letter at each pulley. " + s.chain() + ".",
		Size:        drawing.Size{Width: 86, Height: 62},
		Least:       48,
		Draw:        s.views.Sketch,
	}
}
