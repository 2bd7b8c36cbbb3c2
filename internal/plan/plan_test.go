package plan_test

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/prices"
	"findrive/internal/supply"
)

func example(t *testing.T, sets int) (*parts.Cupboard, *brief.Brief) {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Sets = sets
	return cup.InStock(), b
}

// written writes a plan and reads it back.
func written(t *testing.T, p *plan.Plan) (*plan.Plan, []*certificate.Certificate, []byte) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, p.Write(&out))
	require.True(t, plan.Is(out.Bytes()))
	again, all, err := plan.Read(out.Bytes())
	require.NoError(t, err)
	return again, all, out.Bytes()
}

// A class of different drives: what is written holds, and what is changed in it does not.
func TestClass(t *testing.T) {
	t.Parallel()
	cup, b := example(t, 12)
	b.MaxStages = 2
	r, err := groups.Plan(context.Background(), cup, b, groups.Options{Threads: 2})
	require.NoError(t, err)
	require.Greater(t, len(r.Shares), 1)
	p, err := plan.OfClass(context.Background(), r, 2)
	require.NoError(t, err)
	shown := p.Class(r)
	p, all, data := written(t, p)
	require.Len(t, shown.Shares, len(all))
	for i := range all { // what is told of the plan is what stands in it
		standsIn(t, all[i], shown.Shares[i].Drive)
	}
	for rank := range len(all) + 2 { // as a list: the drives in their order, for the groups of one
		c, err := plan.List(data, rank)
		require.NoError(t, err)
		require.Len(t, c.Proposals, len(all))
		at := rank - 1
		if rank < 1 || rank > len(all) {
			at = 0
		}
		assert.Equal(t, all[at].Brief, c.Brief)
		for i := range all {
			assert.Equal(t, all[i].Proposals[0], c.Proposals[i])
		}
	}
	_, err = plan.List(data[:len(data)/2], 1)
	require.Error(t, err)
	assert.Empty(t, plan.Check(p, all, nil))
	assert.Empty(t, plan.Check(p, all, cup))
	served := 0
	for i, d := range p.Drives {
		assert.Equal(t, served+1, d.First)
		served += d.Groups
		assert.Equal(t, r.Shares[i].Groups, d.Groups)
		assert.LessOrEqual(t, float64(all[i].Proposals[0].Total), r.Shares[i].Drive.Total.Float()+1e-9, "as good a drive as that of the class")
	}
	assert.Equal(t, r.Served, served)
	for _, u := range p.Used {
		assert.LessOrEqual(t, u.Used, u.Have, u.Kind+" "+u.Name)
		assert.LessOrEqual(t, u.Gone, u.Used)
	}

	few := cup.Counted(func(kind string, it *parts.Item) int {
		if kind == "motor" {
			return 1
		}
		return it.Count
	})
	assert.NotEmpty(t, plan.Check(p, all, few), "there are not so many motors")
	rods := cup.Counted(func(kind string, it *parts.Item) int {
		if kind == "axle" {
			return 1
		}
		return it.Count
	})
	said := plan.Check(p, all, rods)
	require.NotEmpty(t, said)
	for _, line := range said {
		assert.Contains(t, line, "cannot be cut from the rods there are")
	}
	p.Drives[0].Groups++
	assert.NotEmpty(t, plan.Check(p, all, nil))
	_, _, err = plan.Read(bytes.Replace(data, []byte(`"groups": `), []byte(`"groups": 1`), 1))
	require.ErrorContains(t, err, "groups, and its certificate for")
}

// standsIn holds a drive that is shown to the one that was written.
func standsIn(t *testing.T, c *certificate.Certificate, q *design.Proposal) {
	t.Helper()
	assert.InDelta(t, float64(c.Proposals[0].Total), q.Total.Float(), 1e-9)
	assert.InEpsilon(t, float64(c.Proposals[0].Speed.Likely), float64(q.Speed.Likely), 1e-6)
}

// What is bought is part of the plan, with the packs that only fill an order up.
func TestPurchase(t *testing.T) {
	t.Parallel()
	cup, b := example(t, 11)
	text := strings.Replace(string(demo.Prices()), "minimum_order = \"10.00\"", "minimum_order = \"25.00\"", 1)
	list, err := prices.Read("prices.toml", []byte(text), cup)
	require.NoError(t, err)
	few := *cup
	few.Motors = slices.Clone(cup.Motors)
	for i := range few.Motors {
		if few.Motors[i].Name == "hobby" {
			few.Motors[i].Count = 0
		}
	}
	r, err := supply.Find(context.Background(), &supply.Question{Cupboard: &few, List: list, Briefs: []*brief.Brief{b}, Mix: true}, supply.Options{Threads: 2})
	require.NoError(t, err)
	require.NotNil(t, r.Plan)
	require.Positive(t, r.Plan.Money)
	p, err := plan.OfPurchase(context.Background(), "findrive shop", r, 2)
	require.NoError(t, err)
	worse := *r.Plan.Shares[0].Drive // as where it was found not so good
	worse.Total, worse.Speed.Likely = worse.Total+1, 2*worse.Speed.Likely
	r.Plan.Shares[0].Drive = &worse
	shown := p.Purchase(r)
	p, all, _ := written(t, p)
	require.Len(t, shown.Plan.Shares, len(all))
	for i := range all {
		standsIn(t, all[i], shown.Plan.Shares[i].Drive)
	}
	assert.Empty(t, plan.Check(p, all, &few), "with what is bought there is enough")
	require.NotNil(t, p.Order)
	assert.Equal(t, "included", p.Order.VAT)
	sum := int64(0)
	for _, l := range p.Order.Lines {
		sum += int64(l.Sum)
		assert.LessOrEqual(t, l.Filler, l.Packs)
	}
	assert.Equal(t, int64(p.Order.Money), sum)
	p.Order = nil
	assert.NotEmpty(t, plan.Check(p, all, &few), "without it there is not")
}

func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "this is not JSON: the file is empty"},
		{"a list of drives", `{"kind": "findrive certificate", "schema": 2}`, "this is not a findrive plan"},
		{"of another time", `{"kind": "findrive plan", "schema": 9}`, "schema 9"},
		{"empty", `{"kind": "findrive plan", "schema": 1}`, "there is no drive in this plan"},
		{"a drive of nothing", `{"kind": "findrive plan", "schema": 1, "drives": [{"certificate": {}}]}`, "drive 1: this is not a findrive certificate"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := plan.Read([]byte(c.text))
			require.ErrorContains(t, err, c.want)
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"kind": "findrive plan", "schema": 1, "briefs": [{}], "drives": [{"groups": 1, "certificate": {"kind": "findrive certificate", "schema": 2, "proposals": [{}]}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, all, err := plan.Read(data)
		if err == nil {
			plan.Check(p, all, nil)
		}
	})
}

// A class that makes some of its pulleys: the plan holds, and not on a sheet less; the drives
// in it are recheckable, and no pulley that is made is asked of the cupboard.
func TestClassThatMakesPulleys(t *testing.T) {
	t.Parallel()
	pulley := func(name string, outside, floor, bore float64, count int) string {
		return fmt.Sprintf("[pulley.%s]\noutside = \"%g mm\"\ngroove_floor = \"%g mm\"\ngroove_width = \"4 mm\"\nbore = \"%g mm\"\ncount = %d\n", name, outside, floor, bore, count)
	}
	cup, err := parts.Read("c.toml", []byte(pulley("small", 9, 6, 2, 9)+pulley("large", 40, 36, 4.9, 1)+`
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 30
[band.middling]
flat_length = "89 mm"
width = "1.5 mm"
count = 30
[motor.m]
rated = "3 V"
free_speed = "5200 rpm"
stall_torque = "2.4 mN.m"
count = 9
[cells.one]
cells = 1
count = 30
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 30
[sheet.card]
thickness = "2 mm"
length = "150 mm"
width = "110 mm"
count = 1
[cutter.scissors]
step = "9 mm"
largest = "60 mm"
`))
	require.NoError(t, err)
	b, err := brief.Read("b.toml", []byte("name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"250 rpm\"\ntolerance = \"45 %\"\nmax_stages = 1\nsets = 4\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n[making]\ndiscs = true\n"))
	require.NoError(t, err)
	r, err := groups.Plan(context.Background(), cup, b, groups.Options{Threads: 2})
	require.NoError(t, err)
	require.Len(t, r.Shares, 2)
	p, err := plan.OfClass(context.Background(), r, 2)
	require.NoError(t, err)
	p, all, _ := written(t, p)
	assert.Empty(t, plan.Check(p, all, nil))
	assert.Empty(t, plan.Check(p, all, cup))
	few := *cup
	few.Sheets = slices.Clone(cup.Sheets)
	few.Sheets[0].Count = 0
	assert.Equal(t, []string{"discs: sheet card is short: 0 do not take all the discs"}, plan.Check(p, all, &few))
	for _, c := range all { // the plan's own sheets are held to as well
		c.Discs.Sheets[0].Count = 0
	}
	assert.Equal(t, []string{"discs: sheet card is short: 0 do not take all the discs"}, plan.Check(p, all, nil))
}
