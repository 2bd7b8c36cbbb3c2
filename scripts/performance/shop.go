package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"time"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/supply"
)

// shop times the least order for so many groups from a service's scarce stock, on two
// threads. Arguments are the first seed, how many from there on, the groups, and how long one
// case may go on by the clock.
func shop() error {
	first, count, groups, longest := uint64(1), uint64(1), 20, time.Minute
	if len(os.Args) > 5 {
		var err error
		if first, err = strconv.ParseUint(os.Args[2], 10, 64); err != nil {
			return err
		}
		if count, err = strconv.ParseUint(os.Args[3], 10, 64); err != nil {
			return err
		}
		if groups, err = strconv.Atoi(os.Args[4]); err != nil {
			return err
		}
		if longest, err = time.ParseDuration(os.Args[5]); err != nil {
			return err
		}
	}
	runtime.GOMAXPROCS(2)
	fmt.Print("| seed | groups | order | at least | proved | drives | searches | processor time | by the clock |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for seed := first; seed < first+count; seed++ {
		cup, b := cases.Make(cases.Service(), cases.Scarce, seed)
		b.Sets = groups
		list, err := priceList(cup, seed)
		if err != nil {
			return err
		}
		ctx, stop := context.WithTimeout(context.Background(), longest)
		// As the command has it.
		bound := func(share time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
			return func(ctx context.Context) (context.Context, context.CancelFunc) {
				return context.WithTimeout(ctx, longest/share)
			}
		}
		from, began := spent(), time.Now()
		r, err := supply.Find(ctx, &supply.Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{b}, Mix: true},
			supply.Options{Threads: 2, Limit: bound(4), Relax: bound(60), Rank: bound(30)})
		took := time.Since(began)
		stop()
		if err != nil {
			return err
		}
		order, least, proved := "none found", "-", r.None
		if p := r.Plan; p != nil {
			order, least, proved = fmt.Sprint(p.Money), fmt.Sprint(p.AtLeast), p.Proved
		}
		fmt.Printf("| %d | %d | %s | %s | %t | %d | %d | %s | %s |\n", seed, groups, order, least, proved, r.Drives, r.Searches, ms(spent()-from), took.Round(10*time.Millisecond))
	}
	return nil
}

// priceList is a list of two suppliers that sell a third of all parts, drawn from a seed.
func priceList(cup *parts.Cupboard, seed uint64) (*prices.List, error) {
	rnd := rand.New(rand.NewPCG(seed, 0x5407))
	var text strings.Builder
	text.WriteString("currency = \"GBP\"\n[supplier.hill]\ncarriage = \"4.95\"\nfree_from = \"40.00\"\n[supplier.vale]\ncarriage = \"2.50\"\nminimum_order = \"10.00\"\n")
	offer := func(kind, name string, dearest int) {
		if rnd.IntN(3) > 0 {
			return
		}
		pack := []int{1, 5, 10, 10, 25}[rnd.IntN(5)]
		price := pack*(dearest/2+rnd.IntN(dearest)) + 5
		fmt.Fprintf(&text, "[offer.%s]\npart = \"%s.%s\"\nsupplier = %q\npack = %d\nprice = \"%d.%02d\"\n", name, kind, name, []string{"hill", "vale"}[rnd.IntN(2)], pack, price/100, price%100)
	}
	for i := range cup.Pulleys {
		offer("pulley", cup.Pulleys[i].Name, 40)
	}
	for i := range cup.Bands {
		offer("band", cup.Bands[i].Name, 4)
	}
	for i := range cup.Motors {
		offer("motor", cup.Motors[i].Name, 120)
	}
	for i := range cup.Holders {
		offer("cells", cup.Holders[i].Name, 60)
	}
	return prices.Read("prices.toml", []byte(text.String()), cup)
}
