package certificate

import (
	"bytes"
	"encoding/json"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The certificates are those that the report's tests keep.
func file(t testing.TB, name string) []byte {
	data, err := os.ReadFile("../report/testdata/" + name)
	require.NoError(t, err)
	return data
}

// What is read and written again is the same, byte for byte.
func TestReadAndWriteAgain(t *testing.T) {
	for _, name := range []string{"lift.json", "vehicle.json", "none.json"} {
		c, err := Read(file(t, name))
		require.NoError(t, err)
		again, err := json.MarshalIndent(c, "", "  ")
		require.NoError(t, err)
		require.JSONEq(t, string(file(t, name)), string(again))
	}
}

func TestReadRefuses(t *testing.T) {
	tests := []struct {
		name   string
		change func(c *Certificate)
		says   string
	}{
		{"another kind", func(c *Certificate) { c.Kind = "shopping list" }, "not a findrive certificate"},
		{"the schema before", func(c *Certificate) { c.Schema = 1 }, "line 1: schema: this certificate is of schema 1, which was written before drives were designed for a hundred classrooms and is not read any more; save it again"},
		{"another schema", func(c *Certificate) { c.Schema = 7 }, "schema 7"},
		{"axles missing", func(c *Certificate) { c.Proposals[0].Axles = nil }, "do not belong together"},
		{"a pulley of nothing", func(c *Certificate) { c.Proposals[0].Stages[0].Driver.Outside = 0 }, "line 1: proposals[1].stages[1].driver: the pulley has no size; save it again"},
		{"a band of miles", func(c *Certificate) { c.Proposals[0].Stages[1].Band.FlatLength = 1e9 }, "line 1: proposals[1].stages[2].band: the band has no size"},
		{"an axle of nothing", func(c *Certificate) { c.Proposals[0].Axles[0].Length = -1 }, "proposals[1].axles[1]: the axle has no size"},
		{"a hole in the playground", func(c *Certificate) { c.Proposals[0].Positions[0].X = 1e6 }, "proposals[1].positions[1]: the hole is nowhere near"},
		{"a second axle in the playground", func(c *Certificate) { c.Proposals[0].FreeAxle = &Hole{X: 10, Y: -1e6} }, "proposals[1].free_axle: the hole is nowhere near"},
		{"no speed", func(c *Certificate) { c.Proposals[0].Speed.Likely = 0 }, "no speed"},
		{"a band of no stage", func(c *Certificate) {
			none := 0
			c.Proposals[0].Overload = &Overload{Stage: &none}
		}, "that of stage 0"},
		{"no frame", func(c *Certificate) { c.Brief.Frame.Depth = 0 }, "brief.frame: the frame"},
		{"no sets", func(c *Certificate) { c.Brief.Sets = 0 }, "brief.sets: 0 sets"},
		{"a million motors", func(c *Certificate) { c.Proposals[0].Uses[0].Each = 1_000_000 }, "proposals[1].uses[1]: a set takes 1000000"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := Read(file(t, "lift.json"))
			require.NoError(t, err)
			tt.change(c)
			data, err := json.Marshal(c)
			require.NoError(t, err)
			_, err = Read(data)
			assert.ErrorContains(t, err, tt.says)
		})
	}
	c, err := Read(file(t, "lift.json"))
	require.NoError(t, err)
	c.Proposals[0].Stages[1].Band.FlatLength = 98765
	data, err := json.MarshalIndent(c, "", " ")
	require.NoError(t, err)
	_, err = Read(data)
	require.Error(t, err)
	line := 1 + bytes.Count(data[:bytes.Index(data, []byte("98765"))], []byte("\n"))
	said, _, _ := strings.Cut(err.Error(), ":")
	band, err := strconv.Atoi(strings.TrimPrefix(said, "line "))
	require.NoError(t, err)
	assert.InDelta(t, line, band, 8, "the band begins some lines before its length")
	assert.Less(t, band, line)
	for data, says := range map[string]string{"": "not JSON", "{": "not JSON", "[]": "not a findrive certificate", `{"schema": 1}`: "not a findrive certificate"} {
		_, err := Read([]byte(data))
		assert.ErrorContains(t, err, says, "%q", data)
	}
}
