package built

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
)

// Hearing is what was understood from somebody's words, or from a part of them.
type Hearing struct {
	Sign Symptom // the likeliest
	// Maybe are the other signs that may be meant, and Share how likely each is, the
	// likeliest first; Sure is how likely Sign is.
	Maybe []Maybe
	Sure  float64
	// Words are what was said, and Exact whether they are the sign's own. A guess is the
	// nearest meaning where nothing fitted well.
	Words        string
	Exact, Guess bool
	// Read are words that were not known, each with the known one it was taken for.
	Read []string
	// Names are faults that the words name outright, and RulesOut those that somebody has
	// seen to already.
	Names, RulesOut []Fault
	// Tells is how likely the words are to be told of each fault.
	Tells []Naming
}

// Maybe is a sign that may be meant.
type Maybe struct {
	Sign  Symptom
	Share float64
}

// Exactly is a sign that was told in its own words.
func Exactly(s Symptom) Hearing { return Hearing{Sign: s, Sure: 1, Words: string(s), Exact: true} }

// Prepare does what Hear does once, at its first words: it takes the better part of a second
// in a browser.
func Prepare() { taught() }

// Hear understands somebody's words: the signs they tell of, one for each thing that is
// told. What is offered may be written as it is. Otherwise two things are asked of each
// sentence: whether it says a sign outright, by the meanings of its words, and how like it
// is to what people say of each sign. A word that is not known is taken for the nearest
// known one, and what is like nothing much is a guess. The model rules out what cannot be
// seen on it. None: nothing was understood.
func Hear(words string, model brief.Model) []Hearing {
	plain := strings.ToLower(strings.Join(strings.Fields(words), " "))
	for _, s := range SignsOn(model) {
		if strings.Trim(plain, ".!? ") == string(s) {
			h := Exactly(s)
			h.Words = words
			return []Hearing{h}
		}
	}
	plain, figures := held(plain)
	plain = ofWrong(plain, model)
	var out []Hearing
	rest, squeaks := squeaking(plain)
	whole := tokens(rest)
	if len(whole) == 0 && figures == "" {
		return nil
	}
	for _, part := range clauses(rest) {
		if of, _ := lexicon(part); len(namedIn(of, ruledOut, model)) > 0 && len(hearClause(part, model)) == 0 {
			continue // what was done already is no sign of anything
		}
		out = append(out, hearPart(part, model, surely)...)
	}
	if sure := slices.DeleteFunc(slices.Clone(out), func(h Hearing) bool { return h.Guess }); len(sure) > 0 {
		out = sure // what is only guessed of a part is left
	}
	if said := hearPart(whole, model, least); len(whole) > 0 && (len(out) == 0 || len(said) > 0 && len(out) > 0 && beyond(said, out)) {
		out = said
	}
	for _, h := range hearClause(whole, model) {
		if compares[h.Sign] && !slices.ContainsFunc(out, func(o Hearing) bool { return o.Sign == h.Sign }) {
			out = append(out, Hearing{Sign: h.Sign, Sure: 1, Read: h.Read})
		}
	}
	out = distinct(withHeld(out, figures))
	if squeaks && !slices.ContainsFunc(out, func(h Hearing) bool { return h.Sign == Slips }) {
		out = append(out, Hearing{Sign: Slips, Sure: 1})
	}
	out = withNames(out, plain, model)
	for i := range out {
		out[i].Words = words
	}
	return out
}

// compares are the signs of which two halves are told, often in two sentences.
var compares = map[Symptom]bool{OneWay: true, Uneven: true, LoadStops: true, MotorOnly: true}

// withNames adds what a text names outright. A name stands for a sign where none was
// understood.
func withNames(out []Hearing, text string, model brief.Model) []Hearing {
	names, ruled := Named(text, model)
	if len(names) > 0 && !slices.ContainsFunc(out, func(h Hearing) bool { return !h.Guess }) {
		out = append(out[:0:0], Hearing{Sign: signNamed(names[0]), Sure: nameShare, Maybe: maybes(out)})
	}
	if f, share := toldMost(text, model); len(out) == 0 && share > leastTold && mostlyKnown(tokens(text)) {
		out = []Hearing{{Sign: signNamed(f), Sure: share, Guess: true}}
	}
	if len(out) > 0 {
		out[0].Names, out[0].RulesOut, out[0].Tells = names, ruled, tellsOf(text, model, ruled)
	}
	return out
}

// leastTold is how likely a fault must be by words that tell of no sign for them to be understood
// (judgement).
const leastTold = 0.3

// toldMost is the fault that a text is likeliest told of.
func toldMost(text string, model brief.Model) (f Fault, share float64) {
	for _, n := range tellsOf(text, model, nil) {
		if n.Share > share {
			f, share = n.Fault, n.Share
		}
	}
	return f, share
}

// signNamed is what is seen of a fault that is named.
func signNamed(f Fault) Symptom {
	if i := slices.IndexFunc(namings, func(n naming) bool { return n.fault == f }); i >= 0 {
		return namings[i].sign
	}
	var best Symptom
	most := 0.0
	for _, s := range Signs() {
		if p := shows[s][f]; p > most {
			best, most = s, p
		}
	}
	return best
}

// maybes are the signs of what was only guessed.
func maybes(list []Hearing) []Maybe {
	var out []Maybe
	for _, h := range list {
		out = append(out, Maybe{h.Sign, (1 - nameShare) * h.Sure})
	}
	return out
}

// beyond reports whether the whole of a text says a sign more surely than its parts do.
func beyond(whole, parts []Hearing) bool {
	most := 0.0
	for _, p := range parts {
		most = max(most, p.Sure)
	}
	return whole[0].Sure > most && !slices.ContainsFunc(parts, func(p Hearing) bool { return p.Sign == whole[0].Sign })
}

// How sure hearing is (judgement, by hearing each saying of the program by all the others).
const (
	outright  = 3.5  // the logarithm of what saying a sign outright is worth
	least     = 1.0  // the likeness from which something was understood at all
	surely    = 2.5  // the likeness from which a part of several says something by itself
	mostMaybe = 3    // other signs that are kept in mind
	leastSure = 0.08 // how likely they must be
	guessing  = 0.4  // how likely the first is where it is a guess
)

// leastKnown is the share of a clause's words, without the small ones, that must be known
// for it to be understood.
const leastKnown = 0.4

// mostlyKnown reports whether a clause is in words that are known.
func mostlyKnown(words []string) bool {
	known, all := 0, 0
	of, _ := lexicon(words)
	for i, w := range words {
		switch {
		case len(of[i]) > 0 || saidWords()[w]:
			known++
			all++
		case !strings.Contains(small, " "+w+" "):
			all++
		}
	}
	return float64(known) >= leastKnown*float64(all)
}

// hearPart hears one clause, if it says something with a likeness of at least so much.
func hearPart(words []string, model brief.Model, atLeast float64) []Hearing {
	if !mostlyKnown(words) {
		return nil
	}
	terms, read := termsOf(words)
	scores := sayings().likeness(terms)
	heard := hearClause(words, model)
	for _, h := range heard {
		scores[string(h.Sign)] += outright
	}
	order := SignsOn(model)
	slices.SortStableFunc(order, func(a, b Symptom) int { return cmp.Compare(scores[string(b)], scores[string(a)]) })
	best := scores[string(order[0])]
	if best < atLeast {
		return nil
	}
	if len(heard) > 1 {
		// Several things said outright in one sentence.
		var out []Hearing
		for _, h := range heard {
			if scores[string(h.Sign)] > best-2*outright {
				out = append(out, Hearing{Sign: h.Sign, Sure: 1, Read: read})
			}
		}
		if len(out) > 1 {
			return out
		}
	}
	sum := 0.0
	for _, s := range order {
		sum += math.Exp(scores[string(s)] - best)
	}
	h := Hearing{Sign: order[0], Sure: 1 / sum, Read: read}
	h.Guess = h.Sure < guessing
	for _, s := range order[1 : 1+mostMaybe] {
		if share := math.Exp(scores[string(s)]-best) / sum; share > leastSure {
			h.Maybe = append(h.Maybe, Maybe{s, share})
		}
	}
	return []Hearing{h}
}

func hearClause(words []string, model brief.Model) []Hearing {
	of, read := lexicon(words)
	var out []Hearing
	for _, r := range readings {
		if !seenOn(r.sign, model) || !says(of, strings.Fields(r.all)) {
			continue
		}
		if slices.ContainsFunc(strings.Fields(r.none), func(m string) bool { return says(of, []string{m}) }) {
			continue
		}
		out = append(out, Hearing{Sign: r.sign, Read: read})
	}
	return distinct(ofSubjects(out, of))
}

func seenOn(s Symptom, model brief.Model) bool {
	on := signOf[s]
	return len(on) == 0 || slices.Contains(on, model)
}

// says reports whether a clause has a word for each meaning, each another one.
func says(of [][]string, all []string) bool {
	taken := make([]bool, len(of))
	var match func(k int) bool
	match = func(k int) bool {
		if k == len(all) {
			return true
		}
		for i, m := range of {
			if !taken[i] && slices.Contains(m, all[k]) {
				taken[i] = true
				if match(k + 1) {
					return true
				}
				taken[i] = false
			}
		}
		return false
	}
	return match(0)
}

// distinct leaves out signs that were heard before, and those that say less than another.
func distinct(list []Hearing) []Hearing {
	var out []Hearing
	for _, h := range list {
		covered := slices.ContainsFunc(list, func(o Hearing) bool { return o.Sign != h.Sign && slices.Contains(covers[o.Sign], h.Sign) })
		if !covered && !slices.ContainsFunc(out, func(o Hearing) bool { return o.Sign == h.Sign }) {
			out = append(out, h)
		}
	}
	return out
}
