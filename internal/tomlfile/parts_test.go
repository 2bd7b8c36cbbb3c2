package tomlfile

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A key as a mistake has it tells the names that it is made of, whatever is in them.
func TestPartsAreWhatDottedPutsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringN(1, 20, -1).Filter(func(s string) bool { return utf8.ValidString(s) && !strings.Contains(s, "\x00") })
		names := rapid.SliceOfN(name, 1, 4).Draw(t, "names")
		for _, n := range names {
			if n == "" || len([]rune(n)) > 20 {
				t.Skip("not a name that StringN was asked for")
			}
		}
		require.Equal(t, names, Parts(Dotted(names...)))
	})
	require.Equal(t, []string{"band", "gummibänder", "x.y"}, Parts(`band."gummibänder"."x.y"`))
}
