package sheet

import (
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/units"
)

// A spacer of the cupboard serves as a washer if it slips on the rod without rattling, and is
// about as thick (common practice).
const (
	washerLoose units.Millimetres = 0.5
	washerOff   units.Millimetres = 0.2
)

// uses are what the drive takes of the cupboard, with the washers that it has.
func (s *Set) uses() []certificate.Use {
	washers, _ := s.washers()
	return slices.Concat(s.drive.Uses, washers)
}

// washers are what the axles take of the cupboard's spacers, and the names of those parts that
// are then in the cupboard.
func (s *Set) washers() (uses []certificate.Use, taken map[string]bool) {
	b := s.plan.Build
	taken = map[string]bool{}
	for i := range b.Shafts {
		sh := &b.Shafts[i]
		n, name := 0, ""
		for _, k := range slices.Concat(sh.Along, sh.Front, sh.Back) {
			if p := &b.Parts[k]; p.Kind == assembly.Washer {
				n, name = n+1, p.Name
			}
		}
		fit := s.spacersFor(sh.Diameter)
		if n == 0 || len(fit) == 0 {
			continue
		}
		taken[name] = true
		at := slices.IndexFunc(uses, func(u certificate.Use) bool { return u.Name == fit[0].Name })
		if at < 0 {
			at = len(uses)
			u := certificate.Use{Kind: "spacer", Name: fit[0].Name, Sets: s.sets}
			for _, sp := range fit {
				u.Have += sp.Count
				u.Places = append(u.Places, certificate.Place{Name: sp.Name, Location: sp.Location, Count: sp.Count})
				if sp.Name != u.Name {
					u.Also = append(u.Also, sp.Name)
				}
			}
			uses = append(uses, u)
		}
		uses[at].Each += n
		uses[at].Total = uses[at].Each * s.sets
	}
	return uses, taken
}

// spacersFor are the cupboard's spacers that serve as washers on a rod.
func (s *Set) spacersFor(rod units.Millimetres) []certificate.Spacer {
	const exact = 1e-6
	var out []certificate.Spacer
	for _, sp := range s.cert.Spacers {
		loose, off := units.Millimetres(sp.Bore)-rod, units.Millimetres(sp.Thickness)-assembly.WasherSize
		if sp.Count > 0 && loose >= -exact && loose <= washerLoose+exact && off >= -washerOff-exact && off <= washerOff+exact {
			out = append(out, sp)
		}
	}
	return out
}
