package sheet_test

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/drawing"
	"findrive/internal/report"
	"findrive/internal/sheet"
)

// drawnDrives are the best few drives of cupboards and briefs drawn from seeds.
func drawnDrives(t *testing.T, seeds int) map[string]*certificate.Certificate {
	t.Helper()
	out := map[string]*certificate.Certificate{}
	for _, family := range []cases.Family{cases.Varied, cases.TightFrame, cases.Nominal} {
		for seed := range seeds {
			cup, b := cases.Make(cases.Size{Pulleys: 7, Bands: 7, Stages: 3}, family, uint64(seed))
			result, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1, Threads: 2})
			require.NoError(t, err)
			if len(result.Proposals) == 0 {
				continue
			}
			var data bytes.Buffer
			require.NoError(t, report.JSON(&data, result, report.JSONOptions{Compact: true}))
			c, err := certificate.Read(data.Bytes())
			require.NoError(t, err)
			out[fmt.Sprintf("%s, seed %d", family, seed)] = c
		}
	}
	require.Greater(t, len(out), seeds, "most have a drive")
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

// A build sheet is one sheet of paper, printed on both sides, and so are the pictures
// and a pupils' page, but for outlines in true size that need more: for every drive of every
// example, for drives drawn at random, for four stages and for long names.
func TestOneSheetOfPaper(t *testing.T) {
	all := drawnDrives(t, 8)
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
				for _, page := range []string{sheet.BuildPage, sheet.StepsPage, sheet.PupilsPage} {
					d, err := s.Paper(page, paper)
					require.NoError(t, err)
					assert.LessOrEqual(t, len(d.Pages), 2, "%s, drive %d, %s, %v", name, rank+1, page, paper)
					for k := range 2 * len(c.Proposals[rank].Stages) {
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
