package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/report"
	"findrive/internal/sheet"
	"findrive/internal/stocktake"
)

type blankOptions struct {
	said                  said
	cupboard, date, paper string
	outputs               []string
	force                 bool
}

func blankCommand() *cobra.Command {
	var opt blankOptions
	cmd := &cobra.Command{
		Use:   "blank",
		Short: "a count sheet to print or to fill in",
		Long: `blank makes a sheet to count the stock on. With a cupboard it lists its parts by
place, to be filled in and given to findrive stock back; without one it is
blank, to be filled in and given to findrive stock. The ending of the file says
what it is: csv for a spreadsheet, pdf, html, svg or png for paper. Without -o
the CSV is printed.

Exit codes: 0 done; 1 a file could not be written; 2 wrong use; 3 mistakes in
the cupboard.`,
		Example: `  findrive stock blank -o count.pdf
  findrive stock blank -c cupboard.toml -o count.csv --date "3 May 2027"`,
		Args: alone("write for example findrive stock blank -c cupboard.toml -o count.pdf"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			return runBlank(opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.cupboard(&opt.cupboard)
	f.outputs(&opt.outputs, &opt.force, "the sheet (.csv, .pdf, .html, .svg or .png)")
	f.date(&opt.date)
	f.paper(&opt.paper)
	return cmd
}

func runBlank(opt blankOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := oneOf("paper", opt.paper, "a4", "letter"); err != nil {
		return err
	}
	if err := checkDate(opt.date); err != nil {
		return err
	}
	for _, path := range opt.outputs {
		switch strings.ToLower(filepath.Ext(path)) {
		case ".csv", ".pdf", ".html", ".svg", ".png":
		default:
			return outcome{exitUsage, fmt.Sprintf("-o %q does not end in .csv, .pdf, .html, .svg or .png, which says what it is to be", path)}
		}
	}
	var cup *parts.Cupboard
	if opt.cupboard != "" {
		var err error
		if cup, err = loadCupboard(opt.cupboard, stdin); err != nil {
			return inFiles(err)
		}
	}
	if len(opt.outputs) == 0 {
		return answer(stdout, func(page io.Writer) error { return stocktake.CountCSV(page, cup) })
	}
	page := sheet.Count(cup, opt.date)
	var files []file
	for _, path := range opt.outputs {
		var b bytes.Buffer
		var err error
		switch strings.ToLower(filepath.Ext(path)) {
		case ".csv":
			err = stocktake.CountCSV(&b, cup)
			files = append(files, file{path, b.Bytes()})
		case ".html":
			page.Print = paperSizes[opt.paper]
			err = page.HTML(&b)
			files = append(files, file{path, b.Bytes()})
		default:
			var more []file
			more, err = drawingFiles(path, page.Paper(paperSizes[opt.paper]))
			files = append(files, more...)
		}
		if err != nil {
			return outcome{exitFailure, fmt.Sprintf("cannot make %q: %v", path, err)}
		}
	}
	if err := writeFiles(files, opt.force, anotherName, opt.cupboard); err != nil {
		return err
	}
	err := answer(stdout, func(page io.Writer) error {
		for _, f := range files {
			if _, err := fmt.Fprintln(page, f.path); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	// Standard output is the names of the files.
	return report.Next(stderr, opt.next(), width(stderr), colour("auto", stderr))
}

// next is the command to write after this one: a sheet for a spreadsheet is read when it is
// filled in, and what is counted on paper is typed into one.
func (opt *blankOptions) next() string {
	i := slices.IndexFunc(opt.outputs, func(path string) bool { return strings.ToLower(filepath.Ext(path)) == ".csv" })
	switch {
	case i < 0:
		return opt.said.again("-o", unused(strings.TrimSuffix(opt.outputs[0], filepath.Ext(opt.outputs[0]))+".csv"))
	case opt.cupboard != "":
		return opt.said.then("stock back", opt.outputs[i])
	}
	return opt.said.then("stock", opt.outputs[i])
}

type backOptions struct {
	said                                   said
	cupboard, output, date, format, colour string
	force                                  bool
}

func backCommand() *cobra.Command {
	var opt backOptions
	cmd := &cobra.Command{
		Use:   "back KIT.csv [COUNT.csv]",
		Short: "check a kit back in: what is missing or damaged, and what is left",
		Long: `back compares what came back with the kit list, the CSV that findrive sheet
writes: fill in its columns picked and returned (write 7, or 7 (1 broken)), or
count on a sheet of your own with the columns part and returned and give both.
It says what is missing, damaged, and not counted. With -c, the cupboard as it
was before the kit was taken out, and -o it writes a new cupboard file with the
counts of today; your own files are not changed. A filled-in count sheet of
findrive stock blank -c is compared with the whole cupboard in the same way.

Exit codes: 0 done; 1 a file could not be written; 2 wrong use; 3 mistakes in an
input file.`,
		Example: `  findrive stock back carousel-1-kit.csv
  findrive stock back carousel-1-kit.csv -c cupboard.toml -o cupboard-july.toml
  findrive stock back count.csv -c cupboard.toml -o cupboard-july.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 || len(args) == 2 {
				return nil
			}
			return outcome{exitUsage, "back needs the kit list that was filled in\nhint: write for example findrive stock back carousel-1-kit.csv -c cupboard.toml"}
		},
		ValidArgsFunction: completeLists,
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runBack(args, opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.cupboard(&opt.cupboard)
	f.output(&opt.output, &opt.force, "the cupboard with the counts of today (.toml)")
	f.date(&opt.date)
	f.format(&opt.format)
	f.colour(&opt.colour)
	completeFiles(cmd, "output")
	return cmd
}

func runBack(lists []string, opt backOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(lists); err != nil {
		return err
	}
	var sheets []stocktake.Sheet
	for _, list := range lists {
		name, data, err := readList(list, stdin)
		if err != nil {
			return inFiles(err)
		}
		of := stocktake.Sheet{Name: filepath.Base(name), Data: data}
		if plan.Is(data) {
			if len(lists) < 2 {
				return outcome{exitUsage, "a plan says what was taken out: give the count of what came back too, or the kit list of the plan, filled in\nhint: write for example findrive stock back plan.json count.csv -c cupboard.toml"}
			}
			if of, err = kitOfPlan(of.Name, data); err != nil {
				return inFiles(err)
			}
		}
		sheets = append(sheets, of)
	}
	var counted, cupboard *stocktake.Sheet
	if len(sheets) > 1 {
		counted = &sheets[1]
	}
	if opt.cupboard != "" {
		name, data, err := read(opt.cupboard, "built-in cupboard.toml", nil, stdin)
		if err != nil {
			return inFiles(err)
		}
		cupboard = &stocktake.Sheet{Name: name, Data: data}
	}
	result, err := stocktake.Back(sheets[0], counted, cupboard, opt.date)
	if err != nil {
		return inFiles(err)
	}
	if opt.output != "" && result.Cupboard != nil {
		if err := writeFiles([]file{{opt.output, result.Cupboard}}, opt.force, anotherName, append(lists, opt.cupboard)...); err != nil {
			return err
		}
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.ReturnJSON(page, result)
		case "csv":
			return report.ReturnCSV(page, result)
		}
		err := report.ReturnText(page, result, report.StockOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(result), opt.colour, stdout)
	})
	switch {
	case err != nil:
		return err
	case opt.output != "" && result.Cupboard == nil:
		fmt.Fprintf(stderr, "No count changes, so %q is not written.\n", opt.output)
	case opt.output != "":
		fmt.Fprintf(stderr, "Wrote %s.\n", shown(opt.output))
	}
	return nil
}

// next is the command to write after this one. The cupboard that the kit is of is not known
// if it is not named; it may be the usual one.
func (opt *backOptions) next(r *stocktake.Return) string {
	switch {
	case opt.cupboard == "" && isFile("cupboard.toml"):
		return opt.said.again("-c", "cupboard.toml", "-o", unused("cupboard-after.toml"))
	case opt.cupboard == "":
		return "findrive stock blank -o " + unused("count-sheet.pdf")
	case !slices.ContainsFunc(r.Lines, func(l stocktake.Line) bool { return l.Counted }):
		return opt.said.then("stock blank", "-o", unused("count-sheet.pdf")) // it is yet to be counted
	case r.Cupboard == nil:
		return opt.said.then("ideas")
	case opt.output == "":
		return opt.said.again("-o", unused("cupboard-after.toml"))
	}
	return "findrive ideas -c " + quoted(opt.output)
}

func (opt *backOptions) check(lists []string) error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	if err := checkDate(opt.date); err != nil {
		return err
	}
	switch {
	case opt.output != "" && opt.cupboard == "":
		return outcome{exitUsage, "-o writes a cupboard with the counts of today: say with -c what it was before"}
	case opt.output != "" && filepath.Ext(opt.output) != ".toml":
		return outcome{exitUsage, fmt.Sprintf("-o %q: a cupboard is a TOML file\nhint: write for example -o cupboard-after.toml", opt.output)}
	case oneStdin(append(lists, opt.cupboard)...):
		return outcome{exitUsage, "only one of the lists and the cupboard can come from standard input"}
	}
	return nil
}
