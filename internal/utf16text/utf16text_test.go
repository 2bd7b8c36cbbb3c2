package utf16text

import (
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOrder(t *testing.T) {
	for _, c := range []struct {
		text string
		want binary.ByteOrder
	}{
		{"", nil}, {"a", nil}, {"a\x00", nil}, {"abcd", nil}, {"a\x00\x00b", nil}, {"\xef\xbb\xbfab", nil},
		{"\xff\xfea\x00", binary.LittleEndian}, {"\xfe\xff\x00a", binary.BigEndian},
		{"a\x00b\x00", binary.LittleEndian}, {"\x00a\x00b", binary.BigEndian},
	} {
		assert.Equal(t, c.want, Order([]byte(c.text)), "%q", c.text)
	}
}
