// Package utf16text tells text that is saved as UTF-16, as some shells and editors do,
// from other text.
package utf16text

import (
	"bytes"
	"encoding/binary"
)

// Order is the byte order of UTF-16 text that has a mark at its beginning, or begins with
// two signs of ASCII as all files of ours do: then every other byte is NUL (RFC 4627,
// section 3). Nil if it is neither.
func Order(data []byte) binary.ByteOrder {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return binary.BigEndian
	case len(data) < 4:
		return nil
	case data[0] != 0 && data[1] == 0 && data[2] != 0 && data[3] == 0:
		return binary.LittleEndian
	case data[0] == 0 && data[1] != 0 && data[2] == 0 && data[3] != 0:
		return binary.BigEndian
	}
	return nil
}
