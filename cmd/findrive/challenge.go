package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/goals"
	"findrive/internal/goalsdrawing"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/swap"
)

type challengeOptions struct {
	said                         said
	cupboard, calibration, brief string
	example, write               string
	tradeOff                     bool
	plot                         string
	force                        bool
	format, output, from         string
	drives, full, threads, rank  int
	timeLimit                    time.Duration
	colour                       string
}

func challengeCommand() *cobra.Command {
	var opt challengeOptions
	cmd := &cobra.Command{
		Use:   "challenge",
		Short: "the best drives for a club's challenge: fastest, steepest ...",
		Long: `challenge finds and proves the best drives for a contest: an exact time over a
distance, the fastest or the slowest, the steepest ramp, the heaviest lift,
nearest to so many turns in a minute, or the most forgiving of wonky holes. The
brief has a [challenge] table that says which, and the rules: cells, footprint,
parts, a budget in pretend money. Without -c and -b it uses a built-in box and
challenge; --example chooses another, and --write copies them all, to be
changed.

-o saves the drive of --rank, for sheet, try, measure and the others (--from).
With --from nothing is searched: it says what a model that was built does in the
challenge, and how to tune it. --trade-off adds speed against climb, which takes
several searches more; --plot draws it.

Exit codes: 0 proved best, 3 mistakes in an input file, 4 no drive can enter, 5
stopped before it was proved.`,
		Example: `  findrive challenge
  findrive challenge --example steepest
  findrive challenge -c cupboard.toml -b sprint.toml --trade-off
  findrive challenge --write club`,
		Args: alone("write findrive challenge -c cupboard.toml -b brief.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			if opt.write != "" {
				return writeChallenges(opt.write, cmd.OutOrStdout())
			}
			return runChallenge(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.StringVar(&opt.example, "example", "", "a built-in challenge instead of a brief: its `name`")
	f.write(&opt.write)
	f.BoolVar(&opt.tradeOff, "trade-off", false, "also show speed against climb, for a vehicle")
	f.plot(&opt.plot)
	f.format(&opt.format)
	f.output(&opt.output, &opt.force, "one of the drives, as JSON,")
	f.list(&opt.from, &opt.rank)
	f.keep(&opt.drives, 3)
	f.full(&opt.full, 1)
	f.search(&opt.threads, &opt.timeLimit, 2*time.Minute)
	f.colour(&opt.colour)
	completeWords(cmd, "example", demo.Challenges()...)
	return cmd
}

func runChallenge(ctx context.Context, opt challengeOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, c, err := loadChallenge(opt, stdin)
	if err != nil {
		return err
	}
	theirs := []input{theCupboard(opt.cupboard)}
	if opt.example == "" { // which is asked for by its name
		theirs = append(theirs, theBrief(opt.brief))
	}
	sayBuiltIn(stderr, opt.calibration+opt.from != "", theirs...)
	if opt.from != "" {
		return opt.built(c, cup, stdin, stdout)
	}
	if limit := within(opt.timeLimit); limit != nil {
		var stop context.CancelFunc
		ctx, stop = limit(ctx)
		defer stop()
	}
	bar := newProgress(stderr)
	how := goals.Options{Keep: opt.drives, Threads: opt.threads, Watch: bar.watch}
	result, err := goals.Find(ctx, cup, c, how)
	var trade *goals.TradeOff
	if err == nil && (opt.tradeOff || opt.plot != "") {
		trade, err = goals.Trade(ctx, cup, result, how)
	}
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	if err := writeEntry(result, opt, stderr); err != nil {
		return err
	}
	curve := trade != nil && len(trade.Slopes) > 0
	if opt.plot != "" && curve {
		if _, err := writeDrawing(opt.plot, goalsdrawing.TradeOff(trade, c.Brief.Name), opt.force); err != nil {
			return err
		}
	}
	full := opt.full
	if full == 0 {
		full = -1
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.ChallengeJSON(page, result)
		case "csv":
			return report.ChallengeCSV(page, result)
		}
		err := report.ChallengeText(page, result, report.ChallengeOptions{Width: width(stdout), Colour: colour(opt.colour, stdout),
			Asked: opt.drives, Full: full, TradeOff: trade})
		return thenNext(page, err, opt.next(result), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	if (opt.tradeOff || opt.plot != "") && !curve {
		fmt.Fprintln(stderr, noCurve(opt, result))
	}
	switch result.Status {
	case design.StoppedEarly:
		return outcome{code: exitStopped}
	case design.NonePossible:
		return outcome{code: exitNone}
	}
	return nil
}

// built is what a model does that was built.
func (opt challengeOptions) built(c *goals.Challenge, cup *parts.Cupboard, stdin io.Reader, stdout io.Writer) error {
	list, _, err := proposals{from: opt.from, rank: opt.rank}.certificate(context.Background(), stdin, io.Discard)
	if err != nil {
		return err
	}
	found, err := swap.FromCertificate(list, opt.rank)
	if err != nil {
		return outcome{exitNone, opt.from + ": " + err.Error()}
	}
	if opt.cupboard == "" {
		if err := builtInOf(list, opt.from, opt.said, stdin, cup); err != nil {
			return err
		}
	}
	b := found.Build(cup)
	if opt.calibration != "" {
		b = b.Calibrated(cup.With(b.Cupboard))
	}
	b.Cupboard.Remembered = cup.Remembered
	m, err := goals.JudgeBuilt(c, b)
	if err != nil {
		return outcome{exitUsage, err.Error()}
	}
	return answer(stdout, func(page io.Writer) error {
		err := report.ChallengeBuilt(page, m, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.said.without("brief").then("try"), opt.colour, stdout)
	})
}

// next is the command to write after this one.
func (opt challengeOptions) next(r *goals.Result) string {
	switch {
	case len(r.Entries) > 0 && opt.output == "":
		return opt.said.without("plot", "trade-off").again("-o", unused("winner.json"))
	case len(r.Entries) > 0:
		return sheetOf(opt.output, 1)
	case r.Status == design.StoppedEarly:
		return opt.said.longer(opt.timeLimit)
	}
	return opt.said.then("ideas")
}

// writeEntry writes one of the drives as a list of its own, if that is asked for.
func writeEntry(r *goals.Result, opt challengeOptions, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	if len(r.Entries) == 0 {
		fmt.Fprintf(stderr, "There is no drive to write: %q is not written.\n", opt.output)
		return nil
	}
	if opt.rank > len(r.Entries) {
		return outcome{exitUsage, fmt.Sprintf("there is no drive number %d: they go from 1 to %d", opt.rank, len(r.Entries))}
	}
	var data bytes.Buffer
	if err := report.JSON(&data, goals.ListOf(r, opt.rank), report.JSONOptions{}); err != nil {
		return outcome{exitFailure, err.Error()}
	}
	if err := writeFiles([]file{{opt.output, data.Bytes()}}, opt.force, anotherName); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote drive %d into %s.\n", opt.rank, shown(opt.output))
	return nil
}

// noCurve says why speed against climb is not shown, and that no file was written.
func noCurve(opt challengeOptions, r *goals.Result) string {
	why := "the search was stopped before it found how fast any drive climbs"
	switch {
	case r.Challenge.Brief.Model != brief.Vehicle:
		why = "it is for vehicles, and this challenge has none"
	case len(r.Entries) == 0 && r.Status == design.NonePossible:
		why = "no drive can enter"
	case len(r.Entries) == 0:
		why = "no drive has been found yet"
	}
	if opt.plot != "" {
		return fmt.Sprintf("No speed against climb: %s. %q is not written.", why, opt.plot)
	}
	return fmt.Sprintf("No speed against climb: %s.", why)
}

// loadChallenge reads cupboard and challenge, and tells what is wrong with both. The
// built-in challenges go with a box of their own.
func loadChallenge(opt challengeOptions, stdin io.Reader) (*parts.Cupboard, *goals.Challenge, error) {
	box := demo.Club()
	if opt.brief != "" {
		box = demo.Cupboard()
	}
	example := opt.example
	if example == "" {
		example = demo.Challenges()[0]
	}
	var cup *parts.Cupboard
	name, data, cupErr := read(opt.cupboard, "built-in cupboard.toml", box, stdin)
	if cupErr == nil {
		cup, cupErr = parts.Read(name, data)
	}
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	var c *goals.Challenge
	name, data, err := read(opt.brief, "built-in "+example+".toml", demo.Challenge(example), stdin)
	if err == nil {
		c, err = goals.Read(name, data, cup)
	}
	if err := inFiles(cupErr, calibrationErr, err); err != nil {
		return nil, nil, err
	}
	return cup.InStock(), c, nil
}

func (opt challengeOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if opt.example != "" {
		if err := oneOf("example", opt.example, demo.Challenges()...); err != nil {
			return err
		}
	}
	switch {
	case opt.example != "" && opt.brief != "":
		return outcome{exitUsage, "--example and --brief are two challenges: give one"}
	case opt.drives < 1 || opt.drives > 50:
		return outcome{exitUsage, "--keep must be from 1 to 50"}
	case opt.from != "" && (opt.output != "" || opt.plot != "" || opt.tradeOff || opt.format != "text"):
		return outcome{exitUsage, "--from works a model out that was built, as text: leave out --output, --plot, --trade-off and --format"}
	case opt.from == "-" && (opt.cupboard == "-" || opt.brief == "-"):
		return outcome{exitUsage, "only one of the files can come from standard input"}
	case opt.from != "" && (opt.rank < 1 || opt.rank > 1000):
		return outcome{exitUsage, "--rank must be from 1 to 1000"}
	case opt.from == "" && (opt.rank < 1 || opt.rank > opt.drives):
		return outcome{exitUsage, fmt.Sprintf("--rank must be from 1 to %d, as many drives as are proved (--keep)", opt.drives)}
	case opt.full < 0:
		return outcome{exitUsage, "--full must not be negative"}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	case opt.cupboard == "-" && opt.brief == "-":
		return outcome{exitUsage, "only one of --cupboard and --brief can come from standard input"}
	}
	return checkDrawingName("plot", opt.plot)
}

// writeChallenges copies the built-in box and challenges into a folder that may be
// new.
func writeChallenges(dir string, stdout io.Writer) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", dir, reason(err))}
	}
	box := filepath.Join(dir, "cupboard.toml")
	out := []file{{box, demo.Club()}}
	for _, name := range demo.Challenges() {
		out = append(out, file{filepath.Join(dir, name+".toml"), demo.Challenge(name)})
	}
	if err := writeFiles(out, false, "choose another folder, or move the file away"); err != nil {
		return err
	}
	return answer(stdout, func(page io.Writer) error {
		_, err := fmt.Fprintf(page, "Wrote a box of parts and %d challenges into %s:\n  %s\nChange them, then run one of them.\n",
			len(out)-1, shown(dir), strings.Join(demo.Challenges(), ", "))
		return thenNext(page, err, "findrive challenge -c "+quoted(box)+" -b "+quoted(out[1].path), "never", stdout)
	})
}
