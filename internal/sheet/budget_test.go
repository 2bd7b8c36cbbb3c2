package sheet_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// fourStageDrives are drives of four stages that were found for ordinary cupboards, one
// for each kind of model and another crane.
func fourStageDrives(t *testing.T) map[string]*certificate.Certificate {
	t.Helper()
	out := map[string]*certificate.Certificate{}
	files, err := filepath.Glob(filepath.Join("testdata", "four", "*.json"))
	require.NoError(t, err)
	require.Len(t, files, 6)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		c, err := certificate.Read(data)
		require.NoError(t, err)
		require.Len(t, c.Proposals[0].Stages, 4)
		out[f] = c
	}
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
	maps.Copy(all, fourStageDrives(t))
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
					if page == sheet.BuildPage {
						assert.True(t, drawnLarge(&c.Brief.Frame, sheet.WordsOn(d.Pages[0])), "%s, drive %d, %v: the drive is drawn small", name, rank+1, paper)
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

// drawnLarge reports whether the frame takes at least half of the width or the height that
// the build sheet has for it, by the scale that is written there.
func drawnLarge(f *certificate.Frame, words []string) bool {
	for _, w := range words {
		if _, scale, ok := strings.Cut(w, "Scale 1 : "); ok {
			n, err := strconv.ParseFloat(scale, 64)
			return err == nil && (float64(f.Length)/n >= 50 || float64(f.Height)/n >= 25)
		}
	}
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(w, "Scale") }) // larger than life
}

// The pupils' page of several groups has the class's plot to fill in, in what they count; that
// of one group has none.
func TestClassPlot(t *testing.T) {
	for name, unit := range map[string]string{"one-stage": "turns in ", "buggy": "seconds for "} {
		c := sheet.Saved(t, name)
		for _, groups := range []int{1, 8} {
			opt := sheet.DefaultOptions()
			opt.Sets = groups
			s, err := sheet.New(c, 1, opt)
			require.NoError(t, err)
			d, err := s.Paper(sheet.PupilsPage, drawing.A4)
			require.NoError(t, err)
			var words []string
			for _, side := range d.Pages {
				words = append(words, sheet.WordsOn(side)...)
			}
			has := slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, unit) })
			assert.Equal(t, groups > 1, has, "%s, %d groups: %q", name, groups, words)
		}
	}
}
