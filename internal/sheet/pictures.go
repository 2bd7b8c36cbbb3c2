package sheet

import (
	"slices"

	"findrive/internal/discdrawing"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Names of the pages, in the order in which they are wanted.
const (
	BuildPage    = "build"
	DrawingPage  = "drawing"
	TemplatePage = "template"
	StepsPage    = "steps"
	PupilsPage   = "pupils"
	AnswersPage  = "answers"
	KitPage      = "kit"
)

// Names lists the pages.
func Names() []string {
	return []string{BuildPage, DrawingPage, TemplatePage, StepsPage, PupilsPage, AnswersPage, KitPage}
}

// Page is one of the pages by its name, but for the drilling template and the discs,
// which are true to size and so only ever on paper; ok is false for that and for names that
// are not known.
func (s *Set) Page(name string) (p Page, ok bool, err error) {
	switch name {
	case BuildPage:
		p, err = s.Build()
		p.Sides = 2
	case DrawingPage:
		p = s.Drawing()
		p.Sides = 1
	case StepsPage:
		p = s.Making()
	case PupilsPage:
		p = s.Pupils()
		p.Sides = 2
	case AnswersPage:
		p = s.Answers()
		p.Sides = 1
	case KitPage:
		p, err = s.Kit()
		p.Sides = 2
	default:
		return Page{}, false, nil
	}
	return p, true, err
}

// Paper is one of the pages laid out on paper; nil for a name that is not known.
func (s *Set) Paper(name string, size drawing.Size) (*drawing.Drawing, error) {
	if name == TemplatePage {
		return &drawing.Drawing{Title: "Drilling template: " + s.id.Name, Description: s.id.Line(),
			Pages: s.views.Templates(size, s.id.Line()+": "+s.id.Print)}, nil
	}
	if name == DiscsPage && len(s.plan.Build.Made) > 0 {
		return &drawing.Drawing{Title: "Discs to cut: " + s.id.Name, Description: s.id.Line(), Pages: discdrawing.Pages(s.discJob(), size)}, nil
	}
	p, ok, err := s.Page(name)
	if !ok || err != nil {
		return nil, err
	}
	return p.Paper(size), nil
}

// How high the drawings of the drive may be: the side view on the build sheet,
// which leaves room for the making, and both views by themselves, as large as the
// shorter of the two papers allows.
const (
	sideHeight = 88
	sideLeast  = 62
	bothHeight = 204
	bothLeast  = 150
)

// sideShare is how much of the width of the build sheet the side view has, sideWide how
// much that is on the narrower of the two papers.
const (
	sideShare                   = 0.7
	sideWide  units.Millimetres = (outlineRoom - between) * sideShare
)

// Drawing is the side view and the view along the axles, by themselves.
func (s *Set) Drawing() Page {
	return Page{Name: DrawingPage, Title: "Drawing: " + s.id.Name, Identity: s.id, Blocks: []Block{s.bothPicture(), Text{Words: s.centres()}, s.holeTable()}}
}

// centres are the centre distances in words: in a crowded drawing there is not
// always room for them.
func (s *Set) centres() string {
	var list []string
	for i := range s.drive.Stages {
		list = append(list, s.between(i)+" "+mm(s.drive.Stages[i].Centre)+" mm")
	}
	return "Middles apart: " + and(list) + "."
}

func (s *Set) bothPicture() Picture {
	holes := s.holeTable()
	return Picture{Title: "The drive", Description: s.views.Describe(), Size: drawing.Size{Width: outlineRoom, Height: s.views.BothHeight(outlineRoom, bothHeight)}, Least: bothLeast, Draw: s.views.Both, Facts: &holes}
}

func (s *Set) sidePicture() Picture {
	high := s.views.SideHeight(sideWide, sideHeight)
	holes := s.holeTable()
	return Picture{Title: "The drive", Description: s.views.Describe(), Size: drawing.Size{Width: outlineRoom, Height: high}, Least: min(high, sideLeast), Draw: s.views.Side, Facts: &holes}
}

// hasTable reports whether a page has a table of that caption.
func hasTable(blocks []Block, caption string) bool {
	return slices.ContainsFunc(flat(blocks), func(b Block) bool { t, ok := b.(Table); return ok && t.Caption == caption })
}
