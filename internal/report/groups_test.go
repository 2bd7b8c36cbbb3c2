package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/groups"
)

func TestGroupsKeepTheirWidth(t *testing.T) {
	b := testBrief(brief.PlainShaft)
	b.Name, b.Sets = "\x1b[31mKarussell 回転木馬 "+strings.Repeat("ungeheuerlich", 8), 50
	cup := testCupboard()
	for i := range cup.Motors {
		cup.Motors[i].Name = "=" + cup.Motors[i].Name
	}
	open, crossed := worked(t, twoStages(cup, b, false), b), worked(t, twoStages(cup, b, true), b)
	short := []groups.Part{{Kind: "motor", Name: cup.Motors[0].Name, Have: 5, Used: 5}}
	r := &groups.Result{
		Cupboard: cup, Brief: b, Shares: []groups.Share{{Groups: 3, Drive: &open}, {Groups: 2, Drive: &crossed}}, Served: 5, Most: 5, Drives: 2,
		Single: &groups.Single{Drive: &open, Sets: 3}, Gone: short, Unlock: []groups.More{{Part: short[0], Pieces: 1}}, Bound: short, BoundEach: 1,
	}
	for _, width := range []int{40, 60, 80, 100} {
		var out bytes.Buffer
		require.NoError(t, GroupsText(&out, r, GroupsOptions{Width: width}))
		for _, line := range strings.Split(out.String(), "\n") {
			assert.LessOrEqual(t, runewidth.StringWidth(line), width, line)
		}
		assert.NotContains(t, out.String(), "\x1b")
	}
	var out bytes.Buffer
	require.NoError(t, GroupsCSV(&out, r))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	assert.Truef(t, strings.HasPrefix(rows[1][4], "'="), "no formula: %s", rows[1][4])
	out.Reset()
	require.NoError(t, GroupsJSON(&out, r))
	var f struct {
		Schema int
		Served int `json:"groups_served"`
		Shares []struct{ Groups int }
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &f))
	assert.Equal(t, GroupsSchemaVersion, f.Schema)
	sum := 0
	for _, s := range f.Shares {
		sum += s.Groups
	}
	assert.Equal(t, f.Served, sum)
}

// One drive is not said to be weighed against itself.
func TestOneDriveIsNotWeighedAgainstItself(t *testing.T) {
	r := &groups.Result{Brief: &brief.Brief{Sets: 11}, Served: 11, Most: 11, Drives: 1, Shares: []groups.Share{{Groups: 11}}}
	assert.Equal(t, "No other drive was weighed against it.", groupsProof(r))
	r.Drives = 4
	assert.Contains(t, groupsProof(r), "4 drives were weighed against each other")
}

// What is left over, if too little for another, is not called used up.
func TestUsedUpOrTooFew(t *testing.T) {
	for _, c := range []struct {
		gone []groups.Part
		want string
	}{
		{nil, ""},
		{[]groups.Part{{Kind: "motor", Name: "grey", Have: 2, Used: 2}, {Kind: "pulley", Name: "large", Have: 5, Used: 4}},
			"Used up: motor grey (2 of 2). Too few left for another group with such a drive: pulley large (1 left of 5)."},
		{[]groups.Part{{Kind: "pulley", Name: "large", Have: 5, Used: 4}}, "Too few left for another group with such a drive: pulley large (1 left of 5)."},
	} {
		assert.Equal(t, c.want, goneWords(&groups.Result{Gone: c.gone}))
	}
}
