//go:build !js

package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/browsertest"
)

// unwrapped reads base85 letter by letter, as it is told in books: what lacks to five is the
// highest letter, and as many bytes as lacked are dropped.
func unwrapped(t require.TestingT, text []byte) []byte {
	lack := (5 - len(text)%5) % 5
	require.Less(t, lack, 4, "a letter alone is no byte")
	all := string(text) + strings.Repeat(alphabet[84:], lack)
	out := []byte{}
	for ; all != ""; all = all[5:] {
		var n uint64
		for _, letter := range all[:5] {
			at := strings.IndexRune(alphabet, letter)
			require.GreaterOrEqual(t, at, 0, "%q is no letter", letter)
			n = n*85 + uint64(at)
		}
		require.Less(t, n, uint64(1)<<32)
		out = append(out, byte(n>>24), byte(n>>16), byte(n>>8), byte(n))
	}
	return out[:len(out)-lack]
}

func TestBase85IsReadAsItWasWritten(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOfN(rapid.OneOf(rapid.Byte(), rapid.SampledFrom([]byte{0, 255})), 0, 40).Draw(t, "data")
		text := base85(data)
		require.Len(t, text, (len(data)*5+3)/4)
		require.Equal(t, data, unwrapped(t, text))
	})
}

// No text of these letters ends a script, opens a remark or means something in HTML or a quote.
func TestTheLettersOfBase85AreHarmless(t *testing.T) {
	t.Parallel()
	require.Len(t, alphabet, 85)
	for i, letter := range alphabet {
		assert.True(t, letter > ' ' && letter <= '~', "%q", letter)
		assert.Equal(t, i, strings.IndexRune(alphabet, letter), "%q twice", letter)
	}
	assert.False(t, strings.ContainsAny(alphabet, "<>&\"'`\\"))
	assert.Contains(t, unwrap, `"`+alphabet+`"`)
	assert.Contains(t, unwrap, `"`+alphabet[84:]+`"`)
}

// The page's script reads what is written here, of whatever length.
func TestAScriptReadsBase85(t *testing.T) {
	ctx := browsertest.Start(t, time.Minute)
	random := rand.New(rand.NewPCG(1, 2))
	for n := range 25 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(random.Uint32())
		}
		for _, data := range [][]byte{data, bytes.Repeat([]byte{0}, n), bytes.Repeat([]byte{255}, n)} {
			text, err := json.Marshal(string(base85(data)))
			require.NoError(t, err)
			got, err := chromedp.Run(ctx, chromedp.Evaluate[[]int](fmt.Sprintf("(() => { %s\nreturn Array.from(bytesOf(%s)); })()", bare(unwrap), text)))
			require.NoError(t, err)
			want := []int{}
			for _, b := range data {
				want = append(want, int(b))
			}
			require.Equal(t, want, got)
		}
	}
}
