package design

import (
	"cmp"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// What is said to decide between equals is what the tie rule goes by: whichever of two
// arrangements it puts first, that one has a difference to name and the other none.
func TestDecidesAsTieDoes(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	for size := units.Millimetres(30); size < 60; size += 10 {
		cup.Wheels = append(cup.Wheels, parts.Wheel{Item: parts.Item{Name: fmt.Sprint("w", size), Count: 8}, Diameter: size, Bore: 5, Width: 8})
	}
	const buggy = "name = \"buggy\"\nmodel = \"vehicle\"\nspeed = \"0.25 m/s\"\n[load]\nmass = \"200 g\"\n[frame]\nlength = \"220 mm\"\nheight = \"70 mm\"\ndepth = \"90 mm\"\n"
	for _, text := range []string{string(demo.Brief()), buggy} {
		b, err := brief.Read("brief.toml", []byte(text))
		require.NoError(t, err)
		tk := newTask(cup, b)
		var all []node
		for h := range tk.heads {
			for i := range 3 {
				n := node{head: int16(h)}
				for n.chosen < int8(2*tk.heads[h].stages) {
					n.pulleys[n.chosen] = int16((h*5 + i*int(n.chosen+1)) % len(tk.pulleys))
					n.chosen++
				}
				all = append(all, n)
			}
		}
		require.NotEmpty(t, all)
		p := problem{task: tk}
		for i := range all {
			for j := range all {
				x, y := &Proposal{order: tk.orderOf(&all[i])}, &Proposal{order: tk.orderOf(&all[j])}
				at, _ := Decides(x, y)
				back, _ := Decides(y, x)
				assert.Equal(t, p.Tie(all[i], all[j]), cmp.Compare(back, Nowhere)-cmp.Compare(at, Nowhere))
			}
		}
	}
}
