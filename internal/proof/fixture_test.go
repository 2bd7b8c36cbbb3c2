package proof_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/report"
)

// few is the built-in example with only a few of its parts, so that its proofs are
// short.
func few(t testing.TB) (*parts.Cupboard, *brief.Brief) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
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

// certificate is the answer of the search, as it is written into a proof.
func certificate(t testing.TB, cup *parts.Cupboard, b *brief.Brief, keep int) []byte {
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: keep, Threads: 1})
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, report.JSON(&out, r, report.JSONOptions{Compact: true}))
	return out.Bytes()
}

// proved is the proof of the answer of the search.
func proved(t testing.TB, cup *parts.Cupboard, b *brief.Brief, keep int) []byte {
	data, err := proof.Record(context.Background(), cup, b, keep, certificate(t, cup, b, keep))
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

// tree cuts an unpacked proof into what comes before its tree and the tree's lines.
func tree(t testing.TB, text string) (head string, lines []string) {
	at := strings.Index(text, "\ntree ")
	require.Positive(t, at)
	head, rest := text[:at+1], text[at+1:]
	return head, strings.Split(strings.TrimSuffix(rest, "\n"), "\n")[1:]
}
