package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// whole times the whole search with loads and places, on one thread: every family at
// each size, then how the time goes with each measure of size. An argument is how
// long one search may go on, by the clock; 20s if there is none.
func whole() error {
	longest := 20 * time.Second
	if len(os.Args) > 2 {
		d, err := time.ParseDuration(os.Args[2])
		if err != nil {
			return err
		}
		longest = d
	}
	fmt.Print("| family | cupboard | service | catalogue |\n| --- | --- | --- | --- |\n")
	for _, family := range cases.Families() {
		fmt.Printf("| %s |", family)
		for _, s := range sized {
			cell, err := searched(s.size, family, 0, longest)
			if err != nil {
				return err
			}
			fmt.Printf(" %s |", cell)
		}
		fmt.Println()
	}
	families := []cases.Family{cases.Varied, cases.Nominal, cases.Scarce}
	type row struct {
		size cases.Size
		sets int
	}
	tables := []struct {
		name string
		rows map[int]row
		in   []int
	}{
		{name: "kinds of pulley", in: []int{6, 12, 24, 60}, rows: map[int]row{}},
		{name: "kinds of band", in: []int{5, 10, 20, 40}, rows: map[int]row{}},
		{name: "stages at most", in: []int{1, 2, 3, 4}, rows: map[int]row{}},
		{name: "sets", in: []int{1, 2, 4, 8}, rows: map[int]row{}},
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

// searched is the time to the ten best, proved; or how far the search came.
func searched(size cases.Size, family cases.Family, sets int, longest time.Duration) (string, error) {
	cup, b := cases.Make(size, family, 1)
	if sets > 0 {
		b.Sets = sets
	}
	r, took, err := search(cup, b, longest)
	if err != nil {
		return "", err
	}
	if r.Status == design.StoppedEarly {
		known := 0
		for _, p := range r.Proposals {
			if p.Total <= r.Open {
				known++
			}
		}
		return fmt.Sprintf("over %s (%d proved)", ms(took), known), nil
	}
	return ms(took), nil
}

func search(cup *parts.Cupboard, b *brief.Brief, longest time.Duration) (r *design.Result, took time.Duration, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	defer cancel()
	took = least(1, func() { r, err = design.Find(ctx, cup, b, design.Options{Threads: 1}) })
	if err == nil && r == nil {
		err = errors.New("no result")
	}
	return r, took, err
}
