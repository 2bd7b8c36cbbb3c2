package classroom_test

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/classroom"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// Which ordinary cases are measured, how many models of each drive are built, and how
// long a search may take, so that more than the few of every test run can be put:
//
//	go test ./internal/classroom -run TestForecastHolds -v -args -seed SEED -cases N
var (
	heldSeed   = flag.Uint64("seed", 0, "the first seed of the ordinary cases; 0 for those that are the same each time")
	heldCases  = flag.Uint64("cases", 60, "how many")
	heldModels = flag.Int("models", 100, "models built of each drive")
	heldLimit  = flag.Duration("search", 10*time.Second, "how long each search may take")
)

// What holds of the cases that are the same each time: so much of the models of all kinds,
// and of each kind, lies inside the stated range, which is so many times as wide as that of
// nine simulated models of ten.
const (
	leastOfAll   = 0.90
	leastOfAKind = 0.85
	mostStanding = 0.02 // more than was stated
	widest       = 1.25
)

// everyTime are seeds of ordinary cases that have drives, all models among them, and are
// searched quickly.
var everyTime = []uint64{1, 4, 8, 35, 37, 39, 41, 42, 48, 52}

// built is what came of a listed drive in many classrooms.
type built struct {
	stages          int
	inside          float64 // share of models inside the stated range
	below           float64 // and of those that are slower
	width           float64 // of the stated range over that of nine models of ten
	works, promised float64 // shares that turn as asked: built, and stated
	stands, feared  float64 // shares that do not turn at all
	// Of the very holes: likely speed over that of the design, whether it is within the
	// stated range, and within the brief's tolerance.
	atHoles        float64
	within, wanted bool
	drive          classroom.Drive
	target         float64
}

// TestForecastHolds builds every listed drive of the example briefs and of ordinary
// cupboards many times, by mechanics written apart from the program's own and with the
// spreads of real rooms, and holds what is stated of them to what comes out.
func TestForecastHolds(t *testing.T) {
	t.Parallel()
	every := map[brief.Model][]built{}
	firsts, beaten := 0, 0
	one := func(name string, cup *parts.Cupboard, b *brief.Brief) {
		ctx, cancel := context.WithTimeout(context.Background(), *heldLimit)
		defer cancel()
		r, err := design.Find(ctx, cup, b, design.Options{Threads: 2})
		require.NoError(t, err, name)
		var list []built
		for i := range r.Proposals {
			list = append(list, buildMany(&r.Proposals[i], b, *heldModels))
		}
		every[b.Model] = append(every[b.Model], list...)
		if len(list) < 2 || r.Status == design.StoppedEarly {
			return
		}
		firsts++
		if k := better(list); k > 0 {
			beaten++
			t.Logf("%s, %s: drive 1 works in %.0f %% (stated %.0f) and drive %d in %.0f %% (stated %.0f)", name, b.Model, 100*list[0].works, 100*list[0].promised, k+1, 100*list[k].works, 100*list[k].promised)
		}
	}
	if *heldSeed == 0 {
		for name, b := range exampleBriefs(t) {
			cup, err := parts.Read("cupboard.toml", demo.Cupboard())
			require.NoError(t, err)
			one(name, cup, b)
		}
		for _, seed := range everyTime {
			oneOrdinary(t, seed, one)
		}
	} else {
		for i := range *heldCases {
			oneOrdinary(t, *heldSeed+i, one)
		}
	}
	var all []built
	drives := func(what string, list []built, least float64) {
		t.Logf("%-24s %s", what, summary(list))
		if *heldSeed == 0 {
			require.NotEmpty(t, list, what)
			require.Greater(t, mean(list, func(b *built) float64 { return b.inside }), least, what)
			require.Less(t, mean(list, func(b *built) float64 { return b.below }), 0.06, what)
			require.Less(t, mean(list, func(b *built) float64 { return b.stands - b.feared }), mostStanding, what)
		}
	}
	for _, model := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft} {
		drives(string(model), every[model], leastOfAKind)
		all = append(all, every[model]...)
	}
	drives("all", all, leastOfAll)
	if *heldSeed == 0 {
		require.Less(t, mean(all, func(b *built) float64 { return b.width }), widest)
		require.LessOrEqual(t, beaten*4, firsts)
	}
	t.Logf("first drives: %d of lists of two and more, of which %d are beaten", firsts, beaten)
}

func oneOrdinary(t *testing.T, seed uint64, one func(name string, cup *parts.Cupboard, b *brief.Brief)) {
	cup, b, err := cases.Ordinary(seed)
	require.NoError(t, err)
	one(fmt.Sprintf("ordinary case %d", seed), cup, b)
}

// exampleBriefs are the built-in brief and those of testdata/briefs.
func exampleBriefs(t *testing.T) map[string]*brief.Brief {
	files, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]*brief.Brief{}
	out["built-in"], err = brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		out[filepath.Base(f)], err = brief.Read(f, text)
		require.NoError(t, err)
	}
	return out
}

// buildMany builds a proposal n times.
func buildMany(p *design.Proposal, b *brief.Brief, n int) built {
	if p.Tackle != nil {
		b = b.With(p.Tackle.Tackle)
	}
	c := of(p.Drive, b)
	speeds := classroom.Speeds(c, n, 1)
	out := built{stages: len(p.Stages), drive: c, target: float64(p.Target), promised: float64(p.Works) / 100, feared: float64(p.Stands) / 100}
	out.atHoles = float64(p.AtHoles / p.Speed.Likely)
	out.within = p.AtHoles >= p.Speed.Low && p.AtHoles <= p.Speed.High
	out.wanted = classroom.Share([]float64{float64(p.AtHoles)}, out.target, b.Tolerance) == 1
	out.works = classroom.Share(speeds, out.target, b.Tolerance)
	slices.Sort(speeds)
	for _, v := range speeds {
		switch {
		case v < float64(p.Speed.Low):
			out.below += 1 / float64(n)
		case v <= float64(p.Speed.High):
			out.inside += 1 / float64(n)
		}
		if v == 0 {
			out.stands += 1 / float64(n)
		}
	}
	out.width = float64(p.Speed.High-p.Speed.Low) / (speeds[n-1-n/20] - speeds[n/20])
	return out
}

// better is a drive of a list with no more stages than the first that works in ten of a
// hundred classrooms more, in other rooms too; 0 if there is none.
func better(list []built) int {
	for k := 1; k < len(list); k++ {
		if list[k].stages > list[0].stages || list[k].works < list[0].works+0.1 {
			continue
		}
		again := func(b *built) float64 {
			return classroom.Share(classroom.Speeds(b.drive, 1000, 2), b.target, b.drive.Brief.Tolerance)
		}
		if again(&list[k]) >= again(&list[0])+0.1 {
			return k
		}
	}
	return 0
}

// summary says what came of some drives.
func summary(list []built) string {
	mean := func(of func(b *built) float64) float64 { return mean(list, of) }
	widths := []float64{}
	for i := range list {
		widths = append(widths, list[i].width)
	}
	slices.SortFunc(widths, cmp.Compare[float64])
	middle := 0.0
	if len(widths) > 0 {
		middle = widths[len(widths)/2]
	}
	beyond, unwanted := 0, 0
	for i := range list {
		if !list[i].within {
			beyond++
		}
		if !list[i].wanted {
			unwanted++
		}
	}
	return fmt.Sprintf("%3d drives: %.1f %% inside, %.1f %% below; %.2f times as wide (middle %.2f); works in %.1f %%, stated %.1f %%; stands in %.1f %%, stated %.1f %%; at its holes %.3f times as fast, %d beyond the range, %d beyond the tolerance",
		len(list), 100*mean(func(b *built) float64 { return b.inside }), 100*mean(func(b *built) float64 { return b.below }),
		mean(func(b *built) float64 { return b.width }), middle,
		100*mean(func(b *built) float64 { return b.works }), 100*mean(func(b *built) float64 { return b.promised }),
		100*mean(func(b *built) float64 { return b.stands }), 100*mean(func(b *built) float64 { return b.feared }),
		mean(func(b *built) float64 { return b.atHoles }), beyond, unwanted)
}

func mean(list []built, of func(b *built) float64) float64 {
	sum := 0.0
	for i := range list {
		sum += of(&list[i])
	}
	return sum / float64(max(1, len(list)))
}
