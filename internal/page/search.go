package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sync/atomic"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/report"
	"findrive/internal/search"
	"findrive/internal/tomlfile"
	"findrive/internal/why"
)

// The names of the two files, as they are saved and as messages have them.
const (
	cupboardName = "cupboard.toml"
	briefName    = "brief.toml"
)

// listed is how many drives are looked for, as by the command line.
const listed = design.Usual

// answer is what the search came to for the files.
type answer struct {
	to      question // which it answers
	result  *design.Result
	told    *report.Told
	instead *why.Answer // where there is no drive
	changes []report.ToldChange
	of      leeway.Case
	stopped bool // by the user
	failed  string
	cert    *certificate.Certificate
	file    []byte // the certificate as it is saved
}

// read are the files as they are, and what is wrong in them.
type read struct {
	cup      *parts.Cupboard // with what was learned of it; nil if it has mistakes
	brief    *brief.Brief
	problems map[string]tomlfile.Problems // by the name of the file
}

func (s *Session) read() read {
	r := read{problems: map[string]tomlfile.Problems{}}
	var err error
	if r.cup, err = parts.Read(cupboardName, []byte(s.Cupboard)); err != nil {
		r.note(cupboardName, err)
	}
	if s.Learned != "" && r.cup != nil {
		if known, err := r.cup.Calibrate(learnedName, []byte(s.Learned)); err != nil {
			r.note(learnedName, err)
		} else {
			r.cup = known
		}
	}
	if r.brief, err = brief.ReadFor(briefName, []byte(s.Brief), r.cup); err != nil {
		r.note(briefName, err)
	}
	return r
}

func (r *read) note(file string, err error) {
	var all tomlfile.Problems
	if !errors.As(err, &all) {
		all = tomlfile.Problems{{File: file, Text: err.Error()}}
	}
	r.problems[file] = all
}

func (r *read) sound() bool {
	return r.cup != nil && r.brief != nil && len(r.problems[learnedName]) == 0
}

// fresh is whether there is an answer for the files as they are.
func (s *Session) fresh() bool {
	return s.answer != nil && s.answer.to == s.question()
}

// wantsAnswer is whether a search should be made now.
func (s *Session) wantsAnswer() bool {
	switch s.Step {
	case stepHow, stepList, stepTubs:
		return false
	}
	if s.fresh() {
		return false
	}
	r := s.read()
	return r.sound()
}

// mostKnown is how many answers are kept: an undo or two are not worked out anew.
const mostKnown = 6

// recall takes up the answer for the files as they are, if it is known, unless the search is to be
// made once more. Where nothing but the title of the question is another, its drives are the same.
func (s *Session) recall() {
	if s.long || s.fresh() {
		return
	}
	q := s.question()
	for _, a := range s.known {
		if a.to == q {
			s.answer, s.before = a, a
			return
		}
	}
	if len(s.known) == 0 {
		return
	}
	b := s.read().brief
	for _, a := range slices.Backward(s.known) {
		if b != nil && a.failed == "" && a.to.cupboard == q.cupboard && a.to.learned == q.learned && sameTask(a.result.Brief, b) {
			s.remember(a.titled(q, b))
			return
		}
	}
}

// sameTask is whether two questions differ in their titles at most.
func sameTask(a, b *brief.Brief) bool {
	x, y := *a, *b
	x.Name, y.Name = "", ""
	return reflect.DeepEqual(x, y)
}

// titled is the answer to a question that has another title: the same drives, told and written
// down under that one.
func (a *answer) titled(to question, b *brief.Brief) *answer {
	out, result := *a, *a.result
	result.Brief = b
	out.to, out.result, out.told, out.cert, out.file = to, &result, report.Tell(&result, listed), nil, nil
	return &out
}

// remember takes up an answer, and keeps it with the last few.
func (s *Session) remember(a *answer) {
	s.answer, s.before = a, a
	s.known = slices.DeleteFunc(s.known, func(o *answer) bool { return o.to == a.to })
	if s.known = append(s.known, a); len(s.known) > mostKnown {
		s.known = s.known[1:]
	}
}

// find answers the files as they are. Nothing is kept of a search that was overtaken.
func (s *Session) find(ctx context.Context, meanwhile func(*Reply)) {
	r := s.read()
	if !r.sound() || s.fresh() {
		return
	}
	a := &answer{to: s.question()}
	cup := r.cup.InStock()
	a.of = leeway.Case{Cupboard: r.cup, Brief: r.brief} // with what there is none of now, and might be
	by := s.limits.Find
	if s.long {
		by = s.limits.Long
	}
	limited, end := bounded(ctx, by)
	defer end()
	defer func() { s.early = nil }()
	watch := func(p search.Progress) {
		meanwhile(&Reply{SoFar: fmt.Sprintf("%d drives worked out so far.", p.Stats.Finished)})
	}
	first := func(p *design.Proposal) {
		if s.early = firstOf(a.to, cup, r.brief, p); s.laid && s.early != nil {
			meanwhile(&Reply{HTML: s.html()})
		}
	}
	var err error
	a.result, err = s.best(limited, cup, r.brief, watch, first)
	if err == nil && len(a.result.Proposals) == 0 && limited.Err() == nil {
		meanwhile(&Reply{SoFar: "No drive so far. Looking for what stands in the way."})
		a.instead, err = why.Ask(limited, a.of, why.Options{None: a.result, Briefly: true, Threads: 1, Watch: watch, First: s.limits.First, Alone: s.limits.Alone, Each: s.limits.One})
	}
	if errors.Is(context.Cause(ctx), ErrOvertaken) {
		return
	}
	if err != nil { // the program contradicts itself
		a.failed = err.Error()
	} else {
		a.told = report.Tell(a.result, listed)
		if a.instead != nil {
			a.changes = report.TellChanges(a.result, a.instead)
		}
	}
	a.stopped = pause.Err(ctx) != nil
	s.long = false
	s.remember(a)
}

// firstOf is an answer with nothing but the first drive of a list whose others are still looked
// for; nil if one of these may lead the list in its stead.
func firstOf(to question, cup *parts.Cupboard, b *brief.Brief, p *design.Proposal) *answer {
	a := &answer{to: to, result: &design.Result{Cupboard: cup, Brief: b, Status: design.ProvedBest, Proposals: []design.Proposal{*p}}}
	if a.told = report.Tell(a.result, 1); a.told.Lead.OnEdge {
		return nil
	}
	return a
}

// best looks for the best drives. Where half of the time has brought none, it looks for
// any drive at all, which is much less work.
func (s *Session) best(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, watch func(search.Progress), told func(*design.Proposal)) (*design.Result, error) {
	first, stop := context.WithCancel(ctx)
	defer stop()
	half, end := bounded(ctx, s.limits.Half)
	defer end()
	var some atomic.Bool
	defer context.AfterFunc(half, func() {
		if !some.Load() {
			stop()
		}
	})()
	how := design.Options{Keep: listed, Threads: 1, First: told, Watch: func(p search.Progress) {
		some.Store(some.Load() || p.Stats.Improved > 0)
		watch(p)
	}}
	best, err := design.Find(first, cup, b, how)
	if err != nil || best.Status != design.StoppedEarly || len(best.Proposals) > 0 || pause.Err(ctx) != nil {
		return best, err
	}
	how.Keep = 1
	any, err := design.Exists(ctx, cup, b, how)
	if err == nil && len(any.Proposals) > 0 {
		any.Status, any.Open = design.StoppedEarly, best.Open
	}
	return any, err
}

func bounded(ctx context.Context, by func(context.Context) (context.Context, context.CancelFunc)) (context.Context, context.CancelFunc) {
	if by == nil {
		return context.WithCancel(ctx)
	}
	return by(ctx)
}

// certificate is the answer as the command line writes it, and as paper is made from.
func (a *answer) certificate() (*certificate.Certificate, []byte, error) {
	if a.cert != nil {
		return a.cert, a.file, nil
	}
	var b bytes.Buffer
	if err := report.JSON(&b, a.result, report.JSONOptions{}); err != nil {
		return nil, nil, err
	}
	c, err := certificate.Read(b.Bytes())
	if err != nil {
		return nil, nil, err
	}
	a.cert, a.file = c, b.Bytes()
	return c, a.file, nil
}

// chosen is the drive that paper is made of: the one that was chosen, else the one that
// leads; nil if there is none.
func (s *Session) chosen() *report.ToldDrive {
	if !s.fresh() || s.answer.told == nil || s.answer.told.Lead == nil {
		return nil
	}
	t := s.answer.told
	if s.Rank >= 1 && s.Rank <= len(t.Drives) {
		return t.Drives[s.Rank-1]
	}
	if d := s.countedDrive(); d != nil {
		return d
	}
	return t.Lead
}
