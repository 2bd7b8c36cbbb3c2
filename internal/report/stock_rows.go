package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/stocktake"
)

// stockRows are the rows of each list that are so.
func stockRows(r *stocktake.Result, is func(*stocktake.Row) bool) map[int][]int {
	out := map[int][]int{}
	for i := range r.Lists {
		for j := range r.Lists[i].Rows {
			if row := &r.Lists[i].Rows[j]; is(row) {
				out[i] = append(out[i], row.Number)
			}
		}
	}
	return out
}

// rowsIn lists rows as "2, 5-7", or with several lists as "Pulleys 2, 5-7; Axles 3".
func rowsIn(r *stocktake.Result, rows map[int][]int) string {
	var out []string
	for i := range r.Lists {
		switch {
		case len(rows[i]) == 0:
		case len(r.Lists) == 1:
			out = append(out, rowRanges(rows[i]))
		default:
			out = append(out, stockList(r, &r.Lists[i])+" "+rowRanges(rows[i]))
		}
	}
	return strings.Join(out, "; ")
}

// unusedStock are the rows of stock that are ignored, with the reason. Rows of
// different things with one reason are not put together: each is looked up by itself.
func unusedStock(r *stocktake.Result) [][]string {
	var out [][]string
	for i := range r.Lists {
		l := &r.Lists[i]
		for j := range l.Rows {
			row := &l.Rows[j]
			if row.Verdict != stocktake.Ignored || row.Bare {
				continue
			}
			var why []string
			for _, m := range row.Remarks {
				why = append(why, atColumn(l, row, m)+m.Text)
			}
			number := fmt.Sprint(row.Number)
			if len(r.Lists) > 1 {
				number = stockList(r, l) + " " + number
			}
			out = append(out, []string{number, row.Words, strings.Join(why, "; ")})
		}
	}
	return out
}

// atColumn names a remark's column.
func atColumn(l *stocktake.List, row *stocktake.Row, m stocktake.Remark) string {
	if m.Column < 0 {
		return ""
	}
	if heading := stockHeading(l, row, m); heading != "" {
		return fmt.Sprintf("column %s, %s: ", stocktake.Letter(m.Column), heading)
	}
	return "column " + stocktake.Letter(m.Column) + ": "
}

// stockHeading is the heading of a remark's column; may be empty.
func stockHeading(l *stocktake.List, row *stocktake.Row, m stocktake.Remark) string {
	if m.Column < 0 || row.Table >= len(l.Tables) || m.Column >= len(l.Tables[row.Table].Columns) {
		return ""
	}
	return l.Tables[row.Table].Columns[m.Column].Heading
}

// remarked are the remarks of one sort on rows that are used, each with its rows:
// those of fewest rows first, for they are the odd ones.
func remarked(r *stocktake.Result, is func(stocktake.Remark) bool) [][]string {
	rows := map[string]map[int][]int{}
	many := map[string]int{}
	var order []string
	for i := range r.Lists {
		l := &r.Lists[i]
		for j := range l.Rows {
			row := &l.Rows[j]
			if row.Verdict == stocktake.Ignored {
				continue
			}
			for _, m := range row.Remarks {
				if !is(m) {
					continue
				}
				words := atColumn(l, row, m) + withoutFigure(m.Text)
				if rows[words] == nil {
					rows[words] = map[int][]int{}
					order = append(order, words)
				}
				if !slices.Contains(rows[words][i], row.Number) {
					rows[words][i] = append(rows[words][i], row.Number)
					many[words]++
				}
			}
		}
	}
	slices.SortStableFunc(order, func(a, b string) int { return cmp.Compare(min(2, many[a]), min(2, many[b])) })
	var out [][]string
	for _, words := range order {
		out = append(out, []string{words, rowsIn(r, rows[words])})
	}
	return out
}

var notGiven = pattern.Must(`^([a-z ]+) taken as [^(]+ \((.+)\)$`)

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

// bareRows lists the rows without stock by what they are; of several lists, a text for
// each reason.
func bareRows(r *stocktake.Result) []string {
	rows := map[string]map[int][]int{}
	var order []string
	for i := range r.Lists {
		for j := range r.Lists[i].Rows {
			row := &r.Lists[i].Rows[j]
			if !row.Bare || len(row.Remarks) == 0 || row.Number == 0 { // headings that were put over it
				continue
			}
			why := row.Remarks[len(row.Remarks)-1].Text
			if rows[why] == nil {
				rows[why] = map[int][]int{}
				order = append(order, why)
			}
			rows[why][i] = append(rows[why][i], row.Number)
		}
	}
	var out []string
	if len(order) == 0 {
		return nil
	}
	for _, why := range order {
		out = append(out, rowsIn(r, rows[why])+" ("+why+")")
	}
	if len(r.Lists) == 1 {
		return []string{strings.Join(out, ", ")}
	}
	return out
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

// rowsTold are the rows of a list in which a column said something of the part that was taken
// into account, though the column was taken for nothing.
func rowsTold(list *stocktake.List, table, column int) (out []int) {
	for i := range list.Rows {
		row := &list.Rows[i]
		if row.Table != table {
			continue
		}
		for _, m := range row.Remarks {
			if m.Column == column && (m.Assumes || row.Verdict == stocktake.Ignored) {
				out = append(out, row.Number)
				break
			}
		}
	}
	return out
}
