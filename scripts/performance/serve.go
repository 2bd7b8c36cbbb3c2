package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"time"

	"findrive/internal/cases"
	"findrive/internal/supply"
)

// serve times how many groups a service's stock serves, thirty asked, over every family, in
// processor time of one thread. Arguments are the first seed, how many from there on, and
// how long one case may go on by the clock.
func serve() error {
	first, count, longest := uint64(1), uint64(1), 20*time.Second
	if len(os.Args) > 4 {
		var err error
		if first, err = strconv.ParseUint(os.Args[2], 10, 64); err != nil {
			return err
		}
		if count, err = strconv.ParseUint(os.Args[3], 10, 64); err != nil {
			return err
		}
		if longest, err = time.ParseDuration(os.Args[4]); err != nil {
			return err
		}
	}
	fmt.Print("| family | seed | served | at most | fewest points | searches | time |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, family := range cases.Families() {
		for seed := first; seed < first+count; seed++ {
			cup, b := cases.Make(cases.Service(), family, seed)
			b.Sets = 30
			ctx, stop := context.WithTimeout(context.Background(), longest)
			// As the command has it: one search a quarter, one that betters a twentieth.
			bound := func(share time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
				return func(ctx context.Context) (context.Context, context.CancelFunc) {
					return context.WithTimeout(ctx, longest/share)
				}
			}
			from := spent()
			r, err := supply.Serve(ctx, cup, b, 0, supply.Options{Threads: 1, Limit: bound(4), Relax: bound(20), Rank: bound(20)})
			stop()
			if err != nil {
				return err
			}
			over := ""
			if r.Stopped {
				over = "over "
			}
			fmt.Printf("| %s | %d | %d | %d | %t | %d | %s%s |\n", family, seed, r.Served, r.Most, r.FewestPoints, r.Searches, over, ms(spent()-from))
		}
	}
	return nil
}
