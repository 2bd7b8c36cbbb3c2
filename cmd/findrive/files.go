package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"findrive/internal/tomlfile"
)

// file is a file to be written.
type file struct {
	path string
	data []byte
}

// shown is names of files, for a message: in quotes where they have blanks or signs that
// do not show.
func shown(names ...string) string {
	list := make([]string, len(names))
	for i, name := range names {
		list[i] = tomlfile.Place(name)
	}
	return strings.Join(list, ", ")
}

// writeFiles writes all files or none, each whole or not at all. Without force a
// file that is there is left as it is and nothing is written, and so are the inputs in any
// case; hint says what the user can do about it.
func writeFiles(files []file, force bool, hint string, inputs ...string) error {
	for _, f := range files {
		if err := mayWrite(f.path, force, hint, inputs...); err != nil {
			return err
		}
	}
	// All are written under other names before the first gets its own, so that a
	// full disc changes nothing.
	var waiting []string
	defer func() {
		for _, name := range waiting {
			_ = os.Remove(name)
		}
	}()
	for _, f := range files {
		clearLeftOvers(filepath.Dir(f.path))
		name, err := writeBeside(f)
		if err != nil {
			return outcome{exitFailure, fmt.Sprintf("cannot write %q: %v", f.path, reason(err))}
		}
		waiting = append(waiting, name)
	}
	for i, f := range files {
		if err := named(waiting[i], f.path, force); err != nil {
			if !force {
				for _, done := range files[:i] {
					_ = os.Remove(done.path)
				}
			}
			return outcome{exitFailure, fmt.Sprintf("cannot write %q: %v", f.path, reason(err))}
		}
	}
	return nil
}

// mayWriteOutputs refuses, before any work is done, files to be written that mayWrite does.
func mayWriteOutputs(cmd *cobra.Command, args []string) error {
	in, out := filesOf(cmd, args)
	force, hint := false, "choose another name"
	if cmd.Flags().Lookup("force") != nil {
		force, _ = cmd.Flags().GetBool("force")
		hint = anotherName
	}
	for _, path := range out {
		if path == "" {
			continue
		}
		if err := mayWrite(path, force, hint, in...); err != nil {
			return err
		}
		if dir := filepath.Dir(path); !folder(dir) {
			return outcome{exitFailure, fmt.Sprintf("cannot write %q: there is no folder %q\nhint: make the folder, or choose another name", path, dir)}
		}
	}
	return nil
}

// filesOf are the files that a command was told to read and to write. Every flag that takes
// a file and is none of outputs names an input, and so does every word that is a file's name.
func filesOf(cmd *cobra.Command, args []string) (in, out []string) {
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		name, _ := pflag.UnquoteUsage(f)
		paths := []string{f.Value.String()}
		if several, ok := f.Value.(pflag.SliceValue); ok {
			paths = several.GetSlice()
		}
		switch {
		case name != "file":
		case slices.Contains(outputs, f.Name):
			out = append(out, paths...)
		default:
			in = append(in, paths...)
		}
	})
	return append(in, args...), out
}

// outputs are the flags that name a file to be written.
var outputs = []string{"output", "proof", "plot"}

// mayWrite refuses a file that must not be written: one that is there, unless force is
// given, and whatever is no plain file or is one of the inputs.
func mayWrite(path string, force bool, hint string, inputs ...string) error {
	at, err := os.Lstat(path)
	if err != nil {
		return nil // what stands in the way of writing is told then
	}
	switch {
	case at.IsDir():
		return outcome{exitFailure, fmt.Sprintf("%q is a folder and cannot be written as a file", path)}
	case !regular(path):
		return outcome{exitFailure, fmt.Sprintf("%q is no plain file and is left as it is\nhint: choose another name", path)}
	case !force:
		return outcome{exitFailure, fmt.Sprintf("%q is there already and is left as it is\nhint: %s", path, hint)}
	}
	at, err = os.Stat(path)
	if err != nil {
		return nil
	}
	for _, in := range inputs {
		if in == "" || in == "-" {
			continue
		}
		if from, err := os.Stat(in); err == nil && os.SameFile(at, from) {
			return outcome{exitFailure, fmt.Sprintf("%q is read by this command and is not written over\nhint: choose another name", path)}
		}
	}
	return nil
}

// folder reports whether a folder is there, or may be for all that can be seen.
func folder(dir string) bool {
	at, err := os.Stat(dir)
	return err == nil && at.IsDir() || err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR)
}

// regular reports whether a link leads to a plain file or to nothing.
func regular(path string) bool {
	at, err := os.Stat(path)
	return err != nil || at.Mode().IsRegular()
}

// clearLeftOvers removes what a run of this program that was killed has left in a
// folder under the names of writeBeside. What is younger than an hour may be another
// run's that is writing still.
func clearLeftOvers(dir string) {
	there, _ := os.ReadDir(dir)
	for _, f := range there {
		number, ours := strings.CutPrefix(f.Name(), ".findrive-")
		if _, err := strconv.ParseUint(number, 10, 64); !ours || err != nil {
			continue
		}
		if at, err := f.Info(); err == nil && at.Mode().IsRegular() && time.Since(at.ModTime()) > time.Hour {
			_ = os.Remove(filepath.Join(dir, f.Name()))
		}
	}
}

// writeBeside writes a file under another name in the same folder.
func writeBeside(f file) (name string, err error) {
	tmp, err := os.CreateTemp(filepath.Dir(f.path), ".findrive-*")
	if err != nil {
		return "", err
	}
	_, err = tmp.Write(f.data)
	if err = errors.Join(err, tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		_ = os.Remove(tmp.Name())
		return "", err
	}
	return tmp.Name(), nil
}

// named gives a written file its name. Without force it is linked, which fails if
// the name has been taken meanwhile.
func named(tmp, path string, force bool) error {
	if force {
		return os.Rename(tmp, path)
	}
	err := os.Link(tmp, path)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		// Some file systems (memory sticks) have no links.
		if _, there := os.Lstat(path); there == nil {
			return fs.ErrExist
		}
		return os.Rename(tmp, path)
	}
	return err
}
