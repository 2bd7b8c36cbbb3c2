package main

import (
	"bytes"
	"context"
	"io"
	"path/filepath"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/report"
)

type proposeOptions struct {
	cupboard, brief string
	calibration     string
	format          string
	keep, full      int
	threads         int
	timeLimit       time.Duration
	why, stats      bool
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
best, ranked. Without -c and -b it uses the built-in example.

The search stops after a minute, or what --time-limit says, or at Ctrl-C, and
keeps the best so far. With --proof it then goes over the whole space once more
and writes down why nothing in it is better, for findrive verify.

Exit codes: 0 proved best, 3 mistakes in an input file, 4 no drive is possible
(the account says why), 5 stopped before the best was proved.`,
		Example: `  findrive propose
  findrive propose -c cupboard.toml -b brief.toml
  findrive propose -b brief.toml --format json > drives.json`,
		Args: alone("write findrive propose -c cupboard.toml -b brief.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return propose(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := cmd.Flags()
	f.StringVarP(&opt.cupboard, "cupboard", "c", "", "the cupboard, a TOML `file`; - for standard input")
	f.StringVarP(&opt.brief, "brief", "b", "", "the brief, a TOML `file`; - for standard input")
	f.StringVar(&opt.calibration, "calibration", "", "what was learned by counting, a `file` that findrive measure wrote")
	f.StringVar(&opt.format, "format", "text", "`how` to print: text, json or csv")
	f.IntVarP(&opt.keep, "keep", "k", 10, "how many `drives` to rank")
	f.IntVar(&opt.full, "full", 3, "how many `drives` the text shows in full")
	f.IntVar(&opt.threads, "threads", runtime.GOMAXPROCS(0), "how many `threads` may search; the answer is the same")
	f.DurationVar(&opt.timeLimit, "time-limit", time.Minute, "stop after this `time`, for example 10m; 0 for none")
	f.BoolVar(&opt.why, "why", false, "also give the reason for each penalty, and what the rules refused")
	f.BoolVar(&opt.stats, "stats", false, "also say how much was searched")
	f.StringVar(&opt.colour, "colour", "auto", "`when` to use colour: auto, always or never")
	f.StringVar(&opt.proof, "proof", "", "also write a proof of the answer to this `file`")
	f.StringVarP(&opt.output, "output", "o", "", "also write the drives to this `file`, as JSON, for findrive sheet --from")
	f.BoolVar(&opt.force, "force", false, "write over files that are there")
	completeFiles(cmd, "cupboard", "brief", "calibration")
	completeWords(cmd, "format", "text", "json", "csv")
	completeWords(cmd, "colour", "auto", "always", "never")
	return cmd
}

func propose(ctx context.Context, opt proposeOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	for _, path := range []string{opt.output, opt.proof} {
		if path == "" {
			continue
		}
		if err := mayWrite(path, opt.force, anotherName, opt.cupboard, opt.brief, opt.calibration); err != nil {
			return err
		}
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return err
	}
	cup = cup.InStock()
	sayBuiltIn(stderr, opt.cupboard, opt.brief)
	searching := ctx
	if opt.timeLimit > 0 {
		var cancel context.CancelFunc
		searching, cancel = context.WithTimeout(ctx, opt.timeLimit)
		defer cancel()
	}
	bar := newProgress(stderr)
	result, err := design.Find(searching, cup, b, design.Options{Keep: opt.keep, Threads: opt.threads, Watch: bar.watch})
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	err = answer(stdout, func(page io.Writer) error { return render(page, result, opt, stdout) })
	if err != nil {
		return err
	}
	if err := writeProposed(ctx, opt, cup, b, result, stderr); err != nil {
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

// anotherName is what to do about a file that is there.
const anotherName = "choose another name, or say --force"

// writeProposed writes the files that were asked for, all or none.
func writeProposed(ctx context.Context, opt proposeOptions, cup *parts.Cupboard, b *brief.Brief, r *design.Result, stderr io.Writer) error {
	var files []file
	if opt.output != "" {
		var data bytes.Buffer
		if err := report.JSON(&data, r, report.JSONOptions{}); err != nil {
			return outcome{exitFailure, err.Error()}
		}
		files = append(files, file{opt.output, data.Bytes()})
	}
	if opt.proof != "" {
		return writeProof(ctx, opt, cup, b, r, files, stderr)
	}
	return writeFiles(files, opt.force, anotherName)
}

func (opt proposeOptions) check() error {
	if err := oneOf("format", opt.format, "text", "json", "csv"); err != nil {
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

func render(w io.Writer, r *design.Result, opt proposeOptions, stdout io.Writer) error {
	switch opt.format {
	case "json":
		return report.JSON(w, r, report.JSONOptions{})
	case "csv":
		return report.CSV(w, r, report.CSVOptions{})
	}
	full := opt.full
	if full == 0 {
		full = -1 // to the report 0 is the usual number
	}
	return report.Text(w, r, report.TextOptions{
		Width: width(stdout), Asked: opt.keep, Full: full, Why: opt.why, Stats: opt.stats, Colour: colour(opt.colour, stdout),
	})
}
