package built

import (
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/pattern"
)

// Some faults are named by phrases rather than by single words: what becomes of rubber with time,
// which of two pulleys is where the other should be, how high a vehicle stands.

var (
	// agedRubber is what is seen of rubber that is old, and limpRubber what is so only where time
	// has passed.
	agedRubber = pattern.Must(`\b(?:perish\w*|crumbl\w*|chalky|powdery|gr[ea]y|pale|faded|brittle|crack\w*|splits?|dried|` +
		`(?:no|not|dont|don't|doesnt|doesn't|wont|won't|never|hardly) (?:ping|spring|snap|bounce|jump|go)s? (?:back|in)|stays? long|no \w* ?(?:spring|stretch|snap|bounce)|` +
		`lost (?:its|their|all|the) (?:\w+ )?(?:stretch\w*|spring\w*|snap|bounce|pull))\b`)
	limpRubber = pattern.Must(`\b(?:long|longer|baggy|slack|limp|floppy|soft|loose|stiff|hard|sticky|stretched)\b`)
	// passed is time in which rubber ages.
	passed = pattern.Must(`\b(?:used to|since|all (?:summer|winter|spring|autumn|term|year)|over the (?:summer|winter|holidays?|year)|(?:last|whole|half|in) (?:the )?(?:time|summer|winter|spring|autumn|term|year|holidays?)|months?|before (?:the )?(?:christmas|easter|summer|holidays?))\b`)
	// leftOn is that bands were on while a model stood.
	leftOn = pattern.Must(`\b(?:put away|stood|sat|left|kept|stored|stretched|lay|lying)\b`)

	standsHigh = pattern.Must(`\b(?:taller|higher|lower|nearer|closer|further|farther|deeper)\b(?: \w+){0,3} (?:floor|ground|carpet|road|table ?top)\b`)

	planned  = pattern.Must(`\b(?:pictures?|drawing|photo\w*|plans?|sheet|diagram|poster|instructions|should|ought|supposed|meant)\b`)
	aBig     = pattern.Must(`\b` + bigs + `\b`)
	aSmall   = pattern.Must(`\b` + smalls + `\b`)
	theBig   = pattern.Must(`\bthe ` + bigs + `\b`)
	theSmall = pattern.Must(`\bthe ` + smalls + `\b`)
	// forEach is that each size is where the other should be.
	forEach = pattern.Must(`\b` + bigs + ` (?:\w+ )?for (?:the )?` + smalls + `\b.*\b` + smalls + ` (?:\w+ )?for (?:the )?` + bigs + `\b`)
	// otherPart is that a part is not of the set.
	sizedBand = pattern.Must(`\b(?:\w+er|big|small|little|large|thin|fat) (?:rubber )?(?:bands?|elastics?|belts?)\b`)
	otherPart = pattern.Must(`\b(?:used|gone|ran out|instead of a|lid|could ?n[o']?t find|number|tray|wheels|than|across|mm|size)\b`)
	inPlaceOf = pattern.Must(`\b(?:each|one an)(?: )?other'?s (?:spots?|places?|positions?|seats?)|traded (?:places|spots)|changed places\b`)

	saidAlike = pattern.Must(`\b(?:same|alike|identical|match|equal)\b`)
	unlike    = pattern.Must(`\b(?:not|isnt|isn't|arent|aren't|week|yesterday|before|way|side|end|ends|place|time|always|direction|as ever|since|spot|hole|axle|day|term)\b`)
	checked   = pattern.Must(`\b(?:compared|checked|side by side)\b`)
	// unchanged is that cells are not new, in spite of the word.
	unchanged = pattern.Must(`\b(?:nobody|no one|noone|havent|haven't|hasnt|hasn't|never|not|didnt|didn't)\b[^.;,]*\b(?:changed|replaced|charged|renewed)\b`)
	spent     = pattern.Must(`\b(?:flat|low|empty|weak|dead|only|barely|nearly|half)\b`)
	blameless = pattern.Must(`\bnot the (?:batter\w+|cells?)\b|\b(?:batter\w+|cells?)\b[^.;]*\b(?:no|any) differ?[ea]nce\b|\b(?:batter\w+|cells?)\b[^.;]*\b(?:tested|checked (?:it|them)|charged|full)\b`)
)

const (
	bigs   = `(?:big|bigger|biggest|large|larger|largest|huge|fat|great|wide)`
	smalls = `(?:small|smaller|smallest|little|tiny|wee|thin|narrow)`
)

// phrased are the faults that a text names by phrases.
func phrased(text string, model brief.Model) []Fault {
	var out []Fault
	if agedBands(text) {
		out = append(out, BandAged)
	}
	if model == brief.Vehicle && standsHigh.MatchString(text) {
		out = append(out, WheelWrong)
	}
	if swappedByPlan(text) {
		out = append(out, PulleysSwapped)
	}
	return out
}

// agedBands reports whether bands are told of as old rubber is.
func agedBands(text string) bool {
	long := passed.MatchString(text)
	last := ""
	for _, part := range partsOf(text) {
		for _, w := range tokens(part) {
			for _, thing := range thingWords().of(w) {
				last = thing
			}
			switch w {
			case "loops":
				last = "band"
			case "glue", "paint", "wood", "card", "frame":
				last = w
			}
		}
		if last != "band" || strings.Contains(part, "not old") {
			continue
		}
		if agedRubber.MatchString(part) || long && (limpRubber.MatchString(part) || leftOn.MatchString(part)) {
			return true
		}
	}
	return false
}

// partsOf are the parts of a text that are about one thing.
func partsOf(text string) []string {
	var out []string
	begin := 0
	for _, at := range partEnds.FindAllStringIndex(text, -1) {
		out = append(out, text[begin:at[0]])
		begin = at[1]
	}
	return append(out, text[begin:])
}

// swappedByPlan reports whether a text says where the big and the small pulley are, and that they
// should be the other way about.
func swappedByPlan(text string) bool {
	text = sizedBand.ReplaceAllString(text, "band")
	words := tokens(text)
	of := func(thing string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(thingWords().of(w), thing) })
	}
	switch {
	case !of("pulley") && !of("band") && !of("motor") && !of("axle"):
		return false
	case inPlaceOf.MatchString(text) && (of("pulley") || aBig.MatchString(text) && aSmall.MatchString(text)):
		return true
	case forEach.MatchString(text):
		return true
	}
	return planned.MatchString(text) && theBig.MatchString(text) && theSmall.MatchString(text) && !otherPart.MatchString(text)
}

// alikes are the faults that cannot be where a part is the same as in a model that is right.
var alikes = map[string][]Fault{
	"motor":   {MotorOther},
	"battery": {CellsMany, CellsFew},
	"pulley":  {PulleyWrong, PulleysSwapped},
	"band":    {BandWrong},
}

// cleared are the faults that a text rules out: parts that are the same as another model's, and
// cells that were tried.
func cleared(text string) []Fault {
	var out []Fault
	if blameless.MatchString(text) && !spent.MatchString(text) {
		out = append(out, CellsTired)
	}
	same := false
	for _, part := range partsOf(text) {
		is := saidAlike.MatchString(part) && !unlike.MatchString(part) || same && checked.MatchString(part)
		if saidAlike.MatchString(part) {
			same = is
		}
		if !is && !same {
			continue
		}
		for _, w := range tokens(part) {
			for _, thing := range thingWords().of(w) {
				if is || same && goesOnAlike(part) {
					out = append(out, alikes[thing]...)
				}
			}
		}
	}
	return out
}

// goesOnAlike reports whether a part only adds a thing to those that were said to be the same.
func goesOnAlike(part string) bool { return len(tokens(part)) <= 3 }
