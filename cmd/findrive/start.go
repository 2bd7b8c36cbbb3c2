package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"findrive/internal/demo"
	"findrive/internal/report"
)

func startCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "start DIR",
		Short:   "write a cupboard and briefs to fill in",
		Long:    "start writes cupboard.toml, brief.toml, hoist.toml, drive.toml and prices.toml,\nwith comments, into DIR. It never writes over a file that is there.\n\nExit codes: 0 done; 1 a file could not be written; 2 wrong use.",
		Example: "  findrive start my-class",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 && args[0] != "" {
				return nil
			}
			return outcome{exitUsage, "start needs the name of one folder\nhint: write for example findrive start my-class"}
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := args[0]
			if err := start(dir); err != nil {
				return err
			}
			in := func(name string) string { return quoted(filepath.Join(dir, name)) }
			cupboard, brief := in("cupboard.toml"), in("brief.toml")
			err := answer(cmd.OutOrStdout(), func(page io.Writer) error {
				command := func(words ...string) string {
					return report.Command("findrive "+strings.Join(words, " "), width(cmd.OutOrStdout()))
				}
				_, err := fmt.Fprintf(page, "Wrote into %s:\n  cupboard.toml, brief.toml, hoist.toml, drive.toml, prices.toml\nChange them to what you have and want. Then, to lift by hand with pulley blocks:\n%sor, for a drive that is built already and does not do as it should:\n%sor, for the least to buy so that all groups can build:\n%sor, for a drive with rubber bands:\n",
					dir, command("hoist -c", cupboard, "-b", in("hoist.toml")), command("try", in("drive.toml"), "-c", cupboard), command("shop -c", cupboard, "-b", brief, "-p", in("prices.toml")))
				return thenNext(page, err, "findrive propose -c "+cupboard+" -b "+brief, "never", cmd.OutOrStdout())
			})
			return err
		},
	}
}

// start writes all files or none, into a folder that may be new.
func start(dir string) error {
	_, err := os.Lstat(dir)
	made := errors.Is(err, fs.ErrNotExist)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return outcome{exitFailure, fmt.Sprintf("cannot make the folder %q: %v", dir, reason(err))}
	}
	err = writeFiles([]file{
		{filepath.Join(dir, "cupboard.toml"), demo.StarterCupboard()},
		{filepath.Join(dir, "brief.toml"), demo.StarterBrief()},
		{filepath.Join(dir, "hoist.toml"), demo.StarterHoist()},
		{filepath.Join(dir, "drive.toml"), demo.StarterDrive()},
		{filepath.Join(dir, "prices.toml"), demo.StarterPrices()},
	}, false, "choose another folder, or move the file away")
	if err != nil && made {
		_ = os.Remove(dir)
	}
	return err
}
