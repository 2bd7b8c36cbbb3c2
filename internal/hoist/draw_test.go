package hoist

import (
	"fmt"

	"pgregory.net/rapid"

	"findrive/internal/parts"
	"findrive/internal/units"
)

func drawBrief(t *rapid.T) *Brief {
	return &Brief{
		Name: "drawn", Mass: units.Grams(rapid.SampledFrom([]float64{0, 50, 200, 1000}).Draw(t, "mass")),
		Lift: units.Millimetres(rapid.IntRange(50, 400).Draw(t, "lift")), Beam: units.Millimetres(rapid.IntRange(500, 1500).Draw(t, "beam")),
		Hook: 60, Pull: units.Newtons(rapid.Float64Range(0.5, 20).Draw(t, "pull")), Way: Way(rapid.SampledFrom(ways()).Draw(t, "way")),
		StandOff: 300, Sets: rapid.IntRange(1, 3).Draw(t, "sets"), Prefer: rapid.SampledFrom([]Preference{Simplest, Lightest}).Draw(t, "prefer"),
	}
}

func drawCupboard(t *rapid.T) *parts.Cupboard {
	var blocks []parts.Block
	for i := range rapid.IntRange(1, 4).Draw(t, "kinds") {
		b := block(fmt.Sprintf("b%d", i), rapid.IntRange(1, 3).Draw(t, "sheaves"), rapid.IntRange(1, 6).Draw(t, "count"))
		switch rapid.IntRange(0, 2).Draw(t, "axle") {
		case 0:
			b.Bore, b.Axle = 0, 0
		case 1:
			b.AxleMaterial = parts.Steel
		}
		b.GrooveFloor = units.Millimetres(rapid.Float64Range(8, 28).Draw(t, "floor"))
		b.HomeMade = rapid.Bool().Draw(t, "home") && b.Bore > 0
		if b.HomeMade {
			b.Sheet, b.Spacer, b.SheetKind, b.Drop, b.Nose = 4, 1.5, parts.FlutedPlastic, 0, 0
		}
		blocks = append(blocks, b)
	}
	return cupboard(blocks...)
}
