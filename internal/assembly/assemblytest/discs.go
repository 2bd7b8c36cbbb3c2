package assemblytest

import (
	"math/rand/v2"

	"findrive/internal/certificate"
)

// DriveWithDiscs is the drive of a seed, of which some pulleys are to be made of discs: of
// those that are pushed on an axle at least one, if there are any.
func DriveWithDiscs(seed uint64) (*certificate.Brief, *certificate.Proposal) {
	b, p := Drive(seed)
	g := generator{rand.New(rand.NewPCG(seed, 0xd15c))}
	b.Making.Discs, b.Making.Glue = true, true
	made := false
	ways := []string{"compass and scissors", "compass and scissors", "craft knife", "hole saw"}
	for i := range p.Stages {
		for k, q := range []*certificate.Pulley{&p.Stages[i].Driver, &p.Stages[i].Driven} {
			if q.Joint.Kind != "push fit" || i == 0 && k == 0 || made && g.chance(0.4) {
				continue
			}
			made = true
			layers := 1 + g.IntN(3)
			thick := q.Width / number(layers+2)
			disc := func(across number) certificate.Disc {
				d := certificate.Disc{Sheet: "card", Kind: "card", Thickness: thick, Diameter: across, Cutter: "any", Way: ways[g.IntN(len(ways))]}
				if d.Way == "craft knife" && g.chance(0.5) {
					d.Kind = "corrugated plastic"
				}
				return d
			}
			q.Made = &certificate.Made{Core: disc(q.GrooveFloor), Layers: layers, Flange: disc(q.Outside), Error: 0.5, Wobble: 0.5}
		}
	}
	return b, p
}
