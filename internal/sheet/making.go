package sheet

import (
	"fmt"

	"findrive/internal/assembly"
	"findrive/internal/assemblydrawing"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Making is the page with the pictures: one for each step, in the order of the build
// sheet, then every axle in true size, and how all is put away.
func (s *Set) Making() Page {
	p := Page{Name: StepsPage, Title: "Build our " + s.thing(), Identity: s.id, Young: true}
	add := func(b ...Block) { p.Blocks = append(p.Blocks, b...) }
	add(s.pictureRows()...)
	add(Heading("Lay your rods here"), Text{Words: "Lay each rod on its strip. Does each part fit?"})
	for i := 1; i < len(s.plan.Build.Shafts); i++ {
		strip := s.strip(i)
		if i == 1 { // with the bar that says whether it is true
			strip = under(ruler(), strip)
		}
		add(strip)
	}
	add(Heading("For the adult"), Text{Words: s.storeWords()})
	return p
}

const (
	tileGap  units.Millimetres = 3
	tileWide units.Millimetres = (outlineRoom - tileGap) / 2
)

// tileHeights are those of a picture when there are so many rows of them: as large as
// the shorter of the two papers allows, and no larger than is needed.
func tileHeight(rows int) units.Millimetres {
	const room, most, least = 222, 60, 43
	return max(least, min(most, room/units.Millimetres(max(1, rows))-tileGap))
}

// pictureRows lay the pictures out in pairs.
func (s *Set) pictureRows() []Block {
	pictures := assemblydrawing.Pictures(s.plan, s.youngSides(), func(step *assembly.Step) string {
		do, check := s.youngWords(step)
		if check != "" {
			do += " " + check
		}
		return do
	})
	rows := (len(pictures) + 1) / 2
	high := tileHeight(rows)
	var out []Block
	for i := 0; i < len(pictures); i += 2 {
		pair := pictures[i:min(i+2, len(pictures))]
		words := ""
		for k, p := range pair {
			if k > 0 {
				words += " "
			}
			words += p.Describe()
		}
		out = append(out, Picture{Title: fmt.Sprintf("Step %d", pair[0].Number), Description: words, Size: drawing.Size{Width: outlineRoom, Height: high},
			Draw: func(c *drawing.Canvas, room drawing.Rect) {
				for k, p := range pair {
					x := room.X0 + (tileWide+tileGap)*units.Millimetres(k)
					p.Draw(c, drawing.Rect{X0: x, Y0: room.Y0, X1: x + tileWide, Y1: room.Y1})
				}
			}})
	}
	return out
}

// youngSides are the frame's two sides in the children's words.
func (s *Set) youngSides() [2]string {
	if s.upright() {
		return [2]string{"top", "bottom"}
	}
	return [2]string{"front", "back"}
}

// under is a picture with another below it.
func under(upper, lower Picture) Picture {
	high := upper.Size.Height
	return Picture{Title: lower.Title, Description: upper.Description + " " + lower.Description, Size: drawing.Size{Width: lower.Size.Width, Height: high + lower.Size.Height},
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			upper.Draw(c, drawing.Rect{X0: room.X0, Y0: room.Y0, X1: room.X1, Y1: room.Y0 + high})
			lower.Draw(c, drawing.Rect{X0: room.X0, Y0: room.Y0 + high, X1: room.X1, Y1: room.Y1})
		}}
}

// strip is an axle in true size.
func (s *Set) strip(shaft int) Picture {
	name := fmt.Sprintf("Rod %d", shaft)
	if shaft > len(s.drive.Stages) {
		name = "Free rod"
	}
	strip := assemblydrawing.StripOf(s.plan.Build, shaft, name, s.youngSides(), outlineRoom)
	return Picture{Title: name, Description: strip.Describe(), Size: strip.Size, Draw: strip.Draw}
}
