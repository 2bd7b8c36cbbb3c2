package leeway

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// motorPulley is a pulley for the shaft of the commonest motor, where none of the pulleys
// there sits on the shaft of any: 10 mm across (common practice), else like the one there
// that is nearest in size. Nil where some pulley sits on a motor.
func motorPulley(cup *parts.Cupboard, rules brief.Making) *parts.Pulley {
	const size units.Millimetres = 10
	if len(cup.Pulleys) == 0 || len(cup.Motors) == 0 {
		return nil
	}
	like := &cup.Pulleys[0]
	for i := range cup.Pulleys {
		p := &cup.Pulleys[i]
		for k := range cup.Motors {
			if ways, _ := constraints.Joints(constraints.PulleyHub(p), cup.Motors[k].ShaftDiameter, cup.Sleeves, rules); len(ways) > 0 {
				return nil
			}
		}
		if p.Outside < like.Outside {
			like = p
		}
	}
	motor := slices.MaxFunc(cup.Motors, func(a, b parts.Motor) int { return a.Count - b.Count })
	p := *like
	p.Item = parts.Item{Name: "a new motor pulley", Count: plenty}
	p.Outside, p.Bore = size, motor.ShaftDiameter
	p.GrooveFloor = units.Lengths.Rounded(size - min(like.Outside-like.GrooveFloor, size/3))
	return &p
}

// pulleyWords are a pulley to get, in words.
func pulleyWords(p *parts.Pulley) string {
	return fmt.Sprintf("of a pulley %s mm across with a %s mm bore", units.Decimals(float64(p.Outside), 1), units.Decimals(float64(p.Bore), 1))
}

// together are the new pulleys two and three at a time, that for the motor among them:
// where nothing goes on the motor, one that does may be of no use without others.
func together(motor *parts.Pulley, others []parts.Pulley) []Way {
	if motor == nil {
		return nil
	}
	var out []Way
	for i := range others {
		out = append(out, several(*motor, others[i]))
	}
	for i := range others {
		for j := range i {
			out = append(out, several(*motor, others[j], others[i]))
		}
	}
	return out
}

// several is to get new pulleys of several sizes, as many of each as the drive takes.
func several(of ...parts.Pulley) Way {
	return Way{Most: 1, Apply: func(c Case, steps int) {
		if steps > 0 {
			c.Cupboard.Pulleys = append(c.Cupboard.Pulleys, of...)
		}
	}, Do: func(c Case, _ int, q *design.Proposal) {
		for _, p := range of {
			if n := taken(q, "pulley", p.Name); n > 0 {
				p.Count = n * c.Brief.Sets
				c.Cupboard.Pulleys = append(c.Cupboard.Pulleys, p)
			}
		}
	}, Words: func(c Case, q *design.Proposal) string {
		return "get " + strings.Join(freshPulleys(c, q, of), " and ")
	}}
}

// freshPulleys are the new pulleys that a drive takes, in words.
func freshPulleys(c Case, q *design.Proposal, fresh []parts.Pulley) []string {
	var words []string
	for i := range fresh {
		if n := taken(q, "pulley", fresh[i].Name); n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n*c.Brief.Sets, pulleyWords(&fresh[i])))
		}
	}
	return words
}

// severalMore is to get more of several of the pulleys there are, and new ones, as many of
// each as the drive takes.
func severalMore(c Case, fresh []parts.Pulley) Way {
	have := map[string]int{}
	for i := range c.Cupboard.Pulleys {
		have[c.Cupboard.Pulleys[i].Name] = c.Cupboard.Pulleys[i].Count
	}
	// short is how many more of a pulley all groups take than there are, in all tubs of the like.
	short := func(c Case, u design.Use) int {
		n, there := have[u.Name]
		if u.Kind != "pulley" || !there {
			return 0
		}
		for _, like := range u.Also {
			n += have[like]
		}
		return max(0, u.Each*c.Brief.Sets-n)
	}
	others := several(fresh...)
	return Way{Most: 1, Last: true, Apply: func(c Case, steps int) {
		if steps < 1 {
			return
		}
		for i := range c.Cupboard.Pulleys {
			c.Cupboard.Pulleys[i].Count = max(plenty, c.Cupboard.Pulleys[i].Count)
		}
		others.Apply(c, steps)
	}, Do: func(c Case, steps int, q *design.Proposal) {
		for _, u := range q.Uses {
			if n := short(c, u); n > 0 {
				c.Cupboard.Item("pulley", u.Name).Count += n
			}
		}
		others.Do(c, steps, q)
	}, Words: func(c Case, q *design.Proposal) string {
		var words []string
		for _, u := range q.Uses {
			if n := short(c, u); n > 0 {
				words = append(words, fmt.Sprintf("%d more of pulley %s", n, u.Name))
			}
		}
		return "get " + strings.Join(append(words, freshPulleys(c, q, fresh)...), " and ")
	}}
}

// motorPulleyAndDiscs is to get a pulley for the motor and to make the others of discs.
func motorPulleyAndDiscs(c Case, motor *parts.Pulley) []Way {
	if motor == nil || !making.Possible(c.Cupboard, c.Brief) {
		return nil
	}
	get := several(*motor)
	allow := func(c Case) { c.Brief.Making.Discs = true }
	return []Way{{Most: 1, Apply: func(c Case, steps int) {
		if get.Apply(c, steps); steps > 0 {
			allow(c)
		}
	}, Do: func(c Case, steps int, q *design.Proposal) {
		get.Do(c, steps, q)
		allow(c)
	}, Words: func(c Case, q *design.Proposal) string {
		return get.Words(c, q) + ", and " + DiscWords(q, c.Brief.Sets)
	}}}
}
