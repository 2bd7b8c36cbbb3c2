package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/groups"
	"findrive/internal/ideas"
	"findrive/internal/plan"
	"findrive/internal/report"
)

type classOptions struct {
	cupboard, calibration, brief string
	format                       string
	groups, drives               int
	threads                      int
	timeLimit                    time.Duration
	colour                       string
	outputs                      []string
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
one with the fewest different drives. Without -c and -b it uses the built-in
example.

Exit codes: 0 all groups are served, or it is proved that no more can be; 3
mistakes in an input file; 4 no drive is possible; 5 stopped or ended without
proof that no more groups can be served.`,
		Example: `  findrive class
  findrive class -c cupboard.toml -b brief.toml --groups 10
  findrive class -c cupboard.toml -b brief.toml --drives 2 -o plan.json`,
		Args: alone("write findrive class -c cupboard.toml -b brief.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runClass(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := cmd.Flags()
	f.StringVarP(&opt.cupboard, "cupboard", "c", "", "the cupboard, a TOML `file`; - for standard input")
	f.StringVarP(&opt.brief, "brief", "b", "", "the brief, a TOML `file`; - for standard input")
	f.StringVar(&opt.calibration, "calibration", "", "what was learned by counting, a `file` that findrive measure wrote")
	f.IntVar(&opt.groups, "groups", 0, "how many `groups` there are; else the sets of the brief")
	f.StringVar(&opt.format, "format", "text", "`how` to print: text, json or csv")
	f.StringArrayVarP(&opt.outputs, "output", "o", nil, "write the plan into this new `file`.json, for sheet, stock back and verify")
	f.IntVar(&opt.drives, "drives", 0, "at most so many different `drives`; else as few as serve as many groups")
	f.IntVar(&opt.threads, "threads", runtime.GOMAXPROCS(0), "how many `threads` may search; the answer is the same")
	f.DurationVar(&opt.timeLimit, "time-limit", 40*time.Second, "stop after this `time`, and one search after a quarter of it; 0 for never")
	f.StringVar(&opt.colour, "colour", "auto", "`when` to use colour: auto, always or never")
	completeFiles(cmd, "cupboard", "brief", "calibration")
	completeWords(cmd, "format", "text", "json", "csv")
	completeWords(cmd, "colour", "auto", "always", "never")
	return cmd
}

func runClass(ctx context.Context, opt classOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return err
	}
	cup = cup.InStock()
	sayBuiltIn(stderr, opt.cupboard, opt.brief)
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
	result, err := groups.Plan(ctx, cup, b, groups.Options{Different: opt.drives, Threads: opt.threads, Limit: share(opt.timeLimit, 4), Relax: share(opt.timeLimit, 20), Rank: share(opt.timeLimit, 20), Watch: bar.watch})
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
			return p, nil
		}, nil)
		if err != nil {
			return err
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.GroupsJSON(page, result)
		case "csv":
			return report.GroupsCSV(page, result)
		}
		return report.GroupsText(page, result, report.GroupsOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), Next: opt.next(result), Made: made,
			AllMade: again("findrive why", [2]string{"-c", opt.cupboard}, [2]string{"-b", opt.brief}, [2]string{"--calibration", opt.calibration})})
	})
	if err != nil {
		return err
	}
	if err := writePlan(files, stderr); err != nil {
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
	if err := oneOf("format", opt.format, "text", "json", "csv"); err != nil {
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
func (opt *classOptions) next(r *groups.Result) string {
	from := [][2]string{{"-c", opt.cupboard}, {"-b", opt.brief}, {"--calibration", opt.calibration}, {"--groups", ifSet(opt.groups)}}
	if r.Served < r.Brief.Sets && r.Proved() && opt.cupboard != "" && len(opt.outputs) == 0 {
		return again("findrive shop -p prices.toml", from...) + ", with your price list"
	}
	return planned(opt.outputs, again("findrive class", append(from, [2]string{"--drives", ifSet(opt.drives)})...))
}
