package goals

import (
	"context"

	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/search"
	"findrive/internal/units"
)

// Options steer Find. The answer does not depend on Threads.
type Options struct {
	Keep    int // how many drives; 0 means 3
	Threads int
	Watch   func(search.Progress)
}

// Result is what Find came to.
type Result struct {
	Cupboard  *parts.Cupboard
	Challenge *Challenge
	Status    design.Status
	// Entries are the drives with the best scores, the best bet of them first: see rank.
	Entries []Entry
	// Proved is how many of the entries, the first, are proved to have the best scores there
	// are.
	Proved int
	// Open is, when stopped early, the best score that anything unseen could have;
	// nil if nothing is known.
	Open *Score
	// Refused says, if there is no entry, why not.
	Refused []design.Refused
	// AnyStart: no drive does it in the time asked for with a start that takes a fifth of it
	// at most, and so these take longer to get away.
	AnyStart bool
	// Fine: no drive can enter whose holes may be as far off as the rules ask, and so these
	// need better ones.
	Fine bool
	// Finer is a drive that does better than the first, with better holes than the rules
	// ask for; nil if there is none, or none was found in the time.
	Finer    *Entry
	Searches int // how often the question was put to the search
	Stats    search.Stats
}

// Entry is one drive in the contest.
type Entry struct {
	Rank     int // from 1: what the club will see
	Score    Score
	Bill     Bill
	Proposal *design.Proposal
	Knobs    []Knob // what to turn to come nearer
	// Counted is what is remembered of this very model, by which its score is; nil if it was
	// not counted.
	Counted *parts.CountedDrive
	// AtHoles is the likely time of the run with the holes as they are drawn: the score is
	// that of the design, from which they may be off by half a step of its ruler. 0 where
	// there is no run.
	AtHoles units.Seconds
	ByScore int     // its place by the score alone, from 1, which is what is proved
	Expect  float64 // what the club should see on average; see expect
	Beyond  *Beyond // what keeps it from doing better; nil if that is not one rule
	step    int     // of the goal
}

// Find finds the best drives for a challenge and proves them, or says how far it
// came when ctx ended. The error is not nil only if the program contradicts itself.
//
// The scheme. Let S(k) be the drives on step k of the goal or a better one.
// design.Exists finds a drive of S(k), or proves that S(k) is empty. As the S(k) are
// nested there is a step below which all are empty and from which on none is, and it
// is found by strides from below and halving: every answer, yes or no, is a proof. On
// that step design.Find then takes the drives in order of penalty. If that is not
// enough of them, those known are left out and the next step with any other is found
// in the same way, from there up.
//
// What this program asks beyond the rules of the club, of the start of a run and of holes,
// is dropped where no drive can enter with it.
func Find(ctx context.Context, cup *parts.Cupboard, c *Challenge, opt Options) (*Result, error) {
	if opt.Keep == 0 {
		opt.Keep = 3
	}
	goal, rules := goalOf(c), c.Rules
	if c.Kind == Forgiving {
		rules.Holes = 0 // holes are what it is about
	}
	s := &seeker{cup: cup, goal: goal, rules: rules, opt: opt, known: map[string]bool{}}
	r, err := s.find(ctx, c)
	var anyStart, fine bool
	for err == nil && r.Status == design.NonePossible && (c.Kind == ExactTime && !anyStart || s.rules.Holes > 0) {
		if c.Kind == ExactTime && !anyStart {
			anyStart, s.goal = true, exactTime{c, true}
		} else {
			fine, s.rules.Holes = true, 0
			if c.Kind == ExactTime {
				anyStart, s.goal = false, goal
			}
		}
		var again *Result
		if again, err = s.find(ctx, c); err == nil && again.Status != design.NonePossible {
			again.AnyStart, again.Fine = anyStart, fine
			r = again
		}
	}
	if err != nil {
		return nil, err
	}
	if r.Proved > 0 && s.rules.Holes > 0 {
		r.Finer, err = s.finer(ctx, r)
	}
	r.rank()
	r.Searches, r.Stats = s.searches, s.stats
	return r, err
}

// finer is a drive on a better step than the first of a result, with any holes; nil if none
// was found.
func (s *seeker) finer(ctx context.Context, r *Result) (*Entry, error) {
	step := r.Entries[0].step
	if step == 0 {
		return nil, nil
	}
	holes, known := s.rules.Holes, s.known
	s.rules.Holes, s.known = 0, map[string]bool{}
	defer func() { s.rules.Holes, s.known = holes, known }()
	better, at, err := s.look(ctx, step-1, anyOne, nil)
	if err != nil || len(better.Proposals) == 0 {
		return nil, err
	}
	found := s.entries(better, at)
	return &found[0], nil
}

// find is Find for one goal and one set of rules.
func (s *seeker) find(ctx context.Context, c *Challenge) (*Result, error) {
	cup, opt := s.cup, s.opt
	s.known = map[string]bool{}
	r := &Result{Cupboard: cup, Challenge: c, Status: design.ProvedBest}
	low := 0
	for len(r.Entries) < opt.Keep {
		level, err := s.next(ctx, low, opt.Keep-len(r.Entries))
		if err != nil {
			return nil, err
		}
		r.Entries = append(r.Entries, level.entries...)
		if !level.proved {
			r.Status = design.StoppedEarly
			r.Open = s.scoreOf(level.low)
			break
		}
		r.Proved = len(r.Entries)
		if len(level.entries) == 0 {
			r.Refused = level.refused
			break
		}
		low = level.low
		for i := range level.entries {
			s.known[arrangement(level.entries[i].Proposal.Drive)] = true
		}
	}
	if len(r.Entries) == 0 && r.Status == design.ProvedBest {
		r.Status = design.NonePossible
	}
	for i := range r.Entries {
		r.Entries[i].Knobs = knobs(cup, c, &r.Entries[i])
		if r.Entries[i].Score.Run != nil {
			r.Entries[i].AtHoles = atHoles(r.Entries[i].Proposal.Drive, r.Entries[i].Score.Asked, c.Distance)
		}
		asCounted(cup, c, &r.Entries[i])
		r.Entries[i].Expect = expect(c, &r.Entries[i])
		r.Entries[i].Beyond = beyond(cup, c, &r.Entries[i])
	}
	return r, nil
}

type seeker struct {
	cup      *parts.Cupboard
	goal     goal
	rules    Rules
	opt      Options
	known    map[string]bool
	searches int
	stats    search.Stats
}

// level is what is on one step of the goal.
type level struct {
	entries []Entry
	proved  bool // the entries are the first of all that are left; none: none is left
	low     int  // nothing that is left is on a better step
	refused []design.Refused
}

// next finds the best step that anything not yet known is on, knowing that none is
// on a better one than low, and up to so many drives of it.
//
// A look that may be the last is for two drives: where one is found and no other, it is
// alone on its step.
func (s *seeker) next(ctx context.Context, low, keep int) (level, error) {
	best, step, err := s.look(ctx, s.goal.last(), anyOne, nil)
	if err != nil {
		return level{}, err
	}
	if len(best.Proposals) == 0 {
		return level{proved: best.Status == design.NonePossible, low: low, refused: best.Refused}, nil
	}
	asked := anyOne
	for reach := 0; low < step; {
		mid := min(low+reach, (low+step-1)/2)
		want := anyOne
		if mid == low {
			want = anyTwo
		}
		r, at, err := s.look(ctx, mid, want, nil)
		switch {
		case err != nil:
			return level{}, err
		case len(r.Proposals) > 0:
			best, step, asked = r, at, want
		case r.Status == design.NonePossible:
			low, reach = mid+1, 2*reach+1
		default: // stopped with nothing found
			return level{entries: s.entries(best, step)[:1], low: low}, nil
		}
	}
	low = step
	only, err := s.alone(ctx, best, asked, step)
	if err != nil {
		return level{}, err
	}
	if only != nil {
		// What is left is the best way to build it.
		keep, low = 1, step+1
	}
	all, _, err := s.look(ctx, step, keep, only)
	if err != nil {
		return level{}, err
	}
	if len(all.Proposals) == 0 {
		// Stopped, or passed over: a drive found with less asked of its holes may lie
		// in a cell whose placement keeps less to them.
		all.Proposals = best.Proposals[:1]
	}
	if all.Status == design.StoppedEarly {
		return level{entries: s.entries(all, step), low: step}, nil
	}
	if len(all.Proposals) < keep {
		low = step + 1 // these are all there are
	}
	return level{entries: s.entries(all, step), proved: true, low: low}, nil
}

// alone is the drive found on a step, the best there is, if it is proved that no other
// arrangement is on it; otherwise nil. asked is how many were looked for.
func (s *seeker) alone(ctx context.Context, found *design.Result, asked, step int) (*design.Proposal, error) {
	first := &found.Proposals[0]
	switch {
	case len(found.Proposals) > 1:
		return nil, nil
	case asked == anyTwo:
		if found.Status == design.ProvedBest {
			return first, nil
		}
		return nil, nil // stopped
	}
	key := arrangement(first.Drive)
	s.known[key] = true
	others, _, err := s.look(ctx, step, anyOne, nil)
	delete(s.known, key)
	if err != nil || others.Status != design.NonePossible {
		return nil, err
	}
	return first, nil
}

// pinned holds a search to the arrangement of a drive, if there is one.
func pinned(only *design.Proposal) *design.Pins {
	if only == nil {
		return nil
	}
	d := only.Drive
	p := &design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages)}
	for i := range d.Stages {
		p.Each = append(p.Each, design.StagePins{Driver: d.Stages[i].Driver.Name, Driven: d.Stages[i].Driven.Name})
	}
	return p
}

// anyOne and anyTwo are for any drives on a step, so many, instead of those with the
// fewest penalty points.
const anyOne, anyTwo = -1, -2

// look asks for so many drives on a step or a better one, which are sorted by penalty
// points unless any will do. It says on which step the first is; of any, the one on the
// best step is made the first. only is the one arrangement to look at, nil for all.
func (s *seeker) look(ctx context.Context, step, keep int, only *design.Proposal) (*design.Result, int, error) {
	a := s.goal.asks(step)
	if s.rules.Holes > 0 {
		b := *a.brief
		b.Limits.HoleError = s.rules.Holes
		a.brief, a.mustForgive = &b, true
	}
	before := s.stats
	opt := design.Options{Keep: keep, Threads: s.opt.Threads, MustForgive: a.mustForgive, Pins: pinned(only),
		Extra: &contest{rules: s.rules, brief: a.brief, goal: a.rule, known: s.known}}
	if s.opt.Watch != nil {
		opt.Watch = func(p search.Progress) {
			p.Stats.Add(before)
			s.opt.Watch(p)
		}
	}
	if only != nil {
		opt.AtMost = only.Total
	}
	find := design.Find
	if keep < 0 {
		find, opt.Keep = design.Exists, -keep
	}
	r, err := find(ctx, s.cup, a.brief, opt)
	if err != nil {
		return nil, 0, err
	}
	s.searches++
	s.stats.Add(r.Stats)
	at := step
	for i := range r.Proposals {
		if _, on := s.goal.measure(&r.Proposals[i], step); i == 0 || keep < 0 && on < at {
			at, r.Proposals[0], r.Proposals[i] = on, r.Proposals[i], r.Proposals[0]
		}
	}
	return r, at, nil
}

// entries are the drives of a result as entries, one for each arrangement: a lift
// may come with several tackles, of which the first is the best.
func (s *seeker) entries(r *design.Result, step int) []Entry {
	var out []Entry
	seen := map[string]bool{}
	for i := range r.Proposals {
		p := &r.Proposals[i]
		if key := arrangement(p.Drive); !seen[key] {
			seen[key] = true
			score, on := s.goal.measure(p, step)
			if p.Drive.Wheel != nil {
				score.Traction = traction(p, score)
			}
			out = append(out, Entry{Score: score, Bill: billOf(p.Drive, r.Brief, s.rules.Prices), Proposal: p, step: on})
		}
	}
	return out
}

// traction is what the floor holds over what the start needs.
func traction(p *design.Proposal, score Score) float64 {
	d := p.Drive.DemandAt(score.Asked, drive.Likely)
	t := drive.TractionOf(score.Asked, p.Drive.Wheel, d)
	return float64(t.Holds / t.Needed)
}

// scoreOf is the best that a drive on a step can have, as a score; nil if the step
// says nothing.
func (s *seeker) scoreOf(step int) *Score {
	if step <= 0 {
		return nil
	}
	score := s.goal.best(step)
	return &score
}
