package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/report"
)

type tryOptions struct {
	model
	symptom  string
	ask, fit []string
	format   string
	all      bool
	colour   string
	output   string
	force    bool
}

func tryCommand() *cobra.Command {
	var opt tryOptions
	symptoms := make([]string, len(built.Symptoms()))
	for i, s := range built.Symptoms() {
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
and what does not, and what gives way first. With --symptom it says which causes
the drive's own numbers support, and which change from the cupboard helps most.
With --ask it answers a question shortly.

The drive is one that a file describes; or one of a list that propose saved
(--from); or one that it finds (-b), by its --rank. Without any it is the
built-in example. -o writes the file that describes it, to be changed where the
model is different. findrive start writes one to fill in; with a table [frame]
in it, it is also judged whether all fits in.

Symptoms:
  ` + strings.Join(symptoms, "\n  ") + `

Questions:
  ` + strings.Join(questions, "\n  ") + `

Exit codes: 0 the drive turns and keeps every rule, or what was asked is
answered; 3 mistakes in an input file; 4 it breaks a rule or does not turn.`,
		Example: `  findrive try
  findrive try --symptom "far too fast"
  findrive try drive.toml -c cupboard.toml --symptom "hums and will not start"
  findrive try drive.toml -c cupboard.toml --ask "one cell or two"
  findrive try --from drives.json --rank 2 -o drive.toml
  findrive try -c cupboard.toml --fit "axle-30 on dowel-4"`,
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.ranked = cmd.Flags().Changed("rank")
			return tryDrive(cmd.Context(), opt, symptoms, questions, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	takesDrive(cmd, &opt.drive, "try works out one drive at a time\nhint: write for example findrive try drive.toml")
	opt.flags(cmd)
	f := cmd.Flags()
	f.StringVarP(&opt.cupboard, "cupboard", "c", "", "the cupboard, a TOML `file`; - for standard input")
	f.StringVar(&opt.calibration, "calibration", "", "what was learned by counting, a `file` that measure wrote")
	f.StringVar(&opt.symptom, "symptom", "", "`what` goes wrong, in quotes")
	f.StringArrayVar(&opt.ask, "ask", nil, "a `question`, in quotes; can be repeated")
	f.StringArrayVar(&opt.fit, "fit", nil, "does this pulley fit that axle: `PULLEY on AXLE`; can be repeated")
	f.StringVar(&opt.format, "format", "text", "`how` to print: text or json")
	f.BoolVar(&opt.all, "all", false, "also list the rules that are kept (text)")
	f.StringVarP(&opt.output, "output", "o", "", "also write the `file` that describes the drive")
	f.BoolVar(&opt.force, "force", false, "let it be written over a file that is there")
	f.StringVar(&opt.colour, "colour", "auto", "`when` to use colour: auto, always or never")
	completeFiles(cmd, "cupboard", "calibration")
	completeWords(cmd, "symptom", symptoms...)
	completeWords(cmd, "ask", questions...)
	completeWords(cmd, "format", "text", "json")
	completeWords(cmd, "colour", "auto", "always", "never")
	return cmd
}

func tryDrive(ctx context.Context, opt tryOptions, symptoms, questions []string, stdin io.Reader, stdout, stderr io.Writer) error {
	if opt.symptom != "" {
		if err := oneOf("symptom", opt.symptom, symptoms...); err != nil {
			return err
		}
	}
	for i, q := range opt.ask {
		opt.ask[i] = strings.ToLower(strings.TrimRight(strings.TrimSpace(q), "?"))
		if heard, ok := built.Heard(q); ok {
			opt.ask[i] = string(heard)
		}
		if err := oneOf("ask", opt.ask[i], questions...); err != nil {
			return err
		}
	}
	if opt.symptom != "" && len(opt.ask)+len(opt.fit) > 0 {
		return outcome{exitUsage, "--symptom and questions are answered one after the other: leave one of them out"}
	}
	if err := oneOf("format", opt.format, "text", "json"); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if err := opt.check(); err != nil {
		return err
	}
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
	var advice *built.Advice
	if opt.symptom != "" {
		if advice, err = built.Advise(ctx, b, built.Symptom(opt.symptom)); err != nil {
			return outcome{exitInput, b.Name + ": " + err.Error()}
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		if opt.format == "json" {
			return report.TryJSON(page, w, advice, replies)
		}
		how := report.TryOptions{Width: width(stdout), Colour: colour(opt.colour, stdout), All: opt.all}
		if len(replies) > 0 {
			return report.RepliesText(page, w, replies, how)
		}
		return report.TryText(page, w, advice, how)
	})
	if err != nil {
		return err
	}
	if err := opt.write(b, stderr); err != nil {
		return err
	}
	if advice == nil && len(replies) == 0 && w.Broken() > 0 {
		return outcome{code: exitNone}
	}
	return ended
}

// write writes the file that describes the drive, if one is asked for.
func (opt *tryOptions) write(b *built.Build, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	if err := writeFiles([]file{{opt.output, driveFile(b, &opt.model)}}, opt.force, "choose another name, or say --force"); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Wrote %s. Change it where the model is different, then: findrive try %s\n", opt.output, quoted(opt.output))
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
// mistakes of all at once.
func loadDrive(cupboardFile, calibrationFile, driveFile string, stdin io.Reader) (*built.Build, error) {
	cup, cupErr := loadCupboard(cupboardFile, stdin)
	cup, calibrationErr := calibrated(cup, calibrationFile, stdin)
	var b *built.Build
	name, data, err := read(driveFile, "built-in drive.toml", demo.Drive(), stdin)
	if err == nil {
		b, err = built.Read(name, data, cup)
	}
	if err := inFiles(cupErr, calibrationErr, err); err != nil {
		return nil, err
	}
	return b, nil
}
