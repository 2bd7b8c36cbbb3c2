package design

import (
	"sync"

	"findrive/internal/constraints"
)

// tally counts refusals rule by rule and keeps the nearest miss of each. It may
// be told from several goroutines; what it ends with does not depend on their
// order: counts add up, and the nearest miss is the least, then the first
// sentence by alphabet.
type tally struct {
	mu    sync.Mutex
	rules map[constraints.Rule]*Refused
}

// Refused is the account of one rule.
type Refused struct {
	Rule  constraints.Rule
	Count int64
	// Nearest is the sentence of the nearest miss, Miss its size as a share of
	// the limit.
	Nearest string
	Miss    float64
}

func newTally() *tally { return &tally{rules: map[constraints.Rule]*Refused{}} }

func (t *tally) add(r *constraints.Refusal) {
	t.mu.Lock()
	defer t.mu.Unlock()
	row := t.rules[r.Rule]
	if row == nil {
		row = &Refused{Rule: r.Rule, Nearest: r.Say(), Miss: r.Miss}
		t.rules[r.Rule] = row
	}
	row.Count++
	if r.Miss > row.Miss || r.Miss == row.Miss && r.Rule == constraints.Room {
		return // of room it is the frame's sentence again, and there are very many
	}
	if say := r.Say(); r.Miss < row.Miss || say < row.Nearest {
		row.Nearest, row.Miss = say, r.Miss
	}
}

// join adds what another tally counts.
func (t *tally) join(o *tally) {
	all := together(append(t.account(), o.account()...))
	t.mu.Lock()
	defer t.mu.Unlock()
	for i := range all {
		t.rules[all[i].Rule] = &all[i]
	}
}

// account lists the rules that refused something, in the order of Rules.
func (t *tally) account() []Refused {
	t.mu.Lock()
	defer t.mu.Unlock()
	out := []Refused{}
	for _, rule := range constraints.Rules() {
		if row := t.rules[rule]; row != nil {
			out = append(out, *row)
		}
	}
	return out
}
