package leeway

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
)

// alike compares what two values are made of, figures to a thousandth.
func alike(t *testing.T, where string, a, b any) {
	switch a := a.(type) {
	case map[string]any:
		bm, _ := b.(map[string]any)
		for key := range a {
			switch key {
			case "Assumed", "Location", "PricePence", "Words": // which no search looks at
			default:
				alike(t, where+"."+key, a[key], bm[key])
			}
		}
	case []any:
		bl, _ := b.([]any)
		if assert.Len(t, bl, len(a), where) {
			for i := range a {
				alike(t, fmt.Sprintf("%s %d", where, i), a[i], bl[i])
			}
		}
	case float64:
		bf, _ := b.(float64)
		assert.LessOrEqual(t, math.Abs(a-bf), 1e-3*max(1, math.Abs(a)), "%s: %v, %v", where, a, bf)
	default:
		assert.Equal(t, a, b, where)
	}
}

func plain(t *testing.T, v any) any {
	data, err := json.Marshal(v)
	require.NoError(t, err)
	var out any
	require.NoError(t, json.Unmarshal(data, &out))
	return out
}

// Every change of every lever, made in the files, reads as the case that it makes.
func TestEditsReadAsTheCaseTheyMake(t *testing.T) {
	cupboard := demo.Cupboard()
	ours := map[string]string{
		"carousel": string(demo.Brief()),
		"starter":  string(demo.StarterBrief()),
		"strict": "model = \"vehicle\"\nspeed = \"0.3 m/s\"\nsets = 4\nmax_stages = 1\ncells = [2]\n[direction]\nturns = \"clockwise\"\nmotor_turns = \"clockwise\"\n[load]\nmass = \"400 g\"\nwheel = \"wheel-50\"\n" +
			"[frame]\nlength = \"200 mm\"\nheight = \"90 mm\"\ndepth = \"100 mm\"\nrails = [\"20 mm\", \"60 mm\"]\npitch = \"5 mm\"\nmotor_zone = \"right half\"\noutput_zone = [\"10 mm\", \"10 mm\", \"60 mm\", \"90 mm\"]\n[making]\nglue = false\ndrill_out = false\n",
		"climber": "model = \"vehicle\"\nspeed = \"0.3 m/s\"\n[load]\nmass = \"400 g\"\nslope = \"12.5 deg\"\ndriven_share = \"45 %\"\n[frame]\nlength = \"200 mm\"\nheight = \"90 mm\"\ndepth = \"100 mm\"\nrails = [\"20 mm\", \"60 mm\"]\nstrip = \"8 mm\"\nground = \"12 mm\"\n",
		"lift":    "model = \"lift\"\nspeed = \"4 cm/s\"\n[load]\nmass = \"200 g\"\ndrum = \"spool-16\"\n[frame]\nlength = \"200 mm\"\nheight = \"90 mm\"\ndepth = \"100 mm\"\nmotor_zone = \"middle third\"\n",
		"wheel":   "model = \"ride on a level axle\"\nspeed = \"10 rpm\"\nsets = 3\n[load]\nmass = \"200 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"190 mm\"\ndepth = \"100 mm\"\n[limits]\nclearance = \"3 mm\"\n",
	}
	for name, text := range ours {
		cup, err := parts.Read("cupboard.toml", cupboard)
		require.NoError(t, err)
		b, err := brief.ReadFor("brief.toml", []byte(text), cup)
		if name == "starter" {
			b, err = brief.Read("brief.toml", []byte(text))
		}
		require.NoError(t, err, name)
		from := Case{Cupboard: cup, Brief: b}
		tried := 0
		for _, l := range Levers(from) {
			if l.Key == "speed" { // the speed that was found is written down instead
				continue
			}
			for w, way := range l.Ways {
				for _, n := range []int{1, way.Most / 2, way.Most} {
					if n < 1 || n > way.Most {
						continue
					}
					tried++
					what := fmt.Sprintf("%s, %s, way %d by %d", name, l.Key, w, n)
					to := from.Copy()
					way.Apply(to, n)
					slices.Sort(to.Brief.Frame.Rails)
					to.Brief.Frame.Rails = slices.Compact(to.Brief.Frame.Rails)
					inCupboard, inBrief := Edits(from, to, nil)
					require.NotEmpty(t, append(inCupboard, inBrief...), what)
					newCupboard, err := tomledit.Apply("cupboard.toml", cupboard, inCupboard...)
					require.NoError(t, err, what)
					newBrief, err := tomledit.Apply("brief.toml", []byte(text), inBrief...)
					require.NoError(t, err, what)
					cupNow, err := parts.Read("cupboard.toml", newCupboard)
					require.NoError(t, err, what)
					briefNow, err := brief.Read("brief.toml", newBrief)
					require.NoError(t, err, "%s\n%s", what, newBrief)
					alike(t, what, plain(t, to.Brief), plain(t, briefNow))
					for _, p := range newCount(to.Cupboard, cupNow) {
						assert.Fail(t, p, what)
					}
				}
			}
		}
		assert.Greater(t, tried, 60, name)
	}
}

// newCount says where two cupboards differ in the parts they have or, of those that were
// there, in how many.
func newCount(want, is *parts.Cupboard) []string {
	var out []string
	for _, kind := range []string{"pulley", "band", "motor", "cells", "axle", "sleeve", "wheel", "drum"} {
		for _, name := range want.Names(kind) {
			w, i := want.Item(kind, name), is.Item(kind, name)
			switch {
			case i == nil:
				out = append(out, kind+" "+name+" is not there")
			case w.Count < plenty && w.Count != i.Count:
				out = append(out, fmt.Sprintf("%s %s: %d, not %d", kind, name, i.Count, w.Count))
			case !parts.SameSizes(want, is, kind, name):
				out = append(out, kind+" "+name+" is of another size")
			}
		}
	}
	return out
}
