package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"findrive/internal/demo"
)

func startCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "start DIR",
		Short:   "write a cupboard and briefs to fill in",
		Long:    "start writes cupboard.toml, brief.toml, hoist.toml, drive.toml and prices.toml,\nwith comments, into DIR. It never writes over a file that is there.",
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
			cupboard, brief, hoist := filepath.Join(dir, "cupboard.toml"), filepath.Join(dir, "brief.toml"), filepath.Join(dir, "hoist.toml")
			built := filepath.Join(dir, "drive.toml")
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "Wrote into %s:\n  cupboard.toml, brief.toml, hoist.toml, drive.toml, prices.toml\nChange them to what you have and want, then run, for a drive with rubber bands:\n  findrive propose -c %[2]s -b %[3]s\nor, to lift by hand with pulley blocks:\n  findrive hoist -c %[2]s -b %[4]s\nor, for a drive that is built already and does not do as it should:\n  findrive try %[5]s -c %[2]s\nor, for the least to buy so that all groups can build:\n  findrive shop -c %[2]s -b %[3]s -p %[6]s\n",
				dir, quoted(cupboard), quoted(brief), quoted(hoist), quoted(built), quoted(filepath.Join(dir, "prices.toml")))
			if err != nil {
				return outcome{exitFailure, "the files are written, but this cannot be: " + err.Error()}
			}
			return nil
		},
	}
}

// quoted is a file name as a shell takes it.
func quoted(name string) string {
	if !strings.ContainsAny(name, " \t'\"\\$&|;<>()*?#~`") {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
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
