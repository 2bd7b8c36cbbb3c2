package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"time"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// threads is how many the whole search is given.
const threads = 2

// sized are the sizes by name.
var sized = []struct {
	name string
	size cases.Size
}{{"cupboard", cases.Cupboard()}, {"service", cases.Service()}, {"catalogue", cases.Catalogue()}}

// caseSeeds is how many cases of each family are timed.
const caseSeeds = 5

// whole times the whole search with loads and places, by the clock: some cases of every
// family at each size, then how the time goes with each measure of size. Arguments are
// how long one search may go on, 20s if there is none, and the first seed of the cases of
// families, so that there are always some that nothing was tuned by.
func whole() error {
	runtime.GOMAXPROCS(threads)
	longest := 20 * time.Second
	if len(os.Args) > 2 {
		d, err := time.ParseDuration(os.Args[2])
		if err != nil {
			return err
		}
		longest = d
	}
	first := uint64(1)
	if len(os.Args) > 3 {
		n, err := strconv.ParseUint(os.Args[3], 10, 64)
		if err != nil {
			return err
		}
		first = n
	}
	fmt.Print("| family |")
	for _, s := range sized {
		fmt.Printf(" %s: median | worst |", s.name)
	}
	fmt.Println("\n| --- | --- | --- | --- | --- | --- | --- |")
	all := make([][]time.Duration, len(sized))
	for _, family := range cases.Families() {
		fmt.Printf("| %s |", family)
		for i, s := range sized {
			var times []time.Duration
			over := 0
			for seed := first; seed < first+caseSeeds; seed++ {
				r, took, err := search(s.size, family, seed, 0, longest)
				if err != nil {
					return err
				}
				if r.Status == design.StoppedEarly {
					over++
				}
				times = append(times, took)
			}
			all[i] = append(all[i], times...)
			fmt.Printf(" %s | %s |", ms(median(times)), longestOf(times, over))
		}
		fmt.Println()
	}
	fmt.Print("| **all** |")
	for i := range sized {
		fmt.Printf(" **%s** | |", ms(median(all[i])))
	}
	fmt.Println()
	families := []cases.Family{cases.Varied, cases.Nominal, cases.Scarce}
	tables := []struct {
		name string
		in   []int
	}{
		{name: "kinds of pulley", in: []int{6, 12, 24, 60}},
		{name: "kinds of band", in: []int{5, 10, 20, 40}},
		{name: "stages at most", in: []int{1, 2, 3, 4}},
		{name: "sets", in: []int{1, 2, 4, 8}},
	}
	for i, t := range tables {
		fmt.Printf("\n| %s |", t.name)
		for _, f := range families {
			fmt.Printf(" %s |", f)
		}
		fmt.Print("\n| --- | --- | --- | --- |\n")
		for _, n := range t.in {
			size, sets := cases.Cupboard(), 0
			switch i {
			case 0:
				size.Pulleys = n
			case 1:
				size.Bands = n
			case 2:
				size.Stages = n
			case 3:
				sets = n
			}
			fmt.Printf("| %d |", n)
			for _, f := range families {
				cell, err := searched(size, f, sets, longest)
				if err != nil {
					return err
				}
				fmt.Printf(" %s |", cell)
			}
			fmt.Println()
		}
	}
	return nil
}

// longestOf is the longest time, and of how many searches the clock stopped over of them.
func longestOf(times []time.Duration, over int) string {
	if over == 0 {
		return ms(slices.Max(times))
	}
	return fmt.Sprintf("%d of %d over %s", over, len(times), ms(slices.Max(times)))
}

// searched is the time to the ten best, proved, of the median of some cases.
func searched(size cases.Size, family cases.Family, sets int, longest time.Duration) (string, error) {
	var times []time.Duration
	for seed := uint64(1); seed <= caseSeeds; seed++ {
		_, took, err := search(size, family, seed, sets, longest)
		if err != nil {
			return "", err
		}
		times = append(times, took)
	}
	return ms(median(times)), nil
}

// search is the whole search for the ten best of a case, for so many sets if that is
// not 0, and its time by the clock: the least of three runs if they are short.
func search(size cases.Size, family cases.Family, seed uint64, sets int, longest time.Duration) (r *design.Result, took time.Duration, err error) {
	cup, b := cases.Make(size, family, seed)
	if sets > 0 {
		b.Sets = sets
	}
	took = longest
	for run := 0; run < 3 && (run == 0 || took < time.Second); run++ {
		ctx, cancel := context.WithTimeout(context.Background(), longest)
		from := time.Now()
		if r, err = design.Find(ctx, cup, b, design.Options{Threads: threads}); err == nil && r == nil {
			err = errors.New("no result")
		}
		cancel()
		if err != nil {
			return nil, 0, err
		}
		if t := time.Since(from); run == 0 || t < took {
			took = t
		}
	}
	return r, took, nil
}
