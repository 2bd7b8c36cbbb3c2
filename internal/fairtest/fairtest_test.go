package fairtest

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drawing"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/reading"
	"findrive/internal/sheet"
)

// bases are the best drives of the built-in example for one group.
func bases(t *testing.T, n int) []*built.Build {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Sets = 1
	found, err := design.Find(context.Background(), cup, b, design.Options{Keep: n, Threads: 2})
	require.NoError(t, err)
	var out []*built.Build
	for i := range found.Proposals {
		out = append(out, built.FromProposal(&found.Proposals[i], cup, b))
	}
	return out
}

// A proposed drive put on the table in its frame keeps every rule, and turns as the
// search said.
func TestProposalsStand(t *testing.T) {
	for i, b := range bases(t, 10) {
		assert.True(t, b.Sound(), "drive %d", i+1)
		w, err := built.Work(b)
		require.NoError(t, err)
		assert.InDelta(t, 20, float64(w.Speed.Likely), 6)
		assert.Zero(t, w.Broken(), "drive %d: %v", i+1, w.Findings)
	}
}

// differences counts in how many ways two drives differ.
func differences(a, b *drive.Drive) (n int, what []string) {
	note := func(differ bool, words string) {
		if differ {
			n++
			what = append(what, words)
		}
	}
	note(a.Motor.Name != b.Motor.Name, "motor")
	note(a.Holder.Name != b.Holder.Name, "cells")
	if len(a.Stages) != len(b.Stages) {
		return n + 1, append(what, "stages")
	}
	for i := range a.Stages {
		s, o := &a.Stages[i], &b.Stages[i]
		note(s.Driver.Name != o.Driver.Name, "driver")
		note(s.Driven.Name != o.Driven.Name, "driven")
		note(s.Band.Name != o.Band.Name, "band")
		note(s.Use != o.Use, "use")
		note(s.Crossed != o.Crossed, "crossed")
		note(a.Axles[i] != b.Axles[i], "axle")
	}
	note(!slices.Equal(a.Positions, b.Positions), "holes")
	return n, what
}

// Every three differ in one thing only, keep every rule but the speed's, are clearly
// different, and can be had from the cupboard; and no other three of those that can be
// made is better, tried one by one with a charge that is worked out apart.
func TestFindAgainstTryingAll(t *testing.T) {
	list := bases(t, 3)
	r := Find(context.Background(), list, nil)
	require.NotNil(t, r.Best)
	require.True(t, r.Whole)
	tests := append([]*Test{r.Best}, r.Others...)
	for _, test := range tests {
		for i := range 3 {
			for j := range i {
				n, what := differences(test.Drives[i].Working.Build.Drive, test.Drives[j].Working.Build.Drive)
				assert.Equal(t, 1, n, "%s: %v", test.Thing, what)
			}
			assert.True(t, test.Drives[i].Working.Build.Sound(constraints.Speed))
		}
		assert.Greater(t, float64(test.Drives[1].Working.Speed.Likely/test.Drives[0].Working.Speed.Likely), 1.149)
		assert.Greater(t, float64(test.Drives[2].Working.Speed.Likely/test.Drives[1].Working.Speed.Likely), 1.149)
		assert.GreaterOrEqual(t, test.Cost, r.Best.Cost)
	}

	least, seen := math.Inf(1), 0
	for rank, base := range list {
		cup := base.Cupboard
		for stage := range base.Drive.Stages {
			for _, driven := range []bool{true, false} {
				var sound []*built.Working
				for k := range cup.Pulleys {
					b := base.With(func(d *drive.Drive) {
						if driven {
							d.Stages[stage].Driven = &cup.Pulleys[k]
						} else {
							d.Stages[stage].Driver = &cup.Pulleys[k]
						}
					})
					w, err := built.Work(b)
					require.NoError(t, err)
					bad := w.Stops != built.Turns
					for _, f := range w.Findings {
						bad = bad || f.Broken && f.Rule != constraints.Speed
					}
					if !bad {
						sound = append(sound, w)
					}
				}
				for a := range sound {
					for b := range sound {
						for c := range sound {
							n := []float64{float64(sound[a].Speed.Likely), float64(sound[b].Speed.Likely), float64(sound[c].Speed.Likely)}
							if !(n[0] < n[1] && n[1] < n[2]) {
								continue
							}
							seen++
							low, high := n[1]/n[0], n[2]/n[1]
							if min(low, high) < 1.15 {
								continue
							}
							sum := 0.1*float64(rank) + 10*max(0, 1.4-min(low, high)) + 2*math.Abs(math.Log(low/high))
							if !driven {
								sum++
							}
							for i, w := range []*built.Working{sound[a], sound[b], sound[c]} {
								switch {
								case n[i] > 120:
									sum += 6
								case n[i] > 60:
									sum += 2
								case n[i] < 4:
									sum += 3
								}
								if w.Speed.Low == 0 {
									sum += 4
								}
								for s := range w.Stages {
									if f := w.Stages[s].Fitted.Stretch; f < 1.10 || f > 1.35 {
										sum += 0.5
									}
								}
							}
							least = min(least, sum)
						}
					}
				}
			}
		}
	}
	assert.Positive(t, seen)
	best := math.Inf(1)
	for _, test := range tests {
		if test.Thing == DrivenPulley || test.Thing == DriverPulley {
			best = min(best, test.Cost)
		}
	}
	assert.InDelta(t, least, best, 1e-6)
}

// The pupils' page can be read by them and gives no speed away; the adult's has each
// prediction with its range.
func TestPages(t *testing.T) {
	r := Find(context.Background(), bases(t, 2), nil)
	id := sheet.Identity{Name: "Carousel", Rank: 1, Print: "fair test"}
	for _, test := range append([]*Test{r.Best}, r.Others...) {
		pupils, answers := test.Pupils(id), test.Answers(id)
		var all []string
		for _, s := range strings.Split(words(t, &pupils), "\n") {
			all = append(all, reading.Sentences(s)...)
		}
		for _, s := range all {
			assert.Less(t, len(reading.Words(s)), 12, s)
		}
		assert.Less(t, reading.Grade(all), 2.5)
		for _, p := range test.Predictions() {
			assert.Contains(t, words(t, &answers), p.Words(test))
			assert.NotContains(t, words(t, &pupils), p.Words(test))
			assert.LessOrEqual(t, p.Low, p.Likely)
			assert.LessOrEqual(t, p.Likely, p.High)
		}
		for i := range 2 {
			low, likely, high := test.Factor(i)
			assert.LessOrEqual(t, low, likely)
			assert.LessOrEqual(t, likely, high)
			assert.InDelta(t, float64(test.Drives[i+1].Working.Speed.Likely/test.Drives[i].Working.Speed.Likely), likely, 1e-9)
		}
		for _, p := range []*sheet.Page{&pupils, &answers} {
			most := 2 // one sheet of paper; one side of it for the adult
			if p.Name == AnswersPage {
				most = 1
			}
			assert.LessOrEqual(t, len(p.Paper(drawing.A4).Pages), most, p.Name)
			assert.LessOrEqual(t, len(p.Paper(drawing.Letter).Pages), most, p.Name)
			var html bytes.Buffer
			require.NoError(t, p.HTML(&html))
		}
	}
}

// words are those of a page, a line to a block.
func words(t *testing.T, p *sheet.Page) string {
	t.Helper()
	var out []string
	var add func(list []sheet.Block)
	add = func(list []sheet.Block) {
		for _, b := range list {
			switch b := b.(type) {
			case sheet.Heading:
				out = append(out, string(b)+".")
			case sheet.Text:
				first, _, _ := strings.Cut(b.Words, "    ")
				out = append(out, first)
			case sheet.Steps:
				for _, s := range b.Items {
					out = append(out, s.Do)
				}
			case sheet.Table:
				out = append(out, b.Caption+".")
				for _, r := range b.Rows {
					out = append(out, fmt.Sprint(strings.Join(r, ". ")))
				}
			case sheet.Panel:
				add(b)
			}
		}
	}
	add(p.Blocks)
	return strings.Join(out, "\n")
}

func TestStopsEarly(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	list := bases(t, 1)
	cancel()
	r := Find(ctx, list, nil)
	assert.False(t, r.Whole)
	assert.Nil(t, r.Best)
}

// The pages name the pulley that is changed by its letter in the drawings.
func TestPulleysHaveTheirLetters(t *testing.T) {
	for want, test := range map[string]*Test{
		"pulley A, on the motor":     {Thing: DriverPulley, Stage: 1, Base: &built.Build{Drive: &drive.Drive{Stages: make([]drive.Stage, 2)}}},
		"pulley B":                   {Thing: DrivenPulley, Stage: 1, Base: &built.Build{Drive: &drive.Drive{Stages: make([]drive.Stage, 2)}}},
		"pulley D, which turns last": {Thing: DrivenPulley, Stage: 2, Base: &built.Build{Drive: &drive.Drive{Stages: make([]drive.Stage, 2)}}},
	} {
		assert.Equal(t, want, test.youngThing())
	}
}

// Where the number of stages is the one thing, nobody is asked to keep bands and pulleys that a
// test has not, and the adult is told what moves and how long its axle must be.
func TestStagesLeftOut(t *testing.T) {
	base := stages(t)
	r := Find(context.Background(), []*built.Build{base}, []Thing{StageCount})
	require.NotNil(t, r.Best)
	id := sheet.Identity{Name: "Carousel", Rank: 1, Print: "fair test"}
	pupils, answers := r.Best.Pupils(id), r.Best.Answers(id)
	young, adult := words(t, &pupils), words(t, &answers)
	assert.Contains(t, young, "We change how many pairs of pulleys.")
	assert.Contains(t, young, "1. 3 pairs\n2. 2 pairs\n3. 1 pair\n")
	assert.Contains(t, young, "The ride goes on the last rod.")
	for _, tick := range []string{"\nThe bands that are left\n", "\nThe pulleys that are left\n"} {
		assert.Contains(t, young, tick)
	}
	for _, tick := range []string{"\nThe bands\n", "\nThe pulleys\n"} {
		assert.NotContains(t, young, tick)
	}
	assert.Contains(t, adult, "the driver of stage 1")
	assert.NotContains(t, adult, "the driver of stage 2")
	assert.Contains(t, adult, "where there is a stage 3, its pulleys ")
	assert.Contains(t, adult, "The ride moves: it is on axle 2 in test 2 and on axle 1 in test 3. That axle must be as long as the output's, 15 mm longer than an axle is otherwise.")
	assert.NotContains(t, adult, "swap the part")
	for _, s := range strings.Split(young, "\n") {
		for _, s := range reading.Sentences(s) {
			assert.Less(t, len(reading.Words(s)), 12, s)
		}
	}
	vehicle, drive, model := *base, *base.Drive, *base.Brief
	vehicle.Drive = &drive
	model.Model = brief.Vehicle
	vehicle.Brief, vehicle.Drive.Wheel = &model, &parts.Wheel{}
	for _, f := range families(&vehicle) {
		if f.thing == StageCount {
			assert.Empty(t, f.values, "its free axle would need another hole")
		}
	}
}

// stages is a drive of three stages of which one and two work too.
func stages(t *testing.T) *built.Build {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(`
name = "Carousel"
model = "ride on an upright axle"
load = {mass = "100 g"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", centre = "114 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-16", centre = "48 mm", axle = "dowel-5"}
stage.3 = {driver = "axle-10", driven = "axle-30", band = "no-16", centre = "48 mm", axle = "dowel-5"}`), cup)
	require.NoError(t, err)
	return b
}
