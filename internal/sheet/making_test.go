package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

// Of two stages there are four to eight pictures, and of every drive one for each step
// that puts something together.
func TestPictures(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		n := 0
		for i := range s.plan.Steps {
			if s.plan.Steps[i].Hands() {
				n++
			}
		}
		if len(s.drive.Stages) == 2 {
			assert.GreaterOrEqual(t, n, 4, name)
			assert.LessOrEqual(t, n, 8, name)
		}
		words := ""
		for _, b := range s.Making().Blocks {
			if p, ok := b.(Picture); ok {
				words += p.Description
			}
		}
		for k := 1; k <= n; k++ {
			assert.Contains(t, words, fmt.Sprintf("Picture %d: ", k), name)
		}
		assert.NotContains(t, words, fmt.Sprintf("Picture %d: ", n+1), name)
	}
}

// No word on the page with the pictures covers another, or leaves the paper, whatever
// the drive; it is one sheet of paper, but for rods in true size that are longer than the
// paper is wide.
func TestPicturesOfDrawnDrives(t *testing.T) {
	for seed := range uint64(250) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		page := s.Making()
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			sheets := page.Paper(paper).Pages
			for i, sheet := range sheets {
				onPaper(t, fmt.Sprintf("seed %d, sheet %d", seed, i+1), sheet)
			}
			long := slices.ContainsFunc(s.plan.Build.Parts, func(p assembly.Part) bool { return p.Kind == assembly.Rod && p.Length > outlineRoom-8 })
			if !long {
				assert.LessOrEqual(t, len(sheets), 2, "seed %d, %v", seed, paper)
			}
		}
	}
}

// Whatever words stand under it, a picture has the height in which it can be read.
func TestPicturesHaveRoom(t *testing.T) {
	long := 0
	for seed := range uint64(250) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		rows, pictures := s.pictureRows(), s.pictures()
		for i, pic := range pictures {
			row := rows[i/2].(Picture)
			assert.GreaterOrEqual(t, float64(row.Size.Height), float64(pic.Least(tileWide)), "seed %d, picture %d", seed, i+1)
			assert.GreaterOrEqual(t, float64(row.Least), float64(pic.Least(tileWide)), "seed %d, picture %d", seed, i+1)
			if pic.Least(tileWide) > tileHeight(len(rows)) {
				long++
			}
		}
	}
	assert.Positive(t, long, "for some words a row is higher than the others")
}

// In deep frames too every rod is whole on one side of paper and above its foot; two
// that lie along the paper have all the words beside them, so that there is one sheet.
func TestLongRodsAreWhole(t *testing.T) {
	for seed := range uint64(12) {
		for _, depth := range []certificate.Number{160, 190, 205, 230, 400} {
			b, p := assemblytest.Drive(seed)
			b.Frame.Depth += depth - 100
			for i := range p.Axles {
				p.Axles[i].Length += depth - 100
			}
			s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
			require.NoError(t, err)
			page := s.Making()
			_, along := s.rodStrips()
			for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
				name := fmt.Sprintf("seed %d, %v mm deep, %v", seed, depth, paper)
				sides := page.Paper(paper).Pages
				if n := len(s.plan.Build.Shafts) - 1; n == len(along) && n <= 2 {
					assert.LessOrEqual(t, len(sides), 2, name)
				}
				on := map[string]int{} // sides with any of a rod
				for i, side := range sides {
					onPaper(t, name, side)
					var got ink
					side.Paint(&got)
					for _, l := range got.lines {
						if l.Y1 < paper.Height-margin-6.2 { // the foot
							continue
						}
						assert.LessOrEqual(t, float64(l.Y1), float64(paper.Height-margin-5.8), "%s, side %d: %v reaches into the foot", name, i+1, l)
					}
					here := map[string]bool{}
					for _, w := range wordsOn(side) {
						if rod, _, ok := strings.Cut(w, ": "); ok && strings.Contains(w, " mm long") {
							here[rod] = true
						}
					}
					for rod := range here {
						on[rod]++
					}
				}
				assert.Len(t, on, len(s.plan.Build.Shafts)-1, name)
				for rod, n := range on {
					assert.Equal(t, 1, n, "%s: %s is torn apart", name, rod)
				}
			}
		}
	}
}

var onRod, hangs, digit = regexp.MustCompile(`^rod \d$`), regexp.MustCompile(`Bands? [\d, and]+ hangs? on rod \d\.`), regexp.MustCompile(`\d`)

// Of a band that goes over an axle's end and hangs on another rod already, the picture
// says so, or the words under it where there is no room.
func TestBandsThatHangAlreadyAreSaid(t *testing.T) {
	under := 0
	for seed := range uint64(150) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		want, said := 0, 0
		for i := range s.plan.Steps {
			step := &s.plan.Steps[i]
			for _, a := range step.Actions {
				_, first := s.stageOf(a.Part)
				if step.Kind == assembly.AxleStep && a.Verb == assembly.Hang && !a.First && first {
					want++
				}
			}
		}
		page := s.Making()
		for _, side := range page.Paper(drawing.A4).Pages {
			all := strings.Join(wordsOn(side), " ")
			for _, m := range hangs.FindAllString(all, -1) {
				bands := len(digit.FindAllString(m, -1)) - 1 // and the rod
				under, said = under+bands, said+bands
			}
			for _, w := range wordsOn(side) {
				if onRod.MatchString(w) {
					said++
				}
			}
			assert.NotContains(t, all, "…", "seed %d", seed)
		}
		assert.Equal(t, want, said, "seed %d", seed)
	}
	assert.Positive(t, under, "for some there is no room in the picture")
}

// An axle is true to size: on the page the rod is as long as it is sawn, and so is
// every tube.
func TestRodsAreTrue(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		page := s.Making()
		var got ink
		for _, sheet := range page.Paper(drawing.A4).Pages {
			sheet.Paint(&got)
		}
		for _, k := range s.plan.Build.Parts {
			if k.Kind != "axle" && k.Kind != "spacer tube" {
				continue
			}
			found := false
			for _, l := range got.lines {
				found = found || abs(float64(l.Width()-k.Length)) < 0.03 && abs(float64(l.Height()-2*k.Radius)) < 0.03
			}
			assert.True(t, found, "%s: %s of %v mm", name, k.Kind, k.Length)
		}
	}
}

// What cannot be put together is not printed, and the reason is said.
func TestNotPrintedIfItCannotBeBuilt(t *testing.T) {
	for why, change := range map[string]func(*certificate.Proposal){
		"does not fit between the sides":     func(p *certificate.Proposal) { p.Stages[1].Lane = 118 },
		"does not reach through both sides":  func(p *certificate.Proposal) { p.Axles[0].Length = 100 },
		"stands in what is before it":        func(p *certificate.Proposal) { p.Stages[1].Lane = p.Stages[0].Lane + 2 },
		"no size, or one that nobody builds": func(p *certificate.Proposal) { p.Drum = &certificate.Round{Name: "reel", Width: -1, Diameter: 5} },
		"not a place for each shaft":         func(p *certificate.Proposal) { p.Positions = p.Positions[:2] },
	} {
		c := saved(t, "big-wheel")
		change(&c.Proposals[0])
		_, err := New(c, 1, DefaultOptions())
		assert.ErrorContains(t, err, why)
	}
}

// A vehicle's second axle is drilled where the certificate has it, in the words, the table and the
// drawing of holes, though there would be room further off.
func TestTheFreeAxleIsDrilledWhereTheCertificateHasIt(t *testing.T) {
	c := saved(t, "buggy")
	c.Proposals[0].FreeAxle = &certificate.Hole{Shaft: "free axle", X: 180, Y: 20}
	s := made(t, c)
	page, err := s.Build()
	require.NoError(t, err)
	for _, side := range s.views.Templates(drawing.A4, "") {
		drawn := strings.Join(wordsOn(side), " ")
		require.Contains(t, drawn, "free axle drill Ø5.5 x 180, y 20")
	}
	all := ""
	for _, side := range page.Paper(drawing.A4).Pages {
		all += strings.Join(wordsOn(side), " ") + " "
	}
	require.Contains(t, all, "Push the free axle through both sides, 180 across and 20 up.")
	require.Contains(t, all, "Free axle 180 20 5.5")
	require.NotContains(t, all, "195")
}
