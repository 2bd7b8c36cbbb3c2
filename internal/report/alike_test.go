package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
)

// Drives with the same pulleys are told apart by what they have otherwise, and others are not.
func TestOtherwise(t *testing.T) {
	of := func(driver, motor string, cells int, holder, wheel string) *design.Proposal {
		d := &drive.Drive{Motor: &parts.Motor{Item: parts.Item{Name: motor}}, Holder: &parts.CellHolder{Item: parts.Item{Name: holder}, Cells: cells}}
		if wheel != "" {
			d.Wheel = &parts.Wheel{Item: parts.Item{Name: wheel}}
		}
		return &design.Proposal{Drive: d, Stages: []design.StageReport{{Driver: driver, Driven: "large"}}}
	}
	assert.Equal(t, []string{"", ""}, otherwise([]*design.Proposal{of("a", "slow", 1, "one", ""), of("b", "fast", 2, "two", "")}), "their pulleys tell them")
	assert.Equal(t, []string{"1 cell", "2 cells, motor slow", "2 cells, motor fast", ""}, otherwise([]*design.Proposal{
		of("a", "slow", 1, "one", ""), of("a", "slow", 2, "two", ""), of("a", "fast", 2, "two", ""), of("b", "slow", 1, "one", ""),
	}))
	assert.Equal(t, []string{"wheel high", "wheel low"}, otherwise([]*design.Proposal{of("a", "m", 2, "two", "high"), of("a", "m", 2, "two", "low")}))
	assert.Equal(t, []string{"in flat box", "in long box"}, otherwise([]*design.Proposal{of("a", "m", 2, "flat box", ""), of("a", "m", 2, "long box", "")}))
}
