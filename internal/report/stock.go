package report

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"findrive/internal/stocktake"
)

// StockOptions say how a stock list's page is made.
type StockOptions struct {
	Width  int // in columns; 0 for 80
	Colour bool
}

// StockText writes what became of every row of a stock list: which were used, what
// was assumed, and what was ignored, by row and column. The error is from w.
func StockText(w io.Writer, r *stocktake.Result, opt StockOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.heading(stockSummary(r))
	how := append(slices.Clone(r.How), fmt.Sprintf("headings in row %d", r.Heading))
	p.say(0, strings.ToUpper(how[0][:1])+strings.Join(how, "; ")[1:]+".")
	if no := unusedStock(r); len(no) > 0 {
		p.blank()
		p.heading("Not used: put these right if they matter")
		p.table(2, []column{{head: "Row", right: true, fixed: true}, {head: "What"}, {head: "Why not"}}, no)
	}
	if a := remarked(r, func(m stocktake.Remark) bool { return m.Assumes }); len(a) > 0 {
		p.blank()
		p.heading("Assumed: measure and count where it matters")
		p.table(2, []column{{head: "What"}, {head: "In rows"}}, a)
	}
	if left := remarked(r, func(m stocktake.Remark) bool { return !m.Assumes }); len(left) > 0 {
		p.blank()
		p.heading("Left out of rows that are used")
		p.table(2, []column{{head: "What"}, {head: "In rows"}}, left)
	}
	p.blank()
	p.heading("All rows")
	for _, v := range []struct {
		words string
		is    func(*stocktake.Row) bool
	}{
		{"Used as they stand", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Used }},
		{"Used with something assumed", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Assumed }},
		{"Not used", func(r *stocktake.Row) bool { return r.Verdict == stocktake.Ignored && !r.Bare }},
	} {
		if rows := stockRows(r, v.is); len(rows) > 0 {
			p.hang(2, 4, v.words+": "+rowRanges(rows)+".")
		}
	}
	bare := stockRows(r, func(r *stocktake.Row) bool { return r.Bare })
	if len(bare) > 0 {
		p.hang(2, 4, "No stock in them: "+bareRows(r)+".")
	}
	p.blank()
	p.heading("Columns")
	var columns [][]string
	for i, c := range r.Columns {
		taken := c.Field
		if taken == "" {
			taken = "not used"
		}
		if c.Note != "" {
			taken += " (" + c.Note + ")"
		}
		columns = append(columns, []string{stocktake.Letter(i), c.Heading, taken})
	}
	p.table(2, []column{{head: "", fixed: true}, {head: "Heading"}, {head: "Taken for"}}, columns)
	if len(r.Parts) > 0 {
		p.blank()
		p.heading("In the cupboard")
		p.table(2, []column{{head: "Kind"}, {head: "Different ones", right: true}, {head: "Pieces", right: true}}, stockKinds(r))
	}
	_, err := io.WriteString(w, p.text.String())
	return err
}

// stockSummary says in a sentence whether the list could be used.
func stockSummary(r *stocktake.Result) string {
	used, assumed := r.Count(stocktake.Used), r.Count(stocktake.Assumed)
	all := len(stockRows(r, func(r *stocktake.Row) bool { return !r.Bare }))
	s := fmt.Sprintf("%s: %d of %s of stock can be used", clean(r.Name), used+assumed, count(all, "row"))
	if all == 0 {
		return clean(r.Name) + ": there are no rows of stock under the headings."
	}
	if assumed > 0 {
		s += fmt.Sprintf(", %d of them with something assumed", assumed)
	}
	return s + "."
}

func stockRows(r *stocktake.Result, is func(*stocktake.Row) bool) []int {
	var out []int
	for i := range r.Rows {
		if is(&r.Rows[i]) {
			out = append(out, r.Rows[i].Number)
		}
	}
	return out
}

// unusedStock are the rows of stock that are ignored, with the reason. Rows of
// different things with one reason are not put together: each is looked up by itself.
func unusedStock(r *stocktake.Result) [][]string {
	var out [][]string
	for i := range r.Rows {
		row := &r.Rows[i]
		if row.Verdict != stocktake.Ignored || row.Bare {
			continue
		}
		var why []string
		for _, m := range row.Remarks {
			why = append(why, atColumn(r, m)+m.Text)
		}
		out = append(out, []string{fmt.Sprint(row.Number), row.Words, strings.Join(why, "; ")})
	}
	return out
}

// atColumn names a remark's column.
func atColumn(r *stocktake.Result, m stocktake.Remark) string {
	switch {
	case m.Column < 0:
		return ""
	case m.Column >= len(r.Columns) || r.Columns[m.Column].Heading == "":
		return "column " + stocktake.Letter(m.Column) + ": "
	}
	return fmt.Sprintf("column %s, %s: ", stocktake.Letter(m.Column), r.Columns[m.Column].Heading)
}

// remarked are the remarks of one sort on rows that are used, each with its rows:
// those of fewest rows first, for they are the odd ones.
func remarked(r *stocktake.Result, is func(stocktake.Remark) bool) [][]string {
	rows := map[string][]int{}
	var order []string
	for i := range r.Rows {
		row := &r.Rows[i]
		if row.Verdict == stocktake.Ignored {
			continue
		}
		for _, m := range row.Remarks {
			if !is(m) {
				continue
			}
			words := atColumn(r, m) + withoutFigure(m.Text)
			if rows[words] == nil {
				order = append(order, words)
			}
			if !slices.Contains(rows[words], row.Number) {
				rows[words] = append(rows[words], row.Number)
			}
		}
	}
	slices.SortStableFunc(order, func(a, b string) int { return cmp.Compare(min(2, len(rows[a])), min(2, len(rows[b]))) })
	var out [][]string
	for _, words := range order {
		out = append(out, []string{words, rowRanges(rows[words])})
	}
	return out
}

var notGiven = regexp.MustCompile(`^([a-z ]+) taken as [^(]+ \((.+)\)$`)

// withoutFigure makes one remark of those that differ in nothing but the figure that
// was worked out, as "groove floor taken as 46 mm (outside less 4 mm)" does.
func withoutFigure(remark string) string {
	m := notGiven.FindStringSubmatch(remark)
	if m == nil {
		return remark
	}
	return m[1] + " not given, taken as: " + m[2]
}

// rowRanges lists numbers as "2, 5-7". They come in order.
func rowRanges(rows []int) string {
	var out []string
	for i := 0; i < len(rows); {
		j := i
		for j+1 < len(rows) && rows[j+1] == rows[j]+1 {
			j++
		}
		switch {
		case j == i:
			out = append(out, fmt.Sprint(rows[i]))
		case j == i+1:
			out = append(out, fmt.Sprint(rows[i]), fmt.Sprint(rows[j]))
		default:
			out = append(out, fmt.Sprintf("%d-%d", rows[i], rows[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// bareRows lists the rows without stock by what they are.
func bareRows(r *stocktake.Result) string {
	rows := map[string][]int{}
	var order []string
	for i := range r.Rows {
		row := &r.Rows[i]
		if !row.Bare || len(row.Remarks) == 0 {
			continue
		}
		why := row.Remarks[len(row.Remarks)-1].Text
		if rows[why] == nil {
			order = append(order, why)
		}
		rows[why] = append(rows[why], row.Number)
	}
	var out []string
	for _, why := range order {
		out = append(out, rowRanges(rows[why])+" ("+why+")")
	}
	return strings.Join(out, ", ")
}

// stockKinds is how many parts of each kind there are.
func stockKinds(r *stocktake.Result) [][]string {
	var out [][]string
	for i := 0; i < len(r.Parts); {
		kind, n, pieces := r.Parts[i].Kind, 0, 0
		for ; i < len(r.Parts) && r.Parts[i].Kind == kind; i++ {
			n++
			pieces += r.Parts[i].Count
		}
		out = append(out, []string{kind, fmt.Sprint(n), fmt.Sprint(pieces)})
	}
	return out
}

// StockCSV writes a row for each remark on each row of a stock list, and one for each
// row without any. The error is from w.
func StockCSV(w io.Writer, r *stocktake.Result) error {
	out := csv.NewWriter(w)
	rows := [][]string{{"row", "verdict", "what", "part", "column", "heading", "remark"}}
	for i := range r.Rows {
		row := &r.Rows[i]
		base := []string{fmt.Sprint(row.Number), row.Verdict.String(), safe(row.Words), safe(row.Part)}
		for _, m := range row.Remarks {
			letter, heading := "", ""
			if m.Column >= 0 {
				letter = stocktake.Letter(m.Column)
				if m.Column < len(r.Columns) {
					heading = r.Columns[m.Column].Heading
				}
			}
			rows = append(rows, append(slices.Clone(base), letter, safe(heading), safe(m.Text)))
		}
		if len(row.Remarks) == 0 {
			rows = append(rows, append(base, "", "", ""))
		}
	}
	return out.WriteAll(rows)
}
