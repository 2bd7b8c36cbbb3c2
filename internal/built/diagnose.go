package built

import (
	"context"
	"slices"

	"findrive/internal/design"
	"findrive/internal/units"
)

// Count is what was counted or timed on the model, as evidence of what is wrong.
type Count struct {
	Words string
	// Turns are the output's, as they were counted, or as the way that was timed means them
	// with the wheel or drum of the file; Timed says which.
	Turns units.RPM
	Timed bool
	Sigma float64 // how well it was counted: standard deviation of the logarithm
}

// Diagnosis is what may be wrong with a built drive, by all that was seen and counted.
type Diagnosis struct {
	Heard  []Hearing
	Counts []Count
	// Due is the range that the drive's own numbers foretell, of the output.
	Due design.SpeedRange
	// Fits reports whether every count is within what motors, cells and bands differ by,
	// so that by the counts nothing need be wrong. True without counts.
	Fits     bool
	Suspects []Suspect // the likeliest first
	// Apart are what was told that none of the suspects which lead shows by, each with what it
	// comes from by itself: two faults may be there at once.
	Apart []Apart
	// Runs reports that it was counted turning where by its file it should stand. Suspects
	// are then only those with which it would turn, and may be none.
	Runs bool
	// Beyond reports that it was counted so fast that with nothing wrong in it it would do near
	// that. Suspects are then those of what was told besides; none where nothing was.
	Beyond bool
	// Checks are what to look at first, the likeliest to find it first; each takes a minute at
	// most, and no number shows it.
	Checks []Check
	Hot    bool // switch it off at once: something may get hot
	// Advice answers the signs that the drive's own numbers show: it is built as its file
	// says, and cannot do better.
	Advice []*Advice
}

// Apart is a sign and the likeliest suspects by it alone.
type Apart struct {
	Sign     Symptom
	Suspects []Suspect
}

// Leading are the suspects that are worth telling of, at most so many.
func (d *Diagnosis) Leading(most int) []Suspect { return leading(d.Suspects, most) }

func leading(all []Suspect, most int) []Suspect {
	const slight = 0.04 // the share below which one is not (judgement)
	for i := range all {
		if i == most || i > 0 && all[i].Share < slight {
			return all[:i]
		}
	}
	return all
}

// Advised are the causes in the drive's own numbers that lead, before the suspects; none
// where the counts speak against the file.
func (d *Diagnosis) Advised() []*Advice {
	if !d.Fits {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(d.Advice), func(a *Advice) bool { return !a.Shows() })
}

// Diagnose weighs every fault by all that was seen, heard and counted: how common it is,
// how often it shows so, and what the drive, worked out with that fault in it, would do.
// The context ends the search of changes early. The error is that of Work.
func Diagnose(ctx context.Context, b *Build, heard []Hearing, counts []Count) (*Diagnosis, error) {
	w, err := Work(b)
	if err != nil {
		return nil, err
	}
	d := &Diagnosis{Heard: heard, Counts: counts, Due: w.Speed, Fits: true}
	e := evidence{b: b, counts: counts, sigma: spread(w.Speed), due: w.Speed.Likely, wanted: w.Target}
	if len(counts) > 0 && e.due > 0 {
		e.sound = b.onDays(nil, float64(e.due))
	}
	heard = e.withCounts(heard)
	d.Heard = heard
	for _, h := range heard {
		e.signs = append(e.signs, h.Sign)
		e.names, e.ruledOut = append(e.names, h.Names...), append(e.ruledOut, h.RulesOut...)
		e.tells = append(e.tells, h.Tells...)
		if h.Tells != nil {
			e.take(b.quoted(h.Words))
		}
		unsure := mishearing
		if h.Exact {
			unsure = misspeaking
		}
		e.unsure = append(e.unsure, unsure)
		e.told = append(e.told, append([]Maybe{{h.Sign, h.Sure}}, h.Maybe...))
	}
	for i := range counts {
		d.Fits = d.Fits && e.within(&counts[i])
	}
	d.Suspects = e.suspects()
	if d.Runs = len(counts) > 0 && !(d.Due.Likely > 0); d.Runs {
		d.Suspects = slices.DeleteFunc(d.Suspects, func(s Suspect) bool { return !(s.Would > 0) })
	}
	if d.Beyond = !d.Fits && e.beyond(); d.Beyond {
		if d.Suspects = nil; slices.ContainsFunc(e.signs, func(s Symptom) bool { return s != TooFast && s != TooSlow && s != Odd }) {
			e.counts = nil
			d.Suspects = e.suspects()
		}
	}
	stands := slices.ContainsFunc(e.signs, func(s Symptom) bool { return s == NoGo || s == NeedsPush || s == Nothing })
	for i, s := range e.signs {
		if !heard[i].Exact && e.toldOf() || !s.Measured() || s == TooFast && !(w.Target > 0) {
			continue
		}
		a, err := b.advise(ctx, s, stands)
		if err != nil {
			return nil, err
		}
		d.Advice = append(d.Advice, a)
	}
	d.Apart = e.apart(d.Leading(leads))
	d.Checks = checksFor(d.Suspects)
	d.Hot = slices.ContainsFunc(e.signs, func(s Symptom) bool { return s == NoGo || s == NeedsPush || s == Hot || s == CellsHot })
	return d, nil
}
