package constraints

import (
	"fmt"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// MostOverRated is how many times its rated voltage a motor is given at most: its packet
// says nothing, and at half as much again it already takes more than twice the heat when
// it stalls, which goes with the square of the volts (judgement; one cell more than the
// motor is made for is common practice, and brushes wear the faster for it).
const MostOverRated = 1.5

// aboveRated is how much over its rating a motor is before that is worth a word: fresh
// cells give some hundredths more than is printed on them.
const aboveRated = 1.05

// PrintedVolts are those of a holder as the packet of the cells has it, or as measured.
func PrintedVolts(h *parts.CellHolder) units.Volts { return units.Volts(h.Cells) * h.OpenVoltage }

// MostVolts is the most that a motor may be given: the top of the range on its packet, or
// MostOverRated times its rating.
func MostVolts(m *parts.Motor) units.Volts {
	if m.VoltsMost > 0 {
		return m.VoltsMost
	}
	return MostOverRated * m.Rated
}

// Volts is the rule that cells do not give a motor much more than it is made for.
func Volts(m *parts.Motor, h *parts.CellHolder) *Refusal {
	gives, most := PrintedVolts(h), MostVolts(m)
	// A measured cell may be a little over what is printed on it.
	if gives <= most*aboveRated {
		return nil
	}
	return refuse(TooManyVolts, float64(gives/most)-1, func() string {
		made := fmt.Sprintf("is made for %s V", figure(m.Rated))
		if m.VoltsMost > 0 {
			made = fmt.Sprintf("is made for %s to %s V by its packet", figure(m.VoltsLeast), figure(m.VoltsMost))
		}
		give := "give"
		if h.Cells == 1 {
			give = "gives"
		}
		return fmt.Sprintf("%s of %s %s motor %s %s V: it %s and bears %s V at most, for more makes it hot and wears it out", cellsOf(h), h.Name, give, m.Name, figure(gives), made, figure(most))
	})
}

// OverRated reports whether cells give a motor more than its rated voltage, though not
// more than it bears. It warns only, and not where the packet says that it may be.
func OverRated(m *parts.Motor, h *parts.CellHolder) bool {
	return m.VoltsMost == 0 && PrintedVolts(h) > m.Rated*aboveRated && Volts(m, h) == nil
}

func cellsOf(h *parts.CellHolder) string {
	if h.Cells == 1 {
		return "the one cell"
	}
	return fmt.Sprintf("the %d cells", h.Cells)
}
