package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// The widths a page is laid out for, in columns.
const (
	narrowest = 40
	widest    = 100
	usual     = 80 // for files and pipes
)

// width is the terminal's, within reason.
func width(w io.Writer) int {
	if cols, is := columns(w); is {
		return min(max(cols, narrowest), widest)
	}
	return usual
}

// columns is how wide a terminal is; false for anything else.
func columns(w io.Writer) (int, bool) {
	f, is := w.(*os.File)
	if !is {
		return 0, false
	}
	cols, _, err := term.GetSize(int(f.Fd()))
	return cols, err == nil && cols > 0
}

// colour is whether to use colour: when says "always", "never", or "auto": on a
// terminal that can show it, unless NO_COLOR is set.
func colour(when string, w io.Writer) bool {
	switch when {
	case "always":
		return true
	case "never":
		return false
	}
	return capable(w) && os.Getenv("NO_COLOR") == ""
}

// capable is whether w is a terminal that obeys control sequences.
func capable(w io.Writer) bool {
	f, is := w.(*os.File)
	return is && term.IsTerminal(int(f.Fd())) && os.Getenv("TERM") != "dumb"
}
