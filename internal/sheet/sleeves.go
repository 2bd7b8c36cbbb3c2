package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"findrive/internal/certificate"
)

// How a sleeve is cut to the hub that it goes into (all common practice). Tube is cut to half a
// millimetre, and what stands out less takes up no more than an axle's play. A hub sits true
// where a sleeve fills three quarters of it; else on a piece at each of its ends, if these are
// long enough to be held and cut.
const (
	sleeveStep   = 0.5
	sleeveNearly = 1 // shorter than the hub by less than this, it fills it
	sleeveFills  = 0.75
	leastSleeve  = 4
)

// sleeveCut is how many pieces are cut from a sleeve for a hub so wide, and how long they are;
// none where it goes in as it is.
func sleeveCut(sleeve, hub, kerf float64) (pieces int, long float64) {
	down := func(v float64) float64 { return math.Floor(v/sleeveStep+1e-9) * sleeveStep }
	switch half := down((sleeve - kerf) / 2); {
	case sleeve >= hub+sleeveStep:
		return 1, down(hub)
	case sleeve < sleeveFills*hub && half >= leastSleeve:
		return 2, half
	}
	return 0, 0
}

// sleeveWords say how a sleeve is put into its hub.
func (s *Set) sleeveWords(t *certificate.Sleeve, hub float64) string {
	if t == nil {
		return "sleeve: tube in the bore first"
	}
	words := fmt.Sprintf("sleeve: %s, %s mm inside and %s mm outside, ", t.Name, mm(t.Inner), mm(t.Outer))
	switch pieces, long := sleeveCut(float64(t.Length), hub, s.opt.Kerf); {
	case pieces == 1:
		return words + fmt.Sprintf("cut to %s mm, in the bore first", mm(long))
	case pieces > 1:
		return words + fmt.Sprintf("cut into %d of %s mm, one in each end of the bore first", pieces, mm(long))
	case float64(t.Length) <= hub-sleeveNearly:
		return words + fmt.Sprintf("%s mm long, in the middle of the bore first", mm(t.Length))
	}
	return words + "in the bore first"
}

// cutSleeve is a sleeve that is cut, and for which parts.
type cutSleeve struct {
	name   string
	whole  float64
	pieces int
	long   float64
	of     []string
	n      int // of a set
}

// cutSleeves are the sleeves of one set that are cut, those alike together. Each hub takes one
// of the cupboard's, as the kit list counts them.
func (s *Set) cutSleeves() []cutSleeve {
	var out []cutSleeve
	for _, j := range s.joints() {
		t := j.joint.Sleeve
		if j.joint.Kind != "sleeve" || t == nil {
			continue
		}
		pieces, long := sleeveCut(float64(t.Length), j.hub, s.opt.Kerf)
		if pieces == 0 {
			continue
		}
		at := slices.IndexFunc(out, func(c cutSleeve) bool { return c.name == t.Name && c.pieces == pieces && c.long == long })
		if at < 0 {
			at = len(out)
			out = append(out, cutSleeve{name: t.Name, whole: float64(t.Length), pieces: pieces, long: long})
		}
		out[at].of = append(out[at].of, cmp.Or(j.letter, j.name))
		out[at].n += j.count
	}
	return out
}

// sleeveRows are those of the cutting list: what is cut for so many sets, and what from.
func (s *Set) sleeveRows(sets int) (pieces, sawing [][]string) {
	for _, c := range s.cutSleeves() {
		n := c.n
		pieces = append(pieces, []string{"Sleeve of " + and(c.of), c.name, mm(c.long), fmt.Sprint(n * c.pieces), fmt.Sprint(n * c.pieces * sets)})
		left := c.whole - float64(c.pieces)*(c.long+s.opt.Kerf)
		if c.pieces > 1 {
			left += s.opt.Kerf // no cut behind the last
		}
		sawing = append(sawing, []string{c.name, fmt.Sprintf("%d × new length of %s mm", n*sets, mm(c.whole)), fmt.Sprintf("%d × %s mm", c.pieces, mm(c.long)), mm(math.Max(0, left))})
	}
	return pieces, sawing
}
