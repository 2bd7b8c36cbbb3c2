package built

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/pattern"
	"findrive/internal/units"
)

// People quote numbers of parts: "there are two batteries in ours", "it asks for a 50 and they
// have put on an 89". Held against the file they name what is wrong.

// quote is a number in a text, and the words round it.
type quote struct {
	value        float64
	before, next []string // nearest first
}

var (
	quotedWord = pattern.Must(`\d+(?:\.\d+)?|[\pL'’-]+`)
	spokenAs   = map[string]float64{
		"one": 1, "single": 1, "two": 2, "double": 2, "pair": 2, "three": 3, "triple": 3, "four": 4, "five": 5, "six": 6, "eight": 8, "ten": 10, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50,
		"sixty": 60, "eighty": 80, "tens": 10, "fifteens": 15, "twenties": 20, "thirties": 30, "forties": 40, "fifties": 50, "sixties": 60, "eighties": 80,
	}
)

// notOfParts follow a number that is no part's.
const notOfParts = " turn turns time times s sec secs second seconds minute minutes min mins hour hours g gram grams kg degrees percent year years v volt volts stages groups people of day days week weeks m metre metres cm pm am "

func quotes(text string) []quote {
	words := quotedWord.FindAllString(strings.ToLower(text), -1)
	var out []quote
	for i, w := range words {
		value, err := strconv.ParseFloat(w, 64)
		if spoken, is := spokenAs[w]; is {
			value, err = spoken, nil
		}
		if err != nil || i+1 < len(words) && strings.Contains(notOfParts, " "+words[i+1]+" ") {
			continue
		}
		before := slices.Clone(words[:i])
		slices.Reverse(before)
		out = append(out, quote{value, before, words[i+1:]})
	}
	return out
}

// near reports whether one of the next words, or of those before, is a thing's.
func (q *quote) near(thing string, next, before int) bool {
	is := func(w string) bool { return slices.Contains(thingWords().of(w), thing) }
	return slices.ContainsFunc(q.next[:min(next, len(q.next))], is) || slices.ContainsFunc(q.before[:min(before, len(q.before))], is)
}

// quoted are the faults that the numbers in a text name.
func (b *Build) quoted(text string) []Fault {
	list := quotes(text)
	return append(b.cellsQuoted(text, list), b.partsQuoted(text, list)...)
}

// opposites are faults of which one is that there is more, the other that there is less.
var opposites = map[Fault]Fault{CellsMany: CellsFew, CellsFew: CellsMany}

// take names what is quoted. Numbers say better than words what there is more of and what less.
func (e *evidence) take(quoted []Fault) {
	for _, f := range quoted {
		e.names = append(e.names, f)
		not, has := opposites[f]
		if !has {
			continue
		}
		e.cells = append(e.cells, f)
		e.names = slices.DeleteFunc(e.names, func(n Fault) bool { return n == not })
		for i := range e.tells {
			for k := range e.tells {
				if e.tells[i].Fault == f && e.tells[k].Fault == not && e.tells[k].Worth > e.tells[i].Worth {
					e.tells[i].Worth, e.tells[k].Worth = e.tells[k].Worth, e.tells[i].Worth
				}
			}
		}
	}
}

// cellsQuoted: another number of cells than the file's.
func (b *Build) cellsQuoted(text string, list []quote) []Fault {
	if !slices.ContainsFunc(tokens(text), func(w string) bool { return slices.Contains(thingWords().of(w), "battery") }) {
		return nil
	}
	const most = 8
	own := float64(b.Drive.Holder.Cells)
	ownToo := slices.ContainsFunc(list, func(q quote) bool { return q.value == own })
	for _, q := range list {
		if q.value == own || q.value > most || q.value != math.Trunc(q.value) || q.value == 0 {
			continue
		}
		// "one" is said of many things.
		only := len(q.before) > 0 && strings.Contains(" only just single ", " "+q.before[0]+" ")
		box := len(q.next) > 1 && strings.Contains(" holder box pack case slot ", " "+q.next[1]+" ")
		if at := q.near("battery", 2, 0); q.value == 1 && !only && !box && !(ownToo && at && !strings.Contains(strings.Join(q.next, " "), " way")) || q.value > 1 && !at && !ownToo {
			continue
		}
		if q.value > own {
			return []Fault{CellsMany}
		}
		return []Fault{CellsFew}
	}
	return nil
}

// partsQuoted: the number of a part of the drive, and that of one of the same kind that is not in
// it, or of one that is not in it right beside the word for its kind.
func (b *Build) partsQuoted(text string, list []quote) []Fault {
	var kinds []kindOfPart
	for _, k := range b.kindsOfParts() {
		if slices.ContainsFunc(tokens(text), func(w string) bool { return slices.Contains(thingWords().of(w), k.thing) }) {
			kinds = append([]kindOfPart{k}, kinds...)
		} else {
			kinds = append(kinds, k)
		}
	}
	for _, k := range kinds {
		own, other, beside := 0, 0, false
		for _, q := range list {
			switch {
			case slices.Contains(k.own, q.value):
				own++
			case slices.Contains(k.other, q.value):
				other++
				beside = beside || q.near(k.thing, 1, 0)
			}
		}
		switch {
		case other > 0 && (own > 0 || beside):
			return []Fault{k.fault}
		case k.fault == PulleyWrong && own > 1 && slices.ContainsFunc(tokens(text), swapped):
			return []Fault{PulleysSwapped}
		}
	}
	return nil
}

func swapped(word string) bool { return slices.Contains(stateWords().of(word), "swapped") }

// kindOfPart is what the parts of a kind are called by number, and the fault of another one.
type kindOfPart struct {
	thing      string
	fault      Fault
	own, other []float64
}

func (b *Build) kindsOfParts() []kindOfPart {
	d, c := b.Drive, b.Cupboard
	pulleys := kindOfPart{thing: "pulley", fault: PulleyWrong}
	bands := kindOfPart{thing: "band", fault: BandWrong}
	wheels := kindOfPart{thing: "wheel", fault: WheelWrong}
	pulley := func(p *parts.Pulley) []float64 { return called(p.Name, p.GrooveFloor, p.Outside) }
	for i := range d.Stages {
		s := &d.Stages[i]
		pulleys.own = append(pulleys.own, append(pulley(s.Driver), pulley(s.Driven)...)...)
		bands.own = append(bands.own, called(s.Band.Name, s.Band.FlatLength)...)
	}
	for i := range c.Pulleys {
		pulleys.other = append(pulleys.other, pulley(&c.Pulleys[i])...)
	}
	for i := range c.Bands {
		bands.other = append(bands.other, called(c.Bands[i].Name, c.Bands[i].FlatLength)...)
	}
	out := []kindOfPart{pulleys, bands}
	if d.Wheel != nil {
		wheels.own = called(d.Wheel.Name, d.Wheel.Diameter)
		for _, w := range c.Wheels {
			wheels.other = append(wheels.other, called(w.Name, w.Diameter)...)
		}
		out = append(out, wheels)
	}
	return out
}

// leastCalled is the least number that a part is called by: smaller ones are said of much.
const leastCalled = 6

// called are the numbers a part is called by: those in its name, and its sizes in millimetres.
func called(name string, sizes ...units.Millimetres) []float64 {
	var out []float64
	for _, digits := range quotedWord.FindAllString(strings.Map(apart, name), -1) {
		if n, err := strconv.ParseFloat(digits, 64); err == nil && n >= leastCalled {
			out = append(out, n)
		}
	}
	for _, s := range sizes {
		if n := math.Round(float64(s)); n >= leastCalled {
			out = append(out, n)
		}
	}
	return out
}

// apart parts the letters of a name from its digits.
func apart(r rune) rune {
	if r >= '0' && r <= '9' {
		return r
	}
	return ' '
}
