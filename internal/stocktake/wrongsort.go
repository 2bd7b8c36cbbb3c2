package stocktake

import (
	"bytes"
	"encoding/json"
	"strings"

	"findrive/internal/pattern"
)

// otherFiles are beginnings of files that are no text, with what to do.
var otherFiles = []struct{ begins, say string }{
	{"\xd0\xcf\x11\xe0", "this is an old workbook, or one with a password: open it, choose Save As, and the type XLSX, ODS or CSV"},
	{"%PDF", "this is a PDF, not a spreadsheet: save the spreadsheet it came from as XLSX, ODS or CSV"},
	{"{\\rtf", "this is a word processor's file: save the table as CSV, or as plain text with tabs"},
	{"\x89PNG", "this is a picture, not a spreadsheet: type the list in, or count on the sheet that findrive stock blank prints"},
	{"\xff\xd8\xff", "this is a picture, not a spreadsheet: type the list in, or count on the sheet that findrive stock blank prints"},
	{"\x1f\x8b", "this is packed: unpack it and give the list in it"},
	{"<!doctype html", "this is a web page, not a spreadsheet: copy its table into one and save that as CSV"},
	{"<html", "this is a web page, not a spreadsheet: copy its table into one and save that as CSV"},
	{"<?xml", "this is XML, not a spreadsheet: open it in an office program and save it as XLSX, ODS or CSV"},
	{"<svg", "this is a drawing, not a spreadsheet"},
}

// notText says what a file is that is no text; empty if it may be text.
func notText(data []byte) string {
	begin := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(data[:min(len(data), 400)], []byte("\xef\xbb\xbf")), " \t\r\n"))
	for _, o := range otherFiles {
		if bytes.HasPrefix(data, []byte(o.begins)) || bytes.HasPrefix(begin, []byte(o.begins)) {
			return o.say
		}
	}
	return ""
}

// ourFiles are files that other commands of the program take, by a line of theirs, and
// what they are; the first that fits.
var ourFiles = []struct {
	line *pattern.Pattern
	say  string
}{
	{pattern.Must(`(?m)^\s*\[offer\.`), "this is a price list, not a list of stock: it goes to findrive shop, with -p"},
	{pattern.Must(`(?m)^\s*\[{0,2}(?:stage\b|drive\])`), "this is a drive that was built, not a list of stock: it goes to findrive try"},
	{pattern.Must(`(?m)^\s*\[(?:pulley|band|motor|cells|axle|sleeve|spacer|wheel|drum|block|cord|sheet)\.`), "this is a cupboard file already: it goes to findrive propose, with -c"},
	{pattern.Must(`(?m)^\s*(?:\[(?:frame|load|making|direction)\]|model\s*=)`), "this is a brief, not a list of stock: it goes to findrive propose, with -b"},
	{pattern.Must(`(?m)^\s*(?:\[\[?[a-z_.-]+\]\]?|[a-z_]+\s*=\s*["\[\d]\S*.*)\s*$`), "this is a TOML file, not a list of stock: give a spreadsheet, as XLSX, ODS or CSV"},
}

// wrongSort says what a file is that is no list, and where it goes; empty if it may be a
// list.
func wrongSort(data []byte) string {
	if say := notText(data); say != "" {
		return say
	}
	text := strings.ReplaceAll(string(data[:min(len(data), 64<<10)]), "\r", "\n")
	if strings.HasPrefix(text, "findrive proof") {
		return "this is a proof, not a list of stock: it goes to findrive verify"
	}
	if strings.HasPrefix(strings.TrimSpace(text), "{") {
		return jsonSort(data)
	}
	// Cells may look like a line of such a file; a whole file of them does not.
	first := ""
	for line := range strings.SplitSeq(text, "\n") {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			first = line
			break
		}
	}
	if !ourFiles[len(ourFiles)-1].line.MatchString(first) || strings.HasPrefix(strings.ToLower(first), "sep=") {
		return ""
	}
	for _, o := range ourFiles {
		if o.line.MatchString(text) {
			return o.say
		}
	}
	return ""
}

// jsonSort says what a file in JSON is.
func jsonSort(data []byte) string {
	var head struct {
		Kind string `json:"kind"`
	}
	if json.Unmarshal(data, &head) == nil && strings.HasPrefix(head.Kind, "findrive ") {
		if head.Kind == "findrive certificate" || head.Kind == "findrive propose" {
			return "this is a certificate, not a list of stock: it goes to findrive sheet, with --from"
		}
		return "this is what " + cut(cleanName(head.Kind), 40) + " answered, not a list of stock"
	}
	return "this is a JSON file, not a list of stock: give a spreadsheet, as XLSX, ODS or CSV"
}
