package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"findrive/internal/brief"
	"findrive/internal/ideas"
	"findrive/internal/report"
)

type ideasOptions struct {
	said                                  said
	cupboard, calibration, library, write string
	format                                string
	sets, threads                         int
	timeLimit                             time.Duration
	colour                                string
}

func ideasCommand() *cobra.Command {
	var opt ideasOptions
	cmd := &cobra.Command{
		Use:   "ideas",
		Short: "which models of a library the cupboard can make now",
		Long: `ideas tries every brief of a library with the cupboard and prints, best first,
which models can be built now, the best drive for each, how many sets of it the
stock makes, and what is missing for the others. Without --library it tries the
built-in models; --write copies those into a folder, to be changed.

--time-limit is for one search: a model takes it once for its best drive, and
once more if something is missing. What was stopped by it is said to be so.

Exit codes: 0 all proved and some model can be built, 3 mistakes in an input
file, 4 none can be built, 5 something was stopped before it was proved.`,
		Example: `  findrive ideas
  findrive ideas -c cupboard.toml --groups 6
  findrive ideas --write my-ideas
  findrive ideas -c cupboard.toml --library my-ideas`,
		Args: alone("write findrive ideas -c cupboard.toml"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			opt.said = said{cmd: cmd}
			if opt.write != "" {
				return writeLibrary(opt.write, cmd.OutOrStdout())
			}
			return runIdeas(cmd.Context(), opt, cmd.InOrStdin(), cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	f := flagsOf(cmd)
	f.cupboard(&opt.cupboard)
	f.calibration(&opt.calibration)
	f.StringVar(&opt.library, "library", "", "a `folder` of briefs to try instead of the built-in ones")
	f.write(&opt.write)
	f.format(&opt.format)
	f.groups(&opt.sets)
	f.search(&opt.threads, &opt.timeLimit, 5*time.Second)
	f.colour(&opt.colour)
	completeFolders(cmd, "library")
	return cmd
}

func runIdeas(ctx context.Context, opt ideasOptions, stdin io.Reader, stdout, stderr io.Writer) error {
	if err := opt.check(); err != nil {
		return err
	}
	cup, cupErr := loadCupboard(opt.cupboard, stdin)
	cup, calibrationErr := calibrated(cup, opt.calibration, stdin)
	files, err := libraryFiles(opt.library)
	wrong := []error{cupErr, calibrationErr, err}
	tried, mistakes := ideas.Read(files)
	if err := inFiles(append(wrong, mistakes...)...); err != nil {
		return err
	}
	sayBuiltIn(stderr, opt.calibration != "", theCupboard(opt.cupboard), input{"briefs", "--library", opt.library})
	bar := newProgress(stderr)
	result, err := ideas.Find(ctx, cup, tried, ideas.Options{Sets: opt.sets, Threads: opt.threads, Limit: within(opt.timeLimit), Watch: bar.watch})
	bar.done()
	if err != nil {
		return contradiction(err)
	}
	err = answer(stdout, func(page io.Writer) error {
		switch opt.format {
		case "json":
			return report.IdeasJSON(page, result)
		case "csv":
			return report.IdeasCSV(page, result)
		}
		err := report.IdeasText(page, result, report.IdeasOptions{Width: width(stdout), Colour: colour(opt.colour, stdout)})
		return thenNext(page, err, opt.next(result), opt.colour, stdout)
	})
	if err != nil {
		return err
	}
	switch {
	case result.Stopped:
		return outcome{code: exitStopped}
	case result.Count(ideas.AllSets)+result.Count(ideas.FewerSets) == 0:
		return outcome{code: exitNone}
	}
	return nil
}

// next is the command to write after this one: the paper of the first model that all groups
// can build, or who can build the first that some can, or why the first cannot be built
// though no kind of part is lacking, or what there is. The built-in briefs have no files, and
// are copied first.
func (opt ideasOptions) next(r *ideas.Result) string {
	first := func(kind ideas.Kind) string {
		for i := range r.Answers {
			if a := &r.Answers[i]; a.Kind == kind && len(a.Lacking) == 0 {
				return a.File
			}
		}
		return ""
	}
	verb, more, file := "sheet", []string{"--rank", "1", "-o", unused("paper")}, first(ideas.AllSets)
	if file == "" || opt.sets > 0 {
		verb, more, file = "class", nil, cmp.Or(file, first(ideas.FewerSets))
	}
	if file == "" && first(ideas.Open) != "" {
		return opt.said.longer(opt.timeLimit)
	}
	if file == "" {
		verb, file = "why", first(ideas.NoDrive)
	}
	switch {
	case file == "":
		return opt.said.then("stock blank", "-o", unused("count-sheet.pdf"))
	case opt.library != "":
		return opt.said.then(verb, append([]string{"-b", file}, more...)...)
	}
	folder := unused("my-ideas")
	return "findrive ideas --write " + folder + " && " + opt.said.then(verb, append([]string{"-b", filepath.Join(folder, file)}, more...)...)
}

// within bounds a search by a time; 0 for no bound.
func within(limit time.Duration) func(context.Context) (context.Context, context.CancelFunc) {
	if limit == 0 {
		return nil
	}
	return func(ctx context.Context) (context.Context, context.CancelFunc) {
		return context.WithTimeout(ctx, limit)
	}
}

func (opt ideasOptions) check() error {
	if err := oneOf("format", opt.format, formats...); err != nil {
		return err
	}
	if err := oneOf("colour", opt.colour, "auto", "always", "never"); err != nil {
		return err
	}
	switch {
	case opt.sets < 0 || opt.sets > brief.MostSets:
		return outcome{exitUsage, fmt.Sprintf("--groups must be from 1 to %d, or 0 for what each brief says", brief.MostSets)}
	case opt.threads < 1 || opt.threads > 1024:
		return outcome{exitUsage, "--threads must be from 1 to 1024"}
	case opt.timeLimit < 0:
		return outcome{exitUsage, "--time-limit must not be negative"}
	}
	return nil
}

// libraryFiles are the briefs of a folder, or the built-in ones for "".
func libraryFiles(dir string) ([]ideas.File, error) {
	if dir == "" {
		return ideas.Library(), nil
	}
	at, err := os.Stat(dir)
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: the folder cannot be read: %w; check its name", shown(dir), reason(err))
	case !at.IsDir():
		return nil, fmt.Errorf("%s: this is a file; --library takes a folder of briefs", shown(dir))
	}
	names := namesIn(dir, ".toml")
	if len(names) == 0 {
		return nil, fmt.Errorf("%s: there are no .toml files in this folder; findrive ideas --write DIR writes some", shown(dir))
	}
	var out []ideas.File
	var wrong []error
	for _, name := range names {
		path, data, err := read(filepath.Join(dir, name), "", nil, nil)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		out = append(out, ideas.File{Name: path, Data: data})
	}
	return out, errors.Join(wrong...)
}

// writeLibrary copies the built-in briefs into a folder that may be new.
func writeLibrary(dir string, stdout io.Writer) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", dir, reason(err))}
	}
	var out []file
	for _, f := range ideas.Library() {
		out = append(out, file{filepath.Join(dir, f.Name), f.Data})
	}
	if err := writeFiles(out, false, "choose another folder, or move the file away"); err != nil {
		return err
	}
	err := answer(stdout, func(page io.Writer) error {
		_, err := fmt.Fprintf(page, "Wrote %d briefs into %s. Change them, take some away, add your own, then run for one of\nthem in full, for example\n  findrive propose -b %s\nor, for all of them:\n",
			len(out), shown(dir), quoted(out[0].path))
		return thenNext(page, err, "findrive ideas --library "+quoted(dir), "never", stdout)
	})
	return err
}
