package stocktake

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
)

// order is that of kinds and of keys in a cupboard file.
var (
	kindOrder = []string{"pulley", "band", "motor", "cells", "axle", "sleeve", "spacer", "wheel", "drum", "block", "cord", "sheet"}
	keyOrder  = []string{"sheaves", "sheave", "outside", "diameter", "inner", "outer", "size", "flat_length", "groove_floor", "groove_width", "width", "thickness", "bore", "length",
		"rated", "free_speed", "free_current", "stall_torque", "stall_current", "shaft_diameter", "shaft_length", "cells", "chemistry", "material", "kind"}
)

// lines are the sizes of a part as lines of its table.
func (e *entry) lines() string {
	slices.SortStableFunc(e.settings, func(a, b setting) int {
		return cmp.Compare(slices.Index(keyOrder, a.key), slices.Index(keyOrder, b.key))
	})
	var b strings.Builder
	for _, s := range e.settings {
		fmt.Fprintf(&b, "%s = %s\n", s.key, s.value)
	}
	return b.String()
}

// write makes the cupboard file and the list of its parts, and reads it back.
func (c *collecting) write(r *Result) error {
	if len(c.entries) > MaxParts {
		return fmt.Errorf("there are %d kinds of part, the most is %d: split the list", len(c.entries), MaxParts)
	}
	if len(c.entries) == 0 {
		return nil
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# Made by findrive stock from %s%s.\n# What is under \"assumed\" was not plain in the list: check it, put it right, and\n# take the line out.\n\nschema = 1\nname = %s\n",
		cleanName(r.Name), dated(c.opt.Dated), quoted(cut(cleanName(r.Name)+dated(c.opt.Dated), tomlfile.MaxText)))
	slices.SortStableFunc(c.entries, func(a, b entry) int {
		return cmp.Compare(slices.Index(kindOrder, a.kind), slices.Index(kindOrder, b.kind))
	})
	for i := range c.entries {
		e := &c.entries[i]
		from := append([]Place{e.at}, e.also...)
		r.Parts = append(r.Parts, Part{Kind: e.kind, Name: e.name, Count: e.count, Rows: from})
		fmt.Fprintf(&b, "\n# %s: %s\n[%s.%s]\n%s", r.whereAll(from), cut(c.row(e.at).Words, 60), e.kind, tableName(e.name), e.lines())
		fmt.Fprintf(&b, "count = %d\n", e.count)
		if e.location != "" {
			fmt.Fprintf(&b, "location = %s\n", quoted(e.location))
		}
		if e.price != "" {
			fmt.Fprintf(&b, "price = %s\n", quoted(e.price))
		}
		if all := e.noted(); len(all) > 0 {
			var facts []string
			for _, f := range all {
				facts = append(facts, quoted(cut(f, tomlfile.MaxText)))
			}
			fmt.Fprintf(&b, "assumed = [%s]\n", strings.Join(facts, ", "))
		}
	}
	r.Cupboard = []byte(b.String())
	if _, err := parts.Read("the cupboard file made of it", r.Cupboard); err != nil {
		var problems tomlfile.Problems
		if errors.As(err, &problems) {
			err = problems[0]
		}
		return fmt.Errorf("the list is too large for one cupboard file: %w", err)
	}
	return nil
}

// noted are the facts for the cupboard file, each once. If they are more than it takes,
// each thing that they are about keeps its first.
func (e *entry) noted() []string {
	var all, first, more []string
	about := map[string]bool{}
	for _, f := range e.facts {
		if slices.Contains(all, f) {
			continue
		}
		all = append(all, f)
		what, _, _ := strings.Cut(strings.Replace(f, " taken as", ":", 1), ":")
		if about[what] {
			more = append(more, f)
		} else {
			about[what] = true
			first = append(first, f)
		}
	}
	if len(all) <= parts.MostAssumed {
		return all
	}
	return slices.Concat(first, more)[:parts.MostAssumed]
}

func dated(date string) string {
	if date == "" {
		return ""
	}
	return ", " + date
}

// cleanName is a file's name without what does not print.
func cleanName(name string) string { return strings.Join(cleaned([]string{name}), "") }

// tableName is a part's name as a header of a table has it.
func tableName(name string) string {
	for _, r := range name {
		if !(r == '-' || r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z') {
			return quoted(name)
		}
	}
	return name
}
