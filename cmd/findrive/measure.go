package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/built"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/report"
)

type measureOptions struct {
	said said
	model
	class               string
	group               []string
	plot                string
	turns, travel, hung []string
	pulled, slip, drag  []string
	format, colour      string
	output              string
	force               bool
}

// exampleCount is what is counted on the built-in drive if nothing is said.
const exampleCount = "31 turns in 30 s"

func measureCommand() *cobra.Command {
	var opt measureOptions
	cmd := &cobra.Command{
		Use:   "measure [DRIVE.toml]",
		Short: "learn about motor and bands from a count",
		Long: `measure takes what was counted, timed or read off a force meter on a drive that
is built, says what that tells about its motor and bands, and narrows what is
foretold. With -o it writes a calibration file, to be pasted into a cupboard or
given to propose, try and measure with --calibration. Readings that cannot be
are questioned and not learned from.

With --class or --group it takes what every group of a class counted on the same
drive: a dot plot, what the class as a whole teaches, and which group's model
stands apart and what its numbers point to; --plot draws the plot, and without
counts an empty one to fill in.

The drive is one that a file describes, or one of a list, saved (--from) or to
be searched for (-b), by its --rank. Without any it is the built-in example
and ` + exampleCount + `.

Exit codes: 0 learned, 2 wrong use, 3 mistakes in an input file, 4 no reading
could be learned from or no such drive, 5 stopped before it was proved.`,
		Example: `  findrive measure
  findrive measure drive.toml --turns "34 turns in 30 s"
  findrive measure buggy.toml --travel "3 m in 12 s" -o calibration.toml
  findrive measure drive.toml --class counts.csv --plot class.pdf
  findrive measure drive.toml --hung "no-16: 100 g to 107 mm"
  findrive measure drive.toml --pulled "no-16: 1 N to 107 mm" --slip "0.4 N"`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said, opt.ranked = said{cmd: cmd, args: args}, cmd.Flags().Changed("rank")
			return runMeasure(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "measure takes one drive at a time\nhint: write for example findrive measure drive.toml --turns \"34 turns in 30 s\"")
	f := opt.flags(cmd, time.Minute)
	f.turns(&opt.turns)
	f.travel(&opt.travel)
	f.StringArrayVar(&opt.hung, "hung", nil, "a band's `test`: its name, the mass hung from it and the loop's length inside, such as \"no-16: 100 g to 107 mm\""+moreThanOnce)
	f.StringArrayVar(&opt.pulled, "pulled", nil, "a band's `test` with a force meter, such as \"no-16: 1 N to 107 mm\""+moreThanOnce)
	f.StringArrayVar(&opt.slip, "slip", nil, "the `pull` on a cord round the output's rim, a wheel's rim or a drum at which a band slips, the motor's pulley held, such as \"0.4 N\" or \"40 g\""+moreThanOnce)
	f.StringArrayVar(&opt.drag, "drag", nil, "the `pull` there that keeps the output turning with its band off, such as \"0.2 N\""+moreThanOnce)
	f.StringVar(&opt.class, "class", "", "what all groups counted, a `file` with a line each, typed or CSV; - for standard input")
	f.StringArrayVar(&opt.group, "group", nil, "what one `group` counted, such as \"Table 1: 9 turns in 30 s\""+moreThanOnce)
	f.plot(&opt.plot)
	f.format(&opt.format)
	f.output(&opt.output, &opt.force, "the calibration")
	f.colour(&opt.colour)
	return cmd
}

func runMeasure(ctx context.Context, opt measureOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	opt.told = opt.told || opt.ofClass() && opt.class+strings.Join(opt.group, "") != ""
	b, ended, err := opt.build(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	if opt.ofClass() {
		err := opt.runClass(ctx, b, stdin, stdout, stderr)
		if err == nil {
			err = ended
		}
		return err
	}
	readings, err := opt.readings(b)
	if err != nil {
		return err
	}
	result, err := measure.Learn(b, readings)
	if err != nil {
		return outcome{exitUsage, err.Error()}
	}
	found, err := result.Diagnose(ctx)
	if err != nil {
		return outcome{exitUsage, err.Error()}
	}
	err = writtenFirst(stdout, stderr, func(stderr io.Writer) error {
		err := opt.write(result, stderr)
		if err != nil {
			opt.output = ""
		}
		return err
	}, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.MeasureJSON(page, result, found)
		case "csv":
			return report.MeasureCSV(page, result)
		}
		err := report.MeasureText(page, result, found, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(result), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	if result.Questioned() == len(result.Readings) {
		return outcome{code: exitNone}
	}
	return ended
}

func (opt *measureOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if err := opt.model.check(); err != nil {
		return err
	}
	if err := checkDrawingName("plot", opt.plot); err != nil {
		return err
	}
	if opt.ofClass() {
		if len(opt.turns)+len(opt.travel)+len(opt.hung)+len(opt.pulled)+len(opt.slip)+len(opt.drag) > 0 {
			return outcome{exitUsage, "the counts of a class and of one model are learned one after the other: leave one of them out"}
		}
		if oneStdin(opt.class, opt.cupboard, opt.calibration, opt.drive, opt.brief, opt.from) {
			return outcome{exitUsage, "only one of the files can come from standard input"}
		}
		return nil
	}
	if len(opt.turns)+len(opt.travel)+len(opt.hung)+len(opt.pulled)+len(opt.slip)+len(opt.drag) == 0 {
		if opt.drive != "" || opt.listed() {
			return outcome{exitUsage, "what was measured? Write for example --turns \"34 turns in 30 s\", --travel \"3 m in 12 s\" or --hung \"no-16: 100 g to 107 mm\""}
		}
		opt.turns = []string{exampleCount}
		return nil
	}
	opt.told = true
	return nil
}

// next is the command to write after this one: first what was learned is written down, then
// the drive is worked out with it. Where nothing was, the drive is looked over.
func (opt *measureOptions) next(r *measure.Result) string {
	switch {
	case r == nil || r.Calibration() == nil:
		return opt.said.then("try")
	case opt.output == "":
		return opt.said.without("plot").again("-o", unused("calibration.toml"))
	}
	return opt.said.then("try", "--calibration", opt.output)
}

// oneStdin reports whether more than one file is to come from standard input.
func oneStdin(files ...string) bool {
	n := 0
	for _, f := range files {
		if f == "-" {
			n++
		}
	}
	return n > 1
}

// readings reads what the flags say, and reports every mistake at once.
func (opt *measureOptions) readings(b *built.Build) ([]measure.Reading, error) {
	var out []measure.Reading
	var mistakes []string
	stands := false
	for _, f := range []struct {
		flag  string
		texts []string
		read  func(string) (measure.Reading, error)
	}{
		{"turns", opt.turns, measure.ReadTurns},
		{"travel", opt.travel, measure.ReadTravel},
		{"hung", opt.hung, func(s string) (measure.Reading, error) { return measure.ReadHung(s, b.Cupboard.Bands) }},
		{"pulled", opt.pulled, func(s string) (measure.Reading, error) { return measure.ReadPulled(s, b.Cupboard.Bands) }},
		{"slip", opt.slip, measure.ReadSlip},
		{"drag", opt.drag, measure.ReadDrag},
	} {
		for _, text := range f.texts {
			r, err := f.read(text)
			if err != nil && b.Alone && (f.flag == "hung" || f.flag == "pulled") {
				err = fmt.Errorf("%w\nhint: %s", err, ownParts)
			}
			if err != nil {
				mistakes = append(mistakes, fmt.Sprintf("--%s: %v", f.flag, err))
				stands = stands || errors.Is(err, measure.ErrStands)
			}
			out = append(out, r)
		}
	}
	if stands {
		mistakes = append(mistakes, opt.whyItStands())
	}
	if len(mistakes) > 0 {
		return nil, outcome{exitUsage, strings.Join(mistakes, "\n")}
	}
	return out, nil
}

// whyItStands is where to go with a model that does not turn.
func (opt *measureOptions) whyItStands() string {
	return "hint: what stops it is found by " + opt.said.then("try", "--symptom", measure.Stands)
}

// write writes the calibration if a file is asked for, and says so on stderr.
func (opt *measureOptions) write(r *measure.Result, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	data := r.Calibration()
	if data == nil {
		fmt.Fprintf(stderr, "Nothing was learned that could be written down: %q is not written.\n", opt.output)
		return nil
	}
	if err := writeFiles([]file{{opt.output, data}}, opt.force, "choose another name, or say --force"); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote %s.\n", shown(opt.output))
	return nil
}

// calibrated is the cupboard with what was learned of it; file may be empty, and the
// cupboard nil if it has mistakes.
func calibrated(cup *parts.Cupboard, file string, stdin io.Reader) (*parts.Cupboard, error) {
	return calibratedBy((*parts.Cupboard).Calibrate, cup, file, stdin)
}

// calibratedBy is calibrated for a cupboard that may not be whole.
func calibratedBy(calibrate func(*parts.Cupboard, string, []byte) (*parts.Cupboard, error), cup *parts.Cupboard, file string, stdin io.Reader) (*parts.Cupboard, error) {
	if file == "" || cup == nil {
		return cup, nil
	}
	name, data, err := read(file, "calibration.toml", nil, stdin)
	if err != nil {
		return cup, err
	}
	out, err := calibrate(cup, name, data)
	if err != nil {
		return cup, err
	}
	return out, nil
}
