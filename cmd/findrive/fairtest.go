package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/built"
	"findrive/internal/design"
	"findrive/internal/explain"
	"findrive/internal/fairtest"
	"findrive/internal/report"
	"findrive/internal/sheet"
)

type fairTestOptions struct {
	said                         said
	cupboard, brief, calibration string
	drive, from                  string
	bases, threads, rank         int
	timeLimit                    time.Duration
	change                       []string
	dir, paper                   string
	formats                      []string
	force                        bool
	format, colour               string
}

func fairTestCommand() *cobra.Command {
	var opt fairTestOptions
	cmd := &cobra.Command{
		Use:   "fairtest [DRIVE.toml]",
		Short: "three drives that differ in one thing only, for a class to compare",
		Long: `fairtest finds three drives from the cupboard that differ in one thing only,
with speeds that are clearly different and, if it can be, countable by eye. It
starts from the best drives for the brief, or from one that is built, changes
one thing with the stock at the same holes, and weighs every three that would
work.

On the terminal stands what the adult needs: what to change, what to keep, what
to expect with ranges. With -o it also writes a page for the pupils, with a
table to fill in and no answers, and one for the adult.

Exit codes: 0 found; 1 a file could not be written; 2 wrong use; 3 mistakes in
an input file; 4 no such three; 5 stopped before all were weighed.`,
		Example: `  findrive fairtest
  findrive fairtest -c cupboard.toml -b brief.toml -o paper
  findrive fairtest drive.toml --change "driven pulley"
  findrive fairtest -c cupboard.toml --from drives.json --rank 2`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runFairTest(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "fairtest starts from one drive at most\nhint: write for example findrive fairtest drive.toml")
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.list(&opt.from, &opt.rank)
	f.IntVar(&opt.bases, "bases", 10, "from how many of the best `drives` to start")
	f.StringSliceVar(&opt.change, "change", nil, "only change this `thing`: "+strings.Join(fairtest.Names(), ", ")+moreThanOnce)
	f.folder(&opt.dir, &opt.force, "", "the pages")
	f.as(&opt.formats, pageKinds...)
	f.paper(&opt.paper)
	f.format(&opt.format)
	f.search(&opt.threads, &opt.timeLimit, time.Minute)
	f.colour(&opt.colour)
	completeWords(cmd, "change", fairtest.Names()...)
	return cmd
}

// pageKinds are the kinds of file a page without a table of its own can be.
var pageKinds = []string{"pdf", "html", "svg", "png"}

func (opt *fairTestOptions) check() error {
	for _, w := range []struct {
		flag, word string
		allowed    []string
	}{{"format", opt.format, formats}, {"colour", opt.colour, []string{"auto", "always", "never"}}, {"paper", opt.paper, []string{"a4", "letter"}}} {
		if err := oneOf(w.flag, w.word, w.allowed...); err != nil {
			return err
		}
	}
	for _, c := range opt.change {
		if err := oneOf("change", c, fairtest.Names()...); err != nil {
			return err
		}
	}
	for _, p := range opt.formats {
		if err := oneOf("as", p, pageKinds...); err != nil {
			return err
		}
	}
	switch {
	case opt.bases < 1 || opt.bases > 200:
		return outcome{exitUsage, "--bases must be from 1 to 200"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case opt.from != "" && (opt.drive != "" || opt.brief != ""):
		return outcome{exitUsage, "--from has its own drive and brief in it: leave the other out"}
	case opt.rank < 1 || opt.rank > 1000:
		return outcome{exitUsage, "--rank must be from 1 to 1000"}
	case opt.drive != "" && opt.brief != "":
		return outcome{exitUsage, "a drive that is built needs no brief: leave one of them out"}
	case oneStdin(opt.cupboard, opt.calibration, opt.brief, opt.drive, opt.from):
		return outcome{exitUsage, "only one of the files can come from standard input"}
	}
	return nil
}

func runFairTest(ctx context.Context, opt fairTestOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	if opt.timeLimit > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, opt.timeLimit)
		defer cancel()
	}
	bases, whole, err := opt.start(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	things := make([]fairtest.Thing, len(opt.change))
	for i, c := range opt.change {
		things[i] = fairtest.Thing(c)
	}
	r := fairtest.Find(ctx, bases, things)
	r.Whole = r.Whole && whole
	var files []file
	if opt.dir != "" && r.Best != nil {
		if files, err = opt.pages(r.Best); err != nil {
			return outcome{exitFailure, fmt.Sprintf("cannot make the pages: %v", err)}
		}
		if err := os.MkdirAll(opt.dir, 0o755); err != nil {
			return outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", opt.dir, reason(err))}
		}
		if err := writeFiles(files, opt.force, "choose another folder with -o, or write over it with --force"); err != nil {
			return err
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.FairTestJSON(page, r)
		case "csv":
			return report.FairTestCSV(page, r)
		}
		err := report.FairTestText(page, r, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(r), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	for _, f := range files {
		fmt.Fprintln(stderr, "Wrote "+shown(f.path))
	}
	switch {
	case !r.Whole:
		return outcome{code: exitStopped}
	case r.Best == nil:
		return outcome{code: exitNone}
	}
	return nil
}

// next is the command to write after this one.
func (opt *fairTestOptions) next(r *fairtest.Result) string {
	switch {
	case r.Best != nil && opt.dir == "":
		return opt.said.again("-o", unused("paper"))
	case r.Best != nil:
		return opt.said.then("explain", "--for", string(explain.Pupil))
	case !r.Whole:
		return opt.said.longer(opt.timeLimit)
	case len(opt.change) > 0:
		return opt.said.without("change").again()
	}
	return opt.said.then("ideas")
}

// start are the drives to change things in: the one that is built, or the best for the
// brief. whole is whether those are proved to be the best.
func (opt *fairTestOptions) start(ctx context.Context, stdin io.Reader, stderr io.Writer) (bases []*built.Build, whole bool, err error) {
	if opt.from != "" {
		m := model{proposals: proposals{cupboard: opt.cupboard, calibration: opt.calibration, from: opt.from, rank: opt.rank}}
		b, _, err := m.build(ctx, stdin, stderr)
		if err == nil && b.Alone {
			fmt.Fprintf(stderr, "Note: %s\n", ownParts)
		}
		return []*built.Build{b}, true, err
	}
	if opt.drive != "" {
		b, err := loadDrive(opt.cupboard, opt.calibration, opt.drive, false, stdin, stderr)
		if err != nil {
			return nil, false, err
		}
		return []*built.Build{b}, true, nil
	}
	cup, b, err := loadInputs(opt.cupboard, opt.calibration, opt.brief, stdin)
	if err != nil {
		return nil, false, err
	}
	cup = cup.InStock()
	sayBuiltIn(stderr, opt.calibration != "", theCupboard(opt.cupboard), theBrief(opt.brief))
	one := *b
	one.Sets = 1 // a test takes three models, not one for every group
	bar := newProgress(stderr)
	found, err := design.Find(ctx, cup, &one, design.Options{Keep: opt.bases, Threads: opt.threads, Watch: bar.watch})
	bar.done()
	if err != nil {
		return nil, false, contradiction(err)
	}
	if found.Status == design.NonePossible {
		return nil, false, outcome{exitNone, "no drive is possible for this brief\nhint: findrive propose says which rules stand in the way"}
	}
	for i := range found.Proposals {
		bases = append(bases, built.FromProposal(&found.Proposals[i], cup, &one))
	}
	return bases, found.Status == design.ProvedBest, nil
}

// pages are the pupils' page and its answers in every kind asked for.
func (opt *fairTestOptions) pages(t *fairtest.Test) ([]file, error) {
	id := sheet.Identity{Name: t.Base.Name, Rank: t.Rank, Print: "fair test " + fairPrint(t)}
	var files []file
	for _, p := range []sheet.Page{t.Pupils(id), t.Answers(id)} {
		base := filepath.Join(opt.dir, sheet.Slug(t.Base.Name)+"-fairtest-"+p.Name)
		for _, kind := range opt.formats {
			if kind == "html" {
				var b bytes.Buffer
				p.Print = paperSizes[opt.paper]
				if err := p.HTML(&b); err != nil {
					return nil, err
				}
				files = append(files, file{base + ".html", b.Bytes()})
				continue
			}
			d := p.Paper(paperSizes[opt.paper])
			more, err := drawingFiles(base+"."+kind, d)
			if err != nil {
				return nil, err
			}
			files = append(files, more...)
		}
	}
	return files, nil
}

// fairPrint tells tests apart: which three drives they compare.
func fairPrint(t *fairtest.Test) string {
	h := sha256.New()
	for _, v := range t.Drives {
		d := v.Working.Build.Drive
		fmt.Fprintf(h, "%q %q %v\n", d.Motor.Name, d.Holder.Name, d.Positions)
		for i := range d.Stages {
			s := &d.Stages[i]
			fmt.Fprintf(h, "%q %q %q %v %v\n", s.Driver.Name, s.Driven.Name, s.Band.Name, s.Use, s.Crossed)
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:8]
}
