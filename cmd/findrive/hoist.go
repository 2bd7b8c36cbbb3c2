package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"findrive/internal/demo"
	"findrive/internal/hoist"
	"findrive/internal/hoistdrawing"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/units"
)

type hoistOptions struct {
	said            said
	cupboard, brief string
	format          string
	keep, full      int
	groups          int // as changes have it
	why             bool
	colour          string
	output, paper   string
	draw            int
	force           bool
	changes         []change
}

// change is a key of the brief that a flag sets.
type change struct{ key, flag, text string }

// hoistChanges are the keys of the brief that have a flag of their own.
var hoistChanges = []struct{ key, help string }{
	{"mass", "`mass` of the load, instead of the brief's, for example 500g"},
	{"lift", "how far up, a `length`, for example 300mm"},
	{"beam", "`height` of the beam above where the load stands"},
	{"hook", "`height` of the load's hook above where the load stands"},
	{"pull", "greatest comfortable pull, a `force`, for example 5N"},
	{"way", "`way` the puller pulls: down, up, level or any"},
}

func hoistCommand() *cobra.Command {
	var opt hoistOptions
	var heaviest bool
	cmd := &cobra.Command{
		Use:   "hoist",
		Short: "find how pulley blocks lift a load",
		Long: `hoist looks at every way of threading the cupboard's blocks and cord, and ranks
those that lift the load with a comfortable pull. It says how much cord to cut,
how heavy a load can be, what a force meter will read, and how blocks are made.
With -o it also draws how the cord of one of them (--rank) is rove and full-size
templates of home-made blocks. Without -c and -b it uses the built-in example.

Exit codes: 0 every way was looked at, 3 mistakes in an input file, 4 no way is
possible (the account says why), 5 stopped early.`,
		Example: `  findrive hoist
  findrive hoist --mass 1kg --pull 5N
  findrive hoist --heaviest --pull 2N
  findrive hoist -o crane.pdf
  findrive hoist -c cupboard.toml -b hoist.toml --format csv > hoists.csv`,
		Args: alone("write findrive hoist -c cupboard.toml -b hoist.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said, opt.changes = said{cmd: cmd}, nil
			cmd.Flags().Visit(func(f *pflag.Flag) {
				for _, c := range hoistChanges {
					if f.Name == c.key {
						opt.changes = append(opt.changes, change{c.key, f.Name, f.Value.String()})
					}
				}
				if f.Name == "groups" {
					opt.changes = append(opt.changes, change{"sets", f.Name, f.Value.String()})
				}
			})
			if heaviest && cmd.Flags().Changed("mass") {
				return outcome{exitUsage, "--mass says how heavy the load is and --heaviest asks it: give one of the two"}
			}
			return runHoist(cmd.Context(), opt, heaviest, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.cupboard(&opt.cupboard)
	f.brief(&opt.brief)
	f.format(&opt.format)
	f.groups(&opt.groups)
	f.keep(&opt.keep, 8)
	f.full(&opt.full, 1)
	f.reasons(&opt.why)
	f.BoolVar(&heaviest, "heaviest", false, "ask how heavy a load can be, whatever mass the brief says")
	f.output(&opt.output, &opt.force, "a drawing (.pdf, .svg or .png)")
	f.rank(&opt.draw)
	f.paper(&opt.paper)
	f.colour(&opt.colour)
	for _, c := range hoistChanges {
		f.String(c.key, "", c.help)
	}
	completeWords(cmd, "way", "down", "up", "level", "any")
	return cmd
}

func runHoist(ctx context.Context, opt hoistOptions, heaviest bool, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, b, err := loadHoist(opt, stdin)
	if err != nil {
		return err
	}
	sayBuiltIn(stderr, false, theCupboard(opt.cupboard), theBrief(opt.brief))
	if heaviest {
		b.Mass = 0
	}
	if err := changed(b, opt.changes); err != nil {
		return err
	}
	if opt.cupboard != "" && opt.brief == "" {
		fmt.Fprintf(stderr, "Not said, and so the example's:\n  %s.\n", strings.Join(opt.unsaid(b), ", "))
	}
	result := hoist.Find(ctx, cup, b, hoist.Options{Keep: opt.keep})
	if opt.output != "" && opt.draw > len(result.Hoists) && len(result.Hoists) > 0 {
		return outcome{exitUsage, fmt.Sprintf("--rank %d: there are %d hoists to draw", opt.draw, len(result.Hoists))}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.HoistJSON(page, result)
		case "csv":
			return report.HoistCSV(page, result)
		}
		full := opt.full
		if full == 0 {
			full = -1
		}
		err := report.HoistText(page, result, report.HoistOptions{Width: width(stdout), Full: full, Why: opt.why, Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(result, heaviest), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	if err := drawHoist(opt, result, stderr); err != nil {
		return err
	}
	switch result.Status {
	case hoist.NonePossible:
		return outcome{code: exitNone}
	case hoist.StoppedEarly:
		return outcome{code: exitStopped}
	}
	return nil
}

// unsaid is what a brief says that no flag does, in words.
func (opt *hoistOptions) unsaid(b *hoist.Brief) []string {
	said := func(key string) bool {
		return slices.ContainsFunc(opt.changes, func(c change) bool { return c.key == key })
	}
	var out []string
	if b.Mass > 0 && !said("mass") {
		out = append(out, "mass "+units.Masses.Format(b.Mass))
	}
	if !said("lift") {
		out = append(out, "lift "+units.Lengths.Format(b.Lift))
	}
	if !said("beam") {
		out = append(out, "beam "+units.Lengths.Format(b.Beam))
	}
	if !said("pull") {
		out = append(out, "pull up to "+units.Forces.Format(b.Pull))
	}
	if !said("way") {
		out = append(out, "way "+string(b.Way))
	}
	if !said("sets") {
		out = append(out, fmt.Sprintf("%d hoists", b.Sets))
	}
	return out
}

// next is the command to write after this one.
func (opt *hoistOptions) next(r *hoist.Result, heaviest bool) string {
	s := opt.said
	switch {
	case len(r.Hoists) > 0 && opt.output == "":
		return s.again("-o", unused("hoist.pdf"))
	case len(r.Eases) > 0:
		return opt.eased(r.Eases[0])
	case r.Status == hoist.NonePossible:
		return s.then("ideas")
	case !heaviest:
		return s.without("mass", "output", "rank").again("--heaviest")
	case len(r.Hoists) == 0:
		return s.then("ideas")
	}
	return s.without("output", "rank").again("--why")
}

// eased is the command with a change that lets something be rove.
func (opt *hoistOptions) eased(e hoist.Ease) string {
	s := opt.said.without("output", "rank")
	var more []string
	if e.Load > 0 {
		s = s.without("mass")
		more = append(more, "--heaviest")
	}
	if e.Sets > 0 {
		more = append(more, "--groups", strconv.Itoa(e.Sets))
	}
	if e.Way != "" {
		more = append(more, "--way", string(e.Way))
	}
	if e.Pull > 0 {
		more = append(more, "--pull", strings.ReplaceAll(units.Forces.Format(e.Pull), " ", ""))
	}
	return s.again(more...)
}

// drawHoist draws if a file is asked for, and says on stderr what was written, so
// that the answer stays as it is.
func drawHoist(opt hoistOptions, result *hoist.Result, stderr io.Writer) error {
	if opt.output == "" {
		return nil
	}
	d := hoistdrawing.Draw(result, opt.draw, paperSizes[opt.paper], report.HoistPrint(result, opt.draw))
	if len(d.Pages) == 0 {
		fmt.Fprintf(stderr, "Nothing to draw: %q is not written.\n", opt.output)
		return nil
	}
	names, err := writeDrawing(opt.output, d, opt.force)
	if err != nil {
		return err
	}
	fmt.Fprintf(stderr, "Drew %s.\n", shown(names...))
	return nil
}

func (opt *hoistOptions) check() error {
	if err := checkDrawingName("output", opt.output); err != nil {
		return err
	}
	if err := oneOf("paper", opt.paper, "a4", "letter"); err != nil {
		return err
	}
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.keep < 1 || opt.keep > 1000:
		return outcome{exitUsage, "--keep must be from 1 to 1000"}
	case opt.draw < 1:
		return outcome{exitUsage, "--rank must be at least 1"}
	case opt.full < 0:
		return outcome{exitUsage, "--full must not be negative"}
	case opt.cupboard == "-" && opt.brief == "-":
		return outcome{exitUsage, "only one of --cupboard and --brief can come from standard input"}
	}
	return nil
}

// loadHoist reads both files and reports the mistakes of both at once.
func loadHoist(opt hoistOptions, stdin io.Reader) (*parts.Cupboard, *hoist.Brief, error) {
	cup, cupErr := loadCupboard(opt.cupboard, stdin)
	var b *hoist.Brief
	name, data, err := read(opt.brief, "built-in hoist.toml", demo.Hoist(), stdin)
	if err == nil {
		b, err = hoist.ReadBrief(name, data, cup)
	}
	if cupErr == nil {
		cupErr = hoist.CheckCupboard(cup)
	}
	if err := inFiles(cupErr, err); err != nil {
		return nil, nil, err
	}
	return cup.InStock(), b, nil
}

// changed sets what the flags say, and reports every mistake at once.
func changed(b *hoist.Brief, changes []change) error {
	var mistakes []string
	for _, c := range changes {
		if err := b.Change(c.key, c.text); err != nil {
			mistakes = append(mistakes, fmt.Sprintf("--%s: %v", c.flag, err))
		}
	}
	if len(mistakes) == 0 {
		if err := b.Check(); err != nil {
			mistakes = append(mistakes, err.Error())
		}
	}
	if len(mistakes) > 0 {
		return outcome{exitUsage, strings.Join(mistakes, "\n")}
	}
	return nil
}
