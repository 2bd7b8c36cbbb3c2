package amend_test

import (
	"cmp"
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/amend"
	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
	"findrive/internal/why"
)

// texts are the two files of a case.
type texts struct{ cupboard, brief string }

func (x texts) read(t require.TestingT) leeway.Case {
	cup, err := parts.Read("cupboard.toml", []byte(x.cupboard))
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", []byte(x.brief))
	require.NoError(t, err)
	return leeway.Case{Cupboard: cup, Brief: b}
}

// amended are the texts after a change.
func (x texts) amended(t require.TestingT, before, after leeway.Case) (texts, []tomledit.Edit) {
	cup, err := amend.Cupboard("cupboard.toml", []byte(x.cupboard), before.Cupboard, after.Cupboard)
	require.NoError(t, err)
	b, err := amend.Brief("brief.toml", []byte(x.brief), before.Brief, after.Brief)
	require.NoError(t, err)
	return texts{string(cup.Text), string(b.Text)}, append(cup.Edits, b.Edits...)
}

// sorted has the parts in the order in which a file gives them.
func sorted(c *parts.Cupboard) *parts.Cupboard {
	out := *c
	order(&out.Pulleys, func(p parts.Pulley) string { return p.Name })
	order(&out.Bands, func(p parts.Band) string { return p.Name })
	order(&out.Motors, func(p parts.Motor) string { return p.Name })
	order(&out.Holders, func(p parts.CellHolder) string { return p.Name })
	order(&out.Sleeves, func(p parts.Sleeve) string { return p.Name })
	return &out
}

func order[P any](list *[]P, name func(P) string) {
	*list = slices.SortedFunc(slices.Values(*list), func(a, b P) int { return cmp.Compare(name(a), name(b)) })
}

// cases are such that between them everything gives that can.
func cases(t *testing.T) map[string]texts {
	edited := func(text []byte, edits ...tomledit.Edit) string {
		out, err := tomledit.Apply("a.toml", text, edits...)
		require.NoError(t, err)
		return string(out)
	}
	text := func(s string, key ...string) tomledit.Edit { return tomledit.Set(tomledit.Text(s), key...) }
	strict := edited(demo.Brief(),
		text("clockwise", "direction", "motor_turns"), tomledit.Set(tomledit.Yes(false), "making", "drill_out"), tomledit.Set(tomledit.Yes(false), "making", "glue"),
		text("5 mm", "frame", "pitch"), text("right half", "frame", "output_zone"), tomledit.Set(tomledit.Whole(2), "max_stages"), text("150 deg", "limits", "arc_min"))
	frame := "[frame]\nlength = \"260 mm\"\nheight = \"121 mm\"\ndepth = \"90 mm\"\n"
	rails := frame + "rails = [\"90 mm\", \"10 mm\", \"50 mm\"] # as they are\npitch = \"12.7 mm\"\nmotor_zone = \"left third\"\noutput_zone = [\"33.33 mm\", \"0 mm\", \"26 cm\", \"121 mm\"]\n"
	return map[string]texts{
		"carousel": {string(demo.Cupboard()), strict},
		"windows":  {strings.ReplaceAll(string(demo.Cupboard()), "\n", "\r\n"), strings.ReplaceAll(strict, "\n", "\r\n")},
		"rails":    {string(demo.StarterCupboard()), "model = \"ride on an upright axle\"\nspeed = \"40 rpm\" # or so\ntolerance = \"57 %\"\n[load]\nmass = \"100 g\"\n" + rails},
		"vehicle":  {string(demo.Cupboard()), "model = \"vehicle\"\nspeed = \"1 m in 7 s\"\nsets = 3\n[load]\nmass = \"333 g\"\nwheel = \"wheel-50\"\n" + frame},
		"lift":     {string(demo.Cupboard()), "model = \"lift\"\nspeed = \"30 mm/s\"\ncells = [1]\n[load]\nmass = \"70 g\"\ndrum = \"spool-16\"\ntackle_parts = [1, 2]\n" + frame},
		"wheel":    {string(demo.Cupboard()), "model = \"ride on a level axle\"\nspeed = \"12 rpm\"\n[load]\nmass = \"200 g\"\n" + frame + "[direction]\nturns = \"clockwise\"\nmotor_turns = \"clockwise\"\n"},
		"shaft":    {string(demo.StarterCupboard()), "model = \"plain shaft\"\nspeed = \"60 rpm\"\n[load]\ntorque = \"10 g.cm\"\n" + frame},
	}
}

// Every change that is known of, by one step, by half and by its most: made in the two
// texts and read again it is the change made in memory, and nothing else is touched.
func TestEveryChangeIsReadAsItWasMade(t *testing.T) {
	t.Parallel()
	kinds := map[string]bool{}
	for name, x := range cases(t) {
		base := x.read(t)
		found, err := design.Exists(context.Background(), base.Cupboard, base.Brief, design.Options{})
		require.NoError(t, err)
		q := &design.Proposal{Target: 20}
		q.Speed.Likely = 31.4
		if len(found.Proposals) > 0 {
			q = &found.Proposals[0]
		}
		for _, l := range leeway.Levers(base) {
			kinds[l.Key] = true
			for i, w := range l.Ways {
				for _, n := range slices.Compact([]int{min(1, w.Most), w.Most / 2, w.Most}) {
					if n == 0 || w.Do != nil && q.Drive == nil && l.Key != "speed" {
						continue
					}
					at := fmt.Sprintf("%s: %s, way %d by %d", name, l.Key, i, n)
					want := base.Copy()
					w.Make(want, n, q)
					got, edits := x.amended(t, base, want)
					if w.Do == nil { // else this drive may take nothing of it
						assert.NotEmpty(t, edits, at)
					}
					assert.LessOrEqual(t, len(edits), 12, at)
					is := got.read(t)
					assert.Equal(t, sorted(want.Cupboard), sorted(is.Cupboard), at)
					assert.Equal(t, want.Brief, is.Brief, at)
					assert.Equal(t, remarks(x), remarks(got), at)
				}
			}
		}
	}
	for _, key := range []string{"speed", "sets", "stages", "cells", "pulleys", "bands", "motors", "rods and sleeves", "wheels", "drums", "wheel", "drum", "frame length", "frame height",
		"frame depth", "hole pitch", "rails", "motor zone", "output zone", "glue", "drilling out", "motor direction", "direction", "load", "stretch", "arc of contact", "grip", "motor in hand",
		"clearances", "wall round holes", "groove for the band"} {
		assert.True(t, kinds[key], key)
	}
}

// remarks are the lines of the texts that say nothing to the program.
func remarks(x texts) []string {
	var out []string
	for _, line := range strings.Split(x.cupboard+"\n"+x.brief, "\n") {
		if strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	return out
}

const box = `# The box under the window.
[pulley.small]
outside = "9 mm"
groove_floor = "6 mm"
bore = "2 mm"
count = 4 # one is chipped
[pulley.large]
outside = "40 mm"
groove_floor = "36 mm"
bore = "4.9 mm"
count = 3
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 20
[motor.m]
rated = "3 V"
free_speed = "5200 rpm"
stall_torque = "2.4 mN.m"
count = 9
[cells.one]
cells = 1
count = 9
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 10
`

// hopeless are cases in which nothing can be built until something gives.
func hopeless() map[string]texts {
	ride := func(top, load, frame string) texts {
		return texts{box, "# Ours.\nname = \"ride\"\nmodel = \"ride on an upright axle\"\nmax_stages = 1\n" + top + "\n[load]\nmass = " + load + "\n[frame]\n" + frame + "\n"}
	}
	usual := "length = \"120 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\""
	return map[string]texts{
		"too slow":      ride("speed = \"100 rpm\"\ntolerance = \"10 %\"", `"60 g"`, usual),
		"far too slow":  ride("speed = \"6 rpm\"\ntolerance = \"10 %\"", `"60 g"`, usual),
		"too many sets": ride("speed = \"300 rpm\"\nsets = 4\ntolerance = \"60 %\"", `"60 g"`, usual),
		"too small":     ride("speed = \"300 rpm\"\ntolerance = \"60 %\"", `"60 g"`, "length = \"40 mm\"\nheight = \"50 mm\"\ndepth = \"80 mm\"\nmotor_zone = \"left third\""),
		"too heavy":     ride("speed = \"300 rpm\"\ntolerance = \"60 %\"", `"400 g"`, usual),
		"rails":         ride("speed = \"300 rpm\"\ntolerance = \"60 %\"", `"60 g"`, usual+"\nrails = [\"3 mm\"]"),
	}
}

// drive is a drive of a case, nil if none is found in the time.
func drive(t *testing.T, c leeway.Case, limit time.Duration) *design.Proposal {
	ctx, stop := context.WithTimeout(context.Background(), limit)
	defer stop()
	r, err := design.Exists(ctx, c.Cupboard, c.Brief, design.Options{})
	require.NoError(t, err)
	if len(r.Proposals) == 0 {
		return nil
	}
	return &r.Proposals[0]
}

// A change with which a drive is found is enough when it is written into the two files
// for that drive: there is a drive from them, with no more parts than it takes.
func TestWhatUnlocksItUnlocksIt(t *testing.T) {
	t.Parallel()
	kinds := map[string]bool{}
	for name, x := range hopeless() {
		base := x.read(t)
		require.Nil(t, drive(t, base, time.Second), name)
		for _, l := range leeway.Levers(base) {
			for i, w := range l.Ways {
				changed := base.Copy()
				w.Apply(changed, w.Most)
				q := drive(t, changed, time.Second)
				if q == nil {
					continue
				}
				kinds[l.Key] = true
				made := base.Copy()
				w.Make(made, w.Most, q)
				got, _ := x.amended(t, base, made)
				is := got.read(t)
				at := fmt.Sprintf("%s: %s, way %d", name, l.Key, i)
				assert.Equal(t, sorted(made.Cupboard), sorted(is.Cupboard), at)
				assert.Equal(t, made.Brief, is.Brief, at)
				assert.NotNil(t, drive(t, is, time.Minute), at)
				for _, it := range is.Cupboard.Pulleys {
					assert.Less(t, it.Count, 100, at)
				}
			}
		}
	}
	for _, key := range []string{"speed", "sets", "pulleys", "rails", "load"} {
		assert.True(t, kinds[key], key)
	}
}

// What why says is made in the files as it says it.
func TestChangesOfWhy(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"too slow", "too many sets"} {
		x := hopeless()[name]
		base := x.read(t)
		a, err := why.Ask(context.Background(), base, why.Options{})
		require.NoError(t, err)
		require.NotEmpty(t, a.Changes, name)
		for i := range a.Changes {
			made := a.Made(&a.Changes[i])
			got, _ := x.amended(t, base, made)
			is := got.read(t)
			assert.Equal(t, sorted(made.Cupboard), sorted(is.Cupboard))
			assert.Equal(t, made.Brief, is.Brief)
			assert.NotNil(t, drive(t, is, time.Minute), a.Changes[i].Steps[0].Words)
		}
	}
}

// A case that differs from its text, as by a flag, is changed only in what the change is.
func TestOnlyTheChangeIsWritten(t *testing.T) {
	x := cases(t)["carousel"]
	before := x.read(t)
	before.Brief.Sets, before.Brief.Tolerance = 5, 0.4
	before.Cupboard.Motors[0].FreeSpeed *= 1.01 // learned by counting
	after := before.Copy()
	after.Brief.Frame.Depth += 20
	after.Cupboard.Pulleys[0].Count += 2
	got, edits := x.amended(t, before, after)
	require.Len(t, edits, 2)
	is, was := got.read(t), x.read(t)
	assert.Equal(t, was.Brief.Sets, is.Brief.Sets)
	assert.Equal(t, was.Cupboard.Motors, is.Cupboard.Motors)
	was.Brief.Frame.Depth += 20
	assert.True(t, reflect.DeepEqual(was.Brief, is.Brief))
}

func TestAPartIsTakenOut(t *testing.T) {
	before, err := parts.Read("c.toml", []byte(box))
	require.NoError(t, err)
	after := *before
	after.Pulleys = after.Pulleys[1:]
	got, err := amend.Cupboard("c.toml", []byte(box), before, &after)
	require.NoError(t, err)
	assert.Equal(t, []tomledit.Edit{tomledit.Remove("pulley", "large")}, got.Edits)
	assert.NotContains(t, string(got.Text), "pulley.large")
	assert.Contains(t, string(got.Text), "# one is chipped")
}

func TestNothingIsNothing(t *testing.T) {
	before, err := parts.Read("c.toml", []byte(box))
	require.NoError(t, err)
	got, err := amend.Cupboard("c.toml", []byte(box), before, before)
	require.NoError(t, err)
	assert.Empty(t, got.Edits)
	assert.Equal(t, box, string(got.Text))
}

func TestWhatCannotBeWrittenIsSaid(t *testing.T) {
	before, err := parts.Read("c.toml", []byte(box))
	require.NoError(t, err)
	for _, text := range []string{"[pulley.small]\ncount = -1\n", "[pulley.small\n"} {
		_, err = amend.Cupboard("c.toml", []byte(text), before, before)
		assert.ErrorContains(t, err, "c.toml:")
	}
	after := *before
	after.Pulleys = slices.Clone(after.Pulleys)
	after.Pulleys[0].Bore = 1000
	_, err = amend.Cupboard("c.toml", []byte(box), before, &after)
	assert.ErrorContains(t, err, "the change cannot be written")
}
