package sheet

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/certificate"
)

// faultTable is what goes wrong most often, first causes first (common
// practice), with this drive's own numbers.
func (s *Set) faultTable() Table {
	t := Table{Caption: "Fault card for this drive", Head: []string{"What you see", "Look at first", "For this drive"}, Names: true}
	row := func(cells ...string) { t.Rows = append(t.Rows, cells) }
	row("It hums and nothing moves", "Switch off. Take the bands off and spin each axle: it must coast. Then fresh cells, then a looser band.", s.stallWords())
	row("It spins, then slips or squeaks", "A perished, oily or loose band. Roughen the groove, or put on a second band there.", s.slipWords())
	row("Too slow", "Tired cells, a stiff axle, a band that is too tight.", s.slowWords())
	row("Too fast", "The number of cells; the right pulleys in the right places.", s.cellWords())
	row("A band jumps off", "Look along the band: the grooves must be in one plane and the axles parallel. Square up a pulley that wobbles.", s.planeWords())
	row("It turns the wrong way", "Swap the two wires on the motor.", s.crossWords())
	return t
}

func (s *Set) stallWords() string {
	m := &s.drive.Motor
	words := fmt.Sprintf("The motor works at %s of what would stall it.", percent(m.Share))
	if o := s.drive.Overload; o != nil && o.Stalls != nil && (o.Slips == nil || *o.Stalls < *o.Slips) {
		words += fmt.Sprintf(" It stalls when %s %s.", loadName(o.Of), loadWords(o.Of, *o.Stalls, o.Brief))
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
		words = fmt.Sprintf("The band %s slips first, when %s %s.", s.between(weakest), loadName(o.Of), loadWords(o.Of, *o.Slips, o.Brief))
	} else if weakest >= 0 {
		words = fmt.Sprintf("The band %s has least in hand: %s times the grip it needs.", s.between(weakest), about(grip))
	}
	if weakest < 0 {
		return words
	}
	for _, o := range s.drive.Stages[weakest].OtherBands {
		words += fmt.Sprintf(" At the same holes %s would also do (%s turns a minute).", otherBand(o), about(o.Speed))
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

func loadName(of string) string {
	switch of {
	case "out_of_balance_g":
		return "one side is heavier by"
	case "torque_mNm":
		return "it takes"
	}
	return "it all weighs"
}

func loadWords(of string, at, brief certificate.Number) string {
	unit := " g"
	if of == "torque_mNm" {
		unit = " mN·m"
	}
	return fmt.Sprintf("about %s%s (%s times the %s%s planned)", about(at), unit, about(at/brief), about(brief), unit)
}

func (s *Set) slowWords() string {
	if s.drive.Speed.Low <= 0 {
		return "On a bad day it may not turn at all. " + s.losses()
	}
	return fmt.Sprintf("Below %s turns a minute is slower than it should be. %s", about(s.drive.Speed.Low), s.losses())
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
	return "The bands' own stretch already costs " + and(list) + "."
}

func (s *Set) cellWords() string {
	words := fmt.Sprintf("Above %s turns a minute is faster than it should be.", about(s.drive.Speed.High))
	if f := s.drive.Fewer; f != nil {
		words += " " + fewerWords(f)
	}
	return words
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
	return fmt.Sprintf("Middles of the grooves from the %s inside face: %s.", front, strings.Join(list, ", "))
}

func (s *Set) crossWords() string {
	var crossed []string
	for i := range s.drive.Stages {
		if s.drive.Stages[i].Crossed {
			crossed = append(crossed, s.between(i))
		}
	}
	if len(crossed) == 0 {
		return "No band is crossed: everything turns the way the motor does."
	}
	return "Crossed: " + and(crossed) + ". Only crossed bands turn it round."
}

// changeTable says what the next band up and down would do, and one cell less.
func (s *Set) changeTable() Table {
	t := Table{Caption: "What a change would do, at the same holes", Head: []string{"Change", "Stretch", "Turns a minute", "Will it do?"}, Right: []int{1, 2}, Names: true}
	t.Rows = append(t.Rows, []string{"As planned", "–", about(s.drive.Speed.Likely), "Yes"})
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
				will = "No: " + n.Refusal
			}
			t.Rows = append(t.Rows, []string{fmt.Sprintf("%s: %s, the %s band", s.between(i), n.Name, way), stretch, speed, will})
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
			will = fmt.Sprintf("It turns, but slower than asked: %s turns a minute were wanted", about(s.drive.Target))
		}
		t.Rows = append(t.Rows, []string{"One cell less", "–", speed, will})
	}
	t.Note = "Yes means that every rule of the brief still holds, and for one cell less that it starts. Work it out again with findrive before a class set is changed."
	return t
}
