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
		Short:   "write a cupboard and a brief to fill in",
		Long:    "start writes cupboard.toml and brief.toml, with comments, into DIR. It never\nwrites over a file that is there.",
		Example: "  findrive start my-class",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return outcome{exitUsage, fmt.Sprintf("start needs the name of one folder, and got %d\nhint: write for example findrive start my-class", len(args))}
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := args[0]
			if err := start(dir); err != nil {
				return err
			}
			cupboard, brief := filepath.Join(dir, "cupboard.toml"), filepath.Join(dir, "brief.toml")
			_, err := fmt.Fprintf(cmd.OutOrStdout(), "Wrote %s and %s.\nChange them to what you have and want, then run:\n  findrive propose -c %s -b %s\n",
				cupboard, brief, quoted(cupboard), quoted(brief))
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

// start writes both files or neither.
func start(dir string) error {
	files := []struct {
		name string
		data []byte
	}{{"cupboard.toml", demo.StarterCupboard()}, {"brief.toml", demo.StarterBrief()}}
	for _, f := range files {
		if _, err := os.Lstat(filepath.Join(dir, f.name)); err == nil {
			return outcome{exitFailure, fmt.Sprintf("%s is there already and is left as it is\nhint: choose another folder, or move the file away", filepath.Join(dir, f.name))}
		}
	}
	_, err := os.Lstat(dir)
	made := errors.Is(err, fs.ErrNotExist)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return outcome{exitFailure, fmt.Sprintf("cannot make the folder %s: %v", dir, reason(err))}
	}
	var written []string
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		if err := writeNew(path, f.data); err != nil {
			for _, w := range written {
				_ = os.Remove(w)
			}
			if made {
				_ = os.Remove(dir)
			}
			return outcome{exitFailure, fmt.Sprintf("cannot write %s: %v", path, reason(err))}
		}
		written = append(written, path)
	}
	return nil
}

// writeNew writes a file whole or not at all, and never over another: it is
// written under a temporary name beside and then linked to its own, which fails
// if that name has been taken meanwhile.
func writeNew(path string, data []byte) error {
	tmp, err := os.CreateTemp(filepath.Dir(path), ".findrive-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.Write(data)
	if err = errors.Join(err, tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return err
	}
	err = os.Link(tmp.Name(), path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		// Some file systems (memory sticks) have no links.
		if _, there := os.Lstat(path); there == nil {
			return fs.ErrExist
		}
		return os.Rename(tmp.Name(), path)
	}
	return err
}
