package measure

import (
	"strings"

	"findrive/internal/pattern"
)

// People tell a figure beside another one: of before ("it used to do 20 turns a minute, now 12"),
// of another model, or of the plan. Only that of their own model, as it is now, is a count.

var (
	// notNow tells that a figure is what was due, or another model's.
	notNow = pattern.Must(`(?i)\b(?:used to|should|supposed|meant|ought|wanted|says?|instead of|before|last (?:term|year|week|month|summer|time)|` +
		`next door|neighbours?['’]?s?|theirs?|they|hers|his|everyone|everybody|(?:the )?others?|rest of the class)\b`)
	// once tells so of one that stands beside another.
	once = pattern.Must(`(?i)\b(?:was|were|did|made|managed|had|got|at first|first day|before|last (?:term|year|week|month|summer|time)|in the (?:spring|summer|autumn|winter)|` +
		`monday|tuesday|wednesday|thursday|friday|yesterday|christmas|easter)\b`)
	// present are words for their own model as it is now.
	present = pattern.Must(`(?i)\b(?:` + presentWords + `)\b`)
	// bare is a figure without a unit, of their own model as it is now.
	bare = pattern.Must(`(?i)(?:\b(` + presentWords + `|we|only)\b[^.;!?,\d]{0,25}?[\s,:]|\b)(\d+(?:[.,]\d+)?|` + saidNumbers + `)\b(\s+(?:now|today)\b)?`)
	// bareEnds is what may come behind such a figure.
	bareEnds = pattern.Must(`(?i)^\s*(?:$|[.,;:!?)]|(?:turns?|times|rounds?)?\s*(?:and|but|now|today|with|when)\b)`)
	// partEnds ends a part of a text that is about one model at one time.
	partEnds = pattern.Must(`(?i)[.;,!?](?:\s|$)|\b(?:and|but|when|while|until)\b`)
)

const presentWords = `now|today|these days|ours|this (?:week|morning|term|lesson)`

// around is the part of a text that a figure stands in, and what of it is before the figure.
func around(text string, from, to int) (part, before string) {
	begin, end := 0, len(text)
	for _, at := range partEnds.FindAllStringIndex(text, -1) {
		switch {
		case at[1] <= from:
			begin = at[1]
		case at[0] >= to && at[0] < end:
			end = at[0]
		}
	}
	return text[begin:end], text[begin:from]
}

// anothers reports whether a figure is of before, of another model or of the plan.
func anothers(text string, from, to int) bool {
	part, before := around(text, from, to)
	switch {
	case strings.Contains(before, "wanted"), strings.Contains(before, "used to"):
		return true
	case present.MatchString(part):
		return false
	case notNow.MatchString(before):
		return true
	}
	_, beside := bareFigure(text, from, to)
	beside = beside || saidTurns.MatchString(text[:from]) || saidTurns.MatchString(text[to:])
	return beside && once.MatchString(part)
}

// bareFigure is the figure without a unit that a text gives of their own model as it is now,
// beside one that stands there.
func bareFigure(text string, from, to int) (figure string, is bool) {
	for _, m := range bare.FindAllStringSubmatchIndex(text, -1) {
		if m[4] < to && m[5] > from {
			continue
		}
		if (m[2] >= 0 || m[6] >= 0) && bareEnds.MatchString(text[m[5]:]) {
			return text[m[4]:m[5]], true
		}
	}
	return "", false
}
