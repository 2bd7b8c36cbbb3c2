package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/search"
	"findrive/internal/why"
)

// inFull is how many drives --full shows where it does not say.
const inFull = 3

type proposeOptions struct {
	said            said
	cupboard, brief string
	calibration     string
	format          string
	keep, full      int
	threads         int
	timeLimit       time.Duration
	reasons, stats  bool
	proof, output   string
	force           bool
	colour          string
}

func proposeCommand() *cobra.Command {
	var opt proposeOptions
	cmd := &cobra.Command{
		Use:   "propose",
		Short: "propose the best drives for a brief",
		Long: `propose searches the cupboard for drives that meet the brief and prints the
best, ranked: the outcome in a sentence, choices that differ, every drive on a
line, and what to do next. --full shows the first of them from motor to output,
with holes, stock and why each ranks there. Without -c and -b it uses the
built-in example.

The range of a speed is that of nine tables of ten; "works in 8 of 10
classrooms" counts those in which the model turns as asked. The list ends
before drives that cost 10 points more than the first: nobody would build them.
Where none can be built, what is left of the time goes into finding out what
stands in the way and the smallest change that unlocks it, as findrive why does.

-o saves the drives for sheet, try, swap and the others (--from). The search
stops after a minute, or what --time-limit says, or at Ctrl-C, and keeps the
best so far. With --proof it then goes over the space again, in the same time,
and writes down why nothing in it is better, for findrive verify.

Exit codes: 0 proved best, 3 mistakes in an input file, 4 no drive is possible
(the account says why), 5 stopped before the best was proved.`,
		Example: `  findrive propose
  findrive propose -c cupboard.toml -b brief.toml
  findrive propose --full
  findrive propose -c cupboard.toml -b brief.toml -o drives.json`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 && cmd.Flags().Changed("full") { // --full 5 is as good as --full=5
				if n, err := strconv.Atoi(args[0]); err == nil {
					opt.full = n
					return nil
				}
			}
			return alone("write findrive propose -c cupboard.toml -b brief.toml")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			return propose(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.format(&opt.format)
	f.keep(&opt.keep, design.Usual)
	f.full(&opt.full, 0)
	f.Lookup("full").NoOptDefVal = fmt.Sprint(inFull)
	f.reasons(&opt.reasons)
	f.BoolVar(&opt.stats, "stats", false, "also say how much was searched")
	f.StringVar(&opt.proof, "proof", "", "also write a proof of the answer to this `file`")
	f.output(&opt.output, &opt.force, "the drives, as JSON,")
	f.search(&opt.threads, &opt.timeLimit, time.Minute)
	f.colour(&opt.colour)
	return cmd
}

func propose(ctx context.Context, opt proposeOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return err
	}
	all := cup // with what there is none of now, and might be
	cup = cup.InStock()
	sayBuiltIn(stderr, opt.calibration != "", theCupboard(opt.cupboard), theBrief(opt.brief))
	searching, started := ctx, time.Now()
	if opt.timeLimit > 0 {
		var cancel context.CancelFunc
		searching, cancel = context.WithTimeout(ctx, opt.timeLimit)
		defer cancel()
	}
	bar := newProgress(stderr)
	result, err := opt.find(searching, cup, b, bar)
	var instead *why.Answer
	if err == nil && len(result.Proposals) == 0 && opt.format == "text" && searching.Err() == nil {
		limit := opt.timeLimit
		if limit > 0 {
			limit = max(1, limit-time.Since(started))
		}
		instead, err = why.Ask(searching, leeway.Case{Cupboard: all, Brief: b}, why.Options{
			None: result, Briefly: true, Threads: opt.threads, Watch: bar.watch, First: share(limit, 2), Alone: share(limit, 8), Each: share(limit, 30),
		})
	}
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	if opt.proof != "" && opt.format == "text" {
		err = opt.answerThenProof(searching, cup, b, result, instead, stdout, stderr)
	} else {
		asked := opt
		err = writtenFirst(stdout, stderr, func(stderr io.Writer) (err error) {
			opt, err = asked.written(searching, cup, b, result, stderr)
			return err
		}, func(page io.Writer) error { return render(page, result, instead, opt, opt.next(result), stdout) })
	}
	if err != nil {
		return err
	}
	switch result.Status {
	case design.NonePossible:
		return outcome{code: exitNone}
	case design.StoppedEarly:
		return outcome{code: exitStopped}
	}
	return nil
}

// answerThenProof gives the answer before its proof is looked for, which takes longer than the
// search did, and what to do next behind both.
func (opt proposeOptions) answerThenProof(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, r *design.Result, instead *why.Answer, stdout, stderr io.Writer) error {
	leads := 0 // the rank of the drive that does
	later := func(rank int) string { leads = rank; return "" }
	if err := answer(stdout, func(page io.Writer) error { return render(page, r, instead, opt, later, stdout) }); err != nil {
		return err
	}
	now, failed := opt.written(ctx, cup, b, r, stderr)
	if leads == 0 {
		return failed
	}
	if err := report.Next(stdout, now.next(r)(leads), width(stdout), colour(opt.colour, stdout)); err != nil {
		return err
	}
	return failed
}

// written writes the files that were asked for, and gives the options of those that are there.
func (opt proposeOptions) written(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, r *design.Result, stderr io.Writer) (proposeOptions, error) {
	written, err := writeProposed(ctx, opt, cup, b, r, stderr)
	if !written {
		opt.output = ""
	}
	if err != nil {
		opt.proof = ""
	}
	return opt, err
}

// anotherName is what to do about a file that is there.
const anotherName = "choose another name, or say --force"

// writeProposed writes the files that were asked for. A proof that is not finished when ctx
// ends is left out; written is whether the drives are.
func writeProposed(ctx context.Context, opt proposeOptions, cup *parts.Cupboard, b *brief.Brief, r *design.Result, stderr io.Writer) (written bool, err error) {
	var files []file
	if opt.output != "" {
		var data bytes.Buffer
		if err := report.JSON(&data, r, report.JSONOptions{}); err != nil {
			return false, outcome{exitFailure, err.Error()}
		}
		files = append(files, file{opt.output, data.Bytes()})
	}
	if opt.proof != "" {
		return writeProof(ctx, opt, cup, b, r, files, stderr)
	}
	err = writeFiles(files, opt.force, anotherName)
	return err == nil, err
}

func (opt proposeOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.output != "" && opt.proof != "" && filepath.Clean(opt.output) == filepath.Clean(opt.proof):
		return outcome{exitUsage, "--output and --proof are two files and need two names"}
	case opt.keep < 1 || opt.keep > 1000:
		return outcome{exitUsage, "--keep must be from 1 to 1000"}
	case opt.full < 0:
		return outcome{exitUsage, "--full must not be negative"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case oneStdin(opt.cupboard, opt.calibration, opt.brief):
		return outcome{exitUsage, "only one of --cupboard, --brief and --calibration can come from standard input"}
	}
	return nil
}

// find looks for the best drives. Where half of the time has brought none, it looks for
// any drive at all, which is much less work, so that there is something to show.
func (opt proposeOptions) find(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, bar *progress) (*design.Result, error) {
	first, stop := context.WithCancel(ctx)
	defer stop()
	var some atomic.Bool
	if opt.timeLimit > 0 {
		half := time.AfterFunc(opt.timeLimit/2, func() {
			if !some.Load() {
				stop()
			}
		})
		defer half.Stop()
	}
	how := design.Options{Keep: opt.keep, Threads: opt.threads, Watch: func(p search.Progress) {
		some.Store(some.Load() || p.Stats.Improved > 0)
		bar.watch(p)
	}}
	best, err := design.Find(first, cup, b, how)
	if err != nil || best.Status != design.StoppedEarly || len(best.Proposals) > 0 || ctx.Err() != nil {
		return best, err
	}
	how.Keep = 1
	any, err := design.Exists(ctx, cup, b, how)
	if err == nil && len(any.Proposals) > 0 {
		any.Status, any.Open = design.StoppedEarly, best.Open
	}
	return any, err
}

// next is what to do next, by the rank of the drive that leads.
func (opt proposeOptions) next(r *design.Result) func(rank int) string {
	return func(rank int) string {
		switch {
		case opt.proof != "" && r.Status != design.StoppedEarly:
			return opt.said.then("verify") + " " + quoted(opt.proof)
		case opt.output != "":
			return sheetOf(opt.output, rank)
		}
		return opt.said.sheet(rank)
	}
}

func render(w io.Writer, r *design.Result, instead *why.Answer, opt proposeOptions, next func(rank int) string, stdout io.Writer) error {
	switch opt.format {
	case "json":
		return report.JSON(w, r, report.JSONOptions{})
	case "csv":
		return report.CSV(w, r, report.CSVOptions{})
	}
	full := opt.full
	if full == 0 && opt.reasons {
		full = inFull // the reasons stand there
	}
	return report.Text(w, r, report.TextOptions{
		Width: width(stdout), Asked: opt.keep, Full: full, Why: opt.reasons, Stats: opt.stats, Colour: colour(opt.colour, stdout),
		Next: next, NextWhy: opt.said.then("why"), Instead: instead,
	})
}
