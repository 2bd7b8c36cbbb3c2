package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/groups"
	"findrive/internal/ideas"
	"findrive/internal/plan"
	"findrive/internal/report"
)

type classOptions struct {
	said                         said
	cupboard, calibration, brief string
	format                       string
	groups, drives               int
	threads                      int
	timeLimit                    time.Duration
	colour                       string
	outputs                      []string
	force                        bool
}

func classCommand() *cobra.Command {
	var opt classOptions
	cmd := &cobra.Command{
		Use:   "class",
		Short: "how many groups one cupboard serves, sharing its parts out",
		Long: `class shares one cupboard out among the groups of a class, who may build
different drives for the same brief where that serves more of them. It says how
many groups can build at the same time, which drive each builds, what is used
up, and what would serve another group. Of the ways to serve as many it takes
one with the fewest different drives. -o writes the plan down, for sheet, stock
back and verify. Without -c and -b it uses the built-in example.

The search stops after 40 s, or what --time-limit says, and any one search after
a quarter of that.

Exit codes: 0 all groups are served, or it is proved that no more can be; 3
mistakes in an input file; 4 no drive is possible; 5 stopped or ended without
proof that no more groups can be served.`,
		Example: `  findrive class
  findrive class -c cupboard.toml -b brief.toml --groups 10
  findrive class -c cupboard.toml -b brief.toml --drives 2 -o plan.json`,
		Args: alone("write findrive class -c cupboard.toml -b brief.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			return runClass(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.groups(&opt.groups)
	f.IntVar(&opt.drives, "drives", 0, "at most so many different `drives`; else as few as serve as many groups")
	f.format(&opt.format)
	f.outputs(&opt.outputs, &opt.force, "the plan (.json)")
	f.search(&opt.threads, &opt.timeLimit, 40*time.Second)
	f.colour(&opt.colour)
	return cmd
}

// lateFor is how long it may still be reckoned with what was found when the time is out
// (judgement: nobody minds).
const lateFor = 300 * time.Millisecond

func runClass(ctx context.Context, opt classOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return err
	}
	cup = cup.InStock()
	sayBuiltIn(stderr, opt.calibration != "", theCupboard(opt.cupboard), theBrief(opt.brief))
	if opt.groups > 0 {
		b.Sets = opt.groups
	}
	whole := ctx
	if limit := within(opt.timeLimit); limit != nil {
		var stop context.CancelFunc
		ctx, stop = limit(ctx)
		defer stop()
	}
	bar := newProgress(stderr)
	late := func() (context.Context, context.CancelFunc) { return context.WithTimeout(whole, lateFor) }
	result, err := groups.Plan(ctx, cup, b, groups.Options{Late: late, Different: opt.drives, Threads: opt.threads, Limit: share(opt.timeLimit, 4), Relax: share(opt.timeLimit, 20), Rank: share(opt.timeLimit, 20), Watch: bar.watch})
	var made *ideas.Change
	if err == nil && opt.format == "text" && result.Served < b.Sets && !b.Making.Discs {
		made, err = ideas.Made(ctx, cup, b, opt.drives != 1, ideas.Options{Threads: opt.threads, Watch: bar.watch})
	}
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	var files []file
	if len(opt.outputs) > 0 && len(result.Shares) > 0 {
		files, err = planFiles(opt.outputs, func() (*plan.Plan, error) {
			p, err := plan.OfClass(whole, result, opt.threads)
			if err != nil {
				return nil, contradiction(err)
			}
			result = p.Class(result)
			return p, nil
		}, nil)
		if err != nil {
			return err
		}
	}
	err = writtenFirst(stdout, stderr, func(stderr io.Writer) error {
		err := writePlan(files, opt.said, opt.force, stderr)
		if err != nil {
			opt.outputs = nil
		}
		return err
	}, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.GroupsJSON(page, result)
		case "csv":
			return report.GroupsCSV(page, result)
		}
		err := report.GroupsText(page, result, report.GroupsOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), Made: made})
		return thenNext(page, err, opt.next(result, made != nil), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	switch {
	case result.None:
		return outcome{code: exitNone}
	case !result.Proved():
		return outcome{code: exitStopped}
	}
	return nil
}

func (opt classOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if err := checkOutputs(opt.outputs, false); err != nil {
		return err
	}
	switch {
	case opt.groups < 0 || opt.groups > brief.MostSets:
		return outcome{exitUsage, fmt.Sprintf("--groups must be from 1 to %d, or 0 for what the brief says", brief.MostSets)}
	case opt.drives < 0 || opt.drives > 100:
		return outcome{exitUsage, "--drives must be from 1 to 100, or left out for as few as serve as many groups"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case opt.cupboard == "-" && opt.brief == "-":
		return outcome{exitUsage, "only one of --cupboard and --brief can come from standard input"}
	}
	return nil
}

// next is the command to write after this one.
func (opt *classOptions) next(r *groups.Result, made bool) string {
	all := r.Served >= r.Brief.Sets
	switch {
	case r.Served == 0 && (r.None || made):
		return opt.said.then("why")
	case r.Served == 0:
		return opt.said.longer(opt.timeLimit)
	case !all && r.Proved() && len(opt.outputs) == 0 && opt.cupboard == "":
		return opt.said.then("shop")
	case !all && r.Proved() && len(opt.outputs) == 0 && isFile(opt.pricesBeside()):
		return opt.said.then("shop", "-p", opt.pricesBeside())
	}
	return opt.said.planned(opt.outputs, false)
}

// pricesBeside is where findrive start puts the price list that goes with a cupboard.
func (opt *classOptions) pricesBeside() string {
	return filepath.Join(filepath.Dir(opt.cupboard), "prices.toml")
}

// isFile is whether a plain file is there.
func isFile(path string) bool {
	at, err := os.Stat(path)
	return err == nil && at.Mode().IsRegular()
}
