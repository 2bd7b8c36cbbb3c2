package making_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

const small = `
[pulley.axle-20]
outside = "20 mm"
groove_floor = "16 mm"
groove_width = "3.5 mm"
width = "6 mm"
bore = "4.9 mm"
count = 20

[band.no-16]
size = 16
count = 40

[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 10

[sheet.card]
thickness = "2 mm"
length = "297 mm"
width = "210 mm"
count = 4

[cutter.hand]
`

func cupboard(t testing.TB, text string) *parts.Cupboard {
	t.Helper()
	c, err := parts.Read("c.toml", []byte(text))
	require.NoError(t, err)
	return c
}

func asked(sets int) *brief.Brief {
	return &brief.Brief{Model: brief.PlainShaft, Sets: sets, Limits: brief.DefaultLimits(), Weights: brief.DefaultWeights(),
		Frame: brief.Frame{Length: 200, Height: 110, Depth: 80, Sheet: 4}, Making: brief.Making{Glue: true, Discs: true, DrillFrame: true, DrillOut: true}}
}

func TestKindsKeepTheirLimits(t *testing.T) {
	cup, b := cupboard(t, small), asked(2)
	kinds := making.Kinds(cup, b)
	require.NotEmpty(t, kinds)
	for i := range kinds {
		p := &kinds[i]
		m := p.Made
		require.NotNil(t, m)
		assert.Zero(t, math.Mod(float64(p.GrooveFloor), 5), "on the step")
		assert.GreaterOrEqual(t, float64(p.Outside-p.GrooveFloor)/2, float64(cup.Bands[0].Thickness)+2, "the flange keeps the band in")
		assert.GreaterOrEqual(t, float64(p.GrooveWidth), 2*float64(cup.Bands[0].Width), "two bands side by side")
		assert.InDelta(t, float64(m.Layers)*2, float64(p.GrooveWidth), 1e-9)
		assert.InDelta(t, float64(p.GrooveWidth)+4, float64(p.Width), 1e-9)
		assert.LessOrEqual(t, float64(p.Outside), 200.0)
		assert.GreaterOrEqual(t, float64(p.GrooveFloor), float64(p.Bore)+12)
		ways, no := constraints.Joints(constraints.PulleyHub(p), 5, nil, brief.Making{})
		require.Nil(t, no)
		assert.Equal(t, "push fit", ways[0].Kind.String())
		assert.InDelta(t, 0.5, float64(m.Error), 1e-9, "scissors")
		assert.GreaterOrEqual(t, p.Count, b.Sets)
		assert.False(t, p.CanDrill)
		assert.NotNil(t, constraints.MadeOnMotor(p))
	}
	assert.Equal(t, "made-20", kinds[0].Name)
	assert.Equal(t, units.Millimetres(30), kinds[0].Outside)
}

func TestKindsThatAreNotOffered(t *testing.T) {
	names := func(text string, b *brief.Brief) []string {
		var out []string
		for _, p := range making.Kinds(cupboard(t, text), b) {
			out = append(out, p.Name)
		}
		return out
	}
	assert.NotContains(t, names(small+"[pulley.axle-54]\noutside = \"60 mm\"\ngroove_floor = \"54 mm\"\ngroove_width = \"4 mm\"\nbore = \"4.9 mm\"\ncount = 20\n", asked(2)), "made-55", "there is one as good")
	assert.Contains(t, names(small+"[pulley.axle-54]\noutside = \"60 mm\"\ngroove_floor = \"54 mm\"\ngroove_width = \"4 mm\"\nbore = \"4.9 mm\"\ncount = 1\n", asked(2)), "made-55", "too few of it")
	assert.Contains(t, names(small+"[pulley.axle-54]\noutside = \"60 mm\"\ngroove_floor = \"54 mm\"\ngroove_width = \"4 mm\"\nbore = \"2 mm\"\ncount = 20\n", asked(2)), "made-55", "it sits on no dowel")
	b := asked(2)
	b.Making.Glue = false
	assert.Empty(t, names(small, b))
	assert.Empty(t, names(small+"[discs]\nbores = [\"4 mm\"]\n", asked(2)), "no drill for the dowel")
	assert.Empty(t, names(small+"[discs]\nmost = 3\n", asked(2)), "a pulley takes four")
	b = asked(2)
	b.Frame.Length, b.Frame.Height = 60, 40
	for _, p := range making.Kinds(cupboard(t, small), b) {
		assert.LessOrEqual(t, float64(p.Outside), 60.0)
	}
}

func TestOfferLeavesTheCupboardAlone(t *testing.T) {
	cup := cupboard(t, small)
	b := asked(2)
	with := making.Offer(cup, b)
	assert.Len(t, cup.Pulleys, 1)
	assert.Greater(t, len(with.Pulleys), 1)
	b.Making.Discs = false
	assert.Same(t, cup, making.Offer(cup, b))
}

func TestHoleSawsAndTwoSheets(t *testing.T) {
	cup := cupboard(t, small+"[sheet.ply]\nkind = \"plywood\"\nthickness = \"4 mm\"\nlength = \"300 mm\"\nwidth = \"200 mm\"\n[cutter.saws]\nway = \"hole saw\"\nsizes = [\"44 mm\", \"64 mm\"]\npilot = \"5 mm\"\n")
	for _, p := range making.Kinds(cup, asked(1)) {
		if p.GrooveFloor == 44 {
			assert.Equal(t, 1, p.Made.Layers)
			assert.Equal(t, "ply", p.Made.Core.Sheet)
			assert.Equal(t, "card", p.Made.Flange.Sheet, "the smallest flange that is enough is cut from card")
			assert.InDelta(t, 0.3, float64(p.Made.Error), 1e-9)
			assert.Equal(t, parts.Wood, p.Material)
			return
		}
	}
	t.Fatal("no core by hole saw")
}

// drawnJob is sheets and pulleys to be made of them.
func drawnJob(t *rapid.T) (sheets []parts.SheetStock, list []making.Several) {
	for i := range rapid.IntRange(1, 2).Draw(t, "kinds") {
		w := rapid.Float64Range(100, 300).Draw(t, "width")
		sheets = append(sheets, parts.SheetStock{Item: parts.Item{Name: fmt.Sprint(i), Count: rapid.IntRange(1, 5).Draw(t, "count")},
			Length: units.Millimetres(w * rapid.Float64Range(1, 2).Draw(t, "long")), Width: units.Millimetres(w)})
	}
	disc := func(size int) parts.Disc {
		return parts.Disc{Sheet: fmt.Sprint(rapid.IntRange(0, len(sheets)-1).Draw(t, "sheet")), Diameter: units.Millimetres(5 * size)}
	}
	for range rapid.IntRange(0, 5).Draw(t, "pulleys") {
		size := rapid.IntRange(4, 20).Draw(t, "size")
		list = append(list, making.Several{Count: rapid.IntRange(1, 4).Draw(t, "how many"),
			Pulley: &parts.Pulley{Made: &parts.Made{Core: disc(size), Flange: disc(size + 2), Layers: rapid.IntRange(1, 3).Draw(t, "layers")}}})
	}
	return sheets, list
}

// counted are the discs of a job, each kind once.
func counted(list []making.Several) map[parts.Disc]int {
	out := map[parts.Disc]int{}
	for _, s := range list {
		for _, d := range s.Pulley.Made.Pieces() {
			out[d] += s.Count
		}
	}
	return out
}

func TestNestLaysEveryDiscOnItsOwnSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sheets, list := drawnJob(t)
		pieces, err := making.Nest(sheets, list)
		if reach := making.Reach(&parts.Cupboard{Sheets: sheets}, list); reach != (err == nil) {
			t.Fatalf("the sheets reach: %t, and are laid: %v", reach, err)
		}
		if err != nil {
			return
		}
		laid := map[parts.Disc]int{}
		used := map[string]int{}
		for _, p := range pieces {
			used[p.Sheet.Name]++
			if w := p.Waste(); w < 0 || w > 1 {
				t.Fatalf("a waste of %v", w)
			}
			for i, r := range p.Rounds {
				if laid[r.Disc]++; r.Sheet != p.Sheet.Name {
					t.Fatalf("a disc of sheet %s lies on %s", r.Sheet, p.Sheet.Name)
				}
				half := r.Diameter/2 + 4 - 1e-6
				if r.X < half || r.Y < half || r.X > p.Sheet.Length-half || r.Y > p.Sheet.Width-half {
					t.Fatalf("a disc of %v hangs over the edge", r.Diameter)
				}
				for _, o := range p.Rounds[:i] {
					if math.Hypot(float64(r.X-o.X), float64(r.Y-o.Y)) < float64(r.Diameter+o.Diameter)/2+3-1e-6 {
						t.Fatalf("two discs lie on one another")
					}
				}
			}
		}
		if want := counted(list); !maps.Equal(want, laid) {
			t.Fatalf("laid are %v of %v", laid, want)
		}
		for _, s := range sheets {
			if used[s.Name] > s.Count {
				t.Fatalf("%d sheets of %d", used[s.Name], s.Count)
			}
		}
	})
}

// What fits does so with a pulley less, with a smaller one, and on a sheet more. (That is
// what sharing sheets out among groups rests on, and not so where small discs fill up the
// rows of large ones.)
func TestLessDoesNotTakeMoreSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sheets, list := drawnJob(t)
		cup := &parts.Cupboard{Sheets: sheets}
		if len(list) == 0 || !making.Reach(cup, list) {
			return
		}
		less := slices.Clone(list)
		at := rapid.IntRange(0, len(list)-1).Draw(t, "less of")
		if rapid.Bool().Draw(t, "smaller") {
			made := *less[at].Pulley.Made
			made.Core.Diameter, made.Flange.Diameter = made.Core.Diameter-5, made.Flange.Diameter-5
			less[at].Pulley = &parts.Pulley{Made: &made}
		} else {
			less[at].Count--
		}
		if !making.Reach(cup, less) {
			t.Fatal("less does not fit where more does")
		}
		sheets[0].Count++
		if !making.Reach(cup, list) {
			t.Fatal("a sheet more is not enough where one less is")
		}
	})
}

// No way to lay discs in rows beats a measure: where they are laid they measure no more than
// the sheets.
func TestMeasuresHoldWhateverIsLaid(t *testing.T) {
	sharp := 0
	rapid.Check(t, func(t *rapid.T) {
		sheets, list := drawnJob(t)
		cup := &parts.Cupboard{Sheets: sheets, Discs: &parts.Discs{Most: 12}}
		var pulleys []parts.Pulley
		for _, s := range list {
			pulleys = append(pulleys, *s.Pulley)
		}
		over := false
		for _, m := range making.Measures(cup, pulleys) {
			sum := 0.0
			for _, s := range list {
				sum += float64(s.Count) * m.Takes(s.Pulley)
			}
			over = over || sum > m.Room()+1e-9
		}
		if reach := making.Reach(cup, list); over && reach {
			t.Fatal("it is laid and measures too much")
		} else if over {
			sharp++
		}
	})
	assert.Positive(t, sharp, "some that do not fit are told by measure")
}

// Where sheets are plenty whatever is made goes on them.
func TestPlentyIsEnoughForAll(t *testing.T) {
	plenty := 0
	rapid.Check(t, func(t *rapid.T) {
		sheets, list := drawnJob(t)
		cup := &parts.Cupboard{Sheets: sheets, Discs: &parts.Discs{Most: 12}}
		var pulleys []parts.Pulley
		discs := 0
		for _, s := range list {
			pulleys = append(pulleys, *s.Pulley)
			discs += s.Count * s.Pulley.Made.Count()
		}
		if groups := (discs + 11) / 12; making.Plenty(cup, pulleys, groups) {
			plenty++
			if !making.Reach(cup, list) {
				t.Fatal("plenty is too little")
			}
		}
	})
	assert.Positive(t, plenty)
}

func TestCountIsWhatTheSheetsTake(t *testing.T) {
	cup, b := cupboard(t, small), asked(2)
	for _, p := range making.Kinds(cup, b) {
		lay := func(n int) error {
			_, err := making.Nest(cup.Sheets, []making.Several{{Pulley: &p, Count: n}})
			return err
		}
		require.NoError(t, lay(p.Count), p.Name)
		if p.Count < 3*4*b.Sets { // else it is plenty
			require.Error(t, lay(p.Count+1), p.Name)
		}
	}
}

// Groups that share sheets are offered what one of them can make.
func TestSharedAreThoseOfWhichOneCanBeMade(t *testing.T) {
	cup, few, many := cupboard(t, small), asked(1), asked(9)
	names := func(list []parts.Pulley) (out []string) {
		for _, p := range list {
			out = append(out, p.Name)
		}
		return out
	}
	shared := making.Shared(cup, []*brief.Brief{many})
	assert.Subset(t, names(shared), names(making.Kinds(cup, many)))
	assert.Greater(t, len(shared), len(making.Kinds(cup, many)))
	assert.Equal(t, names(making.Kinds(cup, few)), names(making.Shared(cup, []*brief.Brief{few})))
	for _, p := range making.Shared(cup, []*brief.Brief{few, many}) {
		assert.LessOrEqual(t, p.Count, 10*making.OfAGroup(cup, &p))
	}
	none := asked(3)
	none.Making.Discs = false
	assert.Empty(t, making.Shared(cup, []*brief.Brief{none}))
}

func TestEnoughCountsDiscsAndSheets(t *testing.T) {
	cup, b := cupboard(t, small), asked(2)
	kinds := making.Kinds(cup, b)
	one := &kinds[0]
	assert.Nil(t, making.Enough(cup, []*parts.Pulley{&cup.Pulleys[0]}, 2))
	assert.Nil(t, making.Enough(cup, []*parts.Pulley{one, one}, 2))
	no := making.Enough(cup, []*parts.Pulley{one, one, one, one}, 2)
	require.NotNil(t, no)
	assert.Contains(t, no.Say(), "16 discs, and 12 is the most")
	large := &kinds[len(kinds)-1]
	no = making.Enough(cup, []*parts.Pulley{large, large}, 20)
	require.NotNil(t, no)
	assert.Contains(t, no.Say(), "sheet card is short")
	assert.Equal(t, 2, making.Different([]*parts.Pulley{one, large, one, &cup.Pulleys[0]}))
}

func TestWordsSayWhatToMake(t *testing.T) {
	kinds := making.Kinds(cupboard(t, small), asked(2))
	one, two := &kinds[0], &kinds[1]
	bought := &parts.Pulley{Item: parts.Item{Name: "axle-20"}}
	assert.Empty(t, making.Words([]*parts.Pulley{bought}, 2))
	assert.Equal(t, "make a pulley, 2 discs of 20 mm between 2 of 30 mm, from 2 mm card (compass and scissors)", making.Words([]*parts.Pulley{bought, one}, 1))
	assert.Equal(t, "make 4 pulleys, each 2 discs of 20 mm between 2 of 30 mm, from 2 mm card (compass and scissors)", making.Words([]*parts.Pulley{one, bought, one}, 2))
	assert.Equal(t, "make 6 pulleys, each 2 discs between 2 that are 10 mm larger, from 2 mm card (compass and scissors), 4 of 20 mm and 2 of 25 mm", making.Words([]*parts.Pulley{one, two, one}, 2))
}

func TestFineStepsAreThinned(t *testing.T) {
	kinds := making.Kinds(cupboard(t, strings.Replace(small, "[cutter.hand]", "[cutter.hand]\nstep = \"1 mm\"", 1)), asked(1))
	assert.LessOrEqual(t, len(kinds), 20)
	assert.Greater(t, len(kinds), 15)
	assert.Equal(t, "made-20", kinds[0].Name)
	assert.Greater(t, kinds[len(kinds)-1].GrooveFloor, units.Millimetres(100))
}

// The drill in the middle of a hole saw leaves 6 mm, in which 5 mm dowel is loose.
func TestHoleSawsLeaveAHole(t *testing.T) {
	cup := cupboard(t, small+"[sheet.ply]\nkind = \"plywood\"\nthickness = \"4 mm\"\nlength = \"300 mm\"\nwidth = \"200 mm\"\n[cutter.saws]\nway = \"hole saw\"\nsizes = [\"44 mm\", \"64 mm\"]\n")
	for _, p := range making.Kinds(cup, asked(1)) {
		assert.NotEqual(t, "ply", p.Made.Core.Sheet)
		assert.NotEqual(t, "ply", p.Made.Flange.Sheet)
	}
	thick := cupboard(t, strings.Replace(small, `diameter = "5 mm"`, `diameter = "6 mm"`, 1)+"[sheet.ply]\nkind = \"plywood\"\nthickness = \"4 mm\"\nlength = \"300 mm\"\nwidth = \"200 mm\"\n[cutter.saws]\nway = \"hole saw\"\nsizes = [\"44 mm\", \"64 mm\"]\n")
	sawn := 0
	for _, p := range making.Kinds(thick, asked(1)) {
		if p.Made.Core.Sheet == "ply" {
			sawn++
		}
	}
	assert.Positive(t, sawn)
}
