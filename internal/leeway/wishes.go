package leeway

import (
	"fmt"
	"strings"

	"findrive/internal/design"
	"findrive/internal/drive"
)

// wishes are what somebody wants the drive to have, each of which can be given up.
func wishes(c Case) []Lever {
	p := c.Pins
	if p == nil {
		return nil
	}
	var out []Lever
	add := func(can bool, key, kept, aside string, drop func(p *design.Pins)) {
		if can {
			relax := func(c Case) { drop(c.Pins) }
			out = append(out, Lever{Key: key, Words: kept, Aside: aside, Relax: relax, Ways: []Way{once("settle for "+aside, relax)}})
		}
	}
	add(p.Motor != "", "wanted motor", "motor "+p.Motor, "any motor", func(p *design.Pins) { p.Motor = "" })
	add(p.Holder != "", "wanted cells", "cells "+p.Holder, "any cells", func(p *design.Pins) { p.Holder = "" })
	add(p.Stages > 0, "wanted stages", "just "+plural(p.Stages, "stage"), "any number of stages", func(p *design.Pins) { p.Stages = 0 })
	add(p.Output != "", "wanted output pulley", p.Output+" on the last axle", "any pulley on the last axle", func(p *design.Pins) { p.Output = "" })
	for i := range p.Each {
		s, of := p.Each[i], ""
		if len(p.Each) > 1 {
			of = fmt.Sprintf(" in stage %d", i+1)
		}
		key := fmt.Sprintf("wanted %%s of stage %d", i+1)
		add(s.Driver != "", fmt.Sprintf(key, "driver"), drives(i, s.Driver), "any pulley to drive stage "+fmt.Sprint(i+1), func(p *design.Pins) { p.Each[i].Driver = "" })
		add(s.Driven != "", fmt.Sprintf(key, "driven pulley"), s.Driven+" driven"+of, "any driven pulley in stage "+fmt.Sprint(i+1), func(p *design.Pins) { p.Each[i].Driven = "" })
		var how []string
		if s.Band != "" {
			how = append(how, "band "+s.Band)
		}
		if s.Use != nil && *s.Use != drive.Single {
			how = append(how, s.Use.String())
		}
		if s.Crossed != nil && *s.Crossed {
			how = append(how, "crossed")
		}
		add(len(how) > 0 || s.Use != nil || s.Crossed != nil, fmt.Sprintf(key, "band"), strings.Join(append(how, ""), " ")+"round the pulleys"+of, "any band in stage "+fmt.Sprint(i+1),
			func(p *design.Pins) { p.Each[i].Band, p.Each[i].Use, p.Each[i].Crossed = "", nil, nil })
		add(s.Axle != "", fmt.Sprintf(key, "axle"), "axle "+s.Axle+of, "any axle", func(p *design.Pins) { p.Each[i].Axle = "" })
	}
	return out
}

func drives(stage int, pulley string) string {
	if stage == 0 {
		return pulley + " on the motor"
	}
	return fmt.Sprintf("%s driving stage %d", pulley, stage+1)
}
