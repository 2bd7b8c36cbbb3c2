package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/certificate"
	"findrive/internal/cutting"
	"findrive/internal/report"
	"findrive/internal/sheet"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

type sheetOptions struct {
	said                  said
	cupboard, brief, from string
	plan                  string
	calibration           string
	rank, sets            int
	formats               []string
	paper, dir            string
	all, force            bool
	kerf, strip, date     string
	offcuts               []string
	threads               int
	timeLimit             time.Duration
}

// sheetFormats are the endings of files a page can be written as.
var sheetFormats = []string{"pdf", "html", "svg", "png", "csv"}

func sheetCommand() *cobra.Command {
	var opt sheetOptions
	cmd := &cobra.Command{
		Use:   "sheet [PAGE...]",
		Short: "write the paper that a drive is built from",
		Long: `sheet writes what people need who build one of the drives that propose lists:

  build      for the adult: parts, holes, steps, faults
  drawing    side view and view along the axles
  template   drilling template in true size, for each side of the frame
  steps      a picture for each step, and every rod in true size
  pupils     page for the children: guess, do the sum, build, test, tell why
  answers    the answers to it
  kit        kit list for all trays, with columns to tick, and cutting list
  discs      discs to cut, in true size, where pulleys are to be made

Without names it writes all of them. The drive comes from a cupboard and a
brief, by its rank, or from a list saved with propose -o, swap -o or challenge
-o.

A PDF or a web page is one file; svg and png are one file a sheet of paper. The
kit list can also be csv, for a spreadsheet (--as pdf,csv). No file is written
over without --force, and either all files are written or none.

Exit codes: 0 written, 1 a file could not be written, 2 wrong use, 3 mistakes in
an input file, 4 no drive of that rank, 5 stopped before it was proved.`,
		Example: `  findrive sheet
  findrive sheet build template --rank 2 --paper letter
  findrive sheet -c cupboard.toml -b brief.toml --all -o carousel
  findrive sheet --plan plan.json -o paper
  findrive sheet kit --from drives.json --as pdf,csv --offcut dowel-5=180mm`,
		ValidArgs: sheet.AllNames(),
		Args: func(_ *cobra.Command, args []string) error {
			for _, a := range args {
				if !slices.Contains(sheet.AllNames(), a) {
					return outcome{exitUsage, fmt.Sprintf("there is no page %q%s\nhint: the pages are %s", a, meant(a, "", sheet.AllNames()), strings.Join(sheet.AllNames(), ", "))}
				}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.said = said{cmd: cmd, args: args}
			return runSheet(cmd.Context(), args, opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.inputs(&opt.cupboard, &opt.calibration, &opt.brief)
	f.list(&opt.from, &opt.rank)
	f.StringVar(&opt.plan, "plan", "", "every drive of a plan that class, shop or term wrote, a JSON `file`")
	f.groups(&opt.sets)
	f.as(&opt.formats, sheetFormats...)
	f.BoolVar(&opt.all, "all", false, "every page as every kind of file")
	f.folder(&opt.dir, &opt.force, ".", "the pages")
	f.paper(&opt.paper)
	f.StringVar(&opt.kerf, "kerf", fmt.Sprintf("%gmm", float64(cutting.Kerf)), "what the saw takes at each cut, a `length`")
	f.StringVar(&opt.strip, "strip-length", "600mm", "`length` of one piece of square strip")
	f.StringArrayVar(&opt.offcuts, "offcut", nil, "an offcut to use up, as `name=length` of the rod, or strip=length"+moreThanOnce)
	f.date(&opt.date)
	f.search(&opt.threads, &opt.timeLimit, time.Minute)
	_ = cmd.RegisterFlagCompletionFunc("plan", completeJSON)
	return cmd
}

func runSheet(ctx context.Context, pages []string, opt sheetOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	how, err := opt.check()
	if err != nil {
		return err
	}
	formats := opt.formats
	if opt.all {
		formats = sheetFormats
	}
	if opt.plan != "" {
		return runPlanSheet(pages, opt, how, stdin, stdout, stderr)
	}
	c, ended, err := opt.certificate(ctx, stdin, stderr)
	if err != nil {
		return err
	}
	if err := knownOffcuts(c, how.Offcuts); err != nil {
		return err
	}
	set, err := sheet.New(c, opt.rank, how)
	if err != nil {
		if ended != nil && len(c.Proposals) == 0 {
			return ended
		}
		return outcome{exitNone, err.Error() + "\nhint: findrive propose lists the drives with their numbers"}
	}
	if len(pages) == 0 {
		pages = set.Pages()
	}
	if slices.Contains(pages, sheet.DiscsPage) && !slices.Contains(set.Pages(), sheet.DiscsPage) {
		return outcome{exitNone, fmt.Sprintf("drive %d has no pulley that is to be made, and so no discs\nhint: discs = true in [making] of the brief lets pulleys be made", opt.rank)}
	}
	files, err := sheetFiles(set, sheet.Slug(c.Brief.Name)+"-"+strconv.Itoa(opt.rank), opt, pages, formats)
	if err != nil {
		return err
	}
	if err := writeSheets(files, opt, stdout); err != nil {
		return err
	}
	// Standard output is the names of the files.
	if err := report.Next(stderr, opt.next(files), width(stderr), colour("auto", stderr)); err != nil {
		return err
	}
	return ended
}

// next is the command to write after this one: what was written to be filled in is read
// again, and all else is told.
func (opt *sheetOptions) next(files []file) string {
	for _, f := range files {
		if filepath.Ext(f.path) == ".csv" {
			return opt.said.then("stock back", f.path)
		}
	}
	if opt.rank > 1 {
		return opt.said.then("explain", "--rank", strconv.Itoa(opt.rank))
	}
	return opt.said.then("explain")
}

func (opt *sheetOptions) check() (sheet.Options, error) {
	how := sheet.Options{Sets: opt.sets, Date: opt.date}
	if err := checkDate(opt.date); err != nil {
		return how, err
	}
	for _, f := range opt.formats {
		if err := oneOf("as", f, sheetFormats...); err != nil {
			return how, err
		}
	}
	if err := oneOf("paper", opt.paper, "a4", "letter"); err != nil {
		return how, err
	}
	switch {
	case opt.from != "" && (opt.cupboard != "" || opt.brief != ""):
		return how, outcome{exitUsage, "--from has its own cupboard and brief in it: leave out -c and -b"}
	case opt.from == "-" && opt.calibration == "-":
		return how, outcome{exitUsage, "only one of --from and --calibration can come from standard input"}
	case opt.plan != "" && (opt.from != "" || opt.cupboard != "" || opt.brief != "" || opt.calibration != "" || opt.sets > 0):
		return how, outcome{exitUsage, "--plan has its drives, cupboard and groups in it: leave out --from, -c, -b, --calibration and --groups"}
	case opt.rank < 1 || opt.rank > 1000:
		return how, outcome{exitUsage, "--rank must be from 1 to 1000"}
	case opt.sets < 0 || opt.sets > 100:
		return how, outcome{exitUsage, "--groups must be from 1 to 100"}
	case opt.threads < 1 || opt.threads > 1024:
		return how, outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return how, outcome{exitUsage, "--time-limit must not be negative"}
	case oneStdin(opt.cupboard, opt.calibration, opt.brief):
		return how, outcome{exitUsage, "only one of --cupboard, --brief and --calibration can come from standard input"}
	}
	var err error
	if how.Kerf, err = lengthFlag("kerf", opt.kerf, 0, 10); err != nil {
		return how, err
	}
	if how.StripLength, err = lengthFlag("strip-length", opt.strip, 50, 5000); err != nil {
		return how, err
	}
	for _, o := range opt.offcuts {
		name, length, ok := strings.Cut(o, "=")
		if !ok || name == "" {
			return how, outcome{exitUsage, fmt.Sprintf("--offcut %q does not say of what and how long\nhint: write it like --offcut dowel-5=180mm", o)}
		}
		l, err := lengthFlag("offcut", length, 1, 5000)
		if err != nil {
			return how, err
		}
		how.Offcuts = append(how.Offcuts, sheet.Offcut{Of: name, Length: l, Count: 1})
	}
	return how, nil
}

// knownOffcuts refuses offcuts of what none of the drives is cut from.
func knownOffcuts(c *certificate.Certificate, list []sheet.Offcut) error {
	known := []string{"strip"}
	for i := range c.Proposals {
		for _, a := range c.Proposals[i].Axles {
			if !slices.Contains(known, a.Stock) {
				known = append(known, a.Stock)
			}
		}
	}
	for _, o := range list {
		if len(c.Proposals) == 0 || slices.Contains(known, o.Of) {
			continue
		}
		hint := "it can be " + strings.Join(known, ", ")
		if near := tomlfile.Nearest(o.Of, known); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return outcome{exitUsage, fmt.Sprintf("--offcut %q: nothing is cut from that\nhint: %s", o.Of, hint)}
	}
	return nil
}

func lengthFlag(flag, text string, least, most units.Millimetres) (float64, error) {
	l, err := units.Lengths.Parse(text)
	if err != nil {
		return 0, outcome{exitUsage, fmt.Sprintf("--%s: %v", flag, err)}
	}
	if l < least || l > most {
		return 0, outcome{exitUsage, fmt.Sprintf("--%s must be from %g mm to %g mm", flag, float64(least), float64(most))}
	}
	return float64(l), nil
}

// certificate is the saved one, or that of a search. ended is how the search
// ended, if it was not with a proof.
func (opt *sheetOptions) certificate(ctx context.Context, stdin io.Reader, stderr io.Writer) (c *certificate.Certificate, ended, err error) {
	c, ended, err = proposals{opt.cupboard, opt.calibration, opt.brief, opt.from, opt.rank, opt.threads, opt.timeLimit}.certificate(ctx, stdin, stderr)
	if err != nil || opt.calibration == "" || opt.calibration == "-" && opt.from == "" {
		return c, ended, err
	}
	c, err = rememberCount(c, opt.rank, opt.calibration, stdin)
	return c, ended, err
}

// sheetFiles makes the files of all pages in all formats that they can be had in.
func sheetFiles(set *sheet.Set, name string, opt sheetOptions, pages, formats []string) ([]file, error) {
	var files []file
	failed := func(page string, err error) error {
		return outcome{exitFailure, fmt.Sprintf("cannot make the page %s: %v", page, err)}
	}
	for _, page := range pages {
		base := filepath.Join(opt.dir, name+"-"+page)
		for _, format := range formats {
			var b bytes.Buffer
			switch format {
			case "csv":
				if page != sheet.KitPage {
					continue
				}
				if err := set.KitCSV(&b); err != nil {
					return nil, failed(page, err)
				}
				files = append(files, file{base + ".csv", b.Bytes()})
			case "html":
				p, ok, err := set.Page(page)
				if !ok {
					continue
				}
				if err == nil {
					p.Print = paperSizes[opt.paper]
					err = p.HTML(&b)
				}
				if err != nil {
					return nil, failed(page, err)
				}
				files = append(files, file{base + ".html", b.Bytes()})
			default:
				d, err := set.Paper(page, paperSizes[opt.paper])
				if err != nil {
					return nil, failed(page, err)
				}
				more, err := drawingFiles(base+"."+format, d)
				if err != nil {
					return nil, failed(page, err)
				}
				files = append(files, more...)
			}
		}
	}
	if len(files) == 0 {
		return nil, outcome{exitUsage, fmt.Sprintf("%s can not be had as %s\nhint: only the kit list can be csv, and the drilling template and the discs can not be html, for they must be true to size", strings.Join(pages, ", "), strings.Join(formats, ", "))}
	}
	return files, nil
}
