package sheet_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drawing"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/sheet"
)

// searched is the certificate of a search for the best six.
func searched(t *testing.T, cup *parts.Cupboard, b *brief.Brief) *certificate.Certificate {
	t.Helper()
	return searchedFor(t, cup, b, 6)
}

func searchedFor(t *testing.T, cup *parts.Cupboard, b *brief.Brief, keep int) *certificate.Certificate {
	t.Helper()
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: keep, Threads: 2})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, report.JSON(&out, r, report.JSONOptions{Compact: true}))
	c, err := certificate.Read(out.Bytes())
	require.NoError(t, err)
	return c
}

// What the search proposes can be built as it is printed: the briefs of the examples
// and small cases of most families, every drive of their lists.
func TestSearchedDrivesCanBeBuilt(t *testing.T) {
	var all []*certificate.Certificate
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "briefs", "*.toml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 5)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		b, err := brief.Read(f, data)
		require.NoError(t, err)
		all = append(all, searched(t, cup, b))
	}
	for _, family := range []cases.Family{cases.Varied, cases.Nominal, cases.TightFrame, cases.Scarce} {
		for seed := range uint64(6) {
			cup, b := cases.Make(cases.Size{Pulleys: 8, Bands: 6, Stages: 2 + int(seed%2)}, family, seed)
			all = append(all, searched(t, cup, b))
		}
	}
	built, pulleys := 0, 0
	for _, c := range all {
		for i := range c.Proposals {
			sheet.PrintedCanBeBuilt(t, &c.Brief, &c.Proposals[i])
			s, err := sheet.New(c, i+1, sheet.DefaultOptions())
			require.NoError(t, err)
			for _, name := range []string{sheet.StepsPage, sheet.KitPage} {
				d, err := s.Paper(name, drawing.A4)
				require.NoError(t, err)
				for _, page := range d.Pages {
					sheet.OnPaper(t, c.Brief.Name+", "+name, page)
				}
			}
			pulleys += sheet.StraightIn(t, &c.Brief, &c.Proposals[i])
			built++
		}
	}
	assert.Greater(t, built, 40)
	assert.Greater(t, pulleys, 200)
}
