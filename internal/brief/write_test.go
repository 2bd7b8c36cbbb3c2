package brief_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/tomledit"
)

// A brief written fact by fact into an empty file is read as it was; facts set in the
// file that it was read from change nothing either.
func TestFactsAreReadBack(t *testing.T) {
	texts := [][]byte{demo.Brief(), demo.StarterBrief()}
	files, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		texts = append(texts, data)
	}
	texts = append(texts,
		[]byte("model = \"plain shaft\"\nspeed = \"34 turns in 30 s\"\ncells = [4, 2]\n[load]\ntorque = \"20 g.cm\""+frame+"rails = [\"90 mm\", \"1 in\"]\nmotor_zone = \"right third\"\noutput_zone = [\"10 mm\", \"0 mm\", \"60 mm\", \"120 mm\"]\nground = \"20 mm\"\n[limits]\narc_min = \"111 deg\"\n[weights]\nstage = 0.3\n"),
		[]byte("model = \"lift\"\nspeed = \"30 mm/s\"\n[load]\nmass = \"100 g\"\ntackle_parts = [3, 1]\ntackle_efficiency = \"57 %\""+frame),
		[]byte("model = \"vehicle\"\nspeed = \"3 m in 10 s\"\ntolerance = \"57 %\"\n[load]\nmass = \"0.25 kg\"\nwheel = \"w\"\nslope = \"7 deg\""+frame))
	require.Greater(t, len(texts), 6)
	for _, data := range texts {
		want, err := brief.Read("b.toml", data)
		require.NoError(t, err)
		name := tomledit.Set(tomledit.Text(want.Name), "name")
		for _, from := range []string{"", string(data)} {
			text, err := tomledit.Apply("b.toml", []byte(from), append(want.Facts(), name)...)
			require.NoError(t, err)
			got, err := brief.Read("b.toml", text)
			require.NoError(t, err)
			assert.Equal(t, want, got)
		}
	}
}
