package stocktake

import (
	"errors"
	"slices"
	"strings"

	"findrive/internal/pattern"
)

// Description is what words say of one part.
type Description struct {
	Kind string
	// Values are its sizes by the keys of a cupboard's table, as they stand there without
	// their quote marks: "40 mm".
	Values map[string]string
	// Keys are those of Values, in the order of a cupboard file.
	Keys []string
	// Assumed are what was not plain.
	Assumed []string
	// Pack is how many pieces the words say are in a pack; 0 if they do not.
	Pack int
}

// Describe reads what a kind, a name and a size say of a part, as Read does of a row of a
// list of stock; kind and size may be empty. The error is a plain sentence: the words name
// no kind of part.
func Describe(kind, name, size string) (Description, error) {
	t := taking{grid: &grid{workbook: true}, heading: &heading{list: []column{{heading: "kind", field: kindField}, {heading: "name", field: labelField}, {heading: "size", field: sizeField}}}}
	row := gridRow{cells: []string{kind, name, size}}
	e, r := entry{label: name}, Row{}
	d := Description{Values: map[string]string{}}
	d.Pack, _ = inPack("", name+" "+size)
	var err error
	if e.kind, err = t.kind(&row, &r, &e); err != nil {
		return d, err
	}
	d.Kind = e.kind
	var no *refused
	if err := t.settings(row.cells, &r, &e); err != nil && !errors.As(err, &no) {
		return d, err
	}
	e.lines() // puts them in order
	for _, s := range e.settings {
		d.Keys, d.Values[s.key] = append(d.Keys, s.key), strings.Trim(s.value, `"`)
	}
	d.Assumed = e.facts
	return d, nil
}

// KindOver is the kind that a title over rows names; empty if it names none, or several, or has
// a letter wrong: a list that is bought from is put right rather than guessed at.
func KindOver(title string) string {
	if slices.ContainsFunc(strings.Fields(plainWords(title)), func(w string) bool { return slipOf(w) != "" }) {
		return ""
	}
	return kindOver(title).kind
}

// IsTotal reports whether a text begins a row of sums.
func IsTotal(text string) bool { return isTotal(text) }

// Pieces reads how many pieces a cell says there are, as "10", "10 pcs" or "pack of 10";
// not ok if it is rough or no number.
func Pieces(cell string) (n int, ok bool) {
	c, err := readCount(cell, 0)
	if err == nil && c.n > 0 && c.damaged == 0 && c.assumed == "" {
		return c.n, true
	}
	if len(figures.FindAllString(cell, 2)) > 1 {
		return 0, false // 2 packs of 10
	}
	return inPack("", cell)
}

var figures = pattern.Must(`\d+`)

// SameName reports whether two names are alike but for capitals, signs and blanks.
func SameName(a, b string) bool { return slug(a) != "" && slug(a) == slug(b) }
