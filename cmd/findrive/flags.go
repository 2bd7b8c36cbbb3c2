package main

import (
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// flags are the flags of a command. Those that several commands have are made here, so
// that a name means the same everywhere and is told in the same words; what it begins with
// may differ. What one command alone has is made in that command.
type flags struct {
	*pflag.FlagSet
	cmd *cobra.Command
}

func flagsOf(cmd *cobra.Command) flags { return flags{cmd.Flags(), cmd} }

// moreThanOnce ends what is said of a flag that may be given more than once.
const moreThanOnce = "; may be given again"

func (f flags) cupboard(to *string) {
	f.StringVarP(to, "cupboard", "c", "", "the cupboard, a TOML `file`; - for standard input")
	completeFiles(f.cmd, "cupboard")
}

const briefWords = "the brief, a TOML `file`; - for standard input"

func (f flags) brief(to *string) {
	f.StringVarP(to, "brief", "b", "", briefWords)
	completeFiles(f.cmd, "brief")
}

func (f flags) briefs(to *[]string) {
	f.StringArrayVarP(to, "brief", "b", nil, briefWords+moreThanOnce)
	completeFiles(f.cmd, "brief")
}

func (f flags) calibration(to *string) {
	f.StringVar(to, "calibration", "", "what was learned by counting, a `file` that findrive measure wrote")
	completeFiles(f.cmd, "calibration")
}

// inputs are the files that nearly all commands begin with.
func (f flags) inputs(cupboard, calibration, brief *string) {
	f.cupboard(cupboard)
	f.calibration(calibration)
	f.brief(brief)
}

func (f flags) prices(to *string) {
	f.StringVarP(to, "prices", "p", "", "the price list, a TOML or CSV `file`; - for standard input")
	completePrices(f.cmd, "prices")
}

// list is a saved list of drives, and which of it.
func (f flags) list(from *string, rank *int) {
	f.StringVar(from, "from", "", "a saved list of drives, a `file` that propose -o wrote, or swap, challenge, class, shop or term; - for standard input")
	_ = f.cmd.RegisterFlagCompletionFunc("from", completeJSON)
	f.rank(rank)
}

func (f flags) rank(to *int) { f.IntVar(to, "rank", 1, "which of the list, by its `number`") }

func (f flags) keep(to *int, usual int) { f.IntVarP(to, "keep", "k", usual, "how many to rank") }

func (f flags) full(to *int, usual int) {
	f.IntVar(to, "full", usual, "how many to show in full (text)")
}

func (f flags) reasons(to *bool) {
	f.BoolVar(to, "why", false, "also give the reasons, and what stood in the way of others (text)")
}

func (f flags) groups(to *int) {
	f.IntVar(to, "groups", 0, "how many `groups` build; else as many as the brief says")
}

func (f flags) pupils(to *int) {
	f.IntVar(to, "pupils", 0, "how many `children` there are, for the cost of each")
}

// formats are the ways an answer can be printed.
var formats = []string{"text", "json", "csv"}

func (f flags) format(to *string) {
	f.StringVar(to, "format", formats[0], "`how` to print: text, json or csv")
	completeWords(f.cmd, "format", formats...)
}

func (f flags) colour(to *string) {
	f.StringVar(to, "colour", "auto", "`when` to use colour: auto, always or never")
	completeWords(f.cmd, "colour", "auto", "always", "never")
}

// as says which kinds of file pages are written as.
func (f flags) as(to *[]string, kinds ...string) {
	f.StringSliceVar(to, "as", []string{"pdf"}, "`kinds` of file to write: pdf, html, svg, png"+moreThanOnce)
	completeWords(f.cmd, "as", kinds...)
}

// lower is the value of a flag whose words may be written in capitals.
type lower struct{ to *string }

func (l lower) String() string {
	if l.to == nil {
		return ""
	}
	return *l.to
}

func (l lower) Set(word string) error { *l.to = strings.ToLower(word); return nil }

func (l lower) Type() string { return "string" }

func (f flags) paper(to *string) {
	*to = "a4"
	f.Var(lower{to}, "paper", "`size` of the paper: a4 or letter")
	completeWords(f.cmd, "paper", "a4", "letter")
}

func (f flags) date(to *string) {
	f.StringVar(to, "date", "", "a `date` to put on it, as you like to write it")
}

func (f flags) plot(to *string) {
	f.StringVar(to, "plot", "", "also draw a plot into this `file`: .pdf, .svg or .png")
}

func (f flags) write(to *string) {
	f.StringVar(to, "write", "", "only copy the built-in examples into this `folder`, to be changed")
	completeFolders(f.cmd, "write")
}

// output is the file that a command writes what into, and force.
func (f flags) output(to *string, force *bool, what string) {
	f.StringVarP(to, "output", "o", "", "write "+what+" into this `file`")
	f.force(force)
}

// outputs are several files, each of what its ending says.
func (f flags) outputs(to *[]string, force *bool, what string) {
	f.StringArrayVarP(to, "output", "o", nil, "write "+what+" into this `file`"+moreThanOnce)
	f.force(force)
}

// folder is where a command writes what.
func (f flags) folder(to *string, force *bool, usual, what string) {
	f.StringVarP(to, "output", "o", usual, "write "+what+" into this `folder`; it is made if need be")
	completeFolders(f.cmd, "output")
	f.force(force)
}

func (f flags) force(to *bool) {
	f.BoolVar(to, "force", false, "write over files that are there")
}

// search bounds the work.
func (f flags) search(threads *int, limit *time.Duration, usual time.Duration) {
	f.IntVar(threads, "threads", runtime.GOMAXPROCS(0), "how many `threads` may search; the answer is the same")
	f.limit(limit, usual)
}

// limit bounds work that one thread does.
func (f flags) limit(to *time.Duration, usual time.Duration) {
	f.DurationVar(to, "time-limit", usual, "stop after this `time`, for example 10m; 0 for never")
}

func (f flags) turns(to *[]string) {
	f.StringArrayVar(to, "turns", nil, "a `count` of the output's turns, such as \"34 turns in 30 s\""+moreThanOnce)
}

func (f flags) travel(to *[]string) {
	f.StringArrayVar(to, "travel", nil, "a `run` of a vehicle or a lifted load, such as \"3 m in 12 s\", or \"3 m in 12 s from rest\""+moreThanOnce)
}

// formerly are the words that some commands had for what others called otherwise. They are
// still understood.
var formerly = map[string]map[string]string{
	"challenge": {"drives": "keep"},
	"fairtest":  {"pages": "as"},
	"hoist":     {"draw": "rank"},
	"sheet":     {"format": "as"},
	"try":       {"all": "rules"},
}

// understand lets the words of formerly, and --sets for --groups, be written still.
func understand(root *cobra.Command) {
	everywhere := func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		if name == "sets" {
			name = "groups"
		}
		return pflag.NormalizedName(name)
	}
	root.SetGlobalNormalizationFunc(everywhere)
	for _, cmd := range root.Commands() {
		words, has := formerly[cmd.Name()]
		if !has {
			continue
		}
		cmd.Flags().SetNormalizeFunc(func(f *pflag.FlagSet, name string) pflag.NormalizedName {
			if now, was := words[name]; was {
				name = now
			}
			return everywhere(f, name)
		})
	}
}
