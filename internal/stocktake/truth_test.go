package stocktake_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/stocktake"
)

// truth is a tub as it really is; sizes in mm.
type truth struct {
	kind, name string
	sizes      map[string]float64 // by the key of a cupboard's table
	count      int
}

// written is a size as people write it under a heading with a unit, which may be empty.
func written(t *rapid.T, mm float64, unit string) string {
	plain := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64) }
	ways := []string{plain(mm) + " mm", plain(mm) + "mm", plain(mm/10) + " cm", "Ø" + plain(mm) + " mm", "c. " + plain(mm) + " mm", strings.Replace(plain(mm/10), ".", ",", 1) + " cm", plain(mm) + " mm dia"}
	switch unit {
	case "mm", "":
		ways = append(ways, plain(mm), strings.Replace(plain(mm), ".", ",", 1))
	case "cm":
		ways = append(ways, plain(mm/10), strings.Replace(plain(mm/10), ".", ",", 1))
	}
	return rapid.SampledFrom(ways).Draw(t, "size")
}

// sizesOf are the keys of a kind and the headings that people write over them.
var sizesOf = map[string]map[string][]string{
	"pulley": {"outside": {"outside", "OD", "Outside dia", "Ø outside"}, "bore": {"bore", "hole", "Ø hole", "Axle hole"}},
	"axle":   {"diameter": {"diameter", "dia", "Ø"}, "length": {"length", "long", "Length"}},
	"wheel":  {"diameter": {"diameter", "Diam."}, "bore": {"bore", "hole size"}},
	"band":   {"flat_length": {"flat length", "length"}, "width": {"width", "wide"}},
}

// Lists drawn from what is really there, in whatever form: every value in the cupboard is
// so, or marked, or its row is not used; and hardly a row is lost.
func TestTruth(t *testing.T) {
	rows, used := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]string{"pulley", "axle", "wheel", "band"}).Draw(t, "kind")
		var keys, heads, unitsOf []string
		for _, key := range rapid.Permutation([]string{"outside", "diameter", "flat_length", "bore", "width", "length"}).Draw(t, "order") {
			if words := sizesOf[kind][key]; words != nil {
				unit := rapid.SampledFrom([]string{"", "mm", "cm"}).Draw(t, "unit")
				head := rapid.SampledFrom(words).Draw(t, "heading")
				if unit != "" {
					head += rapid.SampledFrom([]string{" (%s)", " in %s", " %s"}).Draw(t, "form")
					head = fmt.Sprintf(head, unit)
				}
				keys, heads, unitsOf = append(keys, key), append(heads, head), append(unitsOf, unit)
			}
		}
		plural := map[string]string{"pulley": "Pulleys", "axle": "Dowels", "wheel": "Wheels", "band": "Rubber bands"}[kind]
		title := rapid.Bool().Draw(t, "title")
		header := append([]string{"Name"}, heads...)
		if !title {
			header = append([]string{"Type"}, header...)
		}
		header = append(header, rapid.SampledFrom([]string{"Qty", "How many", "Count", "In stock"}).Draw(t, "count"), rapid.SampledFrom([]string{"Notes", "Supplier", "Colour"}).Draw(t, "last"))
		var table [][]string
		if title {
			table = append(table, []string{plural})
		}
		table = append(table, header)
		byName := map[string]truth{}
		for i := range rapid.IntRange(1, 6).Draw(t, "rows") {
			tr := truth{kind: kind, name: fmt.Sprintf("%c%c", 'k'+i, 'p'+i), sizes: map[string]float64{}, count: rapid.IntRange(1, 90).Draw(t, "n")}
			row := []string{tr.name}
			if !title {
				row = []string{rapid.SampledFrom([]string{plural, strings.ToUpper(plural), kind}).Draw(t, "said"), tr.name}
			}
			for k, key := range keys {
				span := map[string][2]int{"outside": {200, 800}, "diameter": {30, 120}, "flat_length": {400, 1500}, "bore": {20, 60}, "width": {10, 60}, "length": {1000, 9000}}[key]
				if kind == "wheel" && key == "diameter" {
					span = [2]int{300, 900}
				}
				tr.sizes[key] = float64(rapid.IntRange(span[0], span[1]).Draw(t, key)) / 10
				row = append(row, written(t, tr.sizes[key], unitsOf[k]))
			}
			row = append(row, rapid.SampledFrom([]string{"%d", "%d", "%d pcs", "%d.0", "~%d", "%dish", "%d (0 broken)", "over %d"}).Draw(t, "as"), rapid.SampledFrom([]string{"", "ok", "hill"}).Draw(t, "words"))
			row[len(row)-2] = fmt.Sprintf(row[len(row)-2], tr.count)
			table, byName[tr.name] = append(table, row), tr
		}
		if rapid.Bool().Draw(t, "total") {
			table = append(table, append([]string{"Total"}, header[1:]...))
		}
		var text strings.Builder
		w := csv.NewWriter(&text)
		w.Comma = rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "comma")
		require.NoError(t, w.WriteAll(table))
		r, err := stocktake.Read("list.csv", []byte(text.String()), stocktake.Options{Usual: rapid.Bool().Draw(t, "usual")})
		require.NoError(t, err)
		var cupboard map[string]any
		require.NoError(t, toml.Unmarshal(r.Cupboard, &cupboard))
		rows += len(byName)
		for _, p := range r.Parts {
			tr, known := byName[p.Name]
			require.True(t, known, "%s", r.Cupboard)
			used++
			got := cupboard[p.Kind].(map[string]any)[p.Name].(map[string]any)
			want := heldRow{kind: tr.kind, values: map[string]string{"count": strconv.Itoa(tr.count)}}
			for key, mm := range tr.sizes {
				want.values[key] = strconv.FormatFloat(mm, 'f', -1, 64) + "mm"
			}
			if wrong := want.wrong(p.Kind, got); wrong != "" {
				t.Fatalf("%s: %s\n%s\n%s", p.Name, wrong, text.String(), r.Cupboard)
			}
		}
	})
	require.Greater(t, used*10, rows*9, "of ten rows nine are used")
}
