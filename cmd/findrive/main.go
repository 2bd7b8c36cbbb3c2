// Command findrive proposes rubber-band drives for moving models, from a
// cupboard of parts and a brief.
package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
)

// Exit codes. They are part of the interface; docs and help repeat them.
const (
	exitProved  = 0
	exitFailure = 1 // a file could not be written, or the program is at fault
	exitUsage   = 2
	exitInput   = 3 // the cupboard or the brief cannot be read, or has mistakes in it
	exitNone    = 4 // no drive is possible
	exitStopped = 5 // stopped before the best was proved
)

// outcome is an error that carries an exit code. An empty message prints
// nothing: the answer is on standard output already.
type outcome struct {
	code    int
	message string
}

func (o outcome) Error() string { return o.message }

// A search holds little and makes much that is soon of no use: what is unused is collected when
// memory has grown by gcPercent, or comes near memoryLimit, in bytes.
const (
	gcPercent   = 400
	memoryLimit = 240 << 20
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(gcPercent)
		debug.SetMemoryLimit(memoryLimit)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is the whole program but for the process around it.
func run(ctx context.Context, args []string, from io.Reader, stdout, stderr io.Writer) int {
	root := rootCommand()
	root.SetArgs(args)
	in := &stdin{ctx: ctx, from: from}
	root.SetIn(in)
	before := root.PersistentPreRunE
	root.PersistentPreRunE = func(cmd *cobra.Command, args []string) error {
		if limit, err := cmd.Flags().GetDuration("time-limit"); err == nil && limit > 0 {
			context.AfterFunc(ctx, in.within(limit))
		}
		return before(cmd, args)
	}
	root.SetOut(stdout)
	root.SetErr(stderr)
	var unwritten error // of a page of help, for which cobra has no way to tell
	help := root.HelpFunc()
	root.SetHelpFunc(func(cmd *cobra.Command, args []string) {
		var page bytes.Buffer
		cmd.SetOut(&page)
		help(cmd, args)
		cmd.SetOut(stdout)
		_, unwritten = page.WriteTo(stdout)
	})
	err := cmp.Or(root.ExecuteContext(ctx), unwritten)
	if err == nil {
		return exitProved
	}
	var o outcome
	var path *fs.PathError
	switch {
	case in.stopped:
		o = outcome{exitStopped, "stopped before standard input came to its end"}
	case errors.As(err, &o):
	case errors.As(err, &path) && path.Op == "write":
		o = outcome{exitFailure, "cannot write the answer: " + err.Error()}
	default:
		o = outcome{exitUsage, err.Error() + "\nhint: findrive --help lists the commands"}
	}
	if errors.Is(err, syscall.EPIPE) {
		return exitFailure // whoever was reading has gone; nothing to tell them
	}
	if o.message != "" {
		fmt.Fprintf(stderr, "findrive: %s\n", o.message)
	}
	return o.code
}

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:   "findrive",
		Short: "find rubber-band drives that can be built from what is in the cupboard",
		Long: `findrive takes a cupboard of pulleys, bands and motors, a frame and a wanted
speed, searches the ways to join them, and proves which drives are best.

  findrive propose                       the built-in example
  findrive start my-class                write a cupboard and a brief to fill in
  findrive propose -c cupboard.toml -b brief.toml
  findrive sheet                         paper to build the best drive from
  findrive stock our-stock.xlsx          a cupboard from a spreadsheet
  findrive ideas -c cupboard.toml        which models it can make now
  findrive class -c cupboard.toml -b brief.toml
                                         for how many groups, sharing the parts
  findrive shop -c cupboard.toml -b brief.toml -p prices.toml
                                         the least to buy for all groups
  findrive term -b a.toml -b b.toml -c cupboard.toml -p prices.toml
                                         the same for several briefs
  findrive why -c cupboard.toml -b brief.toml
                                         what stands in the way, and what helps
  findrive swap drive.toml --broken band
                                         what to put in when a part breaks
  findrive hoist                         pulley blocks that lift a load
  findrive try drive.toml                what is wrong with a drive you built
  findrive challenge                     fastest, steepest, exactly 10 s ...
  findrive measure drive.toml --turns "34 turns in 30 s"
  findrive explain --for pupil           why small-to-big is slower
  findrive fairtest                      three drives to compare in class

Exit codes: 0 done, and proved best; 1 failure; 2 wrong use; 3 mistakes in an
input file; 4 no drive is possible; 5 stopped before the best was proved.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return nil
		},
		RunE:              func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
		PersistentPreRunE: func(cmd *cobra.Command, args []string) error { return mayWriteOutputs(cmd, args) },
		SilenceErrors:     true,
		SilenceUsage:      true,
		Version:           version(),
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetHelpCommand(helpCommand())
	root.SetFlagErrorFunc(flagMistake)
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages ", fmt.Sprintf(".FlagUsagesWrapped %d ", usual)))
	root.AddCommand(
		proposeCommand(),
		verifyCommand(),
		ideasCommand(),
		classCommand(),
		sheetCommand(),
		hoistCommand(),
		tryCommand(),
		measureCommand(),
		challengeCommand(),
		whyCommand(),
		swapCommand(),
		stockCommand(),
		explainCommand(),
		fairTestCommand(),
		shopCommand(),
		termCommand(),
		startCommand(),
		noticesCommand(),
	)
	understand(root)
	return root
}
