package leeway

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/units"
)

// ground is what a vehicle is asked to do on the floor: to climb, with how much of its weight on the
// wheels that are driven, and how high the floor is. On a lesser slope one may run too fast.
func ground(c Case) []Lever {
	if c.Brief.Model != brief.Vehicle {
		return nil
	}
	var out []Lever
	l, f := c.Brief.Load, c.Brief.Frame
	if l.Slope > 0 {
		degrees := int(math.Ceil(l.Slope.Degrees()))
		set := func(c Case, n int) {
			if n > 0 {
				c.Brief.Load.Slope = units.Degrees(float64(degrees - n))
			}
		}
		out = append(out, Lever{Key: "slope", Words: fmt.Sprintf("a slope of %s degrees", units.Decimals(l.Slope.Degrees(), 1)), Aside: "level ground", Both: true, Cost: Load,
			Relax: func(c Case) { set(c, degrees) },
			Ways: []Way{{Most: degrees, Apply: set, Words: func(c Case, _ *design.Proposal) string {
				if c.Brief.Load.Slope < units.Degrees(0.5) {
					return "let it run on the level"
				}
				return "let it climb no more than " + plural(int(math.Round(c.Brief.Load.Slope.Degrees())), "degree")
			}}}})
	}
	if l.DrivenShare < brief.UsualDrivenShare || l.Slope > 0 && l.DrivenShare < 1 {
		percent := int(math.Floor(100*l.DrivenShare + 1e-9))
		set := func(c Case, n int) {
			if n > 0 {
				c.Brief.Load.DrivenShare = float64(percent+n) / 100
			}
		}
		out = append(out, Lever{Key: "driven share", Words: fmt.Sprintf("%d %% of its weight on the driven wheels", percent), Aside: "all of its weight on the driven wheels", Both: true, Cost: Load,
			Relax: func(c Case) { set(c, 100-percent) },
			Ways: []Way{{Most: 100 - percent, Apply: set, Words: func(c Case, _ *design.Proposal) string {
				return fmt.Sprintf("put %s %% of its weight on the driven wheels, not %d %%", units.Decimals(100*c.Brief.Load.DrivenShare, 0), percent)
			}}}})
	}
	if f.HasGround {
		anywhere := func(c Case) { c.Brief.Frame.HasGround, c.Brief.Frame.Ground = false, 0 }
		out = append(out, Lever{Key: "ground", Words: fmt.Sprintf("the floor %s mm below the frame", units.Decimals(float64(-f.Ground), 1)), Aside: "the floor where the wheels stand", Both: true,
			Relax: anywhere, Ways: []Way{once("leave the height of the floor to the wheels (take ground out of [frame])", anywhere)}})
	}
	return out
}
