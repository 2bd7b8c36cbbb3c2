package proof_test

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"io"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/proof"
)

// example is the built-in cupboard and brief.
func example(t testing.TB) (*parts.Cupboard, *brief.Brief) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	return cup, b
}

// few is the built-in example with only a few of its parts, so that its proofs are
// short.
func few(t testing.TB) (*parts.Cupboard, *brief.Brief) {
	cup, b := example(t)
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool {
		return !slices.Contains([]string{"motor-6", "motor-8", "axle-10", "odd-30", "disc-80"}, p.Name)
	})
	cup.Bands = slices.DeleteFunc(cup.Bands, func(p parts.Band) bool {
		return !slices.Contains([]string{"no-16", "no-24"}, p.Name)
	})
	cup.Holders = cup.Holders[:1]
	cup.Holders[0].Measured = true // to be 1.5 V
	cup.Motors = slices.DeleteFunc(cup.Motors, func(p parts.Motor) bool { return p.Name != "slow" })
	b.MaxStages = 2
	b.Frame.Pitch = 10
	return cup, b
}

const keep = 2

// list is the answer of the search, reorderings of the same stages once.
func list(t testing.TB, cup *parts.Cupboard, b *brief.Brief, keep int) []proof.Listed {
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: keep, Threads: 1})
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, r.Status)
	out := []proof.Listed{}
	seen := map[string]bool{}
	for i := range r.Proposals {
		p := &r.Proposals[i]
		tackle := 0
		if p.Tackle != nil {
			tackle = p.Tackle.Parts
		}
		l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, tackle)
		require.NoError(t, err)
		if key := drives(l); !seen[key] && len(out) < keep {
			seen[key] = true
			out = append(out, l)
		}
	}
	return out
}

// drives tells drives apart: by rope parts, motor, cells, output and pairs of pulleys.
func drives(l proof.Listed) string {
	var pairs []string
	for i := range l.Stages {
		pairs = append(pairs, l.Stages[i].Driver+" to "+l.Stages[i].Driven)
	}
	slices.SortFunc(pairs, cmp.Compare[string])
	return strings.Join(append(pairs, l.Motor, l.Cells, l.Output, strconv.Itoa(l.RopeParts)), ", ")
}

// proved is the proof of the answer of the search.
func proved(t testing.TB, cup *parts.Cupboard, b *brief.Brief, keep int) []byte {
	data, err := proof.Record(context.Background(), cup, b, keep, list(t, cup, b, keep))
	require.NoError(t, err)
	return data
}

func unpack(t testing.TB, data []byte) string {
	z, err := gzip.NewReader(bytes.NewReader(data))
	require.NoError(t, err)
	text, err := io.ReadAll(z)
	require.NoError(t, err)
	return string(text)
}

func pack(t testing.TB, text string) []byte {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	_, err := io.WriteString(z, text)
	require.NoError(t, err)
	require.NoError(t, z.Close())
	return out.Bytes()
}

// cut cuts an unpacked proof into what comes before its parts and the lines of these.
func cut(t testing.TB, text string) (head string, lines []string) {
	at := strings.Index(text, "\nparts ")
	require.Positive(t, at)
	head, rest := text[:at+1], text[at+1:]
	return head, strings.Split(strings.TrimSuffix(rest, "\n"), "\n")[1:]
}
