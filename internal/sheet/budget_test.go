package sheet_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/sheet"
)

// drawnDrives are the best few drives of cupboards and briefs drawn from seeds.
func drawnDrives(t *testing.T, seeds int) map[string]*certificate.Certificate {
	t.Helper()
	out := map[string]*certificate.Certificate{}
	for _, family := range []cases.Family{cases.Varied, cases.TightFrame, cases.Nominal} {
		for seed := range seeds {
			cup, b := cases.Make(cases.Size{Pulleys: 7, Bands: 7, Stages: 3}, family, uint64(seed))
			c := searchedFor(t, cup, b, 3)
			if len(c.Proposals) == 0 {
				continue
			}
			out[fmt.Sprintf("%s, seed %d", family, seed)] = c
		}
	}
	require.Greater(t, len(out), seeds, "most have a drive")
	return out
}

// slowDrives are those of ordinary cupboards for models of up to four stages that are to
// turn slowly in a long frame. At least a few have four.
func slowDrives(t *testing.T, seeds uint64) map[string]*certificate.Certificate {
	t.Helper()
	out, four := map[string]*certificate.Certificate{}, 0
	for seed := range seeds {
		cup, b, err := cases.Ordinary(70_000 + seed)
		require.NoError(t, err)
		b.MaxStages, b.Frame.Length, b.Frame.Height = 4, 400, 160
		b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
		b.Frame.OutputZone = b.Frame.MotorZone
		b.Speed.Turning, b.Speed.Linear = b.Speed.Turning/2.5, b.Speed.Linear/2.5
		c := searchedFor(t, cup, b, 1)
		if len(c.Proposals) == 0 {
			continue
		}
		if len(c.Proposals[0].Stages) == 4 {
			four++
		}
		out[fmt.Sprintf("slow, seed %d", seed)] = c
	}
	require.Greater(t, four, 2, "drives of four stages")
	return out
}

// fourStages is a drive of three stages with another, which fits nowhere but takes as
// much paper as one that does.
func fourStages(t *testing.T) *certificate.Certificate {
	t.Helper()
	c := sheet.Saved(t, "three-stages")
	p := &c.Proposals[0]
	p.Stages = append(p.Stages, p.Stages[2])
	p.Axles = append(p.Axles, p.Axles[2])
	last := p.Positions[3]
	last.X, last.Y, last.Shaft = last.X+45, last.Y+15, "axle 4"
	p.Positions = append(p.Positions, last)
	p.Lanes.Centre = append(p.Lanes.Centre, p.Lanes.Centre[2]+12)
	p.Stages[3].Lane = p.Stages[2].Lane + 12
	return c
}

// The answers and the drawing go on one side. A build sheet is one sheet of paper, printed
// on both sides, and so are the pictures and a pupils' page, but for outlines in true size that need more: for every drive of every
// example, for drives drawn at random, for four stages and for long names.
func TestOneSheetOfPaper(t *testing.T) {
	all := drawnDrives(t, 8)
	maps.Copy(all, slowDrives(t, 24))
	for _, name := range sheet.Every {
		all[name] = sheet.Saved(t, name)
		long := sheet.Saved(t, name)
		sheet.Renamed(long, 30, " ")
		all[name+" with long names"] = long
	}
	all["four stages"] = fourStages(t)
	long := fourStages(t)
	sheet.Renamed(long, 30, " ")
	all["four stages with long names"] = long
	for name, c := range all {
		for rank := range c.Proposals {
			s, err := sheet.New(c, rank+1, sheet.DefaultOptions())
			require.NoError(t, err, name)
			for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
				for _, page := range []string{sheet.BuildPage, sheet.StepsPage, sheet.PupilsPage, sheet.DrawingPage, sheet.AnswersPage} {
					d, err := s.Paper(page, paper)
					require.NoError(t, err)
					sides := 2
					if page == sheet.DrawingPage || page == sheet.AnswersPage {
						sides = 1
					}
					assert.LessOrEqual(t, len(d.Pages), sides, "%s, drive %d, %s, %v", name, rank+1, page, paper)
					for k := range 2 * len(c.Proposals[rank].Stages) {
						if page == sheet.AnswersPage { // has no picture
							break
						}
						letter := string(rune('A' + k))
						found := false
						for _, side := range d.Pages {
							found = found || slices.Contains(sheet.WordsOn(side), letter)
						}
						assert.True(t, found, "%s, drive %d, %s: letter %s in the picture", name, rank+1, page, letter)
					}
					for i, side := range d.Pages {
						sheet.OnPaper(t, fmt.Sprintf("%s, drive %d, %s, side %d", name, rank+1, page, i+1), side)
						assert.Contains(t, d.Title, sheet.WordsOn(side)[0], "the name of the page stands first on every side")
					}
				}
			}
		}
	}
}
