package stocktake

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// One letter wrong in a word for a part is understood, and told; what is another word, or begins
// otherwise, is not taken for a part.
func TestSlips(t *testing.T) {
	for text, want := range map[string]string{
		"dowl": "axle", "dowels": "axle", "axel": "axle", "wheal 50 mm": "wheel", "Motro pulley": "pulley", "small pully wheel": "pulley",
		"batery holder 2 x AA": "cells", "skewres": "axle", "wahser": "spacer", "elastcs": "band",
		"spoon": "", "towel": "", "rotor": "", "space": "", "string": "cord", "spring": "", "bowl": "", "card": "", "reed": "", "battery": "",
	} {
		assert.Equal(t, want, kindIn(text).kind, text)
	}
	for text, told := range map[string]bool{"dowl": true, "batery holder": true, "small pully wheel": false, "dowel": false, "axels": false} {
		assert.Equal(t, told, kindIn(text).loosely, text)
	}
}
