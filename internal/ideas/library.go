package ideas

import (
	"embed"
	"fmt"
	"slices"

	"findrive/internal/brief"
)

//go:embed library/*.toml
var library embed.FS

// File is one brief of a library, as it is kept.
type File struct {
	Name string // of the file, "carousel.toml"
	Data []byte
}

// Library is the built-in library, by name of file. Its loads and speeds are
// common practice; each file says which.
func Library() []File {
	entries, err := library.ReadDir("library")
	if err != nil {
		panic(err) // it is part of the program
	}
	var out []File
	for _, e := range entries {
		data, err := library.ReadFile("library/" + e.Name())
		if err != nil {
			panic(err)
		}
		out = append(out, File{e.Name(), data})
	}
	return out
}

// Idea is a model that might be built.
type Idea struct {
	File  string // the name of its file
	Brief *brief.Brief
}

// Read reads briefs. The errors are one for each file with mistakes in it; the
// file's name is taken for its brief's if it gives none. That a brief names a part
// the cupboard has not is no mistake here: it is an answer.
func Read(files []File) ([]Idea, []error) {
	var out []Idea
	var wrong []error
	for _, f := range files {
		b, err := brief.Read(f.Name, f.Data)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		out = append(out, Idea{f.Name, b})
	}
	return out, append(wrong, alike(out)...)
}

// alike are the ideas of one name, which nobody could tell apart on the page.
func alike(list []Idea) []error {
	var wrong []error
	for i, idea := range list {
		if at := slices.IndexFunc(list[:i], func(o Idea) bool { return o.Brief.Name == idea.Brief.Name }); at >= 0 {
			wrong = append(wrong, fmt.Errorf("%s: name: %q is the name of the brief in %s too: give each its own", idea.File, idea.Brief.Name, list[at].File))
		}
	}
	return wrong
}
