package report

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/goals"
	"findrive/internal/units"
)

// The plot of speed against climb in signs: columns of the slopes, lines of speed.
const (
	plotLines = 12
	plotCell  = 5 // cells for each slope
)

// tradeOff writes speed against climb as a plot of signs and as a table: the signs
// for the eye, the figures for whoever cannot see them.
func (p *page) tradeOff(t *goals.TradeOff) {
	if len(t.Slopes) == 0 {
		return
	}
	p.blank()
	p.heading("Speed against climb")
	how := "with axles at the marks of a ruler none is a tenth faster, which is proved"
	if !t.Proved {
		how = "as far as was searched in the time"
	}
	p.say(0, "*: the fastest drive known that keeps every rule up each slope; "+how+". "+lettersWords(len(t.Entries))+
		" Steady speeds; more climb is bought with speed.")
	for _, l := range plot(t) {
		p.line(l, "")
	}
	columns := []column{{head: "Slope", right: true, fixed: true}, {head: "cm/s", right: true, fixed: true}, {head: "Ratio", right: true, fixed: true}, {head: "The fastest drive known"}}
	var rows [][]string
	for _, u := range t.Fastest {
		rows = append(rows, []string{trimmed(u.Slope.Degrees(), 0) + " deg", significant(100*float64(u.Speed), 2), significant(u.Ratio, 3), u.Pulleys})
	}
	p.table(0, columns, rows)
}

func lettersWords(n int) string {
	if n == 1 {
		return "A: drive 1 of the list, as far as it keeps them with its holes as drawn."
	}
	return fmt.Sprintf("A to %s: drives 1 to %d of the list, as far as they keep them with their holes as drawn.", letter(n-1), n)
}

// plot draws the speeds, the highest at the top. Where two signs fall on one place
// the star is kept, then the first letter.
func plot(t *goals.TradeOff) []string {
	var most units.MetresPerSecond
	for _, u := range t.Fastest {
		most = max(most, u.Speed)
	}
	grid := make([][]rune, plotLines)
	for i := range grid {
		grid[i] = []rune(strings.Repeat(" ", plotCell*len(t.Slopes)))
	}
	put := func(us []goals.Uphill, sign rune) {
		for _, u := range us {
			for i, slope := range t.Slopes {
				line := plotLines - 1 - int(math.Round(float64(u.Speed/most)*(plotLines-1)))
				if slope == u.Slope && line >= 0 && grid[line][plotCell*i+plotCell/2] == ' ' {
					grid[line][plotCell*i+plotCell/2] = sign
				}
			}
		}
	}
	put(t.Fastest, '*')
	for i, us := range t.Entries {
		put(us, []rune(letter(i))[0])
	}
	out := make([]string, 0, plotLines+2)
	for i, row := range grid {
		mark := "     "
		if i%4 == 3 || i == 0 {
			mark = fmt.Sprintf("%5s", significant(100*float64(most)*float64(plotLines-1-i)/(plotLines-1), 2))
		}
		out = append(out, mark+" |"+string(row))
	}
	axis, marks := "cm/s  +", "       "
	for _, s := range t.Slopes {
		axis += strings.Repeat("-", plotCell)
		marks += fmt.Sprintf("%*s%*s", plotCell/2+1, trimmed(s.Degrees(), 0), plotCell-plotCell/2-1, "")
	}
	return append(out, axis, marks+" degrees")
}
