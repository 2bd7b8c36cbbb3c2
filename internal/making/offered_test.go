package making_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/ideas"
	"findrive/internal/leeway"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/supply"
	"findrive/internal/why"
)

// smallOnly is a cupboard with small pulleys only, and card.
const smallOnly = `schema = 1
name = "small pulleys only"
[pulley.motor-6]
outside = "9 mm"
groove_floor = "6 mm"
groove_width = "3 mm"
width = "6 mm"
bore = "2 mm"
count = 10
[pulley.axle-20]
outside = "20 mm"
groove_floor = "16 mm"
groove_width = "3.5 mm"
width = "6 mm"
bore = "4.9 mm"
count = 20
[band.no-12]
size = 12
count = 40
[band.no-16]
size = 16
count = 40
[band.no-18]
size = 18
count = 40
[motor.hobby]
rated = "3 V"
free_speed = "5200 rpm"
free_current = "90 mA"
stall_torque = "2.4 mN.m"
shaft_diameter = "2 mm"
shaft_length = "8 mm"
body_length = "25 mm"
body_width = "20 mm"
body_height = "15 mm"
count = 4
[cells.one]
cells = 1
chemistry = "zinc-carbon"
condition = "fresh"
count = 4
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 10
[wheel.wheel-50]
diameter = "50 mm"
width = "8 mm"
bore = "4.9 mm"
count = 10
[sheet.card]
thickness = "2 mm"
length = "297 mm"
width = "210 mm"
count = 10
[cutter.scissors]
[band.no-19]
size = 19
count = 40
[band.no-24]
size = 24
count = 40
[drum.spool]
diameter = "16 mm"
width = "20 mm"
bore = "4.9 mm"
count = 4
`

const slowCarousel = `
name = "slow carousel"
model = "ride on an upright axle"
speed = "1 turn in 3 s"
tolerance = "35 %"
sets = 2
[load]
mass = "150 g"
radius = "70 mm"
pivot_radius = "2.5 mm"
[frame]
length = "260 mm"
height = "150 mm"
depth = "90 mm"
sheet = "4 mm"
[making]
`

func wanted(t testing.TB, text string) *brief.Brief {
	t.Helper()
	b, err := brief.Read("b.toml", []byte(text))
	require.NoError(t, err)
	return b
}

func made(p *design.Proposal) int { return making.Different(p.Drive.Pulleys()) }

// Where small pulleys alone will not do, what to make is the first change that is told,
// before what has to be bought, and the drive that was found with it has what is named.
func TestWhyTellsWhatToMake(t *testing.T) {
	cup, b := cupboard(t, smallOnly), wanted(t, slowCarousel)
	a, err := why.Ask(context.Background(), leeway.Case{Cupboard: cup, Brief: b}, why.Options{Threads: 2})
	require.NoError(t, err)
	require.False(t, a.Possible())
	require.NotEmpty(t, a.Changes)
	first := a.Changes[0]
	require.Len(t, first.Steps, 1)
	assert.Equal(t, "discs", a.Levers[first.Steps[0].Lever].Key)
	assert.Contains(t, first.Steps[0].Words, "make 4 pulleys, each 2 discs of ")
	assert.Contains(t, first.Steps[0].Words, "discs = true in [making]")
	assert.Positive(t, made(first.Drive))
	for _, c := range a.Changes[1:] {
		assert.GreaterOrEqual(t, c.Cost, first.Cost)
	}
	allowed := *b
	allowed.Making.Discs = true
	best, err := design.Find(context.Background(), cup, &allowed, design.Options{Keep: 1})
	require.NoError(t, err)
	require.NotEmpty(t, best.Proposals)
	assert.Equal(t, best.Proposals[0].Total, first.Drive.Total, "it is the best there then is")
}

// With nothing to make discs of, or leave given already, nobody speaks of them.
func TestNobodySpeaksOfDiscs(t *testing.T) {
	keys := func(cup *parts.Cupboard, b *brief.Brief) (out []string) {
		for _, l := range leeway.Levers(leeway.Case{Cupboard: cup, Brief: b}) {
			out = append(out, l.Key)
		}
		return out
	}
	cup, b := cupboard(t, smallOnly), wanted(t, slowCarousel)
	assert.Contains(t, keys(cup, b), "discs")
	assert.NotContains(t, keys(cup, wanted(t, slowCarousel+"discs = true\n")), "discs")
	assert.NotContains(t, keys(cup, wanted(t, slowCarousel+"glue = false\n")), "discs")
	bare := cupboard(t, strings.Replace(smallOnly, "[cutter.scissors]", "", 1))
	assert.NotContains(t, keys(bare, b), "discs")
}

func TestIdeasTellWhatToMake(t *testing.T) {
	cup, b := cupboard(t, smallOnly), wanted(t, slowCarousel)
	c, err := ideas.Made(context.Background(), cup, b, false, ideas.Options{Threads: 2})
	require.NoError(t, err)
	require.NotNil(t, c)
	assert.Positive(t, made(c.Drive))
	assert.GreaterOrEqual(t, c.Sets, 2)
	free, _, err := ideas.Free(context.Background(), cup, b, false, ideas.Options{Threads: 2})
	require.NoError(t, err)
	require.NotEmpty(t, free)
	assert.Contains(t, free[0].Words, "make ")
	c, err = ideas.Made(context.Background(), cup, wanted(t, slowCarousel+"discs = true\n"), false, ideas.Options{})
	require.NoError(t, err)
	assert.Nil(t, c, "leave is given")
}

// Sharing out and buying reckon with what can be made where the brief allows it, before
// anything that costs money.
func TestPlansMakeDiscsBeforeBuying(t *testing.T) {
	cup := cupboard(t, smallOnly)
	for _, allowed := range []bool{false, true} {
		text, money := slowCarousel, "3.40"
		if allowed {
			text, money = slowCarousel+"discs = true\n", "0.00"
		}
		b := wanted(t, text)
		r, err := groups.Plan(context.Background(), cup, b, groups.Options{Threads: 2})
		require.NoError(t, err)
		assert.Equal(t, !allowed, r.None)
		assert.Equal(t, allowed, r.Served == b.Sets)
		list, err := prices.Read("p.toml", []byte("currency = \"GBP\"\n[supplier.a]\n[offer.p]\npart = \"pulley.p80\"\nsupplier = \"a\"\npack = 5\nprice = \"3.40\"\n[pulley.p80]\noutside = \"80 mm\"\nbore = \"4.9 mm\"\ngroove_width = \"4 mm\"\nwidth = \"8 mm\"\n"), cup)
		require.NoError(t, err)
		s, err := supply.Find(context.Background(), &supply.Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{b}}, supply.Options{Threads: 2})
		require.NoError(t, err)
		require.NotNil(t, s.Plan)
		assert.Equal(t, money, strings.TrimPrefix(list.Currency.Format(s.Plan.Money), "£"))
		assert.True(t, s.Plan.Proved)
		for _, share := range s.Plan.Shares {
			assert.Equal(t, allowed, made(share.Drive) > 0)
		}
	}
}

// The question as it was asked: only the 20 mm pulleys and 5 mm dowel, a tube for the
// motor's shaft, and card. Can we still do a buggy?
func TestOnlyTwentiesStillMakeABuggy(t *testing.T) {
	text := smallOnly[:strings.Index(smallOnly, "[pulley.motor-6]")] + smallOnly[strings.Index(smallOnly, "[pulley.axle-20]"):]
	text += "[sleeve.tube]\ninner = \"2 mm\"\nouter = \"5 mm\"\nlength = \"8 mm\"\ncount = 4\n[cells.two]\ncells = 2\ncondition = \"fresh\"\ncount = 2\n"
	text = strings.Replace(text, "shaft_length = \"8 mm\"", "shaft_length = \"9 mm\"", 1)
	cup := cupboard(t, text)
	ask := "name = \"buggy\"\nmodel = \"vehicle\"\nspeed = \"0.3 m/s\"\ntolerance = \"40 %\"\n[load]\nmass = \"200 g\"\n[frame]\nlength = \"220 mm\"\nheight = \"70 mm\"\ndepth = \"80 mm\"\nsheet = \"4 mm\"\noverhang = \"15 mm\"\n[making]\n"
	no, err := design.Exists(context.Background(), cup, wanted(t, ask), design.Options{Threads: 2})
	require.NoError(t, err)
	assert.Equal(t, design.NonePossible, no.Status)
	c, err := ideas.Made(context.Background(), cup, wanted(t, ask), false, ideas.Options{Threads: 2})
	require.NoError(t, err)
	require.NotNil(t, c, "yes: with pulleys of card")
	assert.Positive(t, made(c.Drive))
	assert.Equal(t, "axle-20", c.Drive.Drive.Stages[0].Driver.Name)
	t.Logf("%s: %.2f m/s, %v points", c.Words, float64(c.Drive.Linear.Likely), c.Drive.Total.Float())
}
