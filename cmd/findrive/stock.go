package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"findrive/internal/report"
	"findrive/internal/stocktake"
	"findrive/internal/units"
)

type stockOptions struct {
	said                                         said
	output, bore, freeSpeed, date, assume, count string
	lots                                         int
	addTubs, force                               bool
	format, colour                               string
}

func stockCommand() *cobra.Command {
	var opt stockOptions
	cmd := &cobra.Command{
		Use:   "stock LIST ...",
		Short: "a cupboard from spreadsheets, count sheets, kits checked in",
		Long: `stock reads the spreadsheets in which you keep your stock (XLSX, ODS or CSV, all
their sheets), says what became of every row (used, used with something assumed,
or not used, and why), and with -o writes one cupboard file of them all, and the
same report beside it. Gaps, mixed units, decimal commas, titles, totals and
rough counts such as "10ish" are dealt with; nothing is guessed in silence, and
what is not plain is asked about first. Your own files are never changed, and no
file is written over without --force.

--assume usual takes what such lists never say: a bore that goes on the dowel of
the list (5 mm without one; 2 mm of motor pulleys), dowel of 5 mm in pieces of
300 mm, motors of 3 V with 2000 rpm free for each volt, holders for two cells,
bands 1.5 mm wide, cord of 1 mm and 2 m. Each is marked in the cupboard.

Exit codes: 0 done; 1 a file could not be written; 2 wrong use; 3 a list cannot
be read, or no row can be used.`,
		Example: `  findrive stock our-stock.xlsx
  findrive stock our-stock.xlsx --assume usual -o cupboard.toml
  findrive stock pulleys.csv the-rest.ods --bore 5mm --lots 20 -o cupboard.toml
  findrive stock blank -o count-sheet.pdf
  findrive stock back kit.csv -c cupboard.toml -o cupboard-after.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || slices.Contains(args, "") {
				return outcome{exitUsage, "stock needs a list\nhint: write for example findrive stock our-stock.xlsx; findrive stock blank prints a sheet to count on"}
			}
			if oneStdin(args...) {
				return outcome{exitUsage, "only one list can come from standard input"}
			}
			return nil
		},
		ValidArgsFunction: completeLists,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runStock(args, opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.output(&opt.output, &opt.force, "the cupboard (.toml), and the report beside it,")
	f.StringVar(&opt.assume, "assume", "", "take what is `usual` for what lists never say; each is marked")
	f.StringVar(&opt.count, "count", "", "the `column` that is the count, by its letter or its heading")
	f.StringVar(&opt.bore, "bore", "", "take this `length` as the bore of pulleys, wheels and drums without one")
	f.StringVar(&opt.freeSpeed, "free-speed", "", "take this `speed` for motors without one, such as 6000rpm")
	f.IntVar(&opt.lots, "lots", 0, "take this `number` where the list says lots, plenty or a bag full")
	f.BoolVar(&opt.addTubs, "add-tubs", false, "add up rows of the same tub; else the smaller count is taken")
	f.date(&opt.date)
	f.format(&opt.format)
	f.colour(&opt.colour)
	completeFiles(cmd, "output")
	completeWords(cmd, "assume", "usual")
	cmd.AddCommand(blankCommand(), backCommand())
	return cmd
}

// completeLists offers spreadsheets.
func completeLists(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"xlsx", "ods", "csv", "tsv", "txt"}, cobra.ShellCompDirectiveFilterFileExt
}

func runStock(lists []string, opt stockOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	how, err := opt.check()
	if err != nil {
		return err
	}
	var files []stocktake.Sheet
	for _, list := range lists {
		name, data, err := readList(list, stdin)
		if err != nil {
			return inFiles(err)
		}
		files = append(files, stocktake.Sheet{Name: filepath.Base(name), Data: data})
	}
	result, err := stocktake.ReadAll(files, how)
	if err != nil {
		return outcome{exitInput, err.Error()}
	}
	// Files first: a page that is cut short by its reader must not lose them.
	if opt.output != "" && result.Cupboard != nil {
		var page bytes.Buffer
		if err := report.StockText(&page, result, report.StockOptions{Width: usual}); err != nil {
			return outcome{exitFailure, err.Error()}
		}
		if err := writeFiles([]file{{opt.output, result.Cupboard}, {reportName(opt.output), page.Bytes()}}, opt.force, anotherName, lists...); err != nil {
			return err
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.StockJSON(page, result)
		case "csv":
			return report.StockCSV(page, result)
		}
		return report.StockText(page, result, report.StockOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
	})
	if err == nil && len(result.Asks) > 0 {
		words := "1 question is open: see"
		if len(result.Asks) > 1 {
			words = fmt.Sprintf("%d questions are open: see", len(result.Asks))
		}
		fmt.Fprintln(stderr, words, "the top of the report.")
	}
	switch {
	case err != nil:
		return err
	case result.Cupboard == nil && opt.output != "":
		return outcome{exitInput, "no row can be used, so no cupboard is written"}
	case result.Cupboard == nil:
		err = outcome{code: exitInput}
	case opt.output != "" && len(result.Lacks)+len(result.Misfits) > 0:
		fmt.Fprintf(stderr, "Wrote %s and %s. %s\n", shown(opt.output), shown(reportName(opt.output)), report.StockLacks(result))
	case opt.output != "":
		fmt.Fprintf(stderr, "Wrote %s and %s.\n", shown(opt.output), shown(reportName(opt.output)))
	default:
		fmt.Fprintln(stderr, "Nothing is written yet: say -o cupboard.toml for a cupboard file.")
	}
	if opt.format != "text" {
		return err
	}
	// Standard output is the report, to the letter as it is written beside the cupboard.
	return cmp.Or(report.Next(stderr, opt.next(result), width(stderr), colour(opt.colour, stderr)), err)
}

// next is the command to write after this one.
func (opt *stockOptions) next(r *stocktake.Result) string {
	lacking := len(r.Lacks)+len(r.Misfits) > 0
	switch {
	case r.Cupboard == nil:
		return "findrive stock blank -o " + unused("count-sheet.pdf")
	case lacking && opt.assume == "":
		return opt.said.again("--assume", "usual", "-o", unused(cmp.Or(opt.output, "cupboard.toml")))
	case opt.output == "":
		return opt.said.again("-o", unused("cupboard.toml"))
	case lacking:
		return "findrive stock blank -c " + quoted(opt.output) + " -o " + unused("count-sheet.pdf")
	}
	return "findrive ideas -c " + quoted(opt.output)
}

// reportName is the name of the report that goes with a file.
func reportName(output string) string {
	return strings.TrimSuffix(output, filepath.Ext(output)) + "-report.txt"
}

func (opt *stockOptions) check() (stocktake.Options, error) {
	how := stocktake.Options{Lots: opt.lots, AddTubs: opt.addTubs, Dated: opt.date, Usual: opt.assume == "usual", CountColumn: opt.count}
	if err := oneOf("format", opt.format, formats...); err != nil {
		return how, err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return how, err
	}
	if err := checkDate(opt.date); err != nil {
		return how, err
	}
	switch {
	case opt.assume != "" && opt.assume != "usual":
		return how, outcome{exitUsage, fmt.Sprintf("--assume %s is not known: it can be usual\nhint: for one thing alone there are --bore, --free-speed and --lots", opt.assume)}
	case opt.lots < 0 || opt.lots > 10_000:
		return how, outcome{exitUsage, "--lots must be from 1 to 10000"}
	case opt.output != "" && filepath.Ext(opt.output) != ".toml":
		return how, outcome{exitUsage, fmt.Sprintf("-o %q: a cupboard is a TOML file\nhint: write for example -o cupboard.toml", opt.output)}
	}
	if opt.bore != "" {
		bore, err := lengthFlag("bore", opt.bore, 0.5, 100)
		if err != nil {
			return how, err
		}
		how.Bore = units.Millimetres(bore)
	}
	if opt.freeSpeed != "" {
		speed, err := units.Turnings.Parse(opt.freeSpeed)
		if err != nil {
			return how, outcome{exitUsage, "--free-speed: " + err.Error()}
		}
		if speed < 10 || speed > 50_000 {
			return how, outcome{exitUsage, "--free-speed must be from 10 rpm to 50000 rpm"}
		}
		how.FreeSpeed = speed
	}
	return how, nil
}

// checkDate refuses what would not fit on a sheet.
func checkDate(date string) error {
	if utf8.RuneCountInString(date) > 40 || strings.ContainsFunc(date, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return outcome{exitUsage, "--date must be at most 40 letters on one line, such as \"3 May 2027\""}
	}
	return nil
}

// readList is the bytes of a spreadsheet, one more than may be read at most, so that
// its reader can say that it is too large.
func readList(list string, stdin io.Reader) (name string, data []byte, err error) {
	if data, err = readAtMost(list, stocktake.MaxWorkbook, "stock.csv", stdin); err != nil {
		return "", nil, err
	}
	if list == "-" {
		list = "standard input"
	}
	return list, data, nil
}
