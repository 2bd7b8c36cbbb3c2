package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"findrive/internal/built"
	"findrive/internal/classdrawing"
	"findrive/internal/measure"
	"findrive/internal/report"
)

// ofClass reports whether counts of a class are given, or its plot is asked for.
func (opt *measureOptions) ofClass() bool {
	return opt.class != "" || len(opt.group) > 0 || opt.plot != ""
}

// runClass learns from the counts of a class. Without counts it draws the empty plot.
func (opt *measureOptions) runClass(ctx context.Context, b *built.Build, stdin io.Reader, stdout, stderr io.Writer) error {
	counts, err := opt.groups(stdin)
	if err != nil {
		return err
	}
	c, err := measure.LearnClass(ctx, b, counts)
	if err != nil {
		return outcome{exitUsage, err.Error()}
	}
	if len(counts) > 0 {
		err = writtenFirst(stdout, stderr, func(stderr io.Writer) error {
			if c.Learned == nil {
				return nil
			}
			err := opt.write(c.Learned, stderr)
			if err != nil {
				opt.output = ""
			}
			return err
		}, func(page io.Writer) error {
			switch opt.format {
			case "json":
				return report.ClassJSON(page, c)
			case "csv":
				return report.ClassCSV(page, c)
			}
			err := report.ClassText(page, c, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
			return thenNext(page, err, opt.next(c.Learned), opt.colour, stdout)
		})
		if err != nil {
			return err
		}
	}
	if opt.plot != "" {
		names, err := writeDrawing(opt.plot, classdrawing.Plot(c), opt.force)
		if err != nil {
			return err
		}
		fmt.Fprintf(stderr, "Wrote %s.\n", shown(names...))
	}
	return nil
}

// groups are the counts of the file and of the flags.
func (opt *measureOptions) groups(stdin io.Reader) ([]measure.GroupCount, error) {
	var out []measure.GroupCount
	var mistakes []error
	code := exitUsage
	if opt.class != "" {
		name, data, err := read(opt.class, "counts.csv", nil, stdin)
		if err == nil {
			out, err = measure.ReadClass(name, data)
		}
		if err != nil {
			mistakes, code = append(mistakes, err), exitInput
		}
	}
	if len(opt.group) > 0 {
		more, err := measure.ReadClass("--group", []byte(strings.Join(opt.group, "\n")))
		if err != nil {
			mistakes = append(mistakes, err)
		}
		out = append(out, more...)
	}
	if err := errors.Join(mistakes...); errors.Is(err, measure.ErrStands) {
		mistakes = append(mistakes, errors.New("hint: leave that line out to learn of the others"), errors.New(opt.whyItStands()))
	}
	if len(mistakes) > 0 {
		return nil, outcome{code, errors.Join(mistakes...).Error()}
	}
	return out, nil
}
