package views

import (
	"fmt"
	"strings"
)

// Describe is the drawing in words, for those who cannot see it: where each
// shaft is, what sits on it and which way it turns, and which band runs from
// where to where.
func (d *Drive) Describe() string { return d.describeSide() + " " + d.alongAxles().describeTop() }

func (s *scene) describeSide() string {
	var b strings.Builder
	from := "the front"
	if s.upright {
		from = "above"
	}
	fmt.Fprintf(&b, "Seen from %s, places from the lower left inside corner of a frame of %s by %s mm.", from, number(s.frame.length), number(s.frame.height))
	if s.frame.inset() {
		length, height := s.frame.outside()
		fmt.Fprintf(&b, " Each side is %s by %s mm outside.", number(length), number(height))
	}
	for i := range s.shafts {
		sh := &s.shafts[i]
		what := "Motor"
		if i > 0 {
			what = fmt.Sprintf("Axle %d", i)
		}
		fmt.Fprintf(&b, " %s: %s mm across, %s mm up", what, number(sh.at.x), number(sh.at.y))
		if sh.turns != still {
			fmt.Fprintf(&b, ", turns %s", sh.turns)
		}
		for _, k := range sh.pulleys {
			fmt.Fprintf(&b, ", pulley %s %s mm across", s.pulleys[k].letter, number(2*s.pulleys[k].outside))
		}
		b.WriteString(".")
	}
	if s.freeAxle != nil {
		fmt.Fprintf(&b, " Free axle: %s mm across, %s mm up.", number(s.freeAxle.at.x), number(s.freeAxle.at.y))
	}
	for i := range s.bands {
		x := &s.bands[i]
		how := "open"
		if x.crossed {
			how = "crossed"
		}
		fmt.Fprintf(&b, " Band %d, %s, from %s to %s, centres %s mm apart.", x.number, how, s.pulleys[x.from].letter, s.pulleys[x.to].letter, number(x.centres))
	}
	return b.String()
}

func (s *scene) describeTop() string {
	var b strings.Builder
	side := "front"
	if s.upright {
		side = "upper side"
	}
	if s.unfolded {
		b.WriteString("Unfolded, the axles side by side in driving order. ")
	}
	fmt.Fprintf(&b, "Along the axles, from the inside of the %s:", side)
	for i := range s.bands {
		if i > 0 {
			b.WriteString(",")
		}
		fmt.Fprintf(&b, " band %d at %s mm", s.bands[i].number, number(s.bands[i].lane))
	}
	fmt.Fprintf(&b, "; the frame is %s mm deep.", number(s.frame.depth))
	for i := 1; i < len(s.shafts); i++ {
		var parts []string
		for _, x := range s.shafts[i].spacers {
			parts = append(parts, number(x.to-x.from))
		}
		if len(parts) > 0 {
			fmt.Fprintf(&b, " Spacers on axle %d, from there: %s mm.", i, strings.Join(parts, ", "))
		}
	}
	return b.String()
}

func (s sense) String() string {
	switch s {
	case clockwise:
		return "clockwise"
	case anticlockwise:
		return "anticlockwise"
	}
	return "not"
}
