package pdf

import (
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"

	"findrive/internal/drawing"
)

// Our measure of words against that of the PDF library, which reads the font by
// itself and rounds to a thousandth of the size for each letter.
func TestWidthsAgree(t *testing.T) {
	f := fpdf.New("P", "mm", "", "")
	f.AddUTF8FontFromBytes(family, "", drawing.FaceOf(false).File)
	f.AddUTF8FontFromBytes(family, "B", drawing.FaceOf(true).File)
	for _, bold := range []bool{false, true} {
		style := drawing.Style{Size: 10, Bold: bold}
		for _, words := range []string{"Mill wheel, 40 mm", "AVAVA To", "Größe Ø20 → Привет €", "iiiiiiii", ""} {
			f.SetFont(family, map[bool]string{true: "B"}[bold], 1)
			f.SetFontUnitSize(10)
			assert.InDelta(t, f.GetStringWidth(words), float64(style.Width(words)), 0.005*float64(len(words))+1e-9, words)
		}
	}
	assert.NoError(t, f.Error())
}

func TestWhatCannotBeFinished(t *testing.T) {
	f := fpdf.New("P", "mm", "", "")
	for _, file := range []string{"", "startxref\n9\n", "/Type /Catalog\n", "1 0 obj\n<<\n/Type /Catalog\n",
		"1 0 obj\n<<\n/Type /Catalog\ntrailer\n<<\n/Size 2\n/Root 1 0 R\n/Info 1 0 R\n>>\nstartxref\n9\n%%EOF\n"} {
		_, err := finished([]byte(file), newTags(f), false)
		assert.Error(t, err, file)
	}
}
