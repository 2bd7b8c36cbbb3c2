package main

import (
	"context"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"time"

	"findrive/internal/cases"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/why"
)

// none times, by the clock, what it takes to tell what stands in the way and what unlocks it, as
// propose tells it, in cupboards of ordinary schools with no drive. The arguments are the first
// seed and how many cupboards, most of which have a drive.
func none() error {
	runtime.GOMAXPROCS(threads)
	first, count := uint64(1), uint64(40)
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
	const limit = time.Minute // and its shares, as propose has them
	share := func(n time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
		return func(ctx context.Context) (context.Context, context.CancelFunc) {
			return context.WithTimeout(ctx, limit/n)
		}
	}
	var alone, together []time.Duration
	told := 0
	for seed := first; seed < first+count; seed++ {
		cup, b, err := cases.Ordinary(seed)
		if err != nil {
			return err
		}
		ctx, stop := context.WithTimeout(context.Background(), limit)
		r, err := design.Find(ctx, cup, b, design.Options{Threads: threads})
		if err == nil && len(r.Proposals) == 0 {
			began := time.Now()
			var a *why.Answer
			a, err = why.Ask(ctx, leeway.Case{Cupboard: cup, Brief: b}, why.Options{None: r, Briefly: true, Threads: threads, First: share(2), Alone: share(8), Each: share(30)})
			if err == nil {
				if a.Smallest() != nil && a.Obstacle() != "" {
					told++
				}
				if took := time.Since(began); a.Conflict.Alone != 0 {
					alone = append(alone, took)
				} else {
					together = append(together, took)
				}
			}
		}
		stop()
		if err != nil {
			return err
		}
	}
	fmt.Printf("%d of %d cupboards have no drive; of %d it is told what stands in the way and unlocks it.\n\n", len(alone)+len(together), count, told)
	fmt.Println("| what unlocks it | cases | median | worst |\n| --- | --- | --- | --- |")
	line := func(name string, times []time.Duration) {
		if len(times) > 0 {
			fmt.Printf("| %s | %d | %s | %s |\n", name, len(times), ms(median(times)), longestOf(times, 0))
		}
	}
	line("one thing", alone)
	line("several together, or nothing", together)
	return nil
}
