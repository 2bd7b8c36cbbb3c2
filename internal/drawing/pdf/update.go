package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/pattern"
)

var (
	pageObject    = pattern.Must(`(?m)^(\d+) 0 obj\n<</Type /Page\n`)
	catalogObject = pattern.Must(`(?m)^(\d+) 0 obj\n<<\n/Type /Catalog\n`)
	trailerOf     = pattern.Must(`trailer\n<<\n/Size (\d+)\n/Root (\d+) 0 R\n/Info (\d+) 0 R\n>>\nstartxref\n(\d+)\n%%EOF\s*$`)
)

// finished adds to a file what the library cannot write, as an update at its end
// (ISO 32000-1, 7.5.6): the structure tree, and the wishes to be printed unscaled, on
// both sides or on one, and to be shown with its title (table 150).
func finished(file []byte, t *tags, twoSided bool) ([]byte, error) {
	end := trailerOf.FindSubmatch(file)
	catalog := catalogObject.FindSubmatchIndex(file)
	if end == nil || catalog == nil {
		return nil, errors.New("making the PDF: it has no catalog or no end")
	}
	size, info, before := number(end[1]), number(end[3]), number(end[4])
	pages := pageObject.FindAllSubmatchIndex(file, -1)
	if len(pages) != len(t.marks) {
		return nil, errors.New("making the PDF: its pages cannot be found again")
	}
	u := &update{file: bytes.NewBuffer(bytes.TrimRight(file, "\n"))}
	u.file.WriteByte('\n')

	var pageNumbers []int
	for i, at := range pages {
		n := number(file[at[2]:at[3]])
		pageNumbers = append(pageNumbers, n)
		body, err := dictionary(file[at[1]:])
		if err != nil {
			return nil, err
		}
		u.object(n, fmt.Sprintf("<</Type /Page /StructParents %d /Tabs /S\n%s>>", i, body))
	}

	root, parents, next := size, size+1, size+2
	all := t.document.elements()
	for _, e := range all {
		e.number = next
		next++
	}
	u.object(root, fmt.Sprintf("<</Type /StructTreeRoot /K [%d 0 R] /ParentTree %d 0 R /ParentTreeNextKey %d>>", t.document.number, parents, len(pages)))
	var tree strings.Builder
	tree.WriteString("<</Nums [")
	for i, marks := range t.marks {
		fmt.Fprintf(&tree, " %d [", i)
		for _, e := range marks {
			fmt.Fprintf(&tree, " %d 0 R", e.number)
		}
		tree.WriteString("]")
	}
	tree.WriteString("]>>")
	u.object(parents, tree.String())
	for _, e := range all {
		parent := root
		if e.parent != nil {
			parent = e.parent.number
		}
		u.object(e.number, e.object(parent, pageNumbers))
	}

	n := number(file[catalog[2]:catalog[3]])
	body, err := dictionary(file[catalog[1]:])
	if err != nil {
		return nil, err
	}
	duplex := "Simplex"
	if twoSided {
		duplex = "DuplexFlipLongEdge"
	}
	u.object(n, fmt.Sprintf("<</Type /Catalog /Version /1.7\n/ViewerPreferences <</PrintScaling /None /DisplayDocTitle true /Duplex /%s>>\n/MarkInfo <</Marked true>> /StructTreeRoot %d 0 R\n%s>>", duplex, root, body))
	return u.close(next, n, info, before), nil
}

// dictionary is what stands in a dictionary up to the end of its object.
func dictionary(rest []byte) (string, error) {
	body, _, ok := bytes.Cut(rest, []byte("endobj"))
	trimmed := bytes.TrimSpace(body)
	if !ok || !bytes.HasSuffix(trimmed, []byte(">>")) {
		return "", errors.New("making the PDF: an object has no end")
	}
	return string(trimmed[:len(trimmed)-2]), nil
}

func number(digits []byte) int {
	n, _ := strconv.Atoi(string(digits)) // the expressions find digits only
	return n
}

// update writes objects at the end of a file.
type update struct {
	file   *bytes.Buffer
	places map[int]int
}

func (u *update) object(n int, body string) {
	if u.places == nil {
		u.places = map[int]int{}
	}
	u.places[n] = u.file.Len()
	fmt.Fprintf(u.file, "%d 0 obj\n%s\nendobj\n", n, body)
}

// close writes the table of what was added, which refers to the one before.
func (u *update) close(size, catalog, info, before int) []byte {
	start := u.file.Len()
	var numbers []int
	for n := range u.places {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	u.file.WriteString("xref\n")
	for i := 0; i < len(numbers); {
		k := i
		for k < len(numbers) && numbers[k] == numbers[i]+k-i {
			k++
		}
		fmt.Fprintf(u.file, "%d %d\n", numbers[i], k-i)
		for _, n := range numbers[i:k] {
			fmt.Fprintf(u.file, "%010d 00000 n \n", u.places[n])
		}
		i = k
	}
	fmt.Fprintf(u.file, "trailer\n<<\n/Size %d\n/Root %d 0 R\n/Info %d 0 R\n/Prev %d\n>>\nstartxref\n%d\n%%%%EOF\n", size, catalog, info, before, start)
	return u.file.Bytes()
}
