package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"findrive/internal/certificate"
	"findrive/internal/cutting"
	"findrive/internal/units"
)

// InTurn are classes that are built one after another from one cupboard, with the lists of
// each as of its time: what those before it use up is no longer there, and is taken to have
// come from where their lists say. All else has come back.
func InTurn(classes []Class) ([]Class, error) {
	out, short, err := afterOneAnother(classes, nil)
	if err != nil || len(short) == 0 {
		return out, err
	}
	// Whole rods do not reach: then all are sawn from what those before left over, too.
	out, _, err = afterOneAnother(classes, sawnTogether(classes, short))
	return out, err
}

// stocked is a part of the cupboard.
type stocked struct{ kind, name string }

// afterOneAnother counts down what there is from class to class. Short are the kinds of rod
// that do not reach, each by its first name. How a kind is sawn in each turn may be given.
func afterOneAnother(classes []Class, sawn []map[string]*cutting.Plan) (out []Class, short map[string]bool, err error) {
	gone, short := map[stocked]int{}, map[string]bool{}
	var spent []Offcut
	for i := range classes {
		c := classes[i].without(gone, spent)
		if sawn != nil {
			c.sawn = sawn[i]
		}
		for _, o := range c.sections() {
			plan, less, err := c.one().cut(o)
			if err != nil {
				return nil, nil, fmt.Errorf("%s: %w", o.words, err)
			}
			if o.rods != nil && (less || o.count == 0) && o.sawn == nil {
				short[o.kind()] = true
			}
			for _, b := range plan.Bars {
				if b.Offcut {
					spent = append(spent, Offcut{Of: o.name, Length: float64(b.Length), Count: 1})
				}
			}
		}
		if err := c.usesUp(gone); err != nil {
			return nil, nil, err
		}
		out = append(out, c)
	}
	return out, short, nil
}

// without is a class where some of the cupboard is gone, and of the offcuts.
func (c *Class) without(gone map[stocked]int, spent []Offcut) Class {
	out := *c
	out.Shares = slices.Clone(c.Shares)
	for i := range out.Shares {
		set := *out.Shares[i].Set
		cert, drive := *set.cert, *set.drive
		drive.Uses = slices.Clone(drive.Uses)
		for k := range drive.Uses {
			u := &drive.Uses[k]
			u.Places = slices.Clone(u.Places)
			for at := range u.Places {
				p := &u.Places[at]
				n := min(p.Count, gone[stocked{u.Kind, p.Name}])
				p.Count -= n
				if u.Kind != "axle" { // of which it has sets, not pieces
					u.Have -= n
				}
			}
		}
		if cert.Discs != nil {
			discs := *cert.Discs
			discs.Sheets = slices.Clone(discs.Sheets)
			for k := range discs.Sheets {
				s := &discs.Sheets[k]
				s.Count -= min(s.Count, gone[stocked{"sheet", s.Name}])
			}
			cert.Discs = &discs
		}
		set.cert, set.drive = &cert, &drive
		set.opt.Offcuts = offcutsLeft(set.opt.Offcuts, spent)
		out.Shares[i].Set = &set
	}
	return out
}

func offcutsLeft(all, spent []Offcut) []Offcut {
	out := slices.Clone(all)
	for _, s := range spent {
		at := slices.IndexFunc(out, func(o Offcut) bool { return o.Of == s.Of && o.Length == s.Length && o.Count > 0 })
		if at >= 0 {
			out[at].Count--
		}
	}
	return slices.DeleteFunc(out, func(o Offcut) bool { return o.Count == 0 })
}

// usesUp adds what a class uses up, by its list: bands, sleeves, the rods that it begins,
// sheets, and what is glued on or drilled out. Spares come back.
func (c *Class) usesUp(gone map[stocked]int) error {
	lines, err := c.lines()
	if err != nil {
		return err
	}
	left := map[*certificate.Use]int{} // of what does not come back
	for i := range lines {
		l := &lines[i]
		n, kind := l.total, l.unit
		switch {
		case kind == "rod":
			kind = "axle"
		case kind == "sheet":
		case l.use == nil:
			continue
		default:
			if _, met := left[l.use]; !met {
				left[l.use] = c.gone(l.use)
			}
			n = min(n, left[l.use])
			left[l.use] -= n
		}
		if !l.made {
			gone[stocked{kind, l.item}] += n
		}
	}
	return nil
}

// gone is how many of a part a class takes that do not come back.
func (c *Class) gone(u *certificate.Use) int {
	n := 0
	for i := range c.Shares {
		s := &c.Shares[i]
		for k := range s.drive.Uses {
			own := &s.drive.Uses[k]
			if own.Kind == u.Kind && (own.Name == u.Name || slices.Contains(own.Also, u.Name)) {
				n += s.drive.Gone(own) * s.Groups
			}
		}
	}
	return n
}

// kind is the first name of the rods that a section is cut from.
func (o *section) kind() string {
	name := o.name
	for _, r := range o.rods {
		name = min(name, r.Name)
	}
	return name
}

// sawnTogether plans the sawing of some kinds of rod for all classes at once, and tells it
// turn by turn: a rod that one before has begun is an offcut. A kind that does not reach even
// so has no plan.
func sawnTogether(classes []Class, kinds map[string]bool) []map[string]*cutting.Plan {
	out := make([]map[string]*cutting.Plan, len(classes))
	for i := range out {
		out[i] = map[string]*cutting.Plan{}
	}
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		var all section
		for i := range classes {
			for _, o := range classes[i].sections() {
				if o.kind() != kind {
					continue
				}
				pieces := all.pieces
				for _, p := range o.pieces {
					p.Mark = fmt.Sprint(i, " ", p.Mark)
					pieces = append(pieces, p)
				}
				all = o
				all.pieces = pieces
			}
		}
		one := classes[0].one()
		plan, less, err := one.cut(all)
		if err != nil || less {
			continue
		}
		for i := range classes {
			if of := turnOf(plan, i, units.Millimetres(one.opt.Kerf)); len(of.Bars) > 0 {
				out[i][kind] = &of
			}
		}
	}
	return out
}

// turnOf is what is sawn in one turn of a plan for several: each bar's pieces of that turn,
// from what is left of it by then.
func turnOf(plan cutting.Plan, turn int, kerf units.Millimetres) cutting.Plan {
	var out cutting.Plan
	for _, whole := range plan.Bars {
		b := cutting.Bar{Stock: whole.Stock, Length: whole.Length, Offcut: whole.Offcut, Left: whole.Length}
		for _, c := range whole.Cuts {
			var at int
			words, mark, _ := strings.Cut(c.Mark, " ")
			if _, err := fmt.Sscan(words, &at); err != nil || at > turn {
				continue
			}
			b.Left = max(0, b.Left-c.Length-kerf)
			if at < turn {
				b.Offcut, b.Stock = true, "offcut"
				b.Length = max(0, b.Length-c.Length-kerf)
				continue
			}
			b.Cuts = append(b.Cuts, cutting.Cut{Mark: mark, Length: c.Length})
		}
		if len(b.Cuts) > 0 {
			out.Bars = append(out.Bars, b)
		}
	}
	return out
}
