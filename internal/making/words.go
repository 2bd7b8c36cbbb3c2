package making

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Possible reports whether leave to make discs would add any pulley: the brief does not
// give it yet, glue is allowed, and sheets and cutters make one.
func Possible(cup *parts.Cupboard, b *brief.Brief) bool {
	if b.Making.Discs {
		return false
	}
	allowed := *b
	allowed.Making.Discs = true
	return len(Kinds(cup, &allowed)) > 0
}

// alike is pulleys to be made that differ in nothing but their diameter.
type alike struct {
	like  *parts.Pulley
	kinds []*parts.Pulley
	count []int // of each, in all sets
}

func (a *alike) all() int {
	n := 0
	for _, c := range a.count {
		n += c
	}
	return n
}

func sameMake(a, b *parts.Pulley) bool {
	m, o := a.Made, b.Made
	return m.Layers == o.Layers && m.Core.Sheet == o.Core.Sheet && m.Flange.Sheet == o.Flange.Sheet && m.Core.Way == o.Core.Way && m.Flange.Way == o.Flange.Way &&
		a.Outside-a.GrooveFloor == b.Outside-b.GrooveFloor
}

// Words say what is to be made for all sets of a drive with these pulleys: "make 4 pulleys,
// each 2 discs of 65 mm between 2 of 75 mm, from 2 mm card (compass and scissors)". It is
// "" if nothing is.
func Words(pulleys []*parts.Pulley, sets int) string { return WordsOf(SeveralOf(pulleys, sets)) }

// WordsOf are Words for so many of each of some pulleys.
func WordsOf(pulleys []Several) string {
	var list []alike
	for _, s := range pulleys {
		at := slices.IndexFunc(list, func(a alike) bool { return sameMake(a.like, s.Pulley) })
		if at < 0 {
			list, at = append(list, alike{like: s.Pulley}), len(list)
		}
		list[at].kinds, list[at].count = append(list[at].kinds, s.Pulley), append(list[at].count, s.Count)
	}
	var out []string
	for i := range list {
		out = append(out, list[i].words())
	}
	return strings.Join(out, "; and ")
}

func (a *alike) words() string {
	m, n := a.like.Made, a.all()
	what := fmt.Sprintf("make %d pulleys, each", n)
	if n == 1 {
		what = "make a pulley,"
	}
	size := func(v mm) string { return units.Significant(float64(v), 4) }
	sheet := func(d *parts.Disc) string { return fmt.Sprintf("%s mm %s", size(d.Thickness), d.Kind) }
	core, flange := fmt.Sprintf("%d discs", m.Layers), "2"
	if m.Layers == 1 {
		core = "a disc"
	}
	each := ""
	if len(a.kinds) == 1 {
		core += fmt.Sprintf(" of %s mm", size(m.Core.Diameter))
		flange += fmt.Sprintf(" of %s mm", size(m.Flange.Diameter))
	} else {
		flange += fmt.Sprintf(" that are %s mm larger", size(m.Flange.Diameter-m.Core.Diameter))
		var list []string
		for i, p := range a.kinds {
			list = append(list, fmt.Sprintf("%d of %s mm", a.count[i], size(p.GrooveFloor)))
		}
		each = ", " + strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
	}
	if m.Core.Sheet == m.Flange.Sheet {
		what += fmt.Sprintf(" %s between %s, from %s", core, flange, sheet(&m.Core))
	} else {
		what += fmt.Sprintf(" %s from %s between %s from %s", core, sheet(&m.Core), flange, sheet(&m.Flange))
	}
	ways := string(m.Core.Way)
	if m.Flange.Way != m.Core.Way {
		ways += " and " + string(m.Flange.Way)
	}
	if m.Core.Way.Adult() || m.Flange.Way.Adult() {
		ways += ", an adult's job"
	}
	return fmt.Sprintf("%s (%s)%s", what, ways, each)
}
