package stocktake

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Months and such in a heading say when was counted: qty Sept, stock July 2026.
var whens = strings.Fields(`jan january feb february mar march apr april may jun june jul july aug august sep sept september oct october nov november dec december
	autumn spring summer winter term half year class week now today new old this at on in start end of the before after 1 2 3 4 5 6 1st 2nd 3rd first second third`)

// undated is a heading without what says when was counted; empty if nothing else is left
// or nothing was left out.
func undated(plain string) string {
	all := strings.Fields(plain)
	left := slices.DeleteFunc(slices.Clone(all), func(w string) bool {
		year, err := strconv.Atoi(w)
		return slices.Contains(whens, w) || err == nil && len(w) == 4 && year >= 1990 && year <= 2100 || err == nil && len(w) == 2
	})
	if len(left) == 0 || len(left) == len(all) {
		return ""
	}
	return strings.Join(left, " ")
}

// mayNumberItems reports whether a heading may mean the number of an item as well as a
// count of items.
func mayNumberItems(heading string) bool {
	switch plainWords(heading) {
	case "number", "no", "nr", "num":
		return true
	}
	return false
}

// findCounts settles which column is the count. Where that is not plain, the user is
// asked, and until then the smaller count of a row is taken.
func (h *heading) findCounts(g *grid, opt Options) {
	var all []int
	for i := range h.list {
		if c := &h.list[i]; c.field == countField {
			all = append(all, i)
		}
	}
	if slices.ContainsFunc(all, func(i int) bool { return !h.list[i].guessed }) {
		all = slices.DeleteFunc(all, func(i int) bool {
			c := &h.list[i]
			if !c.guessed {
				return false
			}
			c.field, c.rival, c.note = "", false, notKnown
			return true
		})
	}
	if chosen := h.chosen(opt.CountColumn, all); chosen >= 0 {
		for _, i := range all {
			h.list[i].rival, h.list[i].note = i != chosen, ""
			if i != chosen {
				h.list[i].note = "not the count, as --count says"
			}
		}
		h.list[chosen].field, h.list[chosen].rival = countField, false
		h.picked = true
		return
	}
	all = h.itemNumbers(g, all)
	if len(all) == 0 {
		if h.column(goodField) < 0 && h.column(packsField) < 0 {
			if i := h.likeCounts(g); i >= 0 {
				c := &h.list[i]
				c.field, c.guessed, c.note = countField, true, "taken for the count, for nothing else is"
				h.asks = append(h.asks, fmt.Sprintf("Is column %s, %s, the count? No heading says which is, and it is the only one with whole numbers. If it is not, write Qty over the one that is.", Letter(i), c.heading))
				return
			}
			h.asks = append(h.asks, "Which column says how many there are? None does by its heading, so that each row is taken to be one part. Write Qty over it, or say --count and its letter.")
		}
		return
	}
	for _, i := range all {
		h.list[i].rival = false
	}
	if len(all) == 1 {
		h.list[all[0]].note = ""
		return
	}
	var names []string
	for _, i := range all {
		names = append(names, fmt.Sprintf("%s, %s", Letter(i), h.list[i].heading))
	}
	for k, i := range all {
		for _, j := range all[:k] {
			if plainWords(h.list[i].heading) == plainWords(h.list[j].heading) {
				h.refuse = fmt.Sprintf("two columns are called %s: put tables one below the other, not side by side", h.list[i].heading)
			}
		}
	}
	if h.refuse != "" {
		h.asks = append(h.asks, fmt.Sprintf("Which column is the count? %s are called alike, so that no row is used. Put tables one below the other, or say --count and the letter.", strings.Join(names, "; ")))
		return
	}
	h.counts = all
	for _, i := range all[1:] {
		h.list[i].rival = true
	}
	h.asks = append(h.asks, fmt.Sprintf("Which column is the count? It may be %s. Until you say so, with --count %s for example, the smaller one of each row is taken.", strings.Join(names, "; or "), Letter(all[len(all)-1])))
	for _, i := range all {
		h.list[i].note = "may be the count: the smaller is taken"
	}
}

// likeCounts is the only column under a heading that is not known with a whole number in
// most rows, which do not number the rows; Nowhere if there is none, or several.
func (h *heading) likeCounts(g *grid) int {
	found := Nowhere
	for k, c := range h.list {
		if c.field != "" && !c.guessed || c.heading == "" || strings.Contains(c.note, "if that is meant") {
			continue
		}
		counts, said := 0, 0
		for i := h.at + 1; i < h.end; i++ {
			row := g.rows[i].cells
			if len(saidIn(row)) < 2 {
				continue
			}
			said++
			if k >= len(row) {
				continue
			}
			if n, err := strconv.Atoi(row[k]); err == nil && n >= 0 {
				counts++
			}
		}
		switch {
		case 2*counts <= said || h.runsOn(g, k):
		case found >= 0:
			return Nowhere
		default:
			found = k
		}
	}
	return found
}

// chosen is the column that the user says is the count, by its letter or its heading.
// A letter is only looked at where it is open which column is the count, for other tables
// have other columns of that letter.
func (h *heading) chosen(said string, all []int) int {
	if said == "" {
		return -1
	}
	for i, c := range h.list {
		if c.heading != "" && plainWords(c.heading) == plainWords(said) {
			return i
		}
	}
	for i := range h.list {
		if strings.EqualFold(Letter(i), said) && (slices.Contains(all, i) && len(all) > 1 || len(all) == 0 || len(all) == 1 && mayNumberItems(h.list[all[0]].heading)) {
			return i
		}
	}
	return -1
}

// itemNumbers takes from the columns that may be the count those that number the items:
// called Number or the like, with figures that run on.
func (h *heading) itemNumbers(g *grid, all []int) []int {
	return slices.DeleteFunc(slices.Clone(all), func(i int) bool {
		c := &h.list[i]
		if !mayNumberItems(c.heading) || !h.runsOn(g, i) {
			return false
		}
		c.field, c.rival, c.note = idField, false, "taken for the number of the item, for its figures run on"
		if len(all) > 1 {
			h.asks = append(h.asks, fmt.Sprintf("Is column %s, %s, the number of the item? Its figures run on, so it is taken for that. If it is the count, say --count %[1]s.", Letter(i), c.heading))
		} else {
			h.asks = append(h.asks, fmt.Sprintf("Column %s, %s, runs on as numbers of items do, and is not taken for the count. If it is the count, say --count %[1]s.", Letter(i), c.heading))
		}
		return true
	})
}

// runsOn reports whether the figures of a column go up by one from row to row.
func (h *heading) runsOn(g *grid, column int) bool {
	last, n := 0, 0
	for i := h.at + 1; i < h.end; i++ {
		c := g.rows[i].cells
		if column >= len(c) || c[column] == "" {
			continue
		}
		v, err := strconv.Atoi(strings.TrimSuffix(c[column], "."))
		if err != nil || n > 0 && v != last+1 {
			return false
		}
		if n == 0 && v > 1 {
			last = v
		}
		last, n = v, n+1
	}
	return n >= 3 || n == 2 && last == 2
}
