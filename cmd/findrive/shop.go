package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/ideas"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/report"
	"findrive/internal/search"
	"findrive/internal/supply"
)

type shopOptions struct {
	said                                 said
	cupboard, calibration, brief, prices string
	format                               string
	groups, pupils                       int
	oneDrive                             bool
	threads                              int
	timeLimit                            time.Duration
	colour                               string
	outputs                              []string
	force                                bool
}

func shopCommand() *cobra.Command {
	var opt shopOptions
	cmd := &cobra.Command{
		Use:   "shop",
		Short: "the least to buy so that all groups can build",
		Long: `shop reads a price list and finds the order that costs least, in whole packs and
with carriage, so that all groups can build the brief within its tolerance.
Groups may build different drives where that saves money. It says first what can
be done without buying, then the order with what is left over, what nearer
speeds cost, and what one pack of each offer does by itself. Without -c, -b and
-p it uses the built-in example, whose prices are invented.

The search stops after a minute, or what --time-limit says, and any one search
after a quarter of that.

Exit codes: 0 the order is proved to cost least, or nothing need be bought; 3
mistakes in an input file; 4 no order from the list will do; 5 stopped or ended
before the least was proved: the best so far, and how little it could still be.`,
		Example: `  findrive shop
  findrive shop -c cupboard.toml -b brief.toml -p prices.toml --groups 8`,
		Args: alone("write findrive shop -c cupboard.toml -b brief.toml -p prices.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			return runShop(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	opt.flags(f, time.Minute)
	f.BoolVar(&opt.oneDrive, "one-drive", false, "all groups build the same drive")
	return cmd
}

// flags are those that shop and term have in common.
func (opt *shopOptions) flags(f flags, usual time.Duration) {
	f.prices(&opt.prices)
	f.groups(&opt.groups)
	f.pupils(&opt.pupils)
	f.format(&opt.format)
	f.outputs(&opt.outputs, &opt.force, "the plan (.json) or the order for each supplier (.csv)")
	f.search(&opt.threads, &opt.timeLimit, usual)
	f.colour(&opt.colour)
}

func runShop(ctx context.Context, opt shopOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(1); err != nil {
		return err
	}
	cup, list, briefs, err := loadShop(opt, []string{opt.brief}, stdin)
	if err != nil {
		return err
	}
	opt.sayBuiltIn(stderr, []string{opt.brief})
	notePrices(stderr, list)
	whole := ctx
	if limit := within(opt.timeLimit); limit != nil {
		var stop context.CancelFunc
		ctx, stop = limit(ctx)
		defer stop()
	}
	bar := newProgress(stderr)
	steer := opt.steer(bar.watch)
	steer.Line, steer.Packs, steer.LineLimit = true, true, share(opt.timeLimit, 2)
	result, err := supply.Find(ctx, &supply.Question{Cupboard: cup, List: list, Briefs: briefs, Mix: !opt.oneDrive}, steer)
	if err != nil {
		return contradiction(err)
	}
	show := report.ShopOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), Pupils: opt.pupils, Mix: !opt.oneDrive}
	if opt.format == "text" && len(result.Short) == 0 && (result.Plan == nil || result.Plan.Money > 0) {
		free := whole
		if limit := share(opt.timeLimit, 4); limit != nil {
			var stop context.CancelFunc
			free, stop = limit(whole)
			defer stop()
		}
		show.Free, show.FreeAll, err = ideas.Free(free, cup, briefs[0], !opt.oneDrive, ideas.Options{Threads: opt.threads, Watch: bar.watch})
		if err != nil {
			return contradiction(err)
		}
	}
	bar.done()
	var says bytes.Buffer // behind the answer
	result, failed := writePurchase(whole, "findrive shop", &opt, result, &says)
	if failed != nil {
		opt.outputs = nil // which there is no going on with
	}
	printed := opt.print(stdout, "findrive shop", result, func(page io.Writer) error { return report.ShopText(page, result, show) }, opt.brief)
	_, _ = says.WriteTo(stderr)
	if failed != nil {
		return failed
	}
	return printed
}

// share bounds a search by one of n shares of a time; 0 for no bound.
func share(limit time.Duration, n time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
	if limit == 0 {
		return nil
	}
	return within(max(1, limit/n))
}

// steer is how a purchase is searched for.
func (opt *shopOptions) steer(watch func(search.Progress)) supply.Options {
	return supply.Options{Threads: opt.threads, Limit: share(opt.timeLimit, 4), Relax: share(opt.timeLimit, 60), Rank: share(opt.timeLimit, 30), Watch: watch}
}

// loadShop reads the cupboard, the price list and briefs, and reports what is wrong with
// all at once.
func loadShop(opt shopOptions, files []string, stdin io.Reader) (*parts.Cupboard, *prices.List, []*brief.Brief, error) {
	if opt.prices == "" && opt.cupboard != "" {
		return nil, nil, nil, outcome{exitUsage, "the built-in prices are invented and belong to the built-in cupboard: name a price list with -p\nhint: findrive start DIR writes a prices.toml to begin from"}
	}
	cup, cupErr := loadCupboard(opt.cupboard, stdin)
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	var list *prices.List
	wrong := []error{cupErr, calibrationErr}
	name, data, err := read(opt.prices, "built-in prices.toml", demo.Prices(), stdin)
	if err == nil && cup != nil {
		list, err = prices.Read(name, data, cup)
	}
	wrong = append(wrong, err)
	everything := cup
	if cup != nil && list != nil {
		everything = list.Parts.With(cup) // a brief may ask for a part that can be bought
	}
	var briefs []*brief.Brief
	for _, file := range files {
		var b *brief.Brief
		name, data, err := read(file, "built-in brief.toml", demo.Brief(), stdin)
		if err == nil {
			b, err = brief.ReadFor(name, data, everything)
		}
		if err == nil && opt.groups > 0 {
			b.Sets = opt.groups
		}
		briefs, wrong = append(briefs, b), append(wrong, err)
	}
	return cup, list, briefs, inFiles(wrong...)
}

// notePrices says what was taken for granted in a price list that is a sheet.
func notePrices(stderr io.Writer, list *prices.List) {
	if len(list.Notes) == 0 {
		return
	}
	fmt.Fprintf(stderr, "Taken for granted in the price list:\n")
	for _, n := range list.Notes {
		fmt.Fprintf(stderr, "  %s\n", n)
	}
}

// print writes the answer and ends with its exit code.
func (opt *shopOptions) print(stdout io.Writer, kind string, r *supply.Result, text func(io.Writer) error, briefs ...string) error {
	err := answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.ShopJSON(page, kind, r)
		case "csv":
			return report.ShopCSV(page, r)
		}
		return thenNext(page, text(page), opt.next(r, briefs), opt.colour, stdout)
	})
	switch {
	case err != nil:
		return err
	case r.None:
		return outcome{code: exitNone}
	case r.Plan == nil || !r.Plan.Proved:
		return outcome{code: exitStopped}
	}
	return nil
}

func (opt *shopOptions) check(briefs int) error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	from := 0
	for _, file := range []string{opt.cupboard, opt.brief, opt.prices} {
		if file == "-" {
			from++
		}
	}
	if err := checkOutputs(opt.outputs, true); err != nil {
		return err
	}
	switch {
	case opt.groups < 0 || opt.groups > brief.MostSets:
		return outcome{exitUsage, fmt.Sprintf("--groups must be from 1 to %d, or 0 for what the brief says", brief.MostSets)}
	case opt.pupils < 0 || opt.pupils > 100*brief.MostSets:
		return outcome{exitUsage, fmt.Sprintf("--pupils must be from 1 to %d, or left out", 100*brief.MostSets)}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case from > 1:
		return outcome{exitUsage, "only one file can come from standard input"}
	case briefs < 1 || briefs > mostBriefs:
		return outcome{exitUsage, fmt.Sprintf("name from 1 to %d briefs\nhint: write findrive term -b carousel.toml -b buggy.toml -c cupboard.toml -p prices.toml", mostBriefs)}
	}
	return nil
}

// next is the command to write after this one. Where nothing will do it is for fewer groups,
// or why the brief cannot be built, of several the first that never can be.
func (opt *shopOptions) next(r *supply.Result, briefs []string) string {
	brief := briefs[0]
	if len(r.Never) > 0 {
		brief = briefs[r.Never[0]]
	}
	switch {
	case r.Plan != nil:
		return opt.said.planned(opt.outputs, len(r.Plan.Bought) > 0)
	case r.Fewer() > 0:
		return opt.said.again("--groups", strconv.Itoa(r.Fewer()))
	case !r.None:
		return opt.said.longer(opt.timeLimit)
	case brief == opt.brief:
		return opt.said.then("why")
	}
	return opt.said.then("why", "-b", brief)
}

// sayBuiltIn says which of the files are built in, if others are the user's.
func (opt *shopOptions) sayBuiltIn(stderr io.Writer, briefs []string) {
	sayBuiltIn(stderr, opt.calibration != "", theCupboard(opt.cupboard), theBrief(briefs[0]), input{"prices", "-p", opt.prices})
}
