package brief

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
)

// inCupboard notes what the brief names and the cupboard has not got. Of several
// numbers of cells one is enough: the list says what may be used, not what must.
func inCupboard(root, load *tomlfile.Table, b *Brief, cup *parts.Cupboard) {
	named(load, "wheel", b.Load.Wheel, wheelNames(cup))
	named(load, "drum", b.Load.Drum, drumNames(cup))

	var holders []string
	for i := range cup.Holders {
		h := &cup.Holders[i]
		if slices.Contains(b.Cells, h.Cells) {
			return
		}
		if has := fmt.Sprint(h.Cells); !slices.Contains(holders, has) {
			holders = append(holders, has)
		}
	}
	slices.Sort(holders)
	switch {
	case len(b.Cells) == 0 || !root.Good("cells"):
	case len(holders) == 0:
		root.Fail("cells", "the cupboard has no cells at all: write them there as [cells.NAME]")
	default:
		root.Fail("cells", "the cupboard has no holder for %s: it has holders for %s", listed(b.Cells), strings.Join(holders, ", "))
	}
}

// named notes a part that is not among those of its kind.
func named(t *tomlfile.Table, kind, name string, known []string) {
	switch {
	case name == "" || !t.Good(kind):
	case len(known) == 0:
		t.Fail(kind, "found %q, and the cupboard has no %s at all: write it there as [%s.NAME]", name, kind, kind)
	default:
		t.Known(kind, name, known)
	}
}

// listed is "1 cell", or "2, 3 or 4 cells".
func listed(cells []int) string {
	words := make([]string, len(cells))
	for i, n := range cells {
		words[i] = fmt.Sprint(n)
	}
	last := len(words) - 1
	switch {
	case last > 0:
		return strings.Join(words[:last], ", ") + " or " + words[last] + " cells"
	case cells[0] == 1:
		return "1 cell"
	}
	return words[0] + " cells"
}
