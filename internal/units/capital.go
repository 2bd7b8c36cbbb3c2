package units

import (
	"unicode"
	"unicode/utf8"
)

// Capital is words as a sentence begins. They may begin with a sign of money or an accent.
func Capital(words string) string {
	first, n := utf8.DecodeRuneInString(words)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + words[n:]
}
