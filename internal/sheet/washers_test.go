package sheet

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/certificate"
)

// Washers that the cupboard has are taken from there, if they fit the rod and are as thick.
func TestWashersOfTheCupboard(t *testing.T) {
	for _, c := range []struct {
		bore, thick certificate.Number
		count       int
		fits        bool
	}{{5.2, 1, 50, true}, {5, 0.8, 500, true}, {5.5, 1.2, 500, true}, {4.9, 1, 50, false}, {5.6, 1, 50, false}, {5.2, 1.5, 50, false}, {5.2, 1, 0, false}} {
		cert := saved(t, "three-stages")
		cert.Spacers = []certificate.Spacer{{Name: "bead", Bore: 5.2, Outside: 9, Thickness: 6, Count: 60},
			{Name: "ring", Location: "tub 9", Bore: c.bore, Outside: 10, Thickness: c.thick, Count: c.count}}
		s := made(t, cert)
		kit := pageText(t, s, KitPage)
		assert.Equal(t, c.fits, strings.Contains(kit, "tub 9 | spacer ring | bore "+mm(c.bore)+" mm, "+mm(c.thick)+" mm thick | "), "%v: %s", c, kit)
		assert.Equal(t, !c.fits, strings.Contains(kit, "washer for 5 mm rod"), "%v", c)
		uses, _ := s.washers()
		if !c.fits {
			assert.Empty(t, uses)
			continue
		}
		require.Len(t, uses, 1)
		n := 0
		for i := range s.plan.Build.Parts {
			if s.plan.Build.Parts[i].Kind == "washer" {
				n++
			}
		}
		assert.Equal(t, n, uses[0].Each)
		assert.Equal(t, c.count, uses[0].Have)
		var csv strings.Builder
		require.NoError(t, s.KitCSV(&csv))
		assert.Contains(t, csv.String(), "tub 9,spacer,ring,")
	}
}
