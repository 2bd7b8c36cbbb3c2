package explain

import (
	"fmt"
	"math"
)

// technicianSections have the figures and where each comes from.
func technicianSections(d *Drive) []Section {
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	for i := range d.Stages {
		s := &d.Stages[i]
		run := s.Driver.Pitch - s.Driver.Floor
		say("Stage %d, %s %s to %s %s: pitch diameters %s and %s mm, which are the groove floors %s and %s mm and the stretched band's thickness, %s mm. Ratio %s / %s = %s : 1.",
			i+1, s.Driver.Letter, s.Driver.Name, s.Driven.Letter, s.Driven.Name, decimals(float64(s.Driver.Pitch), 2), decimals(float64(s.Driven.Pitch), 2),
			sizes(s.Driver.Floor), sizes(s.Driven.Floor), decimals(float64(run), 2), decimals(float64(s.Driven.Pitch), 2), decimals(float64(s.Driver.Pitch), 2), decimals(s.Ratio, 2))
		say("Band %s, %s, %s: centres %s mm, path %s mm, stretch %s, each run pulls %s N at rest; arc on the smaller pulley %s degrees.",
			s.Band, s.Use, runWord(s.Crossed), sizes(s.Centre), sizes(s.Length), percent(s.Stretch-1), decimals(float64(s.Pull), 2), whole(min(s.Driver.Arc, s.Driven.Arc).Degrees()))
		if !d.Turns {
			continue
		}
		grip := "carries next to nothing"
		if !math.IsInf(s.Grip, 1) && s.Grip < 100 {
			grip = fmt.Sprintf("grips %s times what it must", about(s.Grip))
		}
		say("At work it %s and loses %s of speed to creep: the tight run is longer than the slack run, and the difference is carried round.", grip, percent(s.Creep))
	}
	out := []Section{{"Stage by stage", lines}}
	lines = nil
	if d.Turns {
		say("Motor %s on %s: %s rpm at work, %s of its stall torque, %s mA.", d.Motor.Name, cells(d.Cells), turns(float64(d.Motor.Speed)), percent(d.Motor.Share), about(1000*float64(d.Motor.Current)))
		if d.Motor.Minutes > 0 {
			say("Fresh cells last about %s hours of running.", about(d.Motor.Minutes/60))
		}
		if gain := d.gain(); gain > 0 {
			say("Torque: %s mN·m at the motor, %s mN·m at the output: %s times, of %s by the ratio. So %s of the torque arrives; the rest is friction of bearings, which grows with the pull of the bands.",
				decimals(float64(d.MotorTorque), 3), decimals(float64(d.OutputTorque), 2), about(gain), decimals(d.Ratio, 1), percent(gain/d.Ratio))
		}
		say("Output: %s rpm likely, %s to %s with motor, bands, cells and friction as they come.", turns(d.Speed.Likely), turns(d.Speed.Low), turns(d.Speed.High))
	} else {
		say("Motor %s on %s.", d.Motor.Name, cells(d.Cells))
		say("It does not turn as it is, so motor, grip and creep at work cannot be told: findrive try says why.")
	}
	out = append(out, Section{"As a whole", lines})
	out = append(out, Section{"What to check first", technicianChecks(d)}, Section{"What to see and count", d.counting()})
	return out
}

func technicianChecks(d *Drive) []string {
	weakest, tightest := 0, 0
	for i := range d.Stages {
		if d.Stages[i].Grip < d.Stages[weakest].Grip {
			weakest = i
		}
		if d.Stages[i].Stretch > d.Stages[tightest].Stretch {
			tightest = i
		}
	}
	small := &d.Stages[0].Driver
	for i := range d.Stages {
		for _, p := range []*Pulley{&d.Stages[i].Driver, &d.Stages[i].Driven} {
			if p.Pitch < small.Pitch {
				small = p
			}
		}
	}
	out := []string{}
	if len(d.Stages) > 1 && d.Turns {
		out = append(out, fmt.Sprintf("The band of stage %d grips least: if one slips it is that.", weakest+1))
	}
	return append(out,
		fmt.Sprintf("The band of stage %d is stretched most, %s: take it off after the lesson, for rubber kept stretched loses its pull.", tightest+1, percent(d.Stages[tightest].Stretch-1)),
		fmt.Sprintf("The smallest pulley matters most to the ratio: 0.5 mm on the groove of %s changes the speed by %s.", small.Letter, percent(0.5/float64(small.Pitch))),
	)
}

func runWord(crossed bool) string {
	if crossed {
		return "crossed"
	}
	return "open"
}

func cells(n int) string {
	if n == 1 {
		return "1 cell"
	}
	return fmt.Sprintf("%d cells", n)
}
