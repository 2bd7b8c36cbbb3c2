package stocktake

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Text is what stands in a file that is no workbook, whatever its letters are coded in. The error is
// a plain sentence.
func Text(data []byte) (string, error) {
	text, _, err := decode(data)
	return text, err
}

// decode makes text of bytes: UTF-8, with a byte order mark or without, UTF-16
// with one, and otherwise Windows-1252, which office programs of Western Europe
// write. Lines end in a line feed. how says what was taken for granted; it may be
// empty.
func decode(data []byte) (text, how string, err error) {
	if len(data) > MaxBytes {
		return "", "", fmt.Errorf("the file has over %d MB, which no stock list needs: is it the right one?", MaxBytes>>20)
	}
	if say := notText(data); say != "" {
		return "", "", errors.New(say)
	}
	var from encoding.Encoding = unicode.UTF8
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		how = "read as UTF-16 text"
	case !utf8.Valid(data):
		from, how = charmap.Windows1252, "read as Windows-1252 text (letters such as é and signs such as ½ may be wrong if it is something else)"
	}
	out, _, err := transform.Bytes(unicode.BOMOverride(from.NewDecoder()), data)
	if err != nil {
		return "", "", fmt.Errorf("this is not text: %w", err)
	}
	if bytes.IndexByte(out, 0) >= 0 {
		return "", "", errors.New("this is not a text file: save the spreadsheet as XLSX, ODS or CSV")
	}
	text = strings.ReplaceAll(string(out), "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), how, nil
}
