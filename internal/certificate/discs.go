package certificate

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
