package certificate

import (
	"bytes"
	"fmt"
)

// Limits on a saved certificate. The thousand drives that can be asked for at most
// take a quarter of each or less; what is beyond them is refused before the JSON is
// read, for a few bytes of it can ask for a whole proposal's memory.
const (
	MaxBytes   = 64 << 20
	maxDepth   = 32
	maxObjects = 150_000
	maxValues  = 4_000_000
	maxText    = 20_000 // bytes
)

// overLimit says what of a document is too much, or nothing. It needs to know no more
// of JSON than texts and brackets.
func overLimit(data []byte) error {
	if len(data) > MaxBytes {
		return fmt.Errorf("it is over %d MB, which no certificate needs; %s", MaxBytes>>20, again)
	}
	depth, objects, values := 0, 0, 0
	for i := 0; i < len(data); i++ {
		switch data[i] {
		case '"':
			end := textEnd(data[i+1:])
			if end > maxText {
				return fmt.Errorf("line %d: it has a text of %d letters, which no certificate needs; %s", lineAt(data, i), end, again)
			}
			i += end + 1
		case '{', '[':
			if depth++; depth > maxDepth {
				return fmt.Errorf("line %d: it has brackets more than %d deep, which no certificate needs; %s", lineAt(data, i), maxDepth, again)
			}
			if data[i] == '{' {
				objects++
			}
		case '}', ']':
			depth--
		case ',':
			values++
		}
	}
	if objects > maxObjects || values > maxValues {
		return fmt.Errorf("it holds %d objects and %d values, more than a certificate needs: the most are %d and %d; %s", objects, values, maxObjects, maxValues, again)
	}
	return nil
}

// textEnd is how far it is to the quote mark that closes a text.
func textEnd(data []byte) int {
	for i := 0; ; i++ {
		n := bytes.IndexAny(data[i:], `"\`)
		if n < 0 {
			return len(data)
		}
		if i += n; data[i] == '"' {
			return i
		}
		if i++; i >= len(data) {
			return len(data)
		}
	}
}
