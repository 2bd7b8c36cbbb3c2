package main

import (
	"fmt"
	"time"

	"findrive/internal/cases"
)

// growth shows how the time of selection alone goes with each measure of size, from a
// loans service's size on.
func growth() error {
	base := cases.Service()
	type row struct {
		size cases.Size
		sets int // 0 for what the case has
	}
	tables := []struct {
		name string
		rows []row
		of   func(row) int
	}{
		{"kinds of pulley", nil, func(r row) int { return r.size.Pulleys }},
		{"kinds of band", nil, func(r row) int { return r.size.Bands }},
		{"stages at most", nil, func(r row) int { return r.size.Stages }},
		{"sets", nil, func(r row) int { return r.sets }},
	}
	for _, n := range []int{30, 60, 120, 240, 480} {
		tables[0].rows = append(tables[0].rows, row{size: cases.Size{Pulleys: n, Bands: base.Bands, Stages: base.Stages}})
	}
	for _, n := range []int{10, 20, 40, 80, 160, 320} {
		tables[1].rows = append(tables[1].rows, row{size: cases.Size{Pulleys: base.Pulleys, Bands: n, Stages: base.Stages}})
	}
	for n := 2; n <= 5; n++ {
		tables[2].rows = append(tables[2].rows, row{size: cases.Size{Pulleys: base.Pulleys, Bands: base.Bands, Stages: n}})
	}
	for _, n := range []int{1, 2, 4, 8, 16} {
		tables[3].rows = append(tables[3].rows, row{size: base, sets: n})
	}
	families := []cases.SelectionFamily{cases.SelectVaried, cases.SelectNominal, cases.SelectDeep, cases.SelectScarce}
	for _, t := range tables {
		fmt.Printf("\n| %s |", t.name)
		for _, f := range families {
			fmt.Printf(" %s |", f)
		}
		fmt.Print("\n| --- | --- | --- | --- | --- |\n")
		for _, r := range t.rows {
			fmt.Printf("| %d |", t.of(r))
			for _, f := range families {
				var took []time.Duration
				for seed := range uint64(5) {
					q := cases.Selection(r.size, f, seed)
					if r.sets > 0 {
						q.Sets = r.sets
					}
					d, err := solved(q)
					if err != nil {
						return err
					}
					took = append(took, d)
				}
				fmt.Printf(" %s |", ms(median(took)))
			}
			fmt.Println()
		}
	}
	return nil
}
