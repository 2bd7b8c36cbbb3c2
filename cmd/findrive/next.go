package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"findrive/internal/report"
)

// said is a command as it was typed. The next one is made from it.
type said struct {
	cmd  *cobra.Command
	args []string
	less []string // flags that are left out when it is said again
}

// without is the same but for some flags.
func (s said) without(flags ...string) said {
	s.less = append(slices.Clone(s.less), flags...)
	return s
}

// printing are flags that change nothing but how an answer is printed or how soon.
var printing = []string{"colour", "force", "format", "threads"}

// carried are flags that another command is given too, if it has them.
var carried = []string{"cupboard", "brief", "calibration", "prices", "groups", "from", "rank"}

// again is the same command, with more said. A flag in more takes the place of that flag.
func (s said) again(more ...string) string {
	var flags []*pflag.Flag
	f := s.cmd.Flags()
	sorted := f.SortFlags
	f.SortFlags = false // as they were typed
	f.Visit(func(f *pflag.Flag) {
		if !slices.Contains(printing, f.Name) && !slices.Contains(s.less, f.Name) {
			flags = append(flags, f)
		}
	})
	f.SortFlags = sorted
	return typed(s.cmd, s.args, flags, more)
}

// then is another command with the same files and the same drive, with more said.
func (s said) then(verb string, more ...string) string {
	next, _, err := s.cmd.Root().Find(strings.Fields(verb))
	if err != nil {
		panic("no command " + verb) // a fault of the program, which the tests of each command meet
	}
	var flags []*pflag.Flag
	for _, name := range carried {
		switch {
		case !s.changed(name) || next.Flags().Lookup(name) == nil:
		case name == "rank" && !takesRankOf(next, s.changed("from")):
		case s.changed("from") && complete(verb, name):
		default:
			flags = append(flags, s.cmd.Flags().Lookup(name))
		}
	}
	var args []string
	if describes(s.cmd) && describes(next) {
		args = s.args
	}
	return typed(next, args, flags, more)
}

// sheet is the paper of a drive of the same files by its rank, in a folder of its own.
func (s said) sheet(rank int) string {
	return s.then("sheet", "--rank", strconv.Itoa(rank), "-o", unused("paper"))
}

// sheetOf is the paper of the first drive of a saved list.
func sheetOf(list string, rank int) string {
	return "findrive sheet --from " + quoted(list) + " --rank " + strconv.Itoa(rank) + " -o " + unused("paper")
}

// onDrive is another command with the same files, on a drive that a file describes.
func (s said) onDrive(verb, drive string, more ...string) string {
	s.args = []string{drive}
	return s.then(verb, more...)
}

func (s said) changed(flag string) bool {
	return s.cmd.Flags().Changed(flag) && !slices.Contains(s.less, flag)
}

// describes is whether a command is given a drive's description.
func describes(cmd *cobra.Command) bool { return strings.Contains(cmd.Use, "[DRIVE.toml]") }

// takesRankOf is whether a command takes a drive of a list by its rank: fairtest only of one
// that is saved, and hoist of its own alone.
func takesRankOf(cmd *cobra.Command, saved bool) bool {
	return cmd.Name() != "hoist" && (saved || cmd.Name() != "fairtest")
}

// complete is whether a saved list has in it what the flag says, so that the command does
// not take both.
func complete(verb, flag string) bool {
	switch flag {
	case "cupboard", "brief":
		return verb == "sheet" || verb == "explain"
	case "calibration":
		return verb == "explain"
	}
	return false
}

// typed is a command line as a shell takes it. What came through a pipe is gone, and stands
// there in capitals.
func typed(cmd *cobra.Command, args []string, flags []*pflag.Flag, more []string) string {
	words := strings.Fields(cmd.CommandPath())
	for _, a := range args {
		switch {
		case a == "-":
			a = "FILE"
		case strings.HasPrefix(a, "-"): // which is a file all the same
			a = "./" + a
		}
		words = append(words, a)
	}
	var replaced []string
	for _, w := range more {
		if f := flagNamed(cmd, w); f != "" {
			replaced = append(replaced, f)
		}
	}
	for _, f := range flags {
		if slices.Contains(replaced, f.Name) {
			continue
		}
		values := []string{f.Value.String()}
		if several, ok := f.Value.(pflag.SliceValue); ok {
			values = several.GetSlice()
		}
		name := "--" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand
		}
		for _, v := range values {
			switch {
			case v == "-":
				words = append(words, name, piped(f.Name))
			case f.Value.Type() == "duration":
				words = append(words, name, shortTime(v))
			case f.NoOptDefVal != "" && v == f.NoOptDefVal:
				words = append(words, name)
			case f.NoOptDefVal != "":
				words = append(words, name+"="+v)
			default:
				words = append(words, name, v)
			}
		}
	}
	words = append(words, more...)
	for i, w := range words {
		words[i] = quoted(w)
	}
	return strings.Join(words, " ")
}

// piped stands for a file that came through a pipe.
func piped(flag string) string {
	switch flag {
	case "from":
		return "DRIVES.json"
	case "class":
		return "COUNTS.csv"
	}
	return strings.ToUpper(flag) + ".toml"
}

// flagNamed is the name of the flag that a word is; empty if it is none.
func flagNamed(cmd *cobra.Command, word string) string {
	var f *pflag.Flag
	switch {
	case strings.HasPrefix(word, "--"):
		f = cmd.Flags().Lookup(word[2:])
	case len(word) == 2 && word[0] == '-':
		f = cmd.Flags().ShorthandLookup(word[1:])
	}
	if f == nil {
		return ""
	}
	return f.Name
}

// quoted is a word as a shell takes it.
func quoted(word string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_@%+=:,./-", r)
	}
	if word != "" && !strings.ContainsFunc(word, func(r rune) bool { return !plain(r) }) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

// longer asks the same again with more time than was given.
func (s said) longer(limit time.Duration) string {
	if limit == 0 {
		return s.again() // it was stopped by hand
	}
	return s.again("--time-limit", shortTime(max(10*limit, 5*time.Minute).String()))
}

// shortTime is a time without what says nothing: 10m0s is 10m.
func shortTime(d string) string {
	if d == "0s" {
		return "0"
	}
	for _, empty := range []string{"m0s", "h0m"} {
		if strings.HasSuffix(d, empty) {
			d = strings.TrimSuffix(d, empty[1:])
		}
	}
	return d
}

// unused is a name that no file has yet, as like the wanted one as can be.
func unused(name string) string {
	ext := filepath.Ext(name)
	for n := 2; ; n++ {
		if _, err := os.Lstat(name); err != nil {
			return name
		}
		name = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(strings.TrimSuffix(name, ext), fmt.Sprintf("-%d", n-1)), n, ext)
	}
}

// thenNext ends an answer in text, if it could be written, with the next step.
func thenNext(page io.Writer, err error, next, when string, stdout io.Writer) error {
	if err != nil {
		return err
	}
	return report.Next(page, next, width(stdout), colour(when, stdout))
}
