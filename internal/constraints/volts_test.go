package constraints

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/parts"
	"findrive/internal/units"
)

func TestVolts(t *testing.T) {
	holder := func(cells int, each units.Volts) *parts.CellHolder {
		return &parts.CellHolder{Item: parts.Item{Name: "box"}, Cells: cells, OpenVoltage: each}
	}
	motor := &parts.Motor{Item: parts.Item{Name: "slow"}, Rated: 3}
	packet := &parts.Motor{Item: parts.Item{Name: "slow"}, Rated: 3, VoltsLeast: 1.5, VoltsMost: 6}
	requireSaid(t, TooManyVolts, []check{
		{"as it is made for", Volts(motor, holder(2, 1.5)), ""},
		{"one cell more", Volts(motor, holder(3, 1.5)), ""},
		{"three fresh cells, measured", Volts(motor, holder(3, 1.56)), ""},
		{"two cells more", Volts(motor, holder(4, 1.5)),
			"the 4 cells of box give motor slow 6 V: it is made for 3 V and bears 4.5 V at most, for more makes it hot and wears it out"},
		{"nine volts", Volts(motor, holder(6, 1.5)),
			"the 6 cells of box give motor slow 9 V: it is made for 3 V and bears 4.5 V at most, for more makes it hot and wears it out"},
		{"the packet allows it", Volts(packet, holder(4, 1.5)), ""},
		{"more than the packet", Volts(packet, holder(5, 1.5)),
			"the 5 cells of box give motor slow 7.5 V: it is made for 1.5 to 6 V by its packet and bears 6 V at most, for more makes it hot and wears it out"},
		{"a motor of less than a cell", Volts(&parts.Motor{Item: parts.Item{Name: "tiny"}, Rated: 0.5}, holder(1, 1.5)),
			"the one cell of box gives motor tiny 1.5 V: it is made for 0.5 V and bears 0.75 V at most, for more makes it hot and wears it out"},
	})
	for cells, warned := range map[int]bool{1: false, 2: false, 3: true, 4: false} {
		assert.Equal(t, warned, OverRated(motor, holder(cells, 1.5)), cells)
		assert.False(t, OverRated(packet, holder(cells, 1.5)), cells)
	}
	assert.False(t, OverRated(motor, holder(2, 1.56)), "fresh cells")
}
