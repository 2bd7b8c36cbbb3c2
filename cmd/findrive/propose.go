package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/design"
	"findrive/internal/report"
)

// inFull is how many drives --full shows where it does not say.
const inFull = 3

type proposeOptions struct {
	cupboard, brief string
	calibration     string
	format          string
	keep, full      int
	threads         int
	timeLimit       time.Duration
	why, stats      bool
	proof           string
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
	f.IntVar(&opt.full, "full", 0, "also show the first `drives` in full; without a number, 3")
	f.Lookup("full").NoOptDefVal = fmt.Sprint(inFull)
	f.IntVar(&opt.threads, "threads", runtime.GOMAXPROCS(0), "how many `threads` may search; the answer is the same")
	f.DurationVar(&opt.timeLimit, "time-limit", time.Minute, "stop after this `time`, for example 10m; 0 for none")
	f.BoolVar(&opt.why, "why", false, "also give the reason for each penalty, and what the rules refused")
	f.BoolVar(&opt.stats, "stats", false, "also say how much was searched")
	f.StringVar(&opt.colour, "colour", "auto", "`when` to use colour: auto, always or never")
	f.StringVar(&opt.proof, "proof", "", "also write a proof of the answer to this `file`")
	f.BoolVar(&opt.force, "force", false, "write over a proof that is there")
	completeFiles(cmd, "cupboard", "brief", "calibration")
	completeWords(cmd, "format", "text", "json", "csv")
	completeWords(cmd, "colour", "auto", "always", "never")
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
	if opt.proof != "" {
		if err := writeProof(ctx, opt, cup, b, result, stderr); err != nil {
			return err
		}
	}
	switch result.Status {
	case design.NonePossible:
		return outcome{code: exitNone}
	case design.StoppedEarly:
		return outcome{code: exitStopped}
	}
	return nil
}

func (opt proposeOptions) check() error {
	if err := oneOf("format", opt.format, "text", "json", "csv"); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
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
	if full == 0 && opt.why {
		full = inFull // the reasons stand there
	}
	return report.Text(w, r, report.TextOptions{
		Width: width(stdout), Asked: opt.keep, Full: full, Why: opt.why, Stats: opt.stats, Colour: colour(opt.colour, stdout),
		Next: opt.next(),
	})
}

// next is the command that draws a drive of the list, with %d for its rank.
func (opt proposeOptions) next() string {
	line := "findrive sheet"
	for _, f := range []struct{ flag, file, instead string }{
		{"-c", opt.cupboard, "CUPBOARD.toml"}, {"-b", opt.brief, "BRIEF.toml"}, {"--calibration", opt.calibration, "CALIBRATION.toml"},
	} {
		switch f.file {
		case "":
		case "-": // what came through a pipe is gone
			line += " " + f.flag + " " + f.instead
		default:
			line += " " + f.flag + " " + strings.ReplaceAll(quoted(f.file), "%", "%%")
		}
	}
	return line + " --rank %d"
}
