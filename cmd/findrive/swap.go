package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/certificate"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/swap"
)

type swapOptions struct {
	cupboard, calibration, from, drive string
	rank                               int
	broken                             string
	stage                              int
	noneLeft                           bool
	format                             string
	threads                            int
	timeLimit                          time.Duration
	colour                             string
}

func swapCommand() *cobra.Command {
	var opt swapOptions
	cmd := &cobra.Command{
		Use:   "swap [DRIVE.toml] --broken PART",
		Short: "what to put in the place of a part that broke",
		Long: `swap looks for the nearest replacement of a broken part among what is left in
the cupboard: first with every hole where it is, then with one hole drilled
anew, then with all of them. The model is a drive that propose has saved
(--from), or one described in a file as for findrive try. The cupboard is what
is left; the parts of the model itself need not be in it.

Exit codes: 0 there is a replacement, 3 mistakes in an input file, 4 nothing
that is left will do, 5 a search was stopped before it settled everything.`,
		Example: `  findrive propose --format json > drives.json
  findrive swap --from drives.json --rank 1 --broken no-24 --none-left
  findrive swap drive.toml -c cupboard.toml --broken driven --stage 2`,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runSwap(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "swap mends one drive at a time\nhint: write for example findrive swap drive.toml --broken band --stage 1")
	f := cmd.Flags()
	f.StringVarP(&opt.cupboard, "cupboard", "c", "", "what is left, a TOML `file`; - for standard input")
	f.StringVar(&opt.calibration, "calibration", "", "what was learned by counting, a `file` that findrive measure wrote")
	f.StringVar(&opt.from, "from", "", "the `file` that findrive propose --format json wrote")
	f.IntVar(&opt.rank, "rank", 1, "which `drive` of that file was built")
	f.StringVar(&opt.broken, "broken", "", "the `part` that broke: its name, or motor, cells, driver, driven, band, axle, wheel, drum")
	f.IntVar(&opt.stage, "stage", 0, "of which `stage`, if there are several such parts")
	f.BoolVar(&opt.noneLeft, "none-left", false, "there is no other part of that name, whatever the cupboard says")
	f.StringVar(&opt.format, "format", "text", "`how` to print: text or json")
	f.IntVar(&opt.threads, "threads", runtime.GOMAXPROCS(0), "how many `threads` may search; the answer is the same")
	f.DurationVar(&opt.timeLimit, "time-limit", 5*time.Second, "stop one search after this `time`; 0 for never")
	f.StringVar(&opt.colour, "colour", "auto", "`when` to use colour: auto, always or never")
	completeFiles(cmd, "cupboard", "calibration")
	_ = cmd.RegisterFlagCompletionFunc("from", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return []string{"json"}, cobra.ShellCompDirectiveFilterFileExt
	})
	completeWords(cmd, "broken", "motor", "cells", "driver", "driven", "band", "axle", "wheel", "drum")
	completeWords(cmd, "format", "text", "json")
	completeWords(cmd, "colour", "auto", "always", "never")
	return cmd
}

func runSwap(ctx context.Context, opt swapOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	m, left, err := opt.load(stdin)
	if err != nil {
		return err
	}
	broken, err := m.Broken(opt.broken, opt.stage)
	if err != nil {
		return outcome{exitUsage, "--broken: " + err.Error()}
	}
	bar := newProgress(stderr)
	a, err := swap.Find(ctx, m, left, broken, swap.Options{NoneLeft: opt.noneLeft, Threads: opt.threads, Watch: bar.watch, Each: within(opt.timeLimit)})
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	err = answer(stdout, func(page io.Writer) error {
		if opt.format == "json" {
			return report.SwapJSON(page, a)
		}
		return report.SwapText(page, a, report.SwapOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
	})
	switch {
	case err != nil:
		return err
	case a.Open > 0:
		return outcome{code: exitStopped}
	case a.Spare == nil && len(a.Replacements) == 0:
		return outcome{code: exitNone}
	}
	return nil
}

func (opt swapOptions) check() error {
	if err := oneOf("format", opt.format, "text", "json"); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.from == "" && opt.drive == "" || opt.from != "" && opt.drive != "":
		return outcome{exitUsage, "which model? Give the file that propose saved, or one that describes the drive\nhint: findrive swap --from drives.json --rank 1 --broken PART, or findrive swap drive.toml --broken PART"}
	case opt.broken == "":
		return outcome{exitUsage, "what broke? Write --broken and the name of the part, or motor, cells, driver, driven, band, axle, wheel or drum"}
	case opt.stage < 0 || opt.stage > drive.MaxStages:
		return outcome{exitUsage, fmt.Sprintf("--stage must be from 1 to %d", drive.MaxStages)}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case oneStdin(opt.cupboard, opt.calibration, opt.from, opt.drive):
		return outcome{exitUsage, "only one of the cupboard, the calibration and the model can come from standard input"}
	}
	return nil
}

// load reads the model and what is left.
func (opt swapOptions) load(stdin io.Reader) (*swap.Model, *parts.Cupboard, error) {
	if opt.drive != "" {
		b, err := loadDrive(opt.cupboard, opt.calibration, opt.drive, stdin)
		if err != nil {
			return nil, nil, err
		}
		m, err := swap.FromBuild(b)
		if err != nil {
			return nil, nil, outcome{exitInput, b.Name + ": " + err.Error()}
		}
		return m, b.Cupboard, nil
	}
	cup, err := loadCupboard(opt.cupboard, stdin)
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	if err := inFiles(err, calibrationErr); err != nil {
		return nil, nil, err
	}
	data, err := readCertificate(opt.from, stdin)
	if err != nil {
		return nil, nil, outcome{exitInput, fmt.Sprintf("%s: %v", opt.from, err)}
	}
	c, err := certificate.Read(data)
	if err != nil {
		return nil, nil, outcome{exitInput, fmt.Sprintf("%s: %v\nhint: findrive propose --format json > drives.json saves one", opt.from, err)}
	}
	m, err := swap.FromCertificate(c, opt.rank)
	if err != nil {
		return nil, nil, outcome{exitInput, fmt.Sprintf("%s: %v", opt.from, err)}
	}
	return m, cup, nil
}
