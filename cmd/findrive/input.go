package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
)

// loadInputs reads the cupboard, what was learned of it by counting (no file: nothing),
// and the brief, and reports what is wrong with all at once.
func loadInputs(cupboardFile, calibrationFile, briefFile string, stdin io.Reader) (*parts.Cupboard, *brief.Brief, error) {
	cup, cupErr := loadCupboard(cupboardFile, stdin)
	cup, calibrationErr := calibrated(cup, calibrationFile, stdin)
	var b *brief.Brief
	name, data, err := read(briefFile, "built-in brief.toml", demo.Brief(), stdin)
	if err == nil {
		b, err = brief.ReadFor(name, data, cup)
	}
	if err := inFiles(cupErr, calibrationErr, err); err != nil {
		return nil, nil, err
	}
	return cup, b, nil
}

// sayBuiltIn says before the answer that the brief is not the user's, though the
// cupboard is: nobody must build from an answer to another question.
func sayBuiltIn(stderr io.Writer, cupboardFile, briefFile string) {
	if cupboardFile != "" && briefFile == "" {
		fmt.Fprintln(stderr, "Note: the brief is the built-in example. Name yours with -b.")
	}
}

// loadCupboard is the cupboard, nil if it has mistakes.
func loadCupboard(file string, stdin io.Reader) (*parts.Cupboard, error) {
	name, data, err := read(file, "built-in cupboard.toml", demo.Cupboard(), stdin)
	if err != nil {
		return nil, err
	}
	return parts.Read(name, data)
}

// read is the bytes of a file, of standard input for "-", or of the built-in
// one for "", with the name it has in messages. The error is a line that begins
// with that name.
func read(file, builtInName string, builtIn []byte, stdin io.Reader) (string, []byte, error) {
	var from io.Reader
	switch file {
	case "":
		return builtInName, builtIn, nil
	case "-":
		file, from = "standard input", stdin
	default:
		f, err := os.Open(file)
		if err != nil {
			return "", nil, unreadable(file, err)
		}
		defer f.Close()
		if at, err := f.Stat(); err == nil && at.IsDir() {
			return "", nil, isFolder(file, strings.TrimPrefix(builtInName, "built-in "))
		}
		from = f
	}
	// One byte more than may be read, so that a file that cannot be meant is
	// noticed and does not fill the memory.
	data, err := io.ReadAll(io.LimitReader(from, tomlfile.MaxBytes+1))
	switch {
	case err != nil:
		return "", nil, unreadable(file, err)
	case len(data) > tomlfile.MaxBytes:
		return "", nil, fmt.Errorf("%s: it is over %d MB, which no cupboard or brief needs", file, tomlfile.MaxBytes>>20)
	}
	if say := mistaken(data, builtInName); say != "" {
		return "", nil, fmt.Errorf("%s: %s", file, say)
	}
	return file, data, nil
}

// isFolder names a file in the folder: the one with the usual name, if it is
// there.
func isFolder(dir, usual string) error {
	inside := tomlFiles(dir)
	if slices.Contains(inside, usual) {
		inside = []string{usual}
	}
	if len(inside) > 0 {
		return fmt.Errorf("%s: this is a folder; write the name of a file in it, for example %s", dir, filepath.Join(dir, inside[0]))
	}
	return fmt.Errorf("%s: this is a folder, and there are no .toml files in it", dir)
}

func unreadable(file string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: it cannot be read: %w", file, reason(err))
	}
	dir, name := filepath.Split(file)
	if near := tomlfile.Nearest(name, tomlFiles(dir)); near != "" {
		return fmt.Errorf("%s: there is no such file, did you mean %q?", file, dir+near)
	}
	return fmt.Errorf("%s: there is no such file; findrive start DIR writes a cupboard and a brief to begin from", file)
}

// tomlFiles lists the names of the TOML files in a folder, "" for the present
// one; none if it cannot be read.
func tomlFiles(dir string) []string {
	if dir == "" {
		dir = "."
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && filepath.Ext(e.Name()) == ".toml" {
			names = append(names, e.Name())
		}
	}
	return names
}

// reason takes the file name off an error, since the message has it already.
func reason(err error) error {
	var at *os.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
