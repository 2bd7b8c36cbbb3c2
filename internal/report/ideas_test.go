package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/ideas"
	"findrive/internal/parts"
)

// fewIdeas are the models of the fixtures, none of them searched for long.
func fewIdeas(t *testing.T, name string) *ideas.Result {
	t.Helper()
	var list []ideas.Idea
	for _, m := range []brief.Model{brief.PlainShaft, brief.UprightRide, brief.Vehicle} {
		b := testBrief(m)
		b.Name, b.Sets = name+string(m), 50
		b.MaxStages = 2 // three take long, and nothing here hangs on them
		list = append(list, ideas.Idea{File: string(m) + ".toml", Brief: b})
	}
	impossible := testBrief(brief.PlainShaft)
	impossible.Name, impossible.Speed = name+"top", brief.Speed{Turning: 15_000, Words: "15000 rpm"}
	r, err := ideas.Find(context.Background(), testCupboard(), append(list, ideas.Idea{File: "top.toml", Brief: impossible}), ideas.Options{})
	require.NoError(t, err)
	return r
}

func TestIdeasKeepTheirWidth(t *testing.T) {
	r := fewIdeas(t, "=\x1b[31mKarussell 回転木馬 "+strings.Repeat("ungeheuerlich", 8))
	require.Positive(t, r.Count(ideas.FewerSets))
	require.Positive(t, r.Count(ideas.NoDrive))
	for _, width := range []int{40, 60, 80, 100} {
		var out bytes.Buffer
		require.NoError(t, IdeasText(&out, r, IdeasOptions{Width: width}))
		for _, line := range strings.Split(out.String(), "\n") {
			assert.LessOrEqual(t, runewidth.StringWidth(line), width, line)
		}
		assert.NotContains(t, out.String(), "\x1b")
	}
	var out bytes.Buffer
	require.NoError(t, IdeasCSV(&out, r))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err, "every row has as many cells as the head")
	require.Len(t, rows, 5)
	for _, row := range rows[1:] {
		assert.True(t, strings.HasPrefix(row[2], "'="), "no formula: %s", row[2])
	}
}

func TestIdeasForPrograms(t *testing.T) {
	r := fewIdeas(t, "")
	var out bytes.Buffer
	require.NoError(t, IdeasJSON(&out, r))
	var f struct {
		Schema int
		Ideas  []struct {
			Answer string
			Sets   int
			Drive  *struct {
				Stages []struct{ Driver, Driven, Band string }
			}
			Changes []struct{ Words string }
			Lacking []string
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &f))
	assert.Equal(t, IdeasSchemaVersion, f.Schema)
	require.Len(t, f.Ideas, len(r.Answers))
	for i, idea := range f.Ideas {
		a := &r.Answers[i]
		assert.Equal(t, string(a.Kind), idea.Answer)
		assert.Equal(t, a.Sets, idea.Sets)
		assert.Equal(t, a.Best != nil, idea.Drive != nil)
		if a.Best != nil {
			assert.Len(t, idea.Drive.Stages, len(a.Best.Stages))
		}
		assert.NotNil(t, idea.Changes)
		assert.NotNil(t, idea.Lacking)
	}
}

// As many rods are asked for as the missing axles are cut from, and not as many as these are: with
// them all groups can build, and with one less they cannot.
func TestIdeasAskForRods(t *testing.T) {
	b := testBrief(brief.UprightRide)
	b.Sets = 9
	found := func(rods int) *ideas.Answer {
		cup := testCupboard().Counted(func(kind string, _ *parts.Item) int {
			if kind == "axle" {
				return rods
			}
			return 100
		})
		r, err := ideas.Find(context.Background(), cup, []ideas.Idea{{File: "ride.toml", Brief: b}}, ideas.Options{})
		require.NoError(t, err)
		a := &r.Answers[0]
		if a.Kind == ideas.FewerSets {
			short := shortOf(cup, a)
			require.Len(t, short, 1)
			u := a.Best.Uses[slices.IndexFunc(a.Best.Uses, func(u design.Use) bool { return u.Kind == "axle" })]
			assert.Equal(t, "rod "+u.Name, short[0].part)
			assert.Less(t, short[0].more, u.Each*b.Sets-u.Have, "a rod yields several axles")
			class, err := groups.Plan(context.Background(), cup, b, groups.Options{Different: 1})
			require.NoError(t, err)
			require.NotNil(t, class.Single)
			require.Len(t, class.Single.Short, 1)
			assert.Equal(t, short[0].more, class.Single.Short[0].Pieces, "as class says")
			assert.Contains(t, shortfall(short), " more of rod ")
		}
		return a
	}
	few := found(1)
	require.Equal(t, ideas.FewerSets, few.Kind)
	cup := testCupboard().Counted(func(kind string, _ *parts.Item) int { return map[bool]int{true: 1, false: 100}[kind == "axle"] })
	need := 1 + shortOf(cup, few)[0].more
	assert.Equal(t, ideas.AllSets, found(need).Kind)
	assert.Equal(t, ideas.FewerSets, found(need-1).Kind)
}
