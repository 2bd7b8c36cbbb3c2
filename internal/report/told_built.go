package report

import (
	"fmt"
	"strings"

	"findrive/internal/built"
	"findrive/internal/measure"
	"findrive/internal/units"
)

// ToldTrouble is what may be wrong with a built drive, in the words of TryText, piece by
// piece.
type ToldTrouble struct {
	Told     []string // how the words were taken, and the counts against what is due
	Look     []string // what to look at first
	Fits     string   // what the counts say of the model; empty without counts
	Advice   []ToldAdvice
	Suspects []ToldSuspect // the likeliest first
	Apart    []ToldAlone   // what was told that none of these shows by
}

// ToldAlone is what one sign of several may come from by itself.
type ToldAlone struct {
	Head     string
	Suspects []ToldSuspect
}

// ToldAdvice answers a sign that the drive's own numbers show.
type ToldAdvice struct {
	Sign   string
	Causes []string
	Change string // what to do; empty if nothing helps
	Then   string // what it then does
	Cures  bool
}

// ToldSuspect is something that may not be as the drive has it.
type ToldSuspect struct {
	Words string // what is wrong
	Would string // what the model would then do; empty without counts
	Look  string // how to see it
	Mend  string
	Costs bool // the cure takes a new part
}

// TellTrouble puts a diagnosis into words.
func TellTrouble(w *built.Working, d *built.Diagnosis) *ToldTrouble {
	t := &ToldTrouble{}
	for i := 0; i < len(d.Heard); {
		n := i + 1
		for n < len(d.Heard) && d.Heard[n].Words == d.Heard[i].Words {
			n++
		}
		t.Told = append(t.Told, heardWords(d.Heard[i:n]))
		i = n
	}
	for i := range d.Counts {
		c := &d.Counts[i]
		unit, per := measure.Scale(w.Build, c.Timed)
		due := "this drive should stand still"
		if d.Due.Likely > 0 {
			due = fmt.Sprintf("%s to %s is due", significant(float64(d.Due.Low)*per, 2), significant(float64(d.Due.High)*per, 2))
		}
		t.Told = append(t.Told, fmt.Sprintf("%s: %s %s; %s.", clean(c.Words), significant(float64(c.Turns)*per, 3), unit, due))
	}
	for _, s := range d.Looks() {
		t.Look = append(t.Look, whole(s))
	}
	switch {
	case len(d.Counts) == 0:
	case d.Fits:
		t.Fits = fitsWords(d)
	case d.Beyond:
		t.Fits = tooFarWords
	default:
		t.Fits = "The count is not what this drive should do, so something in the model is not as it was drawn."
	}
	for _, a := range d.Advised() {
		t.Advice = append(t.Advice, tellAdvice(w, a))
	}
	t.Suspects = curesStand(tellSuspects(w.Build, d, d.Leading(mostSuspects)))
	for i := range d.Apart {
		t.Apart = append(t.Apart, ToldAlone{apartHead(d.Apart[i].Sign), curesStand(tellSuspects(w.Build, d, d.Apart[i].Suspects))})
	}
	return t
}

// curesStand makes the cures of suspects sentences that stand by themselves.
func curesStand(all []ToldSuspect) []ToldSuspect {
	for i := range all {
		all[i].Mend = units.Capital(all[i].Mend)
	}
	return all
}

// apartHead is said over what one sign of several comes from.
func apartHead(s built.Symptom) string {
	return fmt.Sprintf("These do not show as %q. That alone may come from", string(s))
}

// tellSuspects puts suspects into words; their cures follow a colon.
func tellSuspects(b *built.Build, d *built.Diagnosis, all []built.Suspect) []ToldSuspect {
	unit, per := measure.Scale(b, len(d.Counts) > 0 && d.Counts[0].Timed)
	var out []ToldSuspect
	for i := range all {
		s := &all[i]
		where := ""
		if s.Stage > 0 && s.Way == "" {
			where = fmt.Sprintf("stage %d: ", s.Stage)
		}
		one := ToldSuspect{Words: units.Capital(where+s.Says) + ".", Mend: s.Mend + ".", Costs: s.Costs}
		if s.Way != "" {
			one.Words = units.Capital(where+s.Says) + ": " + s.Way + "."
		}
		if len(d.Counts) > 0 && s.Would > 0 {
			one.Would = fmt.Sprintf("It would then do about %s %s.", significant(float64(s.Would)*per, 2), unit)
		}
		if s.Look != "" {
			one.Look = whole(s.Look)
		}
		out = append(out, one)
	}
	return out
}

func tellAdvice(w *built.Working, a *built.Advice) ToldAdvice {
	out := ToldAdvice{Sign: string(a.Symptom)}
	out.Causes = causesWords(w, a)
	best := a.Cure()
	if best == nil {
		best = a.Staged
	}
	out.Cures = best != nil
	if best == nil {
		if best = a.Two; best == nil {
			best = a.One
		}
	}
	if best == nil {
		return out
	}
	out.Change = units.Capital(strings.Join(best.Steps, "; and ")) + "."
	if best.After.Stops == built.Turns {
		out.Then = speedWords(asProposal(best.After), best.After.Build.Brief) + "."
	}
	if !out.Cures && len(a.Enough) > 0 {
		out.Then += " What would be enough: " + strings.Join(a.Enough, "; or ") + "."
	}
	return out
}
