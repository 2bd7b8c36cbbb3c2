package stocktake

// CellRow is a row of a sheet that is not blank.
type CellRow struct {
	Number int      // from 1, as a spreadsheet counts
	Cells  []string // words on one line each; empty ones at the end are left out
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
			out = append(out, CellRow{r.number, r.cells})
		}
	}
	return out, nil
}

// mostKnown is the sheet with the row that names most columns.
func mostKnown(grids []*grid, known func(cells []string) int) *grid {
	best, most := grids[0], 0
	for _, g := range grids {
		for i := range g.rows {
			if n := known(g.rows[i].cells); n > most {
				best, most = g, n
			}
		}
	}
	return best
}
