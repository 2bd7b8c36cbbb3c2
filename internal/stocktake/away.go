package stocktake

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/units"
)

// A title over rows, or the name of a sheet, may say that what is below is not in the
// cupboard: lent, to be ordered, broken, thrown away. Such rows are not used.
var (
	awayWords = `(?:on loan|out on loan|lent|loaned|lent out|borrowed|broken|damaged|faulty|(?:to|for) (?:be )?(?:mend|mended|mending|repair|repaired|order|ordered|buy|bought|throw away|thrown away|bin|binned|scrap|scrapped|dispose of)|needs? (?:mending|repair)|in repair|on order|ordered|wish list|wishlist|wanted|needed|shopping|shopping list|thrown away|thrown out|scrap|scrapped|binned|lost|missing|disposed of|disposals?|written off|given away|gone|discarded|used up|rubbish|dead|not here|not in the cupboard)`
	awayFirst = pattern.Must(`^` + awayWords + `\b|^orders?(?: (?:form|list|sheet|\d+))*$`)
	awayLast  = pattern.Must(`\b` + awayWords + `$`)
	leadIn    = strings.Fields("things thing items item parts part stuff all everything the what is are now list of currently these those tubs kit")
	// notAway are words with which a title says something else: please tell us if anything
	// is broken; borrowed from the other school; mended and back.
	notAway = strings.Fields("please tell report if not no nothing never back mended found from by")
	// hereAgain ends what stands under such a title.
	hereAgain = pattern.Must(`\b(?:cupboard|stock|store|here|have|back|returned|good|working)\b`)
)

// isAway reports whether a title says that what is below it is not in the cupboard.
func isAway(title string) bool {
	words := strings.Fields(plainWords(title))
	const most, mostBefore = 8, 5
	if len(words) == 0 || len(words) > most || strings.Contains(title, "?") {
		return false
	}
	for len(words) > 1 && slices.Contains(leadIn, words[0]) {
		words = words[1:]
	}
	plain := strings.Join(words, " ")
	first := awayFirst.FindString(plain)
	if first == "" && (len(words) > mostBefore || !awayLast.MatchString(plain)) {
		return false
	}
	return !slices.ContainsFunc(strings.Fields(strings.TrimPrefix(plain, first)), func(w string) bool { return slices.Contains(notAway, w) })
}

// under notes a title that the rows below stand under.
func (t *taking) under(title string) {
	switch {
	case isAway(title):
		t.away, t.perhaps = title, false
	case hereAgain.MatchString(plainWords(title)):
		t.away = ""
	default:
		t.perhaps = true
	}
}

// here refuses a row that stands under a title, or on a sheet, that says such are not in the
// cupboard. Another title below that one, or other headings, may end what it is said of, or
// not: then that is noted.
func (t *taking) here(r *Row, e *entry) error {
	switch words := units.Quoted(cut(t.away, 40)); {
	case t.named.away:
		what := "sheet"
		if !t.grid.workbook {
			what = "file"
		}
		return refuse(Nowhere, "the name of the %s, %s, says that what is on it is not in the cupboard; if it is, give it another name", what, units.Quoted(cut(t.named.words, 40)))
	case t.away == "":
	case t.perhaps:
		e.fact(r, Nowhere, "count", fmt.Sprintf("taken to be in the cupboard, but %s stands further above", words))
	default:
		return refuse(Nowhere, "it stands under %s, and so is not in the cupboard; if it is, give it a title that says so", words)
	}
	return nil
}
