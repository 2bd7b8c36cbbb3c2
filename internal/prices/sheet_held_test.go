package prices_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/prices"
)

// Price lists of shops, with what each of their rows comes to: an offer that must be there,
// one that may, or a row that is left out and said to be. Written before the reader was made
// to cope with them.
func TestHeldPriceLists(t *testing.T) {
	files, err := filepath.Glob("testdata/held/*.want")
	require.NoError(t, err)
	require.Len(t, files, 5)
	for _, want := range files {
		base := strings.TrimSuffix(want, ".want")
		t.Run(filepath.Base(base), func(t *testing.T) {
			text, err := os.ReadFile(want)
			require.NoError(t, err)
			data, err := os.ReadFile(base + ".csv")
			require.NoError(t, err)
			l, err := prices.Read(base+".csv", data, ours(t))
			require.NoError(t, err)
			got := map[string]bool{}
			for _, o := range l.Offers {
				line := fmt.Sprintf("%s: %s.%s %d for £%s", l.Suppliers[o.Supplier].Name, o.Kind, o.Part, o.Pack, l.Currency.Plain(o.Price))
				if o.Least > 1 {
					line += fmt.Sprintf(" at least %d", o.Least)
				}
				got[line] = true
			}
			for line := range strings.Lines(string(text)) {
				word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
				row, offer, _ := strings.Cut(rest, " ")
				switch word {
				case "offer":
					assert.True(t, got[offer], "row %s: %s is not there", row, offer)
					delete(got, offer)
				case "may":
					delete(got, offer)
				case "left":
					said := regexp.MustCompile(`^rows? (?:\d+, )*` + row + `\b.*not used`)
					assert.True(t, slices.ContainsFunc(l.Notes, said.MatchString), "nothing is said of row %s: %q", row, l.Notes)
				case "vat":
					assert.Equal(t, prices.VAT(rest), l.VAT)
				}
			}
			assert.Empty(t, got, "wrong offers")
		})
	}
}
