package main

import (
	"context"
	"fmt"
	"time"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// gap tells of the families that do not close at a catalogue's size what is known of
// them after a while, and after a longer one: how many drives there are, the points of
// the tenth or last, and the least that anything not looked at could have.
func gap() error {
	after := []time.Duration{2 * time.Second, 8 * time.Second, 30 * time.Second}
	fmt.Print("| catalogue |")
	for _, d := range after {
		fmt.Printf(" after %s |", d)
	}
	fmt.Println("\n| --- | --- | --- | --- |")
	for _, family := range []cases.Family{cases.JustOut, cases.NarrowBand, cases.TightFrame} {
		fmt.Printf("| %s |", family)
		for _, longest := range after {
			cup, b := cases.Make(cases.Catalogue(), family, 0)
			ctx, cancel := context.WithTimeout(context.Background(), longest)
			r, err := design.Find(ctx, cup, b, design.Options{Threads: 1})
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
	return fmt.Sprintf("%d drives, the last %.2f; others %.2f at least", n, r.Proposals[n-1].Total.Float(), r.Open.Float())
}
