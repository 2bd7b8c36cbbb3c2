package sheet_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/sheet"
)

// classOf is a class of which the first groups build the first drive and the others the
// second.
func classOf(t *testing.T, c *certificate.Certificate, groups ...int) *sheet.Class {
	t.Helper()
	class := &sheet.Class{Name: "Two drives"}
	first := 1
	for i, n := range groups {
		how := sheet.DefaultOptions()
		how.Sets = n
		set, err := sheet.New(c, i+1, how)
		require.NoError(t, err)
		class.Shares = append(class.Shares, sheet.ClassShare{Set: set, Letter: string(rune('A' + i)), First: first, Groups: n})
		first += n
	}
	return class
}

// The kit list of a class has each part once, and of it what the kit lists of the drives by
// themselves add up to; rods are no more than those.
func TestClassKitAddsUp(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.MaxStages = 2
	c := searchedFor(t, cup, b, 2)
	class := classOf(t, c, 3, 2)
	table := func(write func(b *bytes.Buffer) error) map[string]int {
		var b bytes.Buffer
		require.NoError(t, write(&b))
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff"))).ReadAll()
		require.NoError(t, err)
		out := map[string]int{}
		for _, r := range rows[1:] {
			n, err := strconv.Atoi(r[6])
			require.NoError(t, err)
			out[r[1]+" "+r[2]] += n
		}
		return out
	}
	all := table(func(b *bytes.Buffer) error { return class.KitCSV(b) })
	sum := map[string]int{}
	for i := range class.Shares {
		for part, n := range table(func(b *bytes.Buffer) error { return class.Shares[i].Set.KitCSV(b) }) {
			sum[part] += n
		}
	}
	require.NotEmpty(t, all)
	for part, n := range sum {
		if strings.HasPrefix(part, "rod ") {
			assert.LessOrEqual(t, all[part], n, part)
			assert.Positive(t, all[part], part)
			continue
		}
		assert.Equal(t, n, all[part], part)
	}
	assert.Len(t, all, len(sum))
	kit, err := class.Kit()
	require.NoError(t, err)
	for _, page := range []sheet.Page{kit, class.Whole()} {
		var b bytes.Buffer
		require.NoError(t, page.HTML(&b))
		assert.Contains(t, b.String(), "Two drives")
	}
}

// A part that lies in two tubs is named by both for the trays: neither alone has enough.
func TestTraysNameBothTubs(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	at := slices.IndexFunc(cup.Pulleys, func(p parts.Pulley) bool { return p.Name == "disc-80" })
	other := cup.Pulleys[at]
	other.Name, other.Count = "disc-80, new", other.Count-3
	cup.Pulleys[at].Count = 3
	cup.Pulleys = append(cup.Pulleys, other)
	class := classOf(t, searchedFor(t, cup, b, 1), 4)
	kit, err := class.Kit()
	require.NoError(t, err)
	var page bytes.Buffer
	require.NoError(t, kit.HTML(&page))
	assert.Contains(t, page.String(), "pulley disc-80 or disc-80, new")
}
