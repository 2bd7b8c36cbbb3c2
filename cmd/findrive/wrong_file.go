package main

import (
	"bytes"
	"regexp"
	"strings"
)

// traits tell what a file is from its lines, without reading it.
var traits = []struct {
	what, say string
	lines     *regexp.Regexp
}{
	{"cupboard", "this is a cupboard, which belongs behind -c", regexp.MustCompile(`(?m)^[ \t]*\[(pulley|band|motor|cells|axle|sleeve|spacer|wheel|drum|block|cord)\.`)},
	{"brief", "this is a brief, which belongs behind -b", regexp.MustCompile(`(?m)^[ \t]*(model[ \t]*=|\[frame\]|\[load\])`)},
	{"prices", "this is a price list, which belongs behind -p", regexp.MustCompile(`(?m)^[ \t]*\[(offer|supplier)\.`)},
	{"drive", "this is a drive that was built, which findrive try reads", regexp.MustCompile(`(?m)^[ \t]*\[\[?stage`)},
}

// mistaken says of a file what it is instead, if it is plainly some other file than is
// wanted; wanted is the name of the file that is built in.
func mistaken(data []byte, wanted string) string {
	wanted = strings.TrimSuffix(strings.TrimPrefix(wanted, "built-in "), ".toml")
	text := bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\ufeff")))
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}):
		return "this is a workbook: save its sheet as CSV, which findrive stock reads"
	case bytes.HasPrefix(text, []byte("%PDF-")):
		return "this is a PDF: a TOML file is needed"
	case bytes.HasPrefix(text, []byte("{")) && bytes.Contains(text[:min(len(text), 2000)], []byte(`"findrive certificate"`)):
		return "this is a certificate, which findrive sheet --from reads"
	}
	if wanted != "cupboard" && wanted != "brief" {
		return ""
	}
	other := ""
	for _, t := range traits {
		switch {
		case !t.lines.Match(text):
		case t.what == wanted:
			return ""
		case other == "":
			other = t.say
		}
	}
	if other == "" && wanted == "cupboard" && spreadsheet(text) {
		return "this is a spreadsheet: findrive stock reads it and writes a cupboard"
	}
	return other
}

// spreadsheet reports whether the first two lines are rows of as many cells, three or more.
func spreadsheet(text []byte) bool {
	first, rest, _ := strings.Cut(string(text), "\n")
	second, _, _ := strings.Cut(rest, "\n")
	for _, between := range []string{",", ";", "\t"} {
		n := strings.Count(first, between)
		if n >= 1 && n == strings.Count(second, between) && !strings.ContainsAny(first, "=[#") {
			return true
		}
	}
	return false
}
