package built

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
)

// TestQuoted has numbers of cells and parts that are not those of the file: the buggy has two
// cells, pulleys 6, 40, 15 and 40, bands 16 and 32, and wheels of 50 mm.
func TestQuoted(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	data, err := os.ReadFile("testdata/blind/buggy.toml")
	require.NoError(t, err)
	b, err := Read("buggy.toml", data, cup)
	require.NoError(t, err)
	for words, want := range map[string][]Fault{
		"there are 3 batteries in it":                         {CellsMany},
		"we put four cells in because two were too weak":      {CellsMany},
		"only one battery was left":                           {CellsFew},
		"they took the single battery box":                    {CellsFew},
		"ours has one battery and it should have two":         {CellsFew},
		"both batteries are new":                              nil,
		"the 2 batteries are new":                             nil,
		"one of the batteries is warm":                        nil,
		"one battery is the wrong way round, the two differ":  nil,
		"the plan asks for a 16 and we put on a band 33":      {BandWrong},
		"it has a 60 disc":                                    {PulleyWrong},
		"there should be a 40 disc and it is a 60":            {PulleyWrong},
		"the 40 and the 15 got muddled up":                    {PulleysSwapped},
		"it does 3 metres in 40 seconds with the 16 band on":  nil,
		"it is about 60 seconds until the 40 disc has slowed": nil,
	} {
		assert.Equal(t, want, b.quoted(words), words)
	}
}

// TestTake has numbers decide what there is more of, where words leave it open.
func TestTake(t *testing.T) {
	e := evidence{names: []Fault{CellsFew}, tells: []Naming{{Fault: CellsFew, Worth: 9}, {Fault: CellsMany, Worth: 2}}}
	e.take([]Fault{CellsMany})
	assert.Equal(t, []Fault{CellsMany}, e.names)
	assert.Equal(t, []Naming{{Fault: CellsFew, Worth: 2}, {Fault: CellsMany, Worth: 9}}, e.tells)
}
