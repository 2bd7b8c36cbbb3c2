package certificate_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/certificate"
)

// An answer's certificate is read as one that is saved by itself; what is neither is
// refused as Read refuses it.
func TestDrivesOfAnAnswer(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("..", "views", "testdata", "carousel.json"))
	require.NoError(t, err)
	want, err := certificate.Read(whole)
	require.NoError(t, err)
	in := func(kind, rest string) []byte { return []byte(`{"schema": 1, "kind": "` + kind + `"` + rest + "}") }
	for name, data := range map[string][]byte{
		"a certificate":          whole,
		"a replacement":          in("findrive swap", `, "certificate": `+string(whole)),
		"a contest":              in("findrive challenge", `, "certificate": `+string(whole)),
		"with a byte order mark": append([]byte("\ufeff"), in("findrive swap", `, "certificate": `+string(whole))...),
	} {
		got, err := certificate.Drives(data)
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
	}
	for name, bad := range map[string]struct {
		data []byte
		says string
	}{
		"no replacement":      {in("findrive swap", ""), "another of its kind takes the place"},
		"null":                {in("findrive swap", `, "certificate": null`), "another of its kind takes the place"},
		"no entry":            {in("findrive challenge", ""), "no drive can enter"},
		"something else":      {in("findrive ideas", `, "certificate": `+string(whole)), "not a findrive certificate"},
		"a broken one within": {in("findrive swap", `,`+"\n\n"+` "certificate": {"kind": "findrive certificate", "schema": 1}`), "the drives in it: line 3: schema: this certificate is of schema 1"},
		"a text within":       {in("findrive swap", `, "certificate": "x"`), "the drives in it"},
		"nothing":             {nil, "the file is empty"},
		"half":                {whole[:len(whole)/2], "not JSON"},
	} {
		_, err := certificate.Drives(bad.data)
		assert.ErrorContains(t, err, bad.says, name)
	}
}
