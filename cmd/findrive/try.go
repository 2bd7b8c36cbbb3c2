package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/measure"
	"findrive/internal/report"
)

type tryOptions struct {
	said said
	model
	symptom, turns, travel []string
	ask, fit               []string
	format                 string
	rules                  bool
	colour                 string
	output, cured          string
	force                  bool
}

func tryCommand() *cobra.Command {
	var opt tryOptions
	symptoms := make([]string, len(built.Signs()))
	for i, s := range built.Signs() {
		symptoms[i] = string(s)
	}
	questions := make([]string, len(built.Questions()))
	for i, q := range built.Questions() {
		questions[i] = string(q)
	}
	cmd := &cobra.Command{
		Use:   "try [DRIVE.toml]",
		Short: "work out a drive that is built, and find its fault",
		Long: `try works out a drive as it stands on the table: how fast, which way, what holds
and what does not, and what gives way first. With --ask it answers a question
shortly.

With --symptom it finds the fault. Say in your own words what you see, hear or
smell; a count in the sentence, or with --turns or --travel, is evidence too. It
says what to look at first, which causes the numbers support, and which change
from the cupboard cures it.

The drive is one that a file describes; or one of a list that propose saved
(--from); or one that it finds (-b), by its --rank. Without any it is the
built-in example. -o writes the file that describes it, to be changed where the
model is different. findrive start writes one to fill in; with a table [frame]
in it, it is also judged whether all fits in.

What is often seen:
  ` + strings.Join(symptoms, "\n  ") + `

Questions:
  ` + strings.Join(questions, "\n  ") + `

Exit codes: 0 the drive turns and keeps every rule, or what was asked is
answered; 2 wrong use; 3 mistakes in an input file; 4 it breaks a rule, does
not turn, or there is no such drive; 5 stopped before it was proved.`,
		Example: `  findrive try
  findrive try --symptom "far too fast"
  findrive try --from drives.json --symptom "9 turns in 30 s, and it squeaks"
  findrive try drive.toml -c cupboard.toml --symptom "hums and will not start"
  findrive try drive.toml -c cupboard.toml --ask "one cell or two"
  findrive try --from drives.json --rank 2 -o drive.toml
  findrive try -c cupboard.toml --fit "axle-30 on dowel-4"`,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said, opt.ranked = said{cmd: cmd, args: args}, cmd.Flags().Changed("rank")
			return tryDrive(cmd.Context(), opt, questions, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "try works out one drive at a time\nhint: write for example findrive try drive.toml")
	f := opt.flags(cmd, time.Minute)
	f.StringArrayVar(&opt.symptom, "symptom", nil, "`what` goes wrong, in your own words, in quotes"+moreThanOnce)
	f.turns(&opt.turns)
	f.travel(&opt.travel)
	f.StringArrayVar(&opt.ask, "ask", nil, "a `question`, in quotes"+moreThanOnce)
	f.StringArrayVar(&opt.fit, "fit", nil, "does this pulley fit that axle: `PULLEY on AXLE`"+moreThanOnce)
	f.format(&opt.format)
	f.BoolVar(&opt.rules, "rules", false, "also list the rules that are kept (text)")
	f.output(&opt.output, &opt.force, "the drive, as a description to change,")
	f.StringVar(&opt.cured, "cured", "", "with --symptom: write the drive as it is after the change that cures, as a description, to this `file`")
	f.colour(&opt.colour)
	completeWords(cmd, "symptom", symptoms...)
	completeWords(cmd, "ask", questions...)
	return cmd
}

func tryDrive(ctx context.Context, opt tryOptions, questions []string, stdin io.Reader, stdout, stderr io.Writer) error {
	for i, q := range opt.ask {
		opt.ask[i] = strings.ToLower(strings.TrimRight(strings.TrimSpace(q), "?"))
		if heard, ok := built.Heard(q); ok {
			opt.ask[i] = string(heard)
		}
		if err := oneOf("ask", opt.ask[i], questions...); err != nil {
			return err
		}
	}
	if opt.faulty() && len(opt.ask)+len(opt.fit) > 0 {
		return outcome{exitUsage, "what goes wrong and questions are answered one after the other: leave one of them out"}
	}
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if err := opt.check(); err != nil {
		return err
	}
	if opt.onlyFit() {
		return opt.fitInCupboard(stdin, stdout)
	}
	if opt.cured != "" && !opt.faulty() {
		return outcome{exitUsage, "--cured writes the drive after what cures it: say what goes wrong with --symptom"}
	}
	opt.told = opt.faulty()
	b, ended, err := opt.build(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	w, err := built.Work(b)
	if err != nil {
		return outcome{exitInput, err.Error()}
	}
	replies, err := opt.replies(w)
	if err != nil {
		return err
	}
	var found *built.Diagnosis
	if opt.faulty() {
		if found, err = opt.diagnose(ctx, b); err != nil {
			return err
		}
	}
	err = writtenFirst(stdout, stderr, func(stderr io.Writer) error {
		if err := opt.write(b, stderr); err != nil {
			opt.output, opt.cured = "", ""
			return err
		}
		err := opt.writeCured(found, stderr)
		if err != nil {
			opt.cured = ""
		}
		return err
	}, func(page io.Writer) error {
		switch {
		case opt.format == "json":
			return report.TryJSON(page, w, found, replies)
		case opt.format == "csv" && len(replies) > 0:
			return report.RepliesCSV(page, replies)
		case opt.format == "csv":
			return report.TryCSV(page, w, found)
		}
		how := report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), All: opt.rules}
		if len(replies) > 0 {
			return thenNext(page, report.RepliesText(page, w, replies, how), opt.next(w, found), opt.colour, stdout)
		}
		return thenNext(page, report.TryText(page, w, found, how), opt.next(w, found), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	if found == nil && len(replies) == 0 && w.Broken() > 0 {
		return outcome{code: exitNone}
	}
	return ended
}

// next is the command to write after this one. found may be nil.
func (opt *tryOptions) next(w *built.Working, found *built.Diagnosis) string {
	asked := len(opt.ask)+len(opt.fit) > 0
	switch {
	case opt.cured != "" && cureOf(found) != nil:
		return opt.said.without("from", "brief", "rank", "symptom", "turns", "travel", "cured").onDrive("try", opt.cured)
	case opt.cured == "" && staged(found) != nil:
		return opt.said.again("--cured", unused("cured.toml"))
	case opt.output != "":
		return opt.said.without("from", "brief", "rank").onDrive("try", opt.output)
	case asked:
		return opt.said.then("try")
	case opt.listed() && (opt.faulty() || w.Broken() > 0): // the model may be another than the list has
		return opt.said.then("try", "-o", unused("drive.toml"))
	case !opt.rules && (opt.faulty() || w.Broken() > 0):
		return opt.said.then("try", "--rules")
	}
	return opt.said.then("explain")
}

// onlyFit reports whether nothing is asked but whether parts of the cupboard fit each
// other, for which no drive is needed.
func (opt *tryOptions) onlyFit() bool {
	return len(opt.fit) > 0 && len(opt.ask) == 0 && opt.drive == "" && !opt.listed() && opt.output == ""
}

// fitInCupboard answers whether parts of the cupboard fit each other.
func (opt *tryOptions) fitInCupboard(stdin io.Reader, stdout io.Writer) error {
	cup, err := loadCupboard(opt.cupboard, stdin)
	if err := inFiles(err); err != nil {
		return err
	}
	all := brief.Making{DrillFrame: true, DrillOut: true, Glue: true}
	w := &built.Working{Build: &built.Build{Name: cup.Name, Cupboard: cup, Brief: &brief.Brief{Making: all}}}
	replies, err := opt.replies(w)
	if err != nil {
		return err
	}
	return answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.RepliesJSON(page, w, replies)
		case "csv":
			return report.RepliesCSV(page, replies)
		}
		err := report.RepliesText(page, w, replies, report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.said.then("ideas"), opt.colour, stdout)
	})
}

// longestSaying is as long as one saying may be.
const longestSaying = 400

// faulty reports whether something is said to go wrong.
func (opt *tryOptions) faulty() bool { return len(opt.symptom)+len(opt.turns)+len(opt.travel) > 0 }

// diagnose finds what is wrong, by what is said and counted.
func (opt *tryOptions) diagnose(ctx context.Context, b *built.Build) (*built.Diagnosis, error) {
	var heard []built.Hearing
	var readings []measure.Reading
	var mistakes []string
	for _, text := range opt.symptom {
		if n := len([]rune(text)); n > longestSaying {
			mistakes = append(mistakes, fmt.Sprintf("--symptom: %d letters are too many to be understood: say it in at most %d, or give --symptom again for each thing", n, longestSaying))
			continue
		}
		said, rest := measure.FromWords(text)
		readings = append(readings, said...)
		h := built.Hear(rest, b.Brief.Model)
		for i := range h {
			h[i].Words = text
		}
		if heard = append(heard, h...); len(h)+len(said) == 0 {
			mistakes = append(mistakes, fmt.Sprintf("--symptom %q: this was not understood\nhint: say what is seen, heard or smelt in other words, such as:\n  %s", text, strings.Join(signsFor(b), "\n  ")))
		}
	}
	for _, f := range []struct {
		flag  string
		texts []string
		read  func(string) (measure.Reading, error)
	}{{"turns", opt.turns, measure.ReadTurns}, {"travel", opt.travel, measure.ReadTravel}} {
		for _, text := range f.texts {
			r, err := f.read(text)
			switch {
			case errors.Is(err, measure.ErrStands):
				h := built.Hear(measure.Stands, b.Brief.Model)
				for i := range h {
					h[i].Words = text
				}
				heard = append(heard, h...)
				continue
			case err != nil:
				mistakes = append(mistakes, fmt.Sprintf("--%s: %v", f.flag, err))
			}
			readings = append(readings, r)
		}
	}
	if len(mistakes) > 0 {
		return nil, outcome{exitUsage, strings.Join(mistakes, "\n")}
	}
	var counts []built.Count
	for _, r := range readings {
		c, err := measure.CountOf(r, b)
		if err != nil {
			return nil, outcome{exitUsage, err.Error()}
		}
		counts = append(counts, c)
	}
	if opt.timeLimit > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, opt.timeLimit)
		defer stop()
	}
	d, err := built.Diagnose(ctx, b, heard, counts)
	if err != nil {
		return nil, outcome{exitInput, b.Name + ": " + err.Error()}
	}
	return d, nil
}

// signsFor are the signs that can be seen on a model.
func signsFor(b *built.Build) []string {
	var out []string
	for _, s := range built.SignsOn(b.Brief.Model) {
		out = append(out, string(s))
	}
	return out
}

// write writes the file that describes the drive, if one is asked for.
func (opt *tryOptions) write(b *built.Build, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	if err := writeFiles([]file{{opt.output, driveFile(b, &opt.model)}}, opt.force, "choose another name, or say --force"); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote %s. Change it where the model is different, then try that.\n", shown(opt.output))
	return nil
}

// cureOf is the change that cures the first symptom of those that are cured; nil if none is.
func cureOf(found *built.Diagnosis) *built.Change {
	if found == nil {
		return nil
	}
	for _, a := range found.Advised() {
		if c := a.Cure(); c != nil {
			return c
		}
	}
	return staged(found)
}

// staged is the drive of more stages that is advised; nil if none is.
func staged(found *built.Diagnosis) *built.Change {
	if found == nil {
		return nil
	}
	for _, a := range found.Advised() {
		if a.Staged != nil {
			return a.Staged
		}
	}
	return nil
}

// writeCured writes the drive as it is after what cures, if that is asked for.
func (opt *tryOptions) writeCured(found *built.Diagnosis, stderr io.Writer) error {
	if opt.cured == "" {
		return nil
	}
	c := cureOf(found)
	if c == nil {
		return outcome{exitNone, "--cured: nothing was found that cures it, so that no file was written"}
	}
	to := c.After.Build
	if err := writeFiles([]file{{opt.cured, to.Write("The drive after this: " + strings.Join(c.Steps, "; and "))}}, opt.force, "choose another name, or say --force"); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote %s, the drive as it is after the change.\n", shown(opt.cured))
	return nil
}

// replies answer what --ask and --fit ask.
func (opt *tryOptions) replies(w *built.Working) ([]*built.Reply, error) {
	var out []*built.Reply
	for _, q := range opt.ask {
		out = append(out, built.Ask(w, built.Question(q)))
	}
	var mistakes []string
	for _, pair := range opt.fit {
		r, err := built.AskFit(w.Build, pair)
		if err != nil {
			mistakes = append(mistakes, "--fit: "+err.Error())
		}
		out = append(out, r)
	}
	if len(mistakes) > 0 {
		return nil, outcome{exitUsage, strings.Join(mistakes, "\n")}
	}
	return out, nil
}

// loadDrive reads the cupboard, what was learned of it, and the drive, and reports the
// mistakes of all at once. told is whether something is said or counted of the drive.
func loadDrive(cupboardFile, calibrationFile, driveFile string, told bool, stdin io.Reader, stderr io.Writer) (*built.Build, error) {
	if driveFile == "" && cupboardFile != "" {
		return nil, outcome{exitUsage, "which drive? The built-in one belongs to the built-in cupboard: name the file that describes yours\nhint: findrive start DIR writes a drive.toml to begin from; a drive of a list is named with --from or -b and --rank"}
	}
	cup, cupErr := loadCupboard(cupboardFile, stdin)
	var b *built.Build
	name, data, err := read(driveFile, "built-in drive.toml", demo.Drive(), stdin)
	if err == nil {
		b, err = built.Read(name, data, cup)
	}
	if b != nil { // its own parts are as they were known when it was written down
		cup = b.Cupboard
	}
	cup, calibrationErr := calibrated(cup, calibrationFile, stdin)
	if err := inFiles(cupErr, calibrationErr, err); err != nil {
		return nil, err
	}
	if calibrationFile != "" {
		b = b.Calibrated(cup)
	}
	sayBuiltIn(stderr, told || calibrationFile != "", theCupboard(cupboardFile), input{"drive", "DRIVE.toml", driveFile})
	return b, nil
}
