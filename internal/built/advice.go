package built

import (
	"context"

	"findrive/internal/drive"
)

// Advice is the answer to a symptom.
type Advice struct {
	Symptom Symptom
	// Trouble is the measure of the symptom: the logarithm of a factor, above 0 where
	// the drive's own numbers show it.
	Trouble float64
	Causes  []Cause  // the likeliest first; empty where the numbers support none
	Unseen  []string // what no number shows, to look at by eye; common practice
	One     *Change  // the single change that helps most; nil if none does
	Two     *Change  // two together, where one is not enough; nil if none is better
	// Staged is a drive of more stages that cures, where no change does and the frame is
	// known; nil if none was looked for or found.
	Staged *Change
	// Enough is what would cure it where no change from the cupboard does, such as "carry at
	// most 180 g"; each was worked out.
	Enough []string
}

// Shows reports whether the drive's own numbers show the symptom at all.
func (a *Advice) Shows() bool {
	if a.Symptom == TooFast || a.Symptom == Slower {
		return a.Trouble > 0.1
	}
	return a.Trouble > 0
}

// Cure is the change that cures; nil if none of those that help does.
func (a *Advice) Cure() *Change {
	for _, c := range []*Change{a.One, a.Two} {
		if c != nil && c.Solves(a.Symptom) {
			return c
		}
	}
	return nil
}

// advise answers a symptom; stands is whether the motor is said to stand, whatever the
// symptom. The context ends the search of pairs of changes early. The error is ErrNoSpeed,
// or that of Work or of design.Find.
func (b *Build) advise(ctx context.Context, sym Symptom, stands bool) (*Advice, error) {
	w, err := Work(b)
	if err != nil {
		return nil, err
	}
	if sym == TooFast && !(w.Target > 0) {
		return nil, ErrNoSpeed
	}
	a := &Advice{Symptom: sym, Trouble: b.trouble(sym, drive.Conditions{}), Causes: b.causes(sym), Unseen: unseen[sym]}
	a.One, a.Two = b.bestChange(ctx, sym, stands || sym == NoGo || b.stalls())
	if a.Shows() && a.Cure() == nil {
		if sym == TooFast {
			if a.Staged, err = b.moreStages(ctx); err != nil {
				return nil, err
			}
		}
		if a.Staged == nil {
			a.Enough = b.enough(sym)
		}
	}
	return a, nil
}

// unseen is what no number shows (common practice in the craft).
var unseen = map[Symptom][]string{
	TooFast: {"the band riding up on the rim of the motor's pulley, which makes it act larger"},
	NoGo: {
		"something rubbing: a wheel on the frame, glue in a bearing, an axle hole too tight. Take the bands off and spin each axle with a finger",
		"a bad joint in the wires, or a cell the wrong way round",
	},
	Slips: {"a pulley that turns on its axle, which looks like a slipping band: mark both with a pencil line", "oil, paint or polish in a groove"},
	JumpsOff: {
		"pulleys that are not in one plane: sight along the band and shift one",
		"a motor that leans towards the band when it pulls",
		"a knot, or a bent axle",
	},
	Slower: {"a pulley or wheel that works loose, and hair or thread round an axle"},
}

// Broken is how many rules the drive breaks.
func (w *Working) Broken() int {
	n := 0
	for _, f := range w.Findings {
		if f.Broken {
			n++
		}
	}
	return n
}
