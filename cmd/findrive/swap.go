package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/swap"
)

type swapOptions struct {
	model
	said     said
	output   string
	force    bool
	broken   string
	stage    int
	noneLeft bool
	format   string
	colour   string
}

func swapCommand() *cobra.Command {
	var opt swapOptions
	cmd := &cobra.Command{
		Use:   "swap [DRIVE.toml] --broken PART",
		Short: "what to put in the place of a part that broke",
		Long: `swap looks for the nearest replacement of a broken part among what is left in
the cupboard: first with every hole where it is, then with one hole drilled
anew, then with all of them. The model is a drive that propose has saved
(--from), or one described in a file as for findrive try; then the cupboard is
what is left, and the parts of the model itself need not be in it. Or it is one
that propose finds (-b), built from the cupboard: what it does not use is left.
--time-limit is for one search.

Exit codes: 0 there is a replacement, 3 mistakes in an input file, 4 nothing
that is left will do, 5 a search was stopped before it settled everything.`,
		Example: `  findrive propose --format json > drives.json
  findrive swap --from drives.json --rank 1 --broken no-24 --none-left
  findrive swap drive.toml -c cupboard.toml --broken driven --stage 2`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said, opt.ranked = said{cmd: cmd, args: args}, cmd.Flags().Changed("rank")
			return runSwap(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "swap mends one drive at a time\nhint: write for example findrive swap drive.toml --broken band --stage 1")
	f := opt.flags(cmd, 5*time.Second)
	f.StringVar(&opt.broken, "broken", "", "the `part` that broke: its name, or motor, cells, driver, driven, band, axle, wheel, drum")
	f.IntVar(&opt.stage, "stage", 0, "of which `stage`, if there are several such parts")
	f.BoolVar(&opt.noneLeft, "none-left", false, "there is no other part of that name, whatever the cupboard says")
	f.format(&opt.format)
	f.output(&opt.output, &opt.force, "the replacements, as JSON,")
	f.colour(&opt.colour)
	completeWords(cmd, "broken", "motor", "cells", "driver", "driven", "band", "axle", "wheel", "drum")
	return cmd
}

func runSwap(ctx context.Context, opt swapOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	m, left, ended, err := opt.load(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	broken, err := m.Broken(opt.broken, opt.stage)
	if err != nil {
		return outcome{exitUsage, "--broken: " + err.Error()}
	}
	bar := newProgress(stderr)
	a, err := swap.Find(ctx, m, left, broken, swap.Options{NoneLeft: opt.noneLeft, Threads: opt.threads, Watch: bar.watch, Build: report.Builder(m.Brief), Each: within(opt.timeLimit)})
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	err = writtenFirst(stdout, stderr, func(stderr io.Writer) error {
		err := opt.write(a, stderr)
		if err != nil {
			opt.output = ""
		}
		return err
	}, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.SwapJSON(page, a)
		case "csv":
			return report.SwapCSV(page, a)
		}
		err := report.SwapText(page, a, report.SwapOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(a), opt.colour, stdout)
	})
	switch {
	case err != nil:
		return err
	case a.Open > 0:
		return outcome{code: exitStopped}
	case a.Spare == nil && a.Cut == nil && len(a.Replacements) == 0:
		return outcome{code: exitNone}
	}
	return ended
}

// discs is the command that prints the discs of the model's pulleys.
func (opt swapOptions) discs() string {
	return strings.Replace(opt.said.sheet(opt.rank), "findrive sheet", "findrive sheet discs", 1)
}

// next is the command to write after this one.
func (opt swapOptions) next(a *swap.Answer) string {
	switch {
	case a.Spare != nil:
		return opt.said.again("--none-left")
	case a.Cut != nil:
		return opt.discs()
	case len(a.Replacements) > 0 && a.Model.Unframed:
		return opt.said.then("try")
	case len(a.Replacements) > 0 && opt.output == "":
		return opt.said.again("-o", unused("mended.json"))
	case len(a.Replacements) > 0:
		return sheetOf(opt.output, 1)
	case a.Open > 0:
		return opt.said.longer(opt.timeLimit)
	}
	return opt.said.then("ideas")
}

// write writes the replacements down, if there are any that have their place in a frame.
func (opt swapOptions) write(a *swap.Answer, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	if len(a.Replacements) == 0 || a.Model.Unframed {
		fmt.Fprintf(stderr, "There is nothing to print of it: %q is not written.\n", opt.output)
		return nil
	}
	var data bytes.Buffer
	if err := report.SwapJSON(&data, a); err != nil {
		return outcome{exitFailure, err.Error()}
	}
	if err := writeFiles([]file{{opt.output, data.Bytes()}}, opt.force, anotherName); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote %s.\n", shown(opt.output))
	return nil
}

func (opt swapOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.from == "" && opt.drive == "" && opt.brief == "":
		return outcome{exitUsage, "which model? Give the file that propose saved, or one that describes the drive\nhint: findrive swap --from drives.json --rank 1 --broken PART, or findrive swap drive.toml --broken PART"}
	case opt.broken == "":
		return outcome{exitUsage, "what broke? Write --broken and the name of the part, or motor, cells, driver, driven, band, axle, wheel or drum"}
	case opt.stage < 0 || opt.stage > drive.MaxStages:
		return outcome{exitUsage, fmt.Sprintf("--stage must be from 1 to %d", drive.MaxStages)}
	}
	return opt.model.check()
}

// load reads the model and what is left; ended is how a search for the model ended, if not
// with a proof.
func (opt swapOptions) load(ctx context.Context, stdin io.Reader, stderr io.Writer) (m *swap.Model, left *parts.Cupboard, ended, err error) {
	switch {
	case opt.drive != "":
		b, err := loadDrive(opt.cupboard, opt.calibration, opt.drive, false, stdin, stderr)
		if err != nil {
			return nil, nil, nil, err
		}
		if m, err = swap.FromBuild(b); err != nil {
			return nil, nil, nil, outcome{exitInput, b.Name + ": " + err.Error()}
		}
		return m, b.Cupboard, nil, nil
	case opt.from == "":
		return opt.ofList(ctx, stdin, stderr)
	}
	cup, err := loadCupboard(opt.cupboard, stdin)
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	if err := inFiles(err, calibrationErr); err != nil {
		return nil, nil, nil, err
	}
	c, err := readCertificate(opt.from, opt.rank, stdin)
	if err != nil {
		return nil, nil, nil, err
	}
	if m, err = swap.FromCertificate(c, opt.rank); err != nil {
		return nil, nil, nil, outcome{exitInput, fmt.Sprintf("%s: %v", shown(opt.from), err)}
	}
	if opt.cupboard == "" {
		if err := builtInOf(c, opt.from, opt.said, stdin, cup); err != nil {
			return nil, nil, nil, err
		}
	}
	sayBuiltIn(stderr, true, theCupboard(opt.cupboard))
	return m, cup, nil, nil
}
