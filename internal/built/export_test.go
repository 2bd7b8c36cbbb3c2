package built

import (
	"context"

	"findrive/internal/units"
)

// Advise answers a symptom alone, of which nothing else is said.
func Advise(ctx context.Context, b *Build, sym Symptom) (*Advice, error) {
	return b.advise(ctx, sym, false)
}

// Checks are all checks with what each shows.
func Checks() []Check {
	var out []Check
	for _, c := range checks {
		out = append(out, Check{Do: c.do, Tells: c.tells})
	}
	return out
}

// Moves is how well what would run so fast tells why what is due was counted otherwise.
func Moves(sign Symptom, due, counted, would units.RPM) float64 {
	e := evidence{signs: []Symptom{sign}, counts: []Count{{Turns: counted}}, due: due}
	return e.moves(&tampered{is: runs, turns: would})
}
