package sheet

import (
	"fmt"
	"maps"
	"slices"
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
	p.Sides = 2
	add(s.pictureRows()...)
	store := []Block{Heading("For the adult"), Text{Words: s.storeWords()}}
	lying, along := s.rodStrips()
	words := []Block{Heading("Lay your rods here"), Text{Words: s.layWords(lying)}}
	if len(lying) > 0 { // the first on one sheet with the bar that says whether it is true
		add(words...)
		add(under(ruler(), strips(lying[:1])))
		for i := 1; i < len(lying); i++ {
			add(strips(lying[i : i+1]))
		}
		words = nil
	} else {
		words = append(words, narrowRuler())
	}
	// Beside rods that lie along the paper there is room for all the words.
	words = append(words, store...)
	if len(along) > 0 {
		n := min(2, len(along))
		add(Columns{Share: 1 - float64(assemblydrawing.UprightWide)*float64(n)/alongRoom, Left: words, Right: []Block{strips(along[:n])}})
		along = along[n:]
		words = nil
	}
	for len(along) > 0 {
		n := min(3, len(along))
		add(strips(along[:n]))
		along = along[n:]
	}
	add(words...)
	return p
}

// alongRoom is the width of the narrower of the two papers without margins and the gap
// between two columns.
const alongRoom = 178

// layWords say what the strips are for.
func (s *Set) layWords(lying []*assemblydrawing.Strip) string {
	words := "Lay each rod on its strip. Does each part fit?"
	if slices.ContainsFunc(lying, (*assemblydrawing.Strip).Joined) {
		words += " A long rod goes on at the dashed line."
	}
	for i := range s.plan.Build.Bands {
		for _, in := range s.plan.Build.Bands[i].Inside {
			if in.Shaft > 0 {
				return words + fmt.Sprintf(" (Band %d) means: it goes round here too.", i+1)
			}
		}
	}
	return words
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

// pictures are those of the steps, with the children's words.
func (s *Set) pictures() []*assemblydrawing.Picture {
	return assemblydrawing.Pictures(s.plan, s.youngSides(), tileWide, func(step *assembly.Step, hang []assemblydrawing.Hung) string {
		do, check := s.youngWords(step)
		do += hangWords(hang)
		if s.afterGlue(step) {
			do = "First an adult glues. Wait. " + do
		}
		if check != "" {
			do += " " + check
		}
		return do
	})
}

// pictureRows lay the pictures out in pairs.
func (s *Set) pictureRows() []Block {
	pictures := s.pictures()
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
		out = append(out, Picture{Title: fmt.Sprintf("Step %d", pair[0].Number), Description: words, Size: drawing.Size{Width: outlineRoom, Height: max(tall, low)}, Least: low,
			Draw: func(c *drawing.Canvas, room drawing.Rect) {
				for k, p := range pair {
					x := room.X0 + (tileWide+tileGap)*units.Millimetres(k)
					p.Draw(c, drawing.Rect{X0: x, Y0: room.Y0, X1: x + tileWide, Y1: room.Y1})
				}
			}})
	}
	return out
}

// hangWords say which bands hang on which rod already.
func hangWords(list []assemblydrawing.Hung) string {
	on := map[int][]int{}
	for _, h := range list {
		on[h.Shaft] = append(on[h.Shaft], h.Stage)
	}
	out := ""
	for _, rod := range slices.Sorted(maps.Keys(on)) {
		hang := " hangs"
		if len(on[rod]) > 1 {
			hang = " hang"
		}
		out += fmt.Sprintf(" %s%s on rod %d.", units.Capital(bandNumbers(on[rod])), hang, rod)
	}
	return out
}

// bandNumbers name the bands of some stages as children do.
func bandNumbers(stages []int) string {
	var list []string
	for _, i := range stages {
		list = append(list, fmt.Sprint(i+1))
	}
	if len(list) > 1 {
		return "bands " + and(list)
	}
	return "band " + list[0]
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

// rodStrips are all axles in true size: those that lie across the paper, and longer ones
// that lie along it.
func (s *Set) rodStrips() (lying, along []*assemblydrawing.Strip) {
	for i := 1; i < len(s.plan.Build.Shafts); i++ {
		name := fmt.Sprintf("Rod %d", i)
		if i > len(s.drive.Stages) {
			name = "Free rod"
		}
		strip := assemblydrawing.StripOf(s.plan.Build, i, name, s.youngSides(), outlineRoom)
		if strip.Upright {
			along = append(along, strip)
		} else {
			lying = append(lying, strip)
		}
	}
	return lying, along
}

// strips are some axles side by side, in one picture so that none is torn apart.
func strips(list []*assemblydrawing.Strip) Picture {
	p := Picture{Title: "Rods in true size"}
	var words []string
	for _, s := range list {
		p.Size = drawing.Size{Width: p.Size.Width + s.Size.Width, Height: max(p.Size.Height, s.Size.Height)}
		words = append(words, s.Describe())
	}
	if len(list) == 1 {
		p.Title = list[0].Name
	}
	p.Description = strings.Join(words, " ")
	p.Draw = func(c *drawing.Canvas, room drawing.Rect) {
		x := room.X0
		for _, s := range list {
			s.Draw(c, drawing.Rect{X0: x, Y0: room.Y0, X1: x + s.Size.Width, Y1: room.Y0 + s.Size.Height})
			x += s.Size.Width
		}
	}
	return p
}
