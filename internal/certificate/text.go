package certificate

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// plainText is a saved file as UTF-8 without a mark at its beginning. Some shells save
// what a program prints as UTF-16, and some put a byte order mark before it.
func plainText(data []byte) []byte {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = binary.BigEndian
	default:
		return bytes.TrimPrefix(data, []byte("\ufeff"))
	}
	data = data[2:]
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return []byte(string(utf16.Decode(units)))
}

// inWords says of what the JSON reader refused where it is and what would be right.
func inWords(data []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	const again = "save it again"
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return errors.New("this is not JSON: the file is empty; " + again)
	case errors.As(err, &syntax) && int(syntax.Offset) >= len(data):
		return fmt.Errorf("line %d: this is not JSON, or not all of it: the file ends too soon; %s", lineAt(data, len(data)), again)
	case errors.As(err, &syntax):
		at := max(0, int(syntax.Offset)-1)
		found, _ := utf8.DecodeRune(data[at:])
		return fmt.Errorf("line %d: this is not JSON: %q cannot stand here; %s", lineAt(data, at), found, again)
	case errors.As(err, &kind) && kind.Field != "":
		return fmt.Errorf("line %d: %s: found %s, which cannot stand here; %s", lineAt(data, int(kind.Offset)-1), kind.Field, found(kind.Value), again)
	case errors.As(err, &kind):
		return errors.New("this is not a findrive certificate")
	}
	return errors.New("this is not a findrive certificate: a value in it cannot be read; " + again)
}

// found is a kind of value in plain words.
func found(value string) string {
	word, rest, _ := strings.Cut(value, " ")
	switch word {
	case "string":
		return "a text"
	case "bool":
		return "true or false"
	case "array":
		return "a list"
	case "object":
		return "a group of keys in { }"
	case "number":
		return strings.TrimSpace("the number " + rest)
	}
	return "a value"
}

func lineAt(data []byte, at int) int {
	return 1 + bytes.Count(data[:min(max(at, 0), len(data))], []byte("\n"))
}
