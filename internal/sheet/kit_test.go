package sheet

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/drawing"
	"findrive/internal/parts"
)

func cupboard(t testing.TB) *parts.Cupboard {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	return cup
}

// A pencil goes into a box of 8 mm: every box to write in on a count sheet is that
// high and that wide.
func TestCountBoxesAreWideEnough(t *testing.T) {
	for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
		for _, cup := range []*parts.Cupboard{nil, cupboard(t)} {
			p := Count(cup, "")
			boxes := 0
			for _, sheet := range p.Paper(paper).Pages {
				var got ink
				sheet.Paint(&got)
				for _, r := range got.lines {
					if r.Width() > 5 && r.Height() > 5 && r.Height() < 20 {
						boxes++
						assert.GreaterOrEqual(t, float64(r.Width()), 8-1e-9, "%s", p.Title)
						assert.GreaterOrEqual(t, float64(r.Height()), 8-1e-9, "%s", p.Title)
					}
				}
			}
			assert.Greater(t, boxes, 20, p.Title)
		}
	}
}

func TestKitCSV(t *testing.T) {
	c := saved(t, "buggy")
	c.Proposals[0].Uses[2].Places[0].Name = "=HYPERLINK(1)"
	c.Proposals[0].Uses[2].Name = "=HYPERLINK(1)"
	c.Proposals[0].Uses[3].Places[0].Location = "  @drawer"
	var out bytes.Buffer
	require.NoError(t, made(t, c).KitCSV(&out))
	require.True(t, bytes.HasPrefix(out.Bytes(), []byte("\ufeff")))
	rows, err := csv.NewReader(bytes.NewReader(out.Bytes()[3:])).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 5)
	text := out.String()
	assert.Contains(t, text, "'=HYPERLINK")
	assert.Contains(t, text, "'  @drawer")
	for _, r := range rows {
		for _, cell := range r {
			assert.False(t, strings.HasPrefix(cell, "=") || strings.HasPrefix(cell, "@"), cell)
		}
	}
}

// The kit of 8 buggies by hand: 8 of each pulley and a spare, half as many bands
// again, two sets of cells and one motor over as far as there are.
func TestKitCounts(t *testing.T) {
	lines, err := set(t, "buggy").kit()
	require.NoError(t, err)
	got := map[string][3]int{}
	for _, k := range lines {
		got[k.unit+" "+k.item] = [3]int{k.total, k.spare, k.have}
	}
	assert.Equal(t, [3]int{8, 0, 8}, got["motor slow"]) // no spare left
	assert.Equal(t, [3]int{8, 2, 12}, got["cells two"])
	assert.Equal(t, [3]int{8, 1, 16}, got["pulley motor-8"])
	assert.Equal(t, [3]int{16, 2, 18}, got["pulley axle-40"])
	assert.Equal(t, [3]int{16, 8, 60}, got["band no-31"])
	// Four wheels each: the cupboard has those of the free axles too.
	assert.Equal(t, [3]int{32, 4, 40}, got["wheel wheel-50"])
	// 8 axles of 120 mm, 8 of 140 mm and 8 free ones of 140 mm: two from a rod of
	// 300 mm, and one from each of the two offcuts of 150 mm, so eleven rods will do.
	assert.Equal(t, [3]int{11, 2, 24}, got["rod dowel-5"])
}
