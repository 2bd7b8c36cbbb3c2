package hoist

import (
	"findrive/internal/parts"
	"findrive/internal/units"
)

// LessonRow is one arrangement of the lesson: the same load, the same lift.
type LessonRow struct {
	Hoist
	// Missing says what the cupboard lacks to build it, empty if nothing. The
	// figures are then those observed on other tackles.
	Missing string
}

// lessonShapes are the arrangements of the lesson, easiest first: one fixed, one
// moving, two singles, double over single, two doubles.
var lessonShapes = []struct {
	tied  Place
	turns int
}{{Load, 1}, {Beam, 1}, {Beam, 2}, {Load, 3}, {Beam, 4}}

// lesson works the arrangements out for a load. The wishes of the brief, its pull and its
// room, do not matter: it is the comparison that teaches.
func lesson(cup *parts.Cupboard, b *Brief, load units.Grams, cord *parts.Cord) []LessonRow {
	same := *b
	same.Mass = load
	rows := make([]LessonRow, 0, len(lessonShapes))
	for _, shape := range lessonShapes {
		r := Reeving{Tied: shape.tied, Turns: shape.turns, Cord: cord}
		row, ok := fromCupboard(cup, r, &same)
		if !ok {
			r.Fixed, r.Moving = unmeasured(r.FixedTurns()), unmeasured(r.MovingTurns())
			row = LessonRow{Hoist: workOut(r, &same), Missing: missing(cup, &r)}
			row.Assumed = nil
		}
		rows = append(rows, row)
	}
	return rows
}

// fromCupboard is the row with the blocks that need the least pull of those there
// are enough of for one hoist.
func fromCupboard(cup *parts.Cupboard, r Reeving, b *Brief) (LessonRow, bool) {
	var best *Hoist
	for _, fixed := range holding(cup, r.FixedTurns()) {
		for _, moving := range holding(cup, r.MovingTurns()) {
			r.Fixed, r.Moving = fixed, moving
			if fixed != nil && moving == fixed && fixed.Count < 2 {
				continue
			}
			h := workOut(r, b)
			// No sheave empty, where that can be; then the least pull.
			if best == nil || h.Idle() < best.Idle() || h.Idle() == best.Idle() && centinewtons(h.Raising.Likely) < centinewtons(best.Raising.Likely) {
				best = &h
			}
		}
	}
	if best == nil {
		return LessonRow{}, false
	}
	return LessonRow{Hoist: *best}, true
}

// unmeasured is a block of the usual size of which nothing is known; nil for no
// sheaves.
func unmeasured(sheaves int) *parts.Block {
	if sheaves == 0 {
		return nil
	}
	const outside units.Millimetres = 30
	return &parts.Block{
		Item:    parts.Item{Name: sheaveWords[sheaves], Count: 1},
		Sheaves: sheaves, Outside: outside, GrooveFloor: outside - 4, GrooveWidth: 3, Drop: outside/2 + 20, Nose: outside/2 + 5,
		Mass: 10 + 8*units.Grams(sheaves),
	}
}

// missing names the blocks a reeving needs beyond those of the cupboard.
func missing(cup *parts.Cupboard, r *Reeving) string {
	most := max(r.FixedTurns(), r.MovingTurns())
	lacking := 1
	if r.FixedTurns() == r.MovingTurns() {
		lacking = 2
	}
	for _, b := range holding(cup, most) {
		lacking = max(1, lacking-b.Count)
	}
	return Count(lacking, sheaveWords[most]+" block")
}
