package stocktake

// CellRow is a row of a sheet that is not blank.
type CellRow struct {
	Number int      // from 1, as a spreadsheet counts
	Cells  []string // words on one line each; empty ones at the end are left out
	Commas bool     // that commas part the cells
}

// Cells reads the cells of a sheet of any sort as Read reads those of a list of stock,
// whatever parts the columns and whatever the letters are coded in; of a workbook, the
// sheet with the row that names most. known is how many of
// the columns that the caller looks for a row names. The error is a plain sentence.
func Cells(data []byte, known func(cells []string) int) ([]CellRow, error) {
	grids, err := open(data, known)
	if err != nil {
		return nil, err
	}
	g := mostKnown(grids, known)
	var out []CellRow
	for i := range g.rows {
		if r := &g.rows[i]; !r.blank() && !r.separator {
			out = append(out, CellRow{r.number, r.cells, g.comma == ',' && !g.workbook})
		}
	}
	return out, nil
}

// OtherSheets are the names of the sheets of a workbook that Cells passes over though they
// have a row that names at least two columns.
func OtherSheets(data []byte, known func(cells []string) int) []string {
	grids, err := open(data, known)
	if err != nil {
		return nil
	}
	read := mostKnown(grids, known)
	var out []string
	for _, g := range grids {
		if g != read && !g.hidden && knownBy(g, known) > 1 {
			out = append(out, g.sheet)
		}
	}
	return out
}

// mostKnown is the sheet with the row that names most columns, of those that are shown if any
// is.
func mostKnown(grids []*grid, known func(cells []string) int) *grid {
	best, most := grids[0], -1
	for _, g := range grids {
		n := knownBy(g, known)
		if g.hidden && !best.hidden {
			continue
		}
		if n > most || best.hidden && !g.hidden {
			best, most = g, n
		}
	}
	return best
}

// knownBy is how many columns the row of a sheet names that names most.
func knownBy(g *grid, known func(cells []string) int) int {
	most := 0
	for i := range g.rows {
		most = max(most, known(g.rows[i].cells))
	}
	return most
}
