package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/hoist"
	"findrive/internal/parts"
	"findrive/internal/report"
)

func hoists(t *testing.T, change func(*parts.Cupboard, *hoist.Brief)) *hoist.Result {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := hoist.ReadBrief("hoist.toml", demo.Hoist(), cup)
	require.NoError(t, err)
	change(cup, b)
	return hoist.Find(context.Background(), cup, b, hoist.Options{})
}

// No line is wider than the page, whatever the names, and no control character
// from a file gets out.
func TestHoistTextKeepsItsWidth(t *testing.T) {
	r := hoists(t, func(cup *parts.Cupboard, b *hoist.Brief) {
		b.Name = "Hafenkran \x1b[31m" + strings.Repeat("ungeheuerlich", 9)
		b.Way = hoist.AnyWay
		for i := range cup.Blocks {
			cup.Blocks[i].Name += " 滑車の箱から出した物"
		}
	})
	for _, width := range []int{40, 60, 80, 100} {
		var out bytes.Buffer
		require.NoError(t, report.HoistText(&out, r, report.HoistOptions{Width: width, Full: 99, Why: true}))
		for _, line := range strings.Split(out.String(), "\n") {
			assert.LessOrEqual(t, runewidth.StringWidth(line), width, line)
		}
		assert.NotContains(t, out.String(), "\x1b")
	}
}

func TestHoistTextSaysWhatMatters(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, report.HoistText(&out, hoists(t, func(_ *parts.Cupboard, b *hoist.Brief) { b.Way, b.Pull = hoist.AnyWay, 20 }), report.HoistOptions{}))
	said := strings.Join(strings.Fields(out.String()), " ")
	for _, want := range []string{
		"No gain: it only turns the pull round, so that the puller stands safely on the floor.",
		"Mass is in kilograms, weight in newtons: 0.5 kg weighs 4.9 N.",
		"sand tray or cushion", "keep feet and hands out from under", "Never more than 1 kg in a classroom, and nothing over people.",
		"your school's own risk assessment, local codes and competent staff decide", "never under 10 mm", "across the line of the axle",
	} {
		assert.Contains(t, said, want)
	}
	assert.Equal(t, 5, strings.Count(out.String(), "_____ N"), "a blank for every arrangement of the lesson")
	assert.Equal(t, 5, strings.Count(out.String(), "_____ J"))
}

// The file for programs: every claim of a hoist holds with the file's own figures.
func TestHoistJSONHoldsTogether(t *testing.T) {
	r := hoists(t, func(_ *parts.Cupboard, b *hoist.Brief) { b.Way = hoist.AnyWay })
	var out bytes.Buffer
	require.NoError(t, report.HoistJSON(&out, r))
	var f struct {
		Schema int
		Kind   string
		Status string
		Brief  struct {
			Mass float64 `json:"mass_g"`
			Lift float64 `json:"lift_mm"`
			Pull float64 `json:"pull_N"`
		}
		Hoists []map[string]any
		Lesson []map[string]any
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &f))
	assert.Equal(t, "findrive hoist", f.Kind)
	assert.Equal(t, "ranked", f.Status)
	require.NotEmpty(t, f.Hoists)
	require.Len(t, f.Lesson, 5)
	for _, h := range append(f.Hoists, f.Lesson...) {
		figure := func(keys ...string) float64 {
			v := any(h)
			for _, k := range keys {
				v = v.(map[string]any)[k]
			}
			return v.(float64)
		}
		weight := (figure("mass_g") + figure("moving_block_g")) / 1000 * 9.80665
		n := figure("rope_parts")
		assert.InEpsilon(t, n*figure("efficiency", "likely"), figure("mechanical_advantage", "likely"), 1e-6)
		assert.InEpsilon(t, weight, figure("pull_raising_N", "likely")*figure("mechanical_advantage", "likely"), 1e-6)
		assert.InEpsilon(t, n*f.Brief.Lift, figure("cord_pulled_mm"), 1e-9)
		assert.InEpsilon(t, figure("work", "in_J"), figure("work", "load_J")+figure("work", "block_J")+figure("work", "friction_J"), 1e-6)
		assert.InEpsilon(t, weight*(1+figure("sheaves")/10)/n, figure("pull_tenth_rule_N"), 1e-6)
	}
	for _, h := range f.Hoists {
		assert.LessOrEqual(t, h["pull_raising_N"].(map[string]any)["likely"].(float64), f.Brief.Pull)
	}
	var again bytes.Buffer
	require.NoError(t, report.HoistJSON(&again, r))
	assert.Equal(t, out.String(), again.String())
}

func TestHoistJSONRefusesNonsense(t *testing.T) {
	r := hoists(t, func(*parts.Cupboard, *hoist.Brief) {})
	r.Hoists[0].Efficiency.Low = math.Inf(1)
	var out bytes.Buffer
	require.Error(t, report.HoistJSON(&out, r))
}

func TestHoistCSV(t *testing.T) {
	r := hoists(t, func(cup *parts.Cupboard, _ *hoist.Brief) { cup.Cords[0].Name, cup.Cords[1].Name = "=1+1", "=2" })
	var out bytes.Buffer
	require.NoError(t, report.HoistCSV(&out, r))
	assert.NotContains(t, out.String(), ",=")
	rows, err := csv.NewReader(&out).ReadAll() // refuses rows of unequal length
	require.NoError(t, err)
	assert.Len(t, rows, 1+len(r.Hoists)+5)
	for _, row := range rows[1:] {
		assert.Contains(t, []string{"'=1+1", "'=2"}, row[11])
	}
}
