package main

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// types puts words into a field as keys do, without leaving it.
func (b *tab) types(id, words string) {
	b.t.Helper()
	b.run(fmt.Sprintf("const el = document.getElementById(%q); el.focus(); el.select(); document.execCommand('insertText', false, %q)", id, words))
}

// What was put into a form and not sent stays there, whatever else is done meanwhile: when another
// field has been gone to, another act has brought the page anew, or the step has been left and
// come back to. What was sent, or opened from a file, is shown as it was taken.
func TestWhatIsTypedStays(t *testing.T) {
	b := open(t)
	b.click("still")
	b.click("licences") // the page is laid in anew
	assert.Equal(t, "true", eval[string](b, `document.getElementById("still").getAttribute("aria-pressed")`))
	b.click("licences")

	b.click("door-list")
	b.types("list-text", "Item\tSize\tHow many\nred pulley\t\t4\nblue pulley\t\t6\ngreen pulley\t40 mm\t8\n")
	b.click("back-cupboard")
	b.click("to-list")
	assert.Contains(t, b.value("list-text"), "blue pulley")
	b.click("list-go")
	require.NotNil(t, b.text("left-2"))
	b.run("document.getElementById('left-2-mend').open = true")
	b.types("left-2-size", "35 mm")
	b.types("left-1-size", "50 mm")
	b.click("licences")
	assert.Equal(t, "35 mm", b.value("left-2-size"))
	assert.Equal(t, "50 mm", b.value("left-1-size"))
	b.click("left-1-go")
	assert.Contains(t, b.text("kind-pulley"), "red-pulley")
	assert.Equal(t, "35 mm", b.value("left-2-size"), "rows keep their own when others are dealt with")
	b.click("left-2-go")
	assert.Contains(t, b.text("kind-pulley"), "blue-pulley")

	b.click("to-list")
	b.types("list-text", "red pulley;8\nblue pulley;9\n")
	b.click("list-go")
	assert.Contains(t, b.text("column-1-has"), "red pulley")
	b.types("list-text", "12;yellow pulley 40 mm\n14;white pulley 30 mm\n")
	b.click("list-headings")
	assert.Contains(t, b.text("column-1-has"), "12", "what is read is what stands there")

	b.click("go-buy")
	b.types("prices-text", "Supplier, Kind, Part, Pack, Price\n")
	b.click("licences")
	assert.Equal(t, "Supplier, Kind, Part, Pack, Price\n", b.value("prices-text"))
}
