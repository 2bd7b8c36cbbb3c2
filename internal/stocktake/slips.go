package stocktake

import (
	"slices"
	"strings"

	"findrive/internal/tomlfile"
)

// slipsOf are words for parts that are looked for behind a slip of the pen: long ones, of which
// one wrong letter makes no other thing that may lie in a cupboard, as it makes a spoon of a spool.
var slipsOf = []string{"pulley", "motor", "wheel", "dowel", "axle", "skewer", "washer", "sleeve", "elastic", "bobbin", "battery", "holder"}

// spelt are words as they were meant: one that is not known, with one letter wrong, is read as the
// word for a part, where it begins like it. slip tells whether there was one.
func spelt(words []string) (out []string, slip bool) {
	for _, w := range words {
		if near := slipOf(w); near != "" {
			w, slip = near, true
		}
		out = append(out, w)
	}
	return out, slip
}

func slipOf(word string) string {
	one, many := strings.CutSuffix(word, "s")
	if len(one) < 4 || isKnown(word) || isKnown(one) {
		return ""
	}
	near := tomlfile.NearestWithin(one, slipsOf, 1)
	if near == "" || near[0] != one[0] {
		return ""
	}
	if many {
		near += "s"
	}
	return near
}

// isKnown reports whether a word stands for something as it is.
func isKnown(word string) bool {
	named := func(names []string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return slices.Contains(strings.Fields(n), word) })
	}
	return slices.Contains(tells, word) || slices.Contains(keptIn, word) || named(otherKinds) ||
		slices.ContainsFunc(kinds, func(k kindWords) bool { return named(k.words) })
}
