package certificate

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"findrive/internal/utf16text"
)

// PlainText is a saved file as UTF-8 without a mark at its beginning. Some shells save
// what a program prints as UTF-16, and some put a byte order mark before it.
func PlainText(data []byte) []byte {
	order := utf16text.Order(data)
	if order == nil {
		return bytes.TrimPrefix(data, []byte("\ufeff"))
	}
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	return bytes.TrimPrefix([]byte(string(utf16.Decode(units))), []byte("\ufeff"))
}

// again is what to do about a certificate that was damaged.
const again = "save it again with findrive propose -o"

// inWords says of what the JSON reader refused where it is and what would be right.
func inWords(data []byte, err error) error {
	return NotJSON(data, err, "certificate", again)
}

// NotJSON is the error of the JSON reader about a file, which is to be a certificate or
// another that findrive writes, in plain words: the line, what was found there and again,
// which says what to do.
func NotJSON(data []byte, err error, what, again string) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return errors.New("this is not JSON: the file is empty; " + again)
	case errors.As(err, &syntax) && int(syntax.Offset) >= len(data):
		return fmt.Errorf("line %d: this is not JSON, or not all of it: the file ends too soon; %s", lineAt(data, len(data)), again)
	case errors.As(err, &syntax):
		at := max(0, int(syntax.Offset)-1)
		return fmt.Errorf("line %d: this is not JSON: %s cannot stand here; %s", lineAt(data, at), sign(data[at:]), again)
	case errors.As(err, &kind) && kind.Field != "":
		return fmt.Errorf("line %d: %s: found %s, which cannot stand here; %s", lineAt(data, int(kind.Offset)-1), kind.Field, found(kind.Value), again)
	case errors.As(err, &kind):
		return errors.New("this is not a findrive " + what + "; " + again)
	}
	return errors.New("this is not a findrive " + what + ": a value in it cannot be read; " + again)
}

// sign is the first sign of a text, as it can be shown.
func sign(data []byte) string {
	switch found, size := utf8.DecodeRune(data); {
	case found == utf8.RuneError && size <= 1:
		return "a sign that is not text"
	case !unicode.IsPrint(found):
		return "a sign that cannot be seen"
	default:
		return strconv.Quote(string(found))
	}
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
