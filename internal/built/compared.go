package built

import (
	"slices"
	"strconv"
	"strings"

	"findrive/internal/pattern"
)

// People hold figures of their model against those of before, of another model or of the plan:
// "it used to do 20, now 12", "theirs takes 5 seconds, ours 9". Which is faster they leave to be
// seen.

// owner is what a figure is of.
type owner int

const (
	unsaid owner = iota
	ofNow
	ofBefore
	ofOthers
	ofPlan
)

// saidFigure is one of a speed, or of a time for what is done, and the part of a text it stands in.
type saidFigure struct {
	of       owner
	value    float64
	time     bool
	from, to int
}

var (
	// partEnds ends a part of a text that is about one model at one time.
	partEnds = pattern.Must(`[.;,!?](?:\s|$)|\b(?:and|but|when|while|until|till)\b`)
	// partOf are the words by which it is seen what a part is of, the surest first.
	partOf = []struct {
		of    owner
		words *pattern.Pattern
	}{
		{ofBefore, pattern.Must(`\bused to\b`)},
		{ofPlan, pattern.Must(`\b(?:should|supposed|meant|ought|says?|wanted|asks?|instead of|planned)\b`)},
		{ofNow, pattern.Must(`\b(?:now|today|these days|ours|this (?:week|morning|term|lesson))\b`)},
		{ofOthers, pattern.Must(`\b(?:theirs?|they|hers|his|next door|neighbours?'?s?|everyones?|everybodys?|(?:the )?others?|(?:group|table|team) \w+|rest of the class|\w+'?s (?:one|does|did|makes?|takes?))\b|\w'?s (?:lift|model|car|buggy|wheel|ride|roundabout|carousel|crane)\b`)},
		{ofBefore, pattern.Must(`\b(?:before|last (?:term|year|week|month|summer|time)|at first|first day|was|were|had|did|managed|in the (?:spring|summer|autumn|winter)|at half term)\b`)},
		{ofNow, pattern.Must(`\b(?:is|we|only|our)\b`)},
	}
	// partNumber is a figure by which a part is called.
	partNumber = pattern.Must(`\b(?:the|an?|number|no) (?:\d+|` + strings.Join(spokenNumbers, "|") + `)\b`)
	goesOn     = pattern.Must(`^\s*(?:did|does|makes|takes|took|gets|got|is up|goes|comes)\b`)
	inFigure   = pattern.Must(`(\b(?:in|takes?|took|needs?|taking)\s+(?:about\s+|nearly\s+|over\s+)?)?(?:\b(\d+(?:\.\d+)?)|\b(` + strings.Join(spokenNumbers, "|") + `)\b)(\s*(?:seconds?|secs?|s)\b)?(\s*(?:m|metres?|meters?|cm|mm|g|v|volts?|cells?|batter\w*|aas?|weeks?|days?|months?|years?|group|goes)\b)?`)
)

var spokenNumbers = []string{"four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty", "thirty", "forty", "fifty", "sixty"}

// leastFigure is the least figure without a unit that is taken for a speed: smaller ones are said
// of much.
const leastFigure = 4

// figuresIn are the figures of speeds in a text in small letters.
func figuresIn(text string) []saidFigure {
	var out []saidFigure
	begin, last := 0, unsaid
	part := func(end int) {
		words := text[begin:end]
		of := unsaid
		for _, p := range partOf {
			if of == unsaid && p.words.MatchString(words) {
				of = p.of
			}
		}
		if last > ofNow && (of == unsaid || of == ofBefore) && goesOn.MatchString(words) {
			of = last // another's, said before
		}
		last = of
		if slices.ContainsFunc(tokens(words), func(w string) bool { return isPart(w) }) {
			return
		}
		for _, m := range inFigure.FindAllStringSubmatch(partNumber.ReplaceAllString(words, " "), -1) {
			value, err := strconv.ParseFloat(m[2], 64)
			if err != nil {
				k := slices.Index(spokenNumbers, m[3])
				if value = float64(k + leastFigure); k > 16 {
					value = float64(10 * (k - 14))
				}
			}
			time := m[1] != "" || m[4] != ""
			if m[5] == "" && (time || value >= leastFigure) {
				out = append(out, saidFigure{of, value, time, begin, end})
				return
			}
		}
	}
	for _, at := range partEnds.FindAllStringIndex(text, -1) {
		part(at[0])
		begin = at[1]
	}
	part(len(text))
	return out
}

// isPart reports whether a word is of a part of a drive that is told of by number.
func isPart(word string) bool {
	is := thingWords().of(word)
	return slices.ContainsFunc([]string{"battery", "pulley", "band", "axle", "load"}, func(t string) bool { return slices.Contains(is, t) })
}

// held is a text without the figures of speeds that it holds against each other, and the sign
// that they are of; none where only figures of others are told, or none.
func held(text string) (rest string, sign Symptom) {
	list := figuresIn(text)
	theirs := slices.IndexFunc(list, func(f saidFigure) bool { return f.of > ofNow })
	if theirs < 0 {
		return text, ""
	}
	mine := -1
	for i, f := range list {
		if f.of == ofNow || f.of == unsaid && (mine < 0 || list[mine].of == unsaid) {
			mine = i
		}
	}
	if mine >= 0 {
		a, b := list[mine].value, list[theirs].value
		if list[mine].time || list[theirs].time {
			a, b = b, a
		}
		switch {
		case a > b:
			sign = TooFast
		case a < b:
			sign = map[owner]Symptom{ofBefore: Slower, ofOthers: Odd, ofPlan: TooSlow}[list[theirs].of]
		}
	}
	out := []byte(text)
	for _, f := range list {
		if f.of > ofNow || sign != "" {
			for i := f.from; i < f.to; i++ {
				out[i] = ' '
			}
		}
	}
	return string(out), sign
}

// against are the signs that cannot be where another is told.
var against = map[Symptom][]Symptom{
	TooFast: {TooSlow, Slower, Odd, Fades},
	TooSlow: {TooFast}, Odd: {TooFast}, Slower: {TooFast, Odd, Fades},
}

// withHeld adds the sign that figures are of, in place of those that cannot be then.
func withHeld(out []Hearing, sign Symptom) []Hearing {
	if sign == "" {
		return out
	}
	out = slices.DeleteFunc(out, func(h Hearing) bool {
		return h.Sign == sign || h.Guess || slices.Contains(against[sign], h.Sign)
	})
	return append(out, Hearing{Sign: sign, Sure: 1})
}

// withCounts puts the sign that counts tell in place of one that they speak against: whoever
// tells of the others may be the faster one.
func (e *evidence) withCounts(heard []Hearing) []Hearing {
	if len(e.counts) == 0 || !(e.due > 0) || slices.ContainsFunc(heard, func(h Hearing) bool { return h.Exact }) {
		return heard
	}
	for i := range e.counts {
		if float64(e.counts[i].Turns) < float64(e.due)*(1+notable) || e.within(&e.counts[i]) {
			return heard
		}
	}
	out := slices.Clone(heard)
	for i := range out {
		if slices.Contains(against[TooFast], out[i].Sign) {
			out[i].Sign, out[i].Sure, out[i].Maybe = TooFast, 1, nil
		}
	}
	return out
}
