package main

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"findrive/internal/cases"
	"findrive/internal/selection"
)

// seeds is how many questions of each family are asked.
const seeds = 8

// sized are the sizes by name.
var sized = []struct {
	name string
	size cases.Size
}{{"cupboard", cases.Cupboard()}, {"service", cases.Service()}, {"catalogue", cases.Catalogue()}}

// solved is the time to the ten cheapest, proved.
func solved(q *selection.Question) (time.Duration, error) {
	var err error
	took := least(5, func() {
		a, e := selection.Solve(context.Background(), q)
		if err = e; err == nil && !a.Proved {
			err = fmt.Errorf("not proved")
		}
	})
	return took, err
}

// inside times selection alone, family by family.
func inside() error {
	for _, s := range sized {
		fmt.Printf("\n| %s | median | worst |\n| --- | --- | --- |\n", s.name)
		var all []time.Duration
		for _, family := range cases.SelectionFamilies() {
			var took []time.Duration
			for seed := range uint64(seeds) {
				d, err := solved(cases.Selection(s.size, family, seed))
				if err != nil {
					return err
				}
				took = append(took, d)
			}
			fmt.Printf("| %s | %s | %s |\n", family, ms(median(took)), ms(worst(took)))
			all = append(all, took...)
		}
		fmt.Printf("| **all %d** | **%s** | **%s** |\n", len(all), ms(median(all)), ms(worst(all)))
	}
	runtime.GC()
	fmt.Printf("\nThe process held %d MB at most.\n", peak()>>20)
	return nil
}

func worst(d []time.Duration) time.Duration {
	w := d[0]
	for _, v := range d {
		w = max(w, v)
	}
	return w
}
