package plan_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/prices"
	"findrive/internal/sheet"
	"findrive/internal/supply"
)

// twoTins has bands and pulleys that are alike in two tins. A rod yields two axles, and the
// rods reach only if no half of one is left over; the large pulleys must be drilled out.
const twoTins = `
[pulley]
small = {outside = "9 mm", groove_floor = "6 mm", groove_width = "4 mm", bore = "2 mm", count = 8}
large = {outside = "40 mm", groove_floor = "36 mm", groove_width = "4 mm", bore = "4.5 mm", count = 4, location = "tin 1"}
large-b = {outside = "40 mm", groove_floor = "36 mm", groove_width = "4 mm", bore = "4.5 mm", count = 7, location = "tin 2"}
[band]
middling = {flat_length = "89 mm", width = "1.5 mm", count = 6, location = "tin 3"}
middling-b = {flat_length = "89 mm", width = "1.5 mm", count = 20, location = "tin 4"}
[motor]
m = {rated = "3 V", free_speed = "5200 rpm", stall_torque = "2.4 mN.m", count = 9}
[cells]
one = {cells = 1, count = 9}
[axle]
dowel = {diameter = "5 mm", length = "300 mm", count = 5, location = "rack"}
`

// inTurn is a plan of briefs of such names for 5, 3 and 2 groups, built one after another.
func inTurn(t *testing.T, names ...string) (*supply.Question, *plan.Plan, []*certificate.Certificate) {
	cup, err := parts.Read("cupboard.toml", []byte(twoTins))
	require.NoError(t, err)
	list, err := prices.Read("prices.toml", []byte("currency = \"GBP\"\n[supplier.hill]\n[offer.m]\npart = \"motor.m\"\nsupplier = \"hill\"\npack = 1\nprice = \"0.90\"\n"), cup)
	require.NoError(t, err)
	q := &supply.Question{Cupboard: cup, List: list, InTurn: true}
	for i, name := range names {
		b, err := brief.ReadFor("brief.toml", []byte(fmt.Sprintf("name = %q\nmodel = \"ride on an upright axle\"\nspeed = \"260 rpm\"\ntolerance = \"40 %%\"\nmax_stages = 1\nsets = %d\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n", name, []int{5, 3, 2}[i])), cup)
		require.NoError(t, err)
		q.Briefs = append(q.Briefs, b)
	}
	r, err := supply.Find(context.Background(), q, supply.Options{Threads: 2})
	require.NoError(t, err)
	require.NotNil(t, r.Plan)
	made, err := plan.OfPurchase(context.Background(), "findrive term", r, 2)
	require.NoError(t, err)
	p, all, _ := written(t, made)
	return q, p, all
}

// What a brief uses up for good is not on the lists of those after it, nor said to be there;
// what comes back is.
func TestListsInTurn(t *testing.T) {
	t.Parallel()
	q, p, all := inTurn(t, "Turntable", "Sign", "Windmill")
	cup := q.Cupboard
	assert.Empty(t, plan.Check(p, all, cup))
	classes, err := plan.Papers(p, all, sheet.DefaultOptions())
	require.NoError(t, err)
	require.Len(t, classes, 3)
	for i, want := range [][]string{
		{"rod dowel 3 of 5", "pulley large 4 of 4", "pulley large-b 1 of 7", "band middling 5 of 6", "band middling-b 0 of 20", "motor m 5 of 9", "cells one 5 of 9", "pulley small 5 of 8"},
		{"rod dowel 1 of 2", "pulley large-b 3 of 6", "band middling 1 of 1", "band middling-b 2 of 20", "motor m 3 of 9", "cells one 3 of 9", "pulley small 3 of 8"},
		{"rod dowel 1 of 1", "pulley large-b 2 of 3", "band middling-b 2 of 18", "motor m 2 of 9", "cells one 2 of 9", "pulley small 2 of 8"},
	} {
		var out bytes.Buffer
		require.NoError(t, classes[i].KitCSV(&out))
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(out.String(), "\ufeff"))).ReadAll()
		require.NoError(t, err)
		var lines []string
		for _, row := range rows[1:] { // kind, name, of all trays, have
			lines = append(lines, fmt.Sprintf("%s %s %s of %s", row[1], row[2], row[6], row[9]))
		}
		assert.Equal(t, want, lines, q.Briefs[i].Name)
		kit, err := classes[i].Kit()
		require.NoError(t, err)
		words := fmt.Sprint(kit.Blocks)
		assert.Equal(t, i == 1, strings.Contains(words, "1 × offcut of"), "the second axle of a rod that the first brief began")
		assert.NotContains(t, words, "SHORT")
		assert.NotContains(t, words, "MORE")
		assert.Contains(t, words, "Keep what is left")
	}
	how := sheet.DefaultOptions()
	how.Offcuts = []sheet.Offcut{{Of: "dowel", Length: 150, Count: 1}}
	classes, err = plan.Papers(p, all, how)
	require.NoError(t, err)
	for i := range classes {
		kit, err := classes[i].Kit()
		require.NoError(t, err)
		assert.Equal(t, i == 0, strings.Contains(fmt.Sprint(kit.Blocks), "1 × offcut of 150 mm"), "an offcut is used once")
	}
	assert.Empty(t, plan.Check(p, all, cup), "the plan itself is as it was")
}

// Two briefs of one name are two classes all the same, with files of their own.
func TestBriefsOfOneNameInTurn(t *testing.T) {
	t.Parallel()
	for _, names := range [][]string{{"Turntable", "Turntable", "Sign"}, {"Turntable", "turntable!", "2. Turntable"}, {strings.Repeat("long", 15), strings.Repeat("long", 15), "Sign"}} {
		_, p, all := inTurn(t, names...)
		classes, err := plan.Papers(p, all, sheet.DefaultOptions())
		require.NoError(t, err)
		require.Len(t, classes, 3, names)
		files := map[string]bool{}
		for i := range classes {
			files[classes[i].FileName("kit")] = true
			for k := range classes[i].Shares {
				assert.Equal(t, i, p.Drives[classes[i].Shares[k].Letter[0]-'A'].Brief)
			}
		}
		assert.Len(t, files, 3, names)
		if names[1] == "Turntable" {
			assert.Equal(t, []string{"1. Turntable", "2. Turntable", "Sign"}, []string{classes[0].Name, classes[1].Name, classes[2].Name})
		}
	}
}

// What the lists of later briefs leave out as used up, a check of the plan counts as used up too:
// pulleys that are drilled out are as gone as bands, and motors come back.
func TestCheckCountsWhatIsUsedUpInTurn(t *testing.T) {
	t.Parallel()
	q, p, all := inTurn(t, "Turntable", "Sign", "Windmill")
	with := func(pulleys, motors, bands int) []string {
		return plan.Check(p, all, q.Cupboard.Counted(func(kind string, it *parts.Item) int {
			switch kind + " " + it.Name {
			case "pulley large":
				return 0
			case "pulley large-b":
				return pulleys
			case "motor m":
				return motors
			case "band middling":
				return 0
			case "band middling-b":
				return bands
			}
			return it.Count
		}))
	}
	assert.Empty(t, with(10, 5, 10))
	assert.Equal(t, []string{"pulley large: the groups take 10, and there are 9"}, with(9, 5, 10))
	assert.Equal(t, []string{"motor m: the groups take 5, and there are 4"}, with(10, 4, 10))
	assert.Equal(t, []string{"band middling: the groups take 10, and there are 9"}, with(10, 5, 9))
	for i := range all {
		for k := range all[i].Proposals[0].Uses {
			u := &all[i].Proposals[0].Uses[k]
			want := map[string]bool{"pulley large": true, "pulley large-b": true, "band middling": true, "band middling-b": true, "axle dowel": true}[u.Kind+" "+u.Name]
			assert.Equal(t, want, all[i].Proposals[0].Gone(u) > 0, u.Name)
		}
	}
}
