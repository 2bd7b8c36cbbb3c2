package design_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/recheck"
	"findrive/internal/score"
)

// withDiscs lets pulleys be made in a drawn case: of one or two sheets, by scissors or by
// a saw, with few sizes, so that everything can be tried.
func withDiscs(seed uint64) (*parts.Cupboard, *brief.Brief) {
	cup, b := campaignCase(seed)
	d := drawing{rand.New(rand.NewPCG(seed, 11))}
	cup.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 1 + d.IntN(3)}, Kind: parts.PlainCard, Thickness: d.mm(1.5, 2), Length: d.mm(120, 200), Width: 100}}
	cup.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 20, Largest: d.mm(45, 60), Step: d.mm(15, 20)}}
	if d.oneIn(3) {
		cup.Sheets = append(cup.Sheets, parts.SheetStock{Item: parts.Item{Name: "ply", Count: 1}, Kind: parts.Plywood, Thickness: 4, Length: 150, Width: 80})
		cup.Cutters = append(cup.Cutters, parts.Cutter{Item: parts.Item{Name: "saw", Count: 1}, Way: parts.HoleSaw, Sizes: []mm{32}})
	}
	cup.Discs = &parts.Discs{Bores: []mm{4, 5}, Most: 4 + 4*d.IntN(3)}
	b.Making.Discs, b.Making.Glue = true, true
	b.Weights.MadePulley = d.pick(0, 0.5, 3)
	return cup, b
}

// TestMadePulleysAreThoseOfEnumeration holds the search among pulleys that can be made to
// every design tried, its drives to the checker of certificates and its lists to proofs.
func TestMadePulleysAreThoseOfEnumeration(t *testing.T) {
	t.Parallel()
	drives, made, needed := 0, 0, 0
	for seed := uint64(1); seed <= 30; seed++ {
		cup, b := withDiscs(seed)
		if len(b.Load.Tackles) > 1 {
			continue
		}
		name := fmt.Sprintf("seed %d", seed)
		opt := design.Options{Keep: 1 + int(seed%8), Threads: 1}
		r, err := design.Find(context.Background(), cup, b, opt)
		require.NoError(t, err, name)
		want := []string{}
		every := design.EveryDrive(cup, b)
		for _, e := range every[:min(opt.Keep, len(every))] {
			want = append(want, e.Line)
		}
		require.Equal(t, want, design.Lines(r), name)
		requireSame(t, r, opt, 3)
		require.Empty(t, recheck.Recheck(certificateOf(t, r)), name)
		var listed []proof.Listed
		for i := range r.Proposals {
			p := &r.Proposals[i]
			drives++
			kinds := map[string]bool{}
			for _, q := range p.Drive.Pulleys() {
				if q.Made != nil {
					kinds[q.Name] = true
				}
			}
			if len(kinds) > 0 {
				made++
			}
			at := slices.IndexFunc(p.Penalty, func(t score.Term) bool { return t.Name == "made pulleys" })
			require.GreaterOrEqual(t, at, 0, name)
			assert.Equal(t, score.Made(b.Weights, len(kinds)), p.Penalty[at].Points, name)
			l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, 0)
			require.NoError(t, err)
			listed = append(listed, l)
		}
		data, err := proof.Record(context.Background(), cup, b, opt.Keep, listed)
		require.NoError(t, err, name)
		_, err = proof.Check(context.Background(), data, cup, b)
		require.NoError(t, err, name)

		without := *b
		without.Making.Discs = false
		bare, err := design.Find(context.Background(), cup, &without, design.Options{Keep: 1, Threads: 1})
		require.NoError(t, err)
		if len(bare.Proposals) == 0 && len(r.Proposals) > 0 {
			needed++
		}
		if len(bare.Proposals) > 0 {
			require.NotEmpty(t, r.Proposals, "%s: leave to make discs never makes less possible", name)
			assert.LessOrEqual(t, r.Proposals[0].Total, bare.Proposals[0].Total, name)
		}
	}
	t.Logf("%d drives, %d with made pulleys, %d cases that need them", drives, made, needed)
	assert.Greater(t, made, 10)
	assert.Positive(t, needed)
}
