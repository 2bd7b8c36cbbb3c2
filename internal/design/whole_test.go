package design_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/recheck"
	"findrive/internal/report"
	"findrive/internal/search"
)

// find searches to the end, and has the certificate rechecked by the independent
// checker.
func find(t *testing.T, cup *parts.Cupboard, b *brief.Brief, opt design.Options) *design.Result {
	t.Helper()
	r, err := design.Find(context.Background(), cup, b, opt)
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, r.Status)
	require.Empty(t, recheck.Recheck(certificateOf(t, r)))
	return r
}

func certificateOf(t *testing.T, r *design.Result) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, report.JSON(&out, r, report.JSONOptions{}))
	return out.Bytes()
}

// eachSmallCase goes through the random cases, and wants enough of them to have a
// drive at all.
func eachSmallCase(t *testing.T, check func(t *testing.T, seed uint64, cup *parts.Cupboard, b *brief.Brief)) {
	t.Helper()
	for seed := range uint64(30) {
		cup, b := design.SmallCase(seed)
		t.Run(fmt.Sprintf("one stage, %d", seed), func(t *testing.T) { check(t, seed, cup, b) })
	}
	for seed := range uint64(5) {
		cup, b := design.SmallerCase(seed)
		t.Run(fmt.Sprintf("two stages, %d", seed), func(t *testing.T) { check(t, seed, cup, b) })
	}
}

func exampleCupboard(t *testing.T) *parts.Cupboard {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	return cup
}

// exampleBriefs are the built-in brief and those of testdata/briefs.
func exampleBriefs(t testing.TB) map[string]*brief.Brief {
	t.Helper()
	files, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	data := map[string][]byte{"built-in": demo.Brief()}
	for _, f := range files {
		data[filepath.Base(f)], err = os.ReadFile(f)
		require.NoError(t, err)
	}
	out := map[string]*brief.Brief{}
	for name, text := range data {
		out[name], err = brief.Read(name, text)
		require.NoError(t, err)
	}
	return out
}

// TestEveryExampleHolds has the independent checker go through the certificate of
// every example, and holds the same bytes to be made by any number of threads.
func TestEveryExampleHolds(t *testing.T) {
	t.Parallel()
	for name, b := range exampleBriefs(t) {
		t.Run(name, func(t *testing.T) {
			cup := exampleCupboard(t)
			one := find(t, cup, b, design.Options{Keep: 3, Threads: 1})
			require.Equal(t, design.ProvedBest, one.Status)
			requireDirections(t, one)
			requireSlowingStrengthens(t, one)
			eight := find(t, cup, b, design.Options{Keep: 3, Threads: 8})
			require.Equal(t, string(certificateOf(t, one)), string(certificateOf(t, eight)))
		})
	}
}

// TestSmallSearches holds whole searches of random small cases to what must be so
// whatever the parts are.
func TestSmallSearches(t *testing.T) {
	t.Parallel()
	found, crossed := 0, 0
	eachSmallCase(t, func(t *testing.T, seed uint64, cup *parts.Cupboard, b *brief.Brief) {
		opt := design.Options{Keep: 4}
		r := find(t, cup, b, opt)
		found += len(r.Proposals)
		for _, p := range r.Proposals {
			crossed += p.Drive.Reversals()
		}
		requireDirections(t, r)
		requireSlowingStrengthens(t, r)
		requireMoreIsNoWorse(t, seed, r, opt)
		requireUnusedIsUnneeded(t, r, opt)
	})
	require.Greater(t, found, 15, "the cases must be worth testing")
	require.Greater(t, crossed, 2)
}

// requireDirections: an open band keeps the direction and each crossed one
// reverses it, and the output turns as asked.
func requireDirections(t *testing.T, r *design.Result) {
	t.Helper()
	for _, p := range r.Proposals {
		turns := p.Motor.Turns
		for i := range p.Stages {
			s := &p.Stages[i]
			require.Equal(t, turns, s.DriverTurns)
			require.Equal(t, s.Crossed, s.DriverTurns != s.DrivenTurns)
			turns = s.DrivenTurns
		}
		require.Equal(t, turns, p.Turns)
		d := r.Brief.Direction
		if d.Sense != brief.Either {
			require.Equal(t, design.Seen(d), p.Turns)
		}
		if d.Sense != brief.Either && d.MotorTurns != brief.Either {
			require.Equal(t, d.Sense == d.MotorTurns, p.Drive.Reversals()%2 == 0)
		}
	}
}

// requireSlowingStrengthens holds every stage to common practice: from small to
// big a drive slows and strengthens, by the same number.
func requireSlowingStrengthens(t *testing.T, r *design.Result) {
	t.Helper()
	for _, p := range r.Proposals {
		for i := range p.Stages {
			s, d := &p.Stages[i], &p.Drive.Stages[i]
			require.Equal(t, d.Driven.GrooveFloor > d.Driver.GrooveFloor, s.Fitted.Ratio > 1)
			require.Equal(t, d.Driven.GrooveFloor == d.Driver.GrooveFloor, s.Fitted.Ratio == 1)
			require.InEpsilon(t, s.Fitted.Ratio, float64(s.Starting.DrivenTorque/s.Starting.DriverTorque), 1e-9)
		}
	}
}

// requireMoreIsNoWorse: an extra part never makes the best worse, nor any other
// place of the list.
func requireMoreIsNoWorse(t *testing.T, seed uint64, r *design.Result, opt design.Options) {
	t.Helper()
	other, _ := design.SmallCase(seed + 1000)
	for _, more := range []struct {
		name string
		add  func(c *parts.Cupboard)
	}{
		{"pulley", func(c *parts.Cupboard) {
			p := other.Pulleys[len(other.Pulleys)-1]
			p.Name = "extra"
			c.Pulleys = append(slices.Clone(c.Pulleys), p)
		}},
		{"band", func(c *parts.Cupboard) {
			b := other.Bands[0]
			b.Name = "extra"
			c.Bands = append(slices.Clone(c.Bands), b)
		}},
		{"axle", func(c *parts.Cupboard) {
			c.Axles = append(slices.Clone(c.Axles), parts.AxleStock{Item: parts.Item{Name: "extra", Count: 2}, Diameter: 4, Length: 300, Material: parts.Steel})
		}},
		{"one more of each pulley", func(c *parts.Cupboard) {
			c.Pulleys = slices.Clone(c.Pulleys)
			for i := range c.Pulleys {
				c.Pulleys[i].Count++
			}
		}},
	} {
		cup := *r.Cupboard
		more.add(&cup)
		richer := find(t, &cup, r.Brief, opt)
		require.GreaterOrEqual(t, len(richer.Proposals), len(r.Proposals), more.name)
		for i := range r.Proposals {
			require.LessOrEqual(t, richer.Proposals[i].Total, r.Proposals[i].Total, "an extra %s made place %d worse", more.name, i+1)
		}
	}
}

// requireUnusedIsUnneeded: without the parts that no ranked drive uses the ranking
// is the same.
func requireUnusedIsUnneeded(t *testing.T, r *design.Result, opt design.Options) {
	t.Helper()
	used := map[string]bool{}
	for _, p := range r.Proposals {
		for _, u := range p.Uses {
			used[u.Name] = true
			for _, also := range u.Also {
				used[also] = true
			}
		}
	}
	cup := *r.Cupboard
	cup.Pulleys = slices.DeleteFunc(slices.Clone(cup.Pulleys), func(p parts.Pulley) bool { return !used[p.Name] })
	cup.Bands = slices.DeleteFunc(slices.Clone(cup.Bands), func(b parts.Band) bool { return !used[b.Name] })
	cup.Motors = slices.DeleteFunc(slices.Clone(cup.Motors), func(m parts.Motor) bool { return !used[m.Name] })
	cup.Holders = slices.DeleteFunc(slices.Clone(cup.Holders), func(h parts.CellHolder) bool { return !used[h.Name] })
	cup.Sleeves = slices.DeleteFunc(slices.Clone(cup.Sleeves), func(s parts.Sleeve) bool { return !used[s.Name] })
	require.Equal(t, ranking(r), ranking(find(t, &cup, r.Brief, opt)))
}

// ranking says what was ranked where: parts, holes, penalty.
func ranking(r *design.Result) []string {
	out := []string{}
	for _, p := range r.Proposals {
		var line strings.Builder
		fmt.Fprintf(&line, "%d: %s %s", p.Total, p.Drive.Motor.Name, p.Drive.Holder.Name)
		for i, s := range p.Stages {
			fmt.Fprintf(&line, ", %s to %s by %s %v %v on %s", s.Driver, s.Driven, s.Band.Name, s.Use, s.Crossed, p.Drive.Axles[i].Name)
		}
		fmt.Fprintf(&line, " at %v, %v", p.Drive.Positions, p.Drive.Lanes.Centre)
		out = append(out, line.String())
	}
	return out
}

// TestOrderOfTheFileChangesNothing shuffles the tables of the example cupboard.
func TestOrderOfTheFileChangesNothing(t *testing.T) {
	t.Parallel()
	b := exampleBriefs(t)["built-in"]
	want := string(certificateOf(t, find(t, exampleCupboard(t), b, design.Options{})))
	head, rest, ok := strings.Cut(string(demo.Cupboard()), "\n[")
	require.True(t, ok)
	tables := strings.Split(rest, "\n[")
	require.Greater(t, len(tables), 30)
	for seed := range uint64(3) {
		r := rand.New(rand.NewPCG(seed, 1))
		r.Shuffle(len(tables), func(i, j int) { tables[i], tables[j] = tables[j], tables[i] })
		cup, err := parts.Read("cupboard.toml", []byte(head+"\n["+strings.TrimSpace(strings.Join(tables, "\n["))+"\n"))
		require.NoError(t, err)
		require.Equal(t, want, string(certificateOf(t, find(t, cup, b, design.Options{}))))
	}
}

// TestWatchedSearchIsNotDisturbed: telling of the progress changes nothing.
func TestWatchedSearchIsNotDisturbed(t *testing.T) {
	t.Parallel()
	cup, b := exampleCupboard(t), exampleBriefs(t)["built-in"]
	heard := 0
	watched := find(t, cup, b, design.Options{Watch: func(search.Progress) { heard++ }})
	require.Positive(t, heard)
	require.Equal(t, string(certificateOf(t, find(t, cup, b, design.Options{}))), string(certificateOf(t, watched)))
}
