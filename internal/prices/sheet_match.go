package prices

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// A list of a shop names its parts in its own words: "Pulley 40 mm, 5 mm bore". They are
// known in the cupboard by their name, or else by the sizes that the words say, if just one
// part of the cupboard has them; or they describe a part that is not in it.

// found is a part that a row names.
type found struct {
	kind, name string
	values     map[string]string // sizes by which it is described as new
	keys       []string          // of them, in order
	note       string            // how it was found, where that is not plain
	why        string            // it was not found; a hint
	pack       int               // pieces in a pack, as its words say; 0 if they do not
}

// findPart settles which part of the cupboard a row offers, or which one it describes, and
// is how many pieces its name says are in a pack; 0 if it does not.
func (s *sheet) findPart(r stocktake.CellRow, o *sheetOffer) (said int) {
	kind := strings.ToLower(s.of(r, kindColumn).value)
	if kind != "" && !slices.Contains(Kinds(), kind) {
		if other := stocktake.KindOver(kind); slices.Contains(Kinds(), other) {
			kind = other
		}
	}
	size := s.sizeWords(r)
	if whole.MatchString(size) && s.kindOf(r) != "cells" && s.kindOf(r) != "motor" {
		s.note("row %d: %s under %s has no unit: taken as mm", r.Number, size, s.headings[s.of(r, "size").at.column])
	}
	own := slices.ContainsFunc(sizes, func(key string) bool { return s.of(r, key).value != "" && (key != "size" || size == "") })
	f := find(s.cup, kind, o.part.value, size, own)
	if f.kind == "" && s.section != "" {
		f = find(s.cup, s.section, o.part.value, size, own)
	}
	if f.note != "" {
		s.note("row %d: %s", r.Number, f.note)
	}
	if f.why != "" {
		s.fail(o.part.at, "%s cannot be told: %s", units.Quoted(o.part.value), f.why)
	}
	if f.kind != "" {
		o.part.value = f.kind + "." + f.name
		s.named[r.Number] = o.part.value
	}
	if f.values != nil && s.sizes[o.part.value] == nil {
		s.sizes[o.part.value] = map[string]given{partColumn: o.part}
		s.described = append(s.described, o.part.value)
		for _, key := range f.keys {
			s.sizes[o.part.value][key] = given{f.values[key], o.part.at}
		}
	}
	return f.pack
}

// find is the part that a kind, which may be empty, and words name. size are words of a
// column of sizes, which may be empty; own reports whether a part is described in the list by
// columns of its own.
func find(cup *parts.Cupboard, kind, words, size string, own bool) found {
	if k, name, dot := strings.Cut(words, "."); dot && kind == "" && isKind(k) && name != "" {
		return found{kind: k, name: name}
	}
	if kind != "" && (own || named(cup, kind, words) == words) {
		return found{kind: kind, name: words}
	}
	if kind != "" && !isKind(kind) {
		return found{kind: kind, name: words}
	}
	f := byName(cup, kind, words)
	if f.name != "" && f.why == "" {
		f.why = differs(cup, f, words, size)
	}
	if f.name != "" || f.why != "" {
		return f
	}
	d, err := stocktake.Describe(kind, words, size)
	if err != nil || !isKind(d.Kind) {
		return found{kind: kind, name: words}
	}
	if kind != "" && len(d.Keys) == 0 && size == "" { // words under a title may be sizes alone
		if other, err := stocktake.Describe(kind, "", words); err == nil && len(other.Keys) > 0 {
			d = other
		}
	}
	if size != "" {
		words += " " + size
	}
	f = found{kind: d.Kind, name: words, pack: d.Pack}
	if own || len(d.Keys) == 0 {
		return f
	}
	if len(d.Assumed) > 0 {
		f.why = strings.Join(d.Assumed, "; ") + ": write its name as in the cupboard"
		return f
	}
	var fits []string
	for _, name := range cup.Names(d.Kind) {
		if has(cup, d.Kind, name, d.Values) {
			fits = append(fits, name)
		}
	}
	switch {
	case len(fits) == 1:
		f.name, f.note = fits[0], fmt.Sprintf("%s is taken for %s.%s of the cupboard, the only one of such sizes", units.Quoted(words), d.Kind, fits[0])
	case len(fits) > 1 && ofOneKind(cup, d.Kind, fits):
		f.name, f.note = fits[0], fmt.Sprintf("%s is taken for %s.%s of the cupboard, which is alike in all its tubs", units.Quoted(words), d.Kind, fits[0])
	case len(fits) > 1:
		f.why = fmt.Sprintf("it may be %s: write which", strings.Join(fits[:min(4, len(fits))], ", "))
	default:
		f.values, f.keys = d.Values, d.Keys
	}
	return f
}

// ofOneKind reports whether parts of the cupboard are alike in all that matters, so that it is no
// matter which is bought.
func ofOneKind(cup *parts.Cupboard, kind string, names []string) bool {
	switch kind {
	case "pulley":
		return oneKind(parts.PulleyKinds(cup.Pulleys), names)
	case "band":
		return oneKind(parts.BandKinds(cup.Bands), names)
	}
	return false
}

func oneKind[P any](kinds []parts.Kind[P], names []string) bool {
	at := parts.Find(kinds, names[0])
	return !slices.ContainsFunc(names, func(name string) bool { return parts.Find(kinds, name) != at })
}

func isKind(kind string) bool {
	for _, k := range Kinds() {
		if k == kind {
			return true
		}
	}
	return false
}

// named is the name that a part of a kind has in the cupboard, capitals and signs being
// no matter; empty if there is none, or more than one.
func named(cup *parts.Cupboard, kind, words string) string {
	out := ""
	for _, name := range cup.Names(kind) {
		switch {
		case name == words:
			return name
		case stocktake.SameName(name, words) || stocktake.SameName(kind+" "+name, words):
			if out != "" {
				return ""
			}
			out = name
		}
	}
	return out
}

// byName looks words up among the names of the cupboard.
func byName(cup *parts.Cupboard, kind, words string) found {
	var all []found
	for _, k := range Kinds() {
		if kind != "" && kind != k {
			continue
		}
		if name := named(cup, k, words); name != "" {
			f := found{kind: k, name: name}
			if name != words {
				f.note = fmt.Sprintf("%s is taken for %s.%s of the cupboard", units.Quoted(words), k, name)
			}
			all = append(all, f)
		}
	}
	switch len(all) {
	case 0:
		return found{}
	case 1:
		return all[0]
	}
	return found{kind: kind, why: fmt.Sprintf("the cupboard has a %s and a %s of that name: write which, under kind", all[0].kind, all[1].kind)}
}

// has reports whether a part of the cupboard has all the sizes that words say.
func has(cup *parts.Cupboard, kind, name string, values map[string]string) bool {
	real := valuesOf(cup, kind, name)
	for key, v := range values {
		if real[key] != v {
			return false
		}
	}
	return true
}

// valuesOf are the sizes of a part by which shops name it.
func valuesOf(cup *parts.Cupboard, kind, name string) map[string]string {
	mm := func(v units.Millimetres) string { return units.Lengths.Format(v) }
	switch kind {
	case "pulley":
		return pick(cup.Pulleys, name, func(p *parts.Pulley) (string, map[string]string) {
			return p.Name, map[string]string{"outside": mm(p.Outside), "bore": mm(p.Bore), "width": mm(p.Width), "groove_floor": mm(p.GrooveFloor), "material": string(p.Material)}
		})
	case "band":
		return pick(cup.Bands, name, func(b *parts.Band) (string, map[string]string) {
			return b.Name, map[string]string{"size": b.Size, "flat_length": mm(b.FlatLength), "width": mm(b.Width), "thickness": mm(b.Thickness)}
		})
	case "motor":
		return pick(cup.Motors, name, func(m *parts.Motor) (string, map[string]string) {
			return m.Name, map[string]string{"rated": units.Voltages.Format(m.Rated), "free_speed": units.Turnings.Format(m.FreeSpeed)}
		})
	case "cells":
		return pick(cup.Holders, name, func(h *parts.CellHolder) (string, map[string]string) {
			return h.Name, map[string]string{"cells": fmt.Sprint(h.Cells), "chemistry": string(h.Chemistry)}
		})
	case "axle":
		return pick(cup.Axles, name, func(a *parts.AxleStock) (string, map[string]string) {
			return a.Name, map[string]string{"diameter": mm(a.Diameter), "length": mm(a.Length), "material": string(a.Material)}
		})
	case "sleeve":
		return pick(cup.Sleeves, name, func(s *parts.Sleeve) (string, map[string]string) {
			return s.Name, map[string]string{"inner": mm(s.Inner), "outer": mm(s.Outer), "length": mm(s.Length)}
		})
	case "wheel":
		return pick(cup.Wheels, name, func(w *parts.Wheel) (string, map[string]string) {
			return w.Name, map[string]string{"diameter": mm(w.Diameter), "bore": mm(w.Bore), "width": mm(w.Width), "material": string(w.Material)}
		})
	case "drum":
		return pick(cup.Drums, name, func(d *parts.Drum) (string, map[string]string) {
			return d.Name, map[string]string{"diameter": mm(d.Diameter), "bore": mm(d.Bore), "width": mm(d.Width), "material": string(d.Material)}
		})
	}
	return nil
}

func pick[P any](list []P, name string, of func(*P) (string, map[string]string)) map[string]string {
	for i := range list {
		if n, values := of(&list[i]); n == name {
			return values
		}
	}
	return nil
}
