package selection

import (
	"bytes"
	"fmt"
)

// MiniZinc is the table as data of the model in testdata/cheapest.mzn.
func (t *Table) MiniZinc() []byte {
	var out bytes.Buffer
	put := func(name string, v int) { fmt.Fprintf(&out, "%s = %d;\n", name, v) }
	put("most_stages", t.MostStages)
	put("ways", t.Ways)
	put("firsts", len(t.First)/t.Ways)
	put("laters", len(t.Later)/t.Ways)
	put("sizes", len(t.Axle))
	put("motors", len(t.Motor))
	put("bands", len(t.Bands))
	put("wanted", int(t.Wanted))
	put("per_stage", int(t.PerStage))
	put("never", Never)
	// From nought on where a stage may be missing.
	column := func(name string, rows []TableRow, every int, missing bool, of func(TableRow) int) {
		fmt.Fprintf(&out, "%s = ", name)
		if missing {
			fmt.Fprintf(&out, "array1d(0..%d, ", len(rows)/every)
		}
		out.WriteString("[")
		if missing {
			out.WriteString("0,")
		}
		for i := 0; i < len(rows); i += every {
			fmt.Fprintf(&out, "%d,", of(rows[i]))
		}
		out.WriteString("]")
		if missing {
			out.WriteString(")")
		}
		out.WriteString(";\n")
	}
	for _, side := range []struct {
		name    string
		rows    []TableRow
		missing bool
	}{{"first", t.First, false}, {"later", t.Later, true}} {
		column(side.name+"_log", side.rows, t.Ways, side.missing, func(r TableRow) int { return int(r.Log) })
		column(side.name+"_driver", side.rows, t.Ways, side.missing, func(r TableRow) int { return r.Driver + 1 })
		column(side.name+"_driven", side.rows, t.Ways, side.missing, func(r TableRow) int { return r.Driven + 1 })
		column(side.name+"_band", side.rows, 1, side.missing, func(r TableRow) int { return r.Band + 1 })
		column(side.name+"_off", side.rows, 1, side.missing, func(r TableRow) int { return int(r.Off) })
	}
	stock := func(name string, have []int) {
		fmt.Fprintf(&out, "%s = [", name)
		for _, n := range have {
			fmt.Fprintf(&out, "%d,", n)
		}
		out.WriteString("];\n")
	}
	stock("have", t.Axle)
	stock("band_have", t.Bands)
	return out.Bytes()
}

// LP is the table as a linear programme in whole numbers, in the LP format: for each
// number of stages k a variable yk, and how often each row is taken, fk_i and xk_i.
// Costs are in units of a thousand shares, which suits solvers that reckon in floats.
func (t *Table) LP() []byte {
	const scale = 1e-3
	var out bytes.Buffer
	taken := func(each func(k int, name string, r TableRow, first bool)) {
		for k := 1; k <= t.MostStages; k++ {
			for i, r := range t.First {
				if r.Off < Never {
					each(k, fmt.Sprintf("f%d_%d", k, i), r, true)
				}
			}
			for i, r := range t.Later {
				if k > 1 && r.Off < Never {
					each(k, fmt.Sprintf("x%d_%d", k, i), r, false)
				}
			}
		}
	}
	term := func(c float64, name string) { fmt.Fprintf(&out, " %+.9g %s\n", c, name) }
	out.WriteString("Minimize\n cost: over + under\n")
	for k := 2; k <= t.MostStages; k++ {
		term(scale*float64(t.PerStage)*float64(k-1), fmt.Sprintf("y%d", k))
	}
	taken(func(k int, name string, r TableRow, first bool) { term(scale*float64(r.Off)/float64(k), name) })
	out.WriteString("Subject To\n one:")
	for k := 1; k <= t.MostStages; k++ {
		term(1, fmt.Sprintf("y%d", k))
	}
	out.WriteString(" = 1\n ratio: under - over\n")
	taken(func(k int, name string, r TableRow, first bool) { term(scale*float64(r.Log), name) })
	fmt.Fprintf(&out, " = %.9g\n", scale*float64(t.Wanted))
	for k := 1; k <= t.MostStages; k++ {
		for _, first := range []bool{true, false} {
			n := 1
			if !first {
				n = k - 1
			}
			if n == 0 {
				continue
			}
			fmt.Fprintf(&out, " stages%d_%d:", k, n)
			if first {
				out.WriteString("  ")
			}
			taken(func(of int, name string, r TableRow, isFirst bool) {
				if of == k && isFirst == first {
					term(1, name)
				}
			})
			term(-float64(n), fmt.Sprintf("y%d", k))
			out.WriteString(" = 0\n")
		}
	}
	limit := func(name string, have []int, need int, used func(r TableRow, first bool, i int) int) {
		for i, n := range have {
			if n >= need {
				continue
			}
			var rows int
			at := out.Len()
			fmt.Fprintf(&out, " %s%d:", name, i)
			taken(func(_ int, variable string, r TableRow, first bool) {
				if u := used(r, first, i); u > 0 {
					term(float64(u), variable)
					rows++
				}
			})
			if rows == 0 {
				out.Truncate(at)
				continue
			}
			fmt.Fprintf(&out, " <= %d\n", n)
		}
	}
	limit("size", t.Axle, 2*t.MostStages-1, func(r TableRow, first bool, i int) int {
		n := 0
		if r.Driven == i {
			n++
		}
		if !first && r.Driver == i {
			n++
		}
		return n
	})
	limit("band", t.Bands, t.MostStages, func(r TableRow, _ bool, i int) int {
		if r.Band == i {
			return 1
		}
		return 0
	})
	out.WriteString("Bounds\n")
	taken(func(k int, name string, _ TableRow, first bool) {
		fmt.Fprintf(&out, " 0 <= %s <= %d\n", name, max(1, k-1))
	})
	for k := 1; k <= t.MostStages; k++ {
		fmt.Fprintf(&out, " 0 <= y%d <= 1\n", k)
	}
	out.WriteString("General\n")
	taken(func(_ int, name string, _ TableRow, _ bool) { fmt.Fprintf(&out, " %s\n", name) })
	for k := 1; k <= t.MostStages; k++ {
		fmt.Fprintf(&out, " y%d\n", k)
	}
	out.WriteString("End\n")
	return out.Bytes()
}
