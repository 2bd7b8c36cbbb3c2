package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// drawn is a list of drives that differ in what choices look at.
func drawn(t *testing.T) *design.Result {
	r := testResult(t, brief.PlainShaft)
	first := r.Proposals[0]
	first.Works, first.Stands, first.Bears, first.Forgives, first.Notes, first.Assumed = 85, 0, 2, 2.2, nil, nil
	r.Proposals = nil
	for rank := 1; rank <= 5; rank++ {
		q := first
		q.Rank = rank
		q.Total = first.Total + score.Points(500*(rank-1))
		d := *first.Drive
		holder := *d.Holder
		holder.Cells = 2
		d.Holder, q.Drive = &holder, &d
		r.Proposals = append(r.Proposals, q)
	}
	return r
}

func TestChoices(t *testing.T) {
	fewer := func(q *design.Proposal) { q.Drive.Holder.Cells = 1 }
	for _, c := range []struct {
		name   string
		change func(all []design.Proposal)
		want   map[int]string
	}{
		{"all alike", func([]design.Proposal) {}, map[int]string{1: "the simplest, the surest of its speed, the most forgiving"}},
		{"three", func(all []design.Proposal) { fewer(&all[1]); all[2].Works = 90; all[4].Forgives = 4 },
			map[int]string{2: "the simplest", 3: "the surest of its speed", 5: "the most forgiving"}},
		{"two in one", func(all []design.Proposal) { fewer(&all[1]); all[1].Works = 100 },
			map[int]string{1: "the most forgiving", 2: "the simplest, the surest of its speed"}},
		{"no finer than can be told", func(all []design.Proposal) { all[2].Works = 89; all[3].Forgives = 2.4 },
			map[int]string{1: "the simplest, the surest of its speed, the most forgiving"}},
		{"never on the edge", func(all []design.Proposal) {
			fewer(&all[1])
			all[1].Works, all[1].Forgives, all[1].Bears = 100, 9, 0.9
			all[2].Works = 90
		}, map[int]string{1: "the simplest, the most forgiving", 3: "the surest of its speed"}},
		{"unless there is nothing else", func(all []design.Proposal) {
			for i := range all {
				all[i].Bears = 0
			}
			all[3].Works = 97
		}, map[int]string{1: "the simplest, the most forgiving", 4: "the surest of its speed"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := drawn(t)
			c.change(r.Proposals)
			got := map[int]string{}
			for _, ch := range choices(r) {
				got[ch.drive.Rank] = strings.Join(ch.is, ", ")
			}
			require.Equal(t, c.want, got)
		})
	}
}

func TestOnTheEdgeStandsApart(t *testing.T) {
	r := drawn(t)
	r.Proposals[1].Bears = 0
	text := page80(t, r, TextOptions{})
	before, after, found := strings.Cut(text, "On the edge: a hole 1 mm out of place could stop these")
	require.True(t, found)
	require.NotContains(t, before, "\n 2  ")
	require.Contains(t, after, "\n 2  ")
}

func TestUnlike(t *testing.T) {
	r := drawn(t)
	first, other := &r.Proposals[0], &r.Proposals[2]
	require.Equal(t, "1 point more", unlike(other, first))
	other.Drive.Holder.Cells, other.Forgives = 1, 0.4
	other.Drive.Stages[0].DriverJoint.Kind = drive.Sleeved
	require.Equal(t, "1 cell, holes must be exact, 1 point more", unlike(other, first))
}

func TestGroupsWords(t *testing.T) {
	uses := func(u ...design.Use) *design.Proposal { return &design.Proposal{Uses: u} }
	m := design.Use{Kind: "motor", Name: "slow", Each: 1, Have: 8}
	p := design.Use{Kind: "pulley", Name: "big pulley", Each: 2, Have: 17}
	b := design.Use{Kind: "band", Name: "no-24", Each: 3, Have: 25}
	require.Equal(t, "Enough for 1 group, then band no-24 runs out", groupsWords(uses(m, p, design.Use{Kind: "band", Name: "no-24", Each: 3, Have: 5})))
	require.Equal(t, "Enough for 8 groups, then motor slow and big pulley run out", groupsWords(uses(m, p)))
	require.Equal(t, "Enough for 8 groups, then motor slow, big pulley and others run out", groupsWords(uses(m, p, b)))
}

// TestShortCautionsKeepEvery: what the short cautions say is all that the long say.
func TestShortCautionsKeepEvery(t *testing.T) {
	for model, word := range map[brief.Model]string{brief.Lift: "Lifted loads fall", brief.Vehicle: "no faces at floor level", brief.PlainShaft: "switch off before touching"} {
		r := testResult(t, model)
		short := shortCautions(r)
		for _, say := range []string{word, "clamped", "supervision", "fingers", "stalled motor", "Never short", "lithium", "button", "eye protection", "perished", "latex", "choke", "small children", "hair", "lanyards", "risk assessment", "competent staff"} {
			require.Contains(t, short, say)
		}
		require.Equal(t, glues(r), strings.Contains(short, "Glue"))
	}
}

// Discs are glued together, whatever holds their pulley on its shaft.
func TestDiscsAreGlued(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	for i := range r.Proposals {
		d := r.Proposals[i].Drive
		d.OutputJoint.Kind = drive.PushFit
		for k := range d.Stages {
			d.Stages[k].DriverJoint.Kind, d.Stages[k].DrivenJoint.Kind = drive.PushFit, drive.PushFit
		}
	}
	require.NotContains(t, shortCautions(r), "Glue")
	require.NotContains(t, strings.Join(cautionsFor(r), " "), "Glue")
	driven := *r.Proposals[0].Drive.Stages[0].Driven
	driven.Made = &parts.Made{}
	r.Proposals[0].Drive.Stages[0].Driven = &driven
	require.Contains(t, shortCautions(r), "Glue: low-temperature gun or craft glue, an adult by.")
	require.Contains(t, strings.Join(cautionsFor(r), " "), "Glue: low-temperature guns")
}

// TestCommandCanBeCopied: lines that a shell reads as one. No name is broken in two.
func TestCommandCanBeCopied(t *testing.T) {
	const line = "findrive sheet -c 'my class/cupboard.toml' -b 'my class/brief of the summer fair.toml' --rank 3"
	for width := narrowestPage; width <= widestPage; width++ {
		p := newPage(width, false)
		p.command("Next: ", line)
		require.Equal(t, "Next: "+line, strings.TrimSpace(strings.ReplaceAll(p.text.String(), " \\\n  ", " ")), "width %d", width)
		require.Contains(t, p.text.String(), "'my class/brief of the summer fair.toml'")
	}
}
