// Package notices holds the licences of the libraries the program is built on.
package notices

import _ "embed"

//go:generate go run findrive/scripts/notices -o NOTICES.txt

//go:embed NOTICES.txt
var text string

// Text is each library in the program, with its version and its licence in full, in the
// order of their names; the standard library of Go first.
func Text() string { return text }
