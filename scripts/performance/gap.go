package main

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// gap tells of searches that take long or do not close what is known after a while, and
// after a longer one: how many drives there are, the points of the last, and the least
// that anything not looked at could have.
func gap() error {
	runtime.GOMAXPROCS(threads)
	after := []time.Duration{2 * time.Second, 8 * time.Second, 30 * time.Second}
	fmt.Print("| case |")
	for _, d := range after {
		fmt.Printf(" after %s |", d)
	}
	fmt.Println("\n| --- | --- | --- | --- |")
	for _, hard := range []struct {
		name   string
		size   cases.Size
		family cases.Family
		seed   uint64
	}{
		{"cupboard", cases.Cupboard(), cases.Clones, 4},
		{"service", cases.Service(), cases.JustOut, 4},
		{"catalogue", cases.Catalogue(), cases.JustOut, 1},
		{"catalogue", cases.Catalogue(), cases.NarrowBand, 3},
		{"catalogue", cases.Catalogue(), cases.NarrowBand, 4},
		{"catalogue", cases.Catalogue(), cases.TightFrame, 1},
	} {
		fmt.Printf("| %s, %s, seed %d |", hard.name, hard.family, hard.seed)
		for _, longest := range after {
			cup, b := cases.Make(hard.size, hard.family, hard.seed)
			ctx, cancel := context.WithTimeout(context.Background(), longest)
			r, err := design.Find(ctx, cup, b, design.Options{Threads: threads})
			cancel()
			if err != nil {
				return err
			}
			fmt.Printf(" %s |", known(r))
		}
		fmt.Println()
	}
	return nil
}

func known(r *design.Result) string {
	n := len(r.Proposals)
	switch {
	case r.Status != design.StoppedEarly:
		return "closed"
	case n == 0:
		return fmt.Sprintf("no drive; none under %.2f points", r.Open.Float())
	}
	if n == 1 {
		return fmt.Sprintf("1 drive, %.2f; others %.2f at least", r.Proposals[0].Total.Float(), r.Open.Float())
	}
	return fmt.Sprintf("%d drives, the last %.2f; others %.2f at least", n, r.Proposals[n-1].Total.Float(), r.Open.Float())
}
