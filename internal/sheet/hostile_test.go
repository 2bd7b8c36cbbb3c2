package sheet

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

var figures = regexp.MustCompile(`:\s*(-?[0-9][0-9.e+-]*|null|true|false|"[^"]*")`)

// Files may have been altered by hand. Whatever stands in them, they are refused
// or every page is written, without a panic and in good time.
func TestAlteredFilesAreRefusedOrWritten(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "views", "testdata", "buggy.json"))
	require.NoError(t, err)
	places := figures.FindAllSubmatchIndex(data[:bytes.Index(data, []byte(`"rank":2`))], -1)
	require.Greater(t, len(places), 300)
	written := 0
	rapid.Check(t, func(t *rapid.T) {
		at := places[rapid.IntRange(0, len(places)-1).Draw(t, "place")]
		value := rapid.SampledFrom([]string{"0", "-5", "0.001", "9999", "-9999", "1", "40", "1e300", "null", `"word"`, `""`}).Draw(t, "value")
		text := string(data[:at[2]]) + value + string(data[at[3]:])
		c, err := certificate.Read([]byte(text))
		if err != nil {
			return
		}
		s, err := New(c, 1, DefaultOptions())
		if err != nil {
			return
		}
		// The drawings have such a test of their own.
		for _, name := range []string{BuildPage, PupilsPage, AnswersPage, KitPage} {
			p, ok, err := s.Page(name)
			if require.True(t, ok); err != nil {
				continue // what cannot be sawn is said
			}
			plainText(&p)
			if name != BuildPage {
				require.NotEmpty(t, p.Paper(drawing.A4).Pages)
			}
		}
		_ = s.KitCSV(io.Discard)
		written++
	})
	require.Positive(t, written)
}
