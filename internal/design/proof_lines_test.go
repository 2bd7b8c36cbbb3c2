package design_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/proof"
)

// Every line of a proof is true by itself: where it says that a part of the space has no drive, or
// none of fewer than so many points, none of the drives that the search lists is there, though the
// proof is of the first of them alone and need not look at dearer ones.
func TestEachLineOfAProofIsTrue(t *testing.T) {
	t.Parallel()
	held := 0
	for _, seed := range []uint64{0, 1, 3, 5, 6, 8, 9, 11, 12, 14, 20, 21, 22, 23, 24, 25, 81, 204, 382, 463} {
		cup, b := campaignCase(seed)
		r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 60, Threads: 1})
		require.NoError(t, err)
		if len(r.Proposals) < 2 {
			continue
		}
		var list []proof.Listed
		for i := range r.Proposals {
			p := &r.Proposals[i]
			tackle := 0
			if p.Tackle != nil {
				tackle = p.Tackle.Parts
			}
			l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, tackle)
			require.NoError(t, err)
			list = append(list, l)
		}
		data, err := proof.Record(context.Background(), cup, b, 1, list[:1])
		require.NoError(t, err, "seed %d", seed)
		says := linesOf(t, data)
		for _, l := range list[1:] {
			for _, at := range says.partsOf(l) {
				said, told := says.of[at]
				if !told {
					continue
				}
				held++
				least, err := strconv.ParseFloat(said, 64)
				require.NoError(t, err, "seed %d: %q says %s, and there is a drive of %v points in it", seed, at, said, l.Points)
				require.LessOrEqual(t, least, l.Points+1e-9, "seed %d: %q", seed, at)
			}
		}
	}
	require.Greater(t, held, 15)
}

// proofLines are what a proof says of each part of the space, and the names in it.
type proofLines struct {
	of   map[string]string
	keys map[string][]string
}

func linesOf(t *testing.T, data []byte) proofLines {
	z, err := gzip.NewReader(bytes.NewReader(data))
	require.NoError(t, err)
	raw, err := io.ReadAll(z)
	require.NoError(t, err)
	_, rest, _ := strings.Cut(string(raw), "\nnames ")
	legend, lines, _ := strings.Cut(rest, "\nparts ")
	out := proofLines{map[string]string{}, map[string][]string{}}
	for _, n := range strings.Split(legend, "\n")[1:] {
		k, name, _ := strings.Cut(n, ": ")
		out.keys[name] = append(out.keys[name], k)
	}
	for _, l := range strings.Split(lines, "\n")[1:] {
		if at := strings.LastIndex(l, " "); at > 0 {
			out.of[l[:at]] = l[at+1:]
		}
	}
	return out
}

// partsOf are the parts of the space that a drive is in: of its head and level, and of its last
// pulleys too; none if the names do not tell.
func (p *proofLines) partsOf(l proof.Listed) []string {
	head := fmt.Sprintf("%d stages, motor %q, cells %q", len(l.Stages), l.Motor, l.Cells)
	if l.Output != "" {
		kind := "wheel"
		if l.RopeParts > 0 {
			kind = "drum"
		}
		head += ", " + kind + " " + strconv.Quote(l.Output)
	}
	last := l.Stages[len(l.Stages)-1]
	h, e := p.keys[head], p.keys[fmt.Sprintf("holes out of place by %g mm", l.HoleError)]
	driven, driver := p.keys[strconv.Quote(last.Driven)], p.keys[strconv.Quote(last.Driver)]
	if len(h) != 1 || len(e) != 1 || len(driven) != 1 || len(driver) != 1 {
		return nil
	}
	at := h[0] + " " + e[0]
	return []string{at, at + " " + driven[0] + "," + driver[0][1:]}
}
