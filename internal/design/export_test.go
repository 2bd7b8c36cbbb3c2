package design

import (
	"cmp"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// The random cases that full enumeration is held to, for the tests from outside.
var (
	SmallCase   = smallCase
	SmallerCase = smallerCase
)

// Tried is a drive that came of trying every design.
type Tried struct {
	Drive *drive.Drive
	Cost  score.Points
	Line  string // the drive in one line, whole
}

// EveryDrive lists the drives of a cupboard for a brief by trying every design, with every
// tackle that the brief allows; of equal drives those with fewer rope parts come first.
func EveryDrive(cup *parts.Cupboard, b *brief.Brief) []Tried {
	tackles := b.Load.Tackles
	if len(tackles) == 0 {
		tackles = []brief.Tackle{{Parts: b.Load.TackleParts, Efficiency: b.Load.TackleEfficiency}}
	}
	var all []Tried
	for _, tackle := range tackles {
		for _, e := range everyDrive(cup, b.With(tackle)) {
			all = append(all, Tried{e.drive, e.cost, described(e.drive, e.cost, e.bears)})
		}
	}
	slices.SortStableFunc(all, func(a, b Tried) int { return cmp.Compare(a.Cost, b.Cost) })
	return slices.DeleteFunc(all, func(e Tried) bool { return e.Cost > all[0].Cost+score.Worth })
}

// Lines are the drives of a list in the words of EveryDrive.
func Lines(r *Result) []string {
	out := []string{}
	for i := range r.Proposals {
		p := &r.Proposals[i]
		out = append(out, described(p.Drive, p.Total, p.Bears))
	}
	return out
}
