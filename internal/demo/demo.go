// Package demo holds the built-in example, a cupboard and a brief of an invented
// school, which also serve as the files to start from.
package demo

import _ "embed"

//go:embed cupboard.toml
var cupboard []byte

//go:embed brief.toml
var brief []byte

// Cupboard is the example cupboard.toml.
func Cupboard() []byte { return append([]byte(nil), cupboard...) }

// Brief is the example brief.toml.
func Brief() []byte { return append([]byte(nil), brief...) }
