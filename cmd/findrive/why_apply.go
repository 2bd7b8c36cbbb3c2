package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"findrive/internal/amend"
	"findrive/internal/brief"
	"findrive/internal/leeway"
	"findrive/internal/report"
	"findrive/internal/why"
)

// source is an input file as it was read.
type source struct {
	name string // in messages
	data []byte
}

// caseFiles are the files that a case was read from.
type caseFiles struct {
	cupboard, brief source
	asked           *brief.Brief // as it was read
}

// apply writes both files with a change made in them into the folder of -o; next is the
// command to write after that.
func (opt whyOptions) apply(a *why.Answer, from caseFiles) (made *report.WhyMade, next string, err error) {
	switch {
	case a.Possible():
		return nil, "", outcome{exitUsage, "--apply: it can be built as it is, so there is nothing to change"}
	case len(a.Changes) == 0:
		return nil, "", outcome{exitUsage, "--apply: no change was found that unlocks it\nhint: findrive why without --apply says what stands in the way"}
	case opt.change > len(a.Changes):
		return nil, "", outcome{exitUsage, fmt.Sprintf("--apply: there is no change %d, they are 1 to %d", opt.change, len(a.Changes))}
	}
	change := &a.Changes[opt.change-1]
	after := a.Made(change)
	cupboard, err := amend.Cupboard(from.cupboard.name, from.cupboard.data, a.Case.Cupboard, after.Cupboard)
	if err != nil {
		return nil, "", outcome{exitFailure, err.Error()}
	}
	asked, err := amend.Brief(from.brief.name, from.brief.data, from.asked, after.Brief)
	if err != nil {
		return nil, "", outcome{exitFailure, err.Error()}
	}
	if len(cupboard.Edits)+len(asked.Edits) == 0 {
		return nil, "", outcome{exitUsage, fmt.Sprintf("--apply: change %d is no change of the files: %s\nhint: leave that out of what you ask for besides", opt.change, change.Steps[0].Words)}
	}
	names := [2]string{opened(opt.cupboard, "cupboard.toml"), opened(opt.brief, "brief.toml")}
	if names[0] == names[1] {
		names = [2]string{"cupboard.toml", "brief.toml"}
	}
	files := []file{{filepath.Join(opt.dir, names[0]), cupboard.Text}, {filepath.Join(opt.dir, names[1]), asked.Text}}
	if err := os.MkdirAll(opt.dir, 0o755); err != nil {
		return nil, "", outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", opt.dir, reason(err))}
	}
	if err := writeFiles(files, opt.force, "choose another folder with -o, or write over it with --force"); err != nil {
		return nil, "", err
	}
	besides := slices.ContainsFunc(change.Steps, func(s why.Step) bool {
		return a.Levers[s.Lever].Cost == leeway.Words && strings.HasPrefix(a.Levers[s.Lever].Key, "wanted ")
	})
	next = opt.said.then("propose", "-c", files[0].path, "-b", files[1].path)
	return &report.WhyMade{Number: opt.change, Besides: besides,
		Files: []report.WhyFile{{Path: files[0].path, Edits: cupboard.Edits}, {Path: files[1].path, Edits: asked.Edits}}}, next, nil
}

// opened is the name that the copy of an input file gets.
func opened(file, usual string) string {
	if file == "" || file == "-" {
		return usual
	}
	return filepath.Base(file)
}

// next is the command to write after this one, where no change is made.
func (opt whyOptions) next(a *why.Answer) string {
	asked := opt.drive != "" || a.Case.Pins != nil
	switch {
	case asked: // what can be built besides
		return opt.said.then("propose")
	case a.Possible() && opt.groups > 0: // a sheet is for as many as the brief says
		return opt.said.then("class")
	case a.Possible():
		return opt.said.sheet(1)
	case len(a.Changes) > 0:
		return opt.said.again("--apply", "1", "-o", unused("changed"))
	case !a.Complete():
		return opt.said.longer(opt.timeLimit)
	}
	return opt.said.then("ideas")
}
