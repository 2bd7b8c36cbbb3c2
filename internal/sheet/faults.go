package sheet

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/certificate"
)

const faultCard = "Fault card for this drive"

// faultTable is what goes wrong most often, first causes first (common
// practice), with this drive's own numbers.
func (s *Set) faultTable() Table {
	t := Table{Caption: faultCard, Head: []string{"What you see", "Look at first", "For this drive"}, Names: true}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	row("Only hums", "Switch off; bands off. Do all axles coast? Else fresh cells, or a looser band.", s.stallWords())
	row("Slips or squeaks", "A perished, oily or loose band, dust or wax in a groove. Roughen it, or add a second band.", s.slipWords())
	row("Too slow or too fast", "Slow: tired cells (a fifth slower), a stiff axle. Fast: too many cells. Is each pulley in its place?", s.speedWords())
	row("A band climbs out", "Are grooves in one plane, axles parallel? Does a pulley wobble, an axle slide endways?", s.planeWords())
	return t
}

func (s *Set) stallWords() string {
	m := &s.drive.Motor
	words := fmt.Sprintf("The motor works at %s of what stalls it.", percent(m.Share))
	if o := s.drive.Overload; o != nil && o.Stalls != nil && (o.Slips == nil || *o.Stalls < *o.Slips) {
		words += fmt.Sprintf(" It stalls %s.", loadWords(o.Of, *o.Stalls, o.Brief))
	} else if o != nil && o.Slips != nil {
		words += " A band slips before it stalls, unless an axle binds."
	}
	return words
}

// slipWords say which band slips first and at what load.
func (s *Set) slipWords() string {
	weakest, grip := -1, math.Inf(1)
	for i := range s.drive.Stages {
		for _, w := range []*certificate.AtWork{&s.drive.Stages[i].Running, &s.drive.Stages[i].Starting} {
			if w.Grip != nil && float64(*w.Grip) < grip {
				weakest, grip = i, float64(*w.Grip)
			}
		}
	}
	var words string
	if o := s.drive.Overload; o != nil && o.Slips != nil && o.Stage != nil {
		weakest = *o.Stage - 1
		words = fmt.Sprintf("The band %s slips first, %s.", s.between(weakest), loadWords(o.Of, *o.Slips, o.Brief))
	} else if weakest >= 0 {
		words = fmt.Sprintf("The band %s has least in hand: %s times the grip it needs.", s.between(weakest), about(grip))
	}
	if weakest < 0 {
		return words
	}
	for _, o := range s.drive.Stages[weakest].OtherBands {
		words += fmt.Sprintf(" Instead: %s.", otherBand(o))
		break
	}
	return words
}

func otherBand(o certificate.OtherBand) string {
	switch o.Use {
	case "looped twice":
		return o.Name + " wound twice round"
	case "two side by side":
		return "2 of " + o.Name + " side by side"
	}
	return o.Name
}

// loadWords is a load at which something gives way, beside the planned one.
func loadWords(of string, at, brief certificate.Number) string {
	unit, where := " g", " in all"
	switch of {
	case "out_of_balance_g":
		where = " more on one side"
	case "torque_mNm":
		unit, where = " mN·m", ""
	}
	return fmt.Sprintf("at about %s%s%s (%s times the %s%s planned)", about(at), unit, where, about(at/brief), about(brief), unit)
}

func (s *Set) speedWords() string {
	words := fmt.Sprintf("Expect %s to %s turns a minute. ", about(s.drive.Speed.Low), about(s.drive.Speed.High))
	if s.drive.Speed.Low <= 0 {
		words = fmt.Sprintf("Expect up to %s turns a minute, and on a bad day none. ", about(s.drive.Speed.High))
	}
	return words + s.losses()
}

// losses say where the speed goes.
func (s *Set) losses() string {
	var list []string
	for i := range s.drive.Stages {
		if c := s.drive.Stages[i].Running.Creep; c >= 0.005 {
			list = append(list, fmt.Sprintf("%s in %s", percent(c), s.between(i)))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "The bands' stretch takes " + and(list) + "."
}

func fewerWords(f *certificate.Fewer) string {
	on := fmt.Sprintf("On %s", plural(f.Cells, "cell", "cells"))
	switch {
	case f.Speed <= 0:
		return on + " it would not turn."
	case !f.Starts:
		return fmt.Sprintf("%s it would turn at about %s a minute but not start by itself.", on, about(f.Speed))
	}
	return fmt.Sprintf("%s it would turn at about %s a minute.", on, about(f.Speed))
}

func (s *Set) planeWords() string {
	var list []string
	for i := range s.drive.Stages {
		list = append(list, fmt.Sprintf("%s %s mm", s.between(i), mm(s.drive.Stages[i].Lane)))
	}
	front, _ := s.sides()
	return fmt.Sprintf("Grooves' middles from the %s inside face: %s.", front, strings.Join(list, ", "))
}

// changeTable says what the next band up and down would do, and one cell less.
func (s *Set) changeTable() Table {
	t := Table{Caption: "What a change would do at the same holes; as planned it makes about " + about(s.drive.Speed.Likely) + " turns a minute", Head: []string{"Change", "Stretch", "Turns a minute", "Will it do?"}, Right: []int{1, 2}, Names: true}
	for i := range s.drive.Stages {
		for _, n := range s.drive.Stages[i].NextBands {
			way := "next shorter"
			if n.Longer {
				way = "next longer"
			}
			stretch, speed, will := percent(n.Stretch-1), about(n.Speed), "Yes"
			if n.Stretch <= 1 {
				stretch = "hangs loose"
			}
			if n.Speed <= 0 {
				speed = "–"
			}
			if n.Refusal != "" {
				will = "No: " + strings.TrimPrefix(n.Refusal, "band "+n.Name+" ")
			}
			t.Rows = append(t.Rows, []string{fmt.Sprintf("%s: %s (%s)", s.between(i), n.Name, way), stretch, speed, will})
		}
	}
	if f := s.drive.Fewer; f != nil {
		will, speed := "Yes, slower", about(f.Speed)
		switch {
		case f.Speed <= 0:
			will, speed = "No: it would not turn", "–"
		case !f.Starts:
			will = "No: it would not start by itself"
		case f.Speed < s.drive.Target*(1-s.cert.Brief.Tolerance):
			will = fmt.Sprintf("It turns, but too slowly: %s a minute were asked for", about(s.drive.Target))
		}
		t.Rows = append(t.Rows, []string{"One cell less", "–", speed, will})
	}
	t.Note = "Yes: every rule of the brief still holds; for one cell less, that it starts. Work it out again before you change a class set."
	return t
}
