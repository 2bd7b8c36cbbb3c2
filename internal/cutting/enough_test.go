package cutting

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

func TestEnough(t *testing.T) {
	rods := func(list ...units.Millimetres) []Stock {
		var out []Stock
		for _, l := range list {
			out = append(out, Stock{Length: l, Count: 1})
		}
		return out
	}
	for _, c := range []struct {
		name   string
		pieces []Piece
		stock  []Stock
		want   bool
	}{
		{"an inner and an output axle from 300 mm", []Piece{{Length: 138, Count: 1}, {Length: 153, Count: 1}}, rods(300), true},
		{"two output axles do not come from it", []Piece{{Length: 153, Count: 2}}, rods(300), false},
		{"with the kerf between them only", []Piece{{Length: 100, Count: 3}}, rods(302), true},
		{"a hair less", []Piece{{Length: 100, Count: 3}}, rods(301.9), false},
		{"rods of two lengths", []Piece{{Length: 138, Count: 1}, {Length: 153, Count: 1}}, rods(140, 160), true},
		// Longest first puts 60 + 60 into 121 and then has no room for 40 + 40 + 40.
		{"first fit fails, another way does not", []Piece{{Length: 60, Count: 2}, {Length: 40, Count: 4}}, rods(142, 142), true},
		{"nothing to cut", nil, nil, true},
		{"nothing to cut from", []Piece{{Length: 60, Count: 1}}, nil, false},
		{"no sense", []Piece{{Length: -60, Count: 1}}, rods(100), false},
	} {
		assert.Equal(t, c.want, Enough(c.pieces, c.stock, Kerf), c.name)
	}
}

// The search for the least stock has every piece cut exactly where Enough says so.
func TestEnoughIsThatOfCuts(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var pieces []Piece
		for range rapid.IntRange(1, 3).Draw(t, "lengths") {
			pieces = append(pieces, Piece{Length: units.Millimetres(rapid.IntRange(30, 160).Draw(t, "piece")), Count: rapid.IntRange(1, 5).Draw(t, "count")})
		}
		var stock []Stock
		for range rapid.IntRange(1, 3).Draw(t, "rods") {
			stock = append(stock, Stock{Length: units.Millimetres(rapid.IntRange(100, 400).Draw(t, "rod")), Count: rapid.IntRange(1, 3).Draw(t, "count")})
		}
		_, err := Cuts(pieces, stock, Kerf)
		var short *ShortError
		if got := Enough(pieces, stock, Kerf); got == errors.As(err, &short) {
			t.Fatalf("%v from %v: enough %t, cuts say %v", pieces, stock, got, err)
		}
		most := MostSets(pieces, stock, Kerf, 20)
		times := func(n int) []Piece {
			var out []Piece
			for _, p := range pieces {
				out = append(out, Piece{Length: p.Length, Count: n * p.Count})
			}
			return out
		}
		if !Enough(times(most), stock, Kerf) || most < 20 && Enough(times(most+1), stock, Kerf) {
			t.Fatalf("%v from %v: not %d sets", pieces, stock, most)
		}
	})
}
