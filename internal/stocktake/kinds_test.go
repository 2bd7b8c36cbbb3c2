package stocktake

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A holder that says that it holds cells is one for cells, wherever it says so; any other is not.
func TestHoldersOfCells(t *testing.T) {
	for text, want := range map[string]string{
		"Holder 1 x AA": "cells", "holder for 1 AA cell": "cells", "Holders, 2 batteries": "cells", "AA holder": "cells", "holder": "cells",
		"bulb holder": "", "holder for pens": "", "box of AA cells": "", "bulb holder for AA torch": "",
	} {
		assert.Equal(t, want, kindIn(text).kind, text)
	}
}
