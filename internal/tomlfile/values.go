package tomlfile

import (
	"strconv"
	"strings"
)

// Values are the tables, keys and values of a document as they were read, for showing
// them. A value that is no TOML, which has been noted, is false.
func (d *Document) Values() map[string]any { return d.root }

// Parts are the names in a key as Problem.Key has it: what Dotted puts together. A name that was
// cut short there stays so.
func Parts(key string) []string {
	var parts []string
	for key != "" {
		part := key
		if quoted, err := strconv.QuotedPrefix(key); err == nil {
			part = quoted
		} else if at := strings.IndexByte(key, '.'); at >= 0 {
			part = key[:at]
		}
		key = strings.TrimPrefix(key[len(part):], ".")
		if name, err := strconv.Unquote(part); err == nil {
			part = name
		}
		parts = append(parts, part)
	}
	return parts
}

// Dotted is the path of a key as Problem.Key has it.
func Dotted(parts ...string) string {
	var k path
	for _, p := range parts {
		k = k.join(p)
	}
	return k.String()
}
