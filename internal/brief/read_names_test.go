package brief_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// A name or number in the brief that the cupboard has not got is a mistake at
// its place.
func TestReadForKnowsTheCupboard(t *testing.T) {
	item := func(name string) parts.Item { return parts.Item{Name: name, Count: 1} }
	full := &parts.Cupboard{
		Wheels:  []parts.Wheel{{Item: item("card-60")}, {Item: item("wooden-50")}},
		Drums:   []parts.Drum{{Item: item("reel")}},
		Holders: []parts.CellHolder{{Item: item("x"), Cells: 2}, {Item: item("y"), Cells: 1}, {Item: item("z"), Cells: 2}},
	}
	const vehicle = "model = \"vehicle\"\nspeed = \"0.3 m/s\"\n"
	const lift = "model = \"lift\"\nspeed = \"0.1 m/s\"\n"
	for _, c := range []struct {
		name, data string
		cup        *parts.Cupboard
		want       string
	}{
		{"a wheel", vehicle + load + "wheel = \"woden-50\"" + frame, full,
			`b.toml:6:9: load.wheel: found "woden-50", which is not in the cupboard, did you mean "wooden-50"?`},
		{"nothing like it", vehicle + load + "wheel = \"tyre\"" + frame, full,
			`b.toml:6:9: load.wheel: found "tyre", which is not in the cupboard; it can be card-60 or wooden-50`},
		{"a drum", lift + load + "drum = \"spool\"" + frame, full,
			`b.toml:6:8: load.drum: found "spool", which is not in the cupboard; it can be reel`},
		{"no drum at all", lift + load + "drum = \"spool\"" + frame, &parts.Cupboard{},
			`b.toml:6:8: load.drum: found "spool", and the cupboard has no drum at all: write it there as [drum.NAME]`},
		{"cells", vehicle + "cells = [4, 3]\n" + load + frame, full,
			`b.toml:3:9: cells: the cupboard has no holder for 3 or 4 cells: it has holders for 1, 2`},
		{"no cells at all", vehicle + "cells = [1]\n" + load + frame, &parts.Cupboard{},
			`b.toml:3:9: cells: the cupboard has no cells at all: write them there as [cells.NAME]`},
		{"one of the cells is enough", vehicle + "cells = [2, 3]\n" + load + frame, full, ""},
		{"what is there", vehicle + "cells = [1]\n" + load + "wheel = \"card-60\"" + frame, full, ""},
		{"nothing named, nothing missed", vehicle + load + frame, &parts.Cupboard{}, ""},
		{"mistakes are told once", vehicle + "cells = [9]\n" + load + "wheel = 5" + frame, full,
			"b.toml:3:9: cells: found 9 in the list, it must be of whole numbers from 1 to 8, such as [1, 2]\nb.toml:7:9: load.wheel: found 5, a text in quotes is needed"},
		{"no cupboard to look in", vehicle + "cells = [8]\n" + load + "wheel = \"any\"" + frame, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := brief.ReadFor("b.toml", []byte(c.data), c.cup)
			if c.want == "" {
				require.NoError(t, err)
				assert.NotNil(t, b)
				return
			}
			require.Error(t, err)
			assert.Equal(t, c.want, err.Error())
			assert.Nil(t, b)
		})
	}
}
