package goals

import (
	"context"

	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/search"
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
	Entries   []Entry // best first
	// Proved is how many of the entries are proved to be the best there are.
	Proved int
	// Open is, when stopped early, the best score that anything unseen could have;
	// nil if nothing is known.
	Open *Score
	// Refused says, if there is no entry, why not.
	Refused  []design.Refused
	Searches int // how often the question was put to the search
	Stats    search.Stats
}

// Entry is one drive in the contest.
type Entry struct {
	Rank     int // from 1
	Score    Score
	Bill     Bill
	Proposal *design.Proposal
	Knobs    []Knob // what to turn to come nearer
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
func Find(ctx context.Context, cup *parts.Cupboard, c *Challenge, opt Options) (*Result, error) {
	if opt.Keep == 0 {
		opt.Keep = 3
	}
	s := &seeker{cup: cup, goal: goalOf(c), rules: c.Rules, opt: opt, known: map[string]bool{}}
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
		r.Entries[i].Rank = i + 1
		r.Entries[i].Knobs = knobs(cup, c, &r.Entries[i])
	}
	r.Searches, r.Stats = s.searches, s.stats
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
func (s *seeker) next(ctx context.Context, low, keep int) (level, error) {
	first, step, err := s.look(ctx, s.goal.last(), anyOne)
	if err != nil {
		return level{}, err
	}
	if len(first.Proposals) == 0 {
		return level{proved: first.Status == design.NonePossible, low: low, refused: first.Refused}, nil
	}
	best := first
	for reach := 0; low < step; {
		mid := min(low+reach, (low+step-1)/2)
		r, at, err := s.look(ctx, mid, anyOne)
		switch {
		case err != nil:
			return level{}, err
		case len(r.Proposals) > 0:
			best, step = r, at
		case r.Status == design.NonePossible:
			low, reach = mid+1, 2*reach+1
		default: // stopped with nothing found
			return level{entries: s.entries(best, step), low: low}, nil
		}
	}
	low = step
	if keep > 1 {
		// Often the one that is known is alone there, which is proved sooner than that
		// it is followed by nothing.
		alone, err := s.alone(ctx, best.Proposals[0].Drive, step)
		if err != nil {
			return level{}, err
		}
		if alone {
			keep, low = 1, step+1
		}
	}
	all, _, err := s.look(ctx, step, keep)
	if err != nil {
		return level{}, err
	}
	if len(all.Proposals) == 0 {
		// Stopped, or passed over: a drive found with less asked of its holes may lie
		// in a cell whose placement keeps less to them.
		all.Proposals = best.Proposals
	}
	if all.Status == design.StoppedEarly {
		return level{entries: s.entries(all, step), low: step}, nil
	}
	if len(all.Proposals) < keep {
		low = step + 1 // these are all there are
	}
	return level{entries: s.entries(all, step), proved: true, low: low}, nil
}

// alone tells whether it is proved that no other arrangement than a drive's is on a
// step or a better one.
func (s *seeker) alone(ctx context.Context, d *drive.Drive, step int) (bool, error) {
	key := arrangement(d)
	s.known[key] = true
	others, _, err := s.look(ctx, step, anyOne)
	delete(s.known, key)
	return err == nil && others.Status == design.NonePossible, err
}

// anyOne is how many drives to look for where one will do, whichever it is.
const anyOne = 0

// look asks for any drive on a step or a better one, or for so many with the fewest
// penalty points, and says on which step the first is.
func (s *seeker) look(ctx context.Context, step, keep int) (*design.Result, int, error) {
	a := s.goal.asks(step)
	before := s.stats
	opt := design.Options{Keep: keep, Threads: s.opt.Threads, MustForgive: a.mustForgive,
		Extra: &contest{rules: s.rules, brief: a.brief, goal: a.rule, known: s.known}}
	if s.opt.Watch != nil {
		opt.Watch = func(p search.Progress) {
			p.Stats.Add(before)
			s.opt.Watch(p)
		}
	}
	find := design.Find
	if keep == anyOne {
		find = design.Exists
	}
	r, err := find(ctx, s.cup, a.brief, opt)
	if err != nil {
		return nil, 0, err
	}
	s.searches++
	s.stats.Add(r.Stats)
	if len(r.Proposals) > 0 {
		_, at := s.goal.measure(&r.Proposals[0], step)
		return r, at, nil
	}
	return r, step, nil
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
			score, _ := s.goal.measure(p, step)
			if p.Drive.Wheel != nil {
				score.Traction = traction(p, score)
			}
			out = append(out, Entry{Score: score, Bill: billOf(p.Drive, r.Brief, s.rules.Prices), Proposal: p})
		}
	}
	return out
}

// traction is what the floor holds over what the start needs.
func traction(p *design.Proposal, score Score) float64 {
	d := drive.DemandOf(score.Asked, p.Drive.Wheel, nil, drive.Likely)
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
