package why

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/conflict"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Obstacle is what stands in the way of any drive, in one sentence without its stop:
// first what can be seen from the parts alone, then what the searches have settled.
// Empty if it cannot be told in one.
func (a *Answer) Obstacle() string {
	c := a.Case
	if len(a.Lacking) > 0 {
		words := "the cupboard has no " + strings.Join(a.Lacking, " and no ")
		if none := a.noneLeft(); len(none) > 0 {
			if more := len(none) - mostNamed; more > 1 { // or the last is named, which is as short
				none = append(none[:mostNamed:mostNamed], fmt.Sprintf("%d others", more))
			}
			words += "; there are none left of " + listed(none, "and")
		}
		return words
	}
	offered := making.Offer(c.Cupboard, c.Brief) // with what may be made
	if words := nothingFits(offered, c.Brief); words != "" {
		return words
	}
	if words := oneSize(offered); words != "" && a.standsInTheWay("pulleys") {
		return words
	}
	// What the smallest change mends is what stands in the way: the speed only if that must give.
	change := a.Smallest()
	alone := change != nil && len(change.Steps) == 1
	if alone {
		if words := a.tooSmall(change); words != "" {
			return words
		}
		lever := &a.Levers[change.Steps[0].Lever]
		if words := a.tooFew(); words != "" && (lever.Cost == leeway.Sets || isStock(lever)) {
			return words
		}
	}
	switch {
	case a.Extreme != nil && a.standsInTheWay("speed") && (change == nil || a.givesSpeed(change)):
		return a.Extreme.words(c.Cupboard, c.Brief)
	case alone:
		return a.without(change.Steps[0].Lever)
	}
	return a.together(0)
}

// noneLeft are the parts of the kinds that are lacking that are on the list all the same.
func (a *Answer) noneLeft() []string {
	var out []string
	for _, lacking := range a.Lacking {
		kind := lacking
		switch lacking { // as package design says it
		case "cell holder":
			kind = "cells"
		case "rubber band":
			kind = "band"
		case "rod or dowel for axles":
			kind = "axle"
		}
		out = append(out, a.Case.Cupboard.Names(kind)...)
	}
	return out
}

// givesSpeed tells whether a change asks for another speed, or for something that it hangs on:
// other pulleys or more stages, another motor, number of cells or load.
func (a *Answer) givesSpeed(change *Change) bool {
	return slices.ContainsFunc(change.Steps, func(s Step) bool {
		return slices.Contains([]string{"speed", "stages", "pulleys", "discs", "motors", "cells", "load"}, a.Levers[s.Lever].Key)
	})
}

// isStock tells whether a lever is of what there is of a kind of part.
func isStock(l *leeway.Lever) bool { return l.Cost == leeway.Part || l.Key == "cells" }

// tooFew says of which parts there are not enough for all sets; empty if that is not what cannot be
// kept together.
func (a *Answer) tooFew() string {
	var short []conflict.Set // stocks of one of which at least there is not enough
	for _, c := range a.inTheWay() {
		if sets, stocks := a.setsAndStocks(c.Needed); sets && stocks != 0 {
			short = append(short, stocks)
		}
	}
	words := ""
	for i, s := range short {
		told := false
		for k, o := range short {
			// Where there are too few pulleys, too few pulleys or motors says nothing.
			told = told || o.Within(s) && (o != s || k < i)
		}
		if told {
			continue
		}
		var one []string
		for _, m := range s.Rules() {
			one = append(one, a.stockWords(a.Levers[m].Key))
		}
		if words != "" {
			words += ", and not enough "
		}
		words += listed(one, "or")
	}
	if words == "" {
		return ""
	}
	return fmt.Sprintf("there are not enough %s for %d sets", words, a.Case.Brief.Sets)
}

// setsAndStocks tells whether the number of sets is among some levers, and which of them are stocks.
func (a *Answer) setsAndStocks(of conflict.Set) (sets bool, stocks conflict.Set) {
	for _, m := range of.Rules() {
		sets = sets || a.Levers[m].Cost == leeway.Sets
		if isStock(&a.Levers[m]) {
			stocks |= conflict.Of(m)
		}
	}
	return sets, stocks
}

// stockWords are the parts that a lever of the stock is about: where there is one for each place of
// all sets, those that do for them.
func (a *Answer) stockWords(key string) string {
	words, kind, places := key, "", 1 // places in each set, at least
	switch key {
	case "cells":
		words, kind = "cell holders", "cells"
	case "bands":
		words, kind = "rubber bands", "band"
	case "pulleys":
		kind, places = "pulley", 2
	case "motors":
		kind = "motor"
	}
	pieces := 0
	for _, name := range a.Case.Cupboard.Names(kind) {
		pieces += a.Case.Cupboard.Item(kind, name).Count
	}
	if kind != "" && pieces >= places*a.Case.Brief.Sets {
		return "suitable " + words
	}
	return words
}

func listed(words []string, joint string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " " + joint + " " + words[last]
}

// without says what cannot be kept together with a lever: of many things that lever alone, which a
// reader can hold against what is to be changed.
func (a *Answer) without(lever int) string {
	for i, c := range a.inTheWay() {
		switch {
		case !c.Needed.Has(lever):
		case c.Needed.Len() <= mostNamed:
			return a.together(i)
		default:
			return "it cannot be done with " + a.Levers[lever].Words
		}
	}
	return a.together(0)
}

// mostNamed is how many things a sentence names.
const mostNamed = 3

// Smallest is the change that asks least; nil if none was found.
func (a *Answer) Smallest() *Change {
	if len(a.Changes) == 0 {
		return nil
	}
	return &a.Changes[0]
}

// inTheWay are sets of levers that cannot be kept together. What it is enough to set aside alone is
// in all of them; where that tells what stands in the way it is taken for the only one, as if
// all else was settled: what else may be in them is of no use to who changes one thing.
func (a *Answer) inTheWay() []conflict.Conflict {
	r := &a.Conflict
	if r.All == conflict.Impossible && a.tells(r.Alone) {
		return []conflict.Conflict{{Members: r.Alone, Needed: r.Alone}}
	}
	return r.Conflicts
}

// tells tells whether the levers that are enough alone tell what stands in the way: not where the
// number of sets is the only one and some stock may be short for as many, nor where pulleys
// are all of one size and may be among several others that must change together.
func (a *Answer) tells(alone conflict.Set) bool {
	if alone == 0 {
		return false
	}
	if sets, stocks := a.setsAndStocks(alone); sets && stocks == 0 {
		return false
	}
	pulleys := slices.IndexFunc(a.Levers, func(l leeway.Lever) bool { return l.Key == "pulleys" })
	return pulleys < 0 || alone.Has(pulleys) || oneSize(making.Offer(a.Case.Cupboard, a.Case.Brief)) == ""
}

// standsInTheWay tells whether a lever is in some set that cannot be kept together.
func (a *Answer) standsInTheWay(key string) bool {
	for _, c := range a.inTheWay() {
		for _, m := range c.Members.Rules() {
			if a.Levers[m].Key == key {
				return true
			}
		}
	}
	return false
}

// together says which things of a conflict cannot be kept together.
func (a *Answer) together(conflict int) string {
	all := a.inTheWay()
	if len(all) <= conflict {
		return ""
	}
	var words []string
	sets, stock := false, ""
	for _, m := range all[conflict].Needed.Rules() {
		l := &a.Levers[m]
		if l.Key == "discs" { // a way out that is not taken: nothing that somebody has or asks for
			if all[conflict].Needed.Len() == 1 {
				return "it cannot be done without pulleys made of discs"
			}
			continue
		}
		words = append(words, l.Words)
		sets = sets || l.Cost == leeway.Sets
		if isStock(l) {
			stock = a.stockWords(l.Key)
		}
	}
	if sets && stock != "" && len(words) == 2 {
		return fmt.Sprintf("there are not enough %s for %d sets", stock, a.Case.Brief.Sets)
	}
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return "it cannot be done with " + words[0]
	case 2:
		return words[0] + " and " + words[1] + " cannot both be kept"
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1] + " cannot all be kept"
	}
}

// nothingFits says on which shafts nothing can sit, if that leaves no drive.
func nothingFits(cup *parts.Cupboard, b *brief.Brief) string {
	var pulleys, outputs []constraints.Hub
	for i := range cup.Pulleys {
		if cup.Pulleys[i].Count > 0 {
			pulleys = append(pulleys, constraints.PulleyHub(&cup.Pulleys[i]))
		}
	}
	what := "wheel"
	switch b.Model {
	case brief.Vehicle:
		for i := range cup.Wheels {
			if b.Load.Wheel != "" && cup.Wheels[i].Name != b.Load.Wheel {
				continue
			}
			outputs = append(outputs, constraints.WheelHub(&cup.Wheels[i]))
		}
	case brief.Lift:
		what = "drum"
		for i := range cup.Drums {
			if b.Load.Drum != "" && cup.Drums[i].Name != b.Load.Drum {
				continue
			}
			outputs = append(outputs, constraints.DrumHub(&cup.Drums[i]))
		}
	}
	var shafts, rods []units.Millimetres
	for i := range cup.Motors {
		if cup.Motors[i].Count > 0 {
			shafts = append(shafts, cup.Motors[i].ShaftDiameter)
		}
	}
	for i := range cup.Axles {
		if cup.Axles[i].Count > 0 {
			rods = append(rods, cup.Axles[i].Diameter)
		}
	}
	for _, c := range []struct {
		what   string
		hubs   []constraints.Hub
		on     string
		shafts []units.Millimetres
	}{{"pulley", pulleys, "motor's %s mm shaft", shafts}, {"pulley", pulleys, "%s mm axles", rods}, {what, outputs, "%s mm axles", rods}} {
		if len(c.hubs) == 0 || len(c.shafts) == 0 || anySits(c.hubs, c.shafts, cup, b) {
			continue
		}
		return fmt.Sprintf("no %s here fits the %s: %s", c.what, fmt.Sprintf(c.on, sizes(c.shafts)), boreWords(c.hubs, c.shafts))
	}
	return ""
}

func anySits(hubs []constraints.Hub, shafts []units.Millimetres, cup *parts.Cupboard, b *brief.Brief) bool {
	for _, h := range hubs {
		for _, s := range shafts {
			if ways, _ := constraints.Joints(h, s, cup.Sleeves, b.Making); len(ways) > 0 {
				return true
			}
		}
	}
	return false
}

// boreWords say what is wrong with bores none of which fits any of the shafts.
func boreWords(hubs []constraints.Hub, shafts []units.Millimetres) string {
	var bores []units.Millimetres
	for _, h := range hubs {
		bores = append(bores, h.Bore)
	}
	is := "the bores are " + sizes(bores) + " mm"
	switch {
	case slices.Min(bores) > slices.Max(shafts):
		return is + ", too loose"
	case slices.Max(bores) < slices.Min(shafts):
		return is + ", too tight"
	}
	return is
}

// sizes are lengths in words: those there are, or of many from which to which.
func sizes(of []units.Millimetres) string {
	of = slices.Compact(slices.Sorted(slices.Values(of)))
	var words []string
	for _, v := range of {
		words = append(words, units.Decimals(float64(v), 1))
	}
	if len(words) > mostNamed {
		return words[0] + " to " + words[len(words)-1]
	}
	return listed(words, "and")
}

// oneSize says that all pulleys are alike where the band runs.
func oneSize(cup *parts.Cupboard) string {
	var floors []units.Millimetres
	for i := range cup.Pulleys {
		if cup.Pulleys[i].Count > 0 {
			floors = append(floors, cup.Pulleys[i].GrooveFloor)
		}
	}
	if len(floors) == 0 || slices.Min(floors) != slices.Max(floors) {
		return ""
	}
	return fmt.Sprintf("equal pulleys change no speed, and all of these are %s mm across where the band runs", sizes(floors))
}

// Extreme is the fastest that can be built where more is asked, or the slowest where
// less is.
type Extreme struct {
	Drive  *design.Proposal
	Faster bool // whether a faster one was asked for
	Proved bool // that nothing is faster, or slower, by more than a hundredth
}

// nearEnough is how near to the very fastest or slowest an Extreme is, as a share.
const nearEnough = 0.01

func (e *Extreme) words(cup *parts.Cupboard, b *brief.Brief) string {
	so := ""
	if !e.Proved {
		so = ", so far as was found"
	}
	speed := strings.Replace(leeway.SpeedOf(e.Drive), " turns", "", 1) // "240 a minute"
	stages := fmt.Sprintf("%d stages", b.MaxStages)
	if b.MaxStages == 1 {
		stages = "1 stage"
	}
	motor, kinds := "this motor", 0
	for i := range cup.Motors {
		if cup.Motors[i].Count > 0 {
			kinds++
		}
	}
	if kinds > 1 {
		motor = "every motor here"
	}
	here := ""
	if b.Sets > 1 {
		here = fmt.Sprintf(" for %d groups", b.Sets)
	}
	few := len(e.Drive.Drive.Stages) < b.MaxStages // more of them would be of no use
	if few || here != "" {
		here = "with what there is" + here + " "
	}
	switch {
	case e.Faster && e.Drive.Linear != nil:
		return fmt.Sprintf("nothing here moves faster than %s%s", speed, so)
	case e.Faster:
		return fmt.Sprintf("nothing here turns faster than %s%s", speed, so)
	case few:
		return fmt.Sprintf("%s%s can be slowed to %s at best%s", here, motor, speed, so)
	case b.MaxStages == 1:
		return fmt.Sprintf("%s%s slows %s to %s at best%s", here, stages, motor, speed, so)
	}
	return fmt.Sprintf("%s%s slow %s to %s at best%s", here, stages, motor, speed, so)
}

// extreme looks for the fastest drive of a case, or the slowest, from one that was
// found on the near side of what is asked. Nil if what is asked lies between what is too
// slow and what is too fast.
func (k *asker) extreme(ctx context.Context, from *design.Proposal) *Extreme {
	e := &Extreme{Drive: from, Faster: from.Speed.Likely < from.Target}
	// Speeds are told as shares of the one that is asked, which wheels of several sizes
	// turn differently for.
	reached := func() float64 { return float64(e.Drive.Speed.Likely / e.Drive.Target) }
	edge, stride := 1-k.base.Brief.Tolerance, 1+nearEnough
	if !e.Faster {
		edge, stride = 1+k.base.Brief.Tolerance, 1/(1+nearEnough)
	}
	// beyond looks for a drive at least so fast, or so slow, however much more.
	beyond := func(at float64) (*design.Proposal, conflict.Answer) {
		const wide = 0.998 // to a thousand times as fast, or a thousandth
		scale := at / (1 - wide)
		if !e.Faster {
			scale = at / (1 + wide)
		}
		c := k.base.Copy()
		c.Brief.Speed.Turning *= units.RPM(scale)
		c.Brief.Speed.Linear *= units.MetresPerSecond(scale)
		c.Brief.Tolerance = wide
		q, answer := k.exists(ctx, c)
		if q != nil {
			q.Target /= units.RPM(scale)
		}
		return q, answer
	}
	if edge <= 0 {
		return nil // every slow drive is as asked
	}
	switch q, answer := beyond(edge); {
	case q != nil:
		return nil
	case answer != conflict.Impossible:
		return e
	}
	for math.Abs(math.Log(edge/reached())) > math.Log(1+nearEnough)+1e-9 {
		at := math.Sqrt(edge * reached())
		if math.Abs(math.Log(edge/reached())) < 4*nearEnough {
			at = reached() * stride
		}
		switch q, answer := beyond(at); {
		case q != nil:
			e.Drive = q
		case answer == conflict.Impossible:
			edge = at
		default:
			return e
		}
	}
	e.Proved = true
	return e
}

// tooSmall says by how much the frame is too small, where that is what the change
// mends.
func (a *Answer) tooSmall(change *Change) string {
	s := change.Steps[0]
	how, along := "", false
	switch a.Levers[s.Lever].Key {
	case "frame length":
		how, along = "short", true
	case "frame height":
		how, along = "low", true
	case "frame depth":
		how = "shallow"
	default:
		return ""
	}
	q := change.Drive
	least := fmt.Sprintf("the frame is %d mm too %s", s.By, how)
	if !s.Least {
		least = fmt.Sprintf("the frame is too %s", how)
	}
	if !along || len(q.Stages) != 1 || !s.Least {
		return least
	}
	from, to := q.Drive.Positions[0], q.Drive.Positions[1]
	if across := math.Abs(float64(to.Y-from.Y)) > math.Abs(float64(to.X-from.X)); across != (how == "low") {
		return least // the axles lie the other way: it lacks room for something else
	}
	// One stage: what the band needs is what the frame lacks.
	stage := &q.Stages[0]
	need := math.Ceil(float64(stage.CentreAllowed.Lo + 2*q.Bears))
	return fmt.Sprintf("%s needs its axles %s mm apart and this frame is %d mm too %s for that", stage.Band.Name, units.Decimals(need, 0), s.By, how)
}
