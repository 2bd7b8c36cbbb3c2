package certificate

import (
	"bytes"
	"encoding/binary"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a Windows shell makes of a certificate is read as the certificate is.
func TestReadFromOtherShells(t *testing.T) {
	data := file(t, "lift.json")
	want, err := Read(data)
	require.NoError(t, err)
	for name, order := range map[string]binary.ByteOrder{"\xff\xfe": binary.LittleEndian, "\xfe\xff": binary.BigEndian} {
		wide := []byte(name)
		for _, u := range utf16.Encode([]rune(string(bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))))) {
			var two [2]byte
			order.PutUint16(two[:], u)
			wide = append(wide, two[:]...)
		}
		for _, text := range [][]byte{wide, wide[len(name):]} { // with a mark and without
			got, err := Read(text)
			require.NoError(t, err)
			assert.Equal(t, want, got)
		}
	}
	got, err := Read(append([]byte("\ufeff"), data...))
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

// A mistake has its line and key, and no word of how the program is made.
func TestMistakesHaveLineAndKey(t *testing.T) {
	for data, want := range map[string]string{
		"{\n\"schema\": \"one\"\n}":        `line 2: schema: found a text, which cannot stand here; save it again with findrive propose -o`,
		"{\n\"brief\": {\n\"sets\": 1.5}}": `line 3: brief.sets: found the number 1.5, which cannot stand here; save it again with findrive propose -o`,
		"{\n\"schema\": 1,\n,}":            `line 3: this is not JSON: "," cannot stand here; save it again with findrive propose -o`,
		"{\n\"schema\": 1,\n":              `line 3: this is not JSON, or not all of it: the file ends too soon; save it again with findrive propose -o`,
		"":                                 `this is not JSON: the file is empty; save it again with findrive propose -o`,
		"[]":                               `this is not a findrive certificate; save it again with findrive propose -o`,
	} {
		_, err := Read([]byte(data))
		assert.EqualError(t, err, want)
	}
}
