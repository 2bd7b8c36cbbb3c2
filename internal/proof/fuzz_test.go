package proof_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/proof"
	"findrive/internal/score"
)

// FuzzCheck reads any text as a proof, packed as proofs are unless it is packed
// already: rejected, or a proof of the one answer there is.
func FuzzCheck(f *testing.F) {
	cup, b := few(f)
	b.Tolerance = 0.25
	ranked := map[int][]score.Points{}
	for asked := 1; asked <= 2; asked++ {
		data := proved(f, cup, b, asked)
		v, err := check(f, data, cup, b)
		require.NoError(f, err)
		require.Len(f, v.Ranked, asked)
		ranked[asked] = v.Ranked
		f.Add(data)
		f.Add([]byte(unpack(f, data)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if !bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
			var packed bytes.Buffer
			z, err := gzip.NewWriterLevel(&packed, gzip.BestSpeed)
			require.NoError(t, err)
			_, err = z.Write(data)
			require.NoError(t, err)
			require.NoError(t, z.Close())
			data = packed.Bytes()
		}
		v, err := proof.Check(context.Background(), data, cup, b)
		if (v == nil) == (err == nil) {
			t.Fatal("either a verdict or an error")
		}
		if err != nil {
			return
		}
		if want := ranked[v.Asked]; want != nil {
			require.Equal(t, want, v.Ranked)
		}
	})
}
