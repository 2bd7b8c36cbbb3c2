package sheet

import (
	"fmt"
	"strings"

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
	rods := s.rodPictures()
	store := []Block{Heading("For the adult"), Text{Words: s.storeWords()}}
	long := rods[0].Size.Height > high
	if long { // rods that lie along the paper take sheets of their own
		add(store...)
	} else {
		p.Sides = 2
	}
	add(Heading("Lay your rods here"), Text{Words: s.layWords()})
	if long {
		add(ruler())
	} else { // on one sheet with the bar that says whether it is true
		rods[0] = under(ruler(), rods[0])
	}
	for _, r := range rods {
		add(r)
	}
	if !long {
		add(store...)
	}
	return p
}

// layWords say what the strips are for.
func (s *Set) layWords() string {
	words := "Lay each rod on its strip. Does each part fit?"
	for i := range s.plan.Build.Bands {
		for _, in := range s.plan.Build.Bands[i].Inside {
			if in.Shaft > 0 {
				return words + fmt.Sprintf(" (Band %d) means: it goes round here too.", i+1)
			}
		}
	}
	return words
}

// high is a picture that takes most of a sheet.
const high units.Millimetres = 150

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
		if s.afterGlue(step) {
			do = "First an adult glues. Wait. " + do
		}
		if check != "" {
			do += " " + check
		}
		return do
	})
	rows := (len(pictures) + 1) / 2
	tall := tileHeight(rows)
	var out []Block
	for i := 0; i < len(pictures); i += 2 {
		pair := pictures[i:min(i+2, len(pictures))]
		words, low := "", units.Millimetres(0)
		for k, p := range pair {
			low = max(low, p.Least(tileWide))
			if k > 0 {
				words += " "
			}
			words += p.Describe()
		}
		out = append(out, Picture{Title: fmt.Sprintf("Step %d", pair[0].Number), Description: words, Size: drawing.Size{Width: outlineRoom, Height: tall}, Least: min(low, tall),
			Draw: func(c *drawing.Canvas, room drawing.Rect) {
				for k, p := range pair {
					x := room.X0 + (tileWide+tileGap)*units.Millimetres(k)
					p.Draw(c, drawing.Rect{X0: x, Y0: room.Y0, X1: x + tileWide, Y1: room.Y1})
				}
			}})
	}
	return out
}

// afterGlue reports whether the step before is an adult's who glues.
func (s *Set) afterGlue(step *assembly.Step) bool {
	for i := 1; i < len(s.plan.Steps); i++ {
		if &s.plan.Steps[i] == step {
			return s.plan.Steps[i-1].Kind == assembly.GlueStep
		}
	}
	return false
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
	top := upper.Size.Height
	return Picture{Title: lower.Title, Description: upper.Description + " " + lower.Description, Size: drawing.Size{Width: lower.Size.Width, Height: top + lower.Size.Height},
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			upper.Draw(c, drawing.Rect{X0: room.X0, Y0: room.Y0, X1: room.X1, Y1: room.Y0 + top})
			lower.Draw(c, drawing.Rect{X0: room.X0, Y0: room.Y0 + top, X1: room.X1, Y1: room.Y1})
		}}
}

// rodPictures are all axles in true size, those that lie along the paper side by side.
func (s *Set) rodPictures() []Picture {
	var out []Picture
	var upright []*assemblydrawing.Strip
	var words []string
	flush := func() {
		if len(upright) == 0 {
			return
		}
		strips, long := upright, units.Millimetres(0)
		for _, u := range strips {
			long = max(long, u.Size.Height)
		}
		out = append(out, Picture{Title: "Rods in true size", Description: strings.Join(words, " "), Size: drawing.Size{Width: outlineRoom, Height: long},
			Draw: func(c *drawing.Canvas, room drawing.Rect) {
				for k, u := range strips {
					x := room.X0 + units.Millimetres(k)*assemblydrawing.UprightWide
					u.Draw(c, drawing.Rect{X0: x, Y0: room.Y0, X1: x + assemblydrawing.UprightWide, Y1: room.Y0 + u.Size.Height}, 0)
				}
			}})
		upright, words = nil, nil
	}
	for i := 1; i < len(s.plan.Build.Shafts); i++ {
		name := fmt.Sprintf("Rod %d", i)
		if i > len(s.drive.Stages) {
			name = "Free rod"
		}
		strip := assemblydrawing.StripOf(s.plan.Build, i, name, s.youngSides(), outlineRoom)
		if !strip.Upright {
			flush()
			for part := range strip.Rows {
				out = append(out, Picture{Title: name, Description: strip.Describe(), Size: strip.Size,
					Draw: func(c *drawing.Canvas, room drawing.Rect) { strip.Draw(c, room, part) }})
			}
			continue
		}
		if units.Millimetres(len(upright)+1)*assemblydrawing.UprightWide > outlineRoom {
			flush()
		}
		upright, words = append(upright, strip), append(words, strip.Describe())
	}
	flush()
	return out
}
