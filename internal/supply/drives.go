package supply

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/pause"
)

// found is a drive that was found for a job.
type found struct {
	drive *design.Proposal
	takes []int   // pieces of each part, by one set
	gone  []int   // those of them that do not come back
	sawn  []sawn  // the axles and the pulleys of discs among them
	off   float64 // |relative error| of the likely speed
}

// noDrive is the proof that there is no drive within a tolerance that takes no more of
// each part than caps say: every drive takes more of one that is not plenty.
type noDrive struct {
	caps      []int
	tolerance float64
}

// answer is whether there is a drive.
type answer int

const (
	unknown answer = iota
	yes
	no
)

// consumed are the kinds of part that do not come back when a model is taken apart:
// bands perish and snap, axles have been cut, sleeves cut and glued (common practice).
var consumed = []string{"band", "axle", "sleeve"}

// add notes a drive unless it is known; and it is the drive noted.
func (j *job) add(p *design.Proposal) *found {
	f := &found{drive: p, takes: make([]int, len(j.parts)), gone: make([]int, len(j.parts)), off: math.Abs(float64(p.Speed.Likely/p.Target) - 1)}
	for _, u := range p.Uses {
		at := j.at[key{u.Kind, u.Name}]
		f.takes[at] += u.Each
		if slices.Contains(consumed, u.Kind) || j.parts[at].made != nil {
			f.gone[at] += u.Each
		}
	}
	// A pulley that was drilled out or glued on is not the pulley it was.
	spoilt := func(joint drive.Joint, kind, name string) {
		if joint.Kind == drive.DrilledOut || joint.Kind == drive.Glued {
			f.gone[j.at[key{kind, name}]]++
		}
	}
	d := p.Drive
	for i := range d.Stages {
		spoilt(d.Stages[i].DriverJoint, "pulley", d.Stages[i].Driver.Name)
		spoilt(d.Stages[i].DrivenJoint, "pulley", d.Stages[i].Driven.Name)
	}
	if d.Wheel != nil {
		for range d.OutputPieces() {
			spoilt(d.OutputJoint, "wheel", d.Wheel.Name)
		}
	}
	if d.Drum != nil {
		spoilt(d.OutputJoint, "drum", d.Drum.Name)
	}
	at := slices.IndexFunc(j.drives, func(o *found) bool {
		return slices.Equal(o.takes, f.takes) && slices.Equal(o.gone, f.gone) && o.off == f.off && o.drive.Total == p.Total
	})
	if at >= 0 {
		return j.drives[at]
	}
	f.sawn = slices.Concat(j.sawnFor(p), j.sawnOfSheet(f.takes))
	j.drives = append(j.drives, f)
	return f
}

// fitting is a known drive within a tolerance that takes no more than caps; nil if none
// is known.
func (j *job) fitting(caps []int, tolerance float64) *found {
	for _, f := range j.drives {
		if f.off <= tolerance && within(f.takes, caps) {
			return f
		}
	}
	return nil
}

func within(takes, caps []int) bool {
	for i, n := range takes {
		if caps[i] != plenty && n > caps[i] {
			return false
		}
	}
	return true
}

// any is whether there is any drive for so many sets from a cupboard.
func (a *asker) any(ctx context.Context, j *job, cup *parts.Cupboard, sets int, tolerance float64) (answer, error) {
	return a.put(ctx, j, cup, sets, 1, tolerance, design.Exists)
}

// ranked looks for the best drives for so many sets; where none is found in the time for
// that, for any.
func (a *asker) ranked(ctx context.Context, j *job, cup *parts.Cupboard, sets, keep int) (answer, error) {
	if a.opt.Rank == nil {
		return a.search(ctx, j, cup, sets, keep, j.brief.Tolerance)
	}
	limit := a.opt.Limit
	a.opt.Limit = a.opt.Rank
	is, err := a.search(ctx, j, cup, sets, keep, j.brief.Tolerance)
	if a.opt.Limit = limit; err != nil || is != unknown || pause.Err(ctx) != nil {
		return is, err
	}
	return a.any(ctx, j, cup, sets, j.brief.Tolerance)
}

// search looks for the best drives with so many of each part for so many sets.
func (a *asker) search(ctx context.Context, j *job, cup *parts.Cupboard, sets, keep int, tolerance float64) (answer, error) {
	return a.put(ctx, j, cup, sets, keep, tolerance, design.Find)
}

// put puts a question for so many sets to one of the searches, and keeps the drives that it
// finds.
func (a *asker) put(ctx context.Context, j *job, cup *parts.Cupboard, sets, keep int, tolerance float64,
	search func(context.Context, *parts.Cupboard, *brief.Brief, design.Options) (*design.Result, error)) (answer, error) {
	b := *j.brief
	b.Sets, b.Tolerance = sets, tolerance
	if a.opt.Limit != nil {
		var stop context.CancelFunc
		ctx, stop = a.opt.Limit(ctx)
		defer stop()
	}
	a.searches++
	r, err := search(ctx, cup, &b, design.Options{Keep: keep, Threads: a.opt.Threads, Watch: a.opt.Watch})
	if err != nil {
		return unknown, err
	}
	for i := range r.Proposals {
		j.add(&r.Proposals[i])
	}
	switch {
	case len(r.Proposals) > 0:
		return yes, nil
	case r.Status == design.NonePossible:
		if a.account == nil {
			a.account = r
		}
		return no, nil
	}
	return unknown, nil
}

// ask is whether there is a drive within a tolerance that takes no more than caps.
func (a *asker) ask(ctx context.Context, j *job, caps []int, tolerance float64) (answer, error) {
	if j.fitting(caps, tolerance) != nil {
		return yes, nil
	}
	for _, n := range slices.Concat(j.sure, j.none) {
		if n.tolerance >= tolerance && covered(caps, n.caps) {
			return no, nil
		}
	}
	tried := func(n noDrive) bool { return n.tolerance == tolerance && slices.Equal(n.caps, caps) }
	if pause.Err(ctx) != nil || slices.ContainsFunc(j.open, tried) {
		return unknown, nil
	}
	is, err := a.any(ctx, j, j.cupboard(caps, 1), 1, tolerance)
	if is == unknown {
		j.open = append(j.open, noDrive{slices.Clone(caps), tolerance})
	}
	return is, err
}

// quick is ask within the time for a search that only makes a proof stronger.
func (a *asker) quick(ctx context.Context, j *job, caps []int, tolerance float64) (answer, error) {
	if a.opt.Relax != nil {
		var stop context.CancelFunc
		ctx, stop = a.opt.Relax(ctx)
		defer stop()
	}
	return a.ask(ctx, j, caps, tolerance)
}

// covered is whether caps allow nothing that others do not.
func covered(caps, others []int) bool {
	for i, n := range others {
		if n != plenty && (caps[i] == plenty || caps[i] > n) {
			return false
		}
	}
	return true
}

// refute notes why there is no drive with so many of each part, which is known: with as
// many parts plentiful as can be. Those of which most is there are made plentiful first,
// so that what is left is what must be bought.
func (a *asker) refute(ctx context.Context, j *job, caps []int, tolerance float64) error {
	caps = slices.Clone(caps)
	var order []int
	for i, n := range caps {
		if n != plenty {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int {
		p, q := &j.parts[x], &j.parts[y]
		ample := func(i int) int { return j.pieces(i) / (caps[i] + 1) }
		return cmp.Or(cmp.Compare(min(ample(y), j.groups), min(ample(x), j.groups)), cmp.Compare(truth(!p.onSale), truth(!q.onSale)), cmp.Compare(a.piece[x], a.piece[y]))
	})
	var relax func(list []int) error
	relax = func(list []int) error {
		if len(list) == 0 {
			return nil
		}
		more := slices.Clone(caps)
		for _, i := range list {
			more[i] = plenty
		}
		is, err := a.quick(ctx, j, more, tolerance)
		switch {
		case err != nil:
			return err
		case is == no:
			caps = more
			return nil
		case len(list) == 1:
			return nil
		}
		half := (len(list) + 1) / 2
		if err := relax(list[:half]); err != nil {
			return err
		}
		return relax(list[half:])
	}
	if err := relax(order); err != nil {
		return err
	}
	// What is left may be allowed a piece or two more.
	for _, i := range order {
		for caps[i] != plenty && caps[i] < j.most[i] {
			more := slices.Clone(caps)
			more[i]++
			is, err := a.quick(ctx, j, more, tolerance)
			if err != nil {
				return err
			}
			if is != no {
				break
			}
			caps = more
		}
	}
	j.none = append(j.none, noDrive{caps, tolerance})
	return nil
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// certain are the refutations that need no search: without a motor there is no drive,
// nor without cells, bands, axles and pulleys; nor with one wheel of a kind.
func (j *job) certain() {
	for _, c := range []struct {
		kind string
		caps int
	}{{"motor", 0}, {"cells", 0}, {"band", 0}, {"axle", 0}, {"pulley", 0}, {"wheel", design.MostTaken("wheel", 1) - 1}, {"drum", 0}} {
		if c.kind == "wheel" && j.brief.Model != brief.Vehicle || c.kind == "drum" && j.brief.Model != brief.Lift {
			continue
		}
		caps := slices.Repeat([]int{plenty}, len(j.parts))
		for i, p := range j.parts {
			if p.kind == c.kind && j.most[i] > 0 && (p.kind != "cells" || j.cellsAllowed(p.name)) {
				caps[i] = c.caps
			}
		}
		j.sure = append(j.sure, noDrive{caps, math.Inf(1)})
	}
}

func (j *job) cellsAllowed(holder string) bool {
	for i := range j.all.Holders {
		if h := &j.all.Holders[i]; h.Name == holder {
			return len(j.brief.Cells) == 0 || slices.Contains(j.brief.Cells, h.Cells)
		}
	}
	return false
}
