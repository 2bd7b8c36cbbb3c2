package sheet

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/certificate"
	"findrive/internal/units"
)

// pageText is a page of a set as text.
func pageText(t *testing.T, s *Set, name string) string {
	t.Helper()
	p, ok, err := s.Page(name)
	require.NoError(t, err)
	require.True(t, ok)
	return plainText(&p)
}

// youngText is what stands under the pictures of a set.
func youngText(s *Set) string {
	words := ""
	for i := range s.plan.Steps {
		if step := &s.plan.Steps[i]; step.Hands() {
			do, _ := s.youngWords(step)
			words += do + "\n"
		}
	}
	return words
}

// A ride that reaches below its frame is not hung on a frame that stands on the table.
func TestRideBelowItsFrameIsSaid(t *testing.T) {
	for _, c := range []struct {
		radius, want float64 // beyond the axle's height
	}{{-5, 0}, {0, 0}, {29.5, 30}} {
		saved := saved(t, "big-wheel")
		high := made(t, saved).axleHeight(len(saved.Proposals[0].Stages))
		saved.Brief.Load.LoadRadius = certificate.Number(float64(high) + c.radius)
		saved.Brief.Load.OutOfBalanceRadius = 0
		s := made(t, saved)
		said := fmt.Sprintf("The ride reaches %g mm below the frame", c.want)
		if c.want == 0 {
			assert.NotContains(t, pageText(t, s, BuildPage), "below the frame")
			assert.NotContains(t, youngText(s), "blocks")
			continue
		}
		assert.Contains(t, pageText(t, s, BuildPage), said)
		assert.Contains(t, youngText(s), "First put the frame up on blocks.")
	}
}

// A pulley that reaches below its frame, or whatever reaches lower, is told of before it is put in.
func TestPulleyBelowItsFrameIsSaid(t *testing.T) {
	for name, c := range map[string]struct {
		saved          string
		letter         string
		deeper, lowest float64 // the pulley and the ride below the frame
		want           string
	}{
		"none":                  {saved: "big-wheel", letter: "B", deeper: 0, want: ""},
		"an inner pulley":       {saved: "big-wheel", letter: "B", deeper: 11.5, want: "Pulley B reaches 12 mm below the frame: first stand the frame on blocks higher than that. Push axle 1 "},
		"the motor's":           {saved: "big-wheel", letter: "A", deeper: 3, want: "Pulley A reaches 3 mm below the frame: first stand the frame on blocks higher than that. Push A on the motor's shaft."},
		"the ride yet lower":    {saved: "big-wheel", letter: "B", deeper: 11.5, lowest: 30, want: "The ride reaches 30 mm below the frame or more: first stand the frame on blocks higher than that. Push axle 1 "},
		"the ride less low":     {saved: "big-wheel", letter: "B", deeper: 11.5, lowest: 5, want: "Pulley B reaches 12 mm below the frame: first stand the frame on blocks higher than that. Push axle 1 "},
		"that of a lift":        {saved: "crane", letter: "B", deeper: 4, want: "Pulley B reaches 4 mm below the frame: first stand the frame on blocks higher than that. Push axle 1 "},
		"that of a vehicle":     {saved: "buggy", letter: "B", deeper: 4, want: "Pulley B reaches 4 mm below the frame: first stand the frame on blocks higher than that, until its wheels are on. Push axle 1 "},
		"a ride that lies flat": {saved: "carousel", letter: "B", deeper: 4, want: ""},
	} {
		t.Run(name, func(t *testing.T) {
			file := saved(t, c.saved)
			s := made(t, file)
			file.Brief.Load.OutOfBalanceRadius, file.Brief.Load.LoadRadius = 0, certificate.Number(float64(s.axleHeight(s.plan.Build.Stages))+c.lowest)
			s = made(t, file)
			b := s.plan.Build
			for i := range b.Shafts {
				for _, k := range b.Shafts[i].Along {
					if p := &b.Parts[k]; p.Letter != "" {
						p.Radius = min(p.Radius, s.axleHeight(i))
					}
					if p := &b.Parts[k]; p.Letter == c.letter {
						p.Radius = s.axleHeight(i) + units.Millimetres(c.deeper)
					}
				}
			}
			build := ""
			for _, step := range s.steps() {
				build += step.Do + "\n"
			}
			if c.want == "" {
				assert.NotContains(t, build, "below the frame")
				assert.NotContains(t, youngText(s), "blocks")
				return
			}
			assert.Contains(t, build, c.want)
			assert.Equal(t, 1, strings.Count(build, "below the frame"))
			assert.Equal(t, 1, strings.Count(youngText(s), "First put the frame up on blocks."))
		})
	}
}

// A load that is timed over a longer way than the drum is high hangs beside the table.
func TestLoadHangsBesideTheTable(t *testing.T) {
	c := saved(t, "crane")
	s := made(t, c)
	assert.Contains(t, pageText(t, s, BuildPage), "Hang the drum's side of the frame over the edge of a table")
	assert.Contains(t, pageText(t, s, PupilsPage), "Put the drum past the edge of the table.")
	assert.Contains(t, youngText(s), "Put the drum past the edge of the table.")
	last := len(c.Proposals[0].Stages)
	s.plan.Build.Shafts[last].At.Y = 301
	assert.NotContains(t, pageText(t, s, BuildPage), "over the edge of a table")
	assert.NotContains(t, pageText(t, s, PupilsPage), "past the edge")
}

// A cord that leaves its drum sideways or upwards goes over a guide, which is on the kit list.
func TestCordGoesOverItsGuide(t *testing.T) {
	for _, parts := range []int{1, 2, 4} {
		for way, want := range map[string]string{"down": "", "": "", "up": "straight up, seen from the front", "left": "level to the left", "right": "level to the right"} {
			c := saved(t, "crane")
			c.Proposals[0].Tackle = &certificate.Winch{Parts: parts, Pull: 0.5}
			c.Brief.Load.CordLeaves = way
			s := made(t, c)
			build, kit := pageText(t, s, BuildPage), pageText(t, s, KitPage)
			if want == "" {
				assert.NotContains(t, build+kit+youngText(s), "guide")
				continue
			}
			assert.Contains(t, build, want)
			assert.Less(t, strings.Index(build, "lead it over a guide"), strings.Index(build, "Put the guide so high"), "what is not named yet cannot be put anywhere")
			assert.NotContains(t, build, "over the edge of a table")
			assert.NotContains(t, build, "beside the drum")
			assert.Contains(t, kit, "guide for the cord")
			assert.Contains(t, youngText(s), "Fix a rod to guide the cord.")
		}
	}
}

// Wires that may not be swapped are not said to be swapped.
func TestWiresOfAMotorThatTurnsOneWay(t *testing.T) {
	for turns, swap := range map[string]bool{"": true, "either": true, "clockwise": false, "anticlockwise": false} {
		c := saved(t, "one-stage")
		c.Brief.Direction.MotorTurns = turns
		assert.Equal(t, swap, strings.Contains(pageText(t, made(t, c), BuildPage), "swap the motor's wires"), turns)
	}
}

// The kit of a crane has all that its steps name.
func TestKitOfACraneIsWhole(t *testing.T) {
	c := saved(t, "crane")
	kit := pageText(t, made(t, c), KitPage)
	for _, want := range []string{"soft mat", "tape", fmt.Sprintf("load of %s g", about(c.Brief.Load.Mass)), "peg or catch"} {
		assert.Contains(t, kit, want)
	}
	assert.NotContains(t, pageText(t, set(t, "one-stage"), KitPage), "peg or catch")
}

// A brief without glue leaves it to the school how the frame is joined.
func TestFrameWithoutGlue(t *testing.T) {
	for _, name := range []string{"one-stage", "buggy"} {
		for _, glue := range []bool{true, false} {
			c := saved(t, name)
			c.Brief.Making.Glue = glue
			s := made(t, c)
			if s.glued() {
				continue
			}
			build, kit := pageText(t, s, BuildPage), pageText(t, s, KitPage)
			assert.Equal(t, !glue, strings.Contains(build, "screws, nails or glue, as your school does"), name)
			assert.Equal(t, !glue, strings.Contains(kit, "screws, nails or glue for the frame"), name)
			assert.Equal(t, glue, strings.Contains(kit, "\nglue | some"), name)
		}
	}
}
