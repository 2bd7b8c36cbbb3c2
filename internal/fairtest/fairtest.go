// Package fairtest finds three drives that differ in one thing only, so that a class
// can see what that thing does.
//
//	fairtest.go  the question, and the weighing of every three
//	variants.go  what can be changed in a drive, from the stock
//	predict.go   what each should do, for the adult
//	pages.go     the page for the pupils and its answers
package fairtest

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/pause"
)

// Thing is what the three drives differ in.
type Thing string

// The things, those that teach most first (judgement): the driven pulley is what the
// story of small and big is about.
const (
	DrivenPulley Thing = "driven pulley"
	DriverPulley Thing = "driver pulley"
	NumberCells  Thing = "cells"
	BandUse      Thing = "way the band is put on"
	OtherBand    Thing = "band"
	OtherMotor   Thing = "motor"
	StageCount   Thing = "number of stages"
)

// Things lists every thing.
func Things() []Thing {
	return []Thing{DrivenPulley, DriverPulley, NumberCells, OtherBand, BandUse, OtherMotor, StageCount}
}

// worth is what a test of each thing is charged, in points (judgement).
var worth = map[Thing]float64{DriverPulley: 1, NumberCells: 2, OtherBand: 3, BandUse: 3, OtherMotor: 3, StageCount: 3}

// Variant is a base drive with one thing changed, or as it is.
type Variant struct {
	Part    string // the name of what differs: a pulley, a band, "2 stages"
	Size    string // in words, such as "40 mm across"; may be empty
	Fit     string // how a pulley sits on its shaft, where that is more than a push
	joint   drive.JointKind
	fitted  bool // the base as it is
	Working *built.Working
}

// Test is three drives that differ in one thing, slowest first.
type Test struct {
	Base   *built.Build
	Rank   int // of the base among those that were given, from 1
	Thing  Thing
	Stage  int // from 1; 0 where the thing is no stage's
	Drives [3]Variant
	Cost   float64 // points; less is better
	// AtOnce is for how many groups of three the stock makes all three drives at the
	// same time. 0: build one and swap the part.
	AtOnce int
}

// Result is the best test, the best of every other thing, and what was weighed.
type Result struct {
	Best     *Test   // nil if there is none
	Others   []*Test // of other things, best first
	Bases    int
	Variants int  // sound drives, the bases among them
	Weighed  int  // threes
	Whole    bool // nothing was left out: the context did not end
}

// Find weighs every three sound drives that come from one of the bases by changing one
// thing, the holes staying as they are, and keeps the best. A drive is sound if it keeps
// every rule but that of the wanted speed. Equal questions give equal answers.
func Find(ctx context.Context, bases []*built.Build, only []Thing) *Result {
	r := &Result{Bases: len(bases), Whole: true}
	best := map[Thing]*Test{}
	for i, base := range bases {
		for _, f := range families(base) {
			if len(only) > 0 && !slices.Contains(only, f.thing) {
				continue
			}
			if pause.Err(ctx) != nil {
				r.Whole = false
				break
			}
			variants := f.sound()
			r.Variants += len(variants)
			r.Weighed += f.weigh(variants, i+1, best)
		}
	}
	all := make([]*Test, 0, len(best))
	for _, thing := range Things() {
		if t := best[thing]; t != nil {
			t.AtOnce = atOnce(t)
			all = append(all, t)
		}
	}
	slices.SortStableFunc(all, func(a, b *Test) int { return cmp.Compare(a.Cost, b.Cost) })
	if len(all) > 0 {
		r.Best, r.Others = all[0], all[1:]
	}
	return r
}

// weigh tries every three of a family's variants and keeps the best of its thing.
func (f *family) weigh(v []Variant, rank int, best map[Thing]*Test) (weighed int) {
	slices.SortStableFunc(v, func(a, b Variant) int { return cmp.Compare(a.Working.Speed.Likely, b.Working.Speed.Likely) })
	for i := range v {
		for j := i + 1; j < len(v); j++ {
			for k := j + 1; k < len(v); k++ {
				weighed++
				three := [3]Variant{v[i], v[j], v[k]}
				points, ok := cost(f.thing, three)
				if !ok {
					continue
				}
				points = math.Round(1e6*(points+rankPoints*float64(rank-1))) / 1e6
				if t := best[f.thing]; t == nil || points < t.Cost {
					best[f.thing] = &Test{Base: f.base, Rank: rank, Thing: f.thing, Stage: f.stage, Drives: three, Cost: points}
				}
			}
		}
	}
	return weighed
}

// The charges of a three, in points (judgement, but for what can be counted, which is
// common practice).
const (
	rankPoints = 0.1 // each place of the base in the list of drives
	// clear is the least factor between neighbours: a count is off by a quarter of a
	// turn in ten at most, and the three are counted three times each.
	clear = 1.15
	// plain is the factor from which nobody doubts what was seen.
	plain       = 1.4
	plainPoints = 10 // each 1 that the factor is short of plain
	evenPoints  = 2  // each factor e that one step is larger than the other
	limpPoints  = 0.5
	// notFitted is for three of which none is the starting drive as it stands: every one
	// takes a change of parts.
	notFitted = 1
	// standPoints are for a drive that may not turn on a poor day.
	standPoints = 4
)

// fitPoints are the charge of a pulley that is no push fit, by how it is held.
var fitPoints = map[drive.JointKind]float64{drive.Glued: 1.5, drive.Sleeved: 1, drive.DrilledOut: 3}

// cost is the charge of three drives, slowest first; false if two are not clearly
// different.
func cost(thing Thing, three [3]Variant) (points float64, ok bool) {
	points = worth[thing]
	var n [3]float64
	for i, v := range three {
		n[i] = float64(v.Working.Speed.Likely)
		points += countPoints(v.Working)
		points += fitPoints[v.joint]
		if !(v.Working.Speed.Low > 0) {
			points += standPoints
		}
		lim := v.Working.Build.Brief.Limits
		for s := range v.Working.Stages {
			if f := v.Working.Stages[s].Fitted.Stretch; f < lim.ComfortStretchMin || f > lim.ComfortStretchMax {
				points += limpPoints
			}
		}
	}
	if !three[0].fitted && !three[1].fitted && !three[2].fitted {
		points += notFitted
	}
	low, high := n[1]/n[0], n[2]/n[1]
	if min(low, high) < clear {
		return 0, false
	}
	points += plainPoints * max(0, plain-min(low, high))
	points += evenPoints * math.Abs(math.Log(low/high))
	return points, true
}
