package sheet

import (
	"strconv"
	"strings"
	"unicode"
)

// mostSlug keeps file names short enough for every disc.
const mostSlug = 40

// Slug is a name for a file: letters and figures of a brief's name in small letters,
// anything else a hyphen.
func Slug(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case b.Len() >= mostSlug:
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "drive"
}

// FileName is what a page's file is called, without its ending.
func FileName(brief string, rank int, page string) string {
	return Slug(brief) + "-" + strconv.Itoa(rank) + "-" + page
}
