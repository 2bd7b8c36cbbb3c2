package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/proof"
	"findrive/internal/score"
)

// What a proof is said to prove is what it proves: where fewer drives are listed than were asked
// for, others may be there that cost too much to be.
func TestProofSaysWhatItProves(t *testing.T) {
	for _, c := range []struct {
		asked, listed int
		says          string
	}{
		{5, 0, "no drive of this cupboard meets the brief."},
		{5, 1, "this is the best drive for the brief, and any other would cost over 10 points more, not worth building."},
		{5, 3, "these are the best 3 drives for the brief, and any other would cost over 10 points more than the first, not worth building."},
		{1, 1, "this is the best drive for the brief, and nothing better was skipped."},
		{3, 3, "these are the best 3 drives for the brief, and nothing better was skipped."},
	} {
		var page strings.Builder
		v := &proof.Verdict{Asked: c.asked, Ranked: make([]score.Points, c.listed), Left: []proof.Count{{Reason: "dear", Times: 1213}}}
		require.NoError(t, ProofText(&page, v, 100))
		assert.Contains(t, strings.Join(strings.Fields(page.String()), " "), "The proof holds: "+c.says)
	}
}
