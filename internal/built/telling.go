package built

import (
	"embed"
	"slices"
	"strings"
	"sync"

	"findrive/internal/brief"
)

//go:embed causes.txt
var causesFile string

//go:embed clues.txt
var cluesFile string

//go:embed tellings/*.txt
var tellingFiles embed.FS

// Naming is a fault that words may tell of.
type Naming struct {
	Fault Fault
	// Worth is how many times as likely the words are to be told of this fault as of any.
	Worth float64
	// Share is how likely the fault is by the words alone, from 0 to 1, where all faults are told
	// of as often.
	Share float64
}

// teller has learned how people tell of each fault.
type teller struct {
	terms   *termTable
	learned *learned
	base    []float64 // how often each fault is told of in what it learned by
}

// taught is a teller who has learned by the tellings and causes of the program, each of its
// fault, by the clues, each of several, and by the sayings, each of all faults that show so. It
// learns once.
var taught = sync.OnceValue(teach)

func teach() *teller {
	terms := newTermTable()
	var list []lesson
	for _, s := range allTellings() {
		of := make([]float64, len(faults))
		of[faultAt(Fault(s.of))] = 1
		list = append(list, lesson{terms.of(s.text), of, 1})
	}
	for _, s := range linesOf(cluesFile) {
		list = append(list, lesson{terms.of(s.text), amongst(s.of), clueShare})
	}
	shown := map[string][]float64{}
	for _, s := range linesOf(sayingsFile) {
		of, known := shown[s.of]
		if !known {
			of = shownBy(Symptom(s.of))
			shown[s.of] = of
		}
		if of != nil {
			list = append(list, lesson{terms.of(s.text), of, sayingShare})
		}
	}
	terms.closed = true
	out := &teller{terms: terms, learned: learn(list, len(faults)), base: make([]float64, len(faults))}
	total := 0.0
	for _, l := range list {
		for k, p := range l.of {
			out.base[k] += l.weight * p
		}
		total += l.weight
	}
	for k := range out.base {
		out.base[k] /= total
	}
	return out
}

// amongst is how likely each fault is of some that are named.
func amongst(names string) []float64 {
	of, sum := make([]float64, len(faults)), 0.0
	for _, n := range strings.Fields(names) {
		k := faultAt(Fault(n))
		of[k] = faults[k].prior
		sum += of[k]
	}
	for k := range of {
		of[k] /= sum
	}
	return of
}

// shownBy is how likely each fault is where a sign is seen, none if none shows so.
func shownBy(s Symptom) []float64 {
	of, sum := make([]float64, len(faults)), 0.0
	for i := range faults {
		of[i] = faults[i].prior * shows[s][faults[i].fault]
		sum += of[i]
	}
	if sum == 0 {
		return nil
	}
	for i := range of {
		of[i] /= sum
	}
	return of
}

func faultAt(f Fault) int {
	return slices.IndexFunc(faults, func(a about) bool { return a.fault == f })
}

// line is one of a file of them, under its heading.
type line struct{ of, text string }

// linesOf are the lines of a file, without remarks.
func linesOf(file string) []line {
	var out []line
	of := ""
	for _, text := range strings.Split(file, "\n") {
		text = strings.TrimSpace(text)
		switch {
		case text == "" || strings.HasPrefix(text, "#"):
		case strings.HasPrefix(text, "["):
			of = strings.Trim(text, "[]")
		default:
			out = append(out, line{of, text})
		}
	}
	return out
}

// allTellings are what people tell of each fault, and how they name it.
func allTellings() []line {
	out := linesOf(causesFile)
	files, err := tellingFiles.ReadDir("tellings")
	if err != nil {
		panic(err) // they are part of the program
	}
	for _, f := range files {
		data, err := tellingFiles.ReadFile("tellings/" + f.Name())
		if err != nil {
			panic(err)
		}
		out = append(out, linesOf(string(data))...)
	}
	return out
}

// How tellings are heard (chosen by hearing lists that were not learned by).
const (
	sayingShare = 0.5 // of a lesson that is a saying of a sign, to one that is told of a fault
	clueShare   = 1.0 // of one that is a clue to several faults
	pairShare   = 0.5 // of two words that stand side by side, to one word
	classShare  = 0.8 // of what a word means
	// Of a piece of a word, of so many letters, and of a thing and a state, or two things, in one
	// part of a text.
	piece         = 4
	pieceShare    = 0.4
	togetherShare = 1.0
	denies        = " not no never isnt arent wasnt werent dont doesnt didnt wont cant cannot couldnt hasnt havent without nothing none "
	deniesNext    = 3 // words that a denial reaches
	// A part of so many words that is so surely heard as a speed says no more.
	mostOfSpeed = 8
	surelySpeed = 0.6
)

// beyondSpeed is a text without the parts that say no more than how fast it goes: that is seen on
// the model worked out with each fault, and of any part.
func beyondSpeed(text string, model brief.Model) string {
	var out []string
	for _, words := range clauses(strings.ToLower(text)) {
		if !onlySpeed(words, model) {
			out = append(out, strings.Join(words, " "))
		}
	}
	return strings.Join(out, ", ")
}

// onlySpeed reports whether a part of a text is short, has no thing in it, and is surely heard as
// too fast or too slow.
func onlySpeed(words []string, model brief.Model) bool {
	if len(words) > mostOfSpeed || slices.ContainsFunc(words, func(w string) bool { return len(thingWords().of(w)) > 0 && w != "weight" && w != "load" }) {
		return false
	}
	for _, h := range hearPart(words, model, least) {
		if (h.Sign == TooSlow || h.Sign == TooFast || h.Sign == Odd) && h.Sure > surelySpeed {
			return true
		}
	}
	return false
}

// outrightTold is how likely a fault must be by words alone to be taken as told outright
// (judgement).
const outrightTold = 0.5

// toldOf reports whether a fault was told of outright: then it is not the drive's own numbers that
// are to blame.
func (e *evidence) toldOf() bool {
	return len(e.names) > 0 || slices.ContainsFunc(e.tells, func(n Naming) bool { return n.Share > outrightTold })
}

// tellsOf is what a text tells of each fault that the model can have, where some are ruled out;
// none where it says nothing that was learned.
func tellsOf(text string, model brief.Model, ruledOut []Fault) []Naming {
	t := taught()
	shares, heard := t.learned.shares(t.terms.of(beyondSpeed(text, model)))
	if !heard {
		return nil
	}
	var out []Naming
	mean, sum := 0.0, 0.0
	for k := range faults {
		a := &faults[k]
		if len(a.on) > 0 && !seenOnModels(a.on, model) {
			continue
		}
		worth := shares[k] / t.base[k]
		if slices.Contains(ruledOut, a.fault) {
			worth = 0
		}
		out = append(out, Naming{Fault: a.fault, Worth: worth, Share: worth})
		mean, sum = mean+worth, sum+worth
	}
	mean /= float64(len(out))
	for i := range out {
		out[i].Worth /= mean
		out[i].Share /= sum
	}
	return out
}
