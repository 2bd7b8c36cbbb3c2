package certificate_test

import (
	"bytes"
	"encoding/json"
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

// A drive of a contest is read with the brief that it was entered as, and others as they are.
func TestDrivesForARank(t *testing.T) {
	whole, err := os.ReadFile(filepath.Join("..", "views", "testdata", "carousel.json"))
	require.NoError(t, err)
	plain, err := certificate.Read(whole)
	require.NoError(t, err)
	var keys map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(whole, &keys))
	entered := bytes.Replace(keys["brief"], []byte(plain.Brief.Name), []byte("Entered"), 1)
	data := []byte(`{"kind": "findrive challenge", "drives": [{"rank": 1}, {"entered_as": ` + string(entered) + `}, {"entered_as": {"name": 3}}], "certificate": ` + string(whole) + `}`)
	for rank, want := range map[int]string{0: plain.Brief.Name, 1: plain.Brief.Name, 2: "Entered", 4: plain.Brief.Name} {
		c, err := certificate.DrivesFor(data, rank)
		require.NoError(t, err)
		assert.Equal(t, want, c.Brief.Name)
		assert.Equal(t, plain.Proposals, c.Proposals)
	}
	_, err = certificate.DrivesFor(data, 3)
	require.ErrorContains(t, err, "drive 3: what it was entered as")
	same, err := certificate.DrivesFor(whole, 1)
	require.NoError(t, err)
	assert.Equal(t, plain, same)
	_, err = certificate.DrivesFor([]byte("{"), 1)
	require.Error(t, err)
}
