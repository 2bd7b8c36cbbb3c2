package main

import (
	"bytes"
	"context"
	"io"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/ideas"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/supply"
)

// mostBriefs is more than a school year has room for.
const mostBriefs = 12

func termCommand() *cobra.Command {
	var opt shopOptions
	var inTurn bool
	var more []string
	cmd := &cobra.Command{
		Use:   "term -b BRIEF.toml -b BRIEF.toml ...",
		Short: "the least to buy for several briefs over one cupboard",
		Long: `term takes the briefs of a term and chooses a drive for each, so that all can be
built from one cupboard for the least money and then the fewest penalty points.
The sets of a brief are its groups. All are built at the same time and share the
stock; with --in-turn one after another, in the order given: motors, holders,
pulleys and wheels come back, while bands, axles and sleeves are used up, and so
is what is glued or drilled out. It says what each brief uses up and what comes
back, and which single packs would serve the most groups for the money. Briefs
may be named without -b too.

The search stops after two minutes, or what --time-limit says, and any one
search after a quarter of that.

Exit codes: 0 the order is proved to cost least, or nothing need be bought; 3
mistakes in an input file; 4 no order from the list will do; 5 stopped or ended
before the least was proved: the best so far, and how little it could still be.`,
		Example: `  findrive term -b carousel.toml -b buggy.toml -c cupboard.toml -p prices.toml
  findrive term -b ride.toml -b lift.toml -c store.toml -p prices.toml --in-turn`,
		RunE: func(cmd *cobra.Command, files []string) error {
			opt.said = said{cmd: cmd, args: files}
			return runTerm(cmd.Context(), opt, append(slices.Clone(files), more...), inTurn, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.cupboard(&opt.cupboard)
	f.calibration(&opt.calibration)
	f.briefs(&more)
	opt.flags(f, 2*time.Minute)
	f.BoolVar(&inTurn, "in-turn", false, "the briefs are built one after another, in their order")
	cmd.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return cmd
}

func runTerm(ctx context.Context, opt shopOptions, files []string, inTurn bool, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(len(files)); err != nil {
		return err
	}
	for _, file := range files {
		if file == "-" {
			return outcome{exitUsage, "term reads its briefs from files, not from standard input"}
		}
	}
	cup, list, briefs, err := loadShop(opt, files, stdin)
	if err != nil {
		return err
	}
	opt.sayBuiltIn(stderr, files)
	notePrices(stderr, list)
	whole := ctx
	if limit := within(opt.timeLimit); limit != nil {
		var stop context.CancelFunc
		ctx, stop = limit(ctx)
		defer stop()
	}
	bar := newProgress(stderr)
	steer := opt.steer(bar.watch)
	steer.Packs, steer.LineLimit = true, share(opt.timeLimit, 4)
	result, err := supply.Find(ctx, &supply.Question{Cupboard: cup, List: list, Briefs: briefs, InTurn: inTurn}, steer)
	if err != nil {
		bar.done()
		return contradiction(err)
	}
	show := report.ShopOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), Pupils: opt.pupils}
	if opt.format == "text" && (result.Plan == nil || result.Plan.Money > 0) {
		show.Made, err = madeInstead(ctx, cup, briefs, ideas.Options{Threads: opt.threads, Watch: bar.watch})
	}
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	var says bytes.Buffer // behind the answer
	result, failed := writePurchase(whole, "findrive term", &opt, result, &says)
	if failed != nil {
		opt.outputs = nil // which there is no going on with
	}
	printed := opt.print(stdout, "findrive term", result, func(page io.Writer) error { return report.TermText(page, result, show) }, files...)
	_, _ = says.WriteTo(stderr)
	if failed != nil {
		return failed
	}
	return printed
}

// madeInstead finds the briefs that can be built, each by itself, with pulleys made of
// discs of the sheets there are.
func madeInstead(ctx context.Context, cup *parts.Cupboard, briefs []*brief.Brief, opt ideas.Options) ([]report.MadeFor, error) {
	var out []report.MadeFor
	for _, b := range briefs {
		c, err := ideas.Made(ctx, cup.InStock(), b, false, opt)
		if err != nil {
			return nil, err
		}
		if c != nil && len(making.Words(c.Drive.Drive.Pulleys(), b.Sets)) > 0 {
			out = append(out, report.MadeFor{Brief: b.Name, Groups: b.Sets, Change: c})
		}
	}
	return out, nil
}
