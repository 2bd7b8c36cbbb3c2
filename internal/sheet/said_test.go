package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

// What a class fills in is what its build sheets measure: seconds of a run, or turns.
func TestClassCountsAsItsBuildSheets(t *testing.T) {
	table := func(names ...string) string {
		c := &Class{Name: "spring"}
		for i, name := range names {
			c.Shares = append(c.Shares, ClassShare{Set: set(t, name), Letter: string(rune('A' + i)), First: 1, Groups: 1})
		}
		page := c.Whole()
		_, counted, ok := strings.Cut(plainText(&page), "-- What the groups counted\n")
		require.True(t, ok)
		assert.NotContains(t, plainText(&page), "count its turns")
		return counted
	}
	assert.True(t, strings.HasPrefix(table("buggy"), "Group | Drive | Seconds for 3 m | What helped\n1 | A |  | \n"))
	assert.True(t, strings.HasPrefix(table("crane"), "Group | Drive | Seconds for 300 mm | What helped\n"))
	assert.True(t, strings.HasPrefix(table("carousel", "big-wheel"), "Group | Drive | Turns | In how many seconds | What helped\n1 | A |  |  | \n"))
	both := table("buggy", "carousel")
	assert.Contains(t, both, "Group | Drive | What to count | Counted | What helped\n1 | A | seconds for 3 m |  | \n1 | B | turns of ")
}

// Pulleys that are still to be made are not in the cupboard, on the list for a spreadsheet as on
// paper.
func TestMadePulleysAreNotThere(t *testing.T) {
	tried := 0
	for seed := range uint64(40) {
		s := discSet(t, seed, 200)
		for i := range s.drive.Uses {
			if u := &s.drive.Uses[i]; s.toMake(u) {
				u.Have = 14
			}
		}
		var alone, class strings.Builder
		require.NoError(t, s.KitCSV(&alone))
		require.NoError(t, (&Class{Name: "spring", Shares: []ClassShare{{Set: s, Letter: "A", First: 1, Groups: s.sets}}}).KitCSV(&class))
		for _, text := range []string{alone.String(), class.String()} {
			for _, line := range strings.Split(text, "\n") {
				for _, p := range s.made() {
					if cells := strings.Split(line, ","); len(cells) > 10 && cells[2] == p.Name {
						tried++
						assert.Empty(t, cells[10], line) // the size has a comma
					}
				}
			}
		}
	}
	assert.Positive(t, tried)
}

// Of strips that join the sides, how many stand in corners and where the others do.
func TestWhichStripsStandElsewhere(t *testing.T) {
	s := set(t, "three-stages")
	f := &s.plan.Build.Frame
	assert.Contains(t, s.joinWords(), "4 strips of 90 mm, 3 in the corners and 1 with its middle 5 across and 81 up, where nothing runs, glued.")
	f.Joiners[1] = assembly.Point{X: 40, Y: 30}
	assert.Contains(t, s.joinWords(), ", 2 in the corners and 2 with their middles ")
	f.Joiners = f.Joiners[:1]
	f.Joiners[0] = assembly.Point{X: 40, Y: 30}
	assert.Contains(t, s.joinWords(), "1 strips of 90 mm with its middle 40 across and 30 up")
}

// The tables of the build sheet have all four wheels of a vehicle, and what keeps them off the
// sides.
func TestTablesHaveAllWheels(t *testing.T) {
	c := saved(t, "buggy")
	for _, more := range []float64{0, 8} {
		c.Proposals[0].Axles[len(c.Proposals[0].Axles)-1].Length += 2 * certificate.Number(more)
		s := made(t, c)
		fits, holes := s.partsTable(), s.holeTable()
		assert.Equal(t, "axle 2 and free axle", fits.Rows[len(fits.Rows)-1][3])
		free, driven := holes.Rows[len(holes.Rows)-1][5], holes.Rows[len(holes.Rows)-2][5]
		at := strings.Index(free, "on each end ")
		require.GreaterOrEqual(t, at, 0, free)
		assert.True(t, strings.HasSuffix(driven, "; "+free[at:]), "%q and %q", driven, free)
		for _, k := range s.plan.Build.Shafts[2].Front {
			if p := &s.plan.Build.Parts[k]; p.Kind == assembly.Tube {
				assert.Contains(t, free, "tube "+mm(p.Length)+" mm")
			}
		}
	}
}

// How far holes may be off is one figure on all papers, not rounded up.
func TestHolesAreHeldToOneFigure(t *testing.T) {
	c := saved(t, "three-stages")
	c.Proposals[0].Forgives = 1.6
	s := made(t, c)
	assert.Contains(t, pageText(t, s, BuildPage), "Holes may be up to 1.5 mm off.")
	said := ""
	for _, side := range s.views.Templates(drawing.A4, "") {
		said += strings.Join(wordsOn(side), " ")
	}
	assert.Contains(t, said, "a hole may be up to 1.5 mm off")
}

// Pupils are asked, and adults told, about the pulleys that there are.
func TestWhyIsOfThisDrive(t *testing.T) {
	s := set(t, "three-stages")
	n := len(s.drive.Stages)
	for _, c := range []struct {
		ratios []certificate.Number
		asks   string
		says   string
	}{
		{[]certificate.Number{3, 2, 4}, "A small pulley turns a big pulley.", "The motor spins fast but is weak; each stage gives up speed for turning force."},
		{[]certificate.Number{3, 2, 0.5}, "A small pulley turns a big pulley.", "such a stage gives up speed for turning force."},
		{[]certificate.Number{0.5, 0.7, 0.7}, "A big pulley turns a small pulley.", "Each stage gives up turning force for speed."},
		{[]certificate.Number{1, 0.7, 1}, "A big pulley turns a small pulley.", "Such a stage gives up turning force for speed."},
		{[]certificate.Number{1, 1.01, 1}, "Both pulleys are the same size.", "Two pulleys of one size: as fast as before, and as strong."},
	} {
		s.drive.Ratio = 1
		for i := range n {
			s.drive.Stages[i].Ratio = c.ratios[i]
			s.drive.Ratio *= c.ratios[i]
		}
		pupils, answers := s.Pupils(), s.Answers()
		assert.Contains(t, plainText(&pupils), c.asks+" What does that do?")
		text := plainText(&answers)
		assert.Contains(t, text, c.says)
		slower, faster := strings.Index(text, "A small pulley that drives a big one: slower and stronger."), strings.Index(text, "A big pulley that drives a small one: faster and weaker.")
		assert.Equal(t, strings.HasPrefix(c.asks, "A big"), faster < slower, "those it has come first")
		assert.Equal(t, float64(s.drive.Ratio/s.drive.Stages[0].Ratio) > 1.02, strings.Contains(text, " times as fast, and much more weakly."))
		assert.Equal(t, float64(s.drive.Ratio/s.drive.Stages[0].Ratio) < 0.98, strings.Contains(text, " times as fast, but more strongly."))
	}
}
