package sheet

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/discdrawing"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// DiscsPage is the page with the discs of pulleys that are to be made. Only a drive with
// such pulleys has it.
const DiscsPage = "discs"

// AllNames lists the pages with those that only some drives have.
func AllNames() []string { return append(Names(), DiscsPage) }

// Pages lists the pages of this drive.
func (s *Set) Pages() []string {
	if len(s.plan.Build.Made) == 0 {
		return Names()
	}
	return AllNames()
}

// made lists the pulleys that are to be made, in driving order.
func (s *Set) made() []fitted {
	var out []fitted
	for _, p := range s.pulleys {
		if p.Made != nil {
			out = append(out, p)
		}
	}
	return out
}

// toMake tells whether a use of the cupboard's list is of pulleys to be made.
func (s *Set) toMake(u *certificate.Use) bool {
	return u.Kind == "pulley" && slices.ContainsFunc(s.made(), func(p fitted) bool { return p.Name == u.Name })
}

// youngMade tells the children which pulleys they make.
func (s *Set) youngMade() string {
	var letters []string
	for _, p := range s.made() {
		letters = append(letters, p.letter)
	}
	if len(letters) == 0 {
		return ""
	}
	return " You make " + and(letters) + "."
}

// discJob is what is to be cut for all sets.
func (s *Set) discJob() *discdrawing.Job {
	return jobOf(s.id, []discShare{{s, "", s.sets}})
}

func drawnDisc(d *certificate.Disc) discdrawing.Disc {
	return discdrawing.Disc{Diameter: units.Millimetres(d.Diameter), Thickness: units.Millimetres(d.Thickness), Kind: d.Kind, Sheet: d.Sheet, Way: d.Way,
		Adult: parts.CuttingWay(d.Way).Adult()}
}

// discBlocks are the discs on the cutting list; none where no pulley is to be made.
func (s *Set) discBlocks() []Block {
	return discBlocks([]discShare{{s, "", s.sets}}, plural(s.sets, "set", "sets"))
}

// cutBy is a way of cutting with whose job it is.
func cutBy(way string) string {
	if parts.CuttingWay(way).Adult() {
		return "ADULT: " + way
	}
	return way
}

// discWords say what is done about discs in a step, and what must be so afterwards.
func (s *Set) discWords(step *assembly.Step) (do, check string) {
	b := s.plan.Build
	letters := func() string {
		var list []string
		for _, a := range step.Actions {
			if a.Verb != assembly.Dry {
				list = append(list, b.Parts[a.Part].Letter)
			}
		}
		return and(distinct(list))
	}
	switch step.Kind {
	case assembly.CutDiscsStep:
		return fmt.Sprintf("Cut out by %s, on the lines of the discs page: %s.", and(s.waysOf(step)), s.cutList(step)),
			"Laid on the page, none is out by more than half a millimetre."
	case assembly.BoreDiscsStep:
		return fmt.Sprintf("Prick the middle of each disc. Drill it %s mm, clamped on scrap wood: %s.", and(s.boresOf()), letters()), s.boreCheck()
	case assembly.GlueDiscsStep:
		var list []string
		how := ""
		for _, a := range step.Actions {
			for _, m := range b.Made {
				if m.Plastic {
					how = " Craft glue does not hold plastic: an adult takes a low-temperature glue gun, or double-sided tape does it."
				}
				if a.Verb == assembly.Stack && m.Pulley == a.Part {
					list = append(list, fmt.Sprintf("%s large, %d small, large", b.Parts[a.Part].Letter, len(m.Discs)-2))
				}
			}
		}
		return fmt.Sprintf("Push the discs on a piece of rod"+s.fillsHole()+", glue between them: %s. Press them flat under books. Pull the rod out before the glue sets. Let dry overnight.%s", strings.Join(list, "; "), how),
			"They are flat, and no glue is in the holes or the groove."
	}
	return fmt.Sprintf("Turn each on a rod"+s.fillsHole()+" against a pencil held still: %s. Sand off what the pencil marks.", letters()), "It runs true to a millimetre. The groove is smooth."
}

// inSleeve are the letters of pulleys to be made that sit on a sleeve, whose hole is larger than
// their rod.
func (s *Set) inSleeve() []string {
	var out []string
	for _, p := range s.made() {
		if p.Joint.Kind == "sleeve" {
			out = append(out, p.letter)
		}
	}
	return out
}

// boreCheck is what must be so of discs with a hole: a sleeve is in its pulley later, but it
// has been sawn.
func (s *Set) boreCheck() string {
	switch on := s.inSleeve(); {
	case len(on) == 0:
		return "Each goes on its rod with a firm push."
	case len(on) == len(s.made()):
		return "Each takes its sleeve with a firm push."
	default:
		return "Each goes on its rod with a firm push, but " + and(on) + " on " + map[bool]string{true: "its sleeve.", false: "their sleeves."}[len(on) == 1]
	}
}

// fillsHole tells which rod discs are lined up on, where not each is their own.
func (s *Set) fillsHole() string {
	if len(s.inSleeve()) > 0 {
		return " that fills their hole"
	}
	return ""
}

// waysOf are the ways of cutting of a step's discs.
func (s *Set) waysOf(step *assembly.Step) []string {
	var out []string
	for _, p := range s.made() {
		for _, d := range []*certificate.Disc{&p.Made.Flange, &p.Made.Core} {
			if parts.CuttingWay(d.Way).Adult() == step.Adult && !slices.Contains(out, d.Way) {
				out = append(out, d.Way)
			}
		}
	}
	return out
}

func (s *Set) boresOf() []string {
	var out []string
	for _, p := range s.made() {
		if words := mm(p.Bore); !slices.Contains(out, words) {
			out = append(out, words)
		}
	}
	return out
}

// cutList is the discs of a step, pulley by pulley: "B 2 of 115 mm, 2 of 105 mm".
func (s *Set) cutList(step *assembly.Step) string {
	b := s.plan.Build
	var list []string
	for _, m := range b.Made {
		var words []string
		for _, name := range []string{assembly.FlangeName, assembly.CoreName} {
			n, across := 0, units.Millimetres(0)
			for _, a := range step.Actions {
				if p := &b.Parts[a.Part]; slices.Contains(m.Discs, a.Part) && p.Name == name {
					n, across = n+1, p.Length
				}
			}
			if n > 0 {
				words = append(words, fmt.Sprintf("%d of %s mm", n, mm(across)))
			}
		}
		if len(words) > 0 {
			list = append(list, b.Parts[m.Pulley].Letter+" "+strings.Join(words, ", "))
		}
	}
	return strings.Join(list, "; ")
}
