package main

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"time"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/design"
)

// ordinary times the whole search on cupboards of ordinary schools, by the clock. The
// arguments are the first seed, how many, and how long a search may go on.
func ordinary() error {
	runtime.GOMAXPROCS(threads)
	first, count, longest := uint64(1), uint64(40), 20*time.Second
	var err error
	if len(os.Args) > 2 {
		if first, err = strconv.ParseUint(os.Args[2], 10, 64); err != nil {
			return err
		}
	}
	if len(os.Args) > 3 {
		if count, err = strconv.ParseUint(os.Args[3], 10, 32); err != nil {
			return err
		}
	}
	if len(os.Args) > 4 {
		if longest, err = time.ParseDuration(os.Args[4]); err != nil {
			return err
		}
	}
	type row struct {
		times              []time.Duration
		proved, none, open int
	}
	rows := map[brief.Model]*row{}
	all := &row{}
	for seed := first; seed < first+count; seed++ {
		cup, b, err := cases.Ordinary(seed)
		if err != nil {
			return err
		}
		of := rows[b.Model]
		if of == nil {
			of = &row{}
			rows[b.Model] = of
		}
		ctx, stop := context.WithTimeout(context.Background(), longest)
		began := time.Now()
		r, err := design.Find(ctx, cup, b, design.Options{Threads: threads})
		took := time.Since(began)
		stop()
		if err != nil {
			return err
		}
		for _, w := range []*row{of, all} {
			w.times = append(w.times, took)
			switch r.Status {
			case design.ProvedBest:
				w.proved++
			case design.NonePossible:
				w.none++
			default:
				w.open++
			}
		}
	}
	fmt.Println("| model | cases | proved best | proved none | open | median | worst |\n| --- | --- | --- | --- | --- | --- | --- |")
	line := func(name string, w *row) {
		fmt.Printf("| %s | %d | %d | %d | %d | %s | %s |\n", name, len(w.times), w.proved, w.none, w.open, ms(median(w.times)), longestOf(w.times, w.open))
	}
	for _, model := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft} {
		if of := rows[model]; of != nil {
			line(string(model), of)
		}
	}
	line("**all**", all)
	return nil
}
