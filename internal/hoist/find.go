package hoist

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Status says what a Result proves.
type Status int

// The outcomes. Ranked: every reeving was looked at and these are the best.
const (
	Ranked Status = iota
	NonePossible
	StoppedEarly
)

// Result is the answer to a brief.
type Result struct {
	Brief    *Brief
	Cupboard *parts.Cupboard
	Status   Status
	Looked   int // reevings looked at, each choice of blocks and cord counted
	Passed   int // of them, those that keep every rule
	// Load is what everything is worked out for: the brief's mass; or, of a brief without
	// one, what the best hoist lifts for sure, rounded down to what a scale can tell; or the
	// heaviest allowed if nothing lifts anything.
	Load units.Grams
	// Hoists are the best of each arrangement, best first.
	Hoists   []Hoist
	Kept     int // arrangements that keep every rule, of which Hoists are the best
	Refusals []Refusal
	Eases    []Ease // where none is possible
	Lesson   []LessonRow
}

// Options steer Find.
type Options struct {
	Keep int // at most so many hoists; 0 for all
}

// Find looks at every reeving that the cupboard gives and ranks those that keep
// the rules. Stopped by ctx it says so. The cupboard must have passed
// CheckCupboard.
func Find(ctx context.Context, cup *parts.Cupboard, b *Brief, opt Options) *Result {
	r := &Result{Brief: b, Cupboard: cup}
	refusals := tally{}
	best := map[arrangement]*Hoist{}
	err := each(ctx, cup, func(reeving Reeving) {
		if b.Cord != "" && reeving.Cord.Name != b.Cord {
			return
		}
		r.Looked++
		h := figures(reeving, b)
		if why := breaks(&h, b, cup); len(why) > 0 {
			refusals.add(&h, why)
			return
		}
		r.Passed++
		h.SetsFromStock, h.Assumed = sets(&h), assumed(&reeving)
		key := h.arrangement()
		old := best[key]
		switch {
		case old == nil:
			best[key] = &h
		case compare(&h, old, b) < 0:
			h.Alike = old.Alike + 1
			best[key] = &h
		default:
			old.Alike++
		}
	})
	for _, h := range best {
		r.Hoists = append(r.Hoists, *h)
	}
	slices.SortFunc(r.Hoists, func(x, y Hoist) int { return compare(&x, &y, b) })
	r.Kept = len(r.Hoists)
	if opt.Keep > 0 && len(r.Hoists) > opt.Keep {
		r.Hoists = r.Hoists[:opt.Keep]
	}
	r.Refusals = refusals.list()
	r.at(b)
	r.Lesson = lesson(cup, b, r.Load, r.lessonCord())
	switch {
	case err != nil:
		r.Status = StoppedEarly
	case r.Kept == 0:
		r.Status, r.Eases = NonePossible, eases(ctx, cup, b)
	}
	return r
}

// at settles the load and works the hoists out for it, so that all are compared at one.
func (r *Result) at(b *Brief) {
	if r.Load = b.Mass; r.Load > 0 {
		return
	}
	if r.Load = HeaviestLoad; len(r.Hoists) == 0 {
		return
	}
	if best := WholeGrams(r.Hoists[0].Heaviest); best > 0 {
		r.Load = best
	}
	same := *b
	same.Mass = r.Load
	for i := range r.Hoists {
		was := &r.Hoists[i]
		now := figures(was.Reeving, &same)
		now.SetsFromStock, now.Alike, now.Assumed = was.SetsFromStock, was.Alike, was.Assumed
		r.Hoists[i] = now
	}
}

// WholeGrams is a mass rounded down to two digits, at least in whole grams.
func WholeGrams(g units.Grams) units.Grams {
	step := math.Pow(10, math.Floor(math.Log10(max(10, float64(g))))-1)
	return units.Grams(math.Floor(float64(g)/step+1e-9) * step)
}

// lessonCord is the cord of the best hoist, so that the lesson is held with what is
// cut anyway, or the first that the brief allows.
func (r *Result) lessonCord() *parts.Cord {
	if len(r.Hoists) > 0 {
		return r.Hoists[0].Cord
	}
	for i := range r.Cupboard.Cords {
		if c := &r.Cupboard.Cords[i]; r.Brief.Cord == "" || c.Name == r.Brief.Cord {
			return c
		}
	}
	return &parts.Cord{Item: parts.Item{Name: "string"}, Diameter: 2}
}

// compare orders two hoists, best first; 0 only for the same reeving.
//
// With a mass: first those whose pull is comfortable even with the most friction;
// then those pulled from where nobody is above the load; then the preference:
// fewest sheaves, fewest facts that nobody measured, cord that does not cut into the
// hand, least pull; or least pull before the other three; then the least cord.
// Without a mass what lifts most comes first. Sheaves that stay empty, and names,
// decide the rest. Pulls are compared in hundredths of a newton.
func compare(x, y *Hoist, b *Brief) int {
	pull := cmp.Compare(centinewtons(x.Raising.Likely), centinewtons(y.Raising.Likely))
	simple := cmp.Or(cmp.Compare(x.Sheaves(), y.Sheaves()), cmp.Compare(len(x.Assumed), len(y.Assumed)), yesFirst(x.handy(), y.handy()))
	below := yesFirst(x.Way() != Up, y.Way() != Up)
	var order int
	switch {
	case b.Mass == 0:
		order = cmp.Or(cmp.Compare(y.Heaviest, x.Heaviest), below, simple, pull)
	case b.Prefer == Lightest:
		order = cmp.Or(yesFirst(x.sure(b), y.sure(b)), below, pull, simple)
	default:
		order = cmp.Or(yesFirst(x.sure(b), y.sure(b)), below, simple, pull)
	}
	return cmp.Or(order,
		cmp.Compare(wayRank(x.Way()), wayRank(y.Way())),
		cmp.Compare(x.CordNeeded, y.CordNeeded),
		cmp.Compare(x.Idle(), y.Idle()),
		cmp.Compare(x.Tied, y.Tied),
		slices.Compare(x.names(), y.names()),
	)
}

// sure reports whether the pull is comfortable even with the most friction.
func (h *Hoist) sure(b *Brief) bool { return h.Raising.High <= b.Pull }

// handy reports whether the cord can be held: thinner than 1 mm it cuts into hands
// (judgement).
func (h *Hoist) handy() bool { return h.Cord.Diameter >= 1 }

func yesFirst(x, y bool) int {
	switch {
	case x == y:
		return 0
	case x:
		return -1
	}
	return 1
}

// centinewtons is a pull in steps that a force meter can tell apart, so that
// rounding in the last bits decides nothing.
func centinewtons(f units.Newtons) int { return int(math.Round(100 * float64(f))) }

func wayRank(w Way) int { return slices.Index([]Way{Down, Level, Up}, w) }

// names are the blocks and the cord by their roles, which together with the
// arrangement tell any two reevings apart.
func (r *Reeving) names() []string {
	out := make([]string, 0, 5)
	for _, b := range []*parts.Block{r.Fixed, r.Moving, r.BeamLead, r.FootLead} {
		if b == nil {
			out = append(out, "")
		} else {
			out = append(out, b.Name)
		}
	}
	return append(out, r.Cord.Name)
}
