package stocktake

import (
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// mostCount is far more of one part than a school has; a cupboard file takes no
// more either.
const mostCount = 1_000_000

// Spreadsheets store a date as the days since the end of 1899: these are the years 2000 to
// 2099.
const firstSerial, lastSerial = 36526, 73050

// Years that a list may have in it.
const firstYear, lastYear = 2015, 2040

// counted is what a cell with a count says.
type counted struct {
	n       int
	damaged int    // so many of them
	assumed string // empty if it is plain
	none    bool   // there are none
	doubted bool   // of them, as what stands beside it says
}

var (
	roughWords  = pattern.Must(`^(?:~|≈|c\.?|ca\.?|circa|about|approx\.?|approximately|around|roughly|nearly|almost|maybe|prob\.?|probably)\s*(\d.*)$`)
	roughEnding = pattern.Must(`^(\d+)\s*(?:ish|-ish|\?+|or so|approx\.?|roughly|about|maybe)$`)
	atLeast     = pattern.Must(`^(?:>=?|≥|over|more than|at least|min\.?)\s*(\d+)$|^(\d+)\s*(?:\+|or more|plus|and more|at least)$`)
	below       = pattern.Must(`^(?:<=?|≤|under|less than|fewer than|up to|max\.?|not quite)\s*\d+$`)
	between     = pattern.Must(`^(\d+)\s*(?:-|–|—|to|or|/)\s*(\d+)$`)
	dozens      = pattern.Must(`^(\d+|a|one|two|half a)?\s*(?:doz|dozen|dz)\.?$`)
	times       = pattern.Must(`^(\d+)\s*(?:x|×|\*|packs? of|bags? of|boxe?s? of|packets? of|sets? of|lots? of|@)\s*(\d+)$`)
	inPlaces    = pattern.Must(`^\d+(?:\s*(?:\+|and|&)\s*\d+)+$`)
	packOf      = pattern.Must(`^(?:pack|bag|box|packet|set) of (\d+)$`)
	withDamaged = pattern.Must(`^(\d+)\s*[\[(,;-]?\s*(?:of which |incl\.? |including |but |with )?(\d+)\s*(?:are |is )?(?:broken|damaged|faulty|bad|perished|dead|not working|missing bits|cracked|split)\s*[\])]?$`)
	thousands   = pattern.Must(`^\d{1,3}([ ,.'’]\d{3})+$`)
	pieces      = pattern.Must(`^(\d+)\s*(?:pcs?\.?|pieces?|off|no\.?|nr\.?|ea\.?|each|items?|units?|lengths?|rods?|of|bands?|pulleys?|wheels?|motors?|holders?|st|stk|x|left|remaining|here|good|in stock)$`)
	tally       = pattern.Must(`^(\d+)[.,]0+$`)
	notWhole    = pattern.Must(`^\d*[.,]\d+$`)
	containers  = pattern.Must(`^(?:\d+|one|two|three|half a)\s*(?:full |big |small )?(?:box|bag|tub|packet|pack|pkt|tray|jar|tin|bundle)(?:es|s)?(?: full)?$`)
	goodAndBad  = pattern.Must(`^(\d+)\s*(?:good|ok|working|fine|sound)(?: ones)?\s*(?:[,;/&+]|and)?\s*\d+\s*(?:bad|broken|damaged|faulty|dead|not working|perished|split|cracked)(?: ones)?$`)
	prefixed    = pattern.Must(`^(?:only|just|qty:?|x|×)\s*(\d+)$`)
	bracketed   = pattern.Must(`^(\d+)\s*[\[(][^\[\]()]*[\])]$`)
	// doubtful are words beside a count of things that may be of no use.
	doubtful = pattern.Must(`\b(?:old|perished|worn|broken|snapped|dead|damaged|faulty|brittle|bent|cracked|split|bad|missing|lost|lent|on loan|useless|rusty|flat|leaking|to check|check|not? (?:all )?(?:good|working))\b`)
)

var pieceOfSum = pattern.Must(`\d+`)

// numberWords are counts that people write out.
var numberWords = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "twenty": 20, "a": 1, "a pair": 2, "pair": 2, "single": 1}

// manyWords are words for a number that nobody knows.
var manyWords = map[string]bool{"lots": true, "loads": true, "many": true, "plenty": true, "full": true, "tub": true, "a lot": true, "heaps": true, "tons": true, "enough": true, "some": true,
	"a few": true, "few": true, "several": true, "box": true, "a box": true, "bag": true, "a bag": true, "full box": true, "full bag": true, "box full": true, "bag full": true, "tub full": true, "full tub": true, "half full": true, "handful": true, "a handful": true, "ok": true, "yes": true, "y": true, "full tray": true}

// noneWords say that there are none.
var noneWords = map[string]bool{"0": true, "none": true, "nil": true, "no": true, "-": true, "–": true, "—": true, "zero": true, "empty": true, "n/a": true, "na": true, "all gone": true, "gone": true, "out": true, "out of stock": true, "x": true}

// readCount reads a count as people write it. What is not plain is noted in
// assumed, and is read so that it promises no more than there surely is. The error
// says why there is no number in it.
func readCount(cell string, lots int) (counted, error) {
	text := strings.ToLower(strings.TrimSpace(cell))
	switch n := figure(text); {
	case isDate(text):
		return counted{}, fmt.Errorf("%s is a date and no count: a spreadsheet makes one of what looks like it; write the count again", units.Quoted(cell))
	case isBare(text) && n >= firstSerial && n <= lastSerial:
		return counted{}, fmt.Errorf("%s is how a spreadsheet stores a date, and no count: count them", units.Quoted(cell))
	}
	if noneWords[text] {
		return counted{none: true}, nil
	}
	if manyWords[strings.TrimRight(text, "!.")] || containers.MatchString(text) {
		if lots <= 0 {
			return counted{}, fmt.Errorf("%s is no number: count them, or say --lots 20 to take 20 for such words", units.Quoted(cell))
		}
		return counted{n: lots, assumed: fmt.Sprintf("%s taken as %d, as --lots says", units.Quoted(cell), lots)}, nil
	}
	c, err := plainCount(cell, text)
	switch {
	case err != nil:
		return counted{}, err
	case c.n > mostCount:
		return counted{}, fmt.Errorf("%s is more than the most, %d", units.Quoted(cell), mostCount)
	case c.damaged > c.n:
		return counted{}, fmt.Errorf("%s has more damaged than there are", units.Quoted(cell))
	case c.n == 0:
		return counted{none: true}, nil
	}
	return c, nil
}

func plainCount(cell, text string) (counted, error) {
	took := func(n int, how string) (counted, error) {
		return counted{n: n, assumed: fmt.Sprintf("%s taken as %d%s", units.Quoted(cell), n, how)}, nil
	}
	whole := func(s string) int {
		n, err := strconv.Atoi(s)
		if err != nil {
			return mostCount + 1
		}
		return n
	}
	if n, err := strconv.Atoi(text); err == nil && n >= firstYear && n <= lastYear {
		return took(n, ", though it may be a year")
	} else if err == nil && n >= 0 {
		return counted{n: n}, nil
	}
	if n, ok := numberWords[text]; ok {
		return counted{n: n}, nil
	}
	if m := pieces.FindStringSubmatch(text); m != nil {
		return counted{n: whole(m[1])}, nil
	}
	if m := tally.FindStringSubmatch(text); m != nil && !thousands.MatchString(text) {
		return counted{n: whole(m[1])}, nil
	}
	if m := withDamaged.FindStringSubmatch(text); m != nil {
		return counted{n: whole(m[1]), damaged: whole(m[2])}, nil
	}
	for _, re := range []*pattern.Pattern{goodAndBad, prefixed} {
		if m := re.FindStringSubmatch(text); m != nil {
			return counted{n: whole(m[1])}, nil
		}
	}
	if m := bracketed.FindStringSubmatch(text); m != nil {
		c, err := took(whole(m[1]), ", without what is in brackets")
		c.doubted = doubtful.MatchString(text)
		return c, err
	}
	if thousands.MatchString(text) {
		return took(whole(strings.Map(func(r rune) rune {
			if r < '0' || r > '9' {
				return -1
			}
			return r
		}, text)), "")
	}
	for _, re := range []*pattern.Pattern{roughWords, roughEnding} {
		if m := re.FindStringSubmatch(text); m != nil {
			if n, err := strconv.Atoi(m[1]); err == nil {
				return took(n, "")
			}
			if m := between.FindStringSubmatch(m[1]); m != nil {
				return took(min(whole(m[1]), whole(m[2])), ", the smaller")
			}
		}
	}
	if m := atLeast.FindStringSubmatch(text); m != nil {
		return took(whole(m[1]+m[2]), ", for there are at least so many")
	}
	if m := between.FindStringSubmatch(text); m != nil {
		return took(min(whole(m[1]), whole(m[2])), ", the smaller")
	}
	if m := dozens.FindStringSubmatch(text); m != nil {
		n := map[string]int{"": 12, "a": 12, "one": 12, "two": 24, "half a": 6}[m[1]]
		if n == 0 {
			n = 12 * min(whole(m[1]), mostCount)
		}
		return took(n, "")
	}
	if m := times.FindStringSubmatch(text); m != nil {
		a, b := min(whole(m[1]), mostCount+1), min(whole(m[2]), mostCount+1)
		return took(min(a*b, mostCount+1), "")
	}
	if inPlaces.MatchString(text) {
		sum := 0
		for _, n := range pieceOfSum.FindAllString(text, -1) {
			sum = min(sum+whole(n), mostCount+1)
		}
		return took(sum, ", for there are so many in all")
	}
	if m := packOf.FindStringSubmatch(text); m != nil {
		return took(whole(m[1]), "")
	}
	switch {
	case below.MatchString(text):
		return counted{}, fmt.Errorf("%s does not say how many there surely are: count them", units.Quoted(cell))
	case strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−"):
		return counted{}, fmt.Errorf("%s is below zero", units.Quoted(cell))
	case notWhole.MatchString(text):
		return counted{}, fmt.Errorf("%s is not a whole number", units.Quoted(cell))
	}
	return counted{}, fmt.Errorf("%s is not a number: count them", units.Quoted(cell))
}
