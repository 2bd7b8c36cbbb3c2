package hoist

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/parts"
)

// thread is a reeving by brute force: the places where cord touches something, from
// the tied end to the hand.
type thread struct {
	places []string // "beam", "load", "F1", "M2", "B1" (lead at the beam), "G1" (at the ground)
}

// heightOf is where a place is when the load has risen by lift.
func heightOf(place string, lift float64) float64 {
	switch place[0] {
	case 'M', 'l':
		return lift
	case 'G':
		return -500
	}
	return 1000
}

// held is how fast the cord between the tied end and the last sheave gets shorter
// as the load rises: the ideal mechanical advantage by the definition of work, with
// no counting of parts. The hand's own part counts if it is above and the last
// sheave moves.
func (th thread) held() int {
	length := func(lift float64) float64 {
		sum := 0.0
		for i := 1; i < len(th.places); i++ {
			sum += math.Abs(heightOf(th.places[i], lift) - heightOf(th.places[i-1], lift))
		}
		last := th.places[len(th.places)-1]
		if last[0] == 'M' {
			sum += 1000 - heightOf(last, lift) // up to the hand
		}
		return sum
	}
	return int(math.Round(length(0)-length(100))) / 100
}

// threads are all ways of threading a cord through two blocks, found by trying
// every sheave after every place and keeping what a cord can do: it goes from beam
// to load and back, never round the same sheave twice, and takes the sheaves of a
// block in their order.
func threads(fixed, moving int, leads bool) []thread {
	var out []thread
	var places []string
	for i := 1; i <= fixed; i++ {
		places = append(places, fmt.Sprintf("F%d", i))
	}
	for i := 1; i <= moving; i++ {
		places = append(places, fmt.Sprintf("M%d", i))
	}
	if leads {
		places = append(places, "B1", "G1")
	}
	side := func(place string) string {
		switch place[0] {
		case 'l', 'M':
			return "load"
		case 'G':
			return "ground"
		}
		return "beam"
	}
	var grow func(th []string)
	grow = func(th []string) {
		if len(th) > 1 {
			out = append(out, thread{slices.Clone(th)})
		}
		last := th[len(th)-1]
		if last[0] == 'G' {
			return
		}
		for _, next := range places {
			if slices.Contains(th, next) || side(next) == side(last) {
				continue
			}
			if last[0] == 'B' && next[0] != 'G' {
				continue // a lead block is no part of the tackle: after it the cord is the fall
			}
			if next[0] == 'G' && (side(last) != "beam" || len(th) == 1) {
				continue // a lead at the foot takes a cord that comes down from a sheave
			}
			if next[0] == 'B' && !slices.Contains(th, "F1") {
				continue // it would be the fixed block itself
			}
			number := 0
			for _, seen := range th {
				if seen[0] == next[0] {
					number++
				}
			}
			if len(next) == 2 && int(next[1]-'0') != number+1 {
				continue
			}
			grow(append(slices.Clone(th), next))
		}
	}
	grow([]string{"beam"})
	grow([]string{"load"})
	return out
}

func (th thread) String() string { return fmt.Sprint(th.places) }

// shown is a reeving in the words of the brute force.
func shown(r *Reeving) thread {
	th := thread{[]string{r.Tied.String()}}
	at, n := r.Tied, map[Place]int{}
	for range r.Turns {
		at = at.other()
		n[at]++
		th.places = append(th.places, fmt.Sprintf("%s%d", map[Place]string{Beam: "F", Load: "M"}[at], n[at]))
	}
	if r.BeamLead != nil {
		th.places = append(th.places, "B1")
	}
	if r.FootLead != nil {
		th.places = append(th.places, "G1")
	}
	return th
}

func block(name string, sheaves, count int) parts.Block {
	return parts.Block{
		Item: parts.Item{Name: name, Count: count}, Sheaves: sheaves, Outside: 30, GrooveFloor: 26, GrooveWidth: 3, Width: 7,
		Bore: 4.5, Axle: 4, AxleMaterial: parts.Wood, Mass: 20, Drop: 35, Nose: 20,
	}
}

func cupboard(blocks ...parts.Block) *parts.Cupboard {
	return &parts.Cupboard{Blocks: blocks, Cords: []parts.Cord{{Item: parts.Item{Name: "string", Count: 4}, Diameter: 1.5, Length: 20_000}}}
}

// The enumeration against brute force: the same threadings, each once for each
// choice of blocks, for all blocks of up to three sheaves; and the rope parts
// against the definition of work.
func TestEnumerationAgainstBruteForce(t *testing.T) {
	for fixed := 1; fixed <= 3; fixed++ {
		for moving := 1; moving <= 3; moving++ {
			// Two kinds of their own, so that every threading of these two blocks is
			// told from the others by their names.
			cup := cupboard(block("fixed", fixed, 1), block("moving", moving, 1), block("lead", 1, 2))
			got := map[string]int{}
			err := each(context.Background(), cup, func(r Reeving) {
				right := (r.Fixed == nil || r.Fixed.Name == "fixed") && (r.Moving == nil || r.Moving.Name == "moving")
				for _, lead := range []*parts.Block{r.BeamLead, r.FootLead} {
					right = right && (lead == nil || lead.Name == "lead")
				}
				if right {
					th := shown(&r)
					got[th.String()]++
					assert.Equal(t, th.held(), r.Parts(), "%v", th)
				}
			})
			require.NoError(t, err)
			want := map[string]int{}
			for _, th := range threads(fixed, moving, true) {
				want[th.String()]++
			}
			assert.Equal(t, want, got, "%d over %d", fixed, moving)
			assert.GreaterOrEqual(t, len(want), 2*2)
		}
	}
}

// Every choice of blocks for every threading: none left out, none twice.
func TestEveryChoiceOfBlocks(t *testing.T) {
	cup := cupboard(block("a", 1, 1), block("b", 2, 1), block("c", 3, 1))
	got := map[string]int{}
	require.NoError(t, each(context.Background(), cup, func(r Reeving) {
		got[fmt.Sprint(shown(&r), r.names())]++
	}))
	want := map[string]int{}
	able := func(n int) []string {
		switch {
		case n == 0:
			return []string{""}
		case n == 1:
			return []string{"a", "b", "c"}
		case n == 2:
			return []string{"b", "c"}
		}
		return []string{"c"}
	}
	for _, th := range threads(3, 3, true) {
		count := map[byte]int{}
		for _, place := range th.places[1:] {
			count[place[0]]++
		}
		for _, f := range able(count['F']) {
			for _, m := range able(count['M']) {
				for _, l := range able(count['B']) {
					for _, g := range able(count['G']) {
						want[fmt.Sprint(th, []string{f, m, l, g, "string"})]++
					}
				}
			}
		}
	}
	assert.Equal(t, want, got)
}

// Virtual work: cord pulled x pull = lift x weight / efficiency; and no reeving
// gives more than it takes.
func TestVirtualWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		cup := drawCupboard(t)
		var all []Reeving
		require.NoError(t, each(context.Background(), cup, func(r Reeving) { all = append(all, r) }))
		h := workOut(rapid.SampledFrom(all).Draw(t, "reeving"), b)
		weight := float64((h.Mass + h.Hung).Weight())
		in := float64(h.CordPulled) * float64(h.Raising.Likely)
		out := float64(b.Lift) * weight
		assert.InEpsilon(t, out/h.Efficiency.Likely, in, 1e-9)
		assert.GreaterOrEqual(t, in, out*(1-1e-12))
		assert.InDelta(t, float64(h.Work.In), float64(h.Work.Load+h.Work.Block+h.Work.Friction), 1e-9)
		assert.LessOrEqual(t, h.Efficiency.Low, h.Efficiency.Likely)
		assert.LessOrEqual(t, h.Efficiency.Likely, h.Efficiency.High)
		assert.LessOrEqual(t, float64(h.Sinking.Likely), float64(h.Raising.Likely))
		// What the heaviest load needs is the comfortable pull.
		if !h.Capped && h.Heaviest > 0 {
			heavy := *b
			heavy.Mass = h.Heaviest
			assert.LessOrEqual(t, float64(workOut(h.Reeving, &heavy).Raising.High), float64(b.Pull)*(1+1e-9))
			heavy.Mass++
			assert.Greater(t, float64(workOut(h.Reeving, &heavy).Raising.High), float64(b.Pull))
		}
	})
}

// The beam holds what hangs on it: the sum over every piece of cord that goes up
// to it, worked out one by one.
func TestBeamCarriesEveryPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		var all []Reeving
		require.NoError(t, each(context.Background(), cup, func(r Reeving) { all = append(all, r) }))
		h := workOut(rapid.SampledFrom(all).Draw(t, "reeving"), b)
		path := h.path()
		sum, tension := 0.0, float64(h.Raising.High)
		if h.Way() == Up { // the beam has most to carry while the load sinks
			tension = float64(h.Sinking.Low)
		}
		for i := len(path) - 1; i >= 0; i-- {
			gain := sheaveGain(path[i].block, h.Cord, h.Sheaves()).High
			before := tension / gain
			if h.Way() == Up {
				before = tension * gain
			}
			if path[i].at == Beam && path[i].block != h.FootLead {
				sum += before + tension
			}
			tension = before
		}
		if h.Tied == Beam {
			sum += tension
		}
		if h.FootLead != nil {
			// The fall leaves the beam with less than the hand's pull.
			assert.GreaterOrEqual(t, float64(h.BeamCarries), sum)
			return
		}
		for _, hung := range []*parts.Block{h.Fixed, h.BeamLead} {
			if hung != nil {
				sum += float64(hung.Mass.Weight())
			}
		}
		assert.InEpsilon(t, sum, float64(h.BeamCarries), 1e-9)
	})
}
