package certificate

import (
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Discs are the sheets that discs can be cut from, and how many a group may cut.
type Discs struct {
	Most   int     `json:"most_of_a_group"`
	Sheets []Sheet `json:"sheets"`
}

// Sheet is sheet that discs are cut from.
type Sheet struct {
	Name      string `json:"name"`
	Location  string `json:"location"`
	Kind      string `json:"kind"`
	Thickness Number `json:"thickness_mm"`
	Length    Number `json:"length_mm"`
	Width     Number `json:"width_mm"`
	Count     int    `json:"count"`
}

// Made is how a pulley is made: so many core discs on one another between two flanges.
type Made struct {
	Core   Disc   `json:"core"`
	Layers int    `json:"core_layers"`
	Flange Disc   `json:"flange"`
	Error  Number `json:"diameter_error_mm"`
	Wobble Number `json:"off_centre_mm"`
}

// Disc is a round of sheet.
type Disc struct {
	Sheet     string `json:"sheet"`
	Kind      string `json:"kind"`
	Thickness Number `json:"thickness_mm"`
	Diameter  Number `json:"diameter_mm"`
	Cutter    string `json:"cutter"`
	Way       string `json:"way"`
}

// mostLayers is more than anybody glues on one another.
const mostLayers = 100

func (m *Made) check() *mistake {
	if m.Layers < 1 || m.Layers > mostLayers || !sizes(m.Core.Thickness, m.Core.Diameter, m.Flange.Thickness, m.Flange.Diameter) {
		return wrong("the discs have no size")
	}
	return nil
}

func (d *Discs) check() *mistake {
	for i := range d.Sheets {
		if s := &d.Sheets[i]; !sizes(s.Thickness, s.Length, s.Width) || s.Count < 0 || s.Count > mostSheets {
			return wrong("the sheet has no size", "sheets", i)
		}
	}
	return nil
}

// mostSheets is as many as a cupboard may hold.
const mostSheets = 1_000_000

// Stock is the sheets as a cupboard has them.
func (d *Discs) Stock() []parts.SheetStock {
	var out []parts.SheetStock
	for i := range d.Sheets {
		q := &d.Sheets[i]
		out = append(out, parts.SheetStock{Item: parts.Item{Name: q.Name, Location: q.Location, Count: q.Count}, Kind: parts.Sheet(q.Kind),
			Thickness: units.Millimetres(q.Thickness), Length: units.Millimetres(q.Length), Width: units.Millimetres(q.Width)})
	}
	return out
}

// Disc is the disc as a cupboard's sheets yield it.
func (d *Disc) Disc() parts.Disc {
	return parts.Disc{Sheet: d.Sheet, Kind: parts.Sheet(d.Kind), Thickness: units.Millimetres(d.Thickness), Diameter: units.Millimetres(d.Diameter), Cutter: d.Cutter, Way: parts.CuttingWay(d.Way)}
}

// ToMake is a pulley that is to be made, as far as its discs go.
func (p *Pulley) ToMake() *parts.Pulley {
	return &parts.Pulley{Item: parts.Item{Name: p.Name}, Made: &parts.Made{Core: p.Made.Core.Disc(), Flange: p.Made.Flange.Disc(), Layers: p.Made.Layers}}
}
