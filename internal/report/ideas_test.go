package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/ideas"
)

// fewIdeas are the models of the fixtures, none of them searched for long.
func fewIdeas(t *testing.T, name string) *ideas.Result {
	t.Helper()
	var list []ideas.Idea
	for _, m := range []brief.Model{brief.PlainShaft, brief.UprightRide, brief.Vehicle} {
		b := testBrief(m)
		b.Name, b.Sets = name+string(m), 50
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
