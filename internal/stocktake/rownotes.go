package stocktake

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// Notes and words about the condition are not read, but for what takes back what the row
// says: "3 dead", "2 are lent out", "thrown away", "really 4 mm", "count again".
var (
	notGood = `(?:broken|damaged|faulty|bad|perished|dead|(?:not|do not|does not|don't|doesn't|won't) (?:work|turn|run|go|fit)(?:ing)?|cracked|split|snapped|missing|lost|lent|on loan|borrowed|rusty|bent|useless|unusable|thrown (?:away|out)|binned|scrapped)`
	someBad = pattern.Must(`(?i)(?:^|[^\d.,])(\d{1,4})\s*(?:of (?:them|these)\s*)?(?:are |is |were )?` + notGood + `\b`)
	allBad  = pattern.Must(`(?i)^(?:all |very |completely |mostly |now |been |have been |they are |these are |are )*` + notGood + `[.!]*$|^all (?:of (?:them|these) )?(?:are |is |were |now )?(?:` + notGood + `|gone)\b`)
	anyBad  = pattern.Must(`(?i)\b` + notGood + `\b`)
	noneBad = pattern.Must(`(?i)\b(?:no|none|not|0|nothing|without|never)\s+(?:\w+\s+){0,3}` + notGood + `\b|\bun` + notGood + `\b|\bnot to be (?:lent|borrowed)\b`)
	// butSome turn what is said of some into what is said of the others.
	butSome = pattern.Must(`(?i)\ball but\b|\bexcept\b|\bonly \d`)
	notHere = pattern.Must(`(?i)^(?:all |now |been |have been |they are |these are )*(?:gone|discarded|withdrawn|written off|thrown (?:away|out)|binned|scrapped|disposed of|do(?: not|n't|n’t) use|not to be used|used up|none left|not here|not in the cupboard|given (?:away|to)|lent to|on loan)\b|^(?:still |all )*(?:on order|ordered|to be ordered|to order|not (?:yet )?(?:arrived|delivered|come))[.!]*$`)
	// notSure are words of one who does not trust the figures.
	notSure = pattern.Must(`(?i)\b(?:wrong|recount|re-count|count (?:them )?again|not counted|uncounted|not sure|unsure|guess|guessed|guesswork|doubtful|estimate|estimated|approx|approximately|roughly|to (?:be )?check(?:ed)?|needs? check(?:ing)?|please check|check (?:the )?(?:bores?|holes?|sizes?|length|count|number|diameter|width))\b|\?\s*$`)
	// elsewhere are words for things that may not be where they are wanted.
	elsewhere = pattern.Must(`(?i)\b(?:in use|being used|reserved|set aside|kept for|at home|on (?:mr|mrs|ms|miss)\b|with (?:mr|mrs|ms|miss|year|class|y\d))`)
	someOf    = pattern.Must(`(?i)^(?:about )?(?:\d+|half|some|most|a few|few|many|one|two|three|four|five|six)\b(?: of (?:them|these))?(?: is| are| have| has|$| were)`)
	mixture   = pattern.Must(`(?i)\b(?:mixed|various|assorted|different|differing|vary|varies|two sorts|two sizes)\b`)

	conditions = map[string]bool{"condition": true, "status": true, "state": true}
)

// remark is what is written beside what the columns say.
type remark struct {
	text string
	at   int
	free bool // in a column of remarks, or under no heading, and not under an unknown one
}

// remarks are a row's notes, what stands under headings that are not known, and what its
// name says behind a comma or in brackets.
func (t *taking) remarks(cells []string) []remark {
	var out []remark
	for i, c := range cells {
		if c == "" || isBare(c) {
			continue
		}
		col := column{}
		if i < len(t.heading.list) {
			col = t.heading.list[i]
		}
		switch {
		case isRemark(col.heading), conditions[plainWords(col.heading)], col.heading == "" && col.field == "":
			out = append(out, remark{c, i, true})
		case col.field == "":
			out = append(out, remark{c, i, false})
		case col.field == labelField:
			for _, part := range behindName.FindAllStringSubmatch(c, -1) {
				out = append(out, remark{strings.Trim(part[1], " )]"), i, false})
			}
		}
	}
	return out
}

var behindName = pattern.Must(`(?:[(\[,;]| - | – )\s*([^()\[\],;]+)`)

// lessNoted takes from a count what notes and words about the condition say is not good.
func (t *taking) lessNoted(n int, cells []string, r *Row, e *entry) (int, error) {
	for _, note := range t.remarks(cells) {
		text, said := strings.TrimSpace(note.text), units.Quoted(cut(note.text, 40))
		m := someBad.FindStringSubmatch(text)
		switch {
		case notHere.MatchString(text), allBad.MatchString(text):
			return 0, refuse(note.at, "it says %s: count the good ones", said)
		case anyBad.MatchString(text) && butSome.MatchString(text):
			return 0, refuse(note.at, "it says %s: count the good ones", said)
		case m != nil && m[1] != "0":
			bad, err := strconv.Atoi(m[1])
			if err != nil || bad >= n {
				return 0, refuse(note.at, "%s of %d: count the good ones", said, n)
			}
			n -= bad
			e.fact(r, note.at, "count", fmt.Sprintf("less %d, for it says %s", bad, said))
		case anyBad.MatchString(text) && !noneBad.MatchString(text),
			note.free && (notSure.MatchString(text) || elsewhere.MatchString(text)):
			e.fact(r, note.at, "count", fmt.Sprintf("taken as %d, but it says %s", n, said))
		}
	}
	return n, nil
}

var (
	noteLength = pattern.Must(`(?i)(` + numberIn + `\s*(?:mm\b|cm\b|"|inch(?:es)?\b))`)
	goesOn     = pattern.Must(`(?i)\b(?:for|fits?|with|takes|on|from)\b`)
	noteTurns  = pattern.Must(`(?i)(\d{3,5}\s*rpm)\b`)
	noteVolts  = pattern.Must(`(?i)(\d+(?:[.,]\d+)?\s*v(?:olts?)?)\b`)
	// noteKeys are words of notes for what a part measures.
	noteKeys = []struct {
		words *pattern.Pattern
		keys  []string
	}{
		{pattern.Must(`(?i)\b(?:holes?|bores?|bored|drill|drilled|reamed)\b`), []string{"bore", "inner"}},
		{pattern.Must(`(?i)\b(?:long|length|cut|sawn|shortened)\b`), []string{"length", "flat_length"}},
		{pattern.Must(`(?i)\b(?:wide|width)\b`), []string{"width"}},
		{pattern.Must(`(?i)\bthick(?:ness)?\b`), []string{"thickness", "width", "diameter"}},
	}
)

// notesDiffer marks what a note gives another size of: "really 4 mm hole".
func (t *taking) notesDiffer(cells []string, r *Row, e *entry) {
	for _, note := range t.remarks(cells) {
		if !note.free {
			continue
		}
		text := fractions.Replace(note.text)
		if m := goesOn.FindStringIndex(text); m != nil {
			text = text[:m[0]]
		}
		said := units.Quoted(cut(note.text, 40))
		mark := func(key string) {
			words := strings.ReplaceAll(key, "_", " ")
			if slices.ContainsFunc(e.facts, func(f string) bool { return strings.HasPrefix(f, words+" ") || strings.HasPrefix(f, words+":") }) {
				return // it is marked
			}
			e.fact(r, note.at, words, "the note says "+said)
		}
		if key := e.keyIn(text); key != "" && notSure.MatchString(text) {
			mark(key)
		}
		if mixture.MatchString(text) {
			of := e.keyIn(text)
			for _, s := range slices.Clone(e.settings) {
				if s.key != "material" && s.key != "chemistry" && (of == "" || of == s.key) {
					mark(s.key)
				}
			}
			continue
		}
		differs := false
		for _, m := range noteLength.FindAllStringSubmatch(text, -1) {
			a, err := readAmount(m[1], &units.Lengths, span{}, "", "")
			if err != nil {
				continue
			}
			if key := e.other(a.text, text); key != "" {
				mark(key)
				differs = true
			}
		}
		for _, of := range []struct {
			key string
			re  *pattern.Pattern
		}{{"rated", noteVolts}, {"free_speed", noteTurns}} {
			if m := of.re.FindStringSubmatch(text); m != nil && e.kind == "motor" {
				a, err := value(e.kind, of.key, m[1], "")
				if err == nil && !slices.Contains(e.settings, setting{of.key, a.text}) {
					mark(of.key)
				}
			}
		}
		if differs && someOf.MatchString(strings.TrimSpace(text)) {
			mark("count")
		}
	}
}

// other is the key of which a length in a note is another value; empty if the part has that
// length. Where no word says which it is, it is the nearest.
func (e *entry) other(length, text string) string {
	v, err := units.Lengths.Parse(length)
	if err != nil || v <= 0 {
		return ""
	}
	lengths := map[string]float64{}
	for _, s := range e.settings {
		have, err := units.Lengths.Parse(strings.Trim(s.value, `"`))
		if err != nil || have <= 0 {
			continue
		}
		if have == v {
			return ""
		}
		lengths[s.key] = math.Abs(math.Log(float64(have / v)))
	}
	if key := e.keyIn(text); key != "" {
		return key
	}
	nearest := ""
	for _, s := range e.settings { // in their order
		if d, is := lengths[s.key]; is && (nearest == "" || d < lengths[nearest]) {
			nearest = s.key
		}
	}
	return nearest
}

// keyIn is the size of a part that words speak of; empty if they name none that it has.
func (e *entry) keyIn(text string) string {
	for _, k := range noteKeys {
		if !k.words.MatchString(text) {
			continue
		}
		for _, key := range k.keys {
			if e.has(key) {
				return key
			}
		}
	}
	return ""
}
