package page

import (
	"context"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/pause"
)

// Idle does beforehand, while nothing is asked, what will be asked next: ctx ends when
// something is. It changes nothing that is shown.
func (s *Session) Idle(ctx context.Context) {
	if s.Step == stepBuilt {
		built.Prepare()
	}
	for ; s.rehearsed < rehearsals && pause.Err(ctx) == nil; s.rehearsed++ {
		if rehearse(ctx); pause.Err(ctx) != nil {
			return // the next time it is begun anew
		}
	}
}

// rehearsals is how often the searches of the examples are rehearsed. A browser makes quick code
// only of what has been run for a while, and with none a first search takes twice as long.
const rehearsals = 3

// rehearse searches the examples, which between them have a ride on an upright axle and one on a
// level axle, and gives the answers to nobody.
func rehearse(ctx context.Context) {
	for _, of := range [][2][]byte{{demo.Cupboard(), demo.Brief()}, {demo.StarterCupboard(), demo.StarterBrief()}} {
		cup, err := parts.Read("cupboard.toml", of[0])
		if err != nil {
			return
		}
		b, err := brief.ReadFor("brief.toml", of[1], cup)
		if err != nil {
			return
		}
		if _, err := design.Find(ctx, cup, b, design.Options{Keep: listed, Threads: 1}); err != nil {
			return
		}
	}
}
