package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/tomlfile"
	"findrive/internal/why"
)

// whyLimit is how long why may take unless it is told otherwise.
const whyLimit = time.Minute

type whyOptions struct {
	said                                said
	cupboard, calibration, brief, drive string
	driver, driven, band, motor, cells  string
	stages, against, change, groups     int
	dir                                 string
	force                               bool
	format                              string
	threads                             int
	timeLimit                           time.Duration
	colour                              string
}

func whyCommand() *cobra.Command {
	var opt whyOptions
	cmd := &cobra.Command{
		Use:   "why [DRIVE.toml]",
		Short: "why nothing can be built, or why one drive ranks first",
		Long: `why explains the answer of propose. If nothing can be built it says which lines
of the brief, stocks and rules cannot be kept together, as few of them as stand
in the way, and which change, by how little, would unlock it. If something can
be built it says why the first drive ranks before the next, term by term.

Ask it of what you would rather have: --driver and --driven name the pulleys on
the motor and on the last axle, --band the motor's band, or describe all of a
drive in a file as for findrive try. Its brief is that of -b, and the axles may
be anywhere in that brief's frame.

Each change that would unlock it has a number. --apply makes it in copies of the
two files, which go into the folder of -o: remarks, order and all else in them
stay as they are.

Half of the time limit is for finding out whether it can be built; no single
search after that takes more than an eighth of it, and most no more than a
thirtieth. What is not settled in the time is said to be so.

Exit codes: 0 it can be built, and what is said is proved, or a change was made;
3 mistakes in an input file; 4 it cannot be built, and all of why is proved; 5
something was not settled in the time.`,
		Example: `  findrive why
  findrive why -c cupboard.toml -b brief.toml
  findrive why --against 5
  findrive why -c cupboard.toml -b brief.toml --apply 2 -o changed
  findrive why --driver motor-10 --driven disc-80 --stages 1
  findrive why drive.toml -c cupboard.toml -b brief.toml`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runWhy(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "why looks at one drive at a time\nhint: write for example findrive why drive.toml")
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.groups(&opt.groups)
	f.StringVar(&opt.driver, "driver", "", "the `pulley` wanted on the motor")
	f.StringVar(&opt.driven, "driven", "", "the `pulley` wanted on the last axle")
	f.StringVar(&opt.band, "band", "", "the `band` wanted on the motor's pulley")
	f.StringVar(&opt.motor, "motor", "", "the `motor` wanted")
	f.StringVar(&opt.cells, "cells", "", "the cell `holder` wanted")
	f.IntVar(&opt.stages, "stages", 0, "how many `stages` are wanted; 0 for any number")
	f.IntVar(&opt.against, "against", 2, "the `rank` that the first is compared with")
	f.IntVar(&opt.change, "apply", 0, "make the change of this `number` in copies of the two files")
	f.folder(&opt.dir, &opt.force, "", "the copies")
	f.format(&opt.format)
	f.search(&opt.threads, &opt.timeLimit, whyLimit)
	f.colour(&opt.colour)
	return cmd
}

func runWhy(ctx context.Context, opt whyOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	c, from, err := loadCase(opt, stdin)
	if err != nil {
		return err
	}
	sayBuiltIn(stderr, opt.calibration+opt.drive != "", theCupboard(opt.cupboard), theBrief(opt.brief))
	if opt.timeLimit > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, opt.timeLimit)
		defer stop()
	}
	bar := newProgress(stderr)
	a, err := why.Ask(ctx, c, why.Options{Against: opt.against, Threads: opt.threads, Watch: bar.watch, First: share(opt.timeLimit, 2), Alone: share(opt.timeLimit, 8), Each: share(opt.timeLimit, 30)})
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	how := report.WhyOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)}
	next := opt.next(a)
	if opt.change > 0 {
		if how.Made, next, err = opt.apply(a, from); err != nil {
			return err
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.WhyJSON(page, a)
		case "csv":
			return report.WhyCSV(page, a)
		}
		return thenNext(page, report.WhyText(page, a, how), next, opt.colour, stdout)
	})
	switch {
	case err != nil || how.Made != nil:
		return err
	case !a.Complete():
		return outcome{code: exitStopped}
	case !a.Possible():
		return outcome{code: exitNone}
	}
	return nil
}

func (opt whyOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.drive != "" && (opt.driver != "" || opt.driven != "" || opt.band != "" || opt.motor != "" || opt.cells != "" || opt.stages != 0):
		return outcome{exitUsage, "the drive's file says what is wanted: leave out --driver, --driven, --band, --motor, --cells and --stages"}
	case opt.stages < 0 || opt.stages > drive.MaxStages:
		return outcome{exitUsage, fmt.Sprintf("--stages must be from 1 to %d, or 0 for any number", drive.MaxStages)}
	case opt.groups < 0 || opt.groups > brief.MostSets:
		return outcome{exitUsage, fmt.Sprintf("--groups must be from 1 to %d, or 0 for what the brief says", brief.MostSets)}
	case opt.against < 2 || opt.against > 1000:
		return outcome{exitUsage, "--against must be from 2 to 1000"}
	case opt.change < 0, opt.change == 0 && opt.said.cmd.Flags().Changed("apply"):
		return outcome{exitUsage, "--apply must be the number of a change, from 1"}
	case opt.change > 0 && opt.dir == "":
		return outcome{exitUsage, "--apply writes copies of your files: say into which folder, such as -o changed"}
	case opt.change == 0 && opt.dir != "":
		return outcome{exitUsage, "-o is for the copies that --apply makes: say which change, such as --apply 1"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case oneStdin(opt.cupboard, opt.calibration, opt.brief, opt.drive):
		return outcome{exitUsage, "only one of the cupboard, the calibration, the brief and the drive can come from standard input"}
	}
	return nil
}

// loadCase reads the cupboard, the brief and what is wanted, and reports the mistakes
// of all at once.
func loadCase(opt whyOptions, stdin io.Reader) (leeway.Case, caseFiles, error) {
	var cup *parts.Cupboard
	var from caseFiles
	var cupErr error
	if from.cupboard.name, from.cupboard.data, cupErr = read(opt.cupboard, "built-in cupboard.toml", demo.Cupboard(), stdin); cupErr == nil {
		cup, cupErr = parts.Read(from.cupboard.name, from.cupboard.data)
	}
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	var b *brief.Brief
	name, data, briefErr := read(opt.brief, "built-in brief.toml", demo.Brief(), stdin)
	if from.brief = (source{name, data}); briefErr == nil {
		b, briefErr = brief.ReadFor(name, data, cup)
	}
	from.asked = b
	if b != nil && opt.groups > 0 {
		forAll := *b
		forAll.Sets, b = opt.groups, &forAll
	}
	c := leeway.Case{Cupboard: cup, Brief: b}
	var driveErr error
	if opt.drive != "" {
		var wanted *built.Build
		if name, data, driveErr = read(opt.drive, "drive.toml", nil, stdin); driveErr == nil {
			wanted, driveErr = built.Read(name, data, cup)
		}
		if wanted != nil {
			c.Cupboard, c.Pins = wanted.Cupboard, why.Wanted(wanted)
		}
	}
	if err := inFiles(cupErr, calibrationErr, briefErr, driveErr); err != nil {
		return c, from, err
	}
	if opt.drive == "" {
		var err error
		if c.Pins, err = opt.pins(cup); err != nil {
			return c, from, err
		}
	}
	return c, from, nil
}

// pins are what the flags want; nil for nothing.
func (opt whyOptions) pins(cup *parts.Cupboard) (*design.Pins, error) {
	for _, w := range []struct{ flag, kind, name string }{
		{"driver", "pulley", opt.driver}, {"driven", "pulley", opt.driven}, {"band", "band", opt.band}, {"motor", "motor", opt.motor}, {"cells", "cells", opt.cells},
	} {
		if w.name == "" || cup.Item(w.kind, w.name) != nil {
			continue
		}
		hint := ""
		if near := tomlfile.Nearest(w.name, cup.Names(w.kind)); near != "" {
			hint = fmt.Sprintf(", did you mean %q?", near)
		}
		return nil, outcome{exitUsage, fmt.Sprintf("--%s: the cupboard has no %s named %q%s", w.flag, w.kind, w.name, hint)}
	}
	p := design.Pins{Motor: opt.motor, Holder: opt.cells, Stages: opt.stages, Output: opt.driven}
	if opt.driver != "" || opt.band != "" {
		p.Each = []design.StagePins{{Driver: opt.driver, Band: opt.band}}
	}
	if p.Motor+p.Holder+p.Output == "" && p.Stages == 0 && len(p.Each) == 0 {
		return nil, nil
	}
	return &p, nil
}
