package report

import (
	"io"

	"findrive/internal/stocktake"
)

// StockSchemaVersion is raised when a key of the files of lists of stock and of kits checked
// in changes its meaning or goes.
const StockSchemaVersion = 1

type stockFile struct {
	Schema  int            `json:"schema"`
	Kind    string         `json:"kind"` // "findrive stock"
	Asks    []string       `json:"asked"`
	Rows    []stockRowJSON `json:"rows"`
	Lacks   []string       `json:"kinds_missing"`
	Misfits []string       `json:"misfits"`
}

type stockRowJSON struct {
	File    string       `json:"file"`
	Sheet   string       `json:"sheet"`
	Row     int          `json:"row"`
	Verdict string       `json:"verdict"`
	Words   string       `json:"what"`
	Part    string       `json:"part"`
	Remarks []remarkJSON `json:"remarks"`
}

type remarkJSON struct {
	Column  string `json:"column"` // its letter; empty for the whole row
	Heading string `json:"heading"`
	Text    string `json:"remark"`
	Assumes bool   `json:"assumes"`
}

// StockJSON writes what became of every row of lists of stock. The error is from w.
func StockJSON(w io.Writer, r *stocktake.Result) error {
	f := stockFile{Schema: StockSchemaVersion, Kind: "findrive stock", Asks: list(r.Asks), Rows: []stockRowJSON{}, Lacks: list(r.Lacks), Misfits: list(r.Misfits)}
	for i := range r.Lists {
		l := &r.Lists[i]
		for j := range l.Rows {
			row := &l.Rows[j]
			out := stockRowJSON{l.File, l.Sheet, row.Number, row.Verdict.String(), row.Words, row.Part, []remarkJSON{}}
			for _, m := range row.Remarks {
				letter := ""
				if m.Column >= 0 {
					letter = stocktake.Letter(m.Column)
				}
				out.Remarks = append(out.Remarks, remarkJSON{letter, stockHeading(l, row, m), m.Text, m.Assumes})
			}
			f.Rows = append(f.Rows, out)
		}
	}
	return writeJSON(w, f)
}

type returnFile struct {
	Schema  int              `json:"schema"`
	Kind    string           `json:"kind"` // "findrive stock back"
	Kit     bool             `json:"kit"`  // of a kit list; else of all stock
	Lines   []returnLineJSON `json:"parts"`
	Changes []stockCountJSON `json:"stock"`
	Strange []string         `json:"not_in_cupboard"`
	Over    []string         `json:"more_than_in_cupboard"`
}

type returnLineJSON struct {
	Row     int    `json:"row"`
	Kind    string `json:"kind"`
	Name    string `json:"part"`
	Where   string `json:"where"`
	Taken   int    `json:"taken"`
	Counted bool   `json:"counted"`
	Back    int    `json:"back"`
	Damaged int    `json:"damaged"`
	Missing int    `json:"missing"`
}

type stockCountJSON struct {
	Kind   string `json:"kind"`
	Name   string `json:"part"`
	Before int    `json:"before"`
	After  int    `json:"now"`
}

// ReturnJSON writes what came back of a kit, and the stock that changes. The error is from w.
func ReturnJSON(w io.Writer, r *stocktake.Return) error {
	f := returnFile{Schema: StockSchemaVersion, Kind: "findrive stock back", Kit: r.Kit, Lines: []returnLineJSON{}, Changes: []stockCountJSON{}, Strange: list(r.Strange), Over: list(r.Over)}
	for i := range r.Lines {
		l := &r.Lines[i]
		f.Lines = append(f.Lines, returnLineJSON{l.Row, l.Kind, l.Name, l.Where, l.Taken, l.Counted, l.Back, l.Damaged, l.Missing()})
	}
	for _, c := range r.Changes {
		f.Changes = append(f.Changes, stockCountJSON{c.Kind, c.Name, c.Before, c.After})
	}
	return writeJSON(w, f)
}
