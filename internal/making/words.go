package making

import (
	"fmt"
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

// Words say what is to be made for all sets of a drive with these pulleys: "make 4 pulleys,
// each 2 discs of 65 mm between 2 of 75 mm, from 2 mm card (compass and scissors)". It is
// "" if nothing is.
func Words(pulleys []*parts.Pulley, sets int) string {
	var out []string
	for i, p := range pulleys {
		if p.Made == nil || containsName(pulleys[:i], p.Name) {
			continue
		}
		n := 0
		for _, q := range pulleys {
			if q.Name == p.Name {
				n += sets
			}
		}
		out = append(out, madeWords(p, n))
	}
	return strings.Join(out, "; and ")
}

func madeWords(p *parts.Pulley, n int) string {
	m := p.Made
	what := fmt.Sprintf("make %d pulleys, each", n)
	if n == 1 {
		what = "make a pulley,"
	}
	size := func(v mm) string { return units.Significant(float64(v), 4) }
	sheet := func(d *parts.Disc) string { return fmt.Sprintf("%s mm %s", size(d.Thickness), d.Kind) }
	core := fmt.Sprintf("%d discs of %s mm", m.Layers, size(m.Core.Diameter))
	if m.Layers == 1 {
		core = fmt.Sprintf("a disc of %s mm", size(m.Core.Diameter))
	}
	if m.Core.Sheet == m.Flange.Sheet {
		what += fmt.Sprintf(" %s between 2 of %s mm, from %s", core, size(m.Flange.Diameter), sheet(&m.Core))
	} else {
		what += fmt.Sprintf(" %s from %s between 2 of %s mm from %s", core, sheet(&m.Core), size(m.Flange.Diameter), sheet(&m.Flange))
	}
	ways := string(m.Core.Way)
	if m.Flange.Way != m.Core.Way {
		ways += " and " + string(m.Flange.Way)
	}
	if m.Core.Way.Adult() || m.Flange.Way.Adult() {
		ways += ", an adult's job"
	}
	return fmt.Sprintf("%s (%s)", what, ways)
}
