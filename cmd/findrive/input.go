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

// input is a file that a command reads: what it is, where it is named, and its name; ""
// where it is the built-in example.
type input struct{ what, named, file string }

func theCupboard(file string) input { return input{"cupboard", "-c", file} }
func theBrief(file string) input    { return input{"brief", "-b", file} }

// sayBuiltIn says before the answer which files are the built-in examples, though others,
// or something else that was given, are the user's: nobody must build from an answer to
// another question.
func sayBuiltIn(stderr io.Writer, given bool, files ...input) {
	var what, where []string
	for _, f := range files {
		if f.file != "" {
			given = true
			continue
		}
		what, where = append(what, f.what), append(where, f.named)
	}
	if !given || len(what) == 0 {
		return
	}
	is := " is the built-in example."
	if len(what) > 1 || strings.HasSuffix(what[0], "s") {
		is = " are the built-in examples."
	}
	if len(what) == 1 {
		what[0] = "the " + what[0]
	}
	line, yours := "Note: "+listed(what)+is, "Name yours with "+listed(where)+"."
	if len(line)+1+len(yours) > usual {
		line += "\n"
	} else {
		line += " "
	}
	fmt.Fprintln(stderr, line+yours)
}

// listed is words in a sentence.
func listed(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
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
	if file == "" {
		return builtInName, builtIn, nil
	}
	data, err := readAtMost(file, tomlfile.MaxBytes, strings.TrimPrefix(builtInName, "built-in "), stdin)
	if err != nil {
		return "", nil, err
	}
	if file == "-" {
		file = "standard input"
	}
	if say := mistaken(data, wantedAs(builtInName)); say != "" {
		return "", nil, fmt.Errorf("%s: %s", shown(file), say)
	}
	if len(data) > tomlfile.MaxBytes {
		return "", nil, fmt.Errorf("%s: it is over %d MB, which no cupboard or brief needs", shown(file), tomlfile.MaxBytes>>20)
	}
	return file, data, nil
}

// readAtMost is the bytes of a file, or of standard input for "-", and of a file that has
// more than most one more, so that a file that cannot be meant is noticed and does not fill
// the memory. usual is what such a file is called if a folder is given. The error is a line
// that begins with the file's name.
func readAtMost(file string, most int64, usual string, stdin io.Reader) ([]byte, error) {
	from := stdin
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return nil, unreadable(file, err)
		}
		defer f.Close()
		if at, err := f.Stat(); err == nil && at.IsDir() {
			return nil, isFolder(file, usual)
		}
		from = f
	} else {
		file = "standard input"
	}
	data, err := io.ReadAll(io.LimitReader(from, most+1))
	if err != nil {
		return nil, unreadable(file, err)
	}
	return data, nil
}

// isFolder names a file in the folder: the one with the usual name, if it is
// there, or one with the same ending.
func isFolder(dir, usual string) error {
	ending := filepath.Ext(usual)
	inside := namesIn(dir, ending)
	if slices.Contains(inside, usual) {
		inside = []string{usual}
	}
	place := shown(dir)
	if len(inside) > 0 {
		return fmt.Errorf("%s: this is a folder: write the name of a file in it, for example %q", place, filepath.Join(dir, inside[0]))
	}
	return fmt.Errorf("%s: this is a folder, and there are no %s files in it: write the name of a file", place, ending)
}

func unreadable(file string, err error) error {
	place := shown(file)
	if !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: it cannot be read: %w", place, reason(err))
	}
	dir, name := filepath.Split(file)
	if near := tomlfile.Nearest(name, namesIn(dir, filepath.Ext(file))); near != "" {
		return fmt.Errorf("%s: there is no such file, did you mean %q?", place, dir+near)
	}
	if filepath.Ext(file) == ".toml" {
		return fmt.Errorf("%s: there is no such file; findrive start DIR writes a cupboard and a brief to begin from", place)
	}
	return fmt.Errorf("%s: there is no such file; check the name and the folder", place)
}

// namesIn lists the names of the files in a folder, "" for the present one, that end so;
// none if it cannot be read.
func namesIn(dir, ending string) []string {
	if dir == "" {
		dir = "."
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && filepath.Ext(e.Name()) == ending {
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
