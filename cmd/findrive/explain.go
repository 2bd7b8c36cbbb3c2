package main

import (
	"context"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/built"
	"findrive/internal/explain"
	"findrive/internal/report"
)

type explainOptions struct {
	said said
	proposals
	drive          string
	reader, place  string
	format, colour string
}

func explainCommand() *cobra.Command {
	var opt explainOptions
	readers := make([]string, len(explain.Readers()))
	for i, r := range explain.Readers() {
		readers[i] = string(r)
	}
	var places, lines []string
	for _, p := range explain.Places() {
		places = append(places, p.Key)
		lines = append(lines, fmt.Sprintf("  %-17s %s", p.Key, p.Name))
	}
	places = append(places, "none")
	cmd := &cobra.Command{
		Use:   "explain [DRIVE.toml]",
		Short: "tell why a drive is slow and strong, with its own numbers",
		Long: `explain tells the small-to-big story of one drive with its own numbers, for a
pupil, a teacher or a technician: why it is slower and stronger, what can be
seen and counted, which curriculum lines it covers, and what to remind people
of.

The drive is one that is built, from a file as for try; or one that propose
lists, by its rank; or one of a saved certificate. Without any it is the best
of the built-in example.

Places with curriculum lines, for --country:
` + strings.Join(lines, "\n") + `

Exit codes: 0 told; 2 wrong use; 3 mistakes in an input file; 4 no such drive;
5 stopped before it was proved.`,
		Example: `  findrive explain --for pupil
  findrive explain drive.toml -c cupboard.toml --country scotland
  findrive explain -c cupboard.toml -b brief.toml --rank 2 --for technician
  findrive explain --from drives.json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runExplain(cmd.Context(), opt, readers, places, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "explain tells of one drive at a time\nhint: write for example findrive explain drive.toml")
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.list(&opt.from, &opt.rank)
	f.StringVar(&opt.reader, "for", string(explain.Teacher), "`whom` it is told: pupil, teacher or technician")
	f.StringVar(&opt.place, "country", "england", "`where` the curriculum lines are from; none for none")
	f.format(&opt.format)
	f.search(&opt.threads, &opt.timeLimit, time.Minute)
	f.colour(&opt.colour)
	completeWords(cmd, "for", readers...)
	completeWords(cmd, "country", places...)
	return cmd
}

func runExplain(ctx context.Context, opt explainOptions, readers, places []string, stdin io.Reader, stdout, stderr io.Writer) error {
	for _, w := range []struct {
		flag, word string
		allowed    []string
	}{{"for", opt.reader, readers}, {"country", opt.place, places}, {"format", opt.format, formats}, {"colour", opt.colour, []string{"auto", "always", "never"}}} {
		if err := oneOf(w.flag, w.word, w.allowed...); err != nil {
			return err
		}
	}
	if err := opt.check(); err != nil {
		return err
	}
	d, ended, err := opt.find(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	place := opt.place
	if place == "none" {
		place = ""
	}
	story := explain.Tell(d, explain.Reader(opt.reader), place)
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.ExplainJSON(page, story)
		case "csv":
			return report.ExplainCSV(page, story)
		}
		err := report.ExplainText(page, story, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.said.then("fairtest"), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	return ended
}

func (opt *explainOptions) check() error {
	switch {
	case opt.from != "" && (opt.cupboard != "" || opt.brief != "" || opt.calibration != "" || opt.drive != ""):
		return outcome{exitUsage, "--from has its own cupboard and brief in it: leave out the others"}
	case opt.drive != "" && opt.brief != "":
		return outcome{exitUsage, "a drive that is built needs no brief: leave one of them out"}
	case opt.rank < 1 || opt.rank > 1000:
		return outcome{exitUsage, "--rank must be from 1 to 1000"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case oneStdin(opt.cupboard, opt.calibration, opt.brief, opt.drive):
		return outcome{exitUsage, "only one of the files can come from standard input"}
	}
	return nil
}

// find is the drive to tell of; ended is how a search ended, if not with a proof.
func (opt *explainOptions) find(ctx context.Context, stdin io.Reader, stderr io.Writer) (d *explain.Drive, ended, err error) {
	if opt.drive != "" {
		b, err := loadDrive(opt.cupboard, opt.calibration, opt.drive, false, stdin, stderr)
		if err != nil {
			return nil, nil, err
		}
		w, err := built.Work(b)
		if err == nil {
			d, err = explain.FromBuilt(w)
		}
		if err != nil {
			return nil, nil, outcome{exitNone, err.Error()}
		}
		return d, nil, nil
	}
	c, ended, err := opt.certificate(ctx, stdin, stderr)
	if err != nil {
		return nil, nil, err
	}
	if d, err = explain.FromCertificate(c, opt.rank); err != nil {
		if ended != nil && len(c.Proposals) == 0 {
			return nil, nil, ended
		}
		return nil, nil, outcome{exitNone, err.Error() + "\nhint: findrive propose lists the drives with their numbers"}
	}
	return d, ended, nil
}
