package stocktake

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// lacks finds the kinds without which no drive can be made, and parts that do not go
// together, however they are joined.
func (c *collecting) lacks() {
	r := c.result
	for _, kind := range []string{"pulley", "band", "motor", "cells", "axle"} {
		if !slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Kind == kind }) {
			r.Lacks = append(r.Lacks, kind)
		}
	}
	if r.Cupboard == nil {
		return
	}
	cup, err := parts.Read("", r.Cupboard)
	if err != nil || len(cup.Pulleys) == 0 {
		return
	}
	var shafts, rods []units.Millimetres
	for i := range cup.Motors {
		shafts = append(shafts, cup.Motors[i].ShaftDiameter)
	}
	for i := range cup.Axles {
		rods = append(rods, cup.Axles[i].Diameter)
	}
	for _, on := range []struct {
		what string
		all  []units.Millimetres
	}{{"the shaft of a motor", shafts}, {"an axle", rods}} {
		if len(on.all) > 0 && !anyFits(cup, on.all) {
			r.Misfits = append(r.Misfits, fmt.Sprintf("No pulley goes on %s of %s, for the bores there are %s: measure them again, get some that do, or add sleeves that go between.", on.what, listOf(on.all), listOf(bores(cup))))
		}
	}
}

// anyFits reports whether some pulley sits on some shaft, glued, sleeved or drilled out if
// need be.
func anyFits(cup *parts.Cupboard, shafts []units.Millimetres) bool {
	for i := range cup.Pulleys {
		for _, s := range shafts {
			if ways, _ := constraints.Joints(constraints.PulleyHub(&cup.Pulleys[i]), s, cup.Sleeves, brief.Making{Glue: true, DrillOut: true}); len(ways) > 0 {
				return true
			}
		}
	}
	return false
}

func bores(cup *parts.Cupboard) []units.Millimetres {
	var out []units.Millimetres
	for i := range cup.Pulleys {
		out = append(out, cup.Pulleys[i].Bore)
	}
	return out
}

// listOf lists different sizes, the smallest first.
func listOf(sizes []units.Millimetres) string {
	slices.Sort(sizes)
	var out []string
	for _, s := range slices.Compact(sizes) {
		out = append(out, units.Lengths.Format(s))
	}
	if len(out) > 4 {
		out = append(out[:2], "more up to "+out[len(out)-1])
	}
	if len(out) == 1 {
		return out[0]
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}
