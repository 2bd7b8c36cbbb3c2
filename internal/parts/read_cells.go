package parts

import (
	"fmt"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Chemistries that may be used, and the resistance of one cell of each:
// common practice, 0.2 ohm for a new alkaline cell and twice that for the
// weaker kinds.
var chemistries = []struct {
	name       string
	resistance units.Ohms
}{{"zinc-carbon", 0.4}, {"zinc-chloride", 0.4}, {"alkaline", 0.2}}

// refusedChemistries are not for pupils' models, with the reason (common
// practice in school safety guidance).
var refusedChemistries = map[string]string{
	"rechargeable": "rechargeable cells give so much current that a short circuit burns",
	"nimh":         "rechargeable cells give so much current that a short circuit burns",
	"nicd":         "rechargeable cells give so much current that a short circuit burns",
	"lead-acid":    "lead-acid batteries hold acid and give so much current that a short circuit burns",
	"lithium":      "lithium cells can catch fire when shorted or crushed",
	"li-ion":       "lithium cells can catch fire when shorted or crushed",
	"lipo":         "lithium cells can catch fire when shorted or crushed",
	"button":       "button cells kill children who swallow them",
	"coin":         "button cells kill children who swallow them",
}

// printedVoltage is what is printed on every cell of these chemistries.
const printedVoltage units.Volts = 1.5

// readHolder reads a [cells.NAME] table.
//
//	cells         how many in series; needed
//	chemistry     "zinc-carbon" (otherwise), "zinc-chloride" or "alkaline"
//	condition     "fresh" or "used"; without it they may be either
//	open_voltage  of one cell without load, measured; without it, or at the 1.5 V
//	              that is printed on them, it depends on their condition
//	resistance    of one cell; otherwise 0.4 ohm, alkaline 0.2 ohm
//	capacity      of one cell; without it running times are not said
func readHolder(it Item, t *tomlfile.Table) CellHolder {
	t.Need("cells", "2")
	h := CellHolder{Cells: t.Whole("cells", 1, 1, 8)}
	h.Chemistry = readChemistry(t, &it)
	h.Condition = Condition(t.Choice("condition", "", string(Fresh), string(Used)))
	resistance := units.Ohms(0)
	for _, c := range chemistries {
		if c.name == h.Chemistry {
			resistance = c.resistance
		}
	}
	if !t.Has("resistance") && t.Good("chemistry") {
		it.Assumed = append(it.Assumed, fmt.Sprintf("resistance of a cell taken as %s", units.Resistances.Format(resistance)))
	}
	h.OpenVoltage = tomlfile.Quantity(t, "open_voltage", &units.Voltages, printedVoltage, tomlfile.Range[units.Volts]{Least: 0.8, Most: 1.8})
	h.Measured = t.Has("open_voltage") && h.OpenVoltage != printedVoltage
	h.CellResistance = tomlfile.Quantity(t, "resistance", &units.Resistances, resistance, tomlfile.Range[units.Ohms]{Least: 0.01, Most: 10})
	h.Capacity = tomlfile.Quantity(t, "capacity", &units.Capacities, 0, tomlfile.Range[units.MilliampHours]{Least: 1, Most: 50_000})
	h.Item = it
	return h
}

func readChemistry(t *tomlfile.Table, it *Item) string {
	names := make([]string, len(chemistries))
	for i, c := range chemistries {
		names[i] = c.name
	}
	if !t.Has("chemistry") {
		it.Assumed = append(it.Assumed, "chemistry taken as "+names[0])
	} else if word := t.Text("chemistry", names[0]); refusedChemistries[word] != "" {
		t.Fail("chemistry", "%s: use %s", refusedChemistries[word], listed(names))
		return names[0]
	}
	return t.Choice("chemistry", names[0], names...)
}
