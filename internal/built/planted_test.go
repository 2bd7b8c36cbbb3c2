package built_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

// Four sound drives of the example cupboard, each as the search proposes it for one
// of the example briefs; what is asked of it is the speed that it has.
var sound = map[string]string{
	"carousel": `
model = "ride on an upright axle"
speed = "1 turn in 3.4 s"
load = {mass = "150 g", radius = "70 mm", pivot_radius = "2.5 mm"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-16", centre = "48 mm", axle = "dowel-5"}`,
	"big wheel": `
model = "ride on a level axle"
speed = "6.1 s per turn"
load = {mass = "180 g", radius = "90 mm", out_of_balance = "5 g"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "117 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-50", band = "no-18", centre = "55 mm", axle = "dowel-5"}`,
	"buggy": `
model = "vehicle"
speed = "3 m in 11.3 s"
load = {mass = "200 g", wheel = "wheel-50", driven_share = "60 %"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "motor-6", driven = "axle-40", band = "no-16", centre = "38 mm", axle = "dowel-5", lies = "left"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-14", centre = "37 mm", axle = "dowel-5", lies = "left"}`,
	"crane": `
model = "lift"
speed = "50 mm/s"
load = {mass = "50 g", drum = "spool-16"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "motor-6", driven = "disc-60", band = "no-19", centre = "67 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-18", centre = "74 mm", axle = "dowel-5"}`,
}

func read(t testing.TB, text string) *built.Build {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(text), cup)
	require.NoError(t, err)
	return b
}

// TestSoundDrives holds the drives that the faults are planted in to every rule.
func TestSoundDrives(t *testing.T) {
	for name, text := range sound {
		w, err := built.Work(read(t, text))
		require.NoError(t, err)
		for _, f := range w.Findings {
			assert.False(t, f.Broken, "%s: %s", name, f.Says)
		}
		assert.Equal(t, built.Turns, w.Stops, name)
		assert.InDelta(t, 1, float64(w.Speed.Likely/w.Target), 0.06, name)
	}
}

// fault is one built into a sound drive: text taken out, and text put in its place.
type fault struct {
	drive   string
	changes []string // from, to, from, to ...
	symptom built.Symptom
	cause   string
	stage   int
}

func (p fault) build(t *testing.T) *built.Build {
	text := sound[p.drive]
	for i := 0; i < len(p.changes); i += 2 {
		require.Contains(t, text, p.changes[i])
		text = strings.Replace(text, p.changes[i], p.changes[i+1], 1)
	}
	return read(t, text)
}

// named reports whether the planted cause stands first or second.
func (p fault) named(t *testing.T, a *built.Advice) bool {
	var named []string
	for i, c := range a.Causes {
		named = append(named, fmt.Sprintf("%s %d (%.2f, %v)", c.Name, c.Stage, c.Takes, c.Unusual))
		if c.Name == p.cause && c.Stage == p.stage {
			if i < 2 {
				return true
			}
			break
		}
	}
	t.Logf("missed in the %s, %q: %s; named were %v", p.drive, p.symptom, p.cause, named)
	return false
}

var planted = []fault{
	{"carousel", []string{`cells = "one"`, `cells = "two"`}, built.TooFast, "more cells than needed", 0},
	{"carousel", []string{`"motor-6"`, `"motor-10"`}, built.TooFast, "too little reduction", 1},
	{"carousel", []string{`driven = "axle-30", band = "no-16", centre = "48 mm"`, `driven = "axle-15", band = "no-16", centre = "56 mm"`}, built.TooFast, "too little reduction", 2},
	{"carousel", []string{`"slow"`, `"hobby"`}, built.TooFast, "fast motor", 0},
	{"buggy", []string{`driven = "axle-40", band = "no-16", centre = "38 mm"`, `driven = "axle-20", band = "no-14", centre = "42 mm"`}, built.TooFast, "too little reduction", 1},
	{"crane", []string{`driven = "disc-60", band = "no-19", centre = "67 mm"`, `driven = "axle-30", band = "no-16", centre = "50 mm"`}, built.TooFast, "too little reduction", 1},
	{"carousel", []string{`band = "no-24"`, `band = "no-33"`}, built.NoGo, "band too tight", 1},
	{"big wheel", []string{`out_of_balance = "5 g"`, `out_of_balance = "90 g"`}, built.NoGo, "out of balance", 0},
	{"crane", []string{`mass = "50 g"`, `mass = "600 g"`}, built.NoGo, "load", 0},
	{"crane", []string{`cells = "two"`, `cells = "one"`, `mass = "50 g"`, `mass = "150 g"`}, built.NoGo, "too few cells", 0},
	{"buggy", []string{`driven_share`, `slope = "30 deg", driven_share`}, built.NoGo, "slope", 0},
	{"carousel", []string{`band = "no-24"`, `band = "no-24", use = "looped twice"`, `"114 mm"`, `"80 mm"`}, built.NoGo, "band too tight", 1},
	{"carousel", []string{`"48 mm"`, `"38 mm"`}, built.Slips, "band too limp", 2},
	{"big wheel", []string{`driven = "axle-50", band = "no-18", centre = "55 mm"`, `driven = "disc-80", band = "no-19", centre = "48 mm"`}, built.JumpsOff, "too little arc", 2},
	{"crane", []string{`mass = "50 g"`, `mass = "200 g"`}, built.Slips, "load", 0},
	{"buggy", []string{`driven_share`, `slope = "20 deg", driven_share`}, built.Slips, "slope", 0},
	{"carousel", []string{`band = "no-16", centre = "48 mm"`, `band = "no-31", use = "two side by side", centre = "48 mm"`}, built.JumpsOff, "band too wide", 2},
	{"carousel", []string{`"114 mm"`, `"86 mm"`}, built.JumpsOff, "band too limp", 1},
	{"big wheel", []string{`band = "no-18", centre = "55 mm"`, `band = "no-18", centre = "44 mm", run = "crossed"`}, built.JumpsOff, "crossed too near", 2},
	{"crane", []string{`mass = "50 g"`, `mass = "90 g"`, `driven = "axle-30", band = "no-18"`, `driven = "axle-30", band = "no-19", use = "two side by side"`}, built.Slower, "motor works hard", 0},
}

// TestPlantedFaults plants twenty different faults, of which at least eighteen must
// be named first or second.
func TestPlantedFaults(t *testing.T) {
	found, helped := 0, 0
	alone, stop := context.WithCancel(context.Background())
	stop()
	for at, p := range planted {
		ctx := alone
		if at%6 == 1 { // pairs of changes take longer
			ctx = context.Background()
		}
		a, err := built.Advise(ctx, p.build(t), p.symptom)
		require.NoError(t, err)
		if p.named(t, a) {
			found++
		}
		assert.True(t, a.Shows(), "the %s with %s shows %q", p.drive, p.cause, p.symptom)
		for _, c := range []*built.Change{a.One, a.Two} {
			if c != nil {
				assert.Less(t, c.Now, c.Before)
			}
		}
		if a.One != nil && a.One.Solves(p.symptom) || a.Two != nil && a.Two.Solves(p.symptom) {
			helped++
		}
	}
	assert.GreaterOrEqual(t, found, 18)
	t.Logf("%d of %d named first or second; %d mended by the changes that were looked for", found, len(planted), helped)
}
