package views_test

import (
	"bytes"
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/views"
)

var numbers = regexp.MustCompile(`:-?[0-9][0-9.e+-]*`)

// Files may have been altered by hand. Whatever numbers stand in them, they are
// refused or drawn, without a panic.
func TestAlteredFilesAreRefusedOrDrawn(t *testing.T) {
	data, err := os.ReadFile("testdata/three-stages.json")
	require.NoError(t, err)
	places := numbers.FindAllIndex(data[:bytes.Index(data, []byte(`"rank":2`))], -1)
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		at := places[rapid.IntRange(0, len(places)-1).Draw(t, "place")]
		value := rapid.SampledFrom([]string{"0", "-5", "0.001", "2999", "9999", "-9999", "1", "40"}).Draw(t, "value")
		text := string(data[:at[0]+1]) + value + string(data[at[1]:])
		c, err := certificate.Read([]byte(text))
		if err != nil {
			return
		}
		built, err := assembly.Of(&c.Brief, &c.Proposals[0])
		if err != nil {
			return
		}
		d, err := views.Of(&c.Brief, &c.Proposals[0], built)
		if err != nil {
			return
		}
		p := drawing.NewPage(drawing.A4, "test")
		d.Both(&p.Canvas, p.Size.Bounds().Inset(12))
		d.Templates(drawing.A4, "")
		require.NotEmpty(t, d.Describe())
		drawn++
	})
	require.Positive(t, drawn)
}
