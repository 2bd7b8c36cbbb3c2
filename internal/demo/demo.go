// Package demo holds the built-in files: an example cupboard and briefs of an
// invented school, and a starter of each with every key explained, to fill in.
package demo

import (
	_ "embed"
	"slices"
)

//go:embed cupboard.toml
var cupboard []byte

//go:embed brief.toml
var brief []byte

//go:embed hoist.toml
var hoist []byte

//go:embed prices.toml
var prices []byte

//go:embed drive.toml
var driveBuilt []byte

//go:embed starter_drive.toml
var starterDrive []byte

//go:embed starter_cupboard.toml
var starterCupboard []byte

//go:embed starter_brief.toml
var starterBrief []byte

//go:embed starter_prices.toml
var starterPrices []byte

//go:embed starter_hoist.toml
var starterHoist []byte

// Cupboard is the example cupboard.toml.
func Cupboard() []byte { return slices.Clone(cupboard) }

// Brief is the example brief.toml; drives for it can be built from Cupboard.
func Brief() []byte { return slices.Clone(brief) }

// Prices is the example price list, invented, for Cupboard.
func Prices() []byte { return slices.Clone(prices) }

// Hoist is the example hoist.toml; it can be rove from the blocks of Cupboard.
func Hoist() []byte { return slices.Clone(hoist) }

// StarterCupboard is a cupboard.toml with one part of each kind and every key
// of it, optional ones as comments.
func StarterCupboard() []byte { return slices.Clone(starterCupboard) }

// StarterBrief is a brief.toml with every key, optional ones as comments.
func StarterBrief() []byte { return slices.Clone(starterBrief) }

// StarterPrices is a price list for StarterCupboard with every key, optional ones as
// comments.
func StarterPrices() []byte { return slices.Clone(starterPrices) }

// StarterHoist is a hoist.toml with every key, optional ones as comments.
func StarterHoist() []byte { return slices.Clone(starterHoist) }

// Drive is the example drive.toml, a drive built from the parts of Cupboard that
// goes too fast.
func Drive() []byte { return slices.Clone(driveBuilt) }

// StarterDrive is a drive.toml of parts of StarterCupboard with every key, optional
// ones as comments.
func StarterDrive() []byte { return slices.Clone(starterDrive) }
