package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/png"
	"findrive/internal/drawing/svg"
)

// paperSizes are the papers by the names a flag takes.
var paperSizes = map[string]drawing.Size{"a4": drawing.A4, "letter": drawing.Letter}

// checkDrawingName refuses a file whose ending says no kind of drawing, before any
// work is done.
func checkDrawingName(flag, path string) error {
	switch strings.ToLower(filepath.Ext(path)) {
	case "", ".svg", ".pdf", ".png":
		if path == "" || filepath.Ext(path) != "" {
			return nil
		}
	}
	return outcome{exitUsage, fmt.Sprintf("--%s %q does not end in .pdf, .svg or .png, which says what kind of drawing it is to be", flag, path)}
}

// drawingFiles are the files of a drawing: all pages in one PDF; or a picture for
// each page, the second and further ones with -2, -3 and so on in their names.
func drawingFiles(path string, d *drawing.Drawing) ([]file, error) {
	ending := strings.ToLower(filepath.Ext(path))
	if ending == ".pdf" {
		var b bytes.Buffer
		if err := pdf.Write(&b, d); err != nil {
			return nil, err
		}
		return []file{{path, b.Bytes()}}, nil
	}
	var files []file
	for i, page := range d.Pages {
		var b bytes.Buffer
		var err error
		if ending == ".svg" {
			err = svg.Write(&b, page)
		} else {
			err = png.Write(&b, page, png.Print)
		}
		if err != nil {
			return nil, err
		}
		name := path
		if i > 0 {
			base := path[:len(path)-len(ending)]
			name = fmt.Sprintf("%s-%d%s", base, i+1, path[len(base):])
		}
		files = append(files, file{name, b.Bytes()})
	}
	return files, nil
}

// writeDrawing writes a drawing whole or not at all, and names the files written.
func writeDrawing(path string, d *drawing.Drawing, force bool) (names []string, err error) {
	files, err := drawingFiles(path, d)
	if err != nil {
		return nil, outcome{exitFailure, fmt.Sprintf("cannot make %q: %v", path, err)}
	}
	for _, f := range files {
		names = append(names, f.path)
	}
	return names, writeFiles(files, force, "choose another name, or write over it with --force")
}
