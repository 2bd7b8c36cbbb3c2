package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"findrive/internal/drawing"
)

// everyBlock is a page with every kind of block, whose words come from say.
func everyBlock(say func() string) *Page {
	drawn := say() // however often it is drawn
	facts := Table{Caption: say(), Head: []string{say()}, Rows: [][]string{{say()}}}
	return &Page{Title: say(), Identity: Identity{Name: say(), Rank: 2, Date: say(), Print: say()}, Young: true, Blocks: []Block{
		Heading(say()),
		Text{Words: say(), Bold: true},
		Columns{Left: []Block{Text{Words: say()}}, Right: []Block{Panel{Boxes{Labels: []string{say(), ""}}}}},
		Steps{Numbered: true, Items: []Step{{Do: say(), Check: say(), Adult: true}, {Do: say()}}},
		Steps{Items: []Step{{Do: say()}}},
		Table{Caption: say(), Head: []string{say(), say()}, Rows: [][]string{{say(), say()}, {"", ""}}, Right: []int{1}, Names: true, Note: say()},
		Picture{Title: say(), Description: say(), Size: drawing.Size{Width: 40, Height: 20}, Facts: &facts,
			Draw: func(c *drawing.Canvas, _ drawing.Rect) {
				c.Text(drawing.Point{X: 1, Y: 10}, drawn, drawing.Style{Size: 4})
			}},
	}}
}

// written is a page as a browser reads it: its elements and the names of their
// attributes, and all words, those in attributes too, each with a line of its own. Of
// the sides to print, where long words take more lines, each kind of element is there once.
func written(t require.TestingT, p *Page) (elements, words string) {
	var out bytes.Buffer
	require.NoError(t, p.HTML(&out))
	root, err := html.Parse(&out)
	require.NoError(t, err)
	var el, all strings.Builder
	var kinds []string
	for n := range root.Descendants() {
		switch n.Type {
		case html.ElementNode:
			element := "<" + n.Data
			for _, a := range n.Attr {
				element += " " + a.Key
				all.WriteString(a.Val + "\n")
			}
			element += ">\n"
			if !toPrint(n) {
				el.WriteString(element)
			} else if !slices.Contains(kinds, element) {
				kinds = append(kinds, element)
			}
		case html.TextNode:
			all.WriteString(n.Data + "\n")
		case html.CommentNode:
			el.WriteString("<!--\n")
		}
	}
	slices.Sort(kinds)
	return el.String() + strings.Join(kinds, ""), all.String()
}

// toPrint reports whether an element is on one of the sides to print.
func toPrint(n *html.Node) bool {
	for up := range n.Ancestors() {
		if slices.Contains(up.Attr, html.Attribute{Key: "class", Val: "paper"}) {
			return true
		}
	}
	return false
}

func TestPagesAsHTML(t *testing.T) {
	n := 0
	p := everyBlock(func() string { n++; return strings.Repeat("w", n) + "." })
	var out bytes.Buffer
	require.NoError(t, p.HTML(&out))
	compare(t, "every-block.html", out.Bytes())
}

// Names come from files that anybody may have written. The page is read back by the
// parser of golang.org/x/net, which follows the HTML standard. Whatever is in them, it is
// words on the page: never an element, an attribute or a remark.
func TestWordsStayWords(t *testing.T) {
	n := 0
	plain, _ := written(t, everyBlock(func() string { n++; return fmt.Sprint("word ", n) }))
	pieces := []string{`<script>alert(1)</script>`, `"`, `'`, `<`, `>`, `&`, `&lt;`, `&quot;`, `<!--`, `-->`, `</title>`, `</style>`, `</svg>`, `]]>`, ` onload=x `, `=`, "`", `word`, `é`} // all in the font of the drawings
	hostile := rapid.Custom(func(t *rapid.T) string {
		return "w" + strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 6).Draw(t, "pieces"), "") + "w"
	})
	rapid.Check(t, func(t *rapid.T) {
		var said []string
		p := everyBlock(func() string {
			said = append(said, fmt.Sprint(hostile.Draw(t, "words"), len(said))) // no two the same
			return said[len(said)-1]
		})
		elements, words := written(t, p)
		assert.Equal(t, plain, elements)
		for _, s := range said {
			assert.True(t, strings.Contains(words, s), "%q has become something else", s)
		}
	})
}

// A heading and the table under it need not both say the same.
func TestACaptionIsNotSaidTwice(t *testing.T) {
	p := Page{Blocks: []Block{Heading("Parts"), Table{Caption: "Parts"}, Table{Caption: "Others"}}}
	var out bytes.Buffer
	require.NoError(t, p.HTML(&out))
	assert.Contains(t, out.String(), `<caption class="said">Parts</caption>`)
	assert.Contains(t, out.String(), `<caption>Others</caption>`)
}
