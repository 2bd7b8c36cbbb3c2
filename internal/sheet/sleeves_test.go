package sheet

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/cutting"
)

func TestSleevesAreCutToTheirHubs(t *testing.T) {
	for _, c := range []struct {
		sleeve, hub float64
		pieces      int
		long        float64
	}{
		{12, 7.2, 1, 7}, {12, 7, 1, 7}, {12, 11.5, 1, 11.5}, {12, 11.8, 0, 0}, // a straw's end may stand out a little
		{12, 12, 0, 0}, {12, 12.4, 0, 0}, {12, 15, 0, 0}, // it fills most of the hub
		{20, 31, 2, 9.5}, {10, 14, 2, 4.5}, {8, 14, 0, 0}, // halves too short to hold
	} {
		pieces, long := sleeveCut(c.sleeve, c.hub, float64(cutting.Kerf))
		assert.Equal(t, c.pieces, pieces, "%v in %v", c.sleeve, c.hub)
		assert.InDelta(t, c.long, long, 1e-9, "%v in %v", c.sleeve, c.hub)
	}
}

// A sleeve that is longer than its hub would take the room of the tube beside it: the steps and
// the cutting list say how long it is cut. Of one that is much shorter there are two pieces.
func TestSleevesAreCutOnPaper(t *testing.T) {
	for _, c := range []struct {
		long, wide certificate.Number
		steps, cut string
		saw        string
	}{
		{12, 7.2, "B: sleeve: straw, 5 mm inside and 7 mm outside, cut to 7 mm, in the bore first.", "Sleeve of B | straw | 7 | 1 | 4", "straw | 4 × new length of 12 mm | 1 × 7 mm | 4"},
		{9, 14, "cut into 2 of 4 mm, one in each end of the bore first.", "Sleeve of B | straw | 4 | 2 | 8", "straw | 4 × new length of 9 mm | 2 × 4 mm | 0"},
		{12, 14, "12 mm long, in the middle of the bore first.", "", ""},
		{14, 14, "7 mm outside, in the bore first.", "", ""},
	} {
		cert := saved(t, "one-stage")
		p := &cert.Proposals[0].Stages[0].Driven
		p.Width = c.wide
		p.Joint = certificate.Joint{Kind: "sleeve", Bore: 7, Shaft: 5, Sleeve: &certificate.Sleeve{Name: "straw", Inner: 5, Outer: 7, Length: c.long}}
		opt := DefaultOptions()
		opt.Sets = 4
		s, err := New(cert, 1, opt)
		require.NoError(t, err)
		assert.Contains(t, pageText(t, s, BuildPage), c.steps)
		class := Class{Name: "two", Shares: []ClassShare{{Set: s, Letter: "A", First: 1, Groups: 4}}}
		whole, err := class.Kit()
		require.NoError(t, err)
		kit := pageText(t, s, KitPage)
		if c.cut == "" {
			assert.NotContains(t, kit, "Sleeve of")
			assert.NotContains(t, plainText(&whole), "straw | ")
			continue
		}
		assert.Contains(t, kit, c.cut)
		assert.Contains(t, kit, c.saw)
		assert.Contains(t, plainText(&whole), c.saw)
	}
}

// A vehicle's four wheels have a sleeve each.
func TestSleevesOfWheels(t *testing.T) {
	cert := saved(t, "buggy")
	d := &cert.Proposals[0]
	d.OutputJoint = &certificate.Joint{Kind: "sleeve", Bore: 7, Shaft: 5, Sleeve: &certificate.Sleeve{Name: "straw", Inner: 5, Outer: 7, Length: 50}}
	assert.Contains(t, pageText(t, made(t, cert), KitPage), fmt.Sprintf("Sleeve of %s | straw | %s | 4 |", d.Wheel.Name, mm(d.Wheel.Width)))
}

// What lies along an axle is as long as there is room, sleeves with it.
func TestSleevesLieInTheirRoom(t *testing.T) {
	cut := 0
	for seed := range uint64(200) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		for _, j := range s.joints() {
			if j.joint.Sleeve == nil {
				continue
			}
			long := float64(j.joint.Sleeve.Length)
			if n, piece := sleeveCut(long, j.hub, s.opt.Kerf); n > 0 {
				long = float64(n) * piece
				cut++
			}
			assert.Less(t, long, j.hub+sleeveStep, "seed %d", seed)
		}
	}
	assert.Positive(t, cut)
}
