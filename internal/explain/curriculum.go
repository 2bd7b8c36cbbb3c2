package explain

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/tomlfile"
)

//go:embed curriculum.toml
var curriculum []byte

// Line is one line of a curriculum.
type Line struct {
	Place, PlaceName string
	Ages             string
	// Quote is in the words of the document, Says in ours; one of them is empty.
	Quote, Says    string
	Document, Date string
	Checked        Checked
	About          []string
}

// Checked is how the words of a line were compared.
type Checked string

// The ways.
const (
	ByCopy  Checked = "copy"   // with a page that quotes the document
	ByTitle Checked = "title"  // only its title
	Memory  Checked = "memory" // not at all
)

// Place is a country or part of one with a curriculum of its own.
type Place struct{ Key, Name string }

// curriculumData is what the file says; the file is part of the program, and a test
// holds that it has no mistakes.
type curriculumData struct {
	places []Place
	lines  []Line
	err    error
}

func readCurriculum() curriculumData {
	var out curriculumData
	doc, err := tomlfile.Open("curriculum.toml", curriculum)
	if err != nil {
		return curriculumData{err: err}
	}
	root := doc.Root()
	names := map[string]string{}
	keys, tables := root.Named("place")
	for i, t := range tables {
		names[keys[i]] = t.Text("name", "")
		out.places = append(out.places, Place{keys[i], names[keys[i]]})
		t.Close()
	}
	_, tables = root.Named("line")
	for _, t := range tables {
		l := Line{Place: t.Text("place", ""), Ages: t.Text("ages", ""), Quote: t.Text("quote", ""), Says: t.Text("says", ""), Document: t.Text("document", ""), Date: t.Text("date", ""),
			Checked: Checked(t.Choice("checked", string(Memory), string(ByCopy), string(ByTitle), string(Memory)))}
		for _, v := range t.List("about", `["pulleys"]`, 6) {
			l.About = append(l.About, fmt.Sprint(v))
		}
		if l.PlaceName = names[l.Place]; l.PlaceName == "" {
			t.Fail("place", "there is no place %q", l.Place)
		}
		out.lines = append(out.lines, l)
		t.Close()
	}
	root.Close()
	out.err = doc.Err()
	return out
}

// Places lists the places there are lines of.
func Places() []Place { return readCurriculum().places }

// linesFor are the lines of a place that a drive covers.
func linesFor(d *Drive, place string) []Line {
	topics := []string{"pulleys", "electric", "test", "make"}
	switch d.Model {
	case brief.Lift:
		topics = append(topics, "lift")
	case brief.Vehicle:
		topics = append(topics, "vehicle")
	}
	var out []Line
	for _, l := range readCurriculum().lines {
		if l.Place == place && slices.ContainsFunc(l.About, func(a string) bool { return slices.Contains(topics, a) }) {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b Line) int { return cmp.Compare(a.rank(topics), b.rank(topics)) })
	return out
}

// Few is how many lines are so few that a place is thin: one a person planning a unit would
// have to look further for (judgement).
const Few = 3

// rank puts what is nearest to pulleys first.
func (l *Line) rank(topics []string) int {
	return slices.IndexFunc(topics, func(t string) bool { return slices.Contains(l.About, t) })
}
